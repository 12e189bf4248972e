"""Names and rooms: one public class name means one thing, and no folder holds more than a reader scans."""

from __future__ import annotations

import ast
import re
from collections import Counter
from pathlib import Path

from parsed import MODULES as EVERY
from parsed import SOURCE, nodes_of

MODULES = [path for path in EVERY if path.name != "__init__.py"]

MOST_MODULES = 16


def short(path: Path) -> str:
    return path.relative_to(SOURCE).as_posix()


def public_classes(path: Path) -> list[str]:
    """Classes whose names have no underscore before them, wherever in a module they stand."""
    return [node.name for node in nodes_of(path, ast.ClassDef) if not node.name.startswith("_")]


def test_a_public_class_name_has_one_meaning() -> None:
    homes: dict[str, list[str]] = {}
    for path in MODULES:
        for name in public_classes(path):
            homes.setdefault(name, []).append(short(path))
    assert len(homes) > 100
    assert {name: found for name, found in homes.items() if len(found) > 1} == {}


def test_no_folder_holds_more_than_sixteen_modules() -> None:
    counts = Counter(short(path.parent) for path in MODULES)
    assert {folder: count for folder, count in counts.items() if count > MOST_MODULES} == {}


def test_the_tree_that_developers_read_has_every_folder_of_modules_in_its_place() -> None:
    text = (SOURCE.parent / "DEVELOPERS.md").read_text("utf-8")
    above: list[str] = []
    told: set[str] = set()
    for line in text.split("```\nhandkit/\n")[1].split("```")[0].splitlines():
        if found := re.match(r"([│ ]*)[├└]── (\w+)/", line):
            above[len(found[1]) // 4 :] = [found[2]]
            told.add("/".join(above))
    assert told == {short(path.parent) for path in MODULES} - {"."}
