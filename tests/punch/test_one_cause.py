"""One cause gives one message: an inset too small is told once a seam, faults that differ are all told."""

from __future__ import annotations

from pathlib import Path

import pytest
from told_cases import told_cases

from handkit.draft.drafter import draft
from handkit.errors import ProjectError
from handkit.messages.message import Severity
from handkit.punch.puncher import punch
from handkit.read.reader import read_project_text

CASE = """format = 1
[material]
thickness = 2
[[piece]]
name = "back"
rectangle = [{width}, 80]
[[piece]]
name = "front"
rectangle = [100, 80]
on = "back"
[[seam]]
name = "sides"
runs = ["front: D-A-B-C", "back"]
inset = {inset}
"""


def told_of(text: str) -> list[tuple[str, str]]:
    """Code and key of each error."""
    with pytest.raises(ProjectError) as raised:
        punch(draft(read_project_text(text, file="p.toml", folder=Path())))
    return [(finding.code, finding.where.key) for finding in raised.value.findings]


def test_an_inset_too_small_for_layers_that_end_flush_is_told_once() -> None:
    told = told_of(CASE.format(width=100, inset=2))
    assert told == [("inset-too-small", 'seam "sides": inset')]


def test_layers_too_near_their_edges_by_unlike_distances_are_told_each() -> None:
    """The back is 98 wide: holes 3 mm inside the front's right edge are 1 mm inside the back's."""
    told = told_of(CASE.format(width=98, inset=3))
    assert told == [
        ("hole-at-edge", 'seam "sides": run "back"'),
        ("inset-too-small", 'seam "sides": inset'),
    ]


# A front of 88 by 80 on a back whose lines are meant for it at [10, 10], each {long} long at the sides.
PLACED = """format = 1
[material]
thickness = 2
[stitching]
pitch = 4
inset = 4
[[piece]]
name = "back"
rectangle = [110, 120]
lines = {{ l = [[14, {top}], [14, 14]], f = [[14, 14], [94, 14]], r = [[94, 14], [94, {top}]] }}
[[piece]]
name = "front"
rectangle = [88, 80]
on = "back"
at = {at}
[[seam]]
name = "left"
runs = ["front: D-A", "back: l"]
[[seam]]
name = "foot"
runs = ["front: A-B", "back: f"]
[[seam]]
name = "right"
runs = ["front: B-C", "back: r"]
"""


def test_a_piece_at_a_wrong_place_is_told_once_for_all_its_seams() -> None:
    """By hand: 6 mm too far to the right, none of its three seams' holes meets the back's lines."""
    told = told_of(PLACED.format(at="[16, 10]", top=86))
    assert told == [("layers-do-not-meet", 'seam "left": run "back: l"')]


def test_lines_of_unlike_lengths_are_told_as_that_alone() -> None:
    """By hand: at its place, 72 on 90 at both sides: the seams' lengths are wrong, and so no hole meets; the
    foot is right."""
    told = told_of(PLACED.format(at="[10, 10]", top=104))
    assert told == [
        ("ease-too-large", 'seam "left": run "back: l"'),
        ("ease-too-large", 'seam "right": run "back: r"'),
    ]


def test_two_faults_of_pieces_that_have_nothing_to_do_with_each_other_are_both_told() -> None:
    """A wrong place of one piece, and unlike lengths of another's seam."""
    more = """[[piece]]
name = "tag"
rectangle = [30, 20]
lines = { t = [[4, 4], [26, 4]] }
[[piece]]
name = "end"
rectangle = [40, 20]
[[seam]]
name = "tag"
runs = ["tag: t", "end: A-B"]
"""
    told = told_of(PLACED.format(at="[16, 10]", top=86) + more)
    assert {code for code, _ in told} == {"layers-do-not-meet", "ease-too-large"}
    assert len(told) == 2


# What is told of a file as a whole, in full: nothing of holes of seams that nobody wrote.
TABLE = Path(__file__).parent / "one_cause.txt"


CASES = [pytest.param(text, told, id=title) for title, text, told in told_cases(TABLE)]


@pytest.mark.parametrize(("text", "expected"), CASES)
def test_it_is_told_once_where_it_is_written(text: str, expected: list[str]) -> None:
    assert len(expected) == 1
    with pytest.raises(ProjectError) as raised:
        punch(draft(read_project_text(text, file="p.toml", folder=Path())))
    findings = [found for found in raised.value.findings if found.severity is not Severity.NOTE]
    assert [str(found) for found in findings] == expected
