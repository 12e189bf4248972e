"""Straight bits: how near a point or another bit comes to one.

In: points in one frame, mm; a bit's two ends may be one point. Out: distances, the nearest point.
"""

from __future__ import annotations

from math import hypot

from handkit.geometry.affine import Point

Straight = tuple[Point, Point]


def foot_on(point: Point, line: Straight) -> Point:
    """The point of a straight bit that is nearest to another.

    >>> foot_on((5, 3), ((0, 0), (1, 0))), foot_on((5, 3), ((0, 0), (0, 0)))
    ((1.0, 0.0), (0.0, 0.0))
    """
    (x0, y0), (x1, y1) = line
    dx, dy = x1 - x0, y1 - y0
    square = dx * dx + dy * dy
    share = ((point[0] - x0) * dx + (point[1] - y0) * dy) / square if square else 0.0
    share = min(max(share, 0.0), 1.0)
    return (x0 + share * dx, y0 + share * dy)


def point_to_line(point: Point, line: Straight) -> float:
    """Distance from a point to a straight bit.

    >>> point_to_line((5, 3), ((0, 0), (1, 0)))
    5.0
    """
    x, y = foot_on(point, line)
    return hypot(x - point[0], y - point[1])


def line_to_line(one: Straight, other: Straight) -> float:
    """Least distance between two straight bits; 0 where they cross.

    >>> line_to_line(((0, 0), (4, 4)), ((0, 4), (4, 0)))
    0.0
    """
    if _parts(one, other) and _parts(other, one):
        return 0.0
    return min(
        *(point_to_line(end, other) for end in one),
        *(point_to_line(end, one) for end in other),
    )


def _parts(line: Straight, ends: Straight) -> bool:
    """Whether a line, drawn on both ways, has the ends of another on either side."""
    (x, y), (x1, y1) = line
    dx, dy = x1 - x, y1 - y
    first, last = (dx * (py - y) - dy * (px - x) for px, py in ends)
    return first * last < 0
