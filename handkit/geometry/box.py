"""Boxes: upright rectangles.

In and out: mm, in whatever frame the caller works in.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import ceil, floor

import msgspec

from handkit.geometry.affine import Affine, Point
from handkit.geometry.straight import Straight


class Box(msgspec.Struct, frozen=True):
    """From the least to the most x and y."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """Left to right."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Bottom to top."""
        return self.top - self.bottom

    @property
    def middle(self) -> Point:
        """Its centre."""
        return ((self.left + self.right) / 2, (self.bottom + self.top) / 2)

    @property
    def corners(self) -> tuple[Point, Point, Point, Point]:
        """Counter-clockwise from the lower left."""
        return (
            (self.left, self.bottom),
            (self.right, self.bottom),
            (self.right, self.top),
            (self.left, self.top),
        )

    @property
    def sides(self) -> tuple[Straight, Straight, Straight, Straight]:
        """Left, right, bottom and top, each with the box on the left of its way."""
        low_left, low_right, high_right, high_left = self.corners
        return (
            (high_left, low_left),
            (low_right, high_right),
            (low_left, low_right),
            (high_right, high_left),
        )

    def grown(self, by: float) -> Box:
        """Wider by `by` on every side."""
        return Box(self.left - by, self.bottom - by, self.right + by, self.top + by)

    def meets(self, other: Box) -> bool:
        """Whether it has a point in common with another."""
        across = self.left <= other.right and other.left <= self.right
        return across and self.bottom <= other.top and other.bottom <= self.top

    def inside(self, other: Box) -> bool:
        """Whether it lies wholly in another."""
        across = self.left >= other.left and self.right <= other.right
        return across and self.bottom >= other.bottom and self.top <= other.top

    def nearest(self, place: Point) -> Point:
        """The point of it that is nearest to a place."""
        return (min(max(place[0], self.left), self.right), min(max(place[1], self.bottom), self.top))

    def within(self, other: Box) -> Box:
        """The common part of two boxes that overlap."""
        return Box(
            max(self.left, other.left),
            max(self.bottom, other.bottom),
            min(self.right, other.right),
            min(self.top, other.top),
        )

    def rounded_out(self) -> Box:
        """To whole thousandths of a mm, outwards: what the report writes is then exact.

        >>> Box(-0.00049, 0.0, 12.0001, 8.0).rounded_out()
        Box(left=-0.001, bottom=0.0, right=12.001, top=8.0)
        """
        return Box(_down(self.left), _down(self.bottom), _up(self.right), _up(self.top))


def box_of(points: Iterable[Point]) -> Box:
    """The least box round points."""
    xs, ys = zip(*points, strict=True)
    return Box(min(xs), min(ys), max(xs), max(ys))


def around(boxes: Iterable[Box]) -> Box:
    """The least box round boxes."""
    return box_of(corner for box in boxes for corner in box.corners)


def moved(box: Box, by: Affine) -> Box:
    """The least box round a box's image; the image itself where the map turns by quarters."""
    return box_of(by.apply_all(box.corners))


def _down(value: float) -> float:
    return floor(value * 1000 + 1e-4) / 1000


def _up(value: float) -> float:
    return ceil(value * 1000 - 1e-4) / 1000
