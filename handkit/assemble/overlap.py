"""Overlap: how far shapes lie in one another in plan, and the shortest way to part them.

In: outlines, discs, rows of points in plan, mm. Out: a `Parting`, None where they lie clear.

What lies in something else is moved out of it left, right, down or up, as a maker moves it on the bench;
the shortest of the four is how deep it lies.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from handkit.geometry.affine import Point
from handkit.geometry.box import Box, box_of
from handkit.geometry.region import Region, discs

# What lies in something else by no more than this, in plan or in height, is not told (the tolerance of a
# maker's rule).
LEAST = 0.5

# Areas that have less than this in common only touch, mm².
TOUCH = 0.01


class Parting(msgspec.Struct, frozen=True):
    """How deep a thing lies in something, mm, which way it is moved out the soonest, and where they meet."""

    deep: float
    way: str
    at: Point


def parted(thing: Box, other: Box) -> Parting:
    """How an upright rectangle is moved out of another.

    >>> parted(Box(0, 0, 30, 100), Box(28, 90, 40, 120))
    Parting(deep=2, way='left', at=(29.0, 95.0))
    """
    ways = (
        (thing.right - other.left, "left"),
        (other.right - thing.left, "right"),
        (thing.top - other.bottom, "down"),
        (other.top - thing.bottom, "up"),
    )
    deep, way = min(ways, key=lambda way: way[0])
    return Parting(deep, way, thing.within(other).middle)


def of_regions(thing: Region, other: Region) -> Parting | None:
    """Of two areas."""
    one, two = Box(*thing.bounds()), Box(*other.bounds())
    if not one.meets(two) or thing.common(other).area <= TOUCH:
        return None
    return parted(one, two)


def of_points(thing: Region, points: Sequence[Point], radius: float) -> Parting | None:
    """Of an area and discs of one radius: those of them that reach into it, together."""
    box = Box(*thing.bounds()).grown(2 * radius)
    near = [at for at in points if box.left < at[0] < box.right and box.bottom < at[1] < box.top]
    inside = [at for at in near if thing.common(discs([at], radius)).area > TOUCH]
    return parted(Box(*thing.bounds()), box_of(inside).grown(radius)) if inside else None
