"""Seam holes: every stitch hole with the seam and layer it belongs to, by piece, and its true shape."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, hypot, radians, sin

import msgspec

from handkit.draft.pattern import Run
from handkit.findings import Where
from handkit.geometry.affine import Point
from handkit.geometry.capsule import Capsule
from handkit.punch.punched import Hole, PunchedLayer, PunchedSeam
from handkit.wording.quoting import quoted


class SeamHole(msgspec.Struct, frozen=True):
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
    def at(self) -> Point:
        """Where it is."""
        return self.hole.at

    @property
    def shape(self) -> Capsule:
        """Its true shape: a round hole, or a slit as a line."""
        half = self.seam.stitching.hole.width / 2
        if self.hole.slit_degrees is None:
            return Capsule(self.at, self.at, half)
        return Capsule.about(self.at, half=half, degrees=self.hole.slit_degrees, radius=0.0)

    def width_towards(self, point: Point) -> float:
        """How wide it is in the direction of a point: a slit's projection, at least its thread.

        A slit that is sewn stands open by its thread, also across its length.
        """
        stitching, degrees = self.seam.stitching, self.hole.slit_degrees
        dx, dy = point[0] - self.at[0], point[1] - self.at[1]
        size = hypot(dx, dy)
        if degrees is None or not size:
            return stitching.hole.width
        share = abs(dx * cos(radians(degrees)) + dy * sin(radians(degrees))) / size
        return max(stitching.hole.width * share, stitching.thread)


def at_part(seam: PunchedSeam) -> Where:
    """Where the part stands that drafts a seam; the seam itself where none does."""
    part, where = seam.pattern.seam.part, seam.source.at()
    return where if part is None else msgspec.structs.replace(where, key=f"part {quoted(part)}")


def of_parts(*names: str | None) -> str:
    """How two parts lie, as findings that follow from it name it."""
    return f"parts {' and '.join(sorted(map(str, names)))}"


def by_piece(seams: Sequence[PunchedSeam]) -> dict[str, list[SeamHole]]:
    """All holes on each piece that has any, in the order of seams, runs and numbers."""
    found: dict[str, list[SeamHole]] = {}
    for order, seam in enumerate(seams):
        for layer in seam.layers:
            listed = found.setdefault(layer.piece, [])
            listed.extend(SeamHole(order, seam, layer, hole) for hole in layer.holes)
    return found
