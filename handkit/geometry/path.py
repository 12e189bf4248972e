"""Paths: outlines, stitch lines and fold lines as lines and arcs, exact until they are drawn.

In and out: points as (x, y) in mm, y up; places on a path as distance along it from its start.

Words: a *corner* is a place where the direction jumps; a *closed* path ends where it starts.
A closed path that goes counter-clockwise has a positive area and its inside on the left.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from itertools import accumulate, pairwise
from math import degrees, hypot, pi, tan

import msgspec

from handkit.geometry.affine import Affine, Point
from handkit.geometry.segment import Segment
from handkit.geometry.straight import angle_between, distance
from handkit.tolerances import SAME_POINT

# Where the direction jumps by less than this, in degrees, a path is smooth.
SMOOTH_DEGREES = 1e-4


class Path(msgspec.Struct, frozen=True):
    """Segments end to start; checks that they join. A closed path's last ends at the first."""

    segments: tuple[Segment, ...]
    closed: bool = False
    # Kept because every question about a place on the path begins with them.
    _stations: tuple[float, ...] = ()

    def __post_init__(self) -> None:
        ring = (*self.segments, self.segments[0]) if self.closed else self.segments
        for before, after in pairwise(ring):
            if distance(before.end, after.start) > SAME_POINT:
                raise ValueError(f"segments do not join: {before.end} and {after.start}")
        stations = (0.0, *accumulate(segment.length for segment in self.segments))
        msgspec.structs.force_setattr(self, "_stations", stations)

    @property
    def start(self) -> Point:
        """Where it begins."""
        return self.segments[0].start

    @property
    def end(self) -> Point:
        """Where it ends; for a closed path where it began."""
        return self.segments[-1].end

    @property
    def length(self) -> float:
        """Length along all segments."""
        return self._stations[-1]

    def stations(self) -> tuple[float, ...]:
        """Distances along at which the segments begin, and the whole length last."""
        return self._stations

    def locate(self, along: float) -> tuple[int, float]:
        """Index of the segment at a distance along, and the distance within it.

        A closed path goes round and round; an open one is held to its first and last segment.
        """
        stations = self.stations()
        if self.closed:
            along %= stations[-1]
        index = min(max(bisect_right(stations, along) - 1, 0), len(self.segments) - 1)
        return index, along - stations[index]

    def point_at(self, along: float) -> Point:
        """The point at a distance along; past an open end it goes straight on."""
        index, rest = self.locate(along)
        return self.segments[index].point_at(rest)

    def direction_at(self, along: float) -> Point:
        """The unit vector of travel at a distance along; at a corner, of the segment that follows."""
        index, rest = self.locate(along)
        return self.segments[index].direction_at(rest)

    def along_of(self, point: Point) -> float:
        """How far along the place nearest to a point is; the first of equals."""
        return self._nearest(point)[0]

    def distance_to(self, point: Point) -> float:
        """From a point to the nearest place of the path."""
        return self._nearest(point)[1]

    def comes_within(self, reach: float, point: Point) -> bool:
        """Whether any place of the path is no farther from a point than `reach`: sooner told than how far
        off it is.

        >>> path = polyline([(0, 0), (9, 0), (9, 9)])
        >>> path.comes_within(2, (5, 2)), path.comes_within(2, (5, 3))
        (True, False)
        """
        stations, (x, y), (ax, ay) = self._stations, point, self.segments[0].start
        to_start = hypot(ax - x, ay - y)
        for index, segment in enumerate(self.segments):
            bx, by = segment.end
            to_end = hypot(bx - x, by - y)
            if to_start + to_end - (stations[index + 1] - stations[index]) <= 2 * reach + SAME_POINT:
                _, place = segment.nearest(point)
                if hypot(x - place[0], y - place[1]) <= reach:
                    return True
            to_start = to_end
        return False

    def _nearest(self, point: Point) -> tuple[float, float]:
        """How far along the place nearest to a point is, and how far off. A segment is nowhere nearer than
        half of what is left of the ways to both its ends without its length."""
        best, least, stations = 0.0, float("inf"), self._stations
        (x, y), (ax, ay) = point, self.segments[0].start
        to_start = hypot(ax - x, ay - y)
        for index, segment in enumerate(self.segments):
            bx, by = segment.end
            to_end = hypot(bx - x, by - y)
            station = stations[index]
            if to_start + to_end - (stations[index + 1] - station) <= 2 * least:
                along, place = segment.nearest(point)
                off = hypot(x - place[0], y - place[1])
                if off < least - SAME_POINT:
                    best, least = station + along, off
            to_start = to_end
        return best, least

    def corners(self, *, over_degrees: float) -> tuple[float, ...]:
        """Distances along at which the direction jumps by more than `over_degrees`.

        The ends of an open path are no corners; the start of a closed one may be.
        """
        found = [
            station
            for before, after, station in zip(
                self.segments, self.segments[1:], self.stations()[1:], strict=False
            )
            if abs(turn_degrees(before, after)) > over_degrees
        ]
        if self.closed and abs(turn_degrees(self.segments[-1], self.segments[0])) > over_degrees:
            found.insert(0, 0.0)
        return tuple(found)

    def between(self, first: float, last: float) -> Path:
        """The open path from one distance along to another, first < last.

        On an open path, distances outside it prolong its ends straight; on a closed one `last`
        may lie beyond the length, and the way goes on through the start.
        """
        if self.closed and last > self.length + SAME_POINT:
            ahead, round_the_start = self.between(first, self.length), self.between(0.0, last - self.length)
            return Path((*ahead.segments, *round_the_start.segments))
        kept: list[Segment] = []
        stations = self.stations()
        count = len(self.segments)
        for index, segment in enumerate(self.segments):
            low = stations[index] if index or self.closed else min(0.0, first)
            high = stations[index + 1] if index < count - 1 or self.closed else max(stations[-1], last)
            lo, hi = max(first, low), min(last, high)
            if hi - lo <= SAME_POINT:
                continue
            kept.extend(_piece_of(segment, lo - stations[index], hi - stations[index]))
        return Path(tuple(kept))

    def starting_at(self, along: float) -> Path:
        """The same closed path, begun at a distance along it.

        >>> square = polyline([(0, 0), (4, 0), (4, 4), (0, 4)], closed=True)
        >>> square.starting_at(6).start
        (4.0, 2.0)
        """
        along %= self.length
        if min(along, self.length - along) <= SAME_POINT:
            return self
        return Path(self.between(along, along + self.length).segments, closed=True)

    def reversed(self) -> Path:
        """The same path travelled the other way."""
        return Path(tuple(s.reversed() for s in reversed(self.segments)), self.closed)

    def moved(self, by: Affine) -> Path:
        """Its image under a map that keeps shapes."""
        return Path(tuple(segment.moved(by) for segment in self.segments), self.closed)

    def signed_area(self) -> float:
        """Area enclosed by a closed path in mm², negative where it goes clockwise. Exact."""
        twice = sum(
            s.start[0] * s.end[1] - s.end[0] * s.start[1] + 2 * s.area_beside_chord for s in self.segments
        )
        return twice / 2

    def flattened(self, *, sagitta: float) -> tuple[Point, ...]:
        """Points along it; a closed path's first point is not repeated at the end."""
        points: list[Point] = [self.start]
        for segment in self.segments:
            points.extend(segment.flattened(sagitta=sagitta)[1:])
        return tuple(points[:-1] if self.closed else points)

    def bounds(self) -> tuple[float, float, float, float]:
        """(least x, least y, most x, most y). Exact: arcs at their quadrants."""
        boxes = [segment.bounds() for segment in self.segments]
        lefts, lows, rights, highs = zip(*boxes, strict=True)
        return (min(lefts), min(lows), max(rights), max(highs))


