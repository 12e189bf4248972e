"""Grain: the arrow along which the hide stretches least.

In: a view, or an area and a way in it; what is free there. Out: an arrow, where one has room.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, radians, sin

from handkit.draw.model.free_space import FreeSpace
from handkit.draw.model.label_search import Blank, first_free, free_places
from handkit.draw.model.marks import Ink, Mark
from handkit.draw.model.path_ops import arrow_ops, joined
from handkit.draw.model.view import View
from handkit.geometry.affine import Point
from handkit.geometry.box import Box, box_of
from handkit.ink import STROKES, Tag

LENGTHS = (40.0, 28.0, 20.0, 12.0)
HEAD = 2.5


def grain_mark(view: View, space: FreeSpace) -> tuple[Mark, ...]:
    """The longest arrow that has room, as near to the window's middle as may be; none on what stretches
    alike every way."""
    if not view.piece.traits.grained:
        return ()
    angle = radians(view.piece.grain_degrees)
    way = view.to_sheet.apply_direction((cos(angle), sin(angle)))
    arrow = grain_arrow(space, box_of(view.rim), way, LENGTHS)
    return (Mark(Tag.GRAIN, view.properties, arrow),) if arrow else ()


def grain_arrow(space: FreeSpace, area: Box, way: Point, lengths: Sequence[float]) -> tuple[Ink, ...]:
    """The first of some lengths, mm, that has room in an area, near to its middle; () where none has."""
    dx, dy = way
    for length in lengths:
        room = Blank(abs(dx) * length + HEAD, abs(dy) * length + HEAD)
        places = free_places(space, area, room.width, room.height, step=4.0)
        found = first_free(space, room, places)
        if found:
            return (_arrow(found.box.middle, (dx * length / 2, dy * length / 2)),)
    return ()


def _arrow(middle: Point, half: Point) -> Ink:
    """Heads at both ends: leather stretches alike either way."""
    (x, y), (dx, dy) = middle, half
    tail, tip = (x - dx, y - dy), (x + dx, y + dy)
    ops = joined((arrow_ops(tail, tip, head=HEAD), arrow_ops(tip, tail, head=HEAD)))
    return Ink(ops, STROKES[Tag.GRAIN])
