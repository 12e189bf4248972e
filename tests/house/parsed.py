"""The sources as Python parses them: each file once, for all rules of the house.

In: a file, and kinds of node. Out: its tree; its nodes of these kinds, in the order of `ast.walk`.
"""

from __future__ import annotations

import ast
from collections import defaultdict
from functools import cache
from pathlib import Path
from typing import Any

TOP = Path(__file__).parents[2]
SOURCE = TOP / "handkit"
MODULES = sorted(SOURCE.rglob("*.py"))


@cache
def text_of(path: Path) -> str:
    return path.read_text("utf-8")


@cache
def tree_of(path: Path) -> ast.Module:
    return ast.parse(text_of(path))


@cache
def _by_kind(path: Path) -> dict[type[ast.AST], list[ast.AST]]:
    kinds: dict[type[ast.AST], list[ast.AST]] = defaultdict(list)
    for node in ast.walk(tree_of(path)):
        kinds[type(node)].append(node)
    return dict(kinds)


def nodes_of(path: Path, *kinds: type[ast.AST]) -> list[Any]:
    """All of the first kind, then all of the next."""
    return [node for kind in kinds for node in _by_kind(path).get(kind, ())]
