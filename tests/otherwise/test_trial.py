"""Tried in paper first: drafted for the stock's thickness, marked for tape, and told from the kit itself."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import msgspec
import pypdf
import pytest
from click.testing import CliRunner, Result
from compared import furthest, most_turned
from random_projects import good, punched
from test_by_hand import PROJECTS

from handkit.cli import main
from handkit.draft.pattern import PieceMark
from handkit.errors import ProjectError
from handkit.kit import PageOverrides, punched_from
from handkit.punch.punched import Punched
from handkit.punch.trial import HALF_LONG, HALF_WIDE
from handkit.read.project import MarkKind
from handkit.read.reader import read_project_text

NEAR = 1e-9


def tried_in(text: str, stock: float) -> Punched:
    project = read_project_text(text, file="random.toml", folder=Path())
    return punched_from(project, PageOverrides(trial=stock))


def tape(punched: Punched, piece: str) -> list[PieceMark]:
    return [mark for mark in punched.pattern.piece(piece).marks if mark.kind is MarkKind.TAPE]


def of_one_thickness(text: str) -> str:
    """A project whose pieces all have the thickness of its material."""
    lines = text.splitlines()
    head = next(line for line in lines if line.startswith("thickness"))
    return "\n".join(head if line.startswith("thickness") else line for line in lines) + "\n"


def hold_trial(text: str) -> None:
    """In stock as thick as its leather a trial is the kit itself but for its tape, which every seam has."""
    text = of_one_thickness(text)
    try:
        kit = punched(text)
    except ProjectError:
        return  # its pieces are of one thickness now, and may not fit
    same = tried_in(text, kit.pattern.pieces[0].thickness)
    assert same.trial is not None
    assert (same.trial.pieces, same.trial.seams) == ((), ())
    assert [each.thickness for each in same.pattern.pieces] == [each.thickness for each in kit.pattern.pieces]
    taped = {mark.seam for piece in same.pattern.pieces for mark in tape(same, piece.name)}
    assert taped == {seam.name for seam in same.seams if seam.count > 1}
    assert furthest(kit, bare(same)) < NEAR
    assert most_turned(kit, same) < NEAR


def bare(punched: Punched) -> Punched:
    """The same without its tape."""
    pieces = tuple(
        msgspec.structs.replace(
            piece, marks=tuple(mark for mark in piece.marks if mark.kind is not MarkKind.TAPE)
        )
        for piece in punched.pattern.pieces
    )
    return msgspec.structs.replace(punched, pattern=msgspec.structs.replace(punched.pattern, pieces=pieces))


@pytest.mark.parametrize(
    "path",
    [pytest.param(p, id=p.stem, marks=[pytest.mark.long] * (p.stem in ("pouch", "roll"))) for p in PROJECTS],
)
def test_in_its_own_thickness_a_project_is_the_kit_itself(path: Path) -> None:
    hold_trial(path.read_text("utf-8"))


@pytest.mark.long
def test_in_their_own_thickness_random_projects_are_the_kit_itself() -> None:
    assert len([hold_trial(text) for _, text in good(range(25))]) > 15


POCKET = """format = 1
title = "Wallet"
[material]
thickness = 2
[[piece]]
name = "back"
rectangle = [140, 210]
skive = { "C-D" = { width = 10, to = 1.2 }, "A-B" = { width = 10, to = 0.5 } }
[[part]]
name = "pocket"
kind = "bowed pocket"
on = "back"
at = [20, 20]
[[item]]
name = "chalks"
in = "pocket"
size = [60, 20, 120]
"""


def test_all_is_drafted_for_the_stock_and_told_by_its_differences() -> None:
    card, kit = tried_in(POCKET, 0.5), punched(POCKET)
    assert {piece.thickness for piece in card.pattern.pieces} == {0.5}
    assert card.trial is not None
    (front,) = card.trial.pieces
    assert front.piece == "pocket"
    assert front.tried[0] < front.own[0]  # the thinner front has the shorter bow round the same thing
    bounds = kit.pattern.piece("pocket").outline.bounds()
    assert front.own == (bounds[2] - bounds[0], bounds[3] - bounds[1])
    assert card.findings == kit.findings


def test_of_what_is_skived_only_what_is_thinner_stays() -> None:
    """Of edges skived to 1.2 and to 0.5 stock of 1 mm keeps the second."""
    assert [skive.to for skive in tried_in(POCKET, 1.0).pattern.piece("back").skives] == [0.5]


TAB = """format = 1
[material]
thickness = 2
[[piece]]
name = "tab"
rectangle = [128, 40]
[[piece]]
name = "patch"
rectangle = [128, 40]
on = "tab"
[[seam]]
name = "long"
runs = ["patch: A-B", "tab"]
[[seam]]
name = "end"
runs = ["patch: B-C", "tab"]
"""


def test_marks_for_tape_lie_on_the_stitch_line_at_the_same_holes_of_all_layers() -> None:
    """By hand: the row goes from (4, 4) to (124, 4) in 31 holes, 4 apart. Two lengths of 60 make three marks:
    after holes 2, 15 and 29, at 10, 62 and 118."""
    card = tried_in(TAB, 1.0)
    on_tab, on_patch = tape(card, "tab"), tape(card, "patch")
    assert [mark.path for mark in on_tab] == [mark.path for mark in on_patch]
    long = [mark.path.bounds() for mark in on_tab if mark.seam == "long"]
    wanted = [(x - HALF_LONG, 4 - HALF_WIDE, x + HALF_LONG, 4 + HALF_WIDE) for x in (10, 62, 118)]
    assert [pytest.approx(box, abs=1e-9) for box in wanted] == long


Run = Callable[..., Result]


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Run:
    monkeypatch.chdir(tmp_path)
    Path("wallet.toml").write_text(POCKET)
    return lambda *words: CliRunner().invoke(main, list(words))


@pytest.mark.long
def test_every_sheet_of_a_trial_says_so_and_the_first_what_differs(run: Run) -> None:
    assert run("make", "wallet.toml", "--trial").exit_code == 0
    pages = [page.extract_text() for page in pypdf.PdfReader("wallet-kit.pdf").pages]
    assert all("paper trial, stock 1 mm thick · Wallet" in page for page in pages)
    first = " ".join(pages[0].split())
    assert "Paper trial, stock 1 mm thick" in first
    assert "what differs in the kit in this trial" in first
    assert "tape here, on the same mark of its mate" in first
    assert any("tape S1" in page for page in pages)
    assert not any("Order of work" in page for page in pages)
    assert run("proof", "wallet-kit.pdf").exit_code == 0


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (
            ("make", "wallet.toml", "--trial", "thick"),
            'found "thick"; allowed: a thickness from 0.1 to 30 mm such as "1 mm"',
        ),
        (("make", "--trial", "wallet.toml"), "it stands after PROJECT, or with ="),
        (
            ("make", "wallet.toml", "--trial", "40 mm"),
            'found "40 mm"; allowed: a thickness from 0.1 to 30 mm',
        ),
    ],
)
def test_stock_that_is_none_is_wrong_use(run: Run, words: tuple[str, ...], told: str) -> None:
    refused = run(*words)
    assert refused.exit_code == 2
    assert told in " ".join(refused.stderr.split())


def test_a_trial_that_can_not_be_drafted_says_that_it_is_the_trial(run: Run) -> None:
    """A box 5 mm deep takes walls of 1 mm, and none of 3."""
    skive = next(line for line in POCKET.splitlines() if line.startswith("skive"))
    box = POCKET.replace("bowed", "boxed").replace("[60, 20, 120]", "[60, 4, 120]").replace(skive, "")
    box = box.replace("thickness = 2", "thickness = 1").replace("at = [20, 20]", "at = [20, 20]\ndepth = 5")
    Path("wallet.toml").write_text(box)
    assert run("check", "wallet.toml").exit_code == 0
    refused = run("make", "wallet.toml", "--trial", "3 mm")
    assert refused.exit_code == 1
    assert "[trial-unfit]" in refused.stderr
