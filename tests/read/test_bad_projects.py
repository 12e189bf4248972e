"""Bad project files, each with the exact text of every line that is told about it.

The tables are the bad_*.txt files beside this: a title, the file, and behind "-> " what is told.
Every text was read and judged by hand before it was written down.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from told_cases import told_cases

from handkit.messages.reading import READING

HERE = Path(__file__).parent
CODE = re.compile(r" \[([a-z0-9-]+)\]$")


CASES = [
    pytest.param(text, told, id=f"{table.stem}: {title}")
    for table in sorted(HERE.glob("bad_*.txt"))
    for title, text, told in told_cases(table)
]
CODES = {CODE.findall(line)[0] for case in CASES for line in case.values[1]}


@pytest.mark.parametrize(("text", "expected"), CASES)
def test_bad_projects_are_told_in_full(
    text: str, expected: list[str], told: Callable[[str], list[str]]
) -> None:
    assert told(text) == expected


def test_the_tables_are_as_large_as_promised() -> None:
    assert len(CASES) >= 120
    assert len(CODES) >= 70


def test_every_code_of_the_reading_is_in_a_table_or_a_test() -> None:
    kebab = r"([a-z0-9]+(?:-[a-z0-9]+)+)"
    tests = "".join(test.read_text("utf-8") for test in sorted(HERE.glob("test_*.py")))
    shown = CODES | set(re.findall(rf"\[{kebab}\]", tests))
    assert {key.partition("/")[0] for key in READING} - shown == set()


def test_every_finding_says_what_was_found_and_what_to_do(told: Callable[[str], list[str]]) -> None:
    """No finding without what was found and a remedy; errors but for syntax say what is allowed."""
    for case in CASES:
        for line in case.values[1]:
            assert re.search(r": found \S", line), line
            assert line.count("; ") >= (1 if "note: " in line or "toml-syntax" in line else 2), line
