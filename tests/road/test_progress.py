"""Progress: told on a terminal after a while, wiped at the end, and never seen by a file or a pipe."""

from __future__ import annotations

import io
import os
import time
from pathlib import Path

import pytest

from handkit import kit
from handkit.counting import step_of
from handkit.progress import progress

STRAP = Path(__file__).parents[2] / "samples" / "strap" / "strap.toml"


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def screen(text: str) -> str:
    """What one line of a terminal shows after a text with carriage returns."""
    shown: list[str] = []
    for part in text.split("\r"):
        shown[: len(part)] = part
    return "".join(shown).rstrip()


def wait_for(terminal: Terminal, words: str) -> None:
    for _ in range(500):
        if words in terminal.getvalue():
            return
        time.sleep(0.01)
    pytest.fail(f"{words!r} was never shown")


def test_what_is_worked_on_is_shown_and_wiped() -> None:
    terminal = Terminal()
    with progress(terminal, after=0.0, every=0.01) as tell:
        tell("laying out sheets")
        wait_for(terminal, "laying out sheets … 0 s")
        tell("drawing")
        wait_for(terminal, "drawing … 0 s  ")
        assert screen(terminal.getvalue()).startswith("drawing … 0 s")
    assert screen(terminal.getvalue()) == ""


def test_what_is_soon_done_is_not_told() -> None:
    terminal = Terminal()
    with progress(terminal, after=30.0) as tell:
        tell("reading")
    assert terminal.getvalue() == ""


def test_an_interrupt_leaves_an_empty_line() -> None:
    terminal = Terminal()
    with pytest.raises(KeyboardInterrupt), progress(terminal, after=0.0, every=0.01) as tell:
        tell("laying out sheets")
        wait_for(terminal, "laying out sheets")
        raise KeyboardInterrupt
    assert screen(terminal.getvalue()) == ""


def test_a_file_is_told_nothing() -> None:
    file = io.StringIO()
    with progress(file, after=0.0, every=0.001) as tell:
        tell("reading")
        time.sleep(0.02)
    assert file.getvalue() == ""


def test_it_keeps_to_one_line_of_a_narrow_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    terminal = Terminal()
    monkeypatch.setattr(terminal, "fileno", lambda: 2)
    monkeypatch.setattr(os, "get_terminal_size", lambda _: os.terminal_size((30, 24)))
    with progress(terminal, after=0.0, every=0.01) as tell:
        tell("punching: seam 3 of 8, " + "the long one " * 9)
        wait_for(terminal, "punching: seam 3 of 8,… … 0 s")
    assert max(map(len, terminal.getvalue().split("\r"))) == 29


def test_it_says_what_of_how_much_it_is_at(tmp_path: Path) -> None:
    """Every seam, sheet and page, in their order, each under the step that it belongs to."""
    told: list[str] = []
    made = kit.make(STRAP, on_progress=told.append)
    (tmp_path / "kit.pdf").write_bytes(made.pdf)
    kit.proof_of(tmp_path / "kit.pdf", on_progress=told.append)
    seams, sheets = made.made.punched.seams, made.made.sheets.sheets
    wanted = [
        *(f"punching: seam {k} of {len(seams)}, {seam.name}" for k, seam in enumerate(seams, 1)),
        *(f"planning the work: seam {k} of {len(seams)}, {seam.name}" for k, seam in enumerate(seams, 1)),
        *(f"laying out sheets: ways to cut piece {k} of 2" for k in (1, 2)),  # strap and keeper
        *(f"drawing: template sheet {k} of {len(sheets)}" for k in range(1, len(sheets) + 1)),
        *(f"measuring: page {k} of {made.pages}" for k in range(1, made.pages + 1)),
        *(f"measuring: what is seen of page {k} of {made.pages}" for k in range(1, made.pages + 1)),
    ]
    assert [words for words in told if words in wanted] == wanted
    assert list(dict.fromkeys(map(step_of, told))) == [
        "reading",
        "drafting",
        "punching",
        "putting together",
        "planning the work",
        "laying out sheets",
        "drawing",
        "measuring",
    ]
