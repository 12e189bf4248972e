"""Clear steps: holes between two fixed ones that keep out of given places, by intervals.

In: a stretch's length, the gates on it, the plain step, how unlike it steps may be. Out: two fixed
holes a gate, and how many steps lie between. All mm along the stretch.

    |··········○[gate]○···········○[gate]○······|     ○ the last hole before, the first behind

Chosen, exactly and without sampling: with every step within a share of the plain one, the places a
hole can have are a union of intervals, carried from gate to gate. The least share is found by
halving, the holes by going back from the end, each as near to plain steps as the rest allows.

Words: a *gate* is what is kept free, from low to high along the stretch; gates that leave no room for
a hole between them are one; a *span* is an interval a hole may lie in.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, floor, inf

import msgspec

from handkit.tolerances import SAME_POINT

_HALVINGS = 30
_ROUNDING = 1e-9
# What the halving leaves open of the share.
_SHARE = 1e-6

Span = tuple[float, float]
Gate = tuple[float, float]


class Spread(msgspec.Struct, frozen=True):
    """Holes of a stretch that clear its edges: how far along, after how many steps; and all steps."""

    fixed: tuple[tuple[float, int], ...]
    steps: int


def merged_gates(gates: Sequence[Gate]) -> list[Gate]:
    """Gates in order; those without room for a hole between them are one.

    >>> merged_gates([(7, 9), (1, 2.5), (2, 4)])
    [(1, 4), (7, 9)]
    """
    found: list[Gate] = []
    for low, high in sorted(gates):
        if found and low < found[-1][1]:
            found[-1] = (found[-1][0], max(found[-1][1], high))
        else:
            found.append((low, high))
    return found


def spread_clear(length: float, gates: Sequence[Gate], *, pitch: float, share: float) -> Spread | None:
    """Holes from 0 to `length` with none within a gate and every step within `share` of the pitch.

    None where there are none. The steps are as near to the pitch as can be.

    >>> spread_clear(30, [(14.2, 15.3)], pitch=3, share=0.08)
    Spread(fixed=((12.240012, 4), (15.3, 5)), steps=10)
    """
    if not _reached(length, gates, pitch, share):
        return None
    low, high = 0.0, share
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (low, middle) if _reached(length, gates, pitch, middle) else (middle, high)
    share = min(share, high + _SHARE)
    return _chosen(length, gates, _reached(length, gates, pitch, share), (pitch, share))


def _reached(length: float, gates: Sequence[Gate], pitch: float, share: float) -> list[list[Span]]:
    """Where the last hole before each gate and the first behind it can be; nothing where there is no
    way to the end.
    """
    found: list[list[Span]] = []
    spans: list[Span] = [(0.0, 0.0)]
    least, most = pitch * (1 - share), pitch * (1 + share)
    for low, high in gates:
        before = _walked(spans, (least, most), (max(high - most, 0.0), low))
        spans = _within(_merged([(a + least, b + most) for a, b in before]), (high, length))
        found.extend((before, spans))
    return found if _walked(spans, (least, most), (length, length)) else []


def _walked(spans: Sequence[Span], steps: Span, to: Span) -> list[Span]:
    """Where in `to` a hole can be, any number of even steps from a place in spans."""
    (least, most), (low, high) = steps, to
    found: list[Span] = []
    for a, b in spans:
        count = max(0, ceil((low - b) / most - _ROUNDING))
        while a + count * least <= high + _ROUNDING:
            found.append((a + count * least, b + count * most))
            if found[-1][0] <= low and found[-1][1] >= high:
                break
            count += 1
    return _within(_merged(found), to)


def _merged(spans: Sequence[Span]) -> list[Span]:
    found: list[Span] = []
    for a, b in sorted(spans):
        if found and a <= found[-1][1] + _ROUNDING:
            found[-1] = (found[-1][0], max(found[-1][1], b))
        else:
            found.append((a, b))
    return found


def _within(spans: Sequence[Span], to: Span) -> list[Span]:
    """What of some spans lies in another, to rounding."""
    low, high = to
    return [
        (min(max(a, low), high), max(min(b, high), low))
        for a, b in spans
        if max(a, low) <= min(b, high) + _ROUNDING
    ]


def _chosen(
    length: float, gates: Sequence[Gate], places: Sequence[Sequence[Span]], steps: tuple[float, float]
) -> Spread:
    """One hole of each place, back from the end, so that what follows is reached in even steps."""
    pitch, share = steps
    found: list[tuple[float, int]] = []  # back from the end: where, and steps to what follows
    then = length
    for index in range(len(places) - 1, -1, -1):
        best = (inf, 0.0, 0)
        for a, b in places[index]:
            for count in _counts(then, (a, b), steps, one=index % 2 == 0):
                low = max(a, then - count * pitch * (1 + share))
                high = min(b, then - count * pitch * (1 - share))
                if low <= high + _ROUNDING:
                    at = min(max(then - count * pitch, low), high)
                    best = min(best, (abs(at - (then - count * pitch)), at, count))
        _, then, count = best
        found.append((then, count))
    return _numbered(length, found[::-1], steps)


def _counts(then: float, places: Span, steps: tuple[float, float], *, one: bool) -> range:
    """How many steps may lie between a hole and what follows it: one across a gate."""
    if one:
        return range(1, 2)
    (low, high), (pitch, share) = places, steps
    least = floor(max(then - high, 0.0) / (pitch * (1 + share)))
    return range(least, ceil(max(then - low, 0.0) / (pitch * (1 - share))) + 1)


def _numbered(length: float, found: Sequence[tuple[float, int]], steps: tuple[float, float]) -> Spread:
    """The fixed holes with the steps to each; those that lie on one another, or on an end, once."""
    first = found[0][0]
    middle = round(first / steps[0])
    counts = [k for k in (middle - 1, middle, middle + 1) if k > 0] if first > SAME_POINT else [0]
    number = min(counts, key=lambda k: abs(first / k - steps[0]) if k else 0.0)
    fixed: dict[int, float] = {}
    for at, follows in found:
        fixed.setdefault(number, at)
        number += follows
    inner = ((at, k) for k, at in fixed.items() if 0 < k < number)
    return Spread(tuple(inner), number)
