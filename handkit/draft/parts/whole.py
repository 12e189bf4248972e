"""Whole: placeholders with what their part gives them.

In: a piece, seam, opening or fitting as a part promised it, what was drafted of it, and how the part's frame
lies on its base. Out: the same with its shape, places and sizes. What the file says itself goes before.
"""

from __future__ import annotations

from collections.abc import Mapping
from itertools import chain, repeat

import msgspec

from handkit.draft.parts.drafted import DraftedFitting, DraftedOpening, DraftedPiece, DraftedSeam
from handkit.geometry.affine import Affine, Point
from handkit.read.project import Corner, Fitting, FoldLine, MatchPoint, Opening, Part, Piece, Seam


def with_points(piece: Piece, points: Mapping[str, tuple[Point, ...]]) -> Piece:
    """A piece whose lines that lack points have those of their names."""
    lines = tuple(
        msgspec.structs.replace(each, points=each.points or points.get(each.name, ())) for each in piece.lines
    )
    return msgspec.structs.replace(piece, lines=lines)


def whole_piece(piece: Piece, given: DraftedPiece, part: Part, lie: Affine) -> Piece:
    """A placeholder with its shape and place: on the part's base in the part's frame, on another piece of the
    part in that piece's."""
    stated, on_base = piece.stated, piece.on == part.on
    over = -1 if on_base and part.flag("behind") else 1
    corners = tuple(
        Corner(shape.letter, shape.at, own.radius if "round" in stated else shape.radius)
        for shape, own in zip(given.corners, piece.corners, strict=True)
    )
    grain = piece.grain_degrees if "grain" in stated else given.grain_degrees
    thickness = piece.thickness if "thickness" in stated else given.thickness
    return msgspec.structs.replace(
        with_points(piece, {line.name: line.points for line in given.lines}),
        corners=corners,
        sagittas=piece.sagittas if "arc" in stated else given.sagittas or (0.0,) * len(corners),
        circle=given.circle,
        folds=_folds(piece, given),
        skives=piece.skives if "skive" in stated else given.skives,
        note=piece.note or given.note,
        thickness=piece.thickness if thickness is None else thickness,
        grain_degrees=piece.grain_degrees if grain is None else grain,
        at=lie.apply(given.at) if on_base else given.at,
        turn_degrees=(part.turn_degrees if on_base else 0.0) + over * given.turn_degrees,
    )


def _folds(piece: Piece, given: DraftedPiece) -> tuple[FoldLine, ...]:
    """A placeholder's folds: those of the file, and those drafted that the file does not say otherwise."""
    own = {fold.name: fold for fold in piece.folds if fold.points}
    drafted = (own.pop(fold.name, fold) for fold in given.folds)
    return (*drafted, *own.values())


def whole_seam(seam: Seam, given: DraftedSeam, part: Part, lie: Affine) -> Seam:
    """A seam with the places that must meet, the ends of its runs, and the sides that lie on each other.

    A lining that is sewn in with it is one layer more, which takes the holes of another.
    """
    met = given.faces
    sides = {met.first: met.first_side, met.second: met.second_side} if met is not None else {}
    layers = tuple(
        msgspec.structs.replace(layer, from_start=start, from_end=end, side=sides.get(layer.piece))
        for layer, (start, end) in zip(seam.layers, chain(given.ends, repeat((0.0, 0.0))), strict=False)
    )
    matches = tuple(
        MatchPoint(
            tuple(
                lie.apply(place) if isinstance(place, tuple) and layer.piece == part.on else place
                for layer, place in zip(seam.layers, chain(match.places, repeat(None)), strict=False)
            )
        )
        for match in given.matches
    )
    return msgspec.structs.replace(seam, layers=layers, matches=(*seam.matches, *matches))


def whole_opening(opening: Opening, given: DraftedOpening, part: Part, lie: Affine) -> Opening:
    """An opening with its places; the first piece's are its own, the others' stand beside."""
    (_, first), *others = (
        (name, lie.apply_all(points) if name == part.on else points) for name, points in given.places
    )
    length, width = given.size if given.size and not opening.length else (opening.length, opening.diameter)
    return msgspec.structs.replace(opening, at=first, places=tuple(others), length=length, diameter=width)


def whole_fitting(fitting: Fitting, given: DraftedFitting) -> Fitting:
    """A fitting with what only the drafting knows of it."""
    own = {
        key: getattr(given, key) for key in ("length", "from_fold", "girth") if getattr(fitting, key) is None
    }
    return msgspec.structs.replace(fitting, **own)
