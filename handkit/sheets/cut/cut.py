"""Cuts: a piece in windows, ready to be put on sheets.

In: a plan of cells, the piece's extent, keep-outs, mm. Out: `Cut`, in the laid frame.

    ┌───────┬─┬───────┐   A *cell* is what a window keeps once it is trimmed in the middle of its
    │   1   │:│   2   │   overlaps (the dots: a *cut line*). A window holds its cell and the strip
    └───────┴─┴───────┘   beyond each cut line, no wider and no higher than what is drawn there.

A cut line is as long as the piece there, or long enough for its marks. What is drawn of a window is
the piece inside it and the marks.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from handkit.geometry.affine import Affine, Point
from handkit.geometry.box import Box, around
from handkit.geometry.capsule import Capsule
from handkit.geometry.region import Region, disc
from handkit.ink import REGISTRATION_ARM
from handkit.sheets.cut.chain import Cell
from handkit.sheets.cut.plan import Meeting, Plan, cells_of
from handkit.sheets.joins.marking import CutLine, marks_on
from handkit.sheets.nest.footprint import Drawing
from handkit.sheets.nest.packing import Size

# Left, bottom, right, top.
Sides = tuple[float, float, float, float]

# Room for two marks beside each other.
LEAST_CUT_LINE = 20.0


class CutJoin(msgspec.Struct, frozen=True):
    """Two windows by index and the line both are cut at, with two marks on it."""

    first: int
    second: int
    line: CutLine
    marks: tuple[Point, Point]


class Cut(msgspec.Struct, frozen=True):
    """A piece in windows. `base` leads from the piece's frame to the laid frame.

    `contents` are what of the piece each window keeps, `drawn` all that is drawn of it; windows go
    by rows from the top, each from the left.
    """

    base: Affine
    windows: tuple[Box, ...]
    contents: tuple[Box, ...]
    drawn: tuple[Drawing, ...]
    joins: tuple[CutJoin, ...]

    def paper(self, gap: float) -> float:
        """Mm² of paper that the windows keep others from, half a gap all round each."""
        return sum(drawn.paper(gap) for drawn in self.drawn)


class Extent:
    """All that the outline of a piece covers, and windows of it, which many cuts have in common."""

    def __init__(self, region: Region) -> None:
        self.region = region
        self._bounds: dict[Sides, Box] = {}
        self._drawings: dict[tuple[Box, tuple[Point, ...]], Drawing] = {}

    def box_within(self, sides: Sides) -> Box:
        """The least box round what of it lies between sides."""
        found = self._bounds.get(sides)
        if found is None:
            found = self._bounds[sides] = Box(*self.region.clipped(*sides).bounds()).rounded_out()
        return found

    def drawing(self, box: Box, marks: tuple[Point, ...]) -> Drawing:
        """What is drawn of a window: what of it lies in a box, and marks."""
        found = self._drawings.get((box, marks))
        if found is None:
            drawn = self.region.clipped(box.left, box.bottom, box.right, box.top)
            for mark in marks:
                drawn = drawn.joined(disc(mark, REGISTRATION_ARM))
            found = self._drawings[box, marks] = Drawing(drawn)
        return found


def whole(base: Affine, extent: Extent) -> Cut:
    """A piece in one window."""
    box = Box(*extent.region.bounds()).rounded_out()
    return Cut(base, (box,), (box,), (Drawing(extent.region),), ())


def cut_by(
    plan: Plan, *, base: Affine, extent: Extent, page: Size, keep_outs: Sequence[Capsule]
) -> Cut | None:
    """The windows of a plan; None where a join has no room for a mark. `keep_outs` in the laid frame:
    marks keep clear of them where they can."""
    cells = list(cells_of(plan))
    number = {place: index for index, (place, _) in enumerate(cells)}
    contents = [extent.box_within(_kept(plan, row, cell)) for (row, _), cell in cells]
    boxes = [extent.box_within(_held(plan, row, cell)) for (row, _), cell in cells]
    half = plan.stack[0].reach.overlap / 2
    joins = []
    for meeting in plan.meetings:
        first, second = sorted((number[meeting.first], number[meeting.second]))
        line = _line(meeting, boxes[first], boxes[second], page)
        if line.end - line.start < 2 * REGISTRATION_ARM:
            return None
        strip = line.strip(half)
        for index in (first, second):
            boxes[index] = around([boxes[index], strip]).rounded_out()
        joins.append(CutJoin(first, second, line, marks_on(line, keep_outs)))
    joins.sort(key=lambda join: (join.first, join.second))
    return Cut(
        base=base,
        windows=tuple(boxes),
        contents=tuple(contents),
        drawn=tuple(extent.drawing(box, _marks_in(index, joins)) for index, box in enumerate(boxes)),
        joins=tuple(joins),
    )


def _kept(plan: Plan, row: int, cell: Cell) -> Sides:
    """A cell's sides."""
    return (cell.left, plan.stack[row].bottom, cell.right, plan.stack[row].top)


def _held(plan: Plan, row: int, cell: Cell) -> Sides:
    """A cell's sides and the strips beyond its cut lines."""
    left, bottom, right, top = _kept(plan, row, cell)
    half = plan.stack[row].reach.overlap / 2
    return (
        left - half * cell.cut_left,
        bottom - half * (row > 0),
        right + half * cell.cut_right,
        top + half * (row < len(plan.stack) - 1),
    )


def _line(meeting: Meeting, one: Box, other: Box, page: Size) -> CutLine:
    """A cut line, as long as it is inked, or prolonged where both windows have room for it."""
    start, end = meeting.start, meeting.end
    missing = LEAST_CUT_LINE - (end - start)
    if missing > 0:
        low, high = _room(meeting.upright, one, other, page)
        start = max(low, start - missing / 2)
        end = min(high, max(end, start + LEAST_CUT_LINE))
        start = max(low, min(start, end - LEAST_CUT_LINE))
    inked = (meeting.start, meeting.end)
    return CutLine(meeting.upright, round(meeting.at, 3), round(start, 3), round(end, 3), inked)


def _room(upright: bool, one: Box, other: Box, page: Size) -> tuple[float, float]:
    """How far a cut line may go without making either window too large for the page."""
    lows, highs = [], []
    for box in (one, other):
        low, high = (box.bottom, box.top) if upright else (box.left, box.right)
        across = box.width if upright else box.height
        side = min(page.width, page.height)
        most = max(page.width, page.height) if across <= side else side
        lows.append(min(low, high - most))
        highs.append(max(high, low + most))
    return max(lows), min(highs)


def _marks_in(index: int, joins: Sequence[CutJoin]) -> tuple[Point, ...]:
    """The marks of all joins of a window."""
    return tuple(mark for join in joins if index in (join.first, join.second) for mark in join.marks)
