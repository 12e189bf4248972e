"""The tables of wordings and the code that names their rows: each fits the other."""

from __future__ import annotations

import ast
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from string import Formatter

import pytest

from handkit.messages.proving import PROVING
from handkit.messages.table import MESSAGES

SOURCE = Path(__file__).parents[2] / "handkit"
CHECKS = SOURCE / "messages" / "proving.py"
NO_TABLES = {"message", "placeholders", "table", CHECKS.stem}
FINDINGS = [p for p in (SOURCE / "messages").glob("*.py") if p.stem not in NO_TABLES]

# Functions that take a row's key, and the values that they fill in by themselves.
TELLERS: dict[str, set[str]] = {"finding": set(), "fault": set(), "check": {"slack"}}

# What is told of a project, and what a proof has measured: functions, rows and their texts, modules.
BOTH = pytest.mark.parametrize(
    ("tellers", "rows", "tables"),
    [
        (
            {"finding", "fault"},
            {key: (row.found, row.allowed, row.remedy) for key, row in MESSAGES.items()},
            FINDINGS,
        ),
        ({"check"}, {key: (row.what, row.found, row.wanted) for key, row in PROVING.items()}, [CHECKS]),
    ],
    ids=["findings", "checks"],
)
Rows = dict[str, tuple[str, str, str]]


def calls(tellers: set[str]) -> Iterator[tuple[str, set[str], set[str], str]]:
    """Every call that names a row: the row's key, the names of its values, those filled in anyway, where."""
    for path in sorted(SOURCE.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if not isinstance(node, ast.Call) or not node.args:
                continue
            name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
            key = node.args[0]
            if name in tellers and isinstance(key, ast.Constant) and isinstance(key.value, str):
                values = {keyword.arg or "**" for keyword in node.keywords}
                yield key.value, values, TELLERS[name], f"{path.relative_to(SOURCE)}:{node.lineno}"


def placeholders(texts: tuple[str, str, str]) -> set[str]:
    names = {name for text in texts for _, name, _, _ in Formatter().parse(text) if name is not None}
    return {name.partition(".")[0].partition("[")[0] for name in names}


@BOTH
def test_every_call_fills_its_rows_placeholders(tellers: set[str], rows: Rows, tables: list[Path]) -> None:
    wrong = {
        where: (key, values)
        for key, values, filled, where in calls(tellers)
        if key not in rows or (values != placeholders(rows[key]) - filled and "**" not in values)
    }
    assert wrong == {}


@BOTH
def test_every_row_is_told_somewhere(tellers: set[str], rows: Rows, tables: list[Path]) -> None:
    sources = "".join(p.read_text("utf-8") for p in SOURCE.rglob("*.py") if p.parent.name != "messages")
    assert [key for key in rows if f'"{key}"' not in sources] == []


@BOTH
def test_no_key_stands_twice(tellers: set[str], rows: Rows, tables: list[Path]) -> None:
    keys = [
        key.value
        for path in tables
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.Dict)
        for key in node.keys
        if isinstance(key, ast.Constant)
    ]
    assert [key for key, count in Counter(keys).items() if count > 1] == []
    assert set(keys) == set(rows)
