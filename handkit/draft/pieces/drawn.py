"""Pieces: from a piece as read to its true shape, and from that and its stand to the pattern's piece.

In: `Piece`; then its `Placement`, which may hang on the shape of others. Out: a `ShapedPiece`; then a
`DrawnPiece`: the pattern's piece, with what seams need of it.
"""

from __future__ import annotations

import msgspec

from handkit.draft.pattern import ItemOutline, Letter, PatternPiece, PieceMark
from handkit.draft.pieces.features import Features, features_of
from handkit.draft.pieces.outline import Outline, draft_outline
from handkit.draft.pieces.placement import Placement
from handkit.findings import Finding
from handkit.geometry.path import polyline
from handkit.geometry.region import Region, region_of
from handkit.geometry.space import Bend
from handkit.read.project import Piece


class DrawnPiece(msgspec.Struct, frozen=True):
    """A drafted piece with its outline letter by letter, its region and where it is placed."""

    piece: PatternPiece
    outline: Outline
    body: Region
    placement: Placement


class ShapedPiece(msgspec.Struct, frozen=True):
    """A piece with its true shape, before it is known where it lies."""

    piece: Piece
    outline: Outline
    body: Region
    features: Features

    @property
    def bends(self) -> tuple[Bend, ...]:
        """What its folds with an angle do."""
        return tuple(fold.bend for fold in self.features.folds if fold.bend is not None)


def shape_piece(piece: Piece, *, mirrored: bool = False) -> tuple[ShapedPiece | None, tuple[Finding, ...]]:
    """One piece, or None where its outline can't be drawn; and the findings.

    `mirrored` says whether its outline is another's, turned over.
    """
    outline, findings = draft_outline(piece, mirrored=mirrored)
    if outline is None:
        return None, findings
    body = region_of(outline.path)
    features, found = features_of(piece, outline, body)
    return ShapedPiece(piece, outline, body, features), found


def place_piece(shaped: ShapedPiece, placement: Placement) -> DrawnPiece:
    """A piece where it lies."""
    outline, piece = shaped.outline, _pattern_piece(shaped, placement)
    return DrawnPiece(piece, outline, shaped.body, placement)


def _pattern_piece(shaped: ShapedPiece, placement: Placement) -> PatternPiece:
    piece, outline, features = shaped.piece, shaped.outline, shaped.features
    letters = tuple(Letter(name, outline.letter_at(k)) for k, name in enumerate(outline.names))
    return PatternPiece(
        source=piece.source,
        name=piece.name,
        outline=outline.path,
        cut_outline=features.cut.outline,
        letters=letters,
        lines=features.lines,
        folds=features.folds,
        trims=features.trims,
        skives=features.skives,
        thickness=piece.thickness,
        material=piece.material,
        quantity=piece.quantity,
        mark=piece.mark,
        grain_degrees=piece.grain_degrees,
        note=piece.note,
        on=piece.on,
        behind=piece.behind,
        flat=piece.flat,
        glued=piece.glued,
        root=placement.root,
        placed=placement.in_root if piece.flat else None,
        base=placement.base,
        in_base=placement.in_base,
        level=placement.level,
        depth=placement.depth,
        works=features.works,
        raw=features.raw,
        shows=piece.shows,
        turns_to=piece.turns_to,
        turned=placement.turned,
        panel=placement.panel,
        folded=placement.folded,
        items=tuple(ItemOutline(each.name, polyline(each.points, closed=True)) for each in piece.items),
        marks=tuple(PieceMark(each.kind, polyline(each.points)) for each in piece.marks),
    )
