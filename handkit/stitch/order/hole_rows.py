"""Rows of holes: whether holes stand in one row, and what area they hold down.

In: the runs of holes by which one piece is held to another, in one frame, mm. Out: yes or no, or
a region.

    one row            not one row              not one row
    · · · · · · ·      · · · · · · ·            ·           ·
                       (between: held down)     ·           ·   a single run that turns
                       · · · · · · ·            · · · · · · ·

What is held in one row folds back like a flap and holds nothing down. Two rows, or one that
turns, hold down what lies between them: their convex hull. Chosen over all that the upper piece
covers, because a strap sewn down by a box at one end is free at the other.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate, pairwise
from math import atan2, degrees

from handkit.geometry.affine import Point
from handkit.geometry.polygon import hull, sides
from handkit.geometry.region import Region, hull_of
from handkit.geometry.straight import distance, off_line
from handkit.tolerances import CORNER_TURN_DEGREES, SAME_POINT

HoleRow = tuple[Point, ...]

# Holes on the rim of a held area may belong to a neighbour that shares the rim, mm.
RIM = 0.5


def one_row(runs: Sequence[HoleRow], *, pitch: float) -> bool:
    """Whether holes stand in one row: a run that hardly turns, or several in line within a pitch.

    >>> one_row([((0, 0), (4, 0), (8, 0))], pitch=4), one_row([((0, 0), (4, 0), (4, 4))], pitch=4)
    (True, False)
    >>> one_row([((0, 0), (4, 0)), ((20, 1), (24, 1))], pitch=4)  # one row with a gap
    True
    >>> one_row([((0, 0), (40, 0)), ((0, 10), (40, 10))], pitch=4)
    False
    """
    if len(runs) == 1:
        return _turning(runs[0]) <= CORNER_TURN_DEGREES
    return breadth([point for run in runs for point in run]) <= pitch


def breadth(points: Sequence[Point]) -> float:
    """The least width of points: how far apart the two parallel lines are that just hold them.

    One of the lines lies on an edge of the hull.

    >>> breadth([(0, 0), (6, 0), (6, 2), (3, 1), (0, 2)])
    2.0
    >>> breadth([(0, 0), (3, 3), (9, 9)])
    0.0
    """
    ring = hull(points)
    edges = [(a, b) for a, b in sides(ring) if distance(a, b) > SAME_POINT]
    widths = (max(off_line(point, (a, b)) for point in ring) for a, b in edges)
    return min(widths, default=0.0)


def held_area(runs: Sequence[HoleRow], *, within: Region) -> Region:
    """What runs hold down of the area `within`: their hull less its rim.

    A neighbour's run along the rim is not held.
    """
    return hull_of(point for run in runs for point in run).grown(-RIM).common(within)


def rim_area(runs: Sequence[HoleRow], *, within: Region, reach: float) -> Region:
    """What lies close to the seams as well, such as a mouth's hem: the hull and `reach` past it.

    No more than half the hull's breadth, so that a narrow hull stays narrow.
    """
    points = [point for run in runs for point in run]
    return hull_of(points).grown(min(reach, breadth(points) / 2)).common(within)


def _turning(run: HoleRow) -> float:
    """How far the direction swings from hole to hole, in degrees, over the whole run."""
    steps = [(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(run) if distance(a, b) > SAME_POINT]
    turns = (degrees(atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1])) for a, b in pairwise(steps))
    headings = list(accumulate(turns, initial=0.0))
    return max(headings) - min(headings)
