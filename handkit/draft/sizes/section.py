"""Sections: what of an item is seen when one looks along it, as far as leather can feel it.

In: width and thickness, a diameter, or the corners of a section, in mm. Out: a `Section`, standing
on the base (y = 0) with the middle of its width at x = 0.

Leather laid tight over an item bridges its hollows, so a section is the convex hull of discs of
one radius: a rectangle's four corners with radius 0, a round thing's one centre with its own.
Room on all sides of the item is then a larger radius, and nothing else changes.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from handkit.geometry.affine import Point
from handkit.geometry.polygon import hull
from handkit.read.project import Item


class Section(msgspec.Struct, frozen=True):
    """The convex hull of discs of one `radius` about `centres` (counter-clockwise, none idle).

    Raises ValueError where it has no centre or a radius under 0.
    """

    centres: tuple[Point, ...]
    radius: float = 0.0

    def __post_init__(self) -> None:
        if not self.centres or self.radius < 0:
            raise ValueError("a section needs a centre and a radius of 0 or more")

    @property
    def width(self) -> float:
        """Over all, along the base."""
        xs = [x for x, _ in self.centres]
        return max(xs) - min(xs) + 2 * self.radius

    @property
    def height(self) -> float:
        """Over the base."""
        return max(y for _, y in self.centres) + self.radius

    def eased(self, ease: float) -> Section:
        """With room of half of `ease` on all sides, standing on the base again.

        >>> rectangle_section(30, 5).eased(2).width, round_section(20).eased(2)
        (32.0, Section(centres=((0.0, 11.0),), radius=11.0))
        """
        return Section(tuple((x, y + ease / 2) for x, y in self.centres), self.radius + ease / 2)


def rectangle_section(width: float, thickness: float) -> Section:
    """Of a flat thing, lying on its broad side."""
    half = width / 2
    return Section(((-half, 0.0), (half, 0.0), (half, thickness), (-half, thickness)))


def round_section(diameter: float) -> Section:
    """Of a round thing, lying on the base."""
    return Section(((0.0, diameter / 2),), diameter / 2)


def polygon_section(points: Sequence[Point]) -> Section:
    """Of a thing whose section is given by its corners, in any order; hollows are bridged.

    >>> polygon_section([(5, 1), (9, 1), (7, 4), (7, 2)])
    Section(centres=((-2.0, 0.0), (2.0, 0.0), (0.0, 3.0)), radius=0.0)
    """
    corners = hull(points)
    xs, low = [x for x, _ in corners], min(y for _, y in corners)
    middle = (min(xs) + max(xs)) / 2
    return Section(tuple((float(x - middle), float(y - low)) for x, y in corners))


def section_of(item: Item) -> Section:
    """The section of an item as it lies on the base."""
    if item.section:
        return polygon_section(item.section)
    if item.diameter is not None:
        return round_section(item.diameter)
    return rectangle_section(item.width, item.thickness)
