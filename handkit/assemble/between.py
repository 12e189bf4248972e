"""Between leaves: what lies in a fold once it is shut, and has no room there.

In: one figure. Out: a `Clash` for each two leaves that come to lie over one another with more between them
than their folds give room for: of all that is too high there, what is so by most.

Words: a *pile* is a leaf of a folded piece, or a base, with all that lies on either face of it. What *rises*
from it stands out of it towards another: a thing with what lies on it, a cap, a fitting, a magnet, all
*stiff*; or what lies flat there alone. Two leaves are *walled* where a panel stands between them: then they
keep their distance; else one drapes over what lies on the other, and only what is stiff on both is in the
way. A *welt* is sewn between both leaves of a piece, and is in the way of what lies between them.

How far it holds: leaves that lie parallel and next to each other; a cover is pulled tight over what it holds,
a box stands. Magnets are meant to meet, and the halves of a snap; caps in one place are those of one post.
Thread sinks in.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import msgspec

from handkit.assemble.article import Body, BodyKind, Clash, Figure, Leaf, Thing
from handkit.assemble.overlap import LEAST, TOUCH, of_regions
from handkit.assemble.standing import cap_words
from handkit.draft.pattern import Pattern
from handkit.geometry.affine import Point
from handkit.geometry.box import Box, box_of
from handkit.geometry.laid.heights import Heights
from handkit.geometry.region import Region, discs, region_of
from handkit.geometry.straight import distance
from handkit.grouping import grouped
from handkit.kinds.fittings import FittingKind
from handkit.tolerances import FOLDED_OVER

# The bends that a leaf lies beyond: their piece, their place among its folds, their angle.
_Bends = frozenset[tuple[str, int, float]]


class _Pile(msgspec.Struct, frozen=True):
    """A leaf, the heights of its faces once all is folded, and the bends that it lies beyond."""

    leaf: Leaf
    low: float
    high: float
    bends: _Bends


class _Rising(msgspec.Struct, frozen=True):
    """What rises from a pile, towards the eye (`up`) or away from it, and its plan, once all is folded.

    `end` is how far it reaches off the middle of its pile's leather; where there is a `body`, that tells it
    place by place.
    """

    kind: str  # one of `_KINDS`
    name: str
    leaf: Leaf
    up: bool
    region: Region
    end: float = 0.0
    body: str = ""
    of: str = ""  # the piece that hardware stands on
    said: str = ""  # as findings name a thing

    @property
    def words(self) -> str:
        """As it is told."""
        return cap_words(self.name) if self.kind == "cap" else self.said or f'"{self.name}"'


# In which order two are told.
_KINDS = ("thing", "cap", "fitting", "magnet", "welt", "leather")


def clashes_between(pattern: Pattern, figure: Figure, heights: Heights) -> Iterator[Clash]:
    """Of each two leaves of a figure that lie next to each other once all is folded."""
    if all(len(body.leaves) == 1 for body in figure.bodies):
        return
    piles = sorted(_piles(figure), key=lambda pile: pile.low + pile.high)
    rising = (*_things(figure, heights), *_hardware(figure, heights), *_leather(figure, welts_of(pattern)))
    by_face = grouped(rising, by=lambda one: (one.leaf.on, one.up))
    mates = {frozenset((each.name, each.opening.mate or "")) for each in pattern.openings}
    covers = {each.opening.mate: each.opening.through for each in pattern.openings}
    on = {each.name: each.leaf.on for each in rising if each.kind == "cap"}
    mates |= {  # what stands under the piece that a cap's other half is set in meets no cap on that leaf
        frozenset((thing.item, cap))
        for name, leaf in on.items()
        for thing in figure.things
        if thing.room.cover in covers.get(name, ())
        for cap in on
        if on[cap] == leaf
    }
    shut = {
        frozenset((on[name], on[mate])) for both in mates if both <= on.keys() for name, mate in [tuple(both)]
    }
    for k, upper in enumerate(piles):
        for j, lower in enumerate(piles[:k]):
            bends = lower.bends ^ upper.bends
            # a leaf on one bend that a snap shuts is lifted by what it closes: closing tells of it
            lifts = not _walled(bends) and frozenset((lower.leaf.on, upper.leaf.on)) in shut
            clashes = [
                clash
                for one in by_face.get((lower.leaf.on, True), ())
                for other in by_face.get((upper.leaf.on, False), ())
                if bends
                and _matters((one, other), bends)
                and frozenset((one.name, other.name)) not in mates
                and not (lifts and "cap" in (one.kind, other.kind))
                if (clash := _clash(figure, heights, (lower, upper), (one, other), piles[j + 1 : k]))
            ]
            if clashes:
                yield max(clashes, key=lambda clash: clash.high)


def _piles(figure: Figure) -> Iterator[_Pile]:
    """What lies parallel to the base once all is folded."""
    beyond: dict[tuple[str, int], _Bends] = {}
    for body in sorted(figure.bodies, key=lambda body: body.piece.depth):
        piece = body.piece
        under = beyond.get((piece.on or "", piece.panel), frozenset())
        for k, (leaf, panel) in enumerate(zip(body.leaves, piece.panels, strict=False)):
            own = (piece.name, k)
            beyond[own] = under | {(piece.name, bend, piece.bends[bend].degrees) for bend in panel.beyond}
            if leaf.on == own and leaf.fold.plan is not None:
                half = piece.thickness / 2
                yield _Pile(leaf, leaf.middle - half, leaf.middle + half, beyond[own])


def shut_plan(leaf: Leaf, region: Region) -> Region:
    """A plan of the open figure on a leaf, once all is folded."""
    lie = leaf.fold.plan
    assert lie is not None  # nothing is asked of what stands at an angle
    return region.moved(lie)


def _walled(bends: _Bends) -> bool:
    return any(abs(degrees) < FOLDED_OVER for *_, degrees in bends)


def _matters(both: tuple[_Rising, _Rising], bends: _Bends) -> bool:
    """Whether two that meet over some bends are in each other's way: not magnets, nor what drapes, nor what a
    fold goes round."""
    kinds = {each.kind for each in both}
    if any(each.kind == "fitting" and {name for name, *_ in bends} == {each.of} for each in both):
        return False
    if "welt" in kinds:
        return "thing" in kinds
    if "leather" in kinds:
        return "thing" in kinds and _walled(bends)
    if kinds == {"cap"}:  # two that come to lie in one place are one post through both leaves
        one, other = (Box(*each.region.bounds()).middle for each in both)
        return distance(one, other) > LEAST
    return kinds != {"magnet"}


def _clash(
    figure: Figure,
    heights: Heights,
    piles: tuple[_Pile, _Pile],
    both: tuple[_Rising, _Rising],
    between: Sequence[_Pile],
) -> Clash | None:
    """What rises from the lower pile with what comes down on it from the upper one; None where there is room,
    or another leaf lies between."""
    (lower, upper), (one, other) = piles, both
    parting = of_regions(one.region, other.region)
    if parting is None or parting.deep <= LEAST:
        return None
    common, bends = one.region.common(other.region), lower.bends ^ upper.bends
    high = max(_ends(heights, one, common)) - min(_ends(heights, other, common))
    leaves = (shut_plan(pile.leaf, region_of(pile.leaf.outline)) for pile in between)
    if high <= LEAST or any(leaf.common(common).area > TOUCH for leaf in leaves):
        return None
    first, second = sorted(both, key=lambda each: _KINDS.index(each.kind))
    key = "clash/leaves" if _walled(bends) else "clash/leaves-bend"
    told = f"{first.words} and {second.words}"
    if second.kind == "welt":
        key = "clash/welt"
    elif second.kind == "leather":
        key, told = "clash/leaf", first.words
    items = tuple(each.name for each in (first, second) if each.kind == "thing")
    folded, room = min(bends)[0], upper.low - lower.high
    return Clash(key, folded, told, parting.deep, high, "", parting.at, figure.base, items, room)


def _ends(heights: Heights, one: _Rising, common: Region) -> Iterator[float]:
    """How high and how low it reaches where it meets something, z once all is folded."""
    if not one.body:
        yield one.leaf.middle + (one.end if one.up else -one.end)
        return
    back = one.leaf.fold.inverse().plan
    assert back is not None  # as in `shut_plan`
    corners = [at for ring in common.rings() for at in ring]
    for at in back.apply_all([*corners, Box(*common.bounds()).middle]):
        ends = (_off(heights, one.leaf, z, at) for z in heights.span(one.body, at))
        yield from (one.leaf.middle + (-off if one.leaf.fold.turns_over else off) for off in ends)


def _off(heights: Heights, leaf: Leaf, z: float, at: Point) -> float:
    """How far a height of the open figure is off the middle of a leaf's pile there, towards the eye."""
    return z - sum(heights.span(leaf.on[0], at)) / 2


