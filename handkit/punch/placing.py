"""Placing: how the pieces of a pattern lie on one another, as maps between their frames."""

from __future__ import annotations

from handkit.draft.pattern import Pattern, PatternPiece
from handkit.geometry.affine import Affine


def relative(pattern: Pattern, start: str, end: str) -> Affine | None:
    """The map from one piece's frame to another's, None where they do not lie flat in one root."""
    if start == end:
        return Affine()
    first, last = pattern.piece(start), pattern.piece(end)
    if first.root != last.root:
        return None
    return in_root(last).inverse() @ in_root(first)


def in_root(piece: PatternPiece) -> Affine:
    """A piece's frame to its root's; a root's own frame is the root's, lies it flat or not."""
    return piece.placed if piece.placed is not None else Affine()
