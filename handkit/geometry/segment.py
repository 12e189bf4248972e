"""One straight line or arc of a path.

In and out: points as (x, y) in mm, y up; distances along it in mm; directions as unit vectors.

Words: *bulge* is the tangent of a quarter of the angle an arc turns through, positive where it
turns left (counter-clockwise), 0 where it is straight. *Sagitta* is the arc's height over its
chord: bulge · chord / 2. Chosen over centre and angles because mirroring, reversing and offsetting
keep it, and the ends stay exactly where they were put.
"""

from __future__ import annotations

from math import acos, atan, ceil, cos, hypot, pi, sin, tan

import msgspec

from handkit.geometry.affine import Affine, Point
from handkit.geometry.straight import angle_between


class Segment(msgspec.Struct, frozen=True):
    """From `start` to `end`; an arc turns through less than a full circle."""

    start: Point
    end: Point
    bulge: float = 0.0

    @property
    def chord(self) -> float:
        """Straight distance from start to end."""
        return hypot(self.end[0] - self.start[0], self.end[1] - self.start[1])

    @property
    def sweep(self) -> float:
        """The angle the direction turns through, in radians, positive to the left."""
        return 4 * atan(self.bulge)

    @property
    def radius(self) -> float:
        """The arc's radius; raises ZeroDivisionError for a straight line.

        >>> round(Segment((10, 0), (0, 10), tan(pi / 8)).radius, 9)
        10.0
        """
        return self.chord * (1 + self.bulge**2) / (4 * abs(self.bulge))

    @property
    def centre(self) -> Point:
        """The arc's centre; raises ZeroDivisionError for a straight line."""
        (x0, y0), (x1, y1) = self.start, self.end
        # Half the chord times the cotangent of half the sweep lies left of the chord's middle.
        k = (1 / self.bulge - self.bulge) / 4
        return ((x0 + x1) / 2 - (y1 - y0) * k, (y0 + y1) / 2 + (x1 - x0) * k)

    @property
    def length(self) -> float:
        """Length along the line or arc."""
        return self.radius * abs(self.sweep) if self.bulge else self.chord

    @property
    def area_beside_chord(self) -> float:
        """Area between arc and chord; positive where the arc lies to the chord's right.

        The circular segment, R²/2·(θ − sin θ): any mechanical engineering handbook.
        """
        if not self.bulge:
            return 0.0
        sweep = self.sweep
        return self.radius**2 / 2 * (sweep - sin(sweep))

    def point_at(self, along: float) -> Point:
        """The point at a distance from the start; outside 0 to length it goes straight on."""
        (x0, y0), (x1, y1) = self.start, self.end
        length = self.length
        if along <= 0 or along >= length:
            base, rest = (self.start, along) if along <= 0 else (self.end, along - length)
            if rest == 0:
                return base
            dx, dy = self.direction_at(0.0 if along <= 0 else length)
            return (base[0] + dx * rest, base[1] + dy * rest)
        if not self.bulge:
            share = along / length
            return (x0 + (x1 - x0) * share, y0 + (y1 - y0) * share)
        (cx, cy), turn = self.centre, self.sweep * along / length
        dx, dy, c, s = x0 - cx, y0 - cy, cos(turn), sin(turn)
        return (cx + dx * c - dy * s, cy + dx * s + dy * c)

    def direction_at(self, along: float) -> Point:
        """The unit vector of travel at a distance from the start (held at the ends)."""
        (x0, y0), (x1, y1) = self.start, self.end
        chord = self.chord
        dx, dy = (x1 - x0) / chord, (y1 - y0) / chord
        if not self.bulge:
            return (dx, dy)
        share = min(max(along / self.length, 0.0), 1.0)
        turn = self.sweep * (share - 0.5)
        c, s = cos(turn), sin(turn)
        return (dx * c - dy * s, dx * s + dy * c)

    def along_of(self, point: Point) -> float:
        """How far along (0 to length) the place nearest to a point is."""
        return self.nearest(point)[0]

    def nearest(self, point: Point) -> tuple[float, Point]:
        """The place nearest to a point: how far along (0 to length), and where."""
        if self.bulge:
            return self._nearest_of_arc(point)
        (x0, y0), (x1, y1) = self.start, self.end
        dx, dy = x1 - x0, y1 - y0
        length = hypot(dx, dy)
        along = (point[0] - x0) * (dx / length) + (point[1] - y0) * (dy / length)
        if along <= 0:
            return 0.0, self.start
        if along >= length:
            return length, self.end
        share = along / length
        return along, (x0 + dx * share, y0 + dy * share)

    def _nearest_of_arc(self, point: Point) -> tuple[float, Point]:
        (cx, cy), sweep, radius = self.centre, self.sweep, self.radius
        dx, dy = self.start[0] - cx, self.start[1] - cy
        turn = angle_between((dx, dy), (point[0] - cx, point[1] - cy))
        if self.bulge < 0:
            turn = -turn
        if turn < 0:
            turn += 2 * pi
        length, along = radius * abs(sweep), radius * turn
        if turn > abs(sweep):  # off the arc: whichever end is nearer round the circle
            along = length if turn - abs(sweep) < 2 * pi - turn else 0.0
        if along <= 0 or along >= length:
            return along, (self.start if along <= 0 else self.end)
        turn = sweep * along / length
        c, s = cos(turn), sin(turn)
        return along, (cx + dx * c - dy * s, cy + dx * s + dy * c)

    def bounds(self) -> tuple[float, float, float, float]:
        """(least x, least y, most x, most y). Exact: an arc at its quadrants."""
        (x0, y0), (x1, y1) = self.start, self.end
        left, low, right, high = min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)
        if not self.bulge:
            return (left, low, right, high)
        (cx, cy), r = self.centre, self.radius
        if self._passes(cx + r, cy):
            right = max(right, cx + r)
        if self._passes(cx, cy + r):
            high = max(high, cy + r)
        if self._passes(cx - r, cy):
            left = min(left, cx - r)
        if self._passes(cx, cy - r):
            low = min(low, cy - r)
        return (left, low, right, high)

    def _passes(self, x: float, y: float) -> bool:
        """Whether an arc passes a point of its circle: it lies on the arc's side of the chord."""
        (x0, y0), (x1, y1) = self.start, self.end
        side = (x1 - x0) * (y - y0) - (y1 - y0) * (x - x0)
        return side * self.bulge < 0

    def between(self, first: float, last: float) -> Segment:
        """The part from one distance along to another, first < last."""
        if not self.bulge:
            return Segment(self.point_at(first), self.point_at(last))
        share = (last - first) / self.length
        return Segment(self.point_at(first), self.point_at(last), tan(atan(self.bulge) * share))

    def reversed(self) -> Segment:
        """The same segment travelled the other way."""
        return Segment(self.end, self.start, -self.bulge)

    def moved(self, by: Affine) -> Segment:
        """Its image under a map that keeps shapes (shift, turn, mirror)."""
        bulge = -self.bulge if by.turns_over else self.bulge
        return Segment(by.apply(self.start), by.apply(self.end), bulge)

    def flattened(self, *, sagitta: float) -> tuple[Point, ...]:
        """Points from start to end whose straight lines leave an arc by no more than `sagitta`."""
        if not self.bulge:
            return (self.start, self.end)
        sweep, (cx, cy) = self.sweep, self.centre
        step = 2 * acos(max(1 - sagitta / self.radius, -1.0))
        count = max(1, ceil(abs(sweep) / step - 1e-9))
        dx, dy = self.start[0] - cx, self.start[1] - cy
        turns = ((cos(sweep * k / count), sin(sweep * k / count)) for k in range(1, count))
        inner = ((cx + dx * c - dy * s, cy + dx * s + dy * c) for c, s in turns)
        return (self.start, *inner, self.end)


def arc_with_sagitta(start: Point, end: Point, sagitta: float) -> Segment:
    """The arc over a chord whose height is `sagitta`, positive to the right of travel.

    >>> round(arc_with_sagitta((-6, 0), (6, 0), 2).radius, 9)  # r = (c²/4 + s²)/2s, any handbook
    10.0
    """
    chord = hypot(end[0] - start[0], end[1] - start[1])
    return Segment(start, end, 2 * sagitta / chord)
