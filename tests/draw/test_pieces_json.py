"""The pieces' JSON, field by field, and values recomputed from it alone."""

from __future__ import annotations

import json
from itertools import pairwise
from math import hypot, pi
from pathlib import Path
from typing import Any

import pytest

from handkit.draft.drafter import draft
from handkit.draw.export.pieces_json import pieces_json
from handkit.punch.puncher import punch
from handkit.read.reader import read_project_text

PROJECT = """
format = 1
title = "Sketching roll"
[material]
thickness = 2
[[piece]]
name = "flap"
rectangle = [120, 80]
round = { C = 12 }
arc = { "A-B" = 6 }
mark = "flesh"
note = "cut last"
trim = { "B-C" = 2 }
skive = { "D-A" = { width = 10, to = 1 } }
folds = { spine = [[60, 5], [60, 75]] }
lines = { row = [[24, 12], [100, 12]] }
[[piece]]
name = "patch"
rectangle = [40, 30]
on = "flap"
at = [75, 24]
turn = 30
[[piece]]
name = "gusset"
circle = 60
on = "flap"
flat = false
[[piece]]
name = "tag"
rectangle = [30, 20]
quantity = 3
thickness = 1.25
[[piece]]
name = "lining"
copy = "flap"
mirrored = true
mark = "grain"
on = "flap"
turned_over = true
behind = true
[[seam]]
name = "patch"
runs = ["patch: A-B-C-D-A", "flap"]
[[seam]]
name = "row"
runs = ["flap: row", "lining"]
hole = { slit = 2.5, slant = 45 }
[[opening]]
name = "strap slot"
kind = "slot"
slot = [25, 5]
turn = 90
through = ["flap", "lining"]
at = [[12, 40]]
[[opening]]
name = "loop rivet"
kind = "rivet"
hole = 3
cap = 9
through = ["gusset"]
at = [[-10, 0], [10, 0]]
"""


@pytest.fixture(scope="module")
def text() -> str:
    project = read_project_text(PROJECT, file="roll.toml", folder=Path())
    return pieces_json(punch(draft(project)))


@pytest.fixture(scope="module")
def pieces(text: str) -> dict[str, dict[str, Any]]:
    return {piece["name"]: piece for piece in json.loads(text)["pieces"]}


# ── form ──────────────────────────────────────────────────────────────────────

NUMBER, TEXT = (int, float), (str,)


def is_point(value: Any) -> bool:
    return len(value) == 2 and all(is_mm(number) for number in value)


def is_points(value: Any) -> bool:
    return len(value) >= 2 and all(is_point(point) for point in value)


def is_mm(value: Any) -> bool:
    """A number with three decimals at most."""
    return type(value) in NUMBER and round(value, 3) == value and str(value) != "-0.0"


def is_map(value: Any) -> bool:
    return value is None or (len(value) == 6 and all(type(number) in NUMBER for number in value))


def is_whole(value: Any) -> bool:
    return type(value) is int


FIELDS = {
    "name": lambda v: type(v) is str,
    "quantity": is_whole,
    "thickness_mm": is_mm,
    "material": lambda v: v in ("firm leather", "soft leather", "felt", "canvas", "webbing"),
    "mark": lambda v: v in ("grain", "flesh"),
    "shows": lambda v: v in ("grain", "flesh"),
    "grain_degrees": is_mm,
    "area_mm2": is_mm,
    "outline": is_points,
    "cut_outline": is_points,
    "letters": lambda v: all(is_point(at) for at in v.values()),
    "stitch_lines": lambda v: all(fits(line, STITCH_LINE) for line in v),
    "fold_lines": lambda v: all(fits(line, FOLD) for line in v),
    "lines": lambda v: all(fits(line, LINE) for line in v),
    "holes": lambda v: all(fits(hole, HOLE) for hole in v),
    "openings": lambda v: all(fits(opening, OPENING) for opening in v),
    "on": lambda v: v is None or type(v) is str,
    "behind": lambda v: type(v) is bool,
    "flat": lambda v: type(v) is bool,
    "root": lambda v: type(v) is str,
    "level": is_whole,
    "placed": is_map,
    "note": lambda v: type(v) is str,
}
LINE = {"name": lambda v: type(v) is str, "points": is_points}
FOLD = {
    **LINE,
    "out": lambda v: v in ("grain", "flesh", None),
    "angle_degrees": lambda v: v is None or is_mm(v),
    "radius_mm": is_mm,
    "half_bend_mm": lambda v: v is None or is_mm(v),
}
STITCH_LINE = {
    "seam": lambda v: type(v) is str,
    "run": is_whole,
    "along": lambda v: type(v) is str,
    "closed": lambda v: type(v) is bool,
    "points": is_points,
}
HOLE = {
    "seam": lambda v: type(v) is str,
    "run": is_whole,
    "along": lambda v: type(v) is str,
    "number": is_whole,
    "x": is_mm,
    "y": is_mm,
    "width_mm": is_mm,
    "slit_degrees": lambda v: v is None or is_mm(v),
}
OPENING = {
    "name": lambda v: type(v) is str,
    "kind": lambda v: v in ("rivet", "snap", "eyelet", "tongue", "slot", "hole"),
    "number": is_whole,
    "diameter_mm": is_mm,
    "length_mm": is_mm,
    "degrees": is_mm,
    "x": is_mm,
    "y": is_mm,
}


