"""Steps: what parts take, in whole steps, and what was laid on it back in mm.

In: grounds in mm; packings in steps. Out: boxes to be packed; arrangements.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import ceil, floor

import msgspec

from handkit.draft.arrange.grounds import GAP, PartGround
from handkit.draft.arrange.packing import Lane, PackedBox, Packing, Rectangle
from handkit.draft.arrange.ways import beside_area
from handkit.geometry.affine import Point
from handkit.geometry.box import Box

# What leather gives where a thing is drawn out over what lies beyond its mouth, and what is spare; mm.
GIVES, SPARE = 2.0, 0.75


class Arrangement(msgspec.Struct, frozen=True):
    """One way to lay what is on a base: the base's size, where each part lies, mm; how many parts lie where
    something is drawn out over them; what counts beside the base's area, as a share of it. The
    base of one that is `within` is as large as its own part says."""

    base: str
    size: Point
    places: tuple[tuple[str, Point], ...]
    over: int = 0
    beside: float = 0.0
    within: bool = False

    @property
    def area(self) -> float:
        """Of the base, in mm²."""
        return self.size[0] * self.size[1]


class Steps(msgspec.Struct, frozen=True):
    """The raster on which all is laid: its step, and the base's margin, in mm."""

    step: float
    margin: float

    @property
    def gap(self) -> int:
        """Between two boxes, in steps."""
        return self.up(GAP)

    @property
    def edge(self) -> float:
        """The margin in whole steps, mm."""
        return self.up(self.margin) * self.step

    def up(self, length: float) -> int:
        """A length in steps, no less than it is."""
        return ceil(length / self.step - 1e-6)

    def down(self, length: float) -> int:
        """A length in steps, no more than it is."""
        return floor(length / self.step + 1e-6)

    def box(self, ground: PartGround, *, fixed: bool, foot: bool = False) -> PackedBox:
        """A ground in steps, rounded outwards; its frame begins at its lower left corner."""
        left, low = self.down(ground.box.left), self.down(ground.box.bottom)
        lanes = tuple(
            Lane(
                self.down(way.left) - left,
                self.up(way.right) - left,
                self.up(way.mouth) - low,
                self.down(2 * (min(GIVES, way.thick / 2) - SPARE)),
                self.down(way.end) - low,
            )
            for way in ground.ways
        )
        edge = self.up(self.margin)
        return PackedBox(
            self.up(ground.box.right) - left,
            self.up(ground.box.top) - low,
            lanes,
            self.up(ground.stands),
            round(ground.heavy),
            (left - edge, low - edge) if fixed else None,
            self.rectangle(ground.leather or ground.box, left, low),
            tuple(self.rectangle(row, left, low) for row in ground.rows),
            tuple(self.rectangle(thing, left, low) for thing in ground.things),
            ground.behind,
            foot,
            self.up(ground.belt),
            tuple(self.rectangle(each, left, low) for each in ground.bared),
        )

    def rectangle(self, box: Box, left: int, low: int) -> Rectangle:
        """A box in steps, rounded outwards, seen from a place."""
        ends = self.down(box.left) - left, self.down(box.bottom) - low
        return (*ends, self.up(box.right) - left, self.up(box.top) - low)

    def arrangement(
        self, base: str, grounds: Sequence[PartGround], way: Packing, free: Iterable[str]
    ) -> Arrangement:
        """A packing in mm, within its margins; the places of parts that are `free`."""
        edge, places = self.up(self.margin), []
        for ground, (x, y) in zip(grounds, way.places, strict=True):
            if ground.part in free:
                left, low = self.down(ground.box.left), self.down(ground.box.bottom)
                at = ((x + edge - left) * self.step, (y + edge - low) * self.step)
                places.append((ground.part, at))
        size = ((way.wide + 2 * edge) * self.step, (way.high + 2 * edge) * self.step)
        return Arrangement(base, size, tuple(places), way.over, beside_area(way, 2 * edge))
