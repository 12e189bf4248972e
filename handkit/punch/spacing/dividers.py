"""Dividers: walking a pair of dividers along a line, exactly.

In: a `MeasuredPath` (the segments of an open path), the opening of the dividers (`chord`, mm, straight
across) and the number of steps. Out: where the points come down.

        ·────c────·
       /            \\c        each place is the first one, ahead on the way,
      ·              ·        that lies a chord away from the place before

Inside one segment all steps are alike and are taken in one sum; from segment to segment the next
place is where the circle about the last one cuts the line or arc. Rejected: flattened arcs (chords off by the
flattening) and bisection along the way (forty times as slow for the same answer).
"""

from __future__ import annotations

from math import hypot, inf

import msgspec

from handkit.geometry.affine import Point
from handkit.geometry.path import Path
from handkit.punch.spacing.measured import MeasuredSegment, measured
from handkit.tolerances import SAME_POINT


class Place(msgspec.Struct, frozen=True):
    """A place on a line: on which segment, and how far from that segment's start."""

    segment: int
    t: float


class MeasuredPath(msgspec.Struct, frozen=True):
    """An open path made ready: its segments, and behind its end a straight one without end.

    The endless segment makes "too far" a distance, so that a search can weigh it.
    """

    segments: tuple[MeasuredSegment, ...]

    @property
    def length(self) -> float:
        """Along the line."""
        return self.segments[0].to_end

    @property
    def straight(self) -> float:
        """From its start to its end, straight across."""
        (x0, y0), (x1, y1) = self.point(Place(0, 0.0)), self.end
        return hypot(x1 - x0, y1 - y0)

    @property
    def end(self) -> Point:
        """Where it ends."""
        return (self.segments[-1].x, self.segments[-1].y)

    def point(self, place: Place) -> Point:
        """The point at a place."""
        return self.segments[place.segment].point(place.t)

    def along(self, place: Place) -> float:
        """Distance of a place from the line's start, along it."""
        return self.length - self.left(place)

    def left(self, place: Place) -> float:
        """Distance from a place to the line's end, along it; negative past the end."""
        return self.segments[place.segment].to_end - place.t

    def direction(self, place: Place) -> Point:
        """The way at a place; on a joint half-way between both ways, whichever segment it is put on."""
        segment = self.segments[place.segment]
        here = segment.direction(place.t)
        if place.t <= SAME_POINT and place.segment > 0:
            before = self.segments[place.segment - 1]
            return halfway(before.direction(before.length), here)
        if segment.length - place.t <= SAME_POINT and place.segment < len(self.segments) - 2:
            return halfway(here, self.segments[place.segment + 1].direction(0.0))
        return here

    def locate(self, along: float) -> Place:
        """The place at a distance from the start, held to the line."""
        left = self.length - min(max(along, 0.0), self.length)
        for index, segment in enumerate(self.segments[:-1]):
            if segment.to_end - segment.length <= left:
                return Place(index, segment.to_end - left)
        raise AssertionError("the last segment ends at the line's end")

    def rest(self, place: Place) -> MeasuredPath:
        """The line from a place on."""
        segment = self.segments[place.segment]
        (x, y), (dx, dy) = segment.point(place.t), segment.direction(place.t)
        first = MeasuredSegment(
            x, y, dx, dy, segment.curvature, segment.length - place.t, segment.to_end - place.t
        )
        tail = self.segments[place.segment + 1 :]
        return MeasuredPath((first, *tail)) if first.length > 0 else MeasuredPath(tail)


def measured_path(path: Path) -> MeasuredPath:
    """A path made ready. A closed one is taken from its start round to its start.

    >>> from handkit.geometry.path import polyline
    >>> measured_path(Path.between(polyline([(0, 0), (9, 0)]), 2, 5)).length
    3.0
    """
    segments = measured(path)
    (x, y), (dx, dy) = path.end, segments[-1].direction(segments[-1].length)
    return MeasuredPath((*segments, MeasuredSegment(x, y, dx, dy, 0.0, inf, 0.0)))


def stepped(line: MeasuredPath, *, chord: float, count: int) -> list[Place]:
    """The places after 1, 2 … `count` steps of `chord` from the line's start.

    >>> from handkit.geometry.path import polyline
    >>> [place.t for place in stepped(measured_path(polyline([(0, 0), (9, 0)])), chord=2.5, count=3)]
    [2.5, 5.0, 7.5]
    """
    places: list[Place] = []
    here, left = Place(0, 0.0), count
    while left > 0:
        step, whole = _whole_steps(line, here, chord, left)
        places.extend(Place(here.segment, here.t + step * k) for k in range(1, whole + 1))
        here, left = _ahead(line, here, chord, step, whole), left - max(whole, 1)
        if not whole:
            places.append(here)
    return places


def reached(line: MeasuredPath, *, chord: float, count: int) -> Place:
    """The last place of `stepped` alone: the sum for a search, which needs no places between."""
    here, left = Place(0, 0.0), count
    while left > 0:
        step, whole = _whole_steps(line, here, chord, left)
        here, left = _ahead(line, here, chord, step, whole), left - max(whole, 1)
    return here


def _whole_steps(line: MeasuredPath, here: Place, chord: float, most: int) -> tuple[float, int]:
    """The step along the segment a place is on, and how many the rest of the segment has room for."""
    segment = line.segments[here.segment]
    step = segment.step(chord)
    if segment.length == inf:
        return step, most
    return step, min(most, int((segment.length - here.t) / step))


def _ahead(line: MeasuredPath, here: Place, chord: float, step: float, whole: int) -> Place:
    """The place after `whole` steps on the same segment, or after the one step that leaves it."""
    if whole:
        return msgspec.structs.replace(here, t=here.t + step * whole)
    centre = line.point(here)
    for index in range(here.segment + 1, len(line.segments)):
        t = line.segments[index].exit(centre, chord)
        if t is not None:
            return Place(index, t)
    raise AssertionError("the endless segment leaves every circle")


def halfway(a: Point, b: Point) -> Point:
    """The unit vector half-way between two; the second where they are opposite."""
    x, y = a[0] + b[0], a[1] + b[1]
    size = hypot(x, y)
    return (x / size, y / size) if size > SAME_POINT else b
