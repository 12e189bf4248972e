"""The report's JSON: its fields, its figures, and what is left of it when a project is refused."""

from __future__ import annotations

import json
from math import hypot
from pathlib import Path
from typing import Any

import pytest

from handkit.draft.drafter import draft
from handkit.draw.export.report_json import report_json
from handkit.errors import ProjectError
from handkit.findings import Finding, Severity, Where
from handkit.paper import paper_named
from handkit.punch.puncher import punch
from handkit.read.reader import read_project_text
from handkit.sheets.layout import lay_out

# A quilted panel: rows every 20 mm from side to side, holes every 4 mm, on a lining of its size.
ROWS = "\n".join(
    f"""[[seam]]
name = "row {k}"
runs = ["panel: row{k}", "lining"]"""
    for k in range(1, 15)
)
LINES = ", ".join(f"row{k} = [[10, {20 * k}], [390, {20 * k}]]" for k in range(1, 15))
PROJECT = f"""
format = 1
title = "Quilted panel"
[material]
thickness = 2
kind = "felt"
[[piece]]
name = "panel"
rectangle = [400, 300]
mark = "flesh"
lines = {{ {LINES} }}
[[piece]]
name = "lining"
rectangle = [400, 300]
on = "panel"
behind = true
[[piece]]
name = "tab"
rectangle = [40, 60]
[[opening]]
name = "eyelet"
kind = "eyelet"
hole = 6
through = ["tab"]
at = [[20, 45]]
{ROWS}
"""


def made(text: str, paper: str = "A4") -> str:
    punched = punch(draft(read_project_text(text, file="panel.toml", folder=Path())))
    sheets = lay_out(punched, paper=paper_named(paper), edge=5, margin=10, overlap=10)
    where = Where("panel.toml", 3, "panel")
    found = Finding("near-miss", Severity.NOTE, where, found="a hair", allowed="", remedy="a narrower margin")
    return report_json(punched=punched, sheets=sheets, pages=12, findings=(found,))


@pytest.fixture(scope="module")
def text() -> str:
    return made(PROJECT)


@pytest.fixture(scope="module")
def report(text: str) -> dict[str, Any]:
    return json.loads(text)


def is_mm(value: Any) -> bool:
    return type(value) in (int, float) and round(value, 3) == value


def is_points(value: Any, *, least: int) -> bool:
    return len(value) >= least and all(len(at) == 2 and is_mm(at[0]) and is_mm(at[1]) for at in value)


def test_the_document_has_its_fields(report: dict[str, Any]) -> None:
    assert list(report) == [
        *(
            "format",
            "title",
            "paper",
            "corrected",
            "sheets",
            "joins",
            "measured",
            "breaks",
            "pieces",
            "findings",
            "totals",
        )
    ]
    assert (report["format"], report["title"]) == (1, "Quilted panel")
    assert report["paper"] == {
        "name": "A4",
        "width_mm": 210,
        "height_mm": 297,
        "edge_mm": 5,
        "margin_mm": 10,
        "overlap_mm": 10,
        "windows": "shared",
        "draw": "once",
        "straights": "whole",
    }
    assert [list(piece) for piece in report["pieces"]] == [["name", "holes", "openings", "joins"]] * 3
    assert [piece["joins"] for piece in report["pieces"]] == [4, 4, 0]


def test_sheets_have_their_fields(report: dict[str, Any]) -> None:
    for number, sheet in enumerate(report["sheets"], start=1):
        assert list(sheet) == ["number", "width_mm", "height_mm", "windows"]
        assert (sheet["number"], sheet["width_mm"], sheet["height_mm"]) == (number, 210, 297)
        for window in sheet["windows"]:
            assert list(window) == ["piece", "window", "of", "copy", "copies", "polygon", "placed"]
            assert 1 <= window["window"] <= window["of"]
            assert is_points(window["polygon"], least=4)
            assert len(window["placed"]) == 6


def test_joins_have_their_fields(report: dict[str, Any]) -> None:
    assert report["joins"]
    for join in report["joins"]:
        assert list(join) == ["piece", "windows", "cut_line", "marks", "rule_line", "copy"]
        assert join["windows"] == sorted(join["windows"]) and len(join["windows"]) == 2
        assert is_points(join["cut_line"], least=2) and is_points(join["rule_line"], least=2)
        assert is_points(join["marks"], least=2)


