"""Lists: what is cut, what it takes of each material, and the sums.

In: everything punched, the thread. Out: rows and totals of one article; the project's copies multiply
them. What is bought ready-made stands in `hardware.py`.

Gross is net over the share of the hide that ends up in pieces: a quarter of waste is net x 1.333,
never x 1.25.
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.draft.pattern import PatternPiece
from handkit.punch.punched import Punched
from handkit.read.project import Side
from handkit.stitch.plan import CutRow, MaterialRow, Totals


def area_of(piece: PatternPiece) -> float:
    """Area of one piece as cut, in mm²."""
    return abs(piece.cut_outline.signed_area())


def cut_list(pieces: Sequence[PatternPiece]) -> tuple[CutRow, ...]:
    """One row a piece, in the file's order."""
    rows = []
    for piece in pieces:
        left, bottom, right, top = piece.cut_outline.bounds()
        trim = ("trimmed after stitching",) if piece.trims else ()
        skive = ("skived",) if piece.skives else ()
        works = (each.told(piece.hem_side, piece.source.units) for each in piece.works)
        note = ", ".join((_side(piece), *skive, *trim, *works)) + (f"; {piece.note}" if piece.note else "")
        rows.append(
            CutRow(
                piece.name, piece.quantity, right - left, top - bottom, piece.thickness, area_of(piece), note
            )
        )
    return tuple(rows)


def materials(punched: Punched) -> tuple[MaterialRow, ...]:
    """Net and gross by kind and thickness, in the order the pieces name them."""
    share = punched.project.yield_share
    net: dict[tuple[str, float], float] = {}
    for piece in punched.pattern.pieces:
        key = (piece.material.value, piece.thickness)
        net[key] = net.get(key, 0.0) + piece.quantity * area_of(piece)
    return tuple(
        MaterialRow(material, thickness, area, area / share) for (material, thickness), area in net.items()
    )


def totals(punched: Punched, *, thread: float) -> Totals:
    """Holes and openings to be made (each layer counts, a shared hole once), thread, leather."""
    rows = materials(punched)
    return Totals(
        holes=punched.holes_to_make,
        openings=punched.openings_to_make,
        thread=thread,
        leather_mm2=sum(row.net_mm2 for row in rows),
        leather_gross_mm2=sum(row.gross_mm2 for row in rows),
    )


def _side(piece: PatternPiece) -> str:
    """Which side the template lies on, as the template says it."""
    shows = f"{piece.side_words(piece.shows)} shows, " if piece.shows is Side.FLESH else ""
    mirrored = ", mirrored" if piece.template_mirrored else ""
    return f"{shows}marked on the {piece.side_words(piece.mark)}{mirrored}"
