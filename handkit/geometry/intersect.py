"""Where lines and arcs meet, exactly.

In: segments in mm. Out: points, or the first place where a row of segments touches or crosses itself.

Words: a segment's *carrier* is the unlimited line or the full circle it is a part of.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import hypot, sqrt

import msgspec

from handkit.geometry.affine import Point
from handkit.geometry.segment import Segment
from handkit.tolerances import COINCIDE, SAME_POINT


class Crossing(msgspec.Struct, frozen=True):
    """A place where two segments of a row meet that should not: their indices, and where."""

    first: int
    second: int
    at: Point


def carriers_meet(a: Segment, b: Segment) -> tuple[Point, ...]:
    """Where two segments' carriers meet: none, one or two points; none where they are the same.

    >>> carriers_meet(Segment((0, 0), (1, 0)), Segment((5, 1), (5, 2)))
    ((5.0, 0.0),)
    >>> carriers_meet(Segment((0, 0), (1, 0)), Segment((0, 1), (1, 1)))
    ()
    """
    if a.bulge and b.bulge:
        return _circles(a.centre, a.radius, b.centre, b.radius)
    if a.bulge:
        return _line_circle(b, a.centre, a.radius)
    if b.bulge:
        return _line_circle(a, b.centre, b.radius)
    return _lines(a, b)


def meet(a: Segment, b: Segment) -> tuple[Point, ...]:
    """The points two segments share, their ends included; of a shared stretch, its ends.

    >>> meet(Segment((0, 0), (4, 0)), Segment((2, 0), (9, 0)))
    ((4, 0), (2, 0))
    """
    crossing = (p for p in carriers_meet(a, b) if lies_on(p, a) and lies_on(p, b))
    touching = (p for p, other in ((a.start, b), (a.end, b), (b.start, a), (b.end, a)) if lies_on(p, other))
    return tuple(dict.fromkeys((*crossing, *touching)))


def lies_on(point: Point, segment: Segment) -> bool:
    """Whether a point lies on a segment, within rounding."""
    _, near = segment.nearest(point)
    return hypot(near[0] - point[0], near[1] - point[1]) <= SAME_POINT


def common_places(first: Sequence[Segment], second: Sequence[Segment]) -> list[tuple[int, int, Point]]:
    """Where segments of one row meet segments of another: both indices and the point, in order.

    >>> common_places([Segment((0, 0), (9, 0))], [Segment((2, 2), (2, -2)), Segment((5, 1), (5, 3))])
    [(0, 0, (2.0, 0.0))]
    """
    count = len(first)
    pairs = ((i, j - count) for i, j in _near_pairs([*first, *second]) if i < count <= j)
    return [(i, j, at) for i, j in sorted(pairs) for at in meet(first[i], second[j])]


def first_crossing(segments: Sequence[Segment], *, closed: bool) -> Crossing | None:
    """The first place where a row of joined segments touches or crosses itself, or None.

    Joints of neighbours are no crossings; that they lie within COINCIDE of the joint is enough,
    because a line and an arc that are tangent meet there in more than one point by rounding.

    >>> bow = [Segment((0, 0), (2, 2)), Segment((2, 2), (2, 0)), Segment((2, 0), (0, 2))]
    >>> first_crossing(bow, closed=False)
    Crossing(first=0, second=2, at=(1.0, 1.0))
    """
    for i, j in sorted(_near_pairs(segments)):
        joints = _joints(segments, i, j, closed=closed)
        for at in meet(segments[i], segments[j]):
            if not any(hypot(at[0] - joint[0], at[1] - joint[1]) <= COINCIDE for joint in joints):
                return Crossing(i, j, at)
    return None


def _joints(segments: Sequence[Segment], i: int, j: int, *, closed: bool) -> tuple[Point, ...]:
    """The ends that segments i < j share because they follow one another."""
    joints = []
    if j == i + 1:
        joints.append(segments[j].start)
    if closed and i == 0 and j == len(segments) - 1:
        joints.append(segments[0].start)
    return tuple(joints)


def _near_pairs(segments: Sequence[Segment]) -> Iterator[tuple[int, int]]:
    """Pairs i < j whose upright boxes touch, by a sweep from left to right."""
    boxes = [segment.bounds() for segment in segments]
    order = sorted(range(len(boxes)), key=lambda k: boxes[k][0])
    active: list[int] = []
    for j in order:
        left, low, _, high = boxes[j]
        active = [i for i in active if boxes[i][2] >= left - SAME_POINT]
        for i in active:
            if boxes[i][1] <= high + SAME_POINT and boxes[i][3] >= low - SAME_POINT:
                yield (i, j) if i < j else (j, i)
        active.append(j)


def _lines(a: Segment, b: Segment) -> tuple[Point, ...]:
    (ax, ay), (bx, by) = a.direction_at(0), b.direction_at(0)
    cross = ax * by - ay * bx
    if abs(cross) < 1e-12:
        return ()
    dx, dy = b.start[0] - a.start[0], b.start[1] - a.start[1]
    along = (dx * by - dy * bx) / cross
    return ((a.start[0] + ax * along, a.start[1] + ay * along),)


def _line_circle(line: Segment, centre: Point, radius: float) -> tuple[Point, ...]:
    ux, uy = line.direction_at(0)
    dx, dy = centre[0] - line.start[0], centre[1] - line.start[1]
    along, off = dx * ux + dy * uy, dx * uy - dy * ux
    if abs(off) > radius + SAME_POINT:
        return ()
    half = sqrt(max((radius - off) * (radius + off), 0.0))
    steps = (along - half, along + half) if half else (along,)
    return tuple((line.start[0] + ux * s, line.start[1] + uy * s) for s in steps)


def _circles(a: Point, ra: float, b: Point, rb: float) -> tuple[Point, ...]:
    dx, dy = b[0] - a[0], b[1] - a[1]
    apart = hypot(dx, dy)
    if apart <= SAME_POINT or apart > ra + rb + SAME_POINT or apart < abs(ra - rb) - SAME_POINT:
        return ()
    ux, uy = dx / apart, dy / apart
    along = (apart + (ra - rb) * (ra + rb) / apart) / 2
    half = sqrt(max((ra - along) * (ra + along), 0.0))
    mx, my = a[0] + ux * along, a[1] + uy * along
    sides = (half, -half) if half else (0.0,)
    return tuple((mx - uy * s, my + ux * s) for s in sides)