def test_windows_lie_within_the_margin(report: dict[str, Any]) -> None:
    for sheet in report["sheets"]:
        for window in sheet["windows"]:
            a, b, c, d, e, f = window["placed"]
            for x, y in window["polygon"]:
                assert 10 - 0.001 <= a * x + c * y + e <= 200 + 0.001
                assert 10 - 0.001 <= b * x + d * y + f <= 287 + 0.001


def test_the_flesh_sides_template_turns_over_and_the_other_does_not(report: dict[str, Any]) -> None:
    for sheet in report["sheets"]:
        for window in sheet["windows"]:
            a, b, c, d, _, _ = window["placed"]
            assert a * d - b * c == pytest.approx(-1 if window["piece"] == "panel" else 1)


def test_totals_by_hand(report: dict[str, Any]) -> None:
    # Turned, a 400 × 300 takes 2 × 2 windows: 300.5 in steps of 180 and 400.5 in steps of 267, so 4
    # joins each. Cuts along the rows find room between them; cuts across, two a piece, find none.
    assert report["totals"] == {
        "sheets": len(report["sheets"]),
        "pages": 12,
        "joins": 8,
        "joins_through_holes": 4,
        "holes": 14 * 96 * 2,  # 380 / 4 = 95 steps, 14 rows, two layers
        "openings": 1,
    }


def test_the_quilts_joins_through_holes_recomputed(report: dict[str, Any]) -> None:
    """Upright and level cut lines, round holes: distances by hand, from the JSON alone."""
    through = 0
    for join in report["joins"]:
        (ax, ay), (bx, by) = join["cut_line"]
        holes = next(piece["holes"] for piece in report["pieces"] if piece["name"] == join["piece"])
        low, high = sorted((ay, by)) if ax == bx else sorted((ax, bx))
        along, at = ("y", "x") if ax == bx else ("x", "y")
        offs = [
            hypot(hole[at] - (ax if ax == bx else ay), max(low - hole[along], hole[along] - high, 0))
            for hole in holes
        ]
        through += min(offs) - 0.8 < 3
    assert through == report["totals"]["joins_through_holes"]


def test_findings_are_those_handed_in(report: dict[str, Any]) -> None:
    assert report["findings"] == [
        {
            "code": "near-miss",
            "severity": "note",
            "file": "panel.toml",
            "line": 3,
            "key": "panel",
            "found": "a hair",
            "allowed": "",
            "remedy": "a narrower margin",
        }
    ]


@pytest.mark.long
def test_the_text_is_the_same_again(text: str) -> None:
    assert made(PROJECT) == text


def test_shared_holes_count_once() -> None:
    text = """
format = 1
[material]
thickness = 2
[[piece]]
name = "base"
rectangle = [100, 100]
[[piece]]
name = "cover"
rectangle = [100, 100]
on = "base"
[[seam]]
name = "left"
runs = ["cover: D-A", "base"]
[[seam]]
name = "foot"
runs = ["cover: A-B", "base"]
"""
    report = json.loads(made(text))
    # 92 / 4 = 23 steps, 24 holes a side; the corner's hole serves both; two layers (by hand)
    assert report["totals"]["holes"] == 2 * (24 + 24 - 1)
    assert sum(len(piece["holes"]) for piece in report["pieces"]) == 2 * (24 + 24)


def test_of_a_refused_project_only_the_findings_are_known() -> None:
    with pytest.raises(ProjectError) as refused:
        read_project_text("format = 2", file="panel.toml", folder=Path())
    found = refused.value.findings
    report = json.loads(report_json(punched=None, sheets=None, pages=0, findings=found))
    assert report == {
        "format": 1,
        "title": "",
        "paper": None,
        "corrected": None,
        "sheets": [],
        "joins": [],
        "measured": [],
        "breaks": [],
        "pieces": [],
        "findings": [finding.to_json() for finding in found],
        "totals": {
            "sheets": 0,
            "pages": 0,
            "joins": 0,
            "joins_through_holes": 0,
            "holes": 0,
            "openings": 0,
        },
    }
    assert report["findings"]
