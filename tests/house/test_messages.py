"""The tables of wordings and the code that names their rows: each fits the other."""

from __future__ import annotations

import ast
from collections import Counter
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from string import Formatter

import pytest
from parsed import MODULES, SOURCE, nodes_of, text_of

from handkit.messages.proving import PROVING
from handkit.messages.table import MESSAGES

CHECKS = SOURCE / "messages" / "proving.py"
NO_TABLES = {"allowed", "message", "placeholders", "table", "unseen", CHECKS.stem}
FINDINGS = [p for p in (SOURCE / "messages").glob("*.py") if p.stem not in NO_TABLES]

# Functions that take a row's key, and the values that they fill in by themselves.
TELLERS: dict[str, set[str]] = {
    "finding": set(),
    "fault": set(),
    "report": set(),
    "reject": {"value", "allowed"},
    "ShapeError": set(),
    "reject_kind": {"value", "allowed", "such"},
    "unknown": {"name", "known", "near"},
    "_out_of_range": {"value", "allowed", "found", "unit"},
    "check": {"slack"},
}
# Those that tell variants of the row by themselves.
VARIANTS = {"unknown": ("", "/none"), "_out_of_range": ("", "/unit"), "reject_kind": ("", "/list")}

# What is told of a project, and what a proof has measured: functions, rows and their texts, modules.
BOTH = pytest.mark.parametrize(
    ("tellers", "rows", "tables"),
    [
        (
            frozenset(TELLERS) - {"check"},
            {key: (row.found, row.allowed, row.remedy) for key, row in MESSAGES.items()},
            FINDINGS,
        ),
        (
            frozenset({"check"}),
            {key: (row.what, row.found, row.wanted, row.do) for key, row in PROVING.items()},
            [CHECKS],
        ),
    ],
    ids=["findings", "checks"],
)
Rows = dict[str, tuple[str, str, str]]


Call = tuple[tuple[str, ...], set[str], set[str], str]


@cache
def calls(tellers: frozenset[str]) -> list[Call]:
    """Every call that names rows: their keys, the names of its values, those filled in anyway, where."""
    return [
        call
        for path in MODULES
        if any(f"{teller}(" in text_of(path) for teller in tellers)
        for block in nodes_of(path, ast.FunctionDef)
        for call in calls_in(block, tellers, path.relative_to(SOURCE).as_posix())
    ]


def calls_in(block: ast.FunctionDef, tellers: frozenset[str], path: str) -> Iterator[Call]:
    inside = list(ast.walk(block))
    assigned = {
        target.id: node.value
        for node in inside
        if isinstance(node, ast.Assign)
        for target in node.targets
        if isinstance(target, ast.Name)
    }
    for node in inside:
        if isinstance(node, ast.Call) and node.args:
            name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
            values = {keyword.arg or "**" for keyword in node.keywords}
            keys = keys_of(node.args[0], assigned) if name in tellers else ()
            variants = tuple(f"{key}{variant}" for key in keys for variant in VARIANTS.get(name, ("",)))
            if keys:
                yield variants, values, TELLERS[name], f"{path}:{node.lineno}"


def keys_of(node: ast.expr, assigned: dict[str, ast.expr]) -> tuple[str, ...]:
    """The keys that an argument names: a text, one of two by a condition, or a name for either."""
    if isinstance(node, ast.Name) and node.id in assigned:
        node = assigned[node.id]
    ends = (node.body, node.orelse) if isinstance(node, ast.IfExp) else (node,)
    return tuple(end.value for end in ends if isinstance(end, ast.Constant) and isinstance(end.value, str))


def placeholders(texts: tuple[str, str, str]) -> set[str]:
    names = {name for text in texts for _, name, _, _ in Formatter().parse(text) if name is not None}
    return {name.partition(".")[0].partition("[")[0] for name in names if not name[:1].isdecimal()}


@BOTH
def test_every_call_fills_its_rows_placeholders(
    tellers: frozenset[str], rows: Rows, tables: list[Path]
) -> None:
    wrong = {
        where: (keys, values)
        for keys, values, filled, where in calls(tellers)
        if not rows.keys() >= set(keys)
        or ("**" not in values and values != set().union(*(placeholders(rows[key]) for key in keys)) - filled)
    }
    assert wrong == {}


@BOTH
def test_every_row_is_told_somewhere(tellers: frozenset[str], rows: Rows, tables: list[Path]) -> None:
    sources = "".join(text_of(path) for path in MODULES if path.parent.name != "messages")
    told = {key for keys, *_ in calls(tellers) for key in keys}
    assert [key for key in rows if key not in told and f'"{key}"' not in sources] == []


@BOTH
def test_no_key_stands_twice(tellers: frozenset[str], rows: Rows, tables: list[Path]) -> None:
    keys = [
        key.value
        for path in tables
        for node in nodes_of(path, ast.Dict)
        for key in node.keys
        if isinstance(key, ast.Constant)
    ]
    assert [key for key, count in Counter(keys).items() if count > 1] == []
    assert set(keys) == set(rows)
