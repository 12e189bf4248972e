"""Ground: where on a sheet something is drawn already, so that no text lies on a hole or a cut.

In: lines, points and boxes in mm of the sheet. Out: whether a box is free, or where one is.

The sheet is a raster of half-millimetre cells; each row is one whole number, a bit for each cell,
so that a box is looked up in as many steps as it has rows. A `Ground` is filled while one sheet is
drawn and then dropped; it is the one thing here that changes.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import reduce
from itertools import pairwise
from math import ceil, floor, hypot, sqrt
from operator import and_

from handkit.draw.model.path_ops import PathOps
from handkit.geometry.affine import Point
from handkit.geometry.box import Box

CELL = 0.5

# A curve no larger takes all cells of its box: at most one beside it.
SMALL = 1.0

# About how many places for a box are tried in an area: enough to find room, few enough to be quick.
MOST_SPOTS = 400


class Ground:
    """Cells of a sheet of paper up to the room's right and top, free at first. Nothing outside
    the room is ever free."""

    def __init__(self, room: Box) -> None:
        self.columns = ceil(room.right / CELL)
        self.rows = [0] * ceil(room.top / CELL)
        self.room = room

    def take(self, box: Box) -> None:
        """Take all cells a box touches."""
        bits = self._bits(box.left, box.right)
        for index in self._rows(box):
            self.rows[index] |= bits

    def take_line(self, points: Sequence[Point], *, reach: float = 0.4) -> None:
        """Take the cells within `reach` of a line through points: row by row, what of each
        straight bit lies in the row and `reach` about it."""
        for start, end in pairwise(points):
            self._take_bit(start, end, reach)

    def _take_bit(self, start: Point, end: Point, reach: float) -> None:
        (x0, y0), (x1, y1) = (start, end) if start[1] <= end[1] else (end, start)
        if y1 - y0 <= CELL or abs(x1 - x0) <= CELL / 100:
            self.take(Box(min(x0, x1) - reach, y0 - reach, max(x0, x1) + reach, y1 + reach))
            return
        slope = (x1 - x0) / (y1 - y0)
        first, last = floor((y0 - reach) / CELL), floor((y1 + reach) / CELL)
        for index in range(max(0, first), min(len(self.rows), last + 1)):
            a = x0 + slope * max(0.0, index * CELL - reach - y0)
            b = x0 + slope * min(y1 - y0, (index + 1) * CELL + reach - y0)
            self.rows[index] |= self._bits(min(a, b) - reach, max(a, b) + reach)

    def take_path(self, path: PathOps, *, reach: float) -> None:
        """Take the cells within `reach` of drawn lines and curves."""
        here: Point = (0.0, 0.0)
        start = here
        for name, at in path.each():
            if name == "m":
                here = start = (at[0], at[1])
            elif name == "l":
                self.take_line((here, (at[0], at[1])), reach=reach)
                here = (at[0], at[1])
            elif name == "c":
                self._take_cubic(here, at, reach)
                here = (at[4], at[5])
            else:
                self.take_line((here, start), reach=reach)
                here = start

    def _take_cubic(self, start: Point, handles: Sequence[float], reach: float) -> None:
        """A cubic; one no larger than a few cells, such as a hole's quarter, by its handles' box."""
        xs, ys = (start[0], *handles[::2]), (start[1], *handles[1::2])
        box = Box(min(xs), min(ys), max(xs), max(ys))
        if max(box.right - box.left, box.top - box.bottom) <= SMALL:
            self.take(box.grown(reach))
        else:
            self.take_line((start, *_along_cubic(start, handles)), reach=reach)

    def take_outside(self, ring: Sequence[Point]) -> None:
        """Take all that does not lie inside a closed ring of points (even-odd)."""
        everything = (1 << self.columns) - 1
        for index, inside in enumerate(self._inside(ring)):
            self.rows[index] |= everything & ~inside

    def take_inside(self, *rings: Sequence[Point]) -> None:
        """Take all that lies inside every one of some closed rings of points."""
        for index, inside in enumerate(zip(*(self._inside(ring) for ring in rings), strict=True)):
            self.rows[index] |= reduce(and_, inside)

    def _inside(self, ring: Sequence[Point]) -> list[int]:
        """For each row the cells inside a ring."""
        crossings: list[list[float]] = [[] for _ in self.rows]
        for (x0, y0), (x1, y1) in pairwise([*ring, ring[0]]):
            low, high = min(y0, y1), max(y0, y1)
            for index in range(max(0, ceil(low / CELL - 0.5)), min(len(self.rows), ceil(high / CELL - 0.5))):
                y = (index + 0.5) * CELL
                crossings[index].append(x0 + (x1 - x0) * (y - y0) / (y1 - y0))
        rows = []
        for xs in crossings:
            xs.sort()
            rows.append(0)
            for left, right in zip(xs[::2], xs[1::2], strict=False):
                rows[-1] |= self._bits(left, right)
        return rows

    def is_free(self, box: Box) -> bool:
        """Whether a box lies on the sheet and no cell it touches is taken."""
        if not box.inside(self.room):
            return False
        bits = self._bits(box.left, box.right)
        return not any(self.rows[index] & bits for index in self._rows(box))

    def _rows(self, box: Box) -> range:
        return range(max(0, floor(box.bottom / CELL)), min(len(self.rows), floor(box.top / CELL) + 1))

    def _bits(self, left: float, right: float) -> int:
        first = max(0, floor(left / CELL))
        last = min(self.columns - 1, floor(right / CELL))
        return ((1 << (last - first + 1)) - 1) << first if last >= first else 0


def spots(area: Box, width: float, height: float, *, step: float = 3.0) -> Iterator[Box]:
    """Boxes of a size within an area, from its middle outwards, ties from the lower left."""
    if area.right - area.left < width or area.top - area.bottom < height:
        return
    free = (area.right - area.left - width, area.top - area.bottom - height)
    step = max(step, sqrt(free[0] * free[1] / MOST_SPOTS))
    xs = _steps(area.left, area.right - width, step)
    ys = _steps(area.bottom, area.top - height, step)
    x0, y0 = (area.left + area.right - width) / 2, (area.bottom + area.top - height) / 2
    corners = sorted(((x, y) for x in xs for y in ys), key=lambda at: _nearness(at, (x0, y0)))
    for x, y in corners:
        yield Box(x, y, x + width, y + height)


def _along_cubic(start: Point, handles: Sequence[float]) -> Iterator[Point]:
    """Four points along a cubic, its end the last: a sixteenth of its sagitta is near enough."""
    (x0, y0), (x1, y1, x2, y2, x3, y3) = start, handles
    for t in (0.25, 0.5, 0.75, 1.0):
        s = 1 - t
        a, b, c, d = s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t
        yield (a * x0 + b * x1 + c * x2 + d * x3, a * y0 + b * y1 + c * y2 + d * y3)


def _nearness(at: Point, middle: Point) -> tuple[float, float, float]:
    return (round(hypot(at[0] - middle[0], at[1] - middle[1]), 3), at[1], at[0])


def _steps(first: float, last: float, step: float) -> list[float]:
    """Positions from first to last, evenly, the middle among them."""
    count = 2 * ceil((last - first) / step / 2)
    return [first + (last - first) * k / count for k in range(count + 1)] if count else [first]
