"""Three plain ways to lay out, in place of handkit's, to be beaten.

In: a case. Out: `Count`: sheets, joins, joins through holes. All mm.

    one_grid_each   every piece by itself: a grid of pages from its lower left corner, empty pages
                    dropped
    one_drawing     all pieces in rows on one big drawing, a grid of pages over that, empty pages
                    dropped; of several row lengths and both ways round, the one with fewest sheets
    boxes           pieces that fit a page packed as boxes by a general-purpose library; the others
                    each a grid of its own, upright or turned by a quarter, whichever takes fewer pages

A page shows the overlap at either side twice; neighbours meet in its middle, and are joined where
the piece goes on from one to the other.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from math import ceil

import rectpack
import shapely
from layout_case import Case, Count, Drawing, Line, Point
from layout_holes import through

TOUCH = 0.01  # mm of cut line, mm² of piece: less is nothing
MICRON = 1000  # the library wants whole numbers


@dataclass(frozen=True)
class Grid:
    """Pages side by side from a corner: what each keeps is w × h less half an overlap a neighbour."""

    w: float
    h: float
    overlap: float
    columns: int
    rows: int

    @staticmethod
    def over(width: float, height: float, case: Case) -> Grid:
        """The grid that covers a box from its lower left corner."""
        w, h = case.drawn
        return Grid(w, h, case.overlap, _count(width, w, case.overlap), _count(height, h, case.overlap))

    def side(self, index: int, page: float, count: int) -> tuple[float, float]:
        """What a page keeps along one direction."""
        low, half = index * (page - self.overlap), self.overlap / 2
        return low + (half if index else 0), low + page - (half if index < count - 1 else 0)

    def cell(self, column: int, row: int) -> tuple[float, float, float, float]:
        """Left, bottom, right, top."""
        (left, right) = self.side(column, self.w, self.columns)
        (bottom, top) = self.side(row, self.h, self.rows)
        return left, bottom, right, top


def one_grid_each(case: Case) -> Count:
    """Every piece by itself."""
    return _sum(_gridded(drawing, case) for drawing in case.drawings)


def one_drawing(case: Case) -> Count:
    """The best of several big drawings."""
    return min((_tiled(spots, case) for spots in _drawings(case)), key=lambda c: (c.sheets, c.joins))


def boxes(case: Case) -> Count:
    """Small pieces packed as boxes, big ones in grids."""
    w, h = case.drawn
    small = [d for d in case.drawings if _fits(d, w, h)]
    big = [d for d in case.drawings if not _fits(d, w, h)]
    grids = (
        min((_gridded(d, case), _gridded(_turned(d), case)), key=lambda c: (c.sheets, c.joins)) for d in big
    )
    total = _sum(grids)
    return Count(total.sheets + _packed(small, case), total.joins, total.through)


def _count(length: float, page: float, overlap: float) -> int:
    return 1 if length <= page + 1e-6 else ceil((length - overlap) / (page - overlap) - 1e-6)


def _sum(counts: Iterator[Count]) -> Count:
    found = list(counts)
    return Count(*(sum(getattr(c, name) for c in found) for name in ("sheets", "joins", "through")))


def _at_corner(drawing: Drawing, x: float = 0.0, y: float = 0.0) -> Drawing:
    """The drawing with its box's lower left corner at a point."""
    left, bottom, _, _ = drawing.area.bounds
    dx, dy = x - left, y - bottom
    ring = tuple((px + dx, py + dy) for px, py in drawing.ring)
    return Drawing(drawing.name, ring, tuple((px + dx, py + dy, d) for px, py, d in drawing.holes))


def _turned(drawing: Drawing) -> Drawing:
    """The drawing turned by a quarter."""
    ring = tuple((-y, x) for x, y in drawing.ring)
    return Drawing(drawing.name, ring, tuple((-y, x, d) for x, y, d in drawing.holes))


def _size(drawing: Drawing) -> Point:
    left, bottom, right, top = drawing.area.bounds
    return right - left, top - bottom


def _fits(drawing: Drawing, w: float, h: float) -> bool:
    a, b = _size(drawing)
    return (a <= w + 1e-9 and b <= h + 1e-9) or (b <= w + 1e-9 and a <= h + 1e-9)


