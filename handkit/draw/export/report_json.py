"""The report of a kit as JSON: what lies on which sheet, the joins, and all findings.

In: the punched pattern, its sheets, the number of pages, the findings of all steps. Out: text, mm
with three decimals. Windows' polygons and joins are in the piece's frame; a window's `placed` leads
from there onto its sheet.
"""

from __future__ import annotations

from collections import Counter
from typing import Any

from handkit.draw.export.json_values import document, matrix, mm, points
from handkit.draw.export.pieces_json import holes_of, openings_of
from handkit.findings import Finding
from handkit.punch.punched import Punched
from handkit.sheets.laid import Break, Join, Sheet, Sheets, Window


def report_json(
    *, punched: Punched | None, sheets: Sheets | None, pages: int, findings: tuple[Finding, ...]
) -> str:
    """The document; where the project has errors only the findings are known and the rest is empty.

    `pieces` repeat the holes and openings of each piece, so that whoever reads the report can count
    the joins that run through one; `joins` of a piece are counted there. `breaks` are straight parts
    left out between two lines. `totals.holes` are holes to be made in one article: each layer
    counts, a hole that two seams share counts once; `totals.openings` likewise on every piece.
    """
    laid = sheets.sheets if sheets else ()
    joins = sheets.joins if sheets else ()
    return document(
        {
            "title": punched.pattern.project.title if punched else "",
            "paper": _paper(sheets),
            "sheets": [_sheet(sheet, sheets) for sheet in laid if sheets],
            "joins": [_join(join) for join in joins],
            "breaks": [_break(one) for one in sheets.breaks] if sheets else [],
            "pieces": _pieces(punched, sheets),
            "findings": [finding.to_json() for finding in findings],
            "totals": {
                "sheets": len(laid),
                "pages": pages,
                "joins": len(joins),
                "joins_through_holes": sheets.joins_through_holes if sheets else 0,
                "holes": _holes_to_make(punched) if punched else 0,
                "openings": _openings_to_make(punched) if punched else 0,
            },
        }
    )


def _paper(sheets: Sheets | None) -> dict[str, Any] | None:
    if sheets is None:
        return None
    return {
        "name": sheets.paper.name,
        "width_mm": mm(sheets.paper.width),
        "height_mm": mm(sheets.paper.height),
        "edge_mm": mm(sheets.edge),
        "margin_mm": mm(sheets.margin),
        "overlap_mm": mm(sheets.overlap),
        "windows": sheets.layout.windows.value,
        "draw": sheets.layout.draw.value,
        "straights": sheets.layout.straights.value,
    }


def _sheet(sheet: Sheet, sheets: Sheets) -> dict[str, Any]:
    return {
        "number": sheet.number,
        "width_mm": mm(sheets.paper.width),
        "height_mm": mm(sheets.paper.height),
        "windows": [_window(window) for window in sheet.windows],
    }


def _window(window: Window) -> dict[str, Any]:
    return {
        "piece": window.piece,
        "window": window.number,
        "of": window.count,
        "copy": window.copy,
        "copies": window.copies,
        "polygon": points(window.polygon),
        "placed": matrix(window.placed),
    }


def _join(join: Join) -> dict[str, Any]:
    return {
        "piece": join.piece,
        "windows": list(join.windows),
        "cut_line": points(join.cut_line),
        "marks": points(join.marks),
        "rule_line": points(join.rule_line),
        "copy": join.copy,
    }


def _break(one: Break) -> dict[str, Any]:
    return {
        "piece": one.piece,
        "lines": [points(line) for line in one.lines],
        "length_mm": mm(one.length),
        "windows": [list(windows) for windows in one.windows],
        "copy": one.copy,
    }


def _pieces(punched: Punched | None, sheets: Sheets | None) -> list[dict[str, Any]]:
    if punched is None:
        return []
    joins = Counter(join.piece for join in sheets.joins) if sheets else Counter[str]()
    return [
        {
            "name": piece.name,
            "holes": holes_of(punched, piece.name),
            "openings": openings_of(punched, piece.name),
            "joins": joins[piece.name],
        }
        for piece in punched.pattern.pieces
    ]


def _holes_to_make(punched: Punched) -> int:
    drawn = sum(len(layer.holes) for seam in punched.seams for layer in seam.layers)
    return drawn - sum(len(shared.users) - 1 for shared in punched.shared)


def _openings_to_make(punched: Punched) -> int:
    return sum(len(opening.places) for opening in punched.pattern.openings)
