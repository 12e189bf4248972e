"""Stacking: what lies in one seam must meet, and what lies between must be in it.

In: the pattern and its seams with their holes. Out: findings. All mm.

Words: layers lie *flat* in one root when their places are known in one frame; there their holes
must coincide. A piece between two layers of a seam, or of a rivet, is pierced by it, whether it is
named or not.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from math import hypot

import msgspec

from handkit.draft.pattern import Pattern, PatternOpening, PatternPiece
from handkit.findings import Finding, Where, finding
from handkit.geometry.affine import Affine, Point
from handkit.geometry.region import region_of
from handkit.grouping import grouped
from handkit.punch.punched import PunchedLayer, PunchedSeam
from handkit.tolerances import COINCIDE
from handkit.units import without_noise


def stacking_findings(pattern: Pattern, seams: Sequence[PunchedSeam]) -> tuple[Finding, ...]:
    """Layers that miss one another, and pieces pierced unnamed, by a seam or an opening."""
    findings: list[Finding] = []
    for seam in seams:
        findings.extend((*_missed(pattern, seam), *_pierced(pattern, _of_seam(pattern, seam))))
    for opening in pattern.openings:
        findings.extend(_pierced(pattern, _of_opening(pattern, opening)))
    return tuple(findings)


class _Offset(msgspec.Struct, frozen=True):
    """How far two layers' holes lie apart at most, once laid in place, and at which hole."""

    number: int
    apart: float
    backwards: float  # the same with one layer's holes counted from the other end


def _missed(pattern: Pattern, seam: PunchedSeam) -> list[Finding]:
    """Stated runs on pieces that lie flat in one root and do not coincide.

    Of a piece that is in the seam twice (a fold-over) one run must meet the others; its second run
    is not held to them.
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
            findings.append(_miss(seam, first, second, offset))
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
        return finding("layers-do-not-meet/backwards", other.source.at(), **told)
    return finding("layers-do-not-meet", other.source.at(), **told, piece=second.piece)


class _Through(msgspec.Struct, frozen=True):
    """What goes through a stack: where its holes are on each piece that it is meant for.

    `label` names a hole by its number, from 1; `reach` is how far from its centre it meets leather (0
    for stitches, which only cut it); `key` is the row that tells of a piece it pierces.
    """

    where: Where
    label: Callable[[int], str]
    members: tuple[tuple[PatternPiece, tuple[Point, ...]], ...]
    reach: float
    key: str


def _of_seam(pattern: Pattern, seam: PunchedSeam) -> _Through:
    members = tuple(
        (pattern.piece(layer.piece), tuple(hole.at for hole in layer.holes)) for layer in seam.layers
    )
    return _Through(seam.source.at("runs"), seam.pattern.hole_label, members, 0.0, "piece-pierced/seam")


def _of_opening(pattern: Pattern, opening: PatternOpening) -> _Through:
    members = tuple(
        (pattern.piece(name), tuple(place.at for place in opening.places if place.piece == name))
        for name in opening.opening.through
    )
    where, reach = opening.source.at("through"), opening.opening.diameter / 2
    return _Through(where, opening.label, members, reach, "piece-pierced/opening")


def _pierced(pattern: Pattern, through: _Through) -> Iterator[Finding]:
    """Pieces that lie between two that something goes through, under its holes, and are not named."""
    members = [piece for piece, _ in through.members]
    named = {member.name for member in members}
    stacks = grouped(members, by=lambda member: _base(pattern, member))
    for piece in pattern.pieces:
        levels = [member.level for member in stacks.get(_base(pattern, piece), [piece])]
        if piece.name in named or not min(levels) < piece.level < max(levels):
            continue
        flat = next((both for both in through.members if both[0].root == piece.root), None)
        numbers = _piercing(through.reach, piece, *flat) if flat else []
        if numbers:
            first, count = through.label(numbers[0]), len(numbers)
            yield finding(through.key, through.where, hole=first, piece=piece.name, count=count)


def _base(pattern: Pattern, piece: PatternPiece) -> str:
    """The lowest of the pieces that a piece stands on, flat or not: levels count from there."""
    while piece.on is not None:
        piece = pattern.piece(piece.on)
    return piece.name


def _piercing(reach: float, piece: PatternPiece, base: PatternPiece, holes: Sequence[Point]) -> list[int]:
    """The numbers of the holes, given on a base, that run through a piece."""
    lie = piece.in_root.inverse() @ base.in_root
    left, low, right, high = piece.outline.bounds()
    near = [
        (number, (x, y))
        for number, (x, y) in enumerate(map(lie.apply, holes), start=1)
        if left - reach < x < right + reach and low - reach < y < high + reach
    ]
    region = region_of(piece.outline) if near else None
    return [number for number, at in near if region is not None and region.contains(at, slack=reach)]
