"""Matching: which of the segments that are expected are drawn, and what is drawn besides.

In: expected lines and arcs, drawn lines and cubics, all on one page, mm. Out: `Agreement`.

A drawn line is an expected one if both ends agree, either way round. A drawn cubic is part of an expected
arc if its ends and its middle lie on it; bits add up to the whole. In a kit that is as it was written the
next drawn segment is the next expected one, or goes on with the same; elsewhere it is looked for, as often
as makes sense for a file that is refused anyway.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from math import dist, pi

import msgspec

from handkit.geometry.affine import Point
from handkit.geometry.segment import Segment
from handkit.geometry.straight import angle_between
from handkit.proof.content.objects import Allowance
from handkit.proof.content.paths import PathSegment
from handkit.tolerances import AS_LISTED

# How far the bits of an arc may fall short of it or overlap, all together, in mm.
ENOUGH = 3 * AS_LISTED

# Shorter than this nothing is drawn or missed.
NOTHING = 0.001

# So many segments under one name, by so many looks in a whole file, are looked for among all; others count as
# strange at once.
MOST_SOUGHT = 200
MOST_LOOKS = 3_000_000


class Agreement(msgspec.Struct, frozen=True):
    """Places of expected segments that are not drawn, or not whole; drawn segments that are none of them;
    drawn segments that were drawn before."""

    missing: tuple[int, ...]
    strange: tuple[PathSegment, ...]
    again: tuple[PathSegment, ...]


class _Wanted(msgspec.Struct):
    """An expected line, arc, or both halves of a circle, whose ends a bit may cross; how much of it is drawn
    so far, and of that `early`, in a circle's first half. `sweep` is what it turns by, in radians, positive
    to the left; `last` its last half's place."""

    start: Point
    end: Point
    length: float
    last: int
    sweep: float = 0.0
    centre: Point = (0.0, 0.0)
    radius: float = 0.0
    drawn: float = 0.0
    early: float = 0.0

    def lacks(self) -> tuple[bool, bool]:
        """Whether so much of a circle's halves is missing that it shows: a window may show one half alone, so
        that the other is not asked for. Of a line or an arc either says so."""
        if self.drawn >= self.length - min(ENOUGH, self.length / 2):
            return False, False
        half = self.length / 2 - min(ENOUGH, self.length / 2) / 2
        return self.early < half, self.drawn - self.early < half


def matched(expected: Sequence[Segment], drawn: Iterable[PathSegment], looks: Allowance) -> Agreement:
    """Every drawn segment given to an expected one that it is or is part of, as far as that goes."""
    wanted = _wanted(expected)
    strange: list[PathSegment] = []
    again: list[PathSegment] = []
    here = 0
    for segment in drawn:
        sought = len(strange) + len(again) < MOST_SOUGHT
        found, seen = None, False
        for k in _places(here, len(wanted), looks if sought else None):
            covered = _covered(wanted[k], segment)
            if covered is None:
                continue
            seen = True
            if wanted[k].drawn + covered <= wanted[k].length + ENOUGH:
                found = k
                wanted[k].drawn += covered
                wanted[k].early += covered * _is_early(wanted[k], segment)
                break
        if found is not None:
            here = found
        elif seen:
            again.append(segment)
        elif _length(segment) > NOTHING:
            strange.append(segment)
    missing: list[int] = []
    first = 0
    for one in wanted:
        early, late = one.lacks()
        halves = (early, late) if one.last > first else (early or late,)
        missing += [first + k for k, lacks in enumerate(halves) if lacks]
        first = one.last + 1
    return Agreement(tuple(missing), tuple(strange), tuple(again))


def off_by(segments: Iterable[PathSegment], expected: Sequence[Segment]) -> float:
    """How far the farthest end of some drawn segments lies from all that is expected, mm; 0 where nothing
    is."""
    if not expected:
        return 0.0
    return max(
        min(dist(point, one.nearest(point)[1]) for one in expected)
        for segment in segments
        for point in (segment[0], segment[-1])
    )


