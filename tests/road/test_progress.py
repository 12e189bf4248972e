"""Progress: told on a terminal after a while, wiped at the end, and never seen by a file or a pipe."""

from __future__ import annotations

import io
import time

import pytest

from handkit.progress import progress


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
