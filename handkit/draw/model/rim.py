"""The rim of a polygon that is asked many times: how near it comes to a place, and what lies within.

In: a ring of points (the first not repeated), mm. Out: the answers of going through all sides; sides that lie
together are passed by together, by a box round each handful, so that an outline of thousands of corners may
be asked as often as one of four.
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.geometry.affine import Point
from handkit.geometry.polygon import inside, near_box, sides
from handkit.geometry.straight import Straight, point_to_line
from handkit.tolerances import SAME_POINT

HANDFUL = 16

# Opposite corners of a box, and the sides in it.
_Handful = tuple[Point, Point, tuple[Straight, ...]]


class Rim:
    """The sides of a ring, handful by handful.

    >>> rim = Rim(((0, 0), (2, 0), (2, 2), (0, 2)))
    >>> rim.is_clear_of((3, 1), reach=1), rim.is_clear_of((3, 1), reach=1.1)
    (True, False)
    >>> rim.holds((1, 1)), rim.holds((2, 1)), rim.holds((2.1, 1))
    (True, True, False)
    """

    def __init__(self, ring: Sequence[Point]) -> None:
        self._ring = ring
        every = tuple(sides(ring))
        self._handfuls = [_boxed(every[k : k + HANDFUL]) for k in range(0, len(every), HANDFUL)]

    def is_clear_of(self, place: Point, *, reach: float) -> bool:
        """Whether no side comes nearer to a place than `reach`."""
        for low, high, those in self._handfuls:
            if near_box(place, low, high, reach):
                for side in those:
                    if near_box(place, *side, reach) and point_to_line(place, side) < reach:
                        return False
        return True

    def holds(self, place: Point) -> bool:
        """Whether a place lies in the ring or on its rim, as `polygon.inside` has it."""
        if len(self._handfuls) == 1:
            return inside(place, self._ring)
        x, y = place
        odd = False
        for low, high, those in self._handfuls:
            if low[1] - 2 * SAME_POINT <= y <= high[1] + 2 * SAME_POINT:
                for a, b in those:
                    if near_box(place, a, b, 2 * SAME_POINT) and point_to_line(place, (a, b)) <= SAME_POINT:
                        return True
                    if (a[1] > y) != (b[1] > y) and x < a[0] + (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1]):
                        odd = not odd
        return odd


def _boxed(those: tuple[Straight, ...]) -> _Handful:
    xs, ys = zip(*(end for side in those for end in side), strict=True)
    return (min(xs), min(ys)), (max(xs), max(ys)), those
