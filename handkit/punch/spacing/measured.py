"""Measured segments: the lines and arcs of a path with their lengths, directions and curvatures.

In: a `Path`. Out: its segments, with the distance to the path's end, so that stepping along a path of
ten thousand holes and looking for the nearest edge need no trigonometry that is not theirs.
All mm, y up.

Words: *curvature* is 1 / radius, positive where the way turns left, 0 where it is straight; a place
on a segment is its distance `t` from the segment's start.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import accumulate
from math import asin, atan, atan2, cos, inf, pi, sin, sqrt

import msgspec

from handkit.geometry.affine import Point
from handkit.geometry.path import Path
from handkit.geometry.segment import Segment


class MeasuredSegment(msgspec.Struct, frozen=True):
    """From (x, y) in the direction (dx, dy), `length` long. `to_end`: from its start to the path's end."""

    x: float
    y: float
    dx: float
    dy: float
    curvature: float
    length: float
    to_end: float

    @property
    def centre(self) -> Point:
        """The arc's centre; raises ZeroDivisionError for a straight line."""
        return (self.x - self.dy / self.curvature, self.y + self.dx / self.curvature)

    def point(self, t: float) -> Point:
        """The point at a distance from the start."""
        if not self.curvature:
            return (self.x + self.dx * t, self.y + self.dy * t)
        ahead = sin(self.curvature * t) / self.curvature
        left = 2 * sin(self.curvature * t / 2) ** 2 / self.curvature  # (1 − cos) without its rounding
        return (self.x + self.dx * ahead - self.dy * left, self.y + self.dy * ahead + self.dx * left)

    def direction(self, t: float) -> Point:
        """The unit vector of travel at a distance from the start."""
        if not self.curvature:
            return (self.dx, self.dy)
        c, s = cos(self.curvature * t), sin(self.curvature * t)
        return (self.dx * c - self.dy * s, self.dy * c + self.dx * s)

    def step(self, chord: float) -> float:
        """How far along this segment lies the next place `chord` away from one on it; inf where none does.

        On an arc 2·R·asin(c / 2R): chord and arc of the circle, any geometry handbook.
        """
        if not self.curvature:
            return chord
        half = chord * abs(self.curvature) / 2
        return 2 * asin(half) / abs(self.curvature) if half <= 1 else inf

    def exit(self, centre: Point, chord: float) -> float | None:
        """Where this segment first leaves the circle of radius `chord` about `centre`; None if it stays in.

        The segment's start lies in the circle: the way has not left it before.
        """
        wx, wy = self.x - centre[0], self.y - centre[1]
        inside = wx * wx + wy * wy - chord * chord
        if inside >= 0:
            return 0.0  # by rounding: the place before was the joint itself
        along, left = wx * self.dx + wy * self.dy, wy * self.dx - wx * self.dy
        # With v = 2·R·tan(t / 2R) an arc is as a line: a·v² + 2·along·v + inside = 0. The first root
        # ahead is where the way goes out; it is written without cancellation.
        a = 1 + left * self.curvature + inside * self.curvature * self.curvature / 4
        root = along * along - a * inside
        if root < 0:
            return None
        v = -inside / (along + sqrt(root)) if along > 0 else _divided(sqrt(root) - along, a)
        t = self._turned(v) if self.curvature else v
        return t if t <= self.length else None

    def _turned(self, v: float) -> float:
        """The way along an arc whose v is 2·R·tan(t / 2R), 0 to a full turn; v < 0 is past the half."""
        half = atan(v * abs(self.curvature) / 2)
        return 2 * (half if half >= 0 else half + pi) / abs(self.curvature)

    def nearest(self, point: Point) -> float:
        """The place on the segment nearest to a point, 0 to `length`."""
        wx, wy = point[0] - self.x, point[1] - self.y
        along, left = wx * self.dx + wy * self.dy, wy * self.dx - wx * self.dy
        if not self.curvature:
            return min(max(along, 0.0), self.length)
        side = 1.0 if self.curvature > 0 else -1.0
        radius = 1 / abs(self.curvature)
        turn = atan2(along, radius - side * left) % (2 * pi)
        t = turn * radius
        if t <= self.length:
            return t
        return self.length if t - self.length < 2 * pi * radius - t else 0.0


def measured(path: Path) -> tuple[MeasuredSegment, ...]:
    """The path's segments in order.

    >>> from handkit.geometry.path import polyline
    >>> [(s.length, s.to_end) for s in measured(polyline([(0, 0), (3, 0), (3, 4)]))]
    [(3.0, 7.0), (4.0, 4.0)]
    """
    segments = [segment for segment in path.segments if segment.chord > 0]
    lengths = [segment.length for segment in segments]
    return tuple(_measured(*both) for both in zip(segments, lengths, _to_end(lengths), strict=True))


def _divided(number: float, by: float) -> float:
    return number / by if by else inf


def _measured(segment: Segment, length: float, to_end: float) -> MeasuredSegment:
    (x, y), (dx, dy) = segment.start, segment.direction_at(0.0)
    curvature = (1 if segment.bulge > 0 else -1) / segment.radius if segment.bulge else 0.0
    return MeasuredSegment(x, y, dx, dy, curvature, length, to_end)


def _to_end(lengths: Iterable[float]) -> list[float]:
    return list(accumulate(reversed(list(lengths))))[::-1]
