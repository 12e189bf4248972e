"""A file is written whole or not at all; an existing one is replaced only by a finished one."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from handkit.errors import FileError
from handkit.files import write_whole

# A process that is killed at one moment of the writing of two files.
KILLED = """
import os, pathlib, signal, tempfile
from handkit.files import write_whole
def die(*_, **__): os.kill(os.getpid(), signal.SIGKILL)
{moment} = die
write_whole({{pathlib.Path("kit.pdf"): b"new" * 99999, pathlib.Path("report.json"): b"new"}})
"""


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The tests' own folder, with an older file."""
    monkeypatch.chdir(tmp_path)
    Path("kit.pdf").write_bytes(b"old")
    return tmp_path


def test_files_are_written_and_replaced() -> None:
    write_whole({Path("kit.pdf"): b"new", Path("report.json"): b"{}"})
    assert {path.name: path.read_bytes() for path in Path().iterdir()} == {
        "kit.pdf": b"new",
        "report.json": b"{}",
    }


def test_a_new_file_has_the_mode_that_new_files_have() -> None:
    Path("plain").touch()
    write_whole({Path("kit.pdf"): b"new"})
    assert Path("kit.pdf").stat().st_mode == Path("plain").stat().st_mode


def test_where_one_can_not_be_written_none_is_replaced() -> None:
    with pytest.raises(FileError, match=r"can't write no/report.json: there is no folder no"):
        write_whole({Path("kit.pdf"): b"new", Path("no/report.json"): b"{}"})
    assert {path.name: path.read_bytes() for path in Path().iterdir()} == {"kit.pdf": b"old"}


@pytest.mark.parametrize("moment", ["os.fsync", "pathlib.Path.chmod", "pathlib.Path.replace"])
def test_killed_in_the_middle_the_older_file_stands(moment: str) -> None:
    killed = subprocess.run([sys.executable, "-c", KILLED.format(moment=moment)], check=False)
    assert killed.returncode == -signal.SIGKILL
    assert Path("kit.pdf").read_bytes() == b"old"
    assert not Path("report.json").exists()


@pytest.mark.parametrize("moment", ["fsync", "umask"])
def test_interrupted_in_the_middle_nothing_is_left_lying_about(
    moment: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def interrupted(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(os, moment, interrupted)
    with pytest.raises(KeyboardInterrupt):
        write_whole({Path("kit.pdf"): b"new"})
    assert {path.name: path.read_bytes() for path in Path().iterdir()} == {"kit.pdf": b"old"}


def test_a_full_disk_is_told_and_leaves_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(FileError, match=r"^can't write kit.pdf: No space left on device$"):
        write_whole({Path("kit.pdf"): b"new"})
    assert {path.name: path.read_bytes() for path in Path().iterdir()} == {"kit.pdf": b"old"}


def test_a_link_is_replaced_and_what_it_leads_to_stays() -> None:
    Path("link.pdf").symlink_to("kit.pdf")
    write_whole({Path("link.pdf"): b"new"})
    assert (Path("link.pdf").read_bytes(), Path("kit.pdf").read_bytes()) == (b"new", b"old")
