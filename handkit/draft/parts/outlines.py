"""Outlines: items as they lie, and the rectangles that parts are drafted from.

In: items and measures in mm. Out: outlines to lay the items on, corners with their letters.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate
from string import ascii_uppercase

from handkit.draft.pattern import ItemOutline
from handkit.geometry.affine import Point
from handkit.geometry.path import polyline
from handkit.read.project import Corner, Item, Part, Piece


def corners_of(points: Sequence[Point], radii: Sequence[float] = ()) -> tuple[Corner, ...]:
    """Up to 26 corners with their letters; sharp where no radii are given."""
    each = radii or [0.0] * len(points)
    return tuple(
        Corner(letter, at, radius)
        for letter, at, radius in zip(ascii_uppercase[: len(points)], points, each, strict=True)
    )


def rectangle_corners(width: float, height: float, *, foot: float, mouth: float) -> tuple[Corner, ...]:
    """A rectangle from the origin with the radii of its lower and its upper corners."""
    points = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    return corners_of(points, (foot, foot, mouth, mouth))


def foot_radii(part: Part, piece: Piece) -> tuple[float, float]:
    """Of a pocket's foot corners, A and B: the file's own of the piece, or the part's."""
    if "round" in piece.stated:
        left, right, *_ = (corner.radius for corner in piece.corners)
        return left, right
    return part.size("round"), part.size("round")


def foot_radius(part: Part, piece: Piece) -> float:
    """The larger of both."""
    return max(foot_radii(part, piece))


def item_outline(item: Item, *, middle: float, foot: float) -> ItemOutline:
    """An item along y, `foot` its lower end."""
    left = middle - item.width / 2
    return ItemOutline(item.name, polyline([(left + x, foot + y) for x, y in item.seen], closed=True))


def item_outlines(items: Sequence[Item], *, width: float, foot: float) -> tuple[ItemOutline, ...]:
    """Items along y side by side, the room in a width shared evenly between them."""
    room = (width - sum(item.width for item in items)) / (len(items) + 1)
    starts = accumulate((item.width + room for item in items), initial=room)
    return tuple(
        item_outline(item, middle=start + item.width / 2, foot=foot)
        for item, start in zip(items, starts, strict=False)
    )
