"""Bitmaps: which squares of a sheet are free, as rows of whole numbers.

In: lines, rings and places in mm. Out: the free upright rectangle of a size nearest to a place.

A row is one whole number, bit k its square k from the left, 1 where something stands. Chosen over
asking a geometry library about each candidate place: a row of squares is tested in one operation.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import ceil, floor, hypot, sqrt

from handkit.geometry.affine import Point
from handkit.geometry.box import Box


class Bitmap:
    """Squares of `raster` mm over a box, all free at first. The one thing here that changes."""

    def __init__(self, area: Box, *, raster: float) -> None:
        self.area = area
        self.raster = raster
        self.columns = max(0, floor(area.width / raster + 1e-6))
        self.rows = [0] * max(0, floor(area.height / raster + 1e-6))

    def block_disc(self, centre: Point, radius: float) -> None:
        """Take all squares of which any place lies within `radius` of a point."""
        x, y = centre[0] - self.area.left, centre[1] - self.area.bottom
        first = max(0, floor((y - radius) / self.raster))
        last = min(len(self.rows) - 1, floor((y + radius) / self.raster))
        for row in range(first, last + 1):
            low, high = row * self.raster, (row + 1) * self.raster
            off = max(low - y, y - high, 0.0)
            half = sqrt(max(radius * radius - off * off, 0.0))
            self._block_row(row, x - half, x + half)

    def block_line(self, points: Sequence[Point], radius: float) -> None:
        """Take all squares within `radius` of a line through points, and a few more at its slopes.

        A row takes what of the line lies in it or no more than `radius` above or below, and
        `radius` on either side of that.
        """
        for (x0, y0), (x1, y1) in pairwise(points):
            x, dx, y, dy = x0 - self.area.left, x1 - x0, y0 - self.area.bottom, y1 - y0
            first = max(0, floor((min(y, y + dy) - radius) / self.raster))
            last = min(len(self.rows) - 1, floor((max(y, y + dy) + radius) / self.raster))
            for row in range(first, last + 1):
                low, high = 0.0, 1.0
                if dy:
                    low = min(max((row * self.raster - radius - y) / dy, 0.0), 1.0)
                    high = min(max(((row + 1) * self.raster + radius - y) / dy, 0.0), 1.0)
                left, right = x + dx * low, x + dx * high
                if left > right:
                    left, right = right, left
                self.rows[row] |= self._bits(left - radius, right + radius)

    def block_box(self, box: Box) -> None:
        """Take all squares that a box touches."""
        first = max(0, floor((box.bottom - self.area.bottom) / self.raster))
        last = min(len(self.rows) - 1, floor((box.top - self.area.bottom) / self.raster))
        for row in range(first, last + 1):
            self._block_row(row, box.left - self.area.left, box.right - self.area.left)

    def block_inside(self, ring: Sequence[Point]) -> None:
        """Take the squares whose middle row lies inside a ring; its edge is blocked as a line."""
        for row, stretches in enumerate(self._inside(ring)):
            for low, high in stretches:
                self._block_row(row, low, high)

    def block_outside(self, ring: Sequence[Point]) -> None:
        """Take all squares but those inside a ring; its edge is blocked as a line."""
        for row, stretches in enumerate(self._inside(ring)):
            free = 0
            for low, high in stretches:
                free |= self._bits(low, high)
            self.rows[row] |= self._bits(0.0, self.columns * self.raster) & ~free

    def free_box(self, width: float, height: float, *, near: Point) -> Box | None:
        """The free box of a size whose middle is nearest to a point, or None where there is none."""
        wide, high = ceil(width / self.raster - 1e-6), ceil(height / self.raster - 1e-6)
        if wide > self.columns or high > len(self.rows):
            return None
        runs = [_runs(self._bits(0.0, self.columns * self.raster) & ~row, wide) for row in self.rows]
        x = (near[0] - self.area.left) / self.raster - wide / 2
        y = (near[1] - self.area.bottom) / self.raster - high / 2
        best: tuple[float, int, int] | None = None
        for bottom, starts in enumerate(_stacked(runs, high)):
            off = abs(bottom - y)
            if starts and (best is None or off < best[0]):
                left = _nearest_bit(starts, x)
                rank = (round(hypot(left - x, off), 6), bottom, left)
                best = rank if best is None else min(best, rank)
        if best is None:
            return None
        x, y = self.area.left + best[2] * self.raster, self.area.bottom + best[1] * self.raster
        return Box(x, y, x + wide * self.raster, y + high * self.raster)

    def _inside(self, ring: Sequence[Point]) -> Iterable[list[tuple[float, float]]]:
        """For each row the stretches, from the area's left, in which its middle lies inside a ring."""
        crossings: list[list[float]] = [[] for _ in self.rows]
        for (x0, y0), (x1, y1) in pairwise((*ring, ring[0])):
            if y0 == y1:
                continue
            low, high = sorted((y - self.area.bottom) / self.raster - 0.5 for y in (y0, y1))
            for row in range(max(0, ceil(low)), min(len(self.rows), ceil(high))):
                y = self.area.bottom + (row + 0.5) * self.raster
                crossings[row].append(x0 + (x1 - x0) * (y - y0) / (y1 - y0) - self.area.left)
        for found in crossings:
            found.sort()
            yield list(zip(found[::2], found[1::2], strict=True))

    def _block_row(self, row: int, low: float, high: float) -> None:
        self.rows[row] |= self._bits(low, high)

    def _bits(self, low: float, high: float) -> int:
        """The squares of a row that a stretch touches."""
        first = max(0, floor(low / self.raster))
        last = min(self.columns, max(first, ceil(high / self.raster)))
        return ((1 << (last - first)) - 1) << first if last > first else 0


def _runs(free: int, length: int) -> int:
    """The places at which `length` set bits follow one another.

    >>> bin(_runs(0b0111_0110, 2))
    '0b110010'
    """
    done = 1
    while done < length:
        step = min(done, length - done)
        free &= free >> step
        done += step
    return free


def _stacked(rows: Sequence[int], height: int) -> list[int]:
    """For each row the bits that are set in it and the rows above, `height` in all."""
    done, stacked = 1, list(rows)
    while done < height:
        step = min(done, height - done)
        stacked = [low & high for low, high in zip(stacked, stacked[step:], strict=False)]
        done += step
    return stacked


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
