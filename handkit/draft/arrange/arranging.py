"""Arranging: where the file gives no places, parts are laid on their base, and its size follows from them.

In: a project, some of whose bases are arranged (`rectangle = "arranged"`). A cover that a part drafts keeps
its size (`on_leaves.py`). Out: up to five ways to lay them,
the best first; the project laid one way, and what is told of it.

What is stated is never moved: a part with an `at`, a piece, a line or an opening on the base lies where it
lies, and the others beside it. Ways are ranked by the base's area; among those that are nearly as small the
large and the heavy lie behind, and fewer things are drawn out over others. See `packing.py` for how they are
found, `grounds.py` for what a part takes.
"""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from handkit.draft.arrange.behind import Spare
from handkit.draft.arrange.lying import faults_of, flap_of, lying_on, margin_of
from handkit.draft.arrange.on_leaves import on_leaves, ways_on_leaves
from handkit.draft.arrange.packing import rows
from handkit.draft.arrange.steps import Arrangement, Steps
from handkit.draft.arrange.ways import MOST_WAYS, unlike_ways
from handkit.findings import Finding, finding
from handkit.geometry.affine import Point
from handkit.read.project import Corner, Part, Piece, Project


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
    drafted = {base.name: on_leaves(project, base) for base in bases if base.drafted_by}
    refused += [told for each in drafted.values() for told in each.faults]
    ways = [
        drafted[base.name].way if base.name in drafted else arrangements(project, base)[0] for base in bases
    ]
    told = [
        finding(
            "arranged/leaves" if way.within else "arranged",
            base.source.at("rectangle"),
            wide=way.size[0],
            high=way.size[1],
            base=base.name,
            parts=[name for name, _ in way.places],
        )
        for base, way in zip(bases, ways, strict=True)
        if way.places
    ]
    return Arranged(laid(project, ways), tuple(refused or told))


def laid(project: Project, ways: Iterable[Arrangement]) -> Project:
    """A project with its bases and parts as arranged; copies of a base are as large."""
    ways = tuple(ways)
    sizes = {way.base: way.size for way in ways if not way.within}
    places = {(way.base, name): at for way in ways for name, at in way.places}
    by_name = {piece.name: piece for piece in project.pieces}

    def sized(piece: Piece) -> Piece:
        if piece.arranged and piece.drafted_by:
            return msgspec.structs.replace(piece, arranged=False)
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
    if base.drafted_by:
        return ways_on_leaves(project, base, MOST_WAYS)
    known = lying_on(project, base)
    raster, hung = Steps(base.source.units.whole, margin_of(project, base)), flap_of(project, base)
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
    raster = Steps(base.source.units.whole, margin_of(project, base))
    boxes = [raster.box(ground, fixed=False) for ground, _ in known]
    way = rows(boxes, range(len(boxes)), raster.gap)
    grounds = [each for each, _ in known]
    return raster.arrangement(base.name, grounds, way, {each.part for each in grounds})


def _corners(base: Piece, size: Point) -> tuple[Corner, ...]:
    wide, high = size
    points = ((0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high))
    return tuple(
        msgspec.structs.replace(corner, at=at) for corner, at in zip(base.corners, points, strict=True)
    )
