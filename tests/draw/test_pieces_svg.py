"""The pieces' SVG, read back by the standard library's XML reader and a reading of SVG 1.1's arcs."""

from __future__ import annotations

from collections.abc import Iterator
from math import acos, atan2, cos, hypot, pi, sin, sqrt
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from msgspec.structs import replace

from handkit.draft.drafter import draft
from handkit.draw.export.pieces_svg import pieces_svg
from handkit.punch.punched import Punched
from handkit.punch.puncher import punch
from handkit.read.reader import read_project_text

SVG = "{http://www.w3.org/2000/svg}"
Point = tuple[float, float]

PROJECT = """
format = 1
title = "Roll <1> & \\"2\\""
[material]
thickness = 2
[[piece]]
name = "flap & <fold> 'ä' \\u2300"
rectangle = [120, 80]
round = { C = 12 }
arc = { "A-B" = 6, "D-A" = -4 }
trim = { "B-C" = 2 }
folds = { spine = [[60, 15], [60, 75]] }
lines = { row = [[24, 12], [100, 12]] }
[[piece]]
name = "moon"
points = [[0, 0], [60, 0], [60, 40]]
arc = { "C-A" = 50 }
[[piece]]
name = "gusset"
circle = 60
[[piece]]
name = "lining"
rectangle = [120, 80]
on = "flap & <fold> 'ä' \\u2300"
behind = true
[[seam]]
name = "row"
runs = ["flap & <fold> 'ä' \\u2300: row", "lining"]
hole = { slit = 2.5, slant = 30 }
pitch = 5
[[opening]]
name = "slot"
kind = "slot"
slot = [25, 5]
turn = 90
through = ["lining"]
at = [[100, 50]]
[[opening]]
name = "rivet"
kind = "rivet"
hole = 3
cap = 9
through = ["gusset"]
at = [[-10, 0]]
"""


@pytest.fixture(scope="module")
def punched() -> Punched:
    return punch(draft(read_project_text(PROJECT, file="roll.toml", folder=Path())))


@pytest.fixture(scope="module")
def root(punched: Punched) -> ET.Element:
    return ET.fromstring(pieces_svg(punched))


def groups(root: ET.Element) -> list[ET.Element]:
    return root.findall(f"{SVG}g")


# ── reading path data, after SVG 1.1, 8.3 and F.6.5 ───────────────────────────


def points_of(data: str) -> Iterator[Point]:
    """Places along M, L, A and Z."""
    words = iter(data.split())
    at = start = (0.0, 0.0)
    for word in words:
        if word == "M":
            at = start = (float(next(words)), float(next(words)))
            yield at
        elif word == "L":
            at = (float(next(words)), float(next(words)))
            yield at
        elif word == "A":
            radius, _, turn, large, sweep = (float(next(words)) for _ in range(5))
            assert turn == 0 and _ == radius
            end = (float(next(words)), float(next(words)))
            yield from arc(at, end, radius, large=bool(large), sweep=bool(sweep))
            at = end
        else:
            assert word == "Z"
            assert hypot(at[0] - start[0], at[1] - start[1]) < 0.001


def arc(a: Point, b: Point, r: float, *, large: bool, sweep: bool) -> Iterator[Point]:
    """F.6.5 for a circle without rotation."""
    x, y = (a[0] - b[0]) / 2, (a[1] - b[1]) / 2
    k = sqrt(max(r * r - x * x - y * y, 0) / (x * x + y * y)) * (-1 if large == sweep else 1)
    cx, cy = k * y, -k * x
    mx, my = (a[0] + b[0]) / 2 + cx, (a[1] + b[1]) / 2 + cy
    first = atan2(y - cy, x - cx)
    turn = atan2(-y - cy, -x - cx) - first
    if sweep and turn < 0:
        turn += 2 * pi
    if not sweep and turn > 0:
        turn -= 2 * pi
    yield from (
        (mx + r * cos(first + turn * n / 999), my + r * sin(first + turn * n / 999)) for n in range(1000)
    )


def box(points: list[Point]) -> tuple[float, float, float, float]:
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def path_of(group: ET.Element, name: str) -> ET.Element:
    found = group.find(f"{SVG}path[@class='{name}']")
    assert found is not None
    return found


# ── the tests ─────────────────────────────────────────────────────────────────


def test_it_is_svg_1_1_in_millimetres(root: ET.Element) -> None:
    assert (root.tag, root.get("version")) == (f"{SVG}svg", "1.1")
    width, height = root.get("width", ""), root.get("height", "")
    assert width.endswith("mm") and height.endswith("mm")
    box_of_units = [float(value) for value in root.get("viewBox", "").split()]
    assert box_of_units == [0, 0, float(width[:-2]), float(height[:-2])]


def test_every_piece_is_a_group_with_its_own_id_and_its_name(root: ET.Element, punched: Punched) -> None:
    assert [group.get("id") for group in groups(root)] == ["piece-1", "piece-2", "piece-3", "piece-4"]
    names = [group.findtext(f"{SVG}title") for group in groups(root)]
    assert names == [piece.name for piece in punched.pattern.pieces]
    assert root.findtext(f"{SVG}title") == 'Roll <1> & "2"'