def _gridded(drawing: Drawing, case: Case) -> Count:
    placed = _at_corner(drawing)
    grid = Grid.over(*_size(placed), case)
    lines = list(_cut_lines(placed, grid))
    return Count(len(_pages(placed, grid)), len(lines), through(lines, placed))


def _pages(drawing: Drawing, grid: Grid) -> set[tuple[int, int]]:
    """The grid's pages on which something of a drawing is."""
    shapely.prepare(drawing.area)
    every = product(range(grid.columns), range(grid.rows))
    return {cell for cell in every if drawing.area.intersection(shapely.box(*grid.cell(*cell))).area > TOUCH}


def _cut_lines(drawing: Drawing, grid: Grid) -> Iterator[Line]:
    """Sides shared by two pages over which a drawing goes on, from its first place there to its last."""
    for column, row in product(range(grid.columns), range(grid.rows)):
        left, bottom, right, top = grid.cell(column, row)
        sides = [((right, bottom), (right, top))] if column < grid.columns - 1 else []
        sides += [((left, top), (right, top))] if row < grid.rows - 1 else []
        for side in sides:
            on_it = drawing.area.intersection(shapely.LineString(side))
            if on_it.length > TOUCH:
                x0, y0, x1, y1 = on_it.bounds
                yield (x0, y0), (x1, y1)


def _drawings(case: Case) -> Iterator[list[Drawing]]:
    """Arrangements of all pieces on one drawing: rows of several lengths, both ways round."""
    for turn in (False, True):
        sizes = [_size(d)[::-1] if turn else _size(d) for d in case.drawings]
        longest = max(size[0] for size in sizes)
        w, _ = case.drawn
        widths = [k * (w - case.overlap) + case.overlap for k in range(1, 9)]
        for width in sorted({max(longest, width) for width in widths}):
            for upright in (False, True):
                yield _rows([_turned(d) if turn else d for d in case.drawings], width, case.gap, upright)


def _rows(drawings: Sequence[Drawing], width: float, gap: float, upright: bool) -> list[Drawing]:
    """Pieces from left to right, the highest first, in rows from below; small ones upright or as they lie."""
    laid = [
        _turned(d) if upright and _size(d)[0] > _size(d)[1] and _size(d)[1] <= width else d for d in drawings
    ]
    x = y = high = 0.0
    placed = []
    for drawing in sorted(laid, key=lambda d: (-round(_size(d)[1], 3), -round(_size(d)[0], 3))):
        across, up = _size(drawing)
        if x > 0 and x + across > width:
            x, y, high = 0.0, y + high + gap, 0.0
        placed.append(_at_corner(drawing, x, y))
        x, high = x + across + gap, max(high, up)
    return placed


def _tiled(spots: Sequence[Drawing], case: Case) -> Count:
    right = max(d.area.bounds[2] for d in spots)
    top = max(d.area.bounds[3] for d in spots)
    grid = Grid.over(right, top, case)
    pages = {page for drawing in spots for page in _pages(drawing, grid)}
    lines = [(drawing, list(_cut_lines(drawing, grid))) for drawing in spots]
    return Count(len(pages), sum(len(some) for _, some in lines), sum(through(some, d) for d, some in lines))


def _packed(drawings: Sequence[Drawing], case: Case) -> int:
    """Pages that the library takes for the drawings' boxes; the best of its ways."""
    if not drawings:
        return 0
    w, h = (int((side + case.gap) * MICRON + 0.5) for side in case.drawn)
    sizes = [tuple(ceil((side + case.gap) * MICRON - 1e-3) for side in _size(d)) for d in drawings]
    ways = product(
        (rectpack.PackingBin.BFF, rectpack.PackingBin.Global),
        (rectpack.MaxRectsBssf, rectpack.MaxRectsBl, rectpack.GuillotineBssfSas),
        (rectpack.SORT_AREA, rectpack.SORT_LSIDE, rectpack.SORT_SSIDE),
    )
    counts = []
    for bins, algorithm, order in ways:
        packer = rectpack.newPacker(bin_algo=bins, pack_algo=algorithm, sort_algo=order, rotation=True)
        for number, (a, b) in enumerate(sizes):
            packer.add_rect(a, b, rid=number)
        packer.add_bin(w, h, count=len(sizes))
        packer.pack()
        if len(packer.rect_list()) == len(sizes):
            counts.append(len(packer))
    return min(counts)
