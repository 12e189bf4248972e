"""Stacking: what lies in one seam must meet, and what lies between must be in it.

In: the pattern and its seams with their holes. Out: findings. All mm.

Words: layers lie *flat* in one root when their places are known in one frame; there their holes
must coincide. A piece between two layers of a seam, or of a rivet, is pierced by it, whether it is
named or not. Where pieces are folded, each leaf is a layer of its own.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from math import hypot

import msgspec

from handkit.draft.pattern import Pattern, PatternOpening, PatternPiece, Run
from handkit.findings import NOWHERE, Finding, Where, finding
from handkit.geometry.affine import Affine, Point
from handkit.geometry.path import Path
from handkit.geometry.region import region_of
from handkit.geometry.straight import distance
from handkit.grouping import grouped
from handkit.punch.checks.seam_holes import at_part, of_parts
from handkit.punch.punched import PunchedLayer, PunchedSeam
from handkit.tolerances import COINCIDE
from handkit.units import without_noise


def stacking_findings(pattern: Pattern, seams: Sequence[PunchedSeam]) -> tuple[Finding, ...]:
    """Layers that miss one another, and pieces pierced unnamed, by a seam or an opening."""
    findings: list[Finding] = []
    for seam in seams:
        findings.extend((*_missed(pattern, seam), *_leaves_missed(pattern, seam)))
        findings.extend(_pierced(pattern, list(_of_seam(pattern, seam))))
    for opening in pattern.openings:
        findings.extend(_pierced(pattern, list(_of_opening(pattern, opening))))
    return tuple(findings)


# A hole's number and its place.
Numbered = tuple[int, Point]


class _Offset(msgspec.Struct, frozen=True):
    """How far two layers' holes lie apart at most, once laid in place, and at which hole."""

    number: int
    apart: float
    backwards: float  # the same with one layer's holes counted from the other end


def _missed(pattern: Pattern, seam: PunchedSeam) -> list[Finding]:
    """Stated runs on pieces that lie flat in one root and do not coincide.

    Of a piece that is in the seam twice (a fold-over) one run must meet the others.
    """
    stated = (layer for layer in seam.layers if seam.run_of(layer).path is not None)
    rows = grouped(stated, by=lambda layer: layer.piece)
    findings: list[Finding] = []
    pieces = list(rows)
    for at, name in enumerate(pieces):
        other = next((p for p in pieces[:at] if pattern.carry(p, name) is not None), None)
        if other is None:
            continue
        lie = pattern.carry(other, name) or Affine()
        pairs = [(a, b, _offset(a, b, lie, closed=seam.closed)) for a in rows[other] for b in rows[name]]
        first, second, offset = min(pairs, key=lambda pair: pair[2].apart)
        if offset.apart > COINCIDE:
            lies = f"how {other} lies on {name}"  # one place that is wrong parts all seams of both
            missed = _miss(seam, first, second, offset)
            findings.append(missed.following(seam.source.path, lies).spoiling(lies))
    return findings


def _offset(first: PunchedLayer, second: PunchedLayer, lie: Affine, *, closed: bool) -> _Offset:
    """Between two layers with the map from the first's frame to the second's."""
    here = [lie.apply(hole.at) for hole in first.holes]
    there = [hole.at for hole in second.holes]
    number, apart = _farthest(here, there)
    turned = [there[0], *there[:0:-1]] if closed else there[::-1]
    return _Offset(number, apart, _farthest(here, turned)[1])


def _farthest(here: Sequence[Point], there: Sequence[Point]) -> tuple[int, float]:
    """The number of the hole that is farthest off, and by how much."""
    off = [without_noise(hypot(b[0] - a[0], b[1] - a[1])) for a, b in zip(here, there, strict=True)]
    return off.index(max(off)) + 1, max(off)


def _crosswise(run: Run, told: dict[str, object]) -> Finding:
    """The finding about a run that would meet if it ran the other way."""
    if not re.fullmatch(r"[A-Z]+(-[A-Z]+)+", run.text):  # a line
        return finding("layers-do-not-meet/backwards-line", run.source.at(), **told)
    meant = f"{run.piece}: {'-'.join(reversed(run.text.split('-')))}"
    return finding("layers-do-not-meet/backwards", run.source.at(), **told, meant=meant)


def _miss(seam: PunchedSeam, first: PunchedLayer, second: PunchedLayer, offset: _Offset) -> Finding:
    one, other = (seam.run_of(layer) for layer in (first, second))
    told: dict[str, object] = {
        "number": offset.number,
        "run": other.label,
        "apart": offset.apart,
        "other": one.label,
        "most": COINCIDE,
    }
    if offset.backwards <= COINCIDE:
        missed = _crosswise(other, told)
    else:
        missed = finding("layers-do-not-meet", other.source.at(), **told, piece=second.piece)
    return missed.at_holes(seam.name, [offset.number], second.piece)


