"""A fault's number stands at the holes that it names, whichever step tells it; else at the piece it is about.

The pictures are read back as SVG; places are measured in mm of the article by the outline of its back.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from click.testing import CliRunner

from handkit.cli import main

SVG = "{http://www.w3.org/2000/svg}"
NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
Point = tuple[float, float]
Box = tuple[float, float, float, float]

WIDE, HIGH = 160.0, 220.0
HEAD = """
format = 1
title = "Binder's board"
[material]
thickness = 2
[stitching]
pitch = 4
inset = 4
[[piece]]
name = "back"
rectangle = [160, 220]
"""
PATCH = """
[[piece]]
name = "patch"
rectangle = [80, 60]
on = "back"
at = [10, 10]
[[seam]]
name = "rim"
runs = ["patch: A-B-C-D-A", "back"]
"""


@pytest.fixture
def show(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[str], str]:
    """Shows a project as board.svg; what it told."""
    monkeypatch.chdir(tmp_path)

    def showing(text: str) -> str:
        Path("board.toml").write_text(text, "utf-8")
        return CliRunner().invoke(main, ["show", "board.toml", "-o", "board.svg"]).output

    return showing


def paths(element: ET.Element) -> list[list[Point]]:
    """The points of each path under an element."""
    found = []
    for path in element.iter(f"{SVG}path"):
        numbers = [float(n) for n in NUMBER.findall(path.get("d", ""))]
        found.append(list(zip(numbers[::2], numbers[1::2], strict=True)))
    return found


def drawn(kind: str, title: str) -> list[list[list[Point]]]:
    """The paths of each mark of a kind under a title."""
    groups = ET.parse("board.svg").iter(f"{SVG}g")
    return [
        paths(group)
        for group in groups
        if group.get("class") == kind and group.findtext(f"{SVG}title") == title
    ]


def box(points: list[Point]) -> Box:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def marked(number: int) -> dict[str, list[Point]]:
    """The places of a fault's holes, mm on the back, by the view that shows them."""
    sides = dict(zip(("front", "back"), (box(mark[0]) for mark in drawn("body", "back")), strict=False))
    found: dict[str, list[Point]] = {}
    for mark in drawn("faulty", str(number)):
        points = [point for path in mark for point in path]
        for side, (left, top, right, bottom) in sides.items():
            if all(left <= x <= right and top <= y <= bottom for x, y in points):
                across = [
                    (x - left if side == "front" else right - x) / (right - left) * WIDE for x, _ in points
                ]
                up = [(bottom - y) / (bottom - top) * HIGH for _, y in points]
                found[side] = list(zip(across, up, strict=True))
    return found


def middle(points: list[Point]) -> Point:
    left, low, right, high = box(points)
    return ((left + right) / 2, (low + high) / 2)


def test_a_row_too_near_its_edge_is_marked_along_its_holes(show: Callable[[str], str]) -> None:
    """The patch's rim 1 mm inside its edge: 11 to 89 and 11 to 69 mm on the back, seen in front alone."""
    told = show(HEAD + PATCH.replace('"back"]', '"back"]\ninset = 1'))
    assert "[inset-too-small]" in told
    places = marked(1)
    assert list(places) == ["front"]
    assert box(places["front"]) == pytest.approx((11, 11, 89, 69), abs=0.1)


def test_one_hole_is_marked_with_a_ring(show: Callable[[str], str]) -> None:
    """A rivet outside its piece, the other of the two inside: the mark is at the one."""
    rivets = '[[opening]]\nname = "post"\nkind = "rivet"\nhole = 3\ncap = 8\nthrough = ["back"]\n'
    told = show(HEAD + rivets + "at = [[80, 100], [157, 30]]\n")
    assert "opening-at-edge" in told
    for side in ("front", "back"):
        assert middle(marked(1)[side]) == pytest.approx((157, 30), abs=0.2)


def test_holes_on_both_faces_are_marked_on_the_face_of_their_piece(show: Callable[[str], str]) -> None:
    """Two rows of the back 2 mm apart, of the patch before it and of a lining behind: seen on neither face of
    the back alone, they are drawn in front, over what hides them."""
    lining = '[[piece]]\nname = "lining"\nrectangle = [100, 80]\non = "back"\nat = [108, 4]\nbehind = true\n'
    lining += 'turned_over = true\n[[seam]]\nname = "lining"\nruns = ["lining: A-B-C-D-A", "back"]\n'
    told = show(HEAD + PATCH + lining)
    assert "[holes-too-close]" in told
    places = marked(1)
    assert list(places) == ["front"]


