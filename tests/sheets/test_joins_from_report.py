"""Joins recomputed from the report's JSON alone: nothing below the line imports or knows handkit."""

from __future__ import annotations

import json
from math import cos, hypot, radians, sin
from types import SimpleNamespace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.draw.export.report_json import report_json
from handkit.geometry.path import polyline
from handkit.paper import PAPERS
from handkit.punch.punched import Punched
from handkit.read.project import RoundHole, Side, SlitHole
from handkit.sheets.layout import lay_out


def report_of(project: Punched) -> str:
    sheets = lay_out(project, paper=PAPERS[0], edge=5, margin=10, overlap=10)
    return report_json(punched=project, sheets=sheets, pages=1, findings=())


# ── from the JSON alone ───────────────────────────────────────────────────────


def to_straight(x: float, y: float, line: list[list[float]]) -> float:
    (ax, ay), (bx, by) = line
    length = hypot(bx - ax, by - ay)
    along = ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / length
    if 0 <= along <= length:
        return abs((x - ax) * (by - ay) - (y - ay) * (bx - ax)) / length
    return min(hypot(x - ax, y - ay), hypot(x - bx, y - by))


def same_side(line: list[list[float]], places: list[tuple[float, float]]) -> bool:
    (ax, ay), (bx, by) = line
    sides = [(bx - ax) * (y - ay) - (by - ay) * (x - ax) for x, y in places]
    return min(sides) >= 0 or max(sides) <= 0


def clearance(line: list[list[float]], keep_out: dict[str, Any]) -> float:
    """From a cut line to the edge of a hole, slit, opening or slot."""
    length, width = keep_out.get("length_mm", keep_out.get("width_mm")), keep_out.get("diameter_mm", 0.0)
    degrees = keep_out.get("degrees", keep_out.get("slit_degrees"))
    if degrees is None:  # a round hole
        return to_straight(keep_out["x"], keep_out["y"], line) - keep_out["width_mm"] / 2
    reach = (length - width) / 2
    dx, dy = reach * cos(radians(degrees)), reach * sin(radians(degrees))
    ends = [(keep_out["x"] - dx, keep_out["y"] - dy), (keep_out["x"] + dx, keep_out["y"] + dy)]
    nearest = min(to_straight(x, y, line) for x, y in ends)
    core = [list(end) for end in ends]
    if reach > 0:
        nearest = min(nearest, *(to_straight(x, y, core) for x, y in line))
        if not same_side(line, ends) and not same_side(core, [tuple(end) for end in line]):
            nearest = 0.0
    return nearest - width / 2


def through_holes(report: dict[str, Any]) -> int:
    keep_outs = {piece["name"]: piece["holes"] + piece["openings"] for piece in report["pieces"]}
    return sum(
        any(round(clearance(join["cut_line"], keep_out), 6) < 3.0 for keep_out in keep_outs[join["piece"]])
        for join in report["joins"]
    )


def apply(m: list[float], x: float, y: float) -> tuple[float, float]:
    return (m[0] * x + m[2] * y + m[4], m[1] * x + m[3] * y + m[5])


def back(m: list[float], x: float, y: float) -> tuple[float, float]:
    k = m[0] * m[3] - m[1] * m[2]
    x, y = x - m[4], y - m[5]
    return ((m[3] * x - m[2] * y) / k, (m[0] * y - m[1] * x) / k)


def joins_hold(report: dict[str, Any]) -> None:
    """Every join: between windows that exist, marks at one place of the drawing through both matrices."""
    windows = {(w["piece"], w["window"]): w for sheet in report["sheets"] for w in sheet["windows"]}
    for join in report["joins"]:
        both = [windows[join["piece"], number] for number in join["windows"]]
        assert len(join["marks"]) >= 2
        for x, y in join["marks"]:
            homes = [back(w["placed"], *apply(w["placed"], x, y)) for w in both]
            assert hypot(homes[0][0] - homes[1][0], homes[0][1] - homes[1][1]) < 0.01
            assert to_straight(x, y, join["cut_line"]) < 0.002
        marks = [[apply(w["placed"], x, y) for x, y in join["marks"]] for w in both]
        spans = [hypot(a[0] - b[0], a[1] - b[1]) for a, b in marks]
        assert abs(spans[0] - spans[1]) < 0.01


