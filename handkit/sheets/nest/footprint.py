"""Footprints: a drawing at one turn, as the squares of a page that it keeps others from.

In: what is drawn of a window, mm, and a page's grid. Out: `Footprint`s, one for each turn worth trying.

A drawing is grown by half the gap; every square that the grown area touches is taken. Two footprints
that share no square are therefore at least a gap apart, whatever the size of squares; coarse squares
cost paper only. The grown area begins at the corner of a square, so
an upright side wastes nothing.

Words: a *grid* is a page as squares, in one whole number: square (column, row) is bit
row × stride + column. The *rim* is all squares right beside a footprint.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cached_property
from math import ceil, cos, inf, pi

import msgspec

from handkit.geometry.affine import Affine, Point
from handkit.geometry.polygon import goes_up_once, sides
from handkit.geometry.region import Region
from handkit.sheets.nest.packing import NOISE, Size
from handkit.sheets.nest.turns import turns_to_nest

# Chords a quarter at a grown corner, and what makes up for arcs being cut short by them.
CORNER_STEPS = 4
MAKE_UP = 1 / cos(pi / (4 * CORNER_STEPS))

# How much a drawing is grown beyond that, so that its corners may be fewer.
PLAIN = 0.03

# Squares touched by less than this are not touched: rounding noise of turning.
GRAZE = 1e-7


class PageGrid(msgspec.Struct, frozen=True, eq=False):
    """A page's squares, half a gap beyond it on every side included. Positions of drawings are
    counted in squares from the lower left."""

    page: Size
    gap: float
    raster: float
    columns: int
    rows: int
    stride: int  # bits a row, whole bytes: a drawing that fits the page may touch two squares more

    def number(self, rows: Sequence[int]) -> int:
        """Rows of squares as one number."""
        size = self.stride // 8
        return int.from_bytes(b"".join([squares.to_bytes(size, "little") for squares in rows]), "little")


def page_grid(page: Size, *, gap: float, raster: float) -> PageGrid:
    """The squares of a page."""
    columns = ceil((page.width + gap) / raster - NOISE)
    rows = ceil((page.height + gap) / raster - NOISE)
    return PageGrid(page, gap, raster, columns, rows, (columns + 4 + 7) // 8 * 8)


class Footprint(msgspec.Struct, frozen=True, eq=False):
    """A drawing at one turn. `size` is the drawing's own, `onto` leads from its frame to one whose
    origin is the drawing's lower left."""

    onto: Affine
    size: Size
    rows: tuple[int, ...]  # the squares of each
    columns: int
    squares: int  # how many
    number: int  # all rows
    rim: int  # one square up and right of `number`, so that what lies left and below has room
    rim_squares: int


def footprint_of(
    hull: Sequence[Point], grown: Iterable[Sequence[Point]], degrees: float, grid: PageGrid
) -> Footprint | None:
    """The footprint of a drawing turned by so much, by its hull and the rings of all that it keeps
    others from; None where it does not fit the page."""
    turn, raster, stride = Affine.turn(degrees), grid.raster, grid.stride
    left, bottom, right, top = _bounds(turn.apply_all(hull))
    size = Size(right - left, top - bottom)
    if size.width > grid.page.width + NOISE or size.height > grid.page.height + NOISE:
        return None
    rings = [turn.apply_all(ring) for ring in grown]
    x0, y0, _, y1 = _bounds([point for ring in rings for point in ring])
    scale, off_x, off_y = 1 / raster, -x0 / raster, -y0 / raster
    in_squares = [[(scale * x + off_x, scale * y + off_y) for x, y in ring] for ring in rings]
    rows = touched(in_squares, count=ceil((y1 - y0) / raster - GRAZE))
    number = grid.number(rows)
    apart = number << (stride + 1)
    rim = (apart << 1 | apart >> 1 | apart << stride | apart >> stride) & ~apart
    return Footprint(
        onto=Affine.shift(-left, -bottom) @ turn,
        size=size,
        rows=tuple(rows),
        columns=max(rows).bit_length(),
        squares=number.bit_count(),
        number=number,
        rim=rim,
        rim_squares=rim.bit_count(),
    )


def _bounds(points: Sequence[Point]) -> tuple[float, float, float, float]:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def touched(rings: Iterable[Sequence[Point]], *, count: int) -> list[int]:
    """For each of `count` rows the squares that any of the areas within rings touches; rings are
    counted in squares, and no place lies left of 0.

    >>> [bin(row) for row in touched([((0, 0), (4, 0), (0, 2))], count=2)]
    ['0b1111', '0b11']
    """
    rows = [0] * count
    for ring in rings:
        by_sides = _by_sides(ring, count) if goes_up_once(ring) else None
        for row, squares in enumerate(by_sides or _by_edges(ring, count)):
            rows[row] |= squares
    return rows


