"""Pieces a hair larger than the page: told where that hair costs a sheet."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from handkit.geometry.path import polyline
from handkit.paper import PAPERS
from handkit.sheets.layout import lay_out

# A4 less 10 mm all round is 190 × 277; the outline's stroke of 0.5 mm belongs to the piece.
CASES = [
    # width, height, edge, text: all by hand. The rest of a cut piece is one more sheet, in 2 or 4 windows.
    ((189.5, 276.5), 5, ""),
    (
        (190.1, 270),
        5,
        'orchard.toml:10: note: piece "pocket": found a piece 0.6 mm wider than the page allows, its line\'s '
        "width included; a margin of 9.7 mm would save 1 sheet [near-miss]",
    ),
    (
        (270, 190.1),
        5,
        'orchard.toml:10: note: piece "pocket": found a piece 0.6 mm wider than the page allows, its line\'s '
        "width included; a margin of 9.7 mm would save 1 sheet [near-miss]",
    ),
    (
        (189, 277.5),
        5,
        'orchard.toml:10: note: piece "pocket": found a piece 1 mm higher than the page allows, its line\'s '
        "width included; a margin of 9.5 mm would save 1 sheet [near-miss]",
    ),
    (
        (190, 277.5),
        6,
        'orchard.toml:10: note: piece "pocket": found a piece 0.5 mm wider and 1 mm higher than the page '
        "allows, its line's width included; a piece 1 mm smaller would save 1 sheet [near-miss]",
    ),
    ((192.6, 270), 5, ""),
]


@pytest.mark.parametrize(("size", "edge", "text"), CASES)
def test_a_near_miss_is_told(
    parts: SimpleNamespace, size: tuple[float, float], edge: float, text: str
) -> None:
    w, h = size
    project = parts.punched([parts.piece("pocket", polyline([(0, 0), (w, 0), (w, h), (0, h)], closed=True))])
    sheets = lay_out(project, paper=PAPERS[0], edge=edge, margin=10, overlap=10)
    assert "\n".join(str(finding) for finding in sheets.findings) == text


def test_a_near_miss_that_costs_no_sheet_is_not_told(parts: SimpleNamespace) -> None:
    # The pocket's rest shares the sheet that the tab takes anyway.
    pocket = parts.piece("pocket", polyline([(0, 0), (190.1, 0), (190.1, 270), (0, 270)], closed=True))
    tab = parts.piece("tab", polyline([(0, 0), (90, 0), (90, 90), (0, 90)], closed=True))
    sheets = lay_out(parts.punched([pocket, tab]), paper=PAPERS[0], edge=5, margin=10, overlap=10)
    assert (len(sheets.sheets), sheets.findings) == (2, ())
