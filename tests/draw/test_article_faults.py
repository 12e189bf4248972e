"""Pictures of a project with errors: as far as it goes, each fault with its number where it is."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from click.testing import CliRunner, Result
from told_cases import told_cases

from handkit.cli import main

SVG = "{http://www.w3.org/2000/svg}"
NUMBER = re.compile(r"-?\d+(?:\.\d+)?")

BOARD = """
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
[[piece]]
name = "patch"
rectangle = [80, 60]
on = "back"
at = [10, 10]
[[seam]]
name = "rim"
runs = ["patch: A-B-C-D-A", "back"]
[[opening]]
name = "post"
kind = "rivet"
hole = 3
cap = 8
through = ["back", "patch"]
at = [[50, 40]]
"""


Show = Callable[[str], Result]


@pytest.fixture
def show(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Show:
    """Shows a project as board.svg."""
    monkeypatch.chdir(tmp_path)

    def showing(text: str) -> Result:
        Path("board.toml").write_text(text, "utf-8")
        result = CliRunner().invoke(main, ["show", "board.toml", "-o", "board.svg"])
        assert result.exception is None or isinstance(result.exception, SystemExit), result.exc_info
        return result

    return showing


def numbers_of(element: ET.Element) -> list[list[float]]:
    """The numbers of each path under an element."""
    return [[float(n) for n in NUMBER.findall(path.get("d", ""))] for path in element.iter(f"{SVG}path")]


def words() -> str:
    """All text of the drawing."""
    return " ".join(text.text or "" for text in ET.parse("board.svg").iter(f"{SVG}text"))


def ends(svg: str = "board.svg") -> dict[str, list[tuple[float, float]]]:
    """By number, where the leaders of its rings end."""
    found: dict[str, list[tuple[float, float]]] = {}
    for group in ET.parse(svg).iter(f"{SVG}g"):
        if group.get("class") == "fault":
            line, *_ = numbers_of(group)
            found.setdefault(group.findtext(f"{SVG}title") or "", []).append((line[-2], line[-1]))
    return found


def boxes(kind: str, title: str) -> list[tuple[float, float, float, float]]:
    """What is drawn of a kind under a title, as the paper has it."""
    found = []
    for group in ET.parse("board.svg").iter(f"{SVG}g"):
        if group.get("class") == kind and group.findtext(f"{SVG}title") == title:
            numbers = numbers_of(group)[0]
            xs, ys = numbers[::2], numbers[1::2]
            found.append((min(xs), min(ys), max(xs), max(ys)))
    return found


def test_a_fault_is_marked_where_it_is(show: Show) -> None:
    """The rivet stands 2 mm beside the rim's holes: its number's leader ends in its cap, on both views."""
    run = show(BOARD.replace("at = [[50, 40]]", "at = [[16, 40]]"))
    assert run.exit_code == 1
    assert "board.svg: the article put together, as far as it goes" in run.output
    assert "opening-near-stitches" in run.output
    caps, marks = boxes("cap", "post 1")[:2], ends()["1"]
    assert len(marks) == len(caps) == 2
    for (x, y), (left, top, right, bottom) in zip(marks, caps, strict=True):
        assert left <= x <= right and top <= y <= bottom
    assert re.search(r'error: opening "post": at: found opening "post" 2[.\d]* mm from hole', words())


def test_what_cannot_be_drawn_is_listed(show: Show) -> None:
    """The patch's corners can't be rounded so far: the back is drawn, the patch and its seam are not."""
    run = show(BOARD.replace("rectangle = [80, 60]", "rectangle = [80, 60]\nround = 31"))
    assert run.exit_code == 1
    assert "radius-too-big" in run.output
    assert len(boxes("body", "back")) == 2 and not boxes("body", "patch")
    for text in ("Not drawn: patch.", "Without stitches: rim.", "Without openings: post."):
        assert text in words()


def test_nothing_is_told_of_what_follows_from_an_error(show: Show) -> None:
    """The steps after the one that stopped are silent."""
    text = BOARD.replace("rectangle = [80, 60]", "rectangle = [80, 60]\nround = 31")
    run = show(text.replace("at = [[50, 40]]", "at = [[16, 40]]"))
    assert [line for line in run.output.splitlines() if ": error: " in line] == [
        line for line in run.output.splitlines() if "radius-too-big" in line
    ]


def test_a_warning_is_marked_and_ends_well(show: Show) -> None:
    """A rivet 5 mm from the edge of the back alone: a warning, the exit code is 0."""
    text = BOARD.replace('through = ["back", "patch"]', 'through = ["back"]')
    run = show(text.replace("at = [[50, 40]]", "at = [[155, 150]]"))
    assert run.exit_code == 0
    assert "opening-at-edge" in run.output
    (left, top, right, bottom), *_ = boxes("cap", "post 1")
    x, y = ends()["1"][0]
    assert left <= x <= right and top <= y <= bottom


def test_what_can_be_read_beside_an_error_is_drawn(show: Show) -> None:
    """The patch has no height: the back is drawn, what needs the patch is told as left out."""
    run = show(BOARD.replace("rectangle = [80, 60]", "rectangle = [80, true]"))
    assert run.exit_code == 1
    assert "not-a-length" in run.output and "board.svg: the article put together, as far as it" in run.output
    assert len(boxes("body", "back")) == 2 and not boxes("body", "patch")
    assert 'Left out: piece "patch", seam "rim" and opening "post".' in words()


FLAP = """
[[part]]
name = "pocket"
kind = "bowed pockt"
on = "back"
at = [20, 20]
[[item]]
name = "tin"
in = "pocket"
size = [40, 20, 60]
[[part]]
name = "card pocket"
kind = "flat pocket"
on = "pocket"
[[item]]
name = "card"
in = "card pocket"
size = [20, 1, 30]
[[part]]
name = "flap"
kind = "flap"
on = "back"
to = "pocket"
"""
POCKETS = """
[[part]]
name = "pockets"
kind = "stepped pockets"
on = "back"
at = [10, 10]
steps = 2
[[item]]
name = "card"
in = "pocket"
size = [60, 1, 50]
"""


def test_a_flap_that_closes_on_what_a_faulty_part_drafts_is_left_out(show: Show) -> None:
    """That its piece is not known is told once, where another part lies on that."""
    run = show(BOARD + FLAP)
    assert run.exit_code == 1
    assert "[unknown-choice]" in run.output
    assert boxes("body", "back") and not boxes("body", "flap")


def test_a_part_whose_only_item_names_another_is_left_out(show: Show) -> None:
    """The slip alone is told; no kind of part is drafted without the items that it takes."""
    run = show(BOARD + POCKETS)
    assert run.exit_code == 1
    assert run.output.count(": error: ") == 1 and "[unknown-part]" in run.output
    assert boxes("body", "back") and not boxes("body", "pockets 1")
    assert 'Left out: part "pockets" and item "card".' in words()


@pytest.mark.parametrize(
    "text",
    [
        pytest.param(BOARD + "]]", id="no TOML"),
        pytest.param(BOARD.replace("format = 1", "format = 9"), id="another format"),
        pytest.param('unit = "ells"' + BOARD, id="no unit"),
        pytest.param(BOARD.replace("thickness = 2", "thickness = -2"), id="no piece is sound"),
    ],
)
def test_what_cannot_be_drawn_at_all_is_said_plainly(show: Show, text: str) -> None:
    run = show(text)
    assert run.exit_code == 1
    assert run.output.endswith("error: board.toml can't be drawn until the errors above are mended\n")
    assert run.output.count(": error: ") >= 1
    assert not Path("board.svg").exists()


CASES = [
    pytest.param(
        text,
        id=f"{table.stem} {title}",
        marks=[pytest.mark.long] if table.parent.name == "read" else [],
    )
    for table in sorted(Path(__file__).parents[1].glob("*/bad_*.txt"))
    for title, text, _ in told_cases(table)
]


@pytest.mark.long
@pytest.mark.parametrize("text", CASES)
def test_every_refused_project_is_drawn_or_told(show: Show, text: str) -> None:
    """Whatever a step refuses ends in a picture and exit code 1, never in a traceback."""
    run = show(text)
    assert run.exit_code == (1 if ": error: " in run.output else 0)
    assert Path("board.svg").exists() or run.exit_code == 1
