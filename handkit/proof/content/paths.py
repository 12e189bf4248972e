"""Paths: what path operators draw, and where on paper what they fill, clip or stroke is.

In: points in mm from the page's lower left corner, y up. Out: subpaths, and areas that can be asked how
deep in them a point lies.

Words: a *subpath* is one unbroken row of segments; an *area* is what a path fills or clips to, or what a
pen of some width covers along it (ISO 32000-1, 8.5.3).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise
from math import ceil, dist, hypot, inf, sqrt

import msgspec

from handkit.geometry.affine import Point

# Two points (a line) or four (a cubic with its two handles).
PathSegment = tuple[Point, ...]

# (left, bottom, right, top), mm.
Bounds = tuple[float, float, float, float]

# A quarter of a circle in n straight bits of an arc of length L leaves it by 0.196 L / n^2; this many bits
# for the root of L keep it within 0.005 mm. No curve of a page has more.
BITS_PER_ROOT = 6.3
MOST_BITS = 128


class Subpath(msgspec.Struct, frozen=True):
    """One unbroken row of segments; there is at least one."""

    segments: tuple[PathSegment, ...]
    closed: bool

    @property
    def points(self) -> tuple[Point, ...]:
        """The points it runs through, handles of curves left out."""
        return (self.segments[0][0], *(segment[-1] for segment in self.segments))

    @property
    def is_line(self) -> bool:
        """Whether it is one straight line that is longer than nothing."""
        return len(self.segments) == 1 and len(self.segments[0]) == 2 and self.length > 0

    @property
    def is_round(self) -> bool:
        """Whether it is made of curves alone and comes back to where it began, near enough to see."""
        return all(len(s) == 4 for s in self.segments) and dist(self.points[0], self.points[-1]) < 0.001

    @property
    def length(self) -> float:
        """Straight from its first point to its last."""
        return dist(self.points[0], self.points[-1])


class PaintedArea(msgspec.Struct, eq=False):
    """What a path fills or clips to; with a `reach`, what lies so near to the path: a pen's half.

    What has no path is nowhere. Its edges are worked out when they are first asked for.
    """

    subpaths: tuple[Subpath, ...]
    even_odd: bool = False
    reach: float = 0.0
    _edges: tuple[tuple[Point, Point], ...] | None = None
    _bounds: Bounds | None = None

    @property
    def edges(self) -> tuple[tuple[Point, Point], ...]:
        """Its border, or the path of the pen, in straight bits."""
        if self._edges is None:
            self._edges = tuple(edge for subpath in self.subpaths for edge in self._bits(subpath))
        return self._edges

    @property
    def bounds(self) -> Bounds:
        """A rectangle that holds all of it."""
        if self._bounds is None:
            points = [point for subpath in self.subpaths for segment in subpath.segments for point in segment]
            left, bottom, right, top = bounds(points) if points else (inf, inf, -inf, -inf)
            r = self.reach
            self._bounds = (left - r, bottom - r, right + r, top + r)
        return self._bounds

    def depth(self, point: Point) -> float:
        """How far inside it a point lies, mm; negative outside.

        >>> line = Subpath((((0.0, 0.0), (4.0, 0.0)),), closed=False)
        >>> PaintedArea((line,), reach=0.5).depth((2.0, 0.25))
        0.25
        """
        x, y = point
        nearest, winding, crossings = inf, 0, 0
        for (ax, ay), (bx, by) in self.edges:
            dx, dy, px, py = bx - ax, by - ay, x - ax, y - ay
            square = dx * dx + dy * dy
            along = (px * dx + py * dy) / square if square else 0.0
            if along <= 0:
                off = px * px + py * py
            elif along >= 1:
                off = (x - bx) ** 2 + (y - by) ** 2
            else:
                off = (px * dy - py * dx) ** 2 / square
            nearest = min(nearest, off)
            if (ay > y) != (by > y) and ax + (y - ay) * dx / dy > x:
                winding += 1 if dy > 0 else -1
                crossings += 1
        if self.reach:
            return self.reach - sqrt(nearest)
        inside = crossings % 2 == 1 if self.even_odd else winding != 0
        return sqrt(nearest) if inside else -sqrt(nearest)

    def _bits(self, subpath: Subpath) -> Iterator[tuple[Point, Point]]:
        for segment in subpath.segments:
            yield from straight_bits(segment)
        first, last = subpath.segments[0][0], subpath.segments[-1][-1]
        if first != last and not self.reach:  # what is filled is closed by that
            yield last, first


def straight_bits(segment: PathSegment) -> Iterator[tuple[Point, Point]]:
    """A line as it is, a cubic in straight bits that leave it by at most 0.005 mm where it is a kit's arc."""
    if len(segment) == 2:
        yield segment[0], segment[1]
        return
    places = points_along(segment)
    yield from pairwise(places)


def points_along(segment: PathSegment) -> list[Point]:
    """Points of a segment from its start to its end: both ends of a line, of a cubic as many as it bends."""
    if len(segment) == 2:
        return list(segment)
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = segment
    length = hypot(bx - ax, by - ay) + hypot(cx - bx, cy - by) + hypot(dx - cx, dy - cy)
    count = min(MOST_BITS, ceil(BITS_PER_ROOT * sqrt(length)) + 1)
    places = []
    for k in range(count + 1):
        t = k / count
        u = 1 - t
        p, q, r, s = u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t
        places.append((p * ax + q * bx + r * cx + s * dx, p * ay + q * by + r * cy + s * dy))
    return places


def bounds(points: Iterable[Point]) -> Bounds:
    """(least x, least y, most x, most y) of at least one point."""
    xs, ys = zip(*points, strict=True)
    return (min(xs), min(ys), max(xs), max(ys))


def middle(points: Iterable[Point]) -> Point:
    """The middle of the points' bounds: the centre of anything that is alike on both sides.

    >>> middle([(0.0, 0.0), (4.0, 2.0)])
    (2.0, 1.0)
    """
    left, bottom, right, top = bounds(points)
    return ((left + right) / 2, (bottom + top) / 2)
