"""A void: a place of a piece where there will be no material, as a cut line has to see it.

In: straights in the piece's frame. Out: distances, and whether a cut line runs through a void.
Coordinates are rounded to a thousandth of a mm as the report writes them, so that whoever counts
joins through holes from the report counts the same. All mm.

Words: *void*, a stitch hole or an opening; its *edge* is where the material begins.
"""

from __future__ import annotations

from math import hypot

import msgspec

from handkit.geometry.affine import Affine, Point
from handkit.tolerances import JOIN_CLEARANCE

DIGITS = 3  # what the report writes


class Void(msgspec.Struct, frozen=True):
    """All that is nearer than `radius` to the straight from `start` to `end`."""

    start: Point
    end: Point
    radius: float

    def moved(self, by: Affine) -> Void:
        """The void laid elsewhere, its size kept."""
        return Void(by.apply(self.start), by.apply(self.end), self.radius)


def runs_through(cut_line: tuple[Point, Point], voids: tuple[Void, ...]) -> bool:
    """Whether a cut line comes nearer than `tolerances.JOIN_CLEARANCE` to the edge of any void.

    The cut line is rounded first, as the report writes it; so is the distance, to 1e-6 mm.

    >>> hole = Void((10.0, 4.0), (10.0, 4.0), 0.8)
    >>> runs_through(((0, 0.2), (20, 0.2)), (hole,)), runs_through(((0, 0.201), (20, 0.201)), (hole,))
    (False, True)
    """
    line = (rounded(cut_line[0]), rounded(cut_line[1]))
    (ax, ay), (bx, by) = line
    left, right, bottom, top = min(ax, bx), max(ax, bx), min(ay, by), max(ay, by)
    for void in voids:
        reach = void.radius + JOIN_CLEARANCE
        (cx, cy), (dx, dy) = void.start, void.end
        far = (
            min(cx, dx) - reach > right
            or max(cx, dx) + reach < left
            or min(cy, dy) - reach > top
            or max(cy, dy) + reach < bottom
        )
        if not far and round(clearance(line, void), 6) < JOIN_CLEARANCE:
            return True
    return False


def clearance(line: tuple[Point, Point], void: Void) -> float:
    """Distance from a straight line's nearest place to a void's edge; negative inside it."""
    return distance_of_straights(line, (void.start, void.end)) - void.radius


def distance_of_straights(first: tuple[Point, Point], second: tuple[Point, Point]) -> float:
    """Least distance between two straights, either of which may be a point.

    >>> distance_of_straights(((0, 0), (10, 0)), ((5, 3), (9, 7)))
    3.0
    >>> distance_of_straights(((0, 0), (10, 0)), ((5, -1), (5, 1)))
    0.0
    """
    if _cross(first, second):
        return 0.0
    (a, b), (c, d) = first, second
    return min(_to_straight(a, c, d), _to_straight(b, c, d), _to_straight(c, a, b), _to_straight(d, a, b))


def rounded(point: Point) -> Point:
    """A point as the report writes it."""
    return (round(point[0], DIGITS), round(point[1], DIGITS))


def _to_straight(point: Point, a: Point, b: Point) -> float:
    dx, dy = b[0] - a[0], b[1] - a[1]
    square = dx * dx + dy * dy
    share = ((point[0] - a[0]) * dx + (point[1] - a[1]) * dy) / square if square else 0.0
    share = min(max(share, 0.0), 1.0)
    return hypot(point[0] - a[0] - share * dx, point[1] - a[1] - share * dy)


def _side(point: Point, a: Point, b: Point) -> float:
    return (b[0] - a[0]) * (point[1] - a[1]) - (b[1] - a[1]) * (point[0] - a[0])


def _cross(first: tuple[Point, Point], second: tuple[Point, Point]) -> bool:
    """Whether the straights cross properly; touching ends are left to the distances of the ends."""
    (a, b), (c, d) = first, second
    return _side(a, c, d) * _side(b, c, d) < 0 and _side(c, a, b) * _side(d, a, b) < 0
