"""The pieces as JSON, for other programs.

In: the punched pattern. Out: text: every piece in its own frame, as seen from the side that will
show, y up, mm with three decimals; arcs are flattened by `tolerances.SAGITTA`.
"""

from __future__ import annotations

from typing import Any

from handkit.draft.pattern import (
    FinishedEdge,
    ItemOutline,
    NamedLine,
    PatternFold,
    PatternOpening,
    PatternPiece,
    PieceMark,
    PlacedOpening,
)
from handkit.draw.export.json_fields import document, drafted_for, fields, matrix, mm, point, points
from handkit.geometry.path import Path
from handkit.geometry.space import Bend
from handkit.punch.punched import Hole, Punched, PunchedLayer, PunchedSeam
from handkit.tolerances import SAGITTA


def flattened(path: Path) -> list[list[float]]:
    """Points along a path; a closed one's first is not repeated."""
    return points(path.flattened(sagitta=SAGITTA))


def _half(bend: Bend | None) -> float | None:
    """Half the width of a bend's zone; None of a fold without an angle."""
    return None if bend is None else mm(bend.half)


OUTLINES = fields(
    PatternPiece,
    "name quantity thickness_mm material shows mark grain_degrees area_mm2=outline outline cut_outline "
    "letters",
    area_mm2=lambda outline: mm(abs(outline.signed_area())),
    outline=flattened,
    cut_outline=flattened,
    letters=lambda letters: {letter.name: point(letter.at) for letter in letters},
)
LINE = fields(NamedLine, "name points=path", points=flattened)
FOLD = fields(
    PatternFold,
    "name points=path out angle_degrees radius_mm=radius half_bend_mm=bend",
    points=flattened,
    half_bend_mm=_half,
)
LINES = fields(PatternPiece, "fold_lines=folds lines", fold_lines=FOLD.each, lines=LINE.each)
PLACE = fields(PatternPiece, "on behind flat root level placed note", placed=matrix)
ITEM = fields(ItemOutline, "name=item outline=path", outline=flattened)
WORK = fields(
    FinishedEdge,
    "kind=work.work edges=work.edges width_mm=work.width turns=work.turns turn_in_mm=work.turn_in "
    "tape_mm=work.tape mitred finished_edge=path fold_lines=folds",
    edges=str,
    mitred=list,
    finished_edge=flattened,
    fold_lines=lambda folds: [flattened(fold) for fold in folds],
)
MARK = fields(PieceMark, "kind points=path", points=flattened)


def pieces_json(punched: Punched) -> str:
    """The document: `pieces` in the file's order, see DEVELOPERS.md for the fields.

    A hole's `run` is the place of its layer in the seam's `runs`, from 1, and `along` that run's
    text. `placed` leads into the frame of the piece `root`.
    """
    pattern = punched.pattern
    pieces = [_piece(punched, piece) for piece in pattern.pieces]
    return document({"title": pattern.project.title, **drafted_for(pattern.project), "pieces": pieces})


def holes_and_openings(punched: Punched, piece: str) -> dict[str, Any]:
    """Of a piece: `holes` by seam, layer and number, a shared one in each seam; `openings`, where a slot
    has its `length_mm` and the direction of its length."""
    openings = [
        _opening(opening, place)
        for opening in punched.pattern.openings
        for place in opening.places
        if place.piece == piece
    ]
    return {"holes": [_hole(*found) for found in punched.holes_of(piece)], "openings": openings}


def _piece(punched: Punched, piece: PatternPiece) -> dict[str, Any]:
    """All of a piece; things carried and marks only where it has some."""
    stitch_lines = [
        {"seam": seam.name, "run": k, "along": run.text, "closed": seam.closed, "points": flattened(run.path)}
        for seam in punched.pattern.seams
        for k, run in enumerate(seam.runs, start=1)
        if run.piece == piece.name and run.path is not None
    ]
    return {
        **OUTLINES.one(piece),
        "stitch_lines": stitch_lines,
        **LINES.one(piece),
        **holes_and_openings(punched, piece.name),
        **PLACE.one(piece),
        **({"edge_works": WORK.each(piece.works)} if piece.works else {}),
        **({"items": ITEM.each(piece.items)} if piece.items else {}),
        **({"marks": MARK.each(piece.marks)} if piece.marks else {}),
    }


def _hole(seam: PunchedSeam, layer: PunchedLayer, hole: Hole) -> dict[str, Any]:
    return {
        "seam": seam.name,
        "run": layer.run,
        "along": layer.text,
        "number": hole.number,
        "x": mm(hole.at[0]),
        "y": mm(hole.at[1]),
        "width_mm": mm(seam.stitching.hole.width),
        "slit_degrees": None if hole.slit_degrees is None else mm(hole.slit_degrees),
    }


def _opening(pattern: PatternOpening, place: PlacedOpening) -> dict[str, Any]:
    sizes = pattern.opening
    return {
        "name": pattern.name,
        "kind": sizes.kind.value,
        "number": place.number,
        "diameter_mm": mm(sizes.diameter),
        "length_mm": mm(sizes.length),
        "degrees": mm(place.degrees if sizes.traits.long else 0.0),
        "x": mm(place.at[0]),
        "y": mm(place.at[1]),
    }
