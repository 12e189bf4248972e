"""Parallels: the exact line at a distance beside lines and arcs, as stitch and cut lines need it.

In: segments end to start in mm, and for each its distance, positive to the left of travel.
Out: the parallel as segments that know which segment they run beside, or None where there is none:
where it would cross itself, where neighbours do not meet, where nothing is left.

    turn towards the parallel:          turn away from it:
        they meet in a sharp corner         an arc about the corner joins them

          |      |                           .-----------
          |      '-------                   /  .---------
          '--------------                  |  |

A left arc whose radius is not larger than the distance vanishes, and its neighbours meet; so does
a segment that shrinks to nothing between two corners, or a curve drawn as arcs and as many short
lines would be treated unlike. What is left is held to its promise (nothing nearer to the segments
than the distance), never mended. Chosen over buffers of flattened outlines, which are off by the
flattening and forget which edge is which.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import tan

import msgspec

from handkit.geometry.affine import Point
from handkit.geometry.intersect import first_crossing
from handkit.geometry.joint import Joint, Outer, UntrimmedOffset, joint_of, parallel_of
from handkit.geometry.path import SMOOTH_DEGREES, turn_degrees
from handkit.geometry.segment import Segment
from handkit.geometry.straight import angle_between, distance, vector
from handkit.tolerances import SAME_POINT


class OffsetSegment(msgspec.Struct, frozen=True):
    """A segment of a parallel. `source` is the index of the segment it runs beside.

    A `joint` is what joins two others at a corner; its source is that of the segment after it.
    """

    segment: Segment
    source: int
    joint: bool = False


def parallel_ring(
    ring: Sequence[Segment], by: Sequence[float], *, outer: Outer = Outer.ROUND
) -> tuple[OffsetSegment, ...] | None:
    """The parallel of a closed row of segments, beginning where the first one begins.

    `by` has one distance per segment; where it jumps, the segments meet or a straight step joins them.
    """
    items = _items(ring, by, first=0)
    if not _vanish_cleanly([ring[-1], *ring, ring[0]], [by[-1], *by, by[0]]):
        return None
    return _fitted(items, list(zip(ring, by, strict=True)), outer=outer, closed=True)


def parallel_run(
    run: Sequence[Segment], by: float, *, before: Sequence[Segment] = (), after: Sequence[Segment] = ()
) -> tuple[OffsetSegment, ...] | None:
    """The parallel of an open row of segments, `by` to the left.

    `before` and `after` are what comes before and after the run on its outline: the parallel ends
    where theirs would cross it. Where it is given and leaves no parallel, the answer is None.
    Sources count from the run's first segment.
    """
    items = _items(run, [by] * len(run), first=0)
    ahead = [
        msgspec.structs.replace(i, guide=True)
        for i in _items(before, [by] * len(before), first=-len(before))[-1:]
    ]
    behind = [
        msgspec.structs.replace(i, guide=True) for i in _items(after, [by] * len(after), first=len(run))[:1]
    ]
    if (before and not ahead) or (after and not behind):
        return None
    near = [*before, *run, *after]
    first = ahead[0].source if ahead else 0
    last = behind[0].source if behind else len(run) - 1
    near = near[len(before) + first : len(before) + last + 1]
    if not _vanish_cleanly(near, [by] * len(near)):
        return None
    beside = [(segment, by) for segment in run]
    return _fitted([*ahead, *items, *behind], beside, outer=Outer.ROUND, closed=False)


def stations_before(offsets: Sequence[OffsetSegment], sources: Iterable[int]) -> tuple[float, ...]:
    """How far along a parallel the corners before some segments are, `sources` rising; the middle of a
    joint there.

    >>> corner = [Segment((0, 0), (9, 0)), Segment((9, 0), (9, 9))]
    >>> stations_before(parallel_run(corner, 2.0) or (), [1])
    (7.0,)
    """
    found: list[float] = []
    along, ahead = 0.0, iter((*offsets, None))
    offset = next(ahead)
    for source in sources:
        while offset is not None and offset.source < source:
            along += offset.segment.length
            offset = next(ahead)
        on_joint = offset is not None and offset.joint and offset.source == source
        found.append(along + offset.segment.length / 2 if offset is not None and on_joint else along)
    return tuple(found)


def _vanish_cleanly(row: Sequence[Segment], by: Sequence[float]) -> bool:
    """Whether each arc that vanishes inside a row has no corner beside it that turns away.

    Round such a corner the parallel is an arc of its own, and not the neighbours would meet.
    """
    return all(
        parallel_of(row[k], by[k]) is not None
        or all(turn_degrees(*pair) * by[k] >= -SMOOTH_DEGREES for pair in pairwise(row[k - 1 : k + 2]))
        for k in range(1, len(row) - 1)
    )


def _items(segments: Sequence[Segment], by: Sequence[float], *, first: int) -> list[UntrimmedOffset]:
    """The parallels that exist, each with its source."""
    return [
        UntrimmedOffset(index, segment, distant, raw)
        for index, (segment, distant) in enumerate(zip(segments, by, strict=True), start=first)
        if (raw := parallel_of(segment, distant)) is not None
    ]


def _fitted(
    items: list[UntrimmedOffset], beside: list[tuple[Segment, float]], *, outer: Outer, closed: bool
) -> tuple[OffsetSegment, ...] | None:
    """Let neighbours meet; drop what shrinks to nothing; hold the rest to its promise."""
    while sum(not item.guide for item in items) > (1 if closed else 0):
        joints = _joints(items, outer=outer, closed=closed)
        if joints is None:
            return None
        trimmed = [_trimmed(items[k], *_ends(joints, items, k, closed=closed)) for k in range(len(items))]
        lost = _most_reversed(items, trimmed, joints, closed=closed)
        if lost is None:
            offsets = _offsets(items, [t[0] for t in trimmed], joints)
            return offsets if _keeps_its_promise(offsets, beside, closed=closed) else None
        if lost < 0:
            return None
        items = items[:lost] + items[lost + 1 :]
    return None


def _joints(items: list[UntrimmedOffset], *, outer: Outer, closed: bool) -> list[Joint] | None:
    """The joint after each item (the last one's leads to the first where closed)."""
    pairs = list(pairwise([*items, items[0]] if closed else items))
    joints: list[Joint] = []
    for before, after in pairs:
        joint = joint_of(before, after, outer=outer)
        if joint is None:
            return None
        joints.append(joint)
    return joints


def _ends(joints: list[Joint], items: list[UntrimmedOffset], k: int, *, closed: bool) -> tuple[Point, Point]:
    """Where item k begins and ends; the free ends of an open row stay where they are."""
    start = joints[k - 1].start if k or closed else items[k].raw.start
    end = joints[k].end if k < len(joints) else items[k].raw.end
    return start, end


def _trimmed(item: UntrimmedOffset, start: Point, end: Point) -> tuple[Segment, float]:
    """The item's parallel from start to end, and its length, negative where it runs backwards."""
    raw = item.raw
    if (start, end) == (raw.start, raw.end):
        return raw, raw.length
    if not raw.bulge:
        ux, uy = raw.direction_at(0)
        return Segment(start, end), (end[0] - start[0]) * ux + (end[1] - start[1]) * uy
    centre, middle = raw.centre, raw.point_at(raw.length / 2)
    way = 1 if raw.bulge > 0 else -1
    out, ends = vector(centre, middle), (vector(centre, start), vector(centre, end))
    sweep = way * (angle_between(out, ends[1]) - angle_between(out, ends[0]))
    return Segment(start, end, tan(way * sweep / 4)), sweep * raw.radius


def _most_reversed(
    items: list[UntrimmedOffset], trimmed: list[tuple[Segment, float]], joints: list[Joint], *, closed: bool
) -> int | None:
    """Which item shrinks to nothing: None for none, −1 where one does that can't be spared."""
    gone = [k for k, (_, length) in enumerate(trimmed) if length <= SAME_POINT and not items[k].guide]
    if not gone:
        return None
    lost = min(gone, key=lambda k: (round(trimmed[k][1], 9), k))
    if not closed and not 0 < lost < len(items) - 1:
        return -1
    bridged = joints[lost - 1].bridge is not None or joints[lost].bridge is not None
    return -1 if bridged else lost


def _offsets(
    items: list[UntrimmedOffset], segments: list[Segment], joints: list[Joint]
) -> tuple[OffsetSegment, ...]:
    """What is left, in order, with the bridges between."""
    offsets: list[OffsetSegment] = []
    for k, (item, segment) in enumerate(zip(items, segments, strict=True)):
        if item.guide:
            continue
        offsets.append(OffsetSegment(segment, item.source))
        bridge = joints[k].bridge if k < len(joints) else None
        after = items[(k + 1) % len(items)]
        if bridge is not None and not after.guide:
            offsets.append(OffsetSegment(bridge, after.source, joint=True))
    return tuple(offsets)


def _keeps_its_promise(
    offsets: tuple[OffsetSegment, ...], beside: list[tuple[Segment, float]], *, closed: bool
) -> bool:
    """Whether the segments cross nowhere and, where some vanished, still are far enough from all."""
    row = [offset.segment for offset in offsets]
    if first_crossing(row, closed=closed) is not None:
        return False
    if sum(not offset.joint for offset in offsets) == len(beside):
        return True
    points = [
        point for offset in row for point in (offset.start, offset.point_at(offset.length / 2), offset.end)
    ]
    return all(
        distance(segment.point_at(segment.along_of(point)), point) >= abs(by) - SAME_POINT
        for segment, by in beside
        for point in points
    )