def _leaves_missed(pattern: Pattern, seam: PunchedSeam) -> Iterator[Finding]:
    """Stated runs on leaves of one piece that do not coincide once it is folded; a seam that is bowed stands
    off.
    """
    stated = [layer for layer in seam.layers if seam.run_of(layer).path is not None]
    for name, layers in grouped(stated, by=lambda layer: layer.piece).items():
        piece = pattern.piece(name)
        if len(layers) < 2 or not piece.bends or seam.pattern.seam.bowed:
            continue
        first = layers[0]
        for second in layers[1:]:
            ends = [hole.at for hole in second.holes]
            off = _over_leaf(piece, first, ends)
            number, apart = max(off, key=lambda pair: pair[1], default=(0, 0.0))
            if apart <= COINCIDE:
                continue
            turned = [ends[0], *ends[:0:-1]] if seam.closed else ends[::-1]
            back = _over_leaf(piece, first, turned)
            key = "leaves-do-not-meet"
            if len(back) == len(off) and max(each for _, each in back) <= COINCIDE:
                key = "leaves-do-not-meet/backwards"
            one, other = seam.run_of(first), seam.run_of(second)
            told = {"number": number, "run": other.label, "other": one.label, "piece": name}
            missed = finding(key, other.source.at(), **told, apart=apart, most=COINCIDE)
            yield missed.at_holes(seam.name, [number], name)


def _over_leaf(piece: PatternPiece, first: PunchedLayer, ends: Sequence[Point]) -> list[tuple[int, float]]:
    """Of a layer's holes that lie on another leaf than some places: number, and how far off, in plan."""
    found: list[tuple[int, float]] = []
    for hole, end in zip(first.holes, ends, strict=True):
        lie = piece.over(hole.at, end)
        if lie is not None:
            found.append((hole.number, without_noise(distance(lie.apply(hole.at), end))))
    return found


class _Through(msgspec.Struct, frozen=True):
    """What goes through one stack: where its holes are, by number, on each piece that it is meant for.

    `label` names a hole by its number, from 1; `reach` is how far from its centre it meets leather (0
    for stitches, which only cut it); `key` is the row that tells of a piece it pierces.
    """

    where: Where
    work: str
    label: Callable[[int], str]
    members: tuple[tuple[PatternPiece, tuple[Numbered, ...]], ...]
    reach: float
    key: str
    part: str | None = None  # that drafts the seam, and where it stands
    at_part: Where = NOWHERE


def _of_seam(pattern: Pattern, seam: PunchedSeam) -> Iterator[_Through]:
    """The seam's holes, by the layers that they go through."""
    where, label = seam.source.at("runs"), seam.pattern.hole_label
    for stacks in grouped(seam.stacks, by=lambda one: tuple(layer.run for layer in one.layers)).values():
        layers = sorted(stacks[0].layers, key=lambda layer: layer.run)
        numbers = [number for one in stacks for number in range(one.first, one.last + 1)]
        members = tuple((pattern.piece(layer.piece), _places(layer, numbers)) for layer in layers)
        part = seam.pattern.seam.part
        yield _Through(where, seam.name, label, members, 0.0, "piece-pierced/seam", part, at_part(seam))


def _places(layer: PunchedLayer, numbers: Sequence[int]) -> tuple[Numbered, ...]:
    found = ((number, layer.hole(number)) for number in numbers)
    return tuple((number, hole.at) for number, hole in found if hole is not None)


def _of_opening(pattern: Pattern, opening: PatternOpening) -> Iterator[_Through]:
    """The opening's places, by the pieces that they go through."""
    where, reach = opening.source.at("through"), opening.opening.diameter / 2
    for pieces, numbers in opening.by_pieces.items():
        members = tuple(
            (pattern.piece(name), tuple((p.number, p.at) for p in opening.places_on(name, numbers)))
            for name in pieces
        )
        yield _Through(where, opening.name, opening.label, members, reach, "piece-pierced/opening")


