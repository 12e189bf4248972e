"""Bare: thread and metal that a blade is drawn past, with no leather over them.

In: one figure, its clashes. Out: a finding for each; what clashes with the blade is told already.

A blade is drawn out of its sheath along the inner side of the leaf that it lies on, straight, until its point
is at the mouth: all of that leaf that it passes is its *way*. Its edge cuts thread that it passes, and the
row lets go later. So no thread and no metal stands bare there, or so near beside that a hand strays as far.
What lies under leather that is held down is not bare, nor is what a welt keeps from the edge below the mouth.

How far it holds: a blade is what a sheath holds, and its way that of the blade, not of its handle. Which side
of it is sharp does not count: its point passes all its width. Over what stands beyond the leaf it is tipped
(`beyond.py`).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import msgspec

from handkit.assemble.article import Clash, Figure, Owner
from handkit.assemble.drawn import swept
from handkit.assemble.sight import Sight
from handkit.assemble.standing import standing_out
from handkit.draft.pattern import Pattern
from handkit.findings import Finding, Source, finding
from handkit.geometry.affine import Point
from handkit.geometry.laid.heights import Heights
from handkit.geometry.region import Region, disc, region_of
from handkit.kinds.fittings import FittingKind
from handkit.read.project import PartKind
from handkit.tolerances import SAGITTA, SAME_POINT

# So far beside a blade's way thread and metal keep, mm: common practice, no source.
CLEAR = 5.0


class _Bare(msgspec.Struct, frozen=True):
    """What a blade passes: as the maker knows it, whose it is, how far off the way, where."""

    other: str
    owner: Owner
    near: float
    at: Point


def bare_findings(
    pattern: Pattern, figure: Figure, heights: Heights, clashes: Sequence[Clash]
) -> Iterator[Finding]:
    """Of a figure's blades, each thing that one passes told once, by its nearest place."""
    sheaths = {part.name for part in pattern.project.parts if part.kind is PartKind.SHEATH}
    for thing in figure.things:
        if thing.room.part not in sheaths or thing.is_handle:
            continue
        sight, nearest = Sight(pattern, figure, heights, thing), dict[str, _Bare]()
        for bare in (*_standing(sight), *_fittings(sight)):
            if bare.other not in nearest or bare.near < nearest[bare.other].near:
                nearest[bare.other] = bare
        told = {clash.other for clash in clashes if clash.words == thing.words}
        for bare in nearest.values():
            if bare.other not in told:
                key = "blade-passes/beside" if bare.near > SAME_POINT else "blade-passes"
                where = _source(pattern, bare.owner).at()
                place = {"near": bare.near, "at": bare.at, "base": figure.base, "clear": CLEAR}
                yield finding(key, where, of=thing.item, other=bare.other, **place)


def _standing(sight: Sight) -> Iterator[_Bare]:
    """Thread, caps and magnets on the face that the blade slides on, or on what lies on that."""
    way = swept(sight.thing)
    for what in standing_out(sight.pattern, sight.figure, sight.out):
        level = max(sight.level(piece) for piece in what.through)
        if not what.outwards or what.shut or level < sight.floor:
            continue
        over = _over(sight, level)
        for at in what.points:
            near = way.distance(disc(at, what.radius))
            covered = any(each.contains(at) for each in over)
            if near < CLEAR - SAME_POINT and not covered and _met(sight, at, level):
                yield _Bare(what.other, what.owner, near, at)


def _fittings(sight: Sight) -> Iterator[_Bare]:
    """Bars, buckles, tapes; magnets stand out like caps."""
    way, floor = swept(sight.thing), sight.bottom()
    for fitting in sight.figure.fittings:
        level = sight.level(fitting.on)
        high = max(fitting.low * sight.out, fitting.high * sight.out) > floor + SAME_POINT
        if fitting.fitting.kind is FittingKind.MAGNET or level < sight.floor or not high:
            continue
        area = region_of(fitting.outline)
        for over in _over(sight, level):
            area = area.without(over)
        if not area.empty and (near := way.distance(area)) < CLEAR - SAME_POINT:
            at = area.nearest(way)[0]
            if _met(sight, at, level):
                yield _Bare(fitting.words, fitting.owner, near, at)


def _met(sight: Sight, at: Point, level: int) -> bool:
    """Whether it is on the leaf that the blade lies on, and not on what is folded away from it; below the
    mouth only what is on the leaf itself, and not on a welt."""
    thing, leaf = sight.thing, sight.figure.body(sight.thing.floor)
    home = leaf.leaf_at(thing.outline.flattened(sagitta=SAGITTA))
    if not sight.heights.covers(leaf.name, at) or leaf.leaf_at([at]) != home:
        return False
    _, y = thing.lie.inverse().apply(at)
    return level == sight.floor or y > thing.room.place.bounds()[3] - SAME_POINT


def _over(sight: Sight, level: int) -> list[Region]:
    """Where leather is held down over what stands on so many others."""
    found = []
    for body in sight.figure.bodies:
        if sight.level(body.name) > level and body.name != sight.thing.room.cover:
            region = sight.pinned(body)
            found += [region] if region is not None else []
    return found


def _source(pattern: Pattern, owner: Owner) -> Source:
    """Where it stands in the file."""
    kind, name = owner
    if kind == "seam":
        return next(each.source for each in pattern.project.seams if each.name == name)
    if kind == "opening":
        return next(each.source for each in pattern.project.openings if each.name == name)
    return next(each.source for each in pattern.project.fittings if each.name == name)
