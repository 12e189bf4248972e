"""Regions: areas bounded by outlines, for asking what lies inside what.

In: closed paths or rings of points in mm. Out: answers in mm and mm², or new regions.
The one module that calls shapely; arcs are flattened by `tolerances.SAGITTA` before it sees them.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import shapely
from shapely.geometry.base import BaseGeometry

from handkit.geometry.affine import Point
from handkit.geometry.path import Path
from handkit.tolerances import SAGITTA


@dataclass(frozen=True, slots=True)
class Region:
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
        return bool(self.shape.distance(shapely.Point(point)) <= slack)

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

    def grown(self, by: float) -> Region:
        """With all that is nearer than `by`; negative shrinks. Round at corners."""
        return Region(self.shape.buffer(by, quad_segs=16))

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
    return Region(shapely.Polygon(ring))


def rectangle(left: float, bottom: float, right: float, top: float) -> Region:
    """An upright rectangle."""
    return Region(shapely.box(left, bottom, right, top))


def hull_of(points: Iterable[Point]) -> Region:
    """The convex hull of points; a line or a point where they span no area."""
    return Region(shapely.MultiPoint(list(points)).convex_hull)


def crosses_itself(points: Sequence[Point], *, closed: bool) -> bool:
    """Whether the line through points touches or crosses itself.

    >>> crosses_itself([(0, 0), (2, 2), (2, 0), (0, 2)], closed=True)
    True
    """
    line = shapely.LinearRing(points) if closed else shapely.LineString(points)
    return not line.is_simple