def polyline(points: Sequence[Point], *, closed: bool = False) -> Path:
    """The path of straight lines through points; a closed one goes back to the first.

    >>> polyline([(0, 0), (3, 0), (3, 4)], closed=True).length
    12.0
    """
    ring = [*points, points[0]] if closed else list(points)
    return Path(tuple(Segment(a, b) for a, b in pairwise(ring)), closed)


def circle(centre: Point, radius: float) -> Path:
    """A circle from three o'clock, counter-clockwise, as two half circles."""
    (x, y), r = centre, radius
    east, west = (x + r, y), (x - r, y)
    return Path((Segment(east, west, tan(pi / 4)), Segment(west, east, tan(pi / 4))), closed=True)


def turn_degrees(before: Segment, after: Segment) -> float:
    """By how much the direction jumps from one segment to the next, left positive."""
    return degrees(angle_between(before.direction_at(before.length), after.direction_at(0.0)))


def _piece_of(segment: Segment, first: float, last: float) -> list[Segment]:
    """A segment from `first` to `last`, prolonged straight where they lie outside it."""
    length = segment.length
    lo, hi = max(first, 0.0), min(last, length)
    whole = lo <= SAME_POINT and hi >= length - SAME_POINT
    pieces: list[Segment] = []
    if hi - lo > SAME_POINT:
        pieces.append(segment if whole else segment.between(lo, hi))
    if first < -SAME_POINT:
        pieces.insert(0, Segment(segment.point_at(first), segment.point_at(min(last, 0.0))))
    if last > length + SAME_POINT:
        pieces.append(Segment(segment.point_at(max(first, length)), segment.point_at(last)))
    return pieces
