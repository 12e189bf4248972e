"""Joins that run through holes, counted from cut lines and holes alone.

In: straight cut lines and round holes in one frame. Out: how many of the lines come nearer than
3 mm to a hole's edge. All mm. Nothing of handkit is used.
"""

from __future__ import annotations

from collections.abc import Iterable

import shapely
from layout_case import Drawing, Line

CLEARANCE = 3.0
DIGITS = 6  # rounding noise


def through(lines: Iterable[Line], drawing: Drawing) -> int:
    """How many lines run through a drawing's holes.

    >>> holed = Drawing("tag", ((0, 0), (40, 0), (40, 20), (0, 20)), ((10, 10, 4),))
    >>> through([((5, 0), (5, 20)), ((5.1, 0), (5.1, 20)), ((10, 0), (10, 20))], holed)
    2
    """
    holes = [(shapely.Point(x, y), d / 2) for x, y, d in drawing.holes]
    return sum(
        any(round(shapely.LineString(line).distance(at) - r, DIGITS) < CLEARANCE for at, r in holes)
        for line in lines
    )