def _places(here: int, count: int, looks: Allowance | None) -> Iterator[int]:
    """Places in the order in which it pays to look: here, the next ones, all."""
    yield from range(here, min(here + 3, count))
    if looks is not None and looks.take(count):
        yield from range(min(here + 3, count), count)
        yield from range(here)


def _wanted(expected: Sequence[Segment]) -> list[_Wanted]:
    wanted: list[_Wanted] = []
    for k, segment in enumerate(expected):
        if not segment.bulge:
            wanted.append(_Wanted(segment.start, segment.end, segment.length, k))
            continue
        arc = _Wanted(
            segment.start, segment.end, segment.length, k, segment.sweep, segment.centre, segment.radius
        )
        before = wanted[-1] if wanted else None
        if before is not None and _makes_a_circle(before, arc):
            before.end, before.last = arc.end, k
            before.sweep += arc.sweep
            before.length += arc.length
        else:
            wanted.append(arc)
    return wanted


def _makes_a_circle(before: _Wanted, arc: _Wanted) -> bool:
    """Whether an arc is the other half of the one before."""
    return (
        before.sweep * arc.sweep > 0
        and dist(before.end, arc.start) <= NOTHING
        and dist(before.start, arc.end) <= NOTHING
        and dist(before.centre, arc.centre) <= NOTHING
    )


def _covered(wanted: _Wanted, drawn: PathSegment) -> float | None:
    """How much of what is expected a drawn segment covers; None where it is no part of it."""
    first, last = drawn[0], drawn[-1]
    if len(drawn) == 2:
        if wanted.sweep:
            return None
        here, there = wanted.start, wanted.end
        same = _near(first, here) and _near(last, there)
        return wanted.length if same or (_near(first, there) and _near(last, here)) else None
    if not wanted.sweep:
        return None
    points = (first, _middle(drawn), last)
    if any(abs(dist(point, wanted.centre) - wanted.radius) > AS_LISTED for point in points):
        return None
    return _arc_length(wanted, points)


def _arc_length(wanted: _Wanted, points: Sequence[Point]) -> float | None:
    """Along an arc through three points on its circle; None where one lies off its ends."""
    cx, cy = wanted.centre
    spokes = [(x - cx, y - cy) for x, y in points]
    slack = 2 * AS_LISTED / wanted.radius
    if abs(wanted.sweep) < 2 * pi - slack:
        start, sign = (wanted.start[0] - cx, wanted.start[1] - cy), 1.0 if wanted.sweep > 0 else -1.0
        alongs = (angle_between(start, spoke) * sign % (2 * pi) for spoke in spokes)
        if any(abs(wanted.sweep) + slack < along < 2 * pi - slack for along in alongs):
            return None
    turn = angle_between(spokes[0], spokes[1]) + angle_between(spokes[1], spokes[2])
    return abs(turn) * wanted.radius


def _is_early(wanted: _Wanted, drawn: PathSegment) -> bool:
    """Whether a bit of a circle lies in its first half, by its middle."""
    if len(drawn) == 2:
        return False
    (x, y), (cx, cy) = _middle(drawn), wanted.centre
    start, spoke = (wanted.start[0] - cx, wanted.start[1] - cy), (x - cx, y - cy)
    along = angle_between(start, spoke) * (1.0 if wanted.sweep > 0 else -1.0) % (2 * pi)
    return along < abs(wanted.sweep) / 2


def _middle(cubic: PathSegment) -> Point:
    """The point of a cubic half-way through (ISO 32000-1, 8.5.2.2)."""
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = cubic
    return ((x0 + 3 * x1 + 3 * x2 + x3) / 8, (y0 + 3 * y1 + 3 * y2 + y3) / 8)


def _near(a: Point, b: Point) -> bool:
    return abs(a[0] - b[0]) <= AS_LISTED and abs(a[1] - b[1]) <= AS_LISTED and dist(a, b) <= AS_LISTED


def _length(segment: PathSegment) -> float:
    return dist(segment[0], segment[-1]) if len(segment) == 2 else dist(segment[0], _middle(segment))