def test_control_characters_do_not_break_the_file(punched: Punched) -> None:
    project = replace(punched.pattern.project, title="a\x01b\x1fc\td")
    drawn = ET.fromstring(pieces_svg(replace(punched, pattern=replace(punched.pattern, project=project))))
    assert drawn.findtext(f"{SVG}title") == "a\ufffdb\ufffdc\td"


def test_pieces_have_their_true_size_and_keep_apart(root: ET.Element, punched: Punched) -> None:
    right = 0.0
    for group, piece in zip(groups(root), punched.pattern.pieces, strict=True):
        left, top, more_right, bottom = box(list(points_of(path_of(group, "outline").get("d", ""))))
        x0, y0, x1, y1 = piece.cut_outline.bounds()
        assert more_right - left == pytest.approx(x1 - x0, abs=0.01)
        assert bottom - top == pytest.approx(y1 - y0, abs=0.01)
        assert left >= right + 9.99
        right = more_right
    width, height = (float(root.get(side, "")[:-2]) for side in ("width", "height"))
    assert width == pytest.approx(right + 10, abs=0.01)
    tallest = max(
        piece.cut_outline.bounds()[3] - piece.cut_outline.bounds()[1] for piece in punched.pattern.pieces
    )
    assert height == pytest.approx(tallest + 20, abs=0.01)


def test_a_square_of_known_size_reads_back(root: ET.Element) -> None:
    left, top, right, bottom = box(list(points_of(path_of(groups(root)[3], "outline").get("d", ""))))
    assert (right - left, bottom - top) == pytest.approx((120, 80), abs=0.01)  # as the file has it


def test_arcs_bulge_to_the_right_side_also_past_a_half_circle(root: ET.Element, punched: Punched) -> None:
    """Each place of the drawn outline, y turned back, lies on the outline."""
    for group, piece in zip(groups(root), punched.pattern.pieces, strict=True):
        places = list(points_of(path_of(group, "outline").get("d", "")))
        left, _, _, bottom = box(places)
        x0, y0, _, _ = piece.cut_outline.bounds()
        for x, y in places:
            home = (x - left + x0, bottom - y + y0)
            nearest = piece.cut_outline.point_at(piece.cut_outline.along_of(home))
            assert hypot(home[0] - nearest[0], home[1] - nearest[1]) < 0.01
    # 50 mm high over 72.111: more than a half circle, R = (36.056² + 50²) / 100 = 38 (by hand)
    moon = path_of(groups(root)[1], "outline").get("d", "")
    assert "A 38.000000 38.000000 0 1 0 " in moon
    assert acos(1 - 50 / 38) * 2 > pi


def test_a_circle_is_two_half_circles(root: ET.Element) -> None:
    steps = path_of(groups(root)[2], "outline").get("d", "").split()
    assert [step for step in steps if step.isalpha()] == ["M", "A", "A", "Z"]


def test_holes_and_openings_stand_where_they_are_with_their_size(root: ET.Element, punched: Punched) -> None:
    lining = groups(root)[3]
    left, _, _, bottom = box(list(points_of(path_of(lining, "outline").get("d", ""))))
    slits = [path for path in lining.findall(f"{SVG}path") if path.get("class") == "hole"]
    holes = punched.holes_of("lining")
    assert len(slits) == len(holes) == 16  # 76 mm in steps of 5, 15 of them
    for slit, (_, _, hole) in zip(slits, holes, strict=True):
        (ax, ay), (bx, by) = points_of(slit.get("d", ""))
        assert hypot(bx - ax, by - ay) == pytest.approx(2.5, abs=0.001)
        middle = ((ax + bx) / 2 - left, bottom - (ay + by) / 2)
        assert middle == pytest.approx(hole.at, abs=0.001)
        assert abs((bx - ax) * sin(pi / 6) + (by - ay) * cos(pi / 6)) < 0.001  # 30 degrees, y turned
    slot = box([(x - left, bottom - y) for x, y in points_of(path_of(lining, "opening").get("d", ""))])
    assert slot == pytest.approx((97.5, 37.5, 102.5, 62.5), abs=0.01)  # 25 × 5 upright about (100, 50)
    rivet = groups(root)[2].find(f"{SVG}circle")
    assert rivet is not None and float(rivet.get("r", "")) == 1.5


def test_lines_and_letters_are_there(root: ET.Element) -> None:
    flap = groups(root)[0]
    kinds = [element.get("class") for element in flap]
    for kind in ("outline", "trim", "fold", "stitch-line", "hole", "letter"):
        assert kind in kinds
    assert [text.text for text in flap.findall(f"{SVG}text")] == ["A", "B", "C", "D"]


def test_the_text_is_the_same_again(punched: Punched) -> None:
    assert pieces_svg(punched) == pieces_svg(punched)
