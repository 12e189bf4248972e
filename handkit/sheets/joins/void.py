"""A void: a place of a piece where there will be no material, as a cut line has to see it.

In: straights in the piece's frame. Out: distances, and whether a cut line runs through a void.
Coordinates are rounded to a thousandth of a mm as the report writes them, so that whoever counts
joins through holes from the report counts the same. All mm.

Words: *void*, a stitch hole or an opening; its *edge* is where the material begins.
"""

from __future__ import annotations

import msgspec

from handkit.geometry.affine import Affine, Point
from handkit.geometry.straight import line_to_line
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
    return line_to_line(line, (void.start, void.end)) - void.radius


def rounded(point: Point) -> Point:
    """A point as the report writes it."""
    return (round(point[0], DIGITS), round(point[1], DIGITS))
