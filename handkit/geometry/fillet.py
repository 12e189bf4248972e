"""Rounded corners: the arc of a given radius that touches both edges of a corner.

In: the two edges, lines or arcs, that meet in a corner, and the radius in mm. Out: the arc, and
how much of each edge it takes, or None where no such arc touches both.

The centre lies at the radius from both edges, on the side the corner turns to: where the edges'
parallels meet. That holds for lines and arcs alike, so there is one rule and no special cases.
"""

from __future__ import annotations

from math import radians, tan

import msgspec

from handkit.geometry.affine import Point
from handkit.geometry.intersect import carriers_meet
from handkit.geometry.joint import parallel_of
from handkit.geometry.path import SMOOTH_DEGREES, turn_degrees
from handkit.geometry.segment import Segment
from handkit.geometry.straight import angle_between, distance
from handkit.tolerances import SAME_POINT


class Fillet(msgspec.Struct, frozen=True):
    """A rounded corner. The edge before ends at `last` along it, the one after begins at `first`."""

    arc: Segment
    last: float
    first: float


def fillet(before: Segment, after: Segment, radius: float) -> Fillet | None:
    """The arc of this radius that touches both edges and lies within their lengths, or None.

    The corner must turn; the radius must be more than 0.

    >>> corner = Segment((9, 0), (0, 0)), Segment((0, 0), (0, 9))
    >>> found = fillet(*corner, 2)
    >>> found.arc.start, found.arc.end, found.last, found.first
    ((2.0, 0.0), (0.0, 2.0), 7.0, 2.0)
    >>> fillet(*corner, 10) is None
    True
    """
    turn = turn_degrees(before, after)
    by = radius if turn > 0 else -radius
    beside_before, beside_after = parallel_of(before, by), parallel_of(after, by)
    if beside_before is None or beside_after is None:
        return None
    if not before.bulge and not after.bulge:
        centre: Point | None = _centre_at_lines(before, after, by, turn)
    else:
        meetings = carriers_meet(beside_before, beside_after)
        centre = min(meetings, key=lambda at: distance(at, before.end), default=None)
    if centre is None:
        return None
    return _touching(before, after, centre, radius, turn)


def _centre_at_lines(before: Segment, after: Segment, by: float, turn: float) -> Point | None:
    """The centre for two lines, in closed form: exact where a meeting is ill-conditioned."""
    if abs(turn) > 180 - SMOOTH_DEGREES:
        return None
    back = abs(by) * tan(radians(abs(turn)) / 2)
    (dx, dy), (x, y) = before.direction_at(0), before.end
    return (x - dx * back - dy * by, y - dy * back + dx * by)


def _touching(before: Segment, after: Segment, centre: Point, radius: float, turn: float) -> Fillet | None:
    """The arc about a centre, where it touches both edges within their lengths."""
    last, first = before.along_of(centre), after.along_of(centre)
    start, end = before.point_at(last), after.point_at(first)
    off = max(abs(distance(centre, point) - radius) for point in (start, end))
    chord = distance(start, end)
    if off > SAME_POINT or chord <= SAME_POINT:
        return None
    sweep = angle_between(before.direction_at(last), after.direction_at(first))
    if sweep * turn < 0:
        return None
    return Fillet(Segment(start, end, tan(sweep / 4)), last, first)


def fillet_fits(length: float, first: Fillet | None, last: Fillet | None) -> bool:
    """Whether the rounded corners at both ends of an edge leave it a length of 0 or more."""
    begins = first.first if first else 0.0
    ends = last.last if last else length
    return ends - begins >= -SAME_POINT
