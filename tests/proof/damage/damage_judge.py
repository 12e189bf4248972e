"""Damage judged: copies of three kits, damaged by the rows of a table, and whether the proof says so.

In: rows of `damage_rows.py`. Out: for a row and a kit what its proof told, and what is wrong with that: it
must fail by the right check, at the right page and thing, in few lines.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from damage_edits import NotHereError, Where
from damage_makes import kit_of, told
from damage_rows import Row
from damaging import KitCopy

# No line is longer.
LONGEST = 500

# Checks of a page's content, and of ink that is no mark: they say nothing of pieces.
UNNAMED = ("content", "loose", "words", "labels", "bookmarks")

# Which kit is tried at which turn.
TURNS = ("strap", "kinds", "strap", "kinds", "strap", "kinds", "strap", "kinds", "pouch")


@dataclass(frozen=True)
class Outcome:
    """What a proof told of a damaged file: the lines that fail; or why it is no kit that can be read."""

    where: Where
    failed: tuple[dict[str, Any], ...]
    refused: str = ""


def damaged(row: Row, name: str) -> tuple[Where, bytes] | None:
    """A kit damaged so, and where; None where it gives no occasion."""
    kit = KitCopy(kit_of(name))
    sheets = [page.number for page in kit.sheets]
    try:
        where = row.edit(kit)
    except NotHereError:
        return None
    sheet = sheets.index(where.page) + 1 if where.page in sheets else None
    return replace(where, sheet=sheet), kit.written()


def outcome(row: Row, name: str) -> Outcome | None:
    """What is told of a kit that is damaged so; None where it gives no occasion."""
    found = damaged(row, name)
    return Outcome(found[0], *told(found[1])) if found else None


def outcome_at_one(row: Row, turn: int) -> tuple[str, Outcome]:
    """The same of one kit that gives occasion: another one at each turn, the largest one seldom."""
    names = TURNS[turn % len(TURNS) :] + TURNS
    for name in dict.fromkeys(names):
        found = outcome(row, name)
        if found:
            return name, found
    raise AssertionError(f"no kit gives occasion for: {row.name}")


def complaints(row: Row, found: Outcome) -> list[str]:
    """What is wrong with what was told; nothing where it is right."""
    if found.refused:
        return [] if row.refused and row.refused in found.refused else [f"refused: {found.refused}"]
    if not found.failed:
        return ["passes"]
    wrong = []
    wrong += [f"a line of {len(line)} letters" for line in map(_line, found.failed) if len(line) > LONGEST]
    if not any(is_told(row, found.where, check) for check in found.failed):
        lines = [f"[{check['code']}] {check['what']}: {check['found']}" for check in found.failed[:4]]
        wrong.append(f"wanted {row.codes} at page {found.where.page} {found.where.words}; told: {lines}")
    if len(found.failed) > row.most:
        wrong.append(f"{len(found.failed)} lines")
    return wrong


def is_told(row: Row, where: Where, check: dict[str, Any]) -> bool:
    """Whether a line is the right one: its code, its page or sheet, and what it is about."""
    line = _line(check)
    words = () if check["code"] in UNNAMED else where.words
    return check["code"] in row.codes and _names_page(where, line) and _names(words, line)


def _line(check: dict[str, Any]) -> str:
    return f"{check['what']}: {check['found']}"


def _names_page(where: Where, line: str) -> bool:
    if where.page is None:
        return True
    named = re.findall(r"\b(page|sheet) (\d+)", line.lower())
    return ("page", str(where.page)) in named or ("sheet", str(where.sheet)) in named


def _names(words: Sequence[str], line: str) -> bool:
    return all(re.search(rf"(?<![\w.]){re.escape(word)}(?![\w])", line, re.IGNORECASE) for word in words)