@pytest.mark.parametrize(
    ("change", "code", "corners"),
    [
        pytest.param(("inset = 4", "inset = 4\nlongest = 200"), "longest-thread-too-short", (14, 14, 86, 66)),
        pytest.param(('name = "rim"', 'name = "rim"\nstitch = "box"'), "stitch-off-edge", (14, 14, 86, 66)),
    ],
)
def test_what_planning_tells_of_a_seam_is_marked_along_it(
    show: Callable[[str], str], change: tuple[str, str], code: str, corners: Box
) -> None:
    """The rim, 4 mm inside a patch of 80 × 60 at (10, 10), is seen on both faces."""
    told = show((HEAD + PATCH).replace(*change))
    assert f"[{code}]" in told
    for places in (marked(1)["front"], marked(1)["back"]):
        assert box(places) == pytest.approx(corners, abs=0.1)


def test_a_circle_in_the_order_of_work_is_marked_at_its_seam(show: Callable[[str], str]) -> None:
    """The file wants a pocket before the badge that it shuts in."""
    badge = PATCH.replace("rectangle = [80, 60]", "rectangle = [30, 30]").replace("[10, 10]", "[40, 30]")
    badge = badge.replace("patch", "badge").replace('"rim"', '"badge"') + 'after = ["rim"]\n'
    piece, seam = badge.split("[[seam]]")
    told = show(HEAD + piece + PATCH + "[[seam]]" + seam)
    assert "[order-circle]" in told
    assert box(marked(1)["back"]) == pytest.approx((44, 34, 66, 56), abs=0.1)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        (HEAD.replace("[160, 220]", "[9900, 9900]"), "piece-too-big"),
        pytest.param(HEAD.replace("[160, 220]", "[3000, 2500]"), "many-windows", marks=pytest.mark.long),
        (HEAD + PATCH.split("[[seam]]", 1)[0], "piece-loose"),
    ],
)
def test_what_is_told_of_a_piece_is_marked_on_it(show: Callable[[str], str], text: str, code: str) -> None:
    told = show(text)
    assert f"[{code}]" in told
    piece = "patch" if code == "piece-loose" else "back"
    left, top, right, bottom = box(drawn("body", piece)[0][0])
    x, y = middle([point for path in drawn("fault", "1")[0][:1] for point in path])
    assert left <= x <= right and top <= y <= bottom


def test_a_page_without_room_is_listed(show: Callable[[str], str]) -> None:
    """It is no piece's fault: no number stands in a picture."""
    told = show(HEAD + "[page]\nmargin = 95\n")
    assert "[margin-too-wide]" in told and "as far as it goes" in told
    assert not drawn("fault", "1")
    words = " ".join(text.text or "" for text in ET.parse("board.svg").iter(f"{SVG}text"))
    assert "found a margin of 95 mm" in words


def test_a_way_that_is_not_free_is_marked_at_the_holes_it_is_told_of(show: Callable[[str], str]) -> None:
    """A flap hung on from behind first, its strip from y = 196 to its fold at 220 (its seam at 200 ends 4 mm
    inside): the tag's row at y = 214, x from 74 to 86, is sewn over it."""
    flap = '[[piece]]\nname = "flap"\nrectangle = [120, 140]\non = "back"\nat = [140, 196]\nbehind = true\n'
    flap += "turned_over = true\nfolds = { top = [[0, 24], [120, 24]] }\n"
    flap += '[[seam]]\nname = "flap"\nruns = ["flap: A-B", "back"]\n'
    tag = '[[piece]]\nname = "tag"\nrectangle = [20, 14]\non = "back"\nat = [70, 204]\n'
    tag += '[[seam]]\nname = "tag"\nruns = ["tag: C-D", "back"]\nafter = ["flap"]\n'
    told = show(HEAD + flap + tag)
    assert "held down behind" in told and "[way-not-free]" in told
    assert box(marked(1)["front"]) == pytest.approx((74, 214, 86, 214), abs=0.1)
