"""Marks, outlines of things, and the sides that meet, as a maker writes them without a part."""

from __future__ import annotations

from pathlib import Path

import pytest

from handkit.draft.drafter import draft
from handkit.draft.pattern import Pattern
from handkit.errors import ProjectError
from handkit.read.project import MarkKind, Side
from handkit.read.reader import read_project_text

HEAD = "format = 1\n[material]\nthickness = 2\n"
STRIP = """
[[piece]]
name = "strip"
rectangle = [100, 30]
marks = {{ notch = [[[20, 0], [21, 4], [22, 0]]], meet = [[[50, 0], {end}]] }}
items = {{ awl = [[40, 5], [54, 5], [54, 25], [40, 25]] }}
[[piece]]
name = "other strip"
copy = "strip"
mirrored = true
"""
BOX = """
[[piece]]
name = "front"
rectangle = [60, 40]
[[piece]]
name = "wall"
rectangle = [60, 20]
[[seam]]
name = "foot"
runs = [{ run = "front: A-B", side = "flesh" }, { run = "wall: A-B", side = "grain" }]
"""


def drafted(text: str) -> Pattern:
    return draft(read_project_text(HEAD + text, file="p.toml", folder=Path()))


def test_marks_stand_where_they_are_written_and_a_copy_has_them_mirrored() -> None:
    pattern = drafted(STRIP.format(end="[50, 8]"))
    strip, other = pattern.piece("strip"), pattern.piece("other strip")
    assert [mark.kind for mark in strip.marks] == [MarkKind.NOTCH, MarkKind.MEET]
    assert [each.end for each in strip.marks[0].path.segments] == [(21, 4), (22, 0)]
    assert [each.end for each in other.marks[0].path.segments] == [(-21, 4), (-22, 0)]


def test_outlines_of_things_lie_on_their_piece_and_on_no_copy() -> None:
    pattern = drafted(STRIP.format(end="[50, 8]"))
    (awl,) = pattern.piece("strip").items
    assert (awl.item, awl.path.closed, awl.path.bounds()) == ("awl", True, (40, 5, 54, 25))
    assert pattern.piece("other strip").items == ()


def test_a_mark_beside_its_piece_is_refused() -> None:
    with pytest.raises(ProjectError) as refused:
        drafted(STRIP.format(end="[50, 38]"))
    assert [str(each) for each in refused.value.findings] == [
        'p.toml:8: error: piece "strip": marks: found mark "meet" with [50, 38] outside; allowed: a line '
        "inside the outline, its edge included; move the line, or the outline [line-outside-piece]"
    ]


def test_the_sides_that_meet_are_those_the_seam_says() -> None:
    """Neither piece is `on` the other: without the seam's word nothing tells."""
    assert drafted(BOX).faces_met("wall", "front") == (Side.GRAIN, Side.FLESH)
    silent = BOX.replace(', side = "flesh"', "").replace(', side = "grain"', "")
    assert drafted(silent).faces_met("wall", "front") is None
