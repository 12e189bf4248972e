"""Grain: the arrow along which the hide stretches least.

In: a view and its site. Out: a mark, where an arrow of at least 12 mm has room.
"""

from __future__ import annotations

from math import cos, radians, sin

from handkit.draw.model.ground import spots
from handkit.draw.model.marks import Ink, Mark
from handkit.draw.model.path_ops import arrow_ops, joined
from handkit.draw.model.placing import Site
from handkit.draw.model.view import View
from handkit.geometry.box import Box
from handkit.ink import STROKES, Tag

LENGTHS = (40.0, 28.0, 20.0, 12.0)
HEAD = 2.5


def grain_mark(view: View, site: Site) -> tuple[Mark, ...]:
    """The longest arrow that has room, as near to the window's middle as may be."""
    angle = radians(view.piece.grain_degrees)
    dx, dy = view.to_sheet.apply_direction((cos(angle), sin(angle)))
    xs, ys = zip(*view.rim, strict=True)
    area = Box(min(xs), min(ys), max(xs), max(ys))
    for length in LENGTHS:
        width, height = abs(dx) * length + 2.5, abs(dy) * length + 2.5
        for box in spots(area, width, height, step=4.0):
            if site.free(box):
                site.take(box)
                return (_arrow(view, box, (dx * length / 2, dy * length / 2)),)
    return ()


def _arrow(view: View, box: Box, half: tuple[float, float]) -> Mark:
    """Heads at both ends: leather stretches alike either way."""
    x, y = (box.left + box.right) / 2, (box.bottom + box.top) / 2
    tail, tip = (x - half[0], y - half[1]), (x + half[0], y + half[1])
    ops = joined((arrow_ops(tail, tip, head=HEAD), arrow_ops(tip, tail, head=HEAD)))
    return Mark(Tag.GRAIN, view.properties, (Ink(ops, STROKES[Tag.GRAIN]),))
