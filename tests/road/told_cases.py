"""Tables of what is told: files beside their tests.

In: a table's file, in which a case begins with "## " and its title; then comes a project file, and behind
"-> " what is told of it. Out: the cases.
"""

from __future__ import annotations

import re
from pathlib import Path


def told_cases(table: Path) -> list[tuple[str, str, list[str]]]:
    """Title, file and told lines of each case in a table."""
    found = []
    for case in re.split(r"^## ", table.read_text("utf-8"), flags=re.MULTILINE)[1:]:
        title, *lines = case.rstrip("\n").split("\n")
        told = [line.removeprefix("-> ") for line in lines if line.startswith("-> ")]
        found.append((title, "".join(f"{line}\n" for line in lines if not line.startswith("-> ")), told))
    return found
