"""Stacking: what lies in one seam must meet, and what lies between must be in it.

In: a seam with its holes. Out: findings. All mm.

Words: layers lie *flat* in one root when their places are known in one frame; there their holes
must coincide. A piece between two layers of a seam is pierced by it, whether it is named or not.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot

from handkit.draft.pattern import Pattern, PatternPiece
from handkit.findings import Finding, error
from handkit.geometry.affine import Affine, Point
from handkit.geometry.region import region_of
from handkit.punch.punched import PunchedLayer, PunchedSeam
from handkit.punch.saying import and_more, even_ground, label, mm
from handkit.tolerances import COINCIDE


def stacking_findings(pattern: Pattern, seam: PunchedSeam) -> tuple[Finding, ...]:
    """Layers that miss one another, and pieces pierced unnamed."""
    return (*_missed(pattern, seam), *_pierced(pattern, seam))


@dataclass(frozen=True, slots=True)
class _Offset:
    """How far two layers' holes lie apart at most, once laid in place, and at which hole."""

    number: int
    apart: float
    backwards: float  # the same with one layer's holes counted from the other end


def _missed(pattern: Pattern, seam: PunchedSeam) -> list[Finding]:
    """Stated runs on pieces that lie flat in one root and do not coincide.

    Of a piece that is in the seam twice (a fold-over) one run must meet the others; its second run
    is not held to them.
    """
    stated = [layer for layer in seam.layers if seam.pattern.runs[layer.run - 1].path is not None]
    rows: dict[str, list[PunchedLayer]] = {}
    for layer in stated:
        rows.setdefault(layer.piece, []).append(layer)
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
    off = [even_ground(hypot(b[0] - a[0], b[1] - a[1])) for a, b in zip(here, there, strict=True)]
    return off.index(max(off)) + 1, max(off)


def _miss(seam: PunchedSeam, first: PunchedLayer, second: PunchedLayer, offset: _Offset) -> Finding:
    one, other = (seam.pattern.runs[layer.run - 1] for layer in (first, second))
    turned = offset.backwards <= COINCIDE
    return error(
        "layers-do-not-meet",
        other.source.at(),
        found=f"hole {offset.number} of {label(other)} {mm(offset.apart)} from hole {offset.number} of "
        f"{label(one)} once laid in place",
        allowed=f"at most {mm(COINCIDE)} where pieces lie flat",
        remedy="write the run's letters the other way round"
        if turned
        else f'name only the piece, "{second.piece}", and it takes the holes; or move it',
    )


def _pierced(pattern: Pattern, seam: PunchedSeam) -> list[Finding]:
    """Pieces that lie between two layers of the seam and under its holes, and are not in it."""
    members = [(pattern.piece(layer.piece), layer) for layer in seam.layers]
    levels: dict[str, list[int]] = {}
    for member, _ in members:
        levels.setdefault(_base(pattern, member), []).append(member.level)
    named = {member.name for member, _ in members}
    findings: list[Finding] = []
    for piece in pattern.pieces:
        own = levels.get(_base(pattern, piece), [piece.level])
        if piece.name in named or not min(own) < piece.level < max(own):
            continue
        flat = next((both for both in members if both[0].root == piece.root), None)
        finding = _pierce(seam, piece, *flat) if flat else None
        if finding is not None:
            findings.append(finding)
    return findings


def _base(pattern: Pattern, piece: PatternPiece) -> str:
    """The lowest of the pieces that a piece stands on, flat or not: levels count from there."""
    while piece.on is not None:
        piece = pattern.piece(piece.on)
    return piece.name


def _pierce(
    seam: PunchedSeam, piece: PatternPiece, base: PatternPiece, layer: PunchedLayer
) -> Finding | None:
    """The holes of a seam that run through one piece, if any."""
    lie = piece.in_root.inverse() @ base.in_root
    left, low, right, high = piece.outline.bounds()
    points = [(hole.number, lie.apply(hole.at)) for hole in layer.holes]
    near = [(k, (x, y)) for k, (x, y) in points if left < x < right and low < y < high]
    if not near:
        return None
    region = region_of(piece.outline)
    through = [number for number, at in near if region.contains(at)]
    if not through:
        return None
    return error(
        "piece-pierced",
        seam.pattern.seam.source.at("runs"),
        found=f'hole {through[0]} of seam "{seam.name}" through "{piece.name}", '
        f"which lies between its layers{and_more(len(through))}",
        allowed="only pieces that are layers of the seam",
        remedy=f'name "{piece.name}" as a layer, or move it out of the way',
    )
