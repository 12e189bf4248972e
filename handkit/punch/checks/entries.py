"""Entries: every hole with the seam and layer it belongs to, gathered by piece, and its true shape."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, hypot, radians, sin

import msgspec

from handkit.draft.pattern import Run
from handkit.geometry.affine import Point
from handkit.punch.checks.nearness import Mark
from handkit.punch.punched import Hole, PunchedLayer, PunchedSeam
from handkit.read.project import RoundHole


class Entry(msgspec.Struct, frozen=True):
    """One hole of one layer of one seam. `order` is the seam's place in the file."""

    order: int
    seam: PunchedSeam
    layer: PunchedLayer
    hole: Hole

    @property
    def row(self) -> tuple[int, int]:
        """Which seam and run it belongs to."""
        return (self.order, self.layer.run)

    @property
    def run(self) -> Run:
        """The run it stands on."""
        return self.seam.run_of(self.layer)

    @property
    def text(self) -> str:
        """As it is named to the maker."""
        return self.seam.pattern.hole_label(self.hole.number)

    @property
    def mark(self) -> Mark:
        """Its true shape: a round hole, or a slit as a line."""
        at, shape = self.hole.at, self.seam.stitching.hole
        if isinstance(shape, RoundHole) or self.hole.slit_degrees is None:
            return Mark(at, at, widest(self.seam) / 2)
        angle = radians(self.hole.slit_degrees)
        x, y = cos(angle) * shape.width / 2, sin(angle) * shape.width / 2
        return Mark((at[0] - x, at[1] - y), (at[0] + x, at[1] + y))

    def width_towards(self, point: Point) -> float:
        """How wide it is in the direction of a point: a slit's projection, at least its thread.

        A slit that is sewn stands open by its thread, also across its length.
        """
        stitching = self.seam.stitching
        if isinstance(stitching.hole, RoundHole) or self.hole.slit_degrees is None:
            return widest(self.seam)
        dx, dy = point[0] - self.hole.at[0], point[1] - self.hole.at[1]
        size = hypot(dx, dy)
        if not size:
            return stitching.hole.width
        angle = radians(self.hole.slit_degrees)
        share = abs(dx * cos(angle) + dy * sin(angle)) / size
        return max(stitching.hole.width * share, stitching.thread)


def widest(seam: PunchedSeam) -> float:
    """The width of a seam's holes: a round one's diameter, a slit's length."""
    shape = seam.stitching.hole
    return shape.diameter if isinstance(shape, RoundHole) else shape.width


def by_piece(seams: Sequence[PunchedSeam]) -> dict[str, list[Entry]]:
    """All holes on each piece that has any, in the order of seams, runs and numbers."""
    found: dict[str, list[Entry]] = {}
    for order, seam in enumerate(seams):
        for layer in seam.layers:
            listed = found.setdefault(layer.piece, [])
            listed.extend(Entry(order, seam, layer, hole) for hole in layer.holes)
    return found
