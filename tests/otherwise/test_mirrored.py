"""For the other hand: every piece as the looking glass shows it, hole for hole; twice is the kit itself."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from itertools import pairwise
from pathlib import Path

import pypdf
import pytest
from click.testing import CliRunner, Result
from compared import furthest, most_turned
from random_projects import good, punched
from test_by_hand import PROJECTS

from handkit.cli import main
from handkit.draft.mirrored import mirrored
from handkit.draft.parts.parts import draft_parts
from handkit.draft.pattern import Pattern
from handkit.kit import article_of, plan_of, punched_from
from handkit.overrides import PageOverrides
from handkit.punch.punched import Punched
from handkit.read.project import Side
from handkit.read.reader import read_project_text

NEAR = 1e-6  # mm
TURNED = 1e-4  # degrees

LARGE = ("pouch", "roll", "case", "wallet", "watch")
ALL = [pytest.param(path, id=path.stem, marks=[pytest.mark.long] * (path.stem in LARGE)) for path in PROJECTS]


def in_the_glass(text: str) -> Punched:
    project = read_project_text(text, file="random.toml", folder=Path())
    return punched_from(project, PageOverrides(mirrored=True))


def hold_mirrored(text: str) -> None:
    """Every hole, slit and line is the mirror image of the other kit's, piece by piece; what lies on what,
    and by which side, is the same; and twice is as before."""
    one, other = punched(text), in_the_glass(text)
    assert furthest(one, other, lambda at: (-at[0], at[1])) < NEAR
    assert most_turned(one, other, lambda degrees: -degrees) < TURNED
    assert (layers(one.pattern), sides(one.pattern)) == (layers(other.pattern), sides(other.pattern))
    assert (other.findings, other.pattern.findings) == (one.findings, one.pattern.findings)
    whole = draft_parts(read_project_text(text, file="p.toml", folder=Path()))
    assert mirrored(mirrored(whole)).project == whole.project


def layers(pattern: Pattern) -> list[tuple[object, ...]]:
    return [
        (each.name, each.level, each.up, each.root, each.panel, each.folded.levels, each.folded.turned)
        for each in pattern.pieces
    ]


def sides(pattern: Pattern) -> list[tuple[Side, Side] | None]:
    runs: list[Sequence[str]] = [[run.piece for run in seam.runs] for seam in pattern.seams]
    return [pattern.faces_met(*pair) for pieces in runs for pair in pairwise(pieces)]


@pytest.mark.parametrize("path", ALL)
def test_samples_and_projects_are_mirrored_piece_by_piece(path: Path) -> None:
    hold_mirrored(path.read_text("utf-8"))


def test_random_projects_are_mirrored_piece_by_piece() -> None:
    assert len([hold_mirrored(text) for _, text in good(range(3))]) == 3


@pytest.mark.long
def test_random_projects_are_mirrored_piece_by_piece_at_length() -> None:
    assert len([hold_mirrored(text) for _, text in good(range(3, 30))]) > 20


@pytest.mark.long
@pytest.mark.parametrize("path", [path for path in PROJECTS if path.stem in ("pouch", "case", "strap")])
def test_the_work_is_the_same_in_the_glass(path: Path) -> None:
    """The order, the walks, the thread and what is in the way of what; the hand that leads is the other."""
    text = path.read_text("utf-8")
    one, other = article_of(punched(text)), article_of(in_the_glass(text))
    assert [each.key for each in one.clashes] == [each.key for each in other.clashes]
    assert one.findings == other.findings
    plans = plan_of(one.punched), plan_of(other.punched)
    seams = zip(*(plan.seams for plan in plans), strict=True)
    for mine, over in seams:
        assert (mine.name, mine.order, mine.walk) == (over.name, over.order, over.walk)
        assert [each.cut for each in mine.threads] == pytest.approx(
            [each.cut for each in over.threads], abs=1e-2
        )
        assert mine.stitching.left_handed is not over.stitching.left_handed
    assert plans[0].findings == plans[1].findings


SLITS = """format = 1
title = "Tab"
[material]
thickness = 2
[stitching]
pitch = 5
hole = { slit = 2.2, slant = 30 }
[[piece]]
name = "tab"
rectangle = [80, 60]
lines = { row = [[10, 30], [70, 30]] }
[[seam]]
name = "row"
runs = ["tab: row", "under"]
[[piece]]
name = "under"
rectangle = [80, 60]
on = "tab"
behind = true
[[opening]]
name = "slot"
kind = "slot"
slot = [20, 4]
turn = 20
through = ["tab"]
at = [[40, 12]]
"""

Run = Callable[..., Result]


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Run:
    monkeypatch.chdir(tmp_path)
    Path("tab.toml").write_text(SLITS)
    return lambda *words: CliRunner().invoke(main, list(words))


def test_pieces_are_given_mirrored(run: Run) -> None:
    """By hand: a row from x 10 to 70 goes from -10 to -70; slits at 30 degrees stand at 150, a slot at 20 at
    160."""
    given = json.loads(run("pieces", "tab.toml", "--format", "json", "--mirrored").stdout)
    assert given["mirrored"] is True
    tab = given["pieces"][0]
    holes = tab["holes"]
    assert [(hole["x"], hole["y"]) for hole in (holes[0], holes[-1])] == [(-10.0, 30.0), (-70.0, 30.0)]
    assert {hole["slit_degrees"] for hole in holes} == {150.0}
    (slot,) = tab["openings"]
    assert (slot["x"], slot["y"], slot["degrees"]) == (-40.0, 12.0, 160.0)
    assert "mirrored" not in json.loads(run("pieces", "tab.toml", "--format", "json").stdout)


def test_the_plan_says_that_it_is_mirrored_and_gives_the_other_hand(run: Run) -> None:
    plain, over = (run("plan", "tab.toml", "--all", *words).stdout for words in ((), ("--mirrored",)))
    assert over.startswith("mirrored: for the left hand · Tab: plan")
    assert "face to your right hand" in " ".join(plain.split())
    assert "face to your left hand" in " ".join(over.split())
    assert "mirrored" not in plain


def test_what_is_found_is_told_of_the_file_as_it_is_drawn(run: Run) -> None:
    """The point that an error names is the file's own."""
    Path("tab.toml").write_text(SLITS.replace("[70, 30]", "[90, 30]"))
    plain, over = (run("check", "tab.toml", *words).stdout for words in ((), ("--mirrored",)))
    assert "[90, 30] outside" in " ".join(plain.split())
    assert over == plain


@pytest.mark.long
def test_every_page_of_the_kit_says_that_it_is_mirrored(run: Run) -> None:
    assert run("make", "tab.toml", "--mirrored").exit_code == 0
    pages = [page.extract_text() for page in pypdf.PdfReader("tab-kit.pdf").pages]
    assert all("mirrored: for the left hand · Tab" in page for page in pages)
    first = " ".join(pages[0].split())
    assert "Mirrored: for the left hand" in first
    assert "the left hand leads, and slits lean the other way" in first
    assert run("proof", "tab-kit.pdf").exit_code == 0
    assert run("show", "tab.toml", "--mirrored").exit_code == 0
    assert "mirrored: for the left hand" in pypdf.PdfReader("tab-article.pdf").pages[0].extract_text()
