"""Pieces: from a piece as read and its stand to its true shape.

In: `Piece` and `Stand`. Out: a `Drafted`: the pattern's piece, with what seams need of it.
"""

from __future__ import annotations

import msgspec

from handkit.draft.pattern import Letter, PatternPiece
from handkit.draft.pieces.features import Parts, parts_of
from handkit.draft.pieces.outline import Outline, draft_outline
from handkit.draft.pieces.placement import Stand
from handkit.findings import Finding
from handkit.geometry.region import Region, region_of
from handkit.read.project import Piece


class Drafted(msgspec.Struct, frozen=True):
    """A drafted piece with its outline letter by letter, its region and where it stands."""

    piece: PatternPiece
    outline: Outline
    body: Region
    stand: Stand


def draft_piece(
    piece: Piece, stand: Stand, *, mirrored: bool = False
) -> tuple[Drafted | None, tuple[Finding, ...]]:
    """One piece, or None where its outline can't be drawn; and the findings.

    `mirrored` says whether its outline is another's, turned over.
    """
    outline, findings = draft_outline(piece, mirrored=mirrored)
    if outline is None:
        return None, findings
    body = region_of(outline.path)
    parts, found = parts_of(piece, outline, body)
    return Drafted(_pattern_piece(piece, stand, outline, parts), outline, body, stand), found


def _pattern_piece(piece: Piece, stand: Stand, outline: Outline, parts: Parts) -> PatternPiece:
    letters = tuple(Letter(name, outline.letter_at(k)) for k, name in enumerate(outline.names))
    return PatternPiece(
        source=piece.source,
        name=piece.name,
        outline=outline.path,
        cut_outline=parts.trims.cut_outline,
        letters=letters,
        lines=parts.lines,
        folds=parts.folds,
        trims=parts.trims.edges,
        skives=parts.skives,
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
        root=stand.root,
        placed=stand.placed,
        level=stand.level,
        depth=stand.depth,
    )