# ── the cases ─────────────────────────────────────────────────────────────────

LENGTHS = st.integers(1, 1200).map(lambda tenths: tenths / 10)


@st.composite
def holed_panels(draw: st.DrawFn) -> dict[str, Any]:
    """A panel with rows of holes and slits and a few slots anywhere on it."""
    w, h = draw(st.integers(150, 520)), draw(st.integers(150, 520))
    at = st.tuples(st.integers(2, (w - 2) * 1000), st.integers(2, (h - 2) * 1000))
    places = st.lists(at.map(lambda p: (p[0] / 1000, p[1] / 1000)), min_size=0, max_size=12)
    return {
        "size": (w, h),
        "mark": draw(st.sampled_from(Side)),
        "round": draw(places),
        "slits": draw(places),
        "slant": draw(st.integers(-90, 90)),
        "slots": draw(places),
        "turn": draw(st.sampled_from([0.0, 90.0, 33.3])),
    }


@settings(derandomize=True, deadline=None, max_examples=5)
@given(panel=holed_panels())
def test_joins_through_holes_are_counted_exactly(parts: SimpleNamespace, panel: dict[str, Any]) -> None:
    hold_count_exact(parts, panel)


@pytest.mark.long
@settings(derandomize=True, deadline=None, max_examples=16)
@given(panel=holed_panels())
def test_joins_through_holes_are_counted_exactly_at_length(
    parts: SimpleNamespace, panel: dict[str, Any]
) -> None:
    hold_count_exact(parts, panel)


def hold_count_exact(parts: SimpleNamespace, panel: dict[str, Any]) -> None:
    w, h = panel["size"]
    outline = polyline([(0, 0), (w, 0), (w, h), (0, h)], closed=True)
    project = parts.punched(
        [parts.piece("panel", outline, mark=panel["mark"])],
        seams=[
            parts.seam(name, "panel", panel[name], hole)
            for name, hole in (("round", RoundHole(1.6)), ("slits", SlitHole(2.5, panel["slant"])))
            if panel[name]
        ],
        openings=[
            parts.opening("slot", "panel", panel["slots"], diameter=6, length=25, degrees=panel["turn"])
        ],
    )
    report = json.loads(report_of(project))
    assert report["totals"]["joins_through_holes"] == through_holes(report)
    joins_hold(report)


def panel_with_rows(parts: SimpleNamespace, *, gap: bool) -> Punched:
    """350 × 200 in two windows: the cut line can lie from 165.25 to 184.75 (by hand: 184.75 less up to
    the slack of 19.5), and would lie at an end of that if it weren't for the holes 4 mm apart.
    """
    outline = polyline([(0, 0), (350, 0), (350, 200), (0, 200)], closed=True)
    columns = [4.0 + 4 * k for k in range(86)]
    if gap:
        columns = [x for x in columns if not 168 < x < 184]  # leaves 171.8 to 180.2 for the cut
    seams = [
        parts.seam(f"row {k}", "panel", [(x, y) for x in columns]) for k, y in enumerate((20.0, 100.0, 180.0))
    ]
    return parts.punched([parts.piece("panel", outline)], seams=seams)


@pytest.mark.parametrize(("gap", "through"), [(False, 1), (True, 0)])
def test_a_cut_goes_where_the_holes_leave_room(parts: SimpleNamespace, gap: bool, through: int) -> None:
    report = json.loads(report_of(panel_with_rows(parts, gap=gap)))
    assert report["totals"]["joins"] == 1
    assert report["totals"]["joins_through_holes"] == through == through_holes(report)


def test_marks_and_rule_keep_clear_of_holes_where_they_can(parts: SimpleNamespace) -> None:
    report = json.loads(report_of(panel_with_rows(parts, gap=False)))
    (join,) = report["joins"]
    (piece,) = report["pieces"]
    for hole in piece["holes"]:
        assert clearance(join["rule_line"], hole) >= 1.5
        assert all(hypot(hole["x"] - x, hole["y"] - y) >= 4.5 + 0.8 for x, y in join["marks"])
