"""Parts, edges and tubes that can't be drafted, and items that do not fit, with the exact text of each.

The tables are TABLES beside this: a title, the
file, and behind "-> " what is told. Every text was read and judged by hand before it was written down.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from told_cases import told_cases

from handkit.draft.drafter import draft
from handkit.draft.parts.part_kinds import DRAFTINGS
from handkit.errors import ProjectError
from handkit.read.parts.part_kinds import KINDS
from handkit.read.project import PartKind
from handkit.read.reader import read_project_text

TABLE = Path(__file__).parent / "bad_parts.txt"
TABLES = (
    TABLE,
    *(
        Path(__file__).parent / f"bad_{name}.txt"
        for name in ("holders", "cases", "edges", "folds", "tubes", "worn", "straps", "rolls", "arranged")
    ),
)
CASES = [pytest.param(text, told, id=title) for table in TABLES for title, text, told in told_cases(table)]


def told_of(text: str) -> list[str]:
    try:
        project = read_project_text(text, file="p.toml", folder=Path())
        return [str(finding) for finding in draft(project).findings]
    except ProjectError as refused:
        return [str(finding) for finding in refused.findings]


@pytest.mark.parametrize(("text", "expected"), CASES)
def test_bad_parts_are_told_in_full(text: str, expected: list[str]) -> None:
    assert expected
    assert told_of(text) == expected


def test_every_kind_is_drafted_by_a_module() -> None:
    assert set(DRAFTINGS) == set(KINDS) == set(PartKind)
