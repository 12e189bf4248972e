"""A keep-out: a place of a piece where there will be no material, as a cut line has to see it.

In: straights in the piece's frame. Out: distances, and whether a cut line runs through a keep-out.
Coordinates are rounded to a thousandth of a mm as the report writes them, so that whoever counts
joins through holes from the report counts the same. All mm.

Words: *keep-out*, a stitch hole or an opening; its *edge* is where the material begins.
"""

from __future__ import annotations

from handkit.geometry.affine import Point
from handkit.geometry.capsule import Capsule
from handkit.geometry.straight import line_to_line
from handkit.tolerances import JOIN_CLEARANCE

DIGITS = 3  # what the report writes


def runs_through(cut_line: tuple[Point, Point], keep_outs: tuple[Capsule, ...]) -> bool:
    """Whether a cut line comes nearer than `tolerances.JOIN_CLEARANCE` to the edge of any keep-out.

    The cut line is rounded first, as the report writes it; so is the distance, to 1e-6 mm.

    >>> hole = Capsule((10.0, 4.0), (10.0, 4.0), 0.8)
    >>> runs_through(((0, 0.2), (20, 0.2)), (hole,)), runs_through(((0, 0.201), (20, 0.201)), (hole,))
    (False, True)
    """
    line = (rounded(cut_line[0]), rounded(cut_line[1]))
    (ax, ay), (bx, by) = line
    left, right, bottom, top = min(ax, bx), max(ax, bx), min(ay, by), max(ay, by)
    for keep_out in keep_outs:
        reach = keep_out.radius + JOIN_CLEARANCE
        (cx, cy), (dx, dy) = keep_out.start, keep_out.end
        far = (
            (cx - reach > right and dx - reach > right)
            or (cx + reach < left and dx + reach < left)
            or (cy - reach > top and dy - reach > top)
            or (cy + reach < bottom and dy + reach < bottom)
        )
        if not far and round(clearance(line, keep_out), 6) < JOIN_CLEARANCE:
            return True
    return False


def clearance(line: tuple[Point, Point], keep_out: Capsule) -> float:
    """Distance from a straight line's nearest place to a keep-out's edge; negative inside it."""
    return line_to_line(line, (keep_out.start, keep_out.end)) - keep_out.radius


def rounded(point: Point) -> Point:
    """A point as the report writes it."""
    return (round(point[0], DIGITS), round(point[1], DIGITS))
