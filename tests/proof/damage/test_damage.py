"""Damage of every kind to a finished kit is told by the right check, at the right place, in few lines.

Every third row of the table is tried on one of the three kits; `run.py` tries all rows on all of them.
"""

from __future__ import annotations

import pytest
from damage_judge import Outcome, complaints, damaged, outcome, outcome_at_one
from damage_makes import KITS, kit_of, told
from damage_rows import LIES, ROWS, Row
from damaging import KitCopy

# So that what is shortest is seen with every run of the tests: a row, and the kit that is soonest made.
SHORT = ("every hole missing", "one outline missing", "a hole moved by 0.03 mm", "no list attached")


def test_the_table_is_as_long_as_it_must_be() -> None:
    assert len({row.name for row in ROWS}) == len(ROWS) >= 120
    assert all(row.codes or row.refused for row in ROWS)


def test_a_kit_that_is_only_written_again_passes() -> None:
    """What the table's own writer does to a file is no damage: every page's content taken apart as well."""
    copy = KitCopy(kit_of("strap"))
    assert [page.content for page in copy.pages]
    assert told(copy.written()) == ((), "")


@pytest.mark.parametrize("row", [row for row in ROWS if row.name in SHORT], ids=lambda row: row.name)
def test_damage_is_told(row: Row) -> None:
    found = outcome(row, "strap")
    assert found is not None
    assert complaints(row, found) == []


@pytest.mark.long
@pytest.mark.parametrize(("turn", "row"), list(enumerate(ROWS[::3])), ids=[row.name for row in ROWS[::3]])
def test_any_damage_is_told(turn: int, row: Row) -> None:
    name, found = outcome_at_one(row, turn)
    assert name in KITS
    assert complaints(row, found) == []


@pytest.mark.long
@pytest.mark.parametrize("row", LIES, ids=lambda row: row.name)
def test_a_list_that_lies_is_told_by_the_project(row: Row) -> None:
    found = damaged(row, "strap")
    assert found is not None
    where, data = found
    assert told(data) == ((), "")
    assert complaints(row, Outcome(where, *told(data, "strap"))) == []
    assert told(kit_of("strap"), "strap") == ((), "")
