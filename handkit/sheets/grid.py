"""The grid: a piece larger than a page, cut into windows that overlap.

In: a template, the page's printable size and the overlap, all mm. Out: `Cut`: the windows and
where they are cut, in the laid frame.

    ┌───────┬─┬───────┐   Windows are a page each, and a page less the overlap apart. A *cell* is
    │   1   │:│   2   │   what a window keeps once it is trimmed in the middle of its overlaps (the
    ├───────┼:┼───────┤   dots: a *cut line*). Cells in which nothing of the piece lies are dropped;
    └───────┴─┴───────┘   then each window shrinks to what is in it, and to its joins.

Which grid: several turns, several offsets of each (`search.py`). One grid per piece was chosen over
rows of unlike windows, which take fewer sheets and much more to explain.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from handkit.geometry.affine import Affine, Point
from handkit.geometry.region import Region, rectangle
from handkit.sheets.box import Box, around, box_of
from handkit.sheets.packing import NOISE, Size

# A cut line goes on past the piece by this much, where there is paper, so that its registration
# marks stand far apart and beside the piece.
REACH = 10.0
LEAST_CUT_LINE = 40.0

# How near to a cut line the piece must come to be joined there; far below what can be cut.
TOUCH = 0.005


@dataclass(frozen=True, slots=True)
class Axis:
    """The grid along one direction: `count` windows of `page`, the first beginning at `start`."""

    start: float
    count: int
    page: float
    overlap: float

    def window(self, index: int) -> tuple[float, float]:
        """Where a window begins and ends."""
        low = self.start + index * (self.page - self.overlap)
        return low, low + self.page

    def cell(self, index: int) -> tuple[float, float]:
        """What of a window is kept once it is trimmed."""
        low, high = self.window(index)
        half = self.overlap / 2
        return low + (half if index else 0.0), high - (half if index < self.count - 1 else 0.0)

    @staticmethod
    def least_count(length: float, *, page: float, overlap: float) -> int:
        """The fewest windows that cover a length.

        >>> [Axis.least_count(length, page=100, overlap=10) for length in (100, 101, 190, 190.5)]
        [1, 2, 2, 3]
        """
        if length <= page + NOISE:
            return 1
        return ceil((length - overlap - NOISE) / (page - overlap))


@dataclass(frozen=True, slots=True)
class Grid:
    """A piece's extent in the laid frame, and the grid over it."""

    base: Affine
    extent: Region
    across: Axis
    up: Axis


@dataclass(frozen=True, slots=True)
class CutJoin:
    """Two windows by index and the line both are cut at; `upright` where it goes up the page."""

    first: int
    second: int
    line: tuple[Point, Point]
    inked: tuple[float, float]  # from the piece's first to its last place on it, along the line
    upright: bool


@dataclass(frozen=True, slots=True)
class Cut:
    """A piece in windows. `base` leads from the piece's frame to the laid frame.

    `contents` are what of the piece each window keeps; windows go by rows from the top, each from
    the left.
    """

    base: Affine
    windows: tuple[Box, ...]
    contents: tuple[Box, ...]
    joins: tuple[CutJoin, ...]


Cell = tuple[int, int]  # row from the top counted negative, column: sorts as a page is read


def cells_of(grid: Grid) -> tuple[Cell, ...]:
    """The cells in which something of the piece lies, by rows from the top."""
    return tuple(
        (-row, column)
        for row in reversed(range(grid.up.count))
        for column in range(grid.across.count)
        if grid.extent.meets(_region(_cell_box(grid, (-row, column))))
    )


def cut_along(grid: Grid, cells: Sequence[Cell], joins: tuple[CutJoin, ...]) -> Cut:
    """The windows of the cells that are kept."""
    contents = tuple(
        Box(*grid.extent.common(_region(_cell_box(grid, cell))).bounds()).rounded_out() for cell in cells
    )
    windows = []
    for index, cell in enumerate(cells):
        strips = [
            _strip(join, grid.across.overlap / 2) for join in joins if index in (join.first, join.second)
        ]
        needed = around([contents[index], *strips]).rounded_out()
        windows.append(needed.within(_window_box(grid, cell)))
    return Cut(grid.base, tuple(windows), contents, joins)


def joins_of_cells(grid: Grid, cells: Sequence[Cell]) -> tuple[CutJoin, ...]:
    """Joins of neighbouring cells between which the piece goes on. A diagonal neighbour needs none."""
    index_of = {cell: index for index, cell in enumerate(cells)}
    joins = []
    for (row, column), index in index_of.items():
        for neighbour, upright in (((row, column + 1), True), ((row + 1, column), False)):
            if neighbour in index_of:
                join = _join(grid, (row, column), upright=upright)
                if join:
                    joins.append(CutJoin(index, index_of[neighbour], *join, upright))
    return tuple(sorted(joins, key=lambda join: (join.first, join.second)))


def _join(grid: Grid, cell: Cell, *, upright: bool) -> tuple[tuple[Point, Point], tuple[float, float]] | None:
    """The cut line at a cell's right side (`upright`) or foot, and where on it the piece is."""
    box = _cell_box(grid, cell)
    edge = Box(box.right, box.bottom, box.right, box.top)
    if not upright:
        edge = Box(box.left, box.bottom, box.right, box.bottom)
    touch = rectangle(edge.left - TOUCH, edge.bottom - TOUCH, edge.right + TOUCH, edge.top + TOUCH)
    on_it = grid.extent.common(touch)
    if on_it.empty:
        return None
    inked = Box(*on_it.bounds())
    if upright:
        low, high = _reaching(inked.bottom, inked.top, least=edge.bottom, most=edge.top)
        return ((edge.left, low), (edge.left, high)), (inked.bottom, inked.top)
    low, high = _reaching(inked.left, inked.right, least=edge.left, most=edge.right)
    return ((low, edge.bottom), (high, edge.bottom)), (inked.left, inked.right)


def _reaching(low: float, high: float, *, least: float, most: float) -> tuple[float, float]:
    """A stretch prolonged by REACH both ways, and to LEAST_CUT_LINE, within `least` to `most`."""
    low, high = max(least, low - REACH), min(most, high + REACH)
    high = min(most, max(high, low + LEAST_CUT_LINE))
    return max(least, min(low, high - LEAST_CUT_LINE)), high


def _strip(join: CutJoin, half: float) -> Box:
    """The overlap along a cut line."""
    box = box_of(join.line)
    if join.upright:
        return Box(box.left - half, box.bottom, box.right + half, box.top)
    return Box(box.left, box.bottom - half, box.right, box.top + half)


def _cell_box(grid: Grid, cell: Cell) -> Box:
    (left, right), (bottom, top) = grid.across.cell(cell[1]), grid.up.cell(-cell[0])
    return Box(left, bottom, right, top)


def _window_box(grid: Grid, cell: Cell) -> Box:
    (left, right), (bottom, top) = grid.across.window(cell[1]), grid.up.window(-cell[0])
    return Box(left, bottom, right, top)


def _region(box: Box) -> Region:
    return rectangle(box.left, box.bottom, box.right, box.top)


def page_fits(box: Box, page: Size) -> bool:
    """Whether a box fits the page, as it is or turned by a quarter."""
    sides = ((page.width, page.height), (page.height, page.width))
    return any(box.width <= width + NOISE and box.height <= height + NOISE for width, height in sides)
