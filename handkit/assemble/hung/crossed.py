"""Crossed: what stands out where a strap or a tie goes round the shut article.

In: one figure. Out: findings: the strap or tie would lie askew on a cap or a fitting.

How far it holds: what leather covers there is not felt; what the strap is itself closed by is meant.
"""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from handkit.assemble.article import Figure, Leaf
from handkit.assemble.overlap import LEAST, TOUCH, of_regions
from handkit.assemble.standing import cap_words
from handkit.draft.pattern import Pattern
from handkit.findings import Finding, Where, finding
from handkit.geometry.box import Box
from handkit.geometry.region import Region, discs, region_of
from handkit.kinds.fittings import FittingKind


class _Standing(msgspec.Struct, frozen=True):
    """What stands out of a leaf, on the face or the back: while all lies open, or once it is shut."""

    name: str
    words: str
    leaf: Leaf
    region: Region
    on_face: bool
    high: float


class _Round(msgspec.Struct, frozen=True):
    """A strap or tie on one side of the shut article, and the names of what it is closed by."""

    name: str
    where: Where
    region: Region
    on_face: bool
    own: frozenset[str]


def crossed_findings(pattern: Pattern, figure: Figure) -> Iterator[Finding]:
    """Of each strap and tie with each that stands out under it, once."""
    if not (figure.straps or figure.ties):
        return
    told: set[tuple[str, str]] = set()
    standing = [each for one in _standing(figure) for each in _bare(figure, one)]
    for each in _going_round(pattern, figure):
        for other in standing:
            if other.on_face is not each.on_face or other.name in each.own or (each.name, other.name) in told:
                continue
            parting = of_regions(each.region, other.region)
            if parting is not None and parting.deep > LEAST:
                told.add((each.name, other.name))
                sizes = {"high": other.high, "deep": parting.deep}
                yield finding("strap-crossed", each.where, of=each.name, other=other.words, **sizes)


def _going_round(pattern: Pattern, figure: Figure) -> Iterator[_Round]:
    openings = {each.name: each for each in pattern.openings}
    for strap in figure.straps:
        own = {each.name for each in pattern.openings if strap.piece in each.opening.through}
        own |= {each.name for each in pattern.openings if each.opening.mate in own}
        own |= {openings[name].opening.mate or "" for name in own}
        where = openings[strap.slots].source.at("at")
        for paths, on_face in ((strap.over, strap.on_face), ((strap.behind,), not strap.on_face)):
            for path in paths:
                yield _Round(strap.piece, where, region_of(path), on_face, frozenset(own))
    for tie in figure.ties:
        eye = tie.fitting.through
        leaf = figure.body(tie.on).leaves[0]
        if leaf.fold.plan is not None:
            region = region_of(tie.outline).moved(leaf.fold.plan)
            on_face = tie.to_eye is not leaf.fold.turns_over
            yield _Round(tie.fitting.name, openings[eye].source.at("at"), region, on_face, frozenset({eye}))


def _standing(figure: Figure) -> Iterator[_Standing]:
    """Caps and fittings, while all lies open."""
    for cap in figure.caps:
        leaf, words = figure.body(cap.on).leaf_at([cap.at]), cap_words(cap.opening)
        disc = discs([cap.at], cap.radius)
        yield _Standing(cap.opening, words, leaf, disc, cap.to_eye, cap.high - cap.low)
    for each in figure.fittings:
        if each.fitting.kind not in (FittingKind.MAGNET, FittingKind.ZIP):
            region = region_of(each.outline)
            leaf = figure.body(each.on).leaf_at([Box(*region.bounds()).middle])
            yield _Standing(each.fitting.name, each.words, leaf, region, each.to_eye, each.high - each.low)


def _bare(figure: Figure, one: _Standing) -> Iterator[_Standing]:
    """The same once all is shut, where no leaf lies over it."""
    plan = one.leaf.fold.plan
    if plan is None or one.high <= LEAST:
        return
    shut, on_face = one.region.moved(plan), one.on_face is not one.leaf.fold.turns_over
    others = (each for body in figure.bodies for each in body.leaves if body.lies)
    if not any(_covers(each, one.leaf, shut, on_face=on_face) for each in others):
        yield msgspec.structs.replace(one, region=shut, on_face=on_face)


def _covers(other: Leaf, leaf: Leaf, shut: Region, *, on_face: bool) -> bool:
    """Whether another leaf lies over what is shut, towards the side that it stands out to."""
    plan = other.fold.plan
    if plan is None or not (other.level > leaf.level if on_face else other.level < leaf.level):
        return False
    return region_of(other.outline).moved(plan).common(shut).area > TOUCH
