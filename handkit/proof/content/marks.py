"""Marks: what a page's operators draw, measured, and what each mark says it is.

In: points in mm from the page's lower left corner, y up. Out: subpaths, painted paths and marks,
with the few measures the checks need.

Words: a *subpath* is one unbroken row of segments; a *painted* path is all subpaths of one
painting operator; a *mark* is what stands between a tag's BDC and its EMC (ISO 32000-1 14.6).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from math import dist

import msgspec

from handkit.geometry.affine import Point
from handkit.ink import Tag

# What a tag's property may be: a text, a number, or numbers in a row.
PropertyValue = str | float | tuple[float, ...]

# Two points (a line) or four (a cubic with its two handles).
PathSegment = tuple[Point, ...]


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


class Painted(msgspec.Struct, frozen=True):
    """A path as it was painted; `width` of the pen and `dash` in mm, where it was stroked."""

    subpaths: tuple[Subpath, ...]
    stroked: bool
    filled: bool
    width: float
    dash: tuple[float, ...]


class MeasuredMark(msgspec.Struct, frozen=True):
    """One tagged mark of a page, with the properties its tag carries."""

    page: int  # from 1
    tag: Tag
    properties: Mapping[str, PropertyValue]
    painted: tuple[Painted, ...]

    @property
    def subpaths(self) -> tuple[Subpath, ...]:
        """All that was painted, in order."""
        return tuple(subpath for painted in self.painted for subpath in painted.subpaths)

    @property
    def lines(self) -> tuple[Subpath, ...]:
        """The straight lines that were stroked."""
        return tuple(s for p in self.painted if p.stroked for s in p.subpaths if s.is_line)

    def text(self, name: str) -> str | None:
        """A property that is a text, or None."""
        value = self.properties.get(name)
        return value if isinstance(value, str) else None

    def number(self, name: str) -> float | None:
        """A property that is a number, or None."""
        value = self.properties.get(name)
        return value if isinstance(value, float) else None

    def count(self, name: str) -> int | None:
        """A property that is a whole number from 1, or None."""
        value = self.number(name)
        return int(value) if value is not None and value >= 1 and value.is_integer() else None

    def pair(self, name: str) -> tuple[int, int] | None:
        """A property that is two whole numbers, the lower first, or None."""
        value = self.properties.get(name)
        if not isinstance(value, tuple) or len(value) != 2 or not all(x.is_integer() for x in value):
            return None
        first, second = value
        return (int(first), int(second)) if first < second else None


def bounds(points: Iterable[Point]) -> tuple[float, float, float, float]:
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
