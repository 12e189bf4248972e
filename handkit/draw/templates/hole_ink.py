"""Hole ink: a tick across the seam and a point where the awl goes, for every stitch hole.

In: a view, the holes and their seams. Out: `ShownHole` holes in the sheet's frame, and their marks.

         │ ← the tick, its middle is the hole's place; every tenth is longer and has its number
    ─ ─ ─•─ ─ ─ stitch line
         │

A slit is drawn as well, at its true width and angle. Where a seam is punched through from its
face layer, the other layers show their first and last hole only, to check by.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, radians, sin

import msgspec

from handkit.draw.model import tags
from handkit.draw.model.marks import Ink, Mark
from handkit.draw.model.path_ops import dot_ops, line_ops
from handkit.draw.model.view import View
from handkit.draw.words.names import Codes, layer_code
from handkit.geometry.affine import Point
from handkit.ink import (
    HOLE_POINT_DIAMETER,
    NUMBERED_EVERY,
    STROKES,
    TENTH_TICK_LENGTH,
    TICK_LENGTH,
    Stroke,
    Tag,
)
from handkit.punch.punched import Hole, Punched, PunchedLayer, PunchedSeam
from handkit.read.project import Punching, SlitHole

SLIT = Stroke(0.35)


class ShownHole(msgspec.Struct, frozen=True):
    """A hole on the sheet: its place, the seam's direction there, the piece's side of it."""

    seam: PunchedSeam
    layer: PunchedLayer
    code: str  # the seam's short name
    hole: Hole
    at: Point
    along: Point
    inward: Point  # across the seam, to the piece's body where that is known

    @property
    def numbered(self) -> bool:
        """Whether its tick is long and has its number: the first, every tenth, the last."""
        number = self.hole.number
        return number in (1, self.seam.count) or number % NUMBERED_EVERY == 0


def shown_holes(view: View, punched: Punched, codes: Codes) -> tuple[ShownHole, ...]:
    """The holes of a window, by seam, layer and number."""
    return tuple(
        _shown(view, seam, layer, layer_code(codes, seam, layer), hole)
        for seam in punched.seams
        for layer in seam.layers
        if layer.piece == view.piece.name
        for hole in _ticked(seam, layer)
        if view.holds(hole.at)
    )


def tick_reach(shown: ShownHole) -> float:
    """How far a hole's tick, or its slit, reaches from its place."""
    hole = shown.seam.stitching.hole
    tick = (TENTH_TICK_LENGTH if shown.numbered else TICK_LENGTH) / 2
    return max(tick, hole.width / 2) if isinstance(hole, SlitHole) else tick


def hole_mark(view: View, shown: ShownHole) -> Mark:
    """Tick, slit if it is one, point."""
    (x, y), (dx, dy) = shown.at, shown.along
    reach = (TENTH_TICK_LENGTH if shown.numbered else TICK_LENGTH) / 2
    across = (dy * reach, -dx * reach)
    stroke = STROKES[Tag.HOLE]
    tick = Ink(line_ops((x - across[0], y - across[1]), (x + across[0], y + across[1])), stroke)
    point = Ink(dot_ops(shown.at, HOLE_POINT_DIAMETER))
    properties = tags.hole(
        view.properties,
        seam=shown.seam.name,
        run=shown.layer.run,
        hole_number=shown.hole.number,
    )
    return Mark(Tag.HOLE, properties, (tick, *_slit(view, shown), point))


def punched_through(seam: PunchedSeam, layer: PunchedLayer) -> bool:
    """Whether a layer is punched through another and has no ticks of its own."""
    return seam.stitching.punch is Punching.THROUGH and layer.run != seam.face.run


def _ticked(seam: PunchedSeam, layer: PunchedLayer) -> Iterator[Hole]:
    if punched_through(seam, layer):
        yield layer.holes[0]
        if len(layer.holes) > 1:
            yield layer.holes[-1]
    else:
        yield from layer.holes


def _shown(view: View, seam: PunchedSeam, layer: PunchedLayer, code: str, hole: Hole) -> ShownHole:
    angle = radians(hole.along_degrees)
    along = (cos(angle), sin(angle))
    left = seam.run_of(layer).inside or 1
    inward = (-along[1] * left, along[0] * left)
    carry = view.to_sheet.apply_direction
    return ShownHole(seam, layer, code, hole, view.to_sheet.apply(hole.at), carry(along), carry(inward))


def _slit(view: View, shown: ShownHole) -> tuple[Ink, ...]:
    kind = shown.seam.stitching.hole
    if shown.hole.slit_degrees is None or not isinstance(kind, SlitHole):
        return ()
    angle, half = radians(shown.hole.slit_degrees), kind.width / 2
    (x, y), (dx, dy) = shown.hole.at, (cos(angle) * half, sin(angle) * half)
    ends = view.to_sheet.apply((x - dx, y - dy)), view.to_sheet.apply((x + dx, y + dy))
    return (Ink(line_ops(*ends), SLIT),)
