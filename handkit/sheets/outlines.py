"""Outlines on sheets: what has an outline and a name and belongs to no project, laid out as templates are.

In: rings by name, the paper, edge, margin and overlap in mm, the printer. Out: `Sheets`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from handkit.findings import Source
from handkit.geometry.affine import Point
from handkit.paper import Paper
from handkit.printers.correction import Printer
from handkit.sheets.engine import OVERLAP, place
from handkit.sheets.laid import Sheets
from handkit.sheets.page import settled_page
from handkit.sheets.shape import Shape


def lay_out_outlines(
    outlines: Mapping[str, Sequence[Point]],
    *,
    paper: Paper,
    edge: float,
    margin: float,
    printer: Printer | None = None,
) -> Sheets:
    """Each outline on the fewest sheets; for a printer, clear of what it would lose. Raises ProjectError
    where the page leaves no room, ValueError where a ring crosses itself."""
    edge, margin, lost = settled_page(
        Source(), paper, edge=edge, margin=margin, overlap=OVERLAP, printer=printer
    )
    shapes = [Shape(name, tuple(ring)) for name, ring in outlines.items()]
    placed = place(shapes, paper=paper, margin=margin)
    return Sheets(
        paper=paper,
        edge=edge,
        margin=margin,
        overlap=OVERLAP,
        sheets=placed.sheets,
        joins=placed.joins,
        joins_through_holes=placed.joins_through_holes,
        findings=lost,
        correction=printer.needed if printer else None,
    )