def welts_of(pattern: Pattern) -> frozenset[str]:
    """The pieces that a seam holds between both leaves of another."""
    found: set[str] = set()
    for seam in pattern.seams:
        names = [run.piece for run in seam.runs]
        ordered = [names[k] for k in seam.face_to_back]
        for name in {each for each in names if names.count(each) > 1}:
            first, last = ordered.index(name), len(ordered) - 1 - ordered[::-1].index(name)
            found.update(set(ordered[first:last]) - {name})
    return frozenset(found)


def _leather(figure: Figure, welts: frozenset[str]) -> Iterator[_Rising]:
    """What lies flat, on the side of its pile that it is on; of the pile's own leaf both."""
    for body in figure.bodies:
        for leaf in body.leaves if body.kind is BodyKind.FLAT else ():
            if leaf.fold.plan is not None:
                level, plan = body.level - figure.body(leaf.on[0]).level, region_of(leaf.outline)
                for out in [-1, 1] if leaf.on[0] == body.name else [level]:
                    up = (out > 0) is not leaf.fold.turns_over
                    kind = "welt" if body.name in welts else "leather"
                    yield _Rising(kind, body.name, leaf, up, shut_plan(leaf, plan), body=body.name)


def _things(figure: Figure, heights: Heights) -> Iterator[_Rising]:
    """Each thing, and what lies over it."""
    for thing in figure.things:
        corners, region = thing.seat, region_of(thing.outline)
        leaf = figure.body(thing.room.base).leaf_at(corners)
        if leaf.fold.plan is None:
            continue
        off, top = (_off(heights, leaf, z, box_of(corners).middle) for z in (thing.low, thing.high))
        up, end = (off > 0) is not leaf.fold.turns_over, max(-off, top)
        bare = _Rising("thing", thing.item, leaf, up, shut_plan(leaf, region), end, said=thing.words)
        yield bare
        for body in figure.bodies:
            stands = body.kind in (BodyKind.FLAT, BodyKind.STANDING)
            over = region.common(heights.region(body.name)) if stands else None
            if over is not None and not over.empty and body.leaf_at(corners).on == leaf.on:
                yield from (
                    msgspec.structs.replace(bare, region=shut_plan(leaf, over), end=end + thick, body=name)
                    for thick, name in _over(figure, thing, body, 1 if off > 0 else -1)
                )


