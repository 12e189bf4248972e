"""A watched project: made again when it is saved, by whatever way editors save, and left by Ctrl-C alone."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from handkit import ProjectText
from handkit.kept import Kept
from handkit.kit import make, punched_of, sheets_of

PATIENCE = 30.0  # seconds, on a busy machine
TAB = 'format = 1\n[material]\nthickness = 2\n[[piece]]\nname = "tab"\nrectangle = [80, {height}]\n'


class Watched:
    """A command that watches, and the lines that it has told so far."""

    def __init__(self, *words: str) -> None:
        line = [sys.executable, "-m", "handkit", *words, "--watch"]
        self.process = subprocess.Popen(line, stdout=subprocess.PIPE, stderr=subprocess.STDOUT)
        assert self.process.stdout is not None
        os.set_blocking(self.process.stdout.fileno(), False)
        self.told = ""

    def until(self, words: str) -> str:
        """All that is told up to these words, which are told next."""
        assert self.process.stdout is not None
        end = time.monotonic() + PATIENCE
        while words not in self.told:
            assert time.monotonic() < end, self.told
            assert self.process.poll() is None, self.told
            self.told += (self.process.stdout.read() or b"").decode()
            time.sleep(0.01)
        before, _, self.told = self.told.partition(words)
        return before

    def end(self) -> None:
        """Gone, whatever it was at."""
        self.process.kill()
        self.process.communicate()


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    Path("tab.toml").write_text(TAB.format(height=60))
    return tmp_path


@pytest.fixture
def watched(folder: Path) -> Iterator[Watched]:
    found = Watched("make", "tab.toml")
    yield found
    found.end()


END = "watching tab.toml; Ctrl-C ends it\n"


def saved_in_place(text: str) -> None:
    Path("tab.toml").write_text(text)


def saved_by_replacing(text: str) -> None:
    Path("tab.toml.new").write_text(text)
    Path("tab.toml.new").replace("tab.toml")


def saved_by_moving_away(text: str) -> None:
    Path("tab.toml").rename("tab.toml~")
    time.sleep(0.15)
    Path("tab.toml").write_text(text)


@pytest.mark.parametrize("save", [saved_in_place, saved_by_replacing, saved_by_moving_away])
def test_what_is_saved_is_made_and_what_is_wrong_leaves_the_last_kit(watched: Watched, save: object) -> None:
    assert callable(save)
    assert "tab-kit.pdf: " in watched.until(END)
    first = Path("tab-kit.pdf").read_bytes()
    save(TAB.format(height="-6"))
    assert "tab.toml:6:18: error: " in watched.until(END)
    assert Path("tab-kit.pdf").read_bytes() == first
    save(TAB.format(height=70))
    assert "tab-kit.pdf: " in watched.until(END)
    assert Path("tab-kit.pdf").read_bytes() != first
    watched.process.send_signal(signal.SIGINT)
    assert watched.process.wait(PATIENCE) == 130


def test_a_save_in_two_halves_is_read_once_it_is_whole(watched: Watched) -> None:
    watched.until(END)
    text = TAB.format(height=70)
    with Path("tab.toml").open("w") as file:
        for half in (text[:70], text[70:]):
            file.write(half)
            file.flush()
            time.sleep(0.02)
    assert "error" not in watched.until(END)


def test_what_is_named_beside_it_counts_too(folder: Path) -> None:
    Path("tab.toml").write_text('items = "things.toml"\n' + TAB.format(height=60))
    found = Watched("check", "tab.toml")
    try:
        assert "put the file there" in found.until(END)
        Path("things.toml").write_text("format = 1\n")
        assert "put the file there" not in found.until(END)
    finally:
        found.end()


def test_what_the_command_writes_is_no_change_and_a_link_to_nothing_hides_none(folder: Path) -> None:
    Path(".#things.toml").symlink_to("nobody@nowhere")  # as an editor locks a file
    found = Watched("show", "tab.toml", "-o", "tab.svg")
    try:
        assert "tab.svg: " in found.until(END)
        time.sleep(1)  # ten looks
        saved_in_place(TAB.format(height="-6"))
        assert "tab.svg: " not in found.until(END)
    finally:
        found.end()


def test_a_pipe_can_not_be_watched(folder: Path) -> None:
    line = [sys.executable, "-m", "handkit", "check", "-", "--watch"]
    told = subprocess.run(line, input="", capture_output=True, text=True, check=False)
    assert told.returncode == 2
    assert told.stderr.endswith("Error: --watch needs a file; found the standard input\n")


@pytest.mark.long
def test_a_hundred_changes_are_seen(folder: Path) -> None:
    found = Watched("check", "tab.toml")
    try:
        found.until(END)
        for height in range(100):
            Path("tab.toml").write_text(TAB.format(height=f"-{height + 1}"))
            assert f"found -{height + 1};" in found.until(END)
    finally:
        found.end()


# Of a project with two pieces: what is changed one after the other, text for text.
CHANGES = [
    ("", ""), ("[material]", 'title = "Tabs"\n[material]'), ('"tab"', '"tag"'), ("60]", "70]"),
    ("[material]", '[page]\npaper = "letter"\n[material]'), ("= 2\n", "= 3\n"),
]  # fmt: skip


@pytest.mark.long
def test_what_is_kept_changes_no_byte() -> None:
    """Each kit of a watched project is the one that is made of it alone."""
    text, kept = TAB.format(height=60) + '[[piece]]\nname = "long"\nrectangle = [300, 20]\n', Kept()
    for old, new in CHANGES:
        text = text.replace(old, new, 1)
        kept.next_run()
        kit_of = ProjectText(text, "tab")
        assert make(kit_of, kept=kept).pdf == make(kit_of).pdf


def test_of_the_same_shapes_sheets_are_laid_out_once() -> None:
    """A title moves nothing; another height does."""
    kept, sheets = Kept(), []
    for text in (TAB.format(height=60), 'title = "Tabs"\n' + TAB.format(height=60), TAB.format(height=70)):
        kept.next_run()
        sheets.append(sheets_of(punched_of(ProjectText(text, "tab")), kept=kept).sheets)
    assert sheets[0] is sheets[1]
    assert sheets[2] != sheets[1]


def test_of_the_same_the_work_is_done_once_and_what_is_unused_is_let_go() -> None:
    kept, done = Kept(), list[str]()

    def work(made_from: tuple[str, int]) -> tuple[str, int]:
        kept.of(made_from, lambda: done.append(made_from[0]))
        return made_from

    for run in (("a", "b"), ("a",), ("a", "b")):
        kept.next_run()
        for name in run:
            work((name, 1))
    assert done == ["a", "b", "b"]
