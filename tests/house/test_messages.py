"""The table of messages and the code that names its rows: each fits the other."""

from __future__ import annotations

import ast
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from string import Formatter

from handkit.messages.table import MESSAGES

SOURCE = Path(__file__).parents[2] / "handkit"
TABLES = [*sorted((SOURCE / "messages").glob("*ing.py")), SOURCE / "messages" / "layout.py"]

# Functions that take a row's key, and the values that they fill in by themselves.
TELLERS = {"finding": set(), "fault": set()}


def calls() -> Iterator[tuple[str, set[str], str]]:
    """Every call that names a row: the row's key, the names of its values, where it stands."""
    for path in sorted(SOURCE.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if not isinstance(node, ast.Call) or not node.args:
                continue
            name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
            key = node.args[0]
            if name in TELLERS and isinstance(key, ast.Constant) and isinstance(key.value, str):
                values = {keyword.arg or "**" for keyword in node.keywords}
                yield key.value, values, f"{path.relative_to(SOURCE)}:{node.lineno}"


def placeholders(key: str) -> set[str]:
    row = MESSAGES[key]
    texts = (row.found, row.allowed, row.remedy)
    names = {name for text in texts for _, name, _, _ in Formatter().parse(text) if name is not None}
    return {name.partition(".")[0].partition("[")[0] for name in names}


def test_every_call_fills_its_rows_placeholders() -> None:
    wrong = {
        where: (key, values)
        for key, values, where in calls()
        if key not in MESSAGES or (values != placeholders(key) and "**" not in values)
    }
    assert wrong == {}


def test_every_row_is_told_somewhere() -> None:
    sources = "".join(p.read_text("utf-8") for p in SOURCE.rglob("*.py") if p.parent.name != "messages")
    assert [key for key in MESSAGES if f'"{key}"' not in sources] == []


def test_no_key_stands_twice() -> None:
    keys = [
        key.value
        for path in TABLES
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.Dict)
        for key in node.keys
        if isinstance(key, ast.Constant)
    ]
    assert [key for key, count in Counter(keys).items() if count > 1] == []
    assert set(keys) == set(MESSAGES)