def _pierced(pattern: Pattern, stacks: Sequence[_Through]) -> Iterator[Finding]:
    """Pieces that lie between two that something goes through, under its holes, and are not named."""
    folded = {piece.base for piece in pattern.pieces if piece.bends}
    drafters = {piece.name: piece.drafted_by for piece in pattern.project.pieces}
    rows = [(one.reach, _layers_of(one, folded)) for one in stacks]
    for piece in pattern.pieces:
        flat, leaves = _flat(piece), tuple(_leaves(piece)) if piece.base in folded else ()
        numbers = [
            number
            for reach, layers in rows
            for each in (flat if any(one.leaf is None for one in layers) else leaves)
            for number in _piercing(reach, each, [one for one in layers if one.piece.base == piece.base])
        ]
        if numbers:
            one, part = stacks[0], drafters.get(piece.name)
            first, count = one.label(numbers[0]), len(numbers)
            if part and one.part and part != one.part:
                on = {each.name: drafters.get(each.on or "") for each in pattern.project.parts}
                one_on_other = part == on[one.part] or one.part == on[part]
                key = "piece-pierced/part-on" if one_on_other else "piece-pierced/parts"
                told = finding(key, one.at_part, part=one.part, other=part, count=count)
                told = told.spoiling(of_parts(one.part, part))
                told = told.once(f"through {' and '.join(sorted((one.part, part)))}")
            else:
                told = finding(one.key, one.where, hole=first, piece=piece.name, count=count)
            yield told.at_holes(one.work, numbers)


class _Layer(msgspec.Struct, frozen=True):
    """A piece as it lies open, or one of its leaves as it lies once all is folded: its place in the row of
    layers and in plan, and what holes of something it has."""

    piece: PatternPiece
    level: int
    lie: Affine  # own frame to its root's, or to its base's once all is folded
    outline: Path
    leaf: int | None = None
    holes: tuple[Numbered, ...] = ()


def _flat(piece: PatternPiece, holes: tuple[Numbered, ...] = ()) -> tuple[_Layer, ...]:
    return (_Layer(piece, piece.level, piece.in_root, piece.outline, None, holes),)


def _leaves(piece: PatternPiece, holes: tuple[Numbered, ...] = ()) -> Iterator[_Layer]:
    """All that lie parallel to the base."""
    sheet = piece.sheet
    by_leaf = grouped(holes, by=lambda hole: sheet.panel_of([hole[1]]))
    for k, (level, panel) in enumerate(zip(piece.folded.levels, sheet.panels, strict=True)):
        lie = piece.motion_to_base(panel).plan
        if lie is not None:
            yield _Layer(piece, level, lie, panel.outline, k, tuple(by_leaf.get(k, ())))


def _layers_of(through: _Through, folded: Collection[str]) -> tuple[_Layer, ...]:
    """What something is meant to go through: leaves, where its holes are no further from one another once all
    is folded; else pieces as they lie open."""
    flat = tuple(layer for piece, holes in through.members for layer in _flat(piece, holes))
    if not any(piece.base in folded for piece, _ in through.members):
        return flat
    leaves = tuple(layer for piece, holes in through.members for layer in _leaves(piece, holes))
    return leaves if _spread(leaves) <= _spread(flat) + COINCIDE else flat


def _spread(layers: Sequence[_Layer]) -> float:
    """How far the holes of layers lie apart in plan, all together."""
    first: dict[tuple[str, int], Point] = {}
    placed = [((one.piece.root, number), one.lie.apply(at)) for one in layers for number, at in one.holes]
    return sum(distance(first.setdefault(hole, place), place) for hole, place in placed)


def _piercing(reach: float, layer: _Layer, layers: Sequence[_Layer]) -> list[int]:
    """The numbers of holes that run through a layer, given those on its base that they are meant for; none
    where its place is not known, or it is meant."""
    meant = [each for each in layers if each.holes]
    levels = [each.level for each in meant]
    if not levels or not min(levels) < layer.level < max(levels):
        return []
    if any(each.piece is layer.piece and each.leaf == layer.leaf for each in meant):
        return []
    over, under = (
        {number for each in meant if (each.level - layer.level) * way > 0 for number, _ in each.holes}
        for way in (1, -1)
    )
    back, places = layer.lie.inverse(), dict[int, Point]()
    for each in meant:
        if each.piece.root == layer.piece.root:
            lie = back @ each.lie
            places |= {number: lie.apply(at) for number, at in each.holes if number not in places}
    between = {number: at for number, at in places.items() if number in over & under}
    return _inside(reach, layer.outline, between)


def _inside(reach: float, outline: Path, places: Mapping[int, Point]) -> list[int]:
    """Which places lie inside an outline, or outside by no more than a reach."""
    left, low, right, high = outline.bounds()
    near = {
        number: (x, y)
        for number, (x, y) in places.items()
        if left - reach < x < right + reach and low - reach < y < high + reach
    }
    region = region_of(outline) if near else None
    return [number for number, at in near.items() if region is not None and region.contains(at, slack=reach)]
