"""End rows: how the end of a strip is held, by stitches in a U or by rivets in line.

In: the strip's width, the seam's inset and pitch, its corners' radius. Out: where the row's holes lie, how
long the end is. All mm, in a frame with the strip's corner at its origin and its length along y.

    │         │   A row straight across a strip under pull tears there: a U is open towards what pulls,
    │ ·     · │   and rivets stand in line.
    │ ·     · │
    │ ·  ·  · │
    └─────────┘
"""

from __future__ import annotations

from itertools import pairwise
from math import pi, tan

from handkit.geometry.affine import Point
from handkit.geometry.segment import Segment
from handkit.geometry.straight import distance
from handkit.read.project import Stitching
from handkit.tolerances import SAGITTA, SAME_POINT

# How many stitches deep a U is at least: with fewer it is as good as a row straight across (common practice,
# no source).
LEAST_STITCHES = 3


def u_depth(width: float, stitching: Stitching) -> float:
    """How deep a U is: a whole number of stitches, as near as may be to half of the strip's width.

    >>> from types import SimpleNamespace
    >>> u_depth(36, SimpleNamespace(pitch=4.0)), u_depth(16, SimpleNamespace(pitch=4.0))
    (16.0, 12.0)
    """
    return stitching.pitch * max(LEAST_STITCHES, int(width / 2 / stitching.pitch))


def u_row(width: float, inset: float, depth: float, radius: float) -> tuple[Point, ...]:
    """Down, across and up again, `inset` inside the edges; round corners of the strip are followed.

    >>> u_row(36, 4, 16, 0)
    ((4, 20), (4, 4), (32, 4), (32, 20))
    """
    r = max(radius - inset, 0.0)
    left, right, low, top = inset, width - inset, inset, inset + depth
    if r <= SAME_POINT:
        return ((left, top), (left, low), (right, low), (right, top))
    quarter = tan(pi / 8)
    first = Segment((left, low + r), (left + r, low), quarter).flattened(sagitta=SAGITTA)
    second = Segment((right - r, low), (right, low + r), quarter).flattened(sagitta=SAGITTA)
    points = ((left, top), *first, *second, (right, top))
    return (points[0], *(b for a, b in pairwise(points) if distance(a, b) > SAME_POINT))


def mirrored_up(row: tuple[Point, ...], length: float) -> tuple[Point, ...]:
    """The same at a strip's other end."""
    return tuple((x, length - y) for x, y in row)