def _by_sides(ring: Sequence[Point], count: int) -> list[int] | None:
    """The squares that an area touches whose ring goes up once and down once: in each row all from
    one side to the other. None where its right side may lie between two squares."""
    lows, highs = [inf] * count, [0.0] * count  # of the places where edges enter and leave a row
    for (ax, ay), (bx, by) in sides(ring):
        x0, y0, x1, y1 = (ax, ay, bx, by) if ay <= by else (bx, by, ax, ay)
        first = int(y0 + GRAZE)
        last = max(first, ceil(y1 - GRAZE) - 1)
        if first == count:
            continue
        slope, x = (x1 - x0) / (y1 - y0) if first < last else 0.0, x0
        for row in range(first, last + 1):
            after = x0 + slope * (row + 1 - y0) if row < last else x1
            low, high = (x, after) if x < after else (after, x)
            if low < lows[row]:  # noqa: PLR1730 - asked most of all; a call takes longer
                lows[row] = low
            if high > highs[row]:  # noqa: PLR1730
                highs[row] = high
            x = after
    rows = []
    for low, high in zip(lows, highs, strict=True):
        if not 2 * GRAZE < high % 1 < 1 - 2 * GRAZE:
            return None
        rows.append((1 << ceil(high)) - (1 << int(low + GRAZE)))
    return rows


def _by_edges(ring: Sequence[Point], count: int) -> list[int]:
    """The squares that an area touches: its edges, and what lies between them in a row's middle."""
    rows = [0] * count
    middles: list[list[float]] = [[] for _ in rows]
    for a, b in sides(ring):
        (x0, y0), (x1, y1) = (a, b) if a[1] <= b[1] else (b, a)
        first = int(y0 + GRAZE)
        last = min(count, max(first + 1, ceil(y1 - GRAZE)))
        slope = (x1 - x0) / (y1 - y0) if y1 > y0 else 0.0
        for row in range(max(0, ceil(y0 - 0.5)), min(count, ceil(y1 - 0.5))):
            middles[row].append(x0 + slope * (row + 0.5 - y0))
        upright = abs(x1 - x0) < GRAZE
        x = x0
        for row in range(first, last):
            after = x0 + slope * (row + 1 - y0) if row + 1 < y1 else x1
            rows[row] |= _squares(x0, x1) if upright else _squares(x, after)
            x = after
    for row, crossed in enumerate(middles):
        crossed.sort()
        for low, high in zip(crossed[::2], crossed[1::2], strict=True):
            rows[row] |= _squares(low, high)
    return rows


def _squares(low: float, high: float) -> int:
    """The squares of a row between two places."""
    if low > high:
        low, high = high, low
    first = int(low + GRAZE)
    last = ceil(high - GRAZE)
    return (1 << last) - (1 << first) if last > first else 1 << first


class Drawing:
    """What is drawn of a window, with what was found out about it: all its footprints share that."""

    def __init__(self, region: Region) -> None:
        self.region = region
        self._footprints: dict[PageGrid, tuple[Footprint, ...]] = {}
        self._grown: dict[float, tuple[tuple[Point, ...], ...]] = {}

    @cached_property
    def hull(self) -> tuple[Point, ...]:
        """Its convex hull, which tells its size however it is turned."""
        return self.region.hull().rings()[0]

    def paper(self, gap: float) -> float:
        """Mm² of paper that it keeps others from, half a gap all round."""
        return self.region.grown(gap / 2, steps=CORNER_STEPS).area

    def footprints(self, grid: PageGrid) -> tuple[Footprint, ...]:
        """It at all turns that are worth trying and at which it fits the page."""
        found = self._footprints.get(grid)
        if found is None:
            rings = self._rings(grid.gap)
            every = (footprint_of(self.hull, rings, turn, grid) for turn in self._turns)
            found = self._footprints[grid] = tuple(one for one in every if one)
        return found

    @cached_property
    def _turns(self) -> tuple[float, ...]:
        return turns_to_nest(self.region, self.hull)

    def _rings(self, gap: float) -> tuple[tuple[Point, ...], ...]:
        """Round all that it keeps others from."""
        found = self._grown.get(gap)
        if found is None:
            grown = self.region.grown(gap / 2 * MAKE_UP + PLAIN, steps=CORNER_STEPS)
            found = self._grown[gap] = grown.simplified(PLAIN).rings()
        return found