def fits(value: dict[str, Any], fields: dict[str, Any]) -> bool:
    assert set(value) == set(fields)
    for name, test in fields.items():
        assert test(value[name]), (name, value[name])
    return True


def test_every_field_has_its_form(text: str) -> None:
    document = json.loads(text)
    assert list(document) == ["format", "title", "pieces"]
    assert (document["format"], document["title"]) == (1, "Sketching roll")
    assert [piece["name"] for piece in document["pieces"]] == ["flap", "patch", "gusset", "tag", "lining"]
    for piece in document["pieces"]:
        assert fits(piece, FIELDS)


def test_the_text_is_the_same_again_and_ends_its_line(text: str) -> None:
    again = pieces_json(punch(draft(read_project_text(PROJECT, file="roll.toml", folder=Path()))))
    assert again == text and text.endswith("}\n")


# ── values, all worked out by hand ────────────────────────────────────────────


def test_outlines_are_closed_and_do_not_repeat_their_first_point(pieces: dict[str, dict[str, Any]]) -> None:
    assert pieces["patch"]["outline"] == [[0, 0], [40, 0], [40, 30], [0, 30]]
    for piece in pieces.values():
        assert piece["outline"][0] != piece["outline"][-1]


def shoelace(ring: list[list[float]]) -> float:
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise([*ring, ring[0]])) / 2


def test_areas_agree_with_outlines_and_formulas(pieces: dict[str, dict[str, Any]]) -> None:
    assert pieces["patch"]["area_mm2"] == 1200
    assert pieces["gusset"]["area_mm2"] == pytest.approx(pi * 30**2, abs=0.001)
    # a circular segment of 6 mm over a chord of 120 added, a corner of radius 12 taken off:
    # R = (60² + 6²) / 12 = 303, θ = 2·asin(60/303); (1 − π/4)·12² (any handbook)
    assert pieces["flap"]["area_mm2"] == pytest.approx(9600 + 480.96 - 30.90, abs=0.02)
    for piece in pieces.values():
        length = sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(piece["outline"]))
        assert abs(shoelace(piece["outline"])) == pytest.approx(piece["area_mm2"], abs=0.003 * length)


def test_a_flattened_circle_leaves_it_by_two_thousandths_at_most(pieces: dict[str, dict[str, Any]]) -> None:
    ring = pieces["gusset"]["outline"]
    assert all(hypot(x, y) == pytest.approx(30, abs=0.001) for x, y in ring)
    middles = [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in pairwise([*ring, ring[0]])]
    assert all(30 - hypot(x, y) <= 0.002 + 0.001 for x, y in middles)


def test_a_trim_lies_outside_the_finished_outline(pieces: dict[str, dict[str, Any]]) -> None:
    assert max(x for x, _ in pieces["flap"]["outline"]) == 120
    assert max(x for x, _ in pieces["flap"]["cut_outline"]) == 122
    assert pieces["patch"]["cut_outline"] == pieces["patch"]["outline"]


