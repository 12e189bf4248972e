"""Arranging: where the file gives no places, parts are laid on their base, and its size follows from them.

In: a project, some of whose bases are arranged (`rectangle = "arranged"`). Out: up to five ways to lay them,
the best first; the project laid one way, and what is told of it.

What is stated is never moved: a part with an `at`, a piece, a line or an opening on the base lies where it
lies, and the others beside it. Ways are ranked by the base's area; among those that are nearly as small the
large and the heavy lie behind, and fewer things are drawn out over others. See `packing.py` for how they are
found, `grounds.py` for what a part takes.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import ceil, floor

import msgspec

from handkit.draft.arrange.behind import Spare
from handkit.draft.arrange.grounds import GAP, PartGround
from handkit.draft.arrange.lying import faults_of, flap_of, lying_on, margin_of
from handkit.draft.arrange.packing import Lane, PackedBox, Packing, Rectangle, rows
from handkit.draft.arrange.ways import beside_area, unlike_ways
from handkit.findings import Finding, finding
from handkit.geometry.affine import Point
from handkit.geometry.box import Box
from handkit.read.project import Corner, Part, Piece, Project

# What leather gives where a thing is drawn out over what lies beyond its mouth, and what is spare; mm.
GIVES, SPARE = 2.0, 0.75


class Arrangement(msgspec.Struct, frozen=True):
    """One way to lay what is on a base: the base's size, where each part lies, mm; how many parts lie where
    something is drawn out over them; what counts beside the base's area, as a share of it."""

    base: str
    size: Point
    places: tuple[tuple[str, Point], ...]
    over: int = 0
    beside: float = 0.0

    @property
    def area(self) -> float:
        """Of the base, in mm²."""
        return self.size[0] * self.size[1]


class Arranged(msgspec.Struct, frozen=True):
    """A project with all its parts in their places, and what is told of that."""

    project: Project
    findings: tuple[Finding, ...] = ()


def arranged(project: Project) -> Arranged:
    """The project as it is where no base is arranged; else laid in the best way."""
    bases = [piece for piece in project.pieces if piece.arranged]
    if not bases:
        return Arranged(project)
    refused = [told for base in bases for told in faults_of(project, base)]
    ways = [arrangements(project, base)[0] for base in bases]
    told = [
        finding(
            "arranged",
            base.source.at("rectangle"),
            wide=way.size[0],
            high=way.size[1],
            parts=[name for name, _ in way.places],
        )
        for base, way in zip(bases, ways, strict=True)
        if way.places
    ]
    return Arranged(laid(project, ways), tuple(refused or told))


def laid(project: Project, ways: Iterable[Arrangement]) -> Project:
    """A project with its bases and parts as arranged; copies of a base are as large."""
    sizes = {way.base: way.size for way in ways}
    places = {(way.base, name): at for way in ways for name, at in way.places}
    by_name = {piece.name: piece for piece in project.pieces}

    def sized(piece: Piece) -> Piece:
        if piece.name in sizes:
            return msgspec.structs.replace(piece, corners=_corners(piece, sizes[piece.name]), arranged=False)
        original = by_name.get(piece.copy_of or "")
        if original is None:
            return piece
        over = sized(original)
        corners = over.mirror_image().corners if piece.mirrored else over.corners
        return msgspec.structs.replace(piece, corners=corners) if over is not original else piece

    def placed(part: Part) -> Part:
        at = places.get((part.on or "", part.name))
        return part if at is None else msgspec.structs.replace(part, at=at, unplaced=False)

    pieces, parts = tuple(map(sized, project.pieces)), tuple(map(placed, project.parts))
    return msgspec.structs.replace(project, pieces=pieces, parts=parts)


def arrangements(project: Project, base: Piece) -> tuple[Arrangement, ...]:
    """Ways to lay what is on a base, the best first."""
    known = lying_on(project, base)
    raster, hung = _Raster(base.source.units.whole, margin_of(project, base)), flap_of(project, base)
    if not known:
        return (Arrangement(base.name, (2 * raster.edge, 2 * raster.edge), ()),)
    boxes = [raster.box(ground, fixed=fixed, foot=ground.part == hung.closes) for ground, fixed in known]
    free = {ground.part for ground, fixed in known if not fixed}
    off = (raster.margin, hung.lap, hung.sides if all(not fixed for _, fixed in known) else 0.0)
    ways = unlike_ways(boxes, Spare(raster.gap, *map(raster.up, off)))
    grounds = [each for each, _ in known]
    return tuple(raster.arrangement(base.name, grounds, way, free) for way in ways)


def in_one_row(project: Project, base: Piece) -> Arrangement | None:
    """The plain way, to compare with: all parts beside one another as they are written, feet on one line.
    None where anything on the base has its place."""
    known = lying_on(project, base)
    if not known or any(fixed for _, fixed in known):
        return None
    raster = _Raster(base.source.units.whole, margin_of(project, base))
    boxes = [raster.box(ground, fixed=False) for ground, _ in known]
    way = rows(boxes, range(len(boxes)), raster.gap)
    grounds = [each for each, _ in known]
    return raster.arrangement(base.name, grounds, way, {each.part for each in grounds})


class _Raster(msgspec.Struct, frozen=True):
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


def _corners(base: Piece, size: Point) -> tuple[Corner, ...]:
    wide, high = size
    points = ((0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high))
    return tuple(
        msgspec.structs.replace(corner, at=at) for corner, at in zip(base.corners, points, strict=True)
    )
