"""Openings: each at its place on every piece it goes through.

In: an `Opening` as read (rows written out) and the drafted pieces. Out: a `PatternOpening`, or
None; and findings. A piece that lies flat with the first is pierced where a place lies on it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import msgspec

from handkit.draft.pattern import PatternOpening, PlacedOpening
from handkit.draft.pieces.drawn import DrawnPiece
from handkit.draft.sizes.fold_length import HALF_TURN
from handkit.findings import Finding, finding
from handkit.geometry.affine import Affine, Point
from handkit.geometry.straight import mirrored_in
from handkit.kinds.openings import OpeningShape
from handkit.read.project import Opening
from handkit.tolerances import EDGE_SLACK
from handkit.wording.stretches import number_words


def draft_opening(
    opening: Opening, drafted: Mapping[str, DrawnPiece]
) -> tuple[PatternOpening | None, tuple[Finding, ...]]:
    """One opening, or None where a piece of it can't be drawn; and the findings."""
    if any(name not in drafted for name in opening.through):  # their own findings say why
        return None, ()
    stated = dict(opening.places)
    findings: list[Finding] = []
    notes: list[Finding] = []
    placed: list[PlacedOpening] = []
    first = drafted[opening.through[0]]
    for index, name in enumerate(opening.through):
        piece = drafted[name]
        if name in opening.through[:index]:
            folded = _through_fold(piece, [place for place in placed if place.piece == name])
            placed.extend(folded)
            findings.extend(() if folded else _beside(opening, name, range(len(opening.at))))
            continue
        flat = piece.placement.root == first.placement.root
        fault = _place_finding(opening, name, stated.get(name), flat=flat)
        if fault is not None:
            findings.append(fault)
        elif piece is first:
            placed.extend(_placed(opening, name, opening.at, Affine()))
        elif flat:
            places = _placed(opening, name, opening.at, _between(first, piece))
            own = [place for place in places if piece.body.contains(place.at, slack=EDGE_SLACK)]
            placed.extend(own)
            beside = [place.number for place in places if place not in own]
            (notes if own else findings).extend(_beside(opening, name, beside))
        else:
            placed.extend(_placed(opening, name, stated[name], Affine()))
    lie = [drafted[name].piece.source.path for name in opening.through]
    told = tuple(each.following(*lie) for each in (*findings, *notes))
    return None if findings else PatternOpening(opening, tuple(placed)), told


def _beside(opening: Opening, piece: str, numbers: Sequence[int]) -> tuple[Finding, ...]:
    """What is told of places that do not lie on a piece they are meant for: some, or all of them."""
    where = opening.source.at("through")
    if len(numbers) == len(opening.at):
        return (finding("opening-misses-piece", where, opening=opening.name, piece=piece),)
    if not numbers:
        return ()
    told = number_words(numbers)
    return (finding("opening-part-way", where, numbers=told, opening=opening.name, piece=piece),)


def _through_fold(piece: DrawnPiece, places: Sequence[PlacedOpening]) -> list[PlacedOpening]:
    """The same places on the other leaf of a piece that is folded over on itself: mirrored in that fold, as
    its mates are at any radius; none where no fold brings them onto the piece."""
    for fold in piece.piece.folds:
        if fold.bend is not None and abs(fold.bend.degrees) == HALF_TURN:
            over = mirrored_in(fold.ends)
            found = [over.apply(place.at) for place in places]
            if all(piece.body.contains(at, slack=EDGE_SLACK) for at in found):
                return [
                    msgspec.structs.replace(place, at=at, degrees=over.way(place.degrees))
                    for place, at in zip(places, found, strict=True)
                ]
    return []


def _between(first: DrawnPiece, other: DrawnPiece) -> Affine:
    """From one piece's frame to that of another that lies flat with it."""
    if first is other:
        return Affine()
    return other.placement.in_root.inverse() @ first.placement.in_root


def _placed(opening: Opening, name: str, points: tuple[Point, ...], by: Affine) -> list[PlacedOpening]:
    """The openings on one piece, numbered, with their direction there."""
    headed = opening.traits.shape is OpeningShape.KEYED  # its ends are unlike
    turned = (by.heading if headed else by.way)(opening.turn_degrees)
    return [PlacedOpening(name, number, by.apply(at), turned) for number, at in enumerate(points, start=1)]


def _place_finding(
    opening: Opening, name: str, stated: tuple[Point, ...] | None, *, flat: bool
) -> Finding | None:
    """What is wrong with an opening's places on one piece, or None."""
    first = opening.through[0]
    if flat and stated is not None:
        return finding("opening-placed-twice", opening.source.at("places"), piece=name, first=first)
    if not flat and stated is None:
        return finding("opening-not-placed", opening.source.at("through"), piece=name, first=first)
    if stated is not None and len(stated) != len(opening.at):
        where, count, wanted = opening.source.at("places"), len(stated), len(opening.at)
        return finding("opening-count", where, count=count, piece=name, wanted=wanted, first=first)
    return None
