"""Folds: lines that a piece is folded on, and where that brings what lies beyond them.

In: a piece as read, its outline's letters and region. Out: its folds, or findings.

A fold that is a line alone has no place in space. One with an angle goes straight from edge to edge and
divides the piece in two: the side with the corner in `stays` keeps its place, the other one moves. The
bent zone's width on the middle of the leather is the bend allowance, half to each side of the line.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import combinations

from handkit.draft.pattern import PatternFold, PatternPiece
from handkit.draft.sizes.fold_length import fold_allowance
from handkit.findings import Finding, finding
from handkit.geometry.affine import Point
from handkit.geometry.intersect import meet
from handkit.geometry.path import Path
from handkit.geometry.region import Region
from handkit.geometry.segment import Segment
from handkit.geometry.space import Bend
from handkit.geometry.straight import unit
from handkit.read.project import FoldLine, Piece
from handkit.tolerances import EDGE_SLACK, SAME_POINT
from handkit.wording.quoting import words

# How far from the edge a fold's end may stand and still be meant to reach it, mm: a rounded corner cuts
# off no more of a fold beside it.
_TO_EDGE = 0.5

_STRAIGHT = 0.01


def folds_of(
    piece: Piece, lines: Mapping[str, Path], letters: Mapping[str, Point], body: Region
) -> tuple[tuple[PatternFold, ...], list[Finding]]:
    """The folds whose lines are sound, in the file's order."""
    folds: list[PatternFold] = []
    findings: list[Finding] = []
    for fold in (each for each in piece.folds if each.name in lines):
        path = lines[fold.name]
        bend: Bend | None = None
        if fold.angle_degrees is not None:
            found = _bend(piece, fold, path, letters, body)
            if isinstance(found, Finding):
                findings.append(found)
            else:
                bend = found
        out = None if fold.angle_degrees is None else fold.out or piece.shows
        folds.append(PatternFold(fold.name, path, out, fold.angle_degrees, fold.radius, bend))
    return tuple(folds), findings or _between(piece, folds, letters)


def folds_path(piece: Piece | PatternPiece) -> str:
    """A piece's folds, as findings that follow from a faulty one name them."""
    return f"{piece.source.path}: folds"


def _bend(
    piece: Piece, fold: FoldLine, path: Path, letters: Mapping[str, Point], body: Region
) -> Bend | Finding:
    """What the fold does in space, or why it does nothing."""
    where, told = piece.source.at("folds"), {"fold": fold.name}
    start, end = path.start, path.end
    straight = Bend(start, unit(start, end), 0.0, 0.0)
    if path.closed or any(abs(straight.beyond(each.end)) > _STRAIGHT for each in path.segments):
        return finding("bend-not-straight", where, **told)
    for at in (start, end):
        off = body.edge_distance(at)
        if off > _TO_EDGE:
            return finding("fold-not-across", where, **told, at=at, off=off)
    if len(body.along(*_prolonged(start, end, body))) > 1:
        return finding("fold-not-across/twice", where, **told)
    stays = letters[fold.stays]
    side = straight.beyond(stays)
    if abs(side) <= EDGE_SLACK:
        return finding("fold-stays-on-line", where, **told, letter=fold.stays)
    if side > 0:  # what is left of the line's way moves: turn it
        start, end = end, start
    half = fold_allowance(fold.angle_degrees or 0.0, fold.radius, piece.thickness) / 2
    towards = -1.0 if (fold.out or piece.shows) is piece.shows else 1.0
    bend = Bend(start, unit(start, end), towards * (fold.angle_degrees or 0.0), half)
    rings = [bend.beyond(at) for ring in body.rings() for at in ring]
    room = min(max(rings), -min(rings))
    if half > room:
        return finding("fold-without-room", where, **told, half=half, room=room)
    return bend


def _prolonged(start: Point, end: Point, body: Region) -> tuple[Point, Point]:
    """A line through two points, right across the body."""
    left, bottom, right, top = body.bounds()
    (dx, dy), far = unit(start, end), right - left + top - bottom
    return (start[0] - far * dx, start[1] - far * dy), (end[0] + far * dx, end[1] + far * dy)


def _between(piece: Piece, folds: Sequence[PatternFold], letters: Mapping[str, Point]) -> list[Finding]:
    """Folds that cross, and folds that agree on nothing that keeps its place."""
    where = piece.source.at("folds")
    bent = [fold for fold in folds if fold.bend is not None]
    for one, other in combinations(bent, 2):
        if _cross(one, other):
            return [finding("folds-cross", where, fold=other.name, other=one.name)]
    stays = {fold.stays for fold in piece.folds if fold.angle_degrees is not None}
    kept = (letters[each] for each in sorted(stays))
    if bent and not any(all(fold.bend and fold.bend.beyond(at) < 0 for fold in bent) for at in kept):
        return [finding("folds-stay-apart", where, letters=words(sorted(stays), last="and"))]
    return []


def _cross(one: PatternFold, other: PatternFold) -> bool:
    first, second = Segment(*one.ends), Segment(*other.ends)
    return any(
        min(abs(at[0] - end[0]) + abs(at[1] - end[1]) for end in (first.start, first.end)) > SAME_POINT
        for at in meet(first, second)
    )
