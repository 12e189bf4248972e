"""Hole ink: a tick across the seam and a point where the awl goes, for every stitch hole.

In: a view, the holes and their seams. Out: `ShownHole` holes in the sheet's frame, and their marks.

         │ ← the tick, its middle is the hole's place; every tenth is longer and has its number
    ─ ─ ─•─ ─ ─ stitch line
         │

A slit is drawn as well, at its true width and angle. Where a seam is punched through from its
layer that lies on top, the others show the first and last hole of each stretch only, to check by.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain
from math import cos, radians, sin

import msgspec

from handkit.draw.model import tags
from handkit.draw.model.marks import Ink, Mark
from handkit.draw.model.path_ops import cross_ops, dot_ops, line_ops
from handkit.draw.model.view import View
from handkit.draw.words.names import Codes, layer_code, punched_through
from handkit.geometry.affine import Point
from handkit.ink import (
    HOLE_POINT_DIAMETER,
    NUMBERED_EVERY,
    SLIT,
    STROKES,
    TENTH_TICK_LENGTH,
    TICK_LENGTH,
    Tag,
)
from handkit.punch.punched import Hole, Punched, PunchedLayer, PunchedSeam
from handkit.read.project import SlitHole


class ShownHole(msgspec.Struct, frozen=True):
    """A hole on the sheet: its place, the seam's direction there, the piece's side of it. Of its seam and
    layer no more than is shown: what is drawn of holes is kept by them."""

    seam: str
    code: str  # the seam's short name
    count: int  # of the seam's holes
    run: int  # of the layer
    lone: bool  # the layer's only hole
    slit: float  # how wide it is, 0 of a round one
    hole: Hole
    at: Point
    along: Point
    inward: Point  # across the seam, to the piece's body where that is known
    ends: tuple[int, ...]  # numbers of the first and the last hole of the layer's stretches

    @property
    def numbered(self) -> bool:
        """Whether its tick is long and has its number: the first, every tenth, the last, and the ends of
        stretches.
        """
        number = self.hole.number
        return number in (1, self.count, *self.ends) or number % NUMBERED_EVERY == 0

    @property
    def reach(self) -> float:
        """How far its tick reaches to either side."""
        return (TENTH_TICK_LENGTH if self.numbered else TICK_LENGTH) / 2

    @property
    def first(self) -> bool:
        """Whether the layer begins with it."""
        return self.hole.number == self.ends[0]

    @property
    def last(self) -> bool:
        """Whether a stretch of the layer ends with it."""
        return self.hole.number in self.ends[1::2]


def shown_holes(view: View, punched: Punched, codes: Codes) -> tuple[ShownHole, ...]:
    """The holes of a window, by seam, layer and number."""
    return tuple(
        _shown(view, (seam, layer, code), hole, ends)
        for seam in punched.seams
        for layer in seam.layers
        if layer.piece == view.piece.name
        for code in (layer_code(codes, seam, layer),)
        for ends in (tuple(chain.from_iterable(seam.stretches_of(layer))),)
        for hole in _ticked(seam, layer)
        if view.holds(hole.at)
    )


def tick_reach(shown: ShownHole) -> float:
    """How far a hole's tick, or its slit, reaches from its place."""
    return max(shown.reach, shown.slit / 2)


def tick(at: Point, arm: Point) -> tuple[Ink, Ink]:
    """A line through a hole's place that reaches its arm (x, y) to either side, and the awl's point."""
    return Ink(cross_ops(at, arm), STROKES[Tag.HOLE]), Ink(dot_ops(at, HOLE_POINT_DIAMETER))


def hole_mark(view: View, shown: ShownHole) -> Mark:
    """Tick, slit if it is one, point."""
    (dx, dy), reach = shown.along, shown.reach
    line, point = tick(shown.at, (dy * reach, -dx * reach))
    properties = tags.hole(
        view.properties,
        seam=shown.seam,
        run=shown.run,
        hole_number=shown.hole.number,
    )
    return Mark(Tag.HOLE, properties, (line, *_slit(view, shown), point))


def _ticked(seam: PunchedSeam, layer: PunchedLayer) -> Iterator[Hole]:
    if not punched_through(seam, layer):
        yield from chain.from_iterable(seam.rows_of(layer))
        return
    marked = {hole.number for row in seam.marked_rows(layer) for hole in row}
    ends = {number for stretch in seam.stretches_of(layer) for number in stretch}
    yield from (hole for hole in layer.holes if hole.number in marked or hole.number in ends)


def _shown(
    view: View, of: tuple[PunchedSeam, PunchedLayer, str], hole: Hole, ends: tuple[int, ...]
) -> ShownHole:
    seam, layer, code = of
    angle = radians(hole.along_degrees)
    along = (cos(angle), sin(angle))
    left = seam.run_of(layer).inside or 1
    inward = (-along[1] * left, along[0] * left)
    kind, carry = seam.stitching.hole, view.to_sheet.apply_direction
    return ShownHole(
        seam.name,
        code,
        seam.count,
        layer.run,
        len(layer.holes) == 1,
        kind.width if isinstance(kind, SlitHole) else 0.0,
        hole,
        view.to_sheet.apply(hole.at),
        carry(along),
        carry(inward),
        ends,
    )


def _slit(view: View, shown: ShownHole) -> tuple[Ink, ...]:
    if shown.hole.slit_degrees is None or not shown.slit:
        return ()
    angle, half = radians(shown.hole.slit_degrees), shown.slit / 2
    (x, y), (dx, dy) = shown.hole.at, (cos(angle) * half, sin(angle) * half)
    ends = view.to_sheet.apply((x - dx, y - dy)), view.to_sheet.apply((x + dx, y + dy))
    return (Ink(line_ops(*ends), SLIT),)
