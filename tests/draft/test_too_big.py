"""Parts and items that their base has no room for: told once, exactly so, with advice that works.

The table is too_big.txt beside this: a title, the file, and behind "-> " what is told. The lines were written
by the program and read over; what they advise is done here, and the project must then have no errors.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from told_cases import told_cases

from handkit.draft.drafter import draft
from handkit.errors import ProjectError
from handkit.findings import Finding
from handkit.messages.message import Severity
from handkit.punch.puncher import punch
from handkit.read.reader import read_project_text

TABLE = Path(__file__).parent / "too_big.txt"
CASES = [pytest.param(text, told, id=title) for title, text, told in told_cases(TABLE)]


def told_of(text: str) -> tuple[Finding, ...]:
    """All that reading, drafting and punching tell of a project."""
    try:
        project = read_project_text(text, file="p.toml", folder=Path())
        pattern = draft(project)
        return (*project.findings, *pattern.findings, *punch(pattern).findings)
    except ProjectError as refused:
        return refused.findings


@pytest.mark.parametrize(("text", "expected"), CASES)
def test_a_part_that_is_too_big_is_told_once(text: str, expected: list[str]) -> None:
    assert len(expected) == 1
    assert [str(finding) for finding in told_of(text)] == expected


def tables(text: str) -> list[str]:
    """The file's head and its tables, each with its heading."""
    return re.split(r"^(?=\[)", text, flags=re.MULTILINE)


def with_key(table: str, key: str, value: str) -> str:
    """A table with a key set to another value, or with it added; without it where there is no value."""
    rest = re.sub(rf"^{key} = .*\n", "", table, flags=re.MULTILINE)
    return f"{rest.rstrip()}\n{key} = {value}\n" if value else rest


def named(table: str, heading: str, name: str) -> bool:
    return table.startswith(heading) and f'name = "{name}"' in table


def advised(text: str, finding: Finding) -> list[str]:
    """The project once for each thing that the finding says may be done."""
    part = re.findall(r'part "(.*?)"', finding.where.key)[0]
    return [
        "".join(done(table, part, way) for table in tables(text)) for way in finding.remedy.split("; or ")
    ]


def done(table: str, part: str, way: str) -> str:
    """A table once what it takes of a way to mend the part is done."""
    if named(table, "[[part]]", part):
        return with_part_mended(table, way)
    larger = re.match(r'make "(.*?)" at least (\S+) (?:× (\S+) )?(?:mm|in)', way)
    if larger:
        return enlarged(table, larger[1], float(larger[2]), float(larger[3] or 0))
    held = re.search(r"hold only (.*) in it", way)
    if held and table.startswith("[[item]]") and f'in = "{part}"' in table:
        return (
            table if any(named(table, "[[item]]", name) for name in re.findall(r'"(.*?)"', held[1])) else ""
        )
    return table


def with_part_mended(table: str, way: str) -> str:
    at = re.search(r"at = (\[.*?\])", way)
    shows = re.search(r"let (\S+) mm of its items show|let the items show at most (\S+) mm", way)
    size = re.match(r"make the (height|width|mouth) at (?:least|most) (\S+) mm", way)
    moved = with_key(table, "at", at[1]) if at else table
    mended = with_key(moved, "shows", shows[1] or shows[2]) if shows else moved
    mended = with_key(mended, size[1], size[2]) if size else mended
    for key in re.findall(r"width|height|ease", way if way.startswith("leave") else ""):
        mended = with_key(mended, key, "")
    return mended


def enlarged(table: str, base: str, wide: float, high: float) -> str:
    """The table of a base, be it a piece, the one it is a copy of, or a part that drafts it."""
    if table.startswith("[[piece]]") and "rectangle" in table:
        return with_key(table, "rectangle", f"[{wide}, {high}]")
    if table.startswith("[[piece]]") and "circle" in table:
        return with_key(table, "circle", f"{wide}")
    if named(table, "[[part]]", base):
        return with_key(with_key(table, "width", f"{wide}"), "height", f"{high}")
    return table


@pytest.mark.long
@pytest.mark.parametrize(("text", "expected"), CASES)
def test_whoever_does_what_is_said_has_a_project_without_errors(text: str, expected: list[str]) -> None:
    (finding,) = told_of(text)
    ways = advised(text, finding)
    assert ways
    for way in ways:
        assert way != text
        left = [each for each in told_of(way) if each.severity is Severity.ERROR or each.code == finding.code]
        assert [str(each) for each in left] == []
