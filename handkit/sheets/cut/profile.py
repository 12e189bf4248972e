"""Profile: how wide a piece is between two heights, from its outline alone.

In: a ring in the laid frame, and how far its ink reaches beyond it, mm. Out: *spans*, the stretches
from left to right in which something of the piece lies between two heights, in order, apart.

Exact for straight edges: a place of the piece inside a band lies above or below an edge that runs
in the band, or on the band's upper limit. So the spans are those of the edges' parts in the band
and of the upper limit's inside.
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.geometry.affine import Point
from handkit.geometry.polygon import sides
from handkit.sheets.nest.packing import NOISE

Span = tuple[float, float]


class Profile:
    """Answers are remembered; nothing else changes.

    >>> arch = Profile([(0, 0), (9, 0), (9, 9), (6, 9), (6, 4), (3, 4), (3, 9), (0, 9)], room=0)
    >>> arch.spans(0, 3), arch.spans(5, 9)
    (((0.0, 9.0),), ((0.0, 3.0), (6.0, 9.0)))
    """

    def __init__(self, ring: Sequence[Point], *, room: float) -> None:
        edges = sorted(
            (a[1], b[1], a[0], b[0]) if a[1] <= b[1] else (b[1], a[1], b[0], a[0]) for a, b in sides(ring)
        )
        self._edges = [(*one, _slope(*one)) for one in edges]
        self._room = room
        self._known: dict[Span, tuple[Span, ...]] = {}
        self.bottom = min(low for low, *_ in edges) - room
        self.top = max(high for _, high, *_ in edges) + room

    def spans(self, low: float, high: float) -> tuple[Span, ...]:
        """The stretches of the piece's ink between two heights; on a line where they are equal."""
        key = (round(low, 4), round(high, 4))
        found = self._known.get(key)
        if found is None:
            found = self._known[key] = self._spans(low - self._room, high + self._room)
        return found

    def _spans(self, low: float, high: float) -> tuple[Span, ...]:
        found: list[Span] = []
        crossed: list[float] = []
        for bottom, top, x0, x1, slope in self._edges:
            if bottom > high:
                break
            if top < low:
                continue
            start = x0 + slope * (low - bottom) if bottom < low else x0
            end = x1
            if top > high:
                end = x0 + slope * (high - bottom)
                crossed.append(end)
            found.append((start, end) if start <= end else (end, start))
        crossed.sort()
        found += zip(crossed[::2], crossed[1::2], strict=False)
        return merged(found, self._room)


def _slope(low: float, high: float, x0: float, x1: float) -> float:
    return (x1 - x0) / (high - low) if high > low else 0.0


def merged(spans: Sequence[Span], room: float) -> tuple[Span, ...]:
    """Stretches made longer by `room` at both ends; what then touches is one.

    >>> merged([(5, 6), (0, 2), (1, 3)], 0.5)
    ((-0.5, 3.5), (4.5, 6.5))
    """
    found: list[Span] = []
    for start, end in sorted(spans):
        low, high = float(start - room), float(end + room)
        if found and low <= found[-1][1] + NOISE:
            found[-1] = (found[-1][0], max(found[-1][1], high))
        else:
            found.append((low, high))
    return tuple(found)


def mirrored(spans: Sequence[Span]) -> tuple[Span, ...]:
    """The same seen from behind."""
    return tuple((-end, -start) for start, end in reversed(spans))
