"""Joints: how the parallels of neighbours on a line give over to one another.

In: two neighbours, each a segment with its parallel. Out: where one ends and the other begins, and
what bridges them; see `offset.py` for the words and the picture.
"""

from __future__ import annotations

from enum import Enum
from math import radians, tan

import msgspec

from handkit.geometry.affine import Point
from handkit.geometry.intersect import carriers_meet
from handkit.geometry.path import turn_degrees
from handkit.geometry.segment import Segment
from handkit.geometry.straight import distance
from handkit.tolerances import SAME_POINT

# A sharp corner on the outer side reaches no farther from the corner than this many distances.
_MITRE_LIMIT = 2.5


class Outer(Enum):
    """How segments are joined where the line turns away from its parallel."""

    ROUND = "round"  # every place is exactly the distance away
    SHARP = "sharp"  # prolonged until they meet, for the knife


class UntrimmedOffset(msgspec.Struct, frozen=True):
    """A segment's parallel before it meets its neighbours; a guide only helps to end one."""

    source: int
    origin: Segment
    by: float
    raw: Segment
    guide: bool = False


class Joint(msgspec.Struct, frozen=True):
    """Where one item gives over to the next: they end and start here, `bridge` between them."""

    end: Point
    start: Point
    bridge: Segment | None = None


def parallel_of(segment: Segment, by: float) -> Segment | None:
    """One segment's parallel, `by` to the left; None for an arc that shrinks to nothing.

    >>> parallel_of(Segment((0, 0), (10, 0)), 2)
    Segment(start=(0.0, 2.0), end=(10.0, 2.0), bulge=0.0)
    """
    if segment.bulge:
        inward = by if segment.bulge > 0 else -by
        if segment.radius - inward <= SAME_POINT:
            return None
    start, end = (
        (point[0] - direction[1] * by, point[1] + direction[0] * by)
        for point, direction in (
            (segment.start, segment.direction_at(0.0)),
            (segment.end, segment.direction_at(segment.length)),
        )
    )
    return Segment(start, end, segment.bulge)


def joint_of(before: UntrimmedOffset, after: UntrimmedOffset, *, outer: Outer) -> Joint | None:
    """How two neighbours join; None where they should meet and do not."""
    p, q = before.raw, after.raw
    adjacent = distance(before.origin.end, after.origin.start) <= SAME_POINT
    if distance(p.end, q.start) <= SAME_POINT:
        return Joint(q.start, q.start)
    corner = (
        (before.origin.end[0] + after.origin.start[0]) / 2,
        (before.origin.end[1] + after.origin.start[1]) / 2,
    )
    meeting = min(carriers_meet(p, q), key=lambda at: distance(at, corner), default=None)
    if adjacent and before.by != after.by:
        return _step(before, after, corner, meeting)
    turn = turn_degrees(before.origin, after.origin)
    if adjacent and turn * before.by < 0:
        reach = _MITRE_LIMIT * abs(before.by)
        if outer is Outer.ROUND or meeting is None or distance(meeting, corner) > reach:
            return Joint(p.end, q.start, Segment(p.end, q.start, tan(radians(turn) / 4)))
    return Joint(meeting, meeting) if meeting is not None else None


def _step(before: UntrimmedOffset, after: UntrimmedOffset, corner: Point, meeting: Point | None) -> Joint:
    """Where the distance jumps: they meet nearby, or a straight step leads over."""
    reach = _MITRE_LIMIT * max(abs(before.by), abs(after.by))
    if meeting is not None and distance(meeting, corner) <= reach:
        return Joint(meeting, meeting)
    end, start = before.raw.end, after.raw.start
    return Joint(end, start, Segment(end, start))