def _over(figure: Figure, thing: Thing, body: Body, out: int) -> Iterator[tuple[float, str]]:
    """How thick a body is over a thing, where it lies there, or by which body that is told."""
    cover = figure.body(thing.room.cover)
    if thing.room.folded and body is cover:
        return
    if body is not cover:
        if body.kind is BodyKind.FLAT and (body.level - cover.level) * out > 0:
            yield (0.0, body.name)
    elif thing.room.wall is not None:
        yield (0.0, body.name)
    else:
        floor = figure.body(thing.floor).level
        lining = (
            each.piece.thickness
            for each in figure.bodies
            if each.piece.on == cover.name and floor * out < each.level * out < cover.level * out
        )
        yield (body.piece.thickness + sum(lining), "")


def _hardware(figure: Figure, heights: Heights) -> Iterator[_Rising]:
    """Caps, fittings and magnets."""
    caps = (
        ("cap", cap.opening, cap.on, discs([cap.at], cap.radius), (cap.low, cap.high), cap.to_eye)
        for cap in figure.caps
    )
    fittings = (
        (
            "magnet" if each.fitting.kind is FittingKind.MAGNET else "fitting",
            each.fitting.name,
            each.on,
            region_of(each.outline),
            (each.low, each.high),
            each.to_eye,
        )
        for each in figure.fittings
    )
    for kind, name, on, plan, ends, to_eye in (*caps, *fittings):
        at = Box(*plan.bounds()).middle
        leaf = figure.body(on).leaf_at([at])
        if leaf.fold.plan is not None:
            low, high = (_off(heights, leaf, z, at) for z in ends)
            up, end = to_eye is not leaf.fold.turns_over, high if to_eye else -low
            yield _Rising(kind, name, leaf, up, shut_plan(leaf, plan), end, of=on)
