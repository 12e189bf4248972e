"""Fittings: each where its fold or its places are, with what the strap takes to go round its bar.

In: a `Fitting` as read and the drafted pieces. Out: a `PatternFitting`, and outlines for the templates.

A strap goes half round a bar d thick: the turn takes π · (d/2 + s/2) of its middle, half to each side of
the fold, s being all that is folded there.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from handkit.draft.pattern import ItemOutline, PatternFitting, PatternPiece
from handkit.draft.pieces.drawn import DrawnPiece
from handkit.draft.sizes.fold_length import HALF_TURN, fold_allowance
from handkit.geometry.affine import Affine, Point
from handkit.geometry.path import circle, polyline
from handkit.geometry.straight import Straight, distance, middle_of, unit
from handkit.read.project import Fitting
from handkit.tolerances import EDGE_SLACK


def draft_fitting(fitting: Fitting, drafted: Mapping[str, DrawnPiece]) -> PatternFitting:
    """A fitting on its piece; without a line where no fold goes round it."""
    drawn = drafted.get(fitting.on or "")
    if drawn is None or not fitting.traits.by_fold:
        return PatternFitting(fitting, band=_band(fitting, drafted))
    line = drawn.piece.fold(fitting.fold).ends
    folded = _folded(drawn, middle_of(line), drafted)
    turn = fold_allowance(HALF_TURN, (fitting.bar or 0.0) / 2, folded)
    return PatternFitting(fitting, line, folded, turn)


def fitting_outlines(
    fittings: Iterable[PatternFitting], piece: str, drafted: Mapping[str, DrawnPiece]
) -> Iterator[ItemOutline]:
    """Where fittings lie on a piece: the bar across its fold, a keeper on either leaf, magnets round."""
    for one in fittings:
        if one.fitting.on != piece:
            continue
        if one.line is not None:
            half = (one.fitting.bar or 0.0) / 2
            yield _along(one, one.line, one.fitting.inside or 0.0, -half, half)
        elif one.fitting.from_fold is not None:
            line, start = drafted[piece].piece.fold(one.fitting.fold).ends, one.fitting.from_fold
            for near, far in ((start, start + one.band), (-start - one.band, -start)):
                yield _along(one, line, distance(*line), near, far)
        for at in one.fitting.at:
            yield ItemOutline(one.name, circle(at, (one.fitting.diameter or 0.0) / 2), beside=True)


def _folded(drawn: DrawnPiece, at: Point, drafted: Mapping[str, DrawnPiece]) -> float:
    """How thick all is that is folded at a place: the piece, what it is glued to, and what lies flat on those
    there. What it is only sewn to, as a loop is to a back, is not folded with it."""
    own, lowest = drawn.placement, drawn.piece
    while lowest.glued and lowest.on is not None and lowest.on in drafted:
        lowest = drafted[lowest.on].piece
    thick = drawn.piece.thickness
    for other in drafted.values():
        if other is not drawn and lowest.name in _stack(other.piece, drafted):
            way: Affine = other.placement.in_root.inverse() @ own.in_root
            if other.placement.root == own.root and other.body.contains(way.apply(at), slack=EDGE_SLACK):
                thick += other.piece.thickness
    return thick


def _stack(piece: PatternPiece, drafted: Mapping[str, DrawnPiece]) -> tuple[str, ...]:
    """A piece, and those it stands on, one on the other."""
    below = drafted.get(piece.on or "")
    return (piece.name, *(_stack(below.piece, drafted) if below is not None else ()))


def _along(one: PatternFitting, line: Straight, long: float, near: float, far: float) -> ItemOutline:
    """What lies along a fold, its middle at the fold's, from one distance to the left of it to another."""
    (x, y), (dx, dy) = middle_of(line), unit(*line)
    corners = ((-long / 2, near), (long / 2, near), (long / 2, far), (-long / 2, far))
    ring = tuple((x + a * dx - b * dy, y + a * dy + b * dx) for a, b in corners)
    name = one.name.removeprefix(f"{one.fitting.on} ")  # what is named after its piece
    return ItemOutline(name, polyline(ring, closed=True), beside=True)


def _band(fitting: Fitting, drafted: Mapping[str, DrawnPiece]) -> float:
    """How wide a keeper is along its strap: as the piece it is made of, or as such are."""
    made = drafted.get(fitting.piece or "")
    if made is None:
        return fitting.traits.band
    left, low, right, top = made.piece.outline.bounds()
    return min(right - left, top - low)
