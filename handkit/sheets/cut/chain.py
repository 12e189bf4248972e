"""Chains: the windows of one row, from left to right.

In: the spans in which the piece lies in the row, the window's width, the overlap, mm. Out: `Cell`s:
what each window keeps once it is trimmed.

    spans   ▬▬▬▬▬▬▬▬▬▬▬▬▬▬▬    ▬▬▬▬      Where the piece goes on, cells meet at a *cut*, and each
    cells   └──────┴──────┘    └──┘      window reaches half the overlap beyond it. Where it does
                                         not, the next cell begins with the next span: no join.

Always the fewest windows. Which of the fewest: each as wide as can be from the left, or from the
right, or cut where another row is cut.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import floor

import msgspec

from handkit.sheets.cut.profile import Span, mirrored
from handkit.sheets.nest.packing import NOISE

# A cut this near to a span's end leaves nothing to be held.
LEAST_HELD = 1.0


class Cell(msgspec.Struct, frozen=True):
    """From left to right in a row, and whether it is cut there from what goes on beyond."""

    left: float
    right: float
    cut_left: bool
    cut_right: bool


Chain = tuple[Cell, ...]
Place = tuple[int, float | None]  # a span by number, and the cut in it at which a window begins
_FIRST: Place = (0, None)


class Reach(msgspec.Struct, frozen=True):
    """How wide a window is, and how much windows overlap."""

    width: float
    overlap: float


def count_of(spans: Sequence[Span], reach: Reach, begin: Place = _FIRST) -> int:
    """The fewest windows from a place on.

    >>> [count_of([(0, length)], Reach(100, 10)) for length in (100, 101, 190, 190.5)]
    [1, 2, 2, 3]
    >>> count_of([(0, 40), (95, 130), (180, 200)], Reach(100, 10))
    3
    """
    count, place = 1, _next(spans, reach, begin)
    while place is not None:
        count, place = count + 1, _next(spans, reach, place)
    return count


def chain_from_left(spans: Sequence[Span], reach: Reach, wanted: Sequence[float] = ()) -> Chain:
    """Fewest windows, each as wide as can be, or cut at the first of the `wanted` places that
    costs no window.

    >>> chain_from_left([(0, 150)], Reach(100, 10))
    (Cell(left=0, right=95.0, cut_left=False, cut_right=True), \
Cell(left=95.0, right=150, cut_left=True, cut_right=False))
    >>> chain_from_left([(0, 150)], Reach(100, 10), [70.0])[0].right
    70.0
    """
    left, begin, cells = count_of(spans, reach), _FIRST, []
    while True:
        start = _start(spans, begin)
        after = _next(spans, reach, begin)
        if after is None:
            cells.append(Cell(start, spans[-1][1], begin[1] is not None, False))
            return tuple(cells)
        left -= 1
        after = next(_cheap(spans, reach, begin, wanted, left), after)
        number, cut = after
        end = spans[number - 1][1] if cut is None else cut
        cells.append(Cell(start, end, begin[1] is not None, cut is not None))
        begin = after


def chain_from_right(spans: Sequence[Span], reach: Reach, wanted: Sequence[float] = ()) -> Chain:
    """The same seen from the other end."""
    chain = chain_from_left(mirrored(spans), reach, [-place for place in wanted])
    return tuple(Cell(-c.right, -c.left, c.cut_right, c.cut_left) for c in reversed(chain))


def cuts_of(chain: Chain) -> tuple[float, ...]:
    """Where a chain is cut."""
    return tuple(cell.right for cell in chain if cell.cut_right)


def _start(spans: Sequence[Span], begin: Place) -> float:
    number, cut = begin
    return spans[number][0] if cut is None else cut


def _end(spans: Sequence[Span], reach: Reach, begin: Place) -> float:
    """How far a window reaches that begins here."""
    return _start(spans, begin) + reach.width - (0.0 if begin[1] is None else reach.overlap / 2)


def _next(spans: Sequence[Span], reach: Reach, begin: Place) -> Place | None:
    """Where the next window begins when this one is as wide as can be; None where none is needed."""
    end = _end(spans, reach, begin)
    if end >= spans[-1][1] - NOISE:
        return None
    number = begin[0]
    while number + 1 < len(spans) and spans[number + 1][0] <= end:
        number += 1
    if spans[number][1] <= end + NOISE:
        return (number + 1, None)
    if number > begin[0] and spans[number][0] >= end - reach.overlap:
        return (number, None)
    return (number, floor((end - reach.overlap / 2) * 1000) / 1000)


def _cheap(
    spans: Sequence[Span], reach: Reach, begin: Place, wanted: Sequence[float], left: int
) -> Iterator[Place]:
    """Of the wanted cuts those this window reaches and that leave no more than `left` windows."""
    least = _start(spans, begin) + (LEAST_HELD if begin[1] is None else reach.overlap)
    most = _end(spans, reach, begin) - reach.overlap / 2 + NOISE
    for cut in wanted:
        if not least <= cut <= most:
            continue
        for number in range(begin[0], len(spans)):
            low, high = spans[number]
            if low + LEAST_HELD < cut < high - LEAST_HELD and count_of(spans, reach, (number, cut)) <= left:
                yield (number, cut)
