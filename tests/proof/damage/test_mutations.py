"""The table of damage fails where a check of the proof is taken out: a few checks here, all by `run.py`."""

from __future__ import annotations

from functools import partial

import pytest
from damage_mutations import called, damaged_once, failing, is_right, needing, watched, without
from damage_rows import LIES, ROWS

ROW = {row.name: row for row in (*ROWS, *LIES)}

# The key of a check, and a row that nothing else tells of.
KEYS = {
    "drawing/missing": "one hole missing",
    "fonts/missing": "fonts that no page has",
    "drawing/moved": "a hole moved by 0.03 mm",
    "drawing/twice": "one opening twice",
    "drawing/part": "a segment of the outline missing",
    "drawing/added": "a hole more",
    "drawing/shifted": "a sheet mirrored",
    "labels/page": "no page labels",
    "bookmarks/page": "a bookmark called otherwise",
    "boxes/all": "every page cut by its tree",
    "rotate/all": "every page turned by its tree",
    "user-unit/all": "every page with a user unit of 2",
    "content/all": "a tagged line on every page",
    "content/page": "the list has another digest of a page",
    "list/none": "no list attached",
    "sheets/missing": "one template sheet missing",
    "seen/mark": "a hole white",
    "loose/ink": "an untagged line on a sheet",
    "project/other": "another title in the list",
    "project/version": "a list by another handkit",
    "paper/page": "a sheet's paper in whole units",
    "loose/picture": "an image on a sheet",
    "breaks/nameless": "a break line without its number, no list",
    "registration/cross": "a registration mark without its ring, no list",
    "registration/nameless-mark": "a mark without its join, no list",
    "registration/no-number": "a mark without its number, no list",
    "print-scaling/other": "print scaling left to the viewer",
    "boxes/page": "a sheet's CropBox cut by a fifth",
    "extras/action": "a script at opening",
}

# A function that the prover calls, and a row that needs it.
FUNCTIONS = {
    "audited": "one hole missing",
    "page_checks": "a sheet turned by 180°",
    "file_checks": "a file attached",
    "hole_checks": "a hole's point moved, no list",
    "join_checks": "a registration mark moved, no list",
    "break_checks": "a break line longer, no list",
    "bar_checks": "no bar, no list",
    "square_checks": "no square, no list",
    "seen_checks": "a hole white",
    "kit_checks": "no mark at all, no list",
}


@pytest.mark.long
@pytest.mark.parametrize(("key", "name"), KEYS.items())
def test_a_check_that_is_taken_out_is_missed(key: str, name: str) -> None:
    found = damaged_once(ROW[name])
    assert key in failing(ROW[name], found)
    assert needing(partial(watched, key), [(ROW[name], found)]) == ROW[name]


@pytest.mark.long
@pytest.mark.parametrize(("function", "name"), FUNCTIONS.items())
def test_a_function_that_is_taken_out_is_missed(function: str, name: str) -> None:
    found = damaged_once(ROW[name])
    assert is_right(ROW[name], found)
    assert needing(partial(without, function), [(ROW[name], found)]) == ROW[name]


def test_every_function_of_checks_is_among_them() -> None:
    assert set(called()) == set(FUNCTIONS)
