"""The interview's rough users: the input ends, lines are pasted, names that no page can show, places that
can't be written to. One message each, and nothing is lost or left behind."""

from __future__ import annotations

import os
import pty
import select
import shlex
import subprocess
import sys
import time
from pathlib import Path

import pytest
from click.testing import CliRunner
from interruptible import COMMAND

from handkit.cli import main

LINES = (
    "Kit",
    "",
    "bone folder",
    "22",
    "4",
    "150",
    "awl",
    "d 12",
    "140",
    "",
    "roll",
    "felt",
    "2",
    "",
    "",
    "",
    "2",
)


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.parametrize("number", range(len(LINES)))
def test_the_input_may_end_at_any_question(number: int) -> None:
    ended = CliRunner().invoke(main, ["new"], input="".join(f"{line}\n" for line in LINES[:number]))
    assert isinstance(ended.exception, SystemExit)
    assert ended.exit_code == 1
    last = ended.stderr.splitlines()[-1]
    if number == 0:
        assert last.endswith("nothing is written")
        return
    on = CliRunner().invoke(main, shlex.split(last.partition("handkit ")[2]), input="").stderr
    assert on.splitlines()[-1].partition("go on with")[2] == last.partition("go on with")[2]


def test_all_lines_may_be_pasted_at_once() -> None:
    told = CliRunner().invoke(main, ["new"], input="".join(f"{line}\n" for line in LINES))
    assert told.exit_code == 0, told.stderr
    assert 'kind = "roll"' in Path("kit.toml").read_text()


# A name in letters that no page shows is told at once, and no kit fails for it after all questions.
NAMES = [
    ("\u76ae\u9769", 'leave "皮" and "革" out of the name: the letters that come with handkit'),
    ("awl \U0001f9f5", "out of the name: the letters that come with handkit"),
    ("awl\x07", 'leave "\\x07" out of the name'),
    ("a" * 500, "a name has"),
    ("шило", None),
    ("poinçon", None),
]


@pytest.mark.parametrize(("name", "told"), NAMES)
def test_a_name_is_one_that_pages_can_show(name: str, told: str | None) -> None:
    for lines in (f"{name}\n", f"Kit\nmm\n{name}\n"):
        asked = CliRunner().invoke(main, ["new"], input=lines).stderr
        assert (told is None) or told in asked
        assert (' leave "' in asked or "a name has" in asked) == (told is not None)


@pytest.mark.parametrize(
    ("place", "told"),
    [("kit.toml", "it is there already; name a new file"), ("folder.toml", "it is a folder")],
)
def test_a_place_that_is_taken_is_told_before_anything_is_asked(place: str, told: str) -> None:
    Path("kit.toml").write_text("mine")
    Path("folder.toml").mkdir()
    refused = CliRunner().invoke(main, ["new", "-o", place], input="Kit\n")
    assert (refused.exit_code, refused.stderr) == (3, f"error: can't write {place}: {told}\n")


def test_a_folder_that_is_not_ones_own_is_told_before_anything_is_asked(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(os, "access", lambda *_: False)  # whoever runs the tests may write anywhere
    refused = CliRunner().invoke(main, ["new"], input="Kit\n")
    assert refused.exit_code == 3
    assert "name a place that is yours with -o" in " ".join(refused.stderr.split())
    assert "called" not in refused.stderr


@pytest.mark.parametrize("number", [1, pytest.param(6, marks=pytest.mark.long)])
def test_ctrl_c_leaves_at_any_question(number: int, folder: Path) -> None:
    master, slave = pty.openpty()
    environment = {**os.environ, "COLUMNS": "20"}
    line = [sys.executable, "-c", COMMAND, "new"]
    process = subprocess.Popen(
        line, stdin=slave, stdout=slave, stderr=slave, cwd=folder, env=environment, start_new_session=True
    )
    os.close(slave)
    shown = ""
    try:
        for typed in (*LINES[:number], None):
            shown = _asked(master)
            os.write(master, f"{typed}\n".encode()) if typed is not None else process.send_signal(2)
        assert process.wait(60) == 130
    finally:
        process.kill()
        process.wait()
        os.close(master)
    assert "Traceback" not in shown
    assert not list(folder.iterdir())


def _asked(master: int) -> str:
    """What is shown up to the next question."""
    shown, end = "", time.monotonic() + 60
    while not shown.endswith(": "):
        assert time.monotonic() < end, shown
        if select.select([master], [], [], 0.2)[0]:
            shown += os.read(master, 65536).decode("utf-8", "replace")
    return shown
