"""Bare: thread and metal that a blade is drawn past, with no leather over them.

In: one figure, its clashes. Out: a finding for each; what clashes with the blade is told already.

A blade is drawn out of its sheath along the inner side of the leaf that it lies on, straight, until its point
is at the mouth: all that it passes is its *way*. Its edge cuts thread that it passes, and the row lets go
later. So no thread and no metal stands bare there, or so near beside (`BLADE_CLEAR`) that a hand strays so.
Beyond the mouth a blade leans besides, by its *play*, the ease that it has in its sheath: while half of it is
still in,

     near = BLADE_CLEAR + d · play ÷ (length ÷ 2)      d from the mouth to what stands there

What lies under leather that is held down is not bare, nor is what a welt keeps from the edge below the mouth.
A row that holds both leaves there without one is told however far off it is: the blade shifts towards it.
Beyond the leaf, where nothing parts the blade from what its sheath hangs on, that counts however low it lies.

How far it holds: a blade is what a sheath holds, or a room of the file's own pieces, and its way that of the
blade, not of its handle. Which side of it is sharp does not count: its point passes all its width. What lies
beyond a fold of the base is laid open.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import inf

import msgspec

from handkit.assemble.article import Clash, Figure, Owner
from handkit.assemble.between import welts_of
from handkit.assemble.drawn import swept
from handkit.assemble.sight import Sight
from handkit.assemble.standing import StandingOut, standing_out
from handkit.draft.pattern import Pattern
from handkit.findings import Finding, Source, finding
from handkit.geometry.affine import Point
from handkit.geometry.laid.heights import Heights
from handkit.geometry.region import Region, disc, region_of
from handkit.kinds.fittings import FittingKind
from handkit.read.project import PartKind
from handkit.tolerances import BLADE_CLEAR, BLADE_PLAY, SAGITTA, SAME_POINT, blade_clear


class _Bare(msgspec.Struct, frozen=True):
    """What a blade passes: as the maker knows it, whose it is, how far off the way, where; how far beyond the
    mouth, and how far off it would be clear there, infinite where nothing keeps the blade from it; the pieces
    that it is in, as findings name them."""

    other: str
    owner: Owner
    near: float
    at: Point
    beyond: float
    clear: float
    pieces: tuple[str, ...]

    @property
    def key(self) -> str:
        """The row that tells it."""
        if self.clear == inf:
            return "blade-passes/unwelted"
        if self.near <= SAME_POINT:
            return "blade-passes"
        return "blade-passes/beyond" if self.clear > BLADE_CLEAR + SAME_POINT else "blade-passes/beside"


def bare_findings(
    pattern: Pattern, figure: Figure, heights: Heights, clashes: Sequence[Clash]
) -> Iterator[Finding]:
    """Of a figure's blades, each thing that one passes told once, by its nearest place."""
    blades = set(_blades(pattern))
    for thing in figure.things:
        if (thing.room.part, thing.item) not in blades or thing.is_handle:
            continue
        sight, nearest = Sight(pattern, figure, heights, thing), dict[str, _Bare]()
        for bare in (*_standing(sight), *_fittings(sight)):
            if bare.other not in nearest or bare.near < nearest[bare.other].near - SAME_POINT:
                nearest[bare.other] = bare
        own = [clash for clash in clashes if clash.of == thing.item]  # its handle's, too
        told = {clash.other for clash in own if clash.words == thing.words}
        for bare in nearest.values():
            if bare.other not in told and not {clash.other for clash in own}.intersection(bare.pieces):
                where = _source(pattern, bare.owner).at()
                clear = bare.clear if bare.key.endswith("beyond") else BLADE_CLEAR
                place = {"near": bare.near, "at": bare.at, "base": figure.base, "clear": clear}
                told_of = {"of": thing.item, "other": bare.other, "beyond": bare.beyond}
                yield finding(bare.key, where, **told_of, **place)


def _blades(pattern: Pattern) -> Iterator[tuple[str, str]]:
    """What lies with a bare edge between leaves: the parts and their things."""
    kinds = {part.name: part.kind for part in pattern.project.parts}
    for item in pattern.project.items:
        kind = kinds.get(item.held_by)
        if kind is PartKind.SHEATH or (kind is PartKind.ROOM and item.cuts):
            yield item.held_by, item.name


