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
    """How deep a thing lies in something, mm, which way it is moved out the soonest, and where they meet;
    `ways` are all that it may be moved, with how far."""

    deep: float
    way: str
    at: Point
    ways: tuple[tuple[str, float], ...] = ()


def parted(thing: Box, other: Box) -> Parting:
    """How an upright rectangle is moved out of another.

    >>> found = parted(Box(0, 0, 30, 100), Box(28, 90, 40, 120))
    >>> found.deep, found.way, found.at
    (2, 'left', (29.0, 95.0))
    """
    ways = (
        ("left", thing.right - other.left),
        ("right", other.right - thing.left),
        ("down", thing.top - other.bottom),
        ("up", other.top - thing.bottom),
    )
    way, deep = min(ways, key=lambda way: way[1])
    return Parting(deep, way, thing.within(other).middle, ways)


def of_regions(thing: Region, other: Region) -> Parting | None:
    """Of two areas."""
    one, two = Box(*thing.bounds()), Box(*other.bounds())
    if not one.meets(two) or thing.common(other).area <= TOUCH:
        return None
    return parted(one, two)


def of_points(thing: Region, points: Sequence[Point], radius: float) -> Parting | None:
    """Of an area and discs of one radius: those of them that reach into it, together."""
    box = Box(*thing.bounds()).grown(2 * radius)
    boxed = [at for at in points if box.left < at[0] < box.right and box.bottom < at[1] < box.top]
    off = thing.outside(boxed, slack=radius)
    near = [at for k, at in enumerate(boxed) if k not in off]
    inside = [at for at in near if thing.common(discs([at], radius)).area > TOUCH]
    return parted(Box(*thing.bounds()), box_of(inside).grown(radius)) if inside else None
