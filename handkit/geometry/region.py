"""Regions: areas bounded by outlines, for asking what lies inside what.

In: closed paths or rings of points in mm. Out: answers in mm and mm², or new regions.
The one module that calls shapely; arcs are flattened by `tolerances.SAGITTA` before it sees them.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import cos, pi, sin
from typing import Any

import msgspec
import shapely
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from handkit.geometry.affine import Affine, Point
from handkit.geometry.path import Path, polyline
from handkit.tolerances import SAGITTA


class Region(msgspec.Struct, frozen=True):
    """An area of the plane, in one or several parts, or empty."""

    shape: BaseGeometry

    @property
    def area(self) -> float:
        """In mm²."""
        return float(self.shape.area)

    @property
    def empty(self) -> bool:
        """Whether nothing is in it."""
        return bool(self.shape.is_empty)

    def contains(self, point: Point, *, slack: float = 0.0) -> bool:
        """Whether a point lies inside, or outside by no more than `slack`."""
        return bool(shapely.distance(self.shape, shapely.points(*point)) <= slack)

    def outside(self, points: Sequence[Point], *, slack: float = 0.0) -> frozenset[int]:
        """Which of many points, by their index, `contains` is false of; asked all at once.

        >>> sorted(rectangle(0, 0, 2, 2).outside([(1, 1), (2, 1), (3, 1)]))
        [2]
        """
        apart = shapely.distance(self.shape, shapely.points(points)).tolist() if points else ()
        return frozenset(index for index, off in enumerate(apart) if off > slack)

    def covers(self, points: Sequence[Point], *, slack: float = 0.0) -> bool:
        """Whether the line through points lies inside all the way, or outside by up to `slack`.

        >>> notched = region_of_points([(0, 0), (9, 0), (9, 9), (5, 1), (0, 9)])
        >>> notched.covers([(1, 1), (8, 1)]), notched.covers([(1, 5), (8, 5)])
        (True, False)
        """
        line = shapely.LineString(points)
        if self.shape.covers(line):
            return True
        return slack > 0 and bool(self.shape.buffer(slack).covers(line))

    def edge_distance(self, point: Point) -> float:
        """Distance from a point to the nearest place of the boundary, inside or out."""
        return float(self.shape.boundary.distance(shapely.Point(point)))

    def meets(self, other: Region) -> bool:
        """Whether they share any point."""
        return bool(self.shape.intersects(other.shape))

    def common(self, other: Region) -> Region:
        """What lies in both."""
        return Region(self.shape.intersection(other.shape))

    def without(self, other: Region) -> Region:
        """What lies in this one only."""
        return Region(self.shape.difference(other.shape))

    def joined(self, other: Region) -> Region:
        """What lies in either."""
        return Region(self.shape.union(other.shape))

    def grown(self, by: float, *, steps: int = 16) -> Region:
        """With all that is nearer than `by`; negative shrinks. Round at corners, by `steps` chords
        a quarter: what lies between chord and arc is left out."""
        return Region(self.shape.buffer(by, quad_segs=steps))

    def simplified(self, within: float) -> Region:
        """With fewer corners, its edge no further off than `within`."""
        return Region(self.shape.simplify(within))

    def moved(self, by: Affine) -> Region:
        """Its image.

        >>> rectangle(0, 0, 3, 1).moved(Affine.turn(90)).bounds()
        (-1.0, 0.0, 0.0, 3.0)
        """
        return Region(affinity.affine_transform(self.shape, [by.a, by.c, by.b, by.d, by.e, by.f]))

    def distance(self, other: Region) -> float:
        """Least distance to another region, 0 where they meet."""
        return float(self.shape.distance(other.shape))

    def nearest(self, other: Region) -> tuple[Point, Point]:
        """Where two regions come nearest: a place of this one, and one of the other.

        >>> rectangle(0, 0, 1, 1).nearest(rectangle(3, 0, 4, 1))[0][0]
        1.0
        """
        (ax, ay), (bx, by) = shapely.shortest_line(self.shape, other.shape).coords
        return (float(ax), float(ay)), (float(bx), float(by))

    def clipped(self, left: float, bottom: float, right: float, top: float) -> Region:
        """What lies in an upright rectangle: areas only, no touching lines or points."""
        cut = self.shape.intersection(shapely.box(left, bottom, right, top))
        parts = _polygons(cut)
        return Region(parts[0] if len(parts) == 1 else shapely.MultiPolygon(parts))

    def rings(self) -> tuple[tuple[Point, ...], ...]:
        """The outer ring of each part, its first point not repeated."""
        parts = _polygons(self.shape)
        return tuple(tuple((float(x), float(y)) for x, y in part.exterior.coords[:-1]) for part in parts)

    def along(self, start: Point, end: Point) -> tuple[tuple[float, float], ...]:
        """The stretches of a straight that lie inside, as distances from its start, in order.

        >>> rectangle(2, 0, 5, 9).along((0, 1), (9, 1))
        ((2.0, 5.0),)
        """
        line = shapely.LineString([start, end])
        inside = self.shape.intersection(line)
        parts = [part for part in getattr(inside, "geoms", (inside,)) if part.geom_type == "LineString"]
        places = [_places_on(line, part) for part in parts if part.length]
        return tuple(sorted((min(one), max(one)) for one in places))

    def parted(self, line: Path) -> tuple[tuple[Path, ...], tuple[Path, ...]]:
        """What of a line lies inside, and what of it doesn't; arcs come as straight bits.

        >>> inside, outside = rectangle(2, 0, 5, 9).parted(polyline([(0, 1), (4, 1), (4, 12)]))
        >>> inside[0].flattened(sagitta=1), [part.length for part in outside]
        (((2.0, 1.0), (4.0, 1.0), (4.0, 9.0)), [2.0, 3.0])
        """
        whole = _line_of(line)
        return _paths(whole.intersection(self.shape)), _paths(whole.difference(self.shape))

    def hull(self) -> Region:
        """The convex hull."""
        return Region(self.shape.convex_hull)

    def bounds(self) -> tuple[float, float, float, float]:
        """(least x, least y, most x, most y). Raises ValueError where empty."""
        if self.empty:
            raise ValueError("an empty region has no bounds")
        x0, y0, x1, y1 = self.shape.bounds
        return (x0, y0, x1, y1)


def region_of(outline: Path) -> Region:
    """The area inside a closed path that does not cross itself."""
    return region_of_points(outline.flattened(sagitta=SAGITTA))


def region_of_points(ring: Sequence[Point]) -> Region:
    """The area inside a ring of at least three points.

    >>> region_of_points([(0, 0), (3, 0), (0, 4)]).area
    6.0
    """
    return Region(shapely.polygons(ring))


def areas_of(rings: Iterable[Sequence[Point]]) -> Region:
    """All that is inside any of some rings."""
    return Region(shapely.union_all([shapely.polygons(ring).buffer(0) for ring in rings]))


def rectangle(left: float, bottom: float, right: float, top: float) -> Region:
    """An upright rectangle."""
    return Region(shapely.box(left, bottom, right, top))


def bands_of(paths: Iterable[Path], by: float) -> Region:
    """All that is no farther than `by` from any of some paths, cut off square at their ends.

    >>> from handkit.geometry.path import polyline
    >>> bands_of([polyline([(0, 0), (10, 0)]), polyline([(0, 1), (10, 1)])], 2).area
    50.0
    """
    flat = ((path.flattened(sagitta=SAGITTA), path.closed) for path in paths)
    lines = [shapely.LinearRing(points) if closed else shapely.LineString(points) for points, closed in flat]
    bands = [line.buffer(by, cap_style="flat", join_style="mitre", mitre_limit=8.0) for line in lines]
    return Region(shapely.union_all(bands))


def lines_of(paths: Sequence[Path]) -> Region:
    """Lines alone, without an area: to be grown.

    >>> from handkit.geometry.path import polyline
    >>> lines_of([polyline([(0, 0), (10, 0)])]).grown(2).bounds()
    (-2.0, -2.0, 12.0, 2.0)
    """
    return Region(shapely.MultiLineString([_line_of(path) for path in paths]))


def _line_of(path: Path) -> shapely.LineString:
    points = path.flattened(sagitta=SAGITTA)
    return shapely.LineString((*points, points[0]) if path.closed else points)


def discs(centres: Sequence[Point], radius: float) -> Region:
    """Discs round points; what lies between chord and arc is left out.

    >>> round(discs([(0, 0), (9, 0)], 1).area / 2, 2)
    3.14
    """
    return Region(shapely.multipoints(list(centres)).buffer(radius))


def disc(centre: Point, radius: float) -> Region:
    """An octagon round a circle, flat at its right and top: room for a small mark."""
    (x, y), corner = centre, radius / cos(pi / 8)
    turns = (pi / 8 + k * pi / 4 for k in range(8))
    return region_of_points([(x + corner * cos(turn), y + corner * sin(turn)) for turn in turns])


def hull_of(points: Iterable[Point]) -> Region:
    """The convex hull of points; a line or a point where they span no area."""
    return Region(shapely.multipoints(list(points)).convex_hull)


def crosses_itself(points: Sequence[Point], *, closed: bool) -> bool:
    """Whether the line through points touches or crosses itself.

    >>> crosses_itself([(0, 0), (2, 2), (2, 0), (0, 2)], closed=True)
    True
    """
    line = shapely.LinearRing(points) if closed else shapely.LineString(points)
    return not line.is_simple


def _places_on(line: shapely.LineString, part: BaseGeometry) -> list[float]:
    """How far along a line the points of a part of it are."""
    found: Any = shapely.line_locate_point(line, shapely.points(shapely.get_coordinates(part)))
    return [float(place) for place in found]


def _paths(shape: BaseGeometry) -> tuple[Path, ...]:
    """The lines a geometry is made of, those that meet end to end as one; points are left out."""
    every: Sequence[BaseGeometry] = getattr(shape, "geoms", (shape,))
    parts = [part for part in every if isinstance(part, shapely.LineString) and part.length]
    merged = shapely.line_merge(shapely.MultiLineString(parts))
    lines = getattr(merged, "geoms", (merged,)) if parts else ()
    points = ([(float(x), float(y)) for x, y in line.coords] for line in lines)
    return tuple(
        polyline(line[:-1], closed=True) if line[0] == line[-1] else polyline(line) for line in points
    )


def _polygons(shape: BaseGeometry) -> list[shapely.Polygon]:
    """The areas a geometry is made of; lines and points are left out."""
    parts: Sequence[BaseGeometry] = getattr(shape, "geoms", (shape,))
    return [part for part in parts if isinstance(part, shapely.Polygon) and not part.is_empty]
