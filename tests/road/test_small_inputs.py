"""No small input takes long: the dearest that are within bounds, each in a process of its own.

All of them by a command: `python tests/road/small_inputs.py`.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from small_inputs import INPUTS, MEGABYTES, SECONDS, taken

# A machine that is busy with others takes longer for the same; what goes wrong takes many times as long.
SLACK = 2.5


@pytest.mark.long
@pytest.mark.parametrize(
    ("name", "command", "code"),
    [
        ("a piece of 2000 by 1", "make", 0),
        ("a piece of 10000 by 10000", "check", 1),
        ("300 seams on 100 pieces", "check", 0),
        ("500 drawn each", "make", 0),
        ("500 large ones drawn each", "make", 1),
        ("20 outlines of 2000 points", "make", 1),
        ("200 pieces stacked", "make", 1),
        ("80000 tables", "check", 1),
        ("lists in one another", "check", 1),
        ("numbers like 1e308", "check", 1),
        ("a row of 100000", "check", 1),
        ("40 of two portions drawn each", "check", 0),
        ("200 items", "check", 0),
        ("1000 openings of 250 entries", "make", 0),
        ("a PDF of eleven nested forms", "proof", 3),
        ("a PDF of 2000 pages of a few nested tags", "proof", 1),
    ],
)
def test_it_takes_seconds(name: str, command: str, code: int, tmp_path: Path) -> None:
    got = taken(command, INPUTS[name], tmp_path)
    assert got.code == code, got.said
    assert "Traceback" not in got.said
    assert got.seconds < SECONDS * SLACK
    assert got.megabytes < MEGABYTES
