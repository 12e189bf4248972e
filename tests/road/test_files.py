"""A file is written whole or not at all; an existing one is replaced only by a finished one."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from handkit.errors import FileError
from handkit.files import write_whole

# A process that is killed at one moment of the writing of two files.
KILLED = """
import os, pathlib, signal
from handkit.files import write_whole
def die(*_, **__): os.kill(os.getpid(), signal.SIGKILL)
{moment} = die
write_whole({{pathlib.Path("kit.pdf"): b"new" * 99999, pathlib.Path("report.json"): b"new"}})
"""


ENDLESS = """
import pathlib
from handkit.files import write_whole
print(end="k", flush=True)
while True:
    for k in range(4):
        write_whole({pathlib.Path("kit.pdf"): bytes([65 + k]) * 300_000})
"""
# A process that writes a draft until it is told to end.
HOLDING = """
import os, sys
with open(sys.argv[1], "wb") as draft:
    os.lockf(draft.fileno(), os.F_LOCK, 0)
    print(end="k", flush=True)
    sys.stdin.read()
"""


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The tests' own folder, with an older file."""
    monkeypatch.chdir(tmp_path)
    Path("kit.pdf").write_bytes(b"old")
    return tmp_path


def held() -> dict[str, bytes]:
    """All files here with their content."""
    return {path.name: path.read_bytes() for path in Path().iterdir()}


def test_files_are_written_and_replaced() -> None:
    write_whole({Path("kit.pdf"): b"new", Path("report.json"): b"{}"})
    assert held() == {
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
    assert held() == {"kit.pdf": b"old"}


@pytest.mark.parametrize("moment", ["os.lockf", "os.fsync", "pathlib.Path.replace"])
def test_killed_in_the_middle_the_older_file_stands_and_the_next_writing_clears_up(moment: str) -> None:
    killed = subprocess.run([sys.executable, "-c", KILLED.format(moment=moment)], check=False)
    assert killed.returncode == -signal.SIGKILL
    assert Path("kit.pdf").read_bytes() == b"old"
    assert not Path("report.json").exists()
    assert len(list(Path().iterdir())) > 1
    write_whole({Path("kit.pdf"): b"next", Path("report.json"): b""})
    assert held() == {"kit.pdf": b"next", "report.json": b""}


@pytest.mark.long
def test_killed_at_any_moment_a_file_is_whole_and_the_next_writing_clears_up() -> None:
    """Processes that write without end, each killed while it does: at twenty moments, three times."""
    whole = {bytes([65 + k]) * 300_000 for k in range(4)} | {b"old"}
    for k in range(60):
        writing = subprocess.Popen([sys.executable, "-c", ENDLESS], stdout=subprocess.PIPE)
        assert writing.stdout is not None
        writing.stdout.read(1)
        time.sleep(0.0007 * (k % 20))
        writing.kill()
        writing.communicate()
        assert Path("kit.pdf").read_bytes() in whole
        if k % 10 == 9:
            write_whole({Path("kit.pdf"): b"old"})
            assert held() == {"kit.pdf": b"old"}


def test_what_another_is_writing_and_what_is_called_otherwise_is_no_leftover() -> None:
    kept = [
        ".kit.pdf.0123abcd",
        ".kit.pdf.old.unfinished",
        ".kit.png.0123abcd.unfinished",
        "kit.pdf.unfinished",
    ]
    for name in kept:
        Path(name).touch()
    os.mkfifo(".kit.pdf.0000aaaa.unfinished")
    Path(".kit.pdf.0000bbbb.unfinished").symlink_to("kit.pdf")
    Path(".kit.pdf.0000cccc.unfinished").touch()
    writing = subprocess.Popen(
        [sys.executable, "-c", HOLDING, ".kit.pdf.0000dddd.unfinished"],
        stdout=subprocess.PIPE,
        stdin=subprocess.PIPE,
    )
    assert writing.stdout is not None
    writing.stdout.read(1)
    write_whole({Path("kit.pdf"): b"new"})
    left = {path.name for path in Path().iterdir()} - {"kit.pdf", *kept}
    assert left == {f".kit.pdf.0000{letter * 4}.unfinished" for letter in "abd"}
    writing.communicate()


def test_a_long_name_has_room_for_its_draft() -> None:
    name = "é" * 123 + ".pdf"
    write_whole({Path(name): b"new"})
    assert Path(name).read_bytes() == b"new"


@pytest.mark.parametrize("moment", ["os.lockf", "os.fsync", "pathlib.Path.replace"])
def test_interrupted_in_the_middle_nothing_is_left_lying_about(
    moment: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def interrupted(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(moment, interrupted)
    with pytest.raises(KeyboardInterrupt):
        write_whole({Path("kit.pdf"): b"new"})
    assert held() == {"kit.pdf": b"old"}


def test_a_full_disk_is_told_and_leaves_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(FileError, match=r"^can't write kit.pdf: No space left on device$"):
        write_whole({Path("kit.pdf"): b"new"})
    assert held() == {"kit.pdf": b"old"}


@pytest.mark.parametrize("link", ["link.pdf", "folder/link.pdf", "link to link"])
def test_a_link_stays_and_what_it_leads_to_is_replaced(link: str) -> None:
    Path("folder").mkdir()
    Path("link.pdf").symlink_to("kit.pdf")
    Path("folder/link.pdf").symlink_to("../kit.pdf")
    Path("link to link").symlink_to("folder/link.pdf")
    before = Path("kit.pdf").stat().st_ino
    write_whole({Path(link): b"new"})
    assert Path(link).is_symlink()
    assert Path("kit.pdf").read_bytes() == b"new"
    assert Path("kit.pdf").stat().st_ino != before  # replaced whole, not written over
    assert {path.name for path in Path().iterdir()} == {"kit.pdf", "link.pdf", "link to link", "folder"}


def test_a_link_to_nothing_makes_what_it_leads_to() -> None:
    Path("link.pdf").symlink_to("new.pdf")
    write_whole({Path("link.pdf"): b"new"})
    assert Path("link.pdf").is_symlink()
    assert Path("new.pdf").read_bytes() == b"new"


@pytest.mark.parametrize(
    ("target", "reason"),
    [
        ("link.pdf", "Too many levels of symbolic links"),
        ("folder", "it is a folder"),
        ("none/new.pdf", "there is no folder {here}/none"),
    ],
)
def test_a_link_that_leads_to_no_file_is_told(target: str, reason: str) -> None:
    Path("folder").mkdir()
    Path("link.pdf").symlink_to(target)
    with pytest.raises(FileError) as told:
        write_whole({Path("link.pdf"): b"new"})
    assert str(told.value) == f"can't write link.pdf: {reason.format(here=Path.cwd())}"
    assert Path("link.pdf").is_symlink()


def test_a_pipe_is_written_to_and_stays_one() -> None:
    os.mkfifo("pipe")
    reading = subprocess.Popen(["cp", "pipe", "got"])  # which copies what comes out of it
    write_whole({Path("pipe"): b"new" * 99999, Path("kit.pdf"): b"new"})
    assert reading.wait() == 0
    assert Path("pipe").is_fifo()
    Path("pipe").unlink()
    assert held() == {"kit.pdf": b"new", "got": b"new" * 99999}


def test_a_device_is_written_to_and_stays_one() -> None:
    write_whole({Path("/dev/null"): b"new"})
    assert Path("/dev/null").is_char_device()
    with pytest.raises(FileError, match=r"^can't write /dev/full: No space left on device$"):
        write_whole({Path("/dev/full"): b"new", Path("kit.pdf"): b"new"})
    assert held() == {"kit.pdf": b"old"}
