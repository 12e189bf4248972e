"""Mat pictures: how a photo of things on the mat is taken, from the side and from above.

In: the room, the mat, how high the lens is. Out: a block. Not to scale.
"""

from __future__ import annotations

from collections.abc import Iterator

from handkit.draw.layout.flow import Block, picture
from handkit.draw.model.fonts import Fonts
from handkit.draw.model.lettering import centred
from handkit.draw.model.marks import Ink, Words
from handkit.draw.model.path_ops import (
    PathOps,
    arrow_ops,
    box_ops,
    circle_ops,
    joined,
    line_ops,
    polyline_ops,
)
from handkit.geometry.affine import Point
from handkit.ink import HAIR, NARROW, Stroke
from handkit.photo.mat import Mat

# The room of each picture, and what is left free between both.
ROOM, HIGH, APART = 78.0, 56.0, 10.0

RAY = Stroke(0.13, (1.2, 0.8))
GREY = 0.85


def photo_taken(fonts: Fonts, width: float, mat: Mat, height: str) -> Block:
    """Both pictures side by side, or one over the other where there is no room."""
    level = width >= 2 * ROOM + APART
    across, down = (ROOM + APART, 0.0) if level else (0.0, HIGH + APART)
    parts = [*_from_the_side(fonts, height), *_from_above(fonts, mat, across, down)]
    return picture(HIGH if level else 2 * HIGH + APART, *parts)


def _from_the_side(fonts: Fonts, height: str) -> Iterator[Ink | Words]:
    """The table with the mat, a tall thing in the middle and low ones beside it, the phone level above."""
    table, lens = -HIGH + 6.0, (34.0, -7.2)
    left, right = 6.0, 62.0
    yield Ink(joined(line_ops(lens, (x, table)) for x in (left, right)), RAY)
    yield Ink(line_ops((0, table), (68.0, table)), NARROW)
    yield Ink(line_ops((left, table), (right, table)), Stroke(0.9))
    for x, y, wide in ((27.0, 13.0, 14.0), (12.0, 2.0, 9.0), (46.0, 3.5, 10.0)):
        yield Ink(box_ops(x, table + 0.5, x + wide, table + y), NARROW, GREY)
    yield Ink(box_ops(23.0, -7.0, 45.0, -4.4), NARROW, 1.0)
    yield Ink(circle_ops((lens[0], lens[1] + 0.4), 0.9))
    yield Ink(arrow_ops((72.0, table), (72.0, -7.0), head=2.0), HAIR)
    yield Ink(arrow_ops((72.0, -7.0), (72.0, table), head=2.0), HAIR)
    wide = fonts.width(height, 3.45)
    yield Words(height, (76.5, (table - 7.0) / 2 - wide / 2), 3.45, degrees=90.0)
    yield centred("phone, level", (34.0, -1.6), fonts)
    yield centred("tall things in the middle", (34.0, table - 3.4), fonts)


def _from_above(fonts: Fonts, mat: Mat, across: float, down: float) -> Iterator[Ink | Words]:
    """The mat small, with things apart from one another and from its border."""
    scale = (HIGH - 6.0) / mat.height
    left, low = across + (ROOM - mat.width * scale) / 2, -down - HIGH + 6.0

    def at(x: float, y: float) -> Point:
        return (left + x * scale, low + y * scale)

    def box(x0: float, y0: float, x1: float, y1: float) -> PathOps:
        return box_ops(*at(x0, y0), *at(x1, y1))

    yield Ink(box(0, 0, mat.width, mat.height), HAIR)
    half = mat.marks[0].size / 2
    yield Ink(joined(box(m.centre[0] - half, m.centre[1] - half, m.centre[0] + half, m.centre[1] + half)
                     for m in mat.marks))  # fmt: skip
    yield Ink(joined(line_ops(at(*bar.start), at(*bar.end)) for bar in (mat.across, mat.up)), HAIR)
    field = mat.field

    def inside(x: float, y: float) -> Point:
        return at(field.left + x * field.width, field.bottom + y * field.height)

    for ring in THINGS:
        yield Ink(polyline_ops([inside(*point) for point in ring], closed=True), NARROW, GREY)
    yield centred("things apart, nothing over squares and bars", (across + ROOM / 2, low - 3.4), fonts)


# Things on the field, as shares of it: a rule, a jar, a knife, a tin.
THINGS: tuple[tuple[Point, ...], ...] = (
    ((0.10, 0.12), (0.20, 0.12), (0.20, 0.88), (0.10, 0.88)),
    ((0.38, 0.40), (0.62, 0.40), (0.62, 0.60), (0.38, 0.60)),
    ((0.80, 0.10), (0.87, 0.10), (0.87, 0.52), (0.90, 0.55), (0.80, 0.88), (0.79, 0.52)),
    ((0.36, 0.74), (0.64, 0.74), (0.64, 0.90), (0.36, 0.90)),
)