def test_letters_stand_on_corners_and_at_the_middle_of_rounded_ones(
    pieces: dict[str, dict[str, Any]],
) -> None:
    # 12 · (1 − √½) in from the corner at (120, 80)
    assert pieces["flap"]["letters"] == {"A": [0, 0], "B": [120, 0], "C": [116.485, 76.485], "D": [0, 80]}
    assert pieces["lining"]["letters"]["C"] == [-116.485, 76.485]
    assert pieces["gusset"]["letters"] == {"A": [30, 0]}


def test_words_and_figures_come_from_the_file(pieces: dict[str, dict[str, Any]]) -> None:
    flap, tag = pieces["flap"], pieces["tag"]
    assert (flap["mark"], flap["note"], flap["thickness_mm"], flap["on"]) == ("flesh", "cut last", 2, None)
    assert (tag["quantity"], tag["thickness_mm"], tag["holes"], tag["openings"]) == (3, 1.25, [], [])
    unbent = {"out": None, "angle_degrees": None, "radius_mm": 0, "half_bend_mm": None}
    assert flap["fold_lines"] == [{"name": "spine", "points": [[60, 5], [60, 75]], **unbent}]
    assert flap["lines"] == [{"name": "row", "points": [[24, 12], [100, 12]]}]


def test_placed_leads_into_the_root_or_is_null(pieces: dict[str, dict[str, Any]]) -> None:
    assert pieces["flap"]["placed"] == [1, 0, 0, 1, 0, 0]
    assert pieces["patch"]["placed"] == [0.866025404, 0.5, -0.5, 0.866025404, 75, 24]
    assert pieces["lining"]["placed"] == [-1, 0, 0, 1, 0, 0]
    assert pieces["gusset"]["placed"] is None and pieces["gusset"]["on"] == "flap"
    assert {pieces[name]["root"] for name in ("flap", "patch", "lining")} == {"flap"}
    assert pieces["lining"]["level"] < pieces["flap"]["level"] < pieces["patch"]["level"]


def laid(piece: dict[str, Any], hole: dict[str, Any]) -> tuple[float, float]:
    a, b, c, d, e, f = piece["placed"]
    return (a * hole["x"] + c * hole["y"] + e, b * hole["x"] + d * hole["y"] + f)


def test_holes_of_layers_that_lie_flat_coincide(pieces: dict[str, dict[str, Any]]) -> None:
    places: dict[tuple[str, int], list[tuple[float, float]]] = {}
    for name in ("flap", "patch", "lining"):
        for hole in pieces[name]["holes"]:
            places.setdefault((hole["seam"], hole["number"]), []).append(laid(pieces[name], hole))
    assert len(places) == 28 + 20  # round a 32 × 22 inset: 8 + 5.5→6 steps twice; 76 mm at 4: 19 steps
    for (x0, y0), (x1, y1) in places.values():
        assert hypot(x1 - x0, y1 - y0) < 0.01


def test_a_hole_is_known_by_seam_run_and_number(pieces: dict[str, dict[str, Any]]) -> None:
    holes = pieces["patch"]["holes"]
    assert [hole["number"] for hole in holes] == list(range(1, 29))
    assert {(hole["seam"], hole["run"], hole["along"]) for hole in holes} == {("patch", 1, "A-B-C-D-A")}
    assert {(h["seam"], h["run"], h["along"]) for h in pieces["lining"]["holes"]} == {("row", 2, "")}
    slits = [hole for hole in pieces["flap"]["holes"] if hole["seam"] == "row"]
    assert {(hole["width_mm"], hole["slit_degrees"]) for hole in slits} == {(2.5, 45)}
    assert {(hole["width_mm"], hole["slit_degrees"]) for hole in holes} == {(1.6, None)}


def test_openings_have_their_sizes_and_places(pieces: dict[str, dict[str, Any]]) -> None:
    slot = {"name": "strap slot", "kind": "slot", "number": 1, "diameter_mm": 5, "length_mm": 25}
    assert pieces["flap"]["openings"] == [{**slot, "degrees": 90, "x": 12, "y": 40}]
    assert [(o["x"], o["y"]) for o in pieces["lining"]["openings"]] == [(-12, 40)]
    rivets = pieces["gusset"]["openings"]
    assert [(o["number"], o["diameter_mm"], o["x"], o["y"]) for o in rivets] == [
        (1, 3, -10, 0),
        (2, 3, 10, 0),
    ]
