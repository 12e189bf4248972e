"""Tests on two cores: each runs once, all are told in one place, none is lost where one half breaks off."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

# Which process ran it stands in a file of its own; one waits for the other, so that both must be at work.
TEST = """
import os, time
from pathlib import Path

RAN = Path(__file__).parents[1] / "ran"

def test_one(tmp_path):
    (RAN / f"{Path(__file__).stem} {os.getpid()}").touch()
    until = time.monotonic() + 20
    while os.environ.get("BOTH") and len(list(RAN.iterdir())) < 2 and time.monotonic() < until:
        time.sleep(0.01)

def test_two(tmp_path):
    %s
"""


def run(folder: Path, ends: dict[str, str], **environment: str) -> tuple[str, list[str]]:
    """What is told of a file in each folder whose last test ends so; which process ran which file."""
    (folder / "ran").mkdir()
    for name, end in ends.items():
        (folder / name).mkdir()
        (folder / name / f"test_{name}.py").write_text(TEST % end, "utf-8")
    known = {key: value for key, value in os.environ.items() if key not in ("AT_ONCE", "PYTEST_ADDOPTS")}
    told = subprocess.run(
        [
            sys.executable,
            "-m",
            "pytest",
            "-p",
            "halves",
            "-p",
            "no:cacheprovider",
            "-p",
            "no:hypothesispytest",
            "-v",
            *ends,
        ],
        cwd=folder,
        env={**known, "PYTHONPATH": str(Path(__file__).parent), **environment},
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    return told.stdout, sorted(file.name for file in (folder / "ran").iterdir())


def results(told: str) -> list[tuple[str, str]]:
    return sorted(re.findall(r"^\S+::(\w+) ([A-Z]+)", told, re.MULTILINE))


BOTH = {"BOTH": "yes"} if len(os.sched_getaffinity(0)) > 1 else {}


@pytest.mark.parametrize(("environment", "processes"), [(BOTH, 1 + len(BOTH)), ({"AT_ONCE": "1"}, 1)])
def test_every_test_runs_once_and_is_told(
    tmp_path: Path, environment: dict[str, str], processes: int
) -> None:
    told, ran = run(tmp_path, {"first": "assert 1 == 2", "last": "assert 1 == 3"}, **environment)
    assert results(told) == [("test_one", "PASSED")] * 2 + [("test_two", "FAILED")] * 2
    assert "assert 1 == 2" in told
    assert "assert 1 == 3" in told
    assert "2 failed, 2 passed" in told
    assert [line.split()[0] for line in ran] == ["test_first", "test_last"]
    assert len({line.split()[1] for line in ran}) == processes


def test_a_half_that_breaks_off_is_told(tmp_path: Path) -> None:
    """The last file is the copy's, for the first waits until it has begun."""
    told, _ = run(
        tmp_path, {"first": "pass", "last": "os._exit(0) if os.environ.get('BOTH') else None"}, **BOTH
    )
    assert ("the process that ran the other half broke off" in told) == bool(BOTH)
