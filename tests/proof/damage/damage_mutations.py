"""Mutations of the proof: each of its checks taken out, so that the table of damage must fail.

In: the wordings of `messages/proving.py`, each a way in which a check can fail; the functions that
`prover.py` calls. Out: for each the row of the table that needs it, or none.

A check is taken out by making all lines of its key pass; a function by making it give nothing. That the table
needs it means: with it taken out, some row is no longer told as it must be.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import AbstractContextManager, contextmanager
from functools import partial
from inspect import getsource
from sys import modules
from typing import Any
from unittest.mock import patch

from damage_edits import Where
from damage_judge import TURNS, Outcome, complaints, damaged
from damage_makes import told
from damage_rows import LIES, Row

from handkit.messages.proving import PROVING
from handkit.proof import prover
from handkit.proof.audit.audit import Audited
from handkit.proof.checks import checking

# The one that gives more than checks.
AUDIT = "audited"

# A damaged kit: where it is, and the file's bytes.
Damaged = tuple[Where, bytes]


class _Asked(dict[str, Any]):
    """The wordings, and the key that was asked for last."""

    last = ""

    def __getitem__(self, key: str) -> Any:
        self.last = key
        return super().__getitem__(key)


@contextmanager
def watched(out: str = "") -> Iterator[list[str]]:
    """The keys of all checks that fail meanwhile; those of the key `out` pass."""
    asked, failed, made = _Asked(PROVING), list[str](), checking.Check

    def check(code: str, passed: bool, *more: Any) -> Any:
        if not passed and asked.last != out:
            failed.append(asked.last)
        return made(code, passed or asked.last == out, *more)

    with patch.object(checking, "PROVING", asked), patch.object(checking, "Check", check):
        yield failed


@contextmanager
def without(name: str) -> Iterator[None]:
    """The prover with one of the functions that it calls giving nothing."""
    nothing = Audited() if name == AUDIT else ()
    with patch.object(prover, name, lambda *_, **__: nothing):
        yield


def called() -> list[str]:
    """The functions of checks that the prover calls."""
    return sorted([AUDIT, *(name for name in vars(prover) if name.endswith("_checks") and name[0] != "_")])


def is_right(row: Row, found: Damaged) -> bool:
    """Whether a damaged kit is told as it must be."""
    project = TURNS[0] if row in LIES else ""
    return not complaints(row, Outcome(found[0], *told(found[1], project)))


def failing(row: Row, found: Damaged) -> set[str]:
    """The keys of the checks that fail for a damaged kit. Raises AssertionError where it is told wrongly."""
    with watched() as failed:
        assert is_right(row, found), row.name
    return set(failed)


def needing(
    taken_out: Callable[[], AbstractContextManager[object]], cases: Iterable[tuple[Row, Damaged]]
) -> Row | None:
    """The first row that is not told as it must be while something is taken out."""
    with taken_out():
        return next((row for row, found in cases if not is_right(row, found)), None)


def damaged_once(row: Row) -> Damaged:
    """One of the kits that give occasion, damaged so."""
    return next(found for name in TURNS[:2] + TURNS[-1:] if (found := damaged(row, name)))


def needs(rows: Sequence[Row]) -> Iterator[tuple[str, Row | None]]:
    """The row that needs it, for each way of failing in the wordings, for each other check that these rows
    make fail, and for each function called: tried first with rows of which its module alone tells."""
    cases = [(row, damaged_once(row)) for row in rows]
    keys = [failing(*case) for case in cases]
    for key in PROVING:
        hit = sorted((len(failed), k) for k, failed in enumerate(keys) if key in failed)
        if hit or "/" in key:
            yield key, needing(partial(watched, key), (cases[k] for _, k in hit))
    for name in called():
        source = getsource(modules[getattr(prover, name).__module__])
        own = [k for k, failed in enumerate(keys) if all(f'"{key}"' in source for key in failed)]
        rest = sorted(set(range(len(cases))) - set(own))
        yield name, needing(partial(without, name), (cases[k] for k in (*own, *rest)))
