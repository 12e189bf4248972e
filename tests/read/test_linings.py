"""A lining of a pocket's front or strap: the pocket's own seams and rivets go through it."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from handkit.assemble.assembler import assemble
from handkit.draft.drafter import draft
from handkit.messages.message import Severity
from handkit.punch.puncher import punch
from handkit.read.project import Project

Read = Callable[[str], Project]

BACK = """format = 1
[material]
thickness = 2
[stitching]
pitch = 4
inset = 4
thread = 0.8
[[piece]]
name = "back"
rectangle = [240, 220]
"""
BOWED = """[[part]]
name = "press"
kind = "bowed pocket"
on = "back"
at = [15, 10]
shows = 40
rivets = true
[[item]]
name = "roller"
in = "press"
diameter = 30
length = 140
"""
FLAT = """[[part]]
name = "press"
kind = "flat pocket"
on = "back"
at = [10, 10]
shows = 40
[[item]]
name = "rule"
in = "press"
size = [30, 1, 150]
[[item]]
name = "folder"
in = "press"
size = [30, 3, 150]
"""
ROW = """[[part]]
name = "press"
kind = "holder row"
on = "back"
at = [20, 100]
strap = 30
[[item]]
name = "awl"
in = "press"
diameter = 12
length = 100
"""
BOX = """[[part]]
name = "press"
kind = "boxed pocket"
on = "back"
at = [20, 20]
shows = 30
round = 20
[[item]]
name = "tin"
in = "press"
size = [60, 25, 110]
"""


def lining(of: str, more: str = "") -> str:
    return f'[[part]]\nname = "inside"\nkind = "lining"\nof = "{of}"\n{more}'


# What goes through the lining, by hand: every row that its 4 mm of edge lie under.
JOINED = [
    (BOWED, "press", ["press, left", "press, foot", "press, right", "press rivets"]),
    (FLAT, "press", ["press", "press 1"]),
    (ROW, "press strap", ["press 1", "press 2"]),
    (BOX, "press front", ["press, front"]),
    (BOX, "press gusset", ["press, front", "press, base"]),
]


def through_lining(project: Project) -> list[str]:
    seams = [seam.name for seam in project.seams if any(each.piece == "inside" for each in seam.layers)]
    return seams + [opening.name for opening in project.openings if "inside" in opening.through]


@pytest.mark.parametrize(("part", "lined", "expected"), JOINED)
def test_the_pockets_own_works_go_through_it(read: Read, part: str, lined: str, expected: list[str]) -> None:
    project = read(BACK + part + lining(lined))
    assert through_lining(project) == expected
    assert "inside" not in {seam.name for seam in project.seams}
    punched = punch(draft(project))
    told = (*punched.findings, *assemble(punched).findings)  # the lining is in no thing's way
    assert [each for each in told if each.severity is not Severity.NOTE] == []


def test_a_rivet_goes_through_front_and_lining_and_base(read: Read) -> None:
    project = read(BACK + BOWED + lining("press"))
    assert project.openings[0].through == ("press", "inside", "back")
    holes = draft(project).openings[0].places
    assert [(place.piece, place.number) for place in holes] == [
        (piece, number) for piece in ("press", "inside", "back") for number in (1, 2)
    ]


# Set in as far as the stitch lines or further the lining lies clear of the sides, and has its own row; what
# runs across the piece it lines goes through it still.
SET_IN = [
    ("inset_by = 3.9", FLAT, ["press", "press 1"]),
    ("inset_by = 4", FLAT, ["press 1", "inside"]),
    ("inset_by = 4", ROW.replace("30", "40"), ["press 1", "press 2"]),
    ("inset_by = 12", BOWED, ["inside"]),
]


@pytest.mark.parametrize(("more", "part", "expected"), SET_IN)
def test_a_lining_set_in_clear_of_the_rows(read: Read, more: str, part: str, expected: list[str]) -> None:
    assert (
        through_lining(read(BACK + part + lining("press strap" if part.count("holder") else "press", more)))
        == expected
    )


def test_seams_that_it_names_go_before(read: Read) -> None:
    """And the rivets that stand where it lies go through it as well."""
    project = read(BACK + BOWED + lining("press", 'seams = ["press, foot"]'))
    assert through_lining(project) == ["press, foot", "press rivets"]


def test_a_seam_of_its_own_that_the_file_writes_stays(read: Read) -> None:
    own = '[[seam]]\nname = "inside"\npitch = 5\n'
    assert through_lining(read(BACK + BOWED + lining("press") + own)) == ["inside"]


def test_a_lining_of_a_piece_that_no_pocket_drafts_has_its_own_seam(read: Read) -> None:
    assert through_lining(read(BACK + lining("back"))) == ["inside"]
