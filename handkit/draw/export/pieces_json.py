"""The pieces as JSON, for other programs.

In: the punched pattern. Out: text: every piece in its own frame, as seen from the side that will
show, y up, mm with three decimals; arcs are flattened by `tolerances.SAGITTA`.
"""

from __future__ import annotations

from typing import Any

from handkit.draft.pattern import NamedLine, PatternOpening, PatternPiece, PlacedOpening
from handkit.draw.export.json_values import document, matrix, mm, point, points
from handkit.geometry.path import Path
from handkit.kinds.openings import OpeningShape
from handkit.punch.punched import Hole, Punched, PunchedLayer, PunchedSeam
from handkit.tolerances import SAGITTA


def pieces_json(punched: Punched) -> str:
    """The document: `pieces` in the file's order, see DEVELOPERS.md for the fields.

    A hole's `run` is the place of its layer in the seam's `runs`, from 1, and `along` that run's
    text. `placed` leads into the frame of the piece `root`.
    """
    pattern = punched.pattern
    pieces = [_piece(punched, piece) for piece in pattern.pieces]
    return document({"title": pattern.project.title, "pieces": pieces})


def holes_of(punched: Punched, piece: str) -> list[dict[str, Any]]:
    """The stitch holes of a piece, by seam, layer and number; a shared hole stands in each seam."""
    return [_hole(*found) for found in punched.holes_of(piece)]


def openings_of(punched: Punched, piece: str) -> list[dict[str, Any]]:
    """The openings of a piece; a slot has its `length_mm` and the direction of its length."""
    return [
        _opening(opening, place)
        for opening in punched.pattern.openings
        for place in opening.places
        if place.piece == piece
    ]


def _piece(punched: Punched, piece: PatternPiece) -> dict[str, Any]:
    return {
        "name": piece.name,
        "quantity": piece.quantity,
        "thickness_mm": mm(piece.thickness),
        "material": piece.material.value,
        "mark": piece.mark.value,
        "grain_degrees": mm(piece.grain_degrees),
        "area_mm2": mm(abs(piece.outline.signed_area())),
        "outline": _line(piece.outline),
        "cut_outline": _line(piece.cut_outline),
        "letters": {letter.name: point(letter.at) for letter in piece.letters},
        "stitch_lines": [
            {
                "seam": seam.name,
                "run": number,
                "along": run.text,
                "closed": seam.closed,
                "points": _line(run.path),
            }
            for seam in punched.pattern.seams
            for number, run in enumerate(seam.runs, start=1)
            if run.piece == piece.name and run.path is not None
        ],
        "fold_lines": [_named(fold) for fold in piece.folds],
        "lines": [_named(line) for line in piece.lines],
        "holes": holes_of(punched, piece.name),
        "openings": openings_of(punched, piece.name),
        "on": piece.on,
        "behind": piece.behind,
        "flat": piece.flat,
        "root": piece.root,
        "level": piece.level,
        "placed": matrix(piece.placed),
        "note": piece.note,
        **_items(piece),
        **_marks(piece),
    }


def _items(piece: PatternPiece) -> dict[str, Any]:
    """The things carried there, if any."""
    items = [{"name": item.item, "outline": _line(item.path)} for item in piece.items]
    return {"items": items} if items else {}


def _marks(piece: PatternPiece) -> dict[str, Any]:
    """Marks that are neither stitch lines nor folds, if any."""
    marks = [{"kind": mark.kind.value, "points": _line(mark.path)} for mark in piece.marks]
    return {"marks": marks} if marks else {}


def _hole(seam: PunchedSeam, layer: PunchedLayer, hole: Hole) -> dict[str, Any]:
    kind = seam.stitching.hole
    return {
        "seam": seam.name,
        "run": layer.run,
        "along": layer.text,
        "number": hole.number,
        "x": mm(hole.at[0]),
        "y": mm(hole.at[1]),
        "width_mm": mm(kind.width),
        "slit_degrees": None if hole.slit_degrees is None else mm(hole.slit_degrees),
    }


def _opening(pattern: PatternOpening, place: PlacedOpening) -> dict[str, Any]:
    sizes = pattern.opening
    slot = sizes.traits.shape is OpeningShape.SLOT
    return {
        "name": pattern.name,
        "kind": sizes.kind.value,
        "number": place.number,
        "diameter_mm": mm(sizes.diameter),
        "length_mm": mm(sizes.length),
        "degrees": mm(place.degrees if slot else 0.0),
        "x": mm(place.at[0]),
        "y": mm(place.at[1]),
    }


def _named(line: NamedLine) -> dict[str, Any]:
    return {"name": line.name, "points": _line(line.path)}


def _line(path: Path) -> list[list[float]]:
    """Points along a path; a closed one's first is not repeated."""
    return points(path.flattened(sagitta=SAGITTA))
