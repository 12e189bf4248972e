"""Straight lines between two points: length, direction, sides, and how near something comes to one.

In: points in one frame, mm; the two ends of a line may be one point. Out: distances, directions,
the nearest point.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import atan2, hypot

from handkit.geometry.affine import Affine, Point

Straight = tuple[Point, Point]


def distance(a: Point, b: Point) -> float:
    """Straight distance between two points."""
    return hypot(b[0] - a[0], b[1] - a[1])


def vector(start: Point, end: Point) -> Point:
    """The way from one point to another."""
    return (end[0] - start[0], end[1] - start[1])


def unit(start: Point, end: Point) -> Point:
    """The direction from one point to another, of length 1. Raises ZeroDivisionError where they
    are one.

    >>> unit((1, 1), (1, 4))
    (0.0, 1.0)
    """
    length = distance(start, end)
    return ((end[0] - start[0]) / length, (end[1] - start[1]) / length)


def middle_of(line: Straight) -> Point:
    """The point half-way along a line.

    >>> middle_of(((0, 0), (3, 4)))
    (1.5, 2.0)
    """
    (ax, ay), (bx, by) = line
    return ((ax + bx) / 2, (ay + by) / 2)


def side_of(point: Point, line: Straight) -> float:
    """On which side of a line, drawn on both ways, a point lies: positive left of the way from its
    start to its end, 0 on it. Twice the area of the triangle, mm².

    >>> side_of((1, 2), ((0, 0), (3, 0))), side_of((1, -2), ((0, 0), (3, 0)))
    (6, -6)
    """
    (ax, ay), (bx, by) = line
    return (bx - ax) * (point[1] - ay) - (by - ay) * (point[0] - ax)


def off_line(point: Point, line: Straight) -> float:
    """How far a point lies left of a line, drawn on both ways; negative right of it. Raises
    ZeroDivisionError where the line's ends are one.

    >>> off_line((1, 2), ((0, 0), (0, 5)))
    -1.0
    """
    return side_of(point, line) / distance(*line)


def mirrored_in(line: Straight) -> Affine:
    """The map to the mirror image in a line, drawn on both ways. Raises ZeroDivisionError where its ends
    are one.

    >>> mirrored_in(((5, 0), (5, 2))).apply((3, 1))
    (7.0, 1.0)
    """
    (x, y), (ux, uy) = line[0], unit(*line)
    across, both = uy * uy - ux * ux, 2 * ux * uy
    return Affine.shift(x, y) @ Affine(-across, both, both, across) @ Affine.shift(-x, -y)


def angle_between(a: Point, b: Point) -> float:
    """The angle from one direction to another in radians, −π to π, left positive.

    >>> angle_between((1, 0), (3, 0)), round(angle_between((1, 0), (0, 2)), 4)
    (0.0, 1.5708)
    """
    return atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1])


def foot_on(point: Point, line: Straight) -> Point:
    """The point of a line that is nearest to another.

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
    """Distance from a point to a line.

    >>> point_to_line((5, 3), ((0, 0), (1, 0)))
    5.0
    """
    x, y = foot_on(point, line)
    return hypot(x - point[0], y - point[1])


def fewer_corners(chain: Sequence[Point], off: float) -> tuple[Point, ...]:
    """A chain that turns left at every corner, drawn round on the outside with fewer: of some of its lines
    only, made longer until they meet, where they meet no farther than `off` from it.

    >>> chamfered = [(0, 0), (4, 0), (5, 1), (5, 4)]
    >>> fewer_corners(chamfered, 1), len(fewer_corners(chamfered, 0.5))
    (((0, 0), (5.0, 0.0), (5, 4)), 4)
    """
    lines = list(pairwise(chain))
    kept, k = [chain[0]], 0
    while k < len(lines) - 1:
        follows, corner = k + 1, lines[k][1]
        for last in range(k + 2, len(lines)):
            at = _meeting(lines[k], lines[last])
            if at is None or min(point_to_line(at, each) for each in lines[k : last + 1]) > off:
                break
            follows, corner = last, at
        kept.append(corner)
        k = follows
    return (*kept, chain[-1])


def _meeting(one: Straight, other: Straight) -> Point | None:
    """Where two lines cross when they are made longer, the second to the left of the first by up to 120°."""
    (ux, uy), (vx, vy) = unit(*one), unit(*other)
    turn = ux * vy - uy * vx
    if turn <= 0 or ux * vx + uy * vy < -0.5:
        return None
    dx, dy = other[0][0] - one[1][0], other[0][1] - one[1][1]
    along = (dx * vy - dy * vx) / turn
    return (one[1][0] + along * ux, one[1][1] + along * uy)


def line_to_line(one: Straight, other: Straight) -> float:
    """Least distance between two lines, either of which may be a point; 0 where they cross.

    >>> line_to_line(((0, 0), (4, 4)), ((0, 4), (4, 0))), line_to_line(((0, 0), (10, 0)), ((5, 3), (9, 7)))
    (0.0, 3.0)
    """
    if _parts(one, other) and _parts(other, one):
        return 0.0
    return min(
        *(point_to_line(end, other) for end in one),
        *(point_to_line(end, one) for end in other),
    )


def _parts(line: Straight, ends: Straight) -> bool:
    """Whether a line, drawn on both ways, has the ends of another on either side."""
    return side_of(ends[0], line) * side_of(ends[1], line) < 0
