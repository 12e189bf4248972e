"""Rasters: which cells of an area are taken, as rows of whole numbers (an occupancy grid).

In: boxes, lines and rings of points, mm. Out: which cells they touch, and whether a box is free.

A row is one whole number, bit k its cell k from the left, 1 where something stands, so that a box is
looked up in as many steps as it has rows. A `Raster` is filled while one sheet is laid out or drawn
and then dropped; it is the one thing here that changes.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import chain, pairwise
from math import ceil, floor, hypot, inf, sqrt

from handkit.geometry.affine import Point
from handkit.geometry.box import Box
from handkit.geometry.polygon import sides

# A line that rises by less, in mm, is level: its slope would be lost in rounding.
LEVEL = 1e-9


# Rows that a line crosses are looked at so many apart, and then those between: texts, which are higher, are
# soon met.
STRIDE = 4


class Raster:
    """Square cells of `cell` mm over an area, from its lower left; all free at first.

    An `exact` raster takes the cells that a thing has a place in. Another takes a few more, which is
    faster: those that a thing touches where it ends, and for a bit of line no higher than a cell, or
    upright, all of its box.
    """

    def __init__(self, area: Box, *, cell: float, exact: bool = False, rows: Sequence[int] = ()) -> None:
        self.area = area
        self.left, self.bottom = area.left, area.bottom
        self.cell = cell
        self.exact = exact
        self.columns = ceil(area.width / cell - 1e-6)
        self.rows = list(rows) or [0] * ceil(area.height / cell - 1e-6)
        self.changes = 0  # how often something was taken
        self._freed: tuple[int, int] | None = None  # all that was free after so many

    def copy(self) -> Raster:
        """Another with the same cells taken."""
        return Raster(self.area, cell=self.cell, exact=self.exact, rows=self.rows)

    def part(self, area: Box, *, also: Sequence[int]) -> Raster:
        """The cells that lie in an area with all they have, taken where they are or `also` are."""
        cell = self.cell
        first, last = (
            ceil((area.left - self.left) / cell - 1e-6),
            floor((area.right - self.left) / cell + 1e-6),
        )
        low, high = (
            ceil((area.bottom - self.bottom) / cell - 1e-6),
            floor((area.top - self.bottom) / cell + 1e-6),
        )
        first, last, low, high = (
            max(first, 0),
            min(last, self.columns),
            max(low, 0),
            min(high, len(self.rows)),
        )
        first, low = min(first, last), min(low, high)
        left, bottom = self.left + first * cell, self.bottom + low * cell
        within = Box(left, bottom, left + (last - first) * cell, bottom + (high - low) * cell)
        mask = (1 << last - first) - 1
        rows = [(self.rows[k] | also[k]) >> first & mask for k in range(low, high)]
        return Raster(within, cell=cell, exact=self.exact, rows=rows)

    def take(self, left: float, bottom: float, right: float, top: float) -> None:
        """Take all cells a box touches."""
        cells, rows = self.cells(left, right), self.rows
        self.changes += 1
        for index in self.rows_of(bottom, top):
            rows[index] |= cells

    def take_line(self, points: Iterable[Point], *, reach: float) -> None:
        """Take the cells within `reach` of a line through points: row by row, what of each
        straight bit lies in the row and `reach` about it."""
        rows, cell, x, y = self.rows, self.cell, self.left, self.bottom
        columns, exact = self.columns, self.exact
        self.changes += 1
        for start, end in pairwise(points):
            (x0, y0), (x1, y1) = (start, end) if start[1] <= end[1] else (end, start)
            if y1 - y0 < LEVEL or (not exact and (y1 - y0 <= cell or abs(x1 - x0) <= cell / 100)):
                left, right = (x0, x1) if x0 < x1 else (x1, x0)
                self.take(left - reach, y0 - reach, right + reach, y1 + reach)
                continue
            x0, y0, x1, y1 = x0 - x, y0 - y, x1 - x, y1 - y
            slope, height = (x1 - x0) / (y1 - y0), y1 - y0
            first, last = floor((y0 - reach) / cell), floor((y1 + reach) / cell)
            for index in range(max(0, first), min(len(rows), last + 1)):
                a = x0 + slope * max(0.0, index * cell - reach - y0)
                b = x0 + slope * min(height, (index + 1) * cell + reach - y0)
                if a > b:
                    a, b = b, a
                # as `cells` has them: a call takes as long as all the rest
                low, ends = max(0, floor((a - reach) / cell)), (b + reach) / cell
                high = min(columns, ceil(ends) if exact else floor(ends) + 1)
                if high > low:
                    rows[index] |= (1 << high) - (1 << low)

    def take_disc(self, centre: Point, radius: float) -> None:
        """Take all cells of which any place lies within `radius` of a point."""
        self.changes += 1
        y = centre[1] - self.bottom
        first = max(0, floor((y - radius) / self.cell))
        last = min(len(self.rows) - 1, floor((y + radius) / self.cell))
        for row in range(first, last + 1):
            low, high = row * self.cell, (row + 1) * self.cell
            off = max(low - y, y - high, 0.0)
            half = sqrt(max(radius * radius - off * off, 0.0))
            self.rows[row] |= self.cells(centre[0] - half, centre[0] + half)

    def take_cells(self, rows: Iterable[int]) -> None:
        """Take cells, given row by row."""
        self.changes += 1
        self.rows = [taken | more for taken, more in zip(self.rows, rows, strict=True)]

    def take_all_but(self, rows: Iterable[int]) -> None:
        """Take all other cells than some, given row by row."""
        everything = (1 << self.columns) - 1
        self.take_cells(everything & ~kept for kept in rows)

    def inside(self, ring: Sequence[Point]) -> list[int]:
        """The cells, row by row, that a ring's inside touches on the row's middle (even-odd)."""
        cell, bottom = self.cell, self.bottom
        crossings: dict[int, list[float]] = {}
        for (x0, y0), (x1, y1) in sides(ring):
            low, high = (y0, y1) if y0 < y1 else (y1, y0)
            first, last = ceil((low - bottom) / cell - 0.5), ceil((high - bottom) / cell - 0.5)
            width, height = x1 - x0, y1 - y0
            for index in range(max(0, first), min(len(self.rows), last)):
                x = x0 + width * (bottom + (index + 0.5) * cell - y0) / height
                crossings.setdefault(index, []).append(x)
        rows = [0] * len(self.rows)
        for index, xs in crossings.items():
            xs.sort()
            for left, right in zip(xs[::2], xs[1::2], strict=False):
                rows[index] |= self.cells(left, right)
        return rows

    def is_free(self, left: float, bottom: float, right: float, top: float) -> bool:
        """Whether no cell that a box touches is taken."""
        cells, rows = self.cells(left, right), self.rows
        for index in self.rows_of(bottom, top):  # noqa: SIM110 - asked most of all; a plain loop is faster
            if rows[index] & cells:
                return False
        return True

    def is_free_along(self, start: Point, end: Point, *, reach: float) -> bool:
        """Whether no cell within `reach` of a straight line is taken, but for those beyond its ends: row by
        row, as `take_line` has them."""
        rows, cell, left, bottom = self.rows, self.cell, self.left, self.bottom
        (x0, y0), (x1, y1) = (start, end) if start[1] <= end[1] else (end, start)
        if y1 - y0 <= reach:
            return self.is_free(min(x0, x1), y0 - reach, max(x0, x1), y1 + reach)
        x0, y0, x1, y1 = x0 - left, y0 - bottom, x1 - left, y1 - bottom
        slope, height, last = (x1 - x0) / (y1 - y0), y1 - y0, self.columns
        first, end_row = max(0, floor(y0 / cell)), min(len(rows), floor(y1 / cell) + 1)
        for index in chain.from_iterable(range(first + k, end_row, STRIDE) for k in range(STRIDE)):
            row = rows[index]
            if row:  # plain comparisons: calls would take as long as all the rest
                low, high = index * cell - y0, (index + 1) * cell - y0
                a = x0 + slope * low if low > 0.0 else x0
                b = x0 + slope * (high if high < height else height)
                if a > b:
                    a, b = b, a
                left, right = int((a - reach) / cell), floor((b + reach) / cell) + 1
                left, right = (left if left > 0 else 0), (right if right < last else last)
                if row >> left & (1 << right - left) - 1:
                    return False
        return True

    def free_box(self, width: float, height: float, *, near: Point) -> Box | None:
        """The free box of a size whose middle is nearest to a point, or None where there is none."""
        return next(iter(self.free_boxes(width, height, near=(near,))), None)

    def free_boxes(self, width: float, height: float, *, near: Iterable[Point]) -> tuple[Box, ...]:
        """For each of some points the free box of a size whose middle is nearest; () where there is none."""
        wide, high = ceil(width / self.cell - 1e-6), ceil(height / self.cell - 1e-6)
        if wide > self.columns or high > len(self.rows):
            return ()
        size = self.columns // 8 + 1  # bytes of a row: a bit at least is taken between two
        starts = _runs(_runs(self._free(size), wide), high, apart=8 * size)
        if not starts:
            return ()
        listed = starts.to_bytes(size * len(self.rows), "little")
        rows = (int.from_bytes(listed[k * size : (k + 1) * size], "little") for k in range(len(self.rows)))
        free = [(bottom, starts) for bottom, starts in enumerate(rows) if starts]
        return tuple(self._nearest(at, free, wide, high) for at in near)

    def _free(self, size: int) -> int:
        """All free cells in one number, so many bytes a row."""
        if self._freed is None or self._freed[0] != self.changes:
            everything = (1 << self.columns) - 1
            rows = b"".join((everything & ~row).to_bytes(size, "little") for row in self.rows)
            self._freed = self.changes, int.from_bytes(rows, "little")
        return self._freed[1]

    def _nearest(self, near: Point, free: Sequence[tuple[int, int]], wide: int, high: int) -> Box:
        """Of boxes by the row and the cells that they may begin in the one nearest to a point."""
        x = (near[0] - self.left) / self.cell - wide / 2
        y = (near[1] - self.bottom) / self.cell - high / 2
        best = (inf, 0, 0)
        for bottom, starts in free:
            off = abs(bottom - y)
            if off < best[0]:
                left = _nearest_bit(starts, x)
                best = min(best, (round(hypot(left - x, off), 6), bottom, left))
        x, y = self.left + best[2] * self.cell, self.bottom + best[1] * self.cell
        return Box(x, y, x + wide * self.cell, y + high * self.cell)

    def cells(self, left: float, right: float) -> int:
        """The cells of a row that a stretch touches."""
        first = floor((left - self.left) / self.cell)
        end = (right - self.left) / self.cell
        last = ceil(end) if self.exact else floor(end) + 1
        first = max(first, 0)
        last = min(last, self.columns)
        return (1 << last) - (1 << first) if last > first else 0

    def rows_of(self, bottom: float, top: float) -> range:
        """The rows that a stretch from bottom to top touches."""
        first = floor((bottom - self.bottom) / self.cell)
        last = floor((top - self.bottom) / self.cell) + 1
        return range(0 if first < 0 else first, len(self.rows) if last > len(self.rows) else last)


class RowSpans:
    """What is taken of rows that follow one another, looked up in two steps: of the rows once, and
    of 2, 4, 8 … of them from each row on."""

    def __init__(self, rows: Sequence[int]) -> None:
        self.levels = [rows]

    def over(self, rows: range) -> int:
        """What is taken in any of some rows."""
        if not rows:
            return 0
        level = len(rows).bit_length() - 1
        while len(self.levels) <= level:
            lower, step = self.levels[-1], 1 << (len(self.levels) - 1)
            self.levels.append([a | b for a, b in zip(lower, lower[step:], strict=False)])
        found = self.levels[level]
        return found[rows.start] | found[rows.stop - (1 << level)]


def _runs(free: int, length: int, *, apart: int = 1) -> int:
    """The places at which `length` set bits follow one another, each so far behind the one before.

    >>> bin(_runs(0b0111_0110, 2)), bin(_runs(0b0111_0110, 2, apart=4))
    ('0b110010', '0b110')
    """
    done = 1
    while free and done < length:
        step = min(done, length - done)
        free &= free >> step * apart
        done += step
    return free


def _nearest_bit(bits: int, place: float) -> int:
    """The set bit nearest to a place; of two the lower.

    >>> _nearest_bit(0b1000_0100, 4.0), _nearest_bit(0b1000_0100, 6.0)
    (2, 7)
    """
    split = max(0, floor(place) + 1)
    below = (bits & ((1 << split) - 1)).bit_length() - 1
    above_bits = bits >> split
    above = split + (above_bits & -above_bits).bit_length() - 1 if above_bits else -1
    if below < 0 or above < 0:
        return max(below, above)
    return below if place - below <= above - place else above