def _standing(sight: Sight) -> Iterator[_Bare]:
    """Thread, caps and magnets on the face that the blade slides on, or on what lies on that."""
    way, kept = swept(sight.thing), _welted(sight)
    for what in standing_out(sight.pattern, sight.figure, sight.out):
        if not what.outwards or what.shut:
            continue
        levels = [sight.level(piece) for piece in what.through]
        under = [level for level in levels if level < sight.cover]
        covered = _covered(sight, max(levels), what.points)
        on_leaf, binds = max(under, default=None) == sight.floor, _binds(sight, what)
        for number, at in enumerate(what.points, what.first):
            inside = on_leaf and (what.name, number) not in kept
            beyond, clear = _clear(sight, at, shifts=binds and inside)
            if number - what.first in covered or _far(way, at, clear + 2 * what.radius):
                continue
            near = way.distance(disc(at, what.radius))
            if near < clear - SAME_POINT and _met(sight, at, max(levels), inside):
                yield _Bare(what.other, what.owner, near, at, beyond, clear, what.pieces)


def _far(way: Region, at: Point, off: float) -> bool:
    """Whether a place is at least so far off a way, as is told at once of most."""
    left, bottom, right, top = way.bounds()
    return max(left - at[0], at[0] - right, bottom - at[1], at[1] - top) >= off


def _covered(sight: Sight, level: int, points: Sequence[Point]) -> frozenset[int]:
    """Which of some points, by their index, leather is held down over that stand on so many others."""
    everything = frozenset(range(len(points)))
    return frozenset().union(*(everything - over.outside(points) for over in _over(sight, level)))


def _binds(sight: Sight, what: StandingOut) -> bool:
    """Whether it is thread that holds both leaves round a blade together."""
    leaves = [piece for piece in what.through if piece in (sight.thing.floor, sight.thing.room.cover)]
    return what.kind == "row" and len(leaves) > 1


def _welted(sight: Sight) -> frozenset[tuple[str, int]]:
    """The holes that go through a welt between leaves, by seam and number: on the leaf that it does not lie
    on while that is open, it lies there once all is folded."""
    welts = welts_of(sight.pattern)
    return frozenset(
        (row.seam, row.first + k)
        for row in sight.figure.rows
        if welts.intersection(row.pieces)
        for k in range(len(row.front))
    )


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
        if not area.empty:
            near, at = way.distance(area), area.nearest(way)[0]
            bare = _Bare(fitting.words, fitting.owner, near, at, *_clear(sight, at), (f'"{fitting.on}"',))
            if near < bare.clear - SAME_POINT and _met(sight, at, level, level == sight.floor):
                yield bare


def _clear(sight: Sight, at: Point, *, shifts: bool = False) -> tuple[float, float]:
    """How far a place is beyond the mouth, and how far off the blade's way it would be clear there: nowhere
    below it, where the blade `shifts` towards it."""
    _, low, _, high = sight.thing.held.outline.bounds()
    beyond = max(_above_mouth(sight, at), 0.0)
    if shifts and not beyond:
        return beyond, inf
    return beyond, blade_clear(beyond, 2 * sight.gap or BLADE_PLAY, high - low)


def _above_mouth(sight: Sight, at: Point) -> float:
    _, y = sight.thing.lie.inverse().apply(at)
    return y - sight.thing.room.place.bounds()[3]


def _met(sight: Sight, at: Point, level: int, on_leaf: bool) -> bool:
    """Whether it is on the leaf that the blade lies on, and not on what is folded away from it, or beyond
    that; below the mouth only what is `on_leaf` itself, and not on a welt."""
    thing, leaf = sight.thing, sight.figure.body(sight.thing.floor)
    above = _above_mouth(sight, at) > -SAME_POINT
    if not sight.heights.covers(leaf.name, at):
        return above and not sight.beyond_fold(at)
    home = leaf.leaf_at(thing.outline.flattened(sagitta=SAGITTA))
    if level < sight.floor or leaf.leaf_at([at]) != home:
        return False
    return above or on_leaf


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
