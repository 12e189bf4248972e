"""Pieces that lie beside what they are said to lie on.

In: pieces as read, the shapes and places of those that are drawn. Out: findings. All mm, on flat pieces.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from handkit.draft.pieces.drawn import DrawnPiece
from handkit.findings import Finding, finding
from handkit.geometry.region import Region
from handkit.read.project import Piece
from handkit.tolerances import EDGE_SLACK

# Edges this near to each other are sewn edge to edge.
_BUTTED = 0.5


def beside_base(pieces: Iterable[Piece], drawn: Mapping[str, DrawnPiece]) -> list[Finding]:
    """What is told of pieces of the file that nowhere touch the piece they are on."""
    found: list[Finding] = []
    for piece in pieces:
        own, base = drawn.get(piece.name), drawn.get(piece.on or "")
        if own is not None and base is not None and piece.flat and piece.drafted_by is None:
            found.extend(_beside(piece, own, base))
    return found


def _beside(piece: Piece, own: DrawnPiece, base: DrawnPiece) -> list[Finding]:
    lie = base.placement.in_root.inverse() @ own.placement.in_root
    body = own.body.moved(lie)
    apart = body.distance(base.body)
    if own.placement.root != base.placement.root or apart <= _BUTTED:
        return []
    told = finding(
        "piece-beside-base",
        piece.source.at("at"),
        base=piece.on,
        apart=apart,
        ways=_back(body, base.body, piece),
    )
    return [told.spoiling(piece.source.path)]


def _back(body: Region, base: Region, piece: Piece) -> tuple[str, ...]:
    """Which way it has to go, and at least how far, in words."""
    (left, low, right, high), (base_left, base_low, base_right, base_high) = body.bounds(), base.bounds()
    off = {
        "to the left": left - base_right,
        "to the right": base_left - right,
        "down": low - base_high,
        "up": base_low - high,
    }
    units = piece.source.units
    return tuple(f"{units.text(by)} {way}" for way, by in off.items() if by > EDGE_SLACK) or ("nearer to it",)
