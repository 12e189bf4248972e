"""Reports as JSON: of a kit, what lies on which sheet, the joins, and all findings; of a check, the
findings and how things fit.

In: the punched pattern, its sheets, the number of pages, the findings of all steps. Out: text, mm
with three decimals. Windows' polygons and joins are in the piece's frame; a window's `placed` leads
from there onto its sheet.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Sequence
from typing import Any

from handkit.draft.pattern import ItemFit
from handkit.draw.export.json_fields import FORMAT, document, drafted_for, fields, matrix, mm, points
from handkit.draw.export.pieces_json import holes_and_openings
from handkit.findings import Finding
from handkit.printers.correction import Correction
from handkit.punch.punched import Punched
from handkit.sheets.laid import Break, Join, Sheets, Window

PAPER = fields(
    Sheets,
    "name=paper.name width_mm=paper.width height_mm=paper.height edge_mm margin_mm overlap_mm "
    "windows=layout.windows draw=layout.draw straights=layout.straights",
)
WINDOW = fields(
    Window,
    "piece window=number of=count copy copies polygon placed",
    polygon=points,
    placed=matrix,
)
CORRECTION = fields(Correction, "printer=name across down skew_degrees=skew")
JOIN = fields(
    Join,
    "piece windows cut_line marks rule_line copy",
    cut_line=points,
    marks=points,
    rule_line=points,
)
BREAK = fields(
    Break, "piece lines length_mm windows copy", lines=lambda lines: [points(line) for line in lines]
)
ITEM_FIT = fields(ItemFit, "item part measure needed_mm given_mm ease_mm least_mm most_mm fit where")


def report_json(
    *, punched: Punched | None, sheets: Sheets | None, pages: int, findings: tuple[Finding, ...]
) -> str:
    """The document; where the project has errors only the findings are known and the rest is empty.

    `pieces` repeat the holes and openings of each piece, so that whoever reads the report can count
    the joins that run through one; `joins` of a piece are counted there. `breaks` are straight parts
    left out between two lines. `totals.holes` are holes to be made in one article: each layer
    counts, a hole that two seams share counts once; `totals.openings` likewise on every piece.
    `corrected` is what the one printer does that the sheets are for, null where that is any. `measured` are
    the pieces on no sheet: each is a drawing to be marked out by its measures.
    """
    joins = sheets.joins if sheets else ()
    corrected = sheets.correction if sheets else None
    return document(
        {
            "title": punched.project.title if punched else "",
            **(drafted_for(punched.project) if punched else {}),
            "paper": PAPER.one(sheets) if sheets else None,
            "corrected": CORRECTION.one(corrected) if corrected else None,
            "sheets": _sheets(sheets) if sheets else [],
            "joins": JOIN.each(joins),
            "measured": [one.piece for one in sheets.measured] if sheets else [],
            "breaks": BREAK.each(sheets.breaks) if sheets else [],
            "pieces": _pieces(punched, Counter(join.piece for join in joins)) if punched else [],
            "findings": [finding.to_json() for finding in findings],
            "totals": {
                "sheets": len(sheets.sheets) if sheets else 0,
                "pages": pages,
                "joins": len(joins),
                "joins_through_holes": sheets.joins_through_holes if sheets else 0,
                "holes": punched.holes_to_make if punched else 0,
                "openings": punched.openings_to_make if punched else 0,
            },
        }
    )


def check_json(findings: Sequence[Finding], fits: Sequence[ItemFit]) -> str:
    """What a check reports; `rooms` only where items are carried."""
    rooms = {"rooms": ITEM_FIT.each(fits)} if fits else {}
    content = {"format": FORMAT, "findings": [each.to_json() for each in findings], **rooms}
    return json.dumps(content, indent=1) + "\n"


def _sheets(sheets: Sheets) -> list[dict[str, Any]]:
    size = {"width_mm": mm(sheets.paper.width), "height_mm": mm(sheets.paper.height)}
    return [
        {"number": sheet.number, **size, "windows": WINDOW.each(sheet.windows)} for sheet in sheets.sheets
    ]


def _pieces(punched: Punched, joins: Counter[str]) -> list[dict[str, Any]]:
    names = [piece.name for piece in punched.pattern.pieces]
    return [{"name": name, **holes_and_openings(punched, name), "joins": joins[name]} for name in names]
