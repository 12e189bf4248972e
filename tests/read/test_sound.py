"""What of a file with errors can be drawn all the same: the entries without one, that need none with one."""

from __future__ import annotations

from pathlib import Path

import pytest

from handkit.errors import ProjectError
from handkit.read.project import Project
from handkit.read.reader import read_project_text

SOUND = """
format = 1
[material]
thickness = 2
[stitching]
pitch = 4
[[piece]]
name = "back"
rectangle = [200, 300]
[[piece]]
name = "badge"
rectangle = [30, 20]
on = "back"
at = [10, 200]
[[piece]]
name = "twin"
copy = "badge"
on = "back"
at = [60, 200]
[[seam]]
name = "badge"
runs = ["badge: A-B-C-D-A", "back"]
[[seam]]
name = "twin"
runs = ["twin: A-B-C-D-A", "back"]
[[opening]]
name = "post"
kind = "rivet"
hole = 3
cap = 8
through = ["twin", "back"]
at = [[15, 10]]
[[part]]
name = "pocket"
kind = "flat pocket"
on = "back"
at = [20, 20]
[[item]]
name = "notebook"
in = "pocket"
size = [90, 12, 140]
[[part]]
name = "label pocket"
kind = "flat pocket"
on = "pocket"
at = [10, 10]
[[item]]
name = "label"
in = "label pocket"
size = [50, 1, 60]
[[fitting]]
name = "catch"
kind = "magnet"
diameter = 8
thickness = 2
on = "twin"
at = [[15, 10]]
"""


def reached(text: str) -> Project | None:
    with pytest.raises(ProjectError) as refused:
        read_project_text(text, file="p.toml", folder=Path())
    assert refused.value.reached is None or isinstance(refused.value.reached, Project)
    return refused.value.reached


# A fault in the file, and what it leaves out, worked out by hand.
LEFT_OUT = {
    "a key that no piece has, of one that is copied": (
        ('name = "badge"\nrectangle', 'name = "badge"\ncolour = "red"\nrectangle'),
        ['piece "badge"', 'piece "twin"', 'seam "badge"', 'seam "twin"', 'opening "post"', 'fitting "catch"'],
    ),
    "a run along letters that are not there": (
        ("badge: A-B-C-D-A", "badge: A-B-F"),
        ['seam "badge"'],
    ),
    "a hole without a size": (("hole = 3", "hole = 0"), ['opening "post"']),
    "an item without a length: its pocket, and the one on that": (
        ("size = [90, 12, 140]", "size = [90, 12]"),
        ['part "pocket"', 'part "label pocket"', 'item "notebook"', 'item "label"'],
    ),
    "a part on no piece": (('on = "pocket"', 'on = "pouch"'), ['part "label pocket"', 'item "label"']),
    "how all seams are sewn: parts are sewn too": (
        ("pitch = 4", "pitch = -4"),
        [
            'part "pocket"',
            'part "label pocket"',
            'item "notebook"',
            'item "label"',
            'seam "badge"',
            'seam "twin"',
        ],
    ),
    "a page that is none": (("[[piece]]", '[page]\npaper = "vellum"\n[[piece]]'), []),
    "a fitting of no kind": (('kind = "magnet"', 'kind = "iron"'), ['fitting "catch"']),
}


@pytest.mark.parametrize("title", LEFT_OUT)
def test_only_what_needs_a_faulty_entry_is_left_out(title: str) -> None:
    (old, new), left_out = LEFT_OUT[title]
    assert SOUND.count(old) >= 1
    project = reached(SOUND.replace(old, new, 1))
    assert project is not None
    assert list(project.left_out) == left_out
    kept = [*project.pieces, *project.seams, *project.openings, *project.parts, *project.items]
    assert not {each.source.path for each in (*kept, *project.fittings)} & set(left_out)
    assert not {piece.drafted_by for piece in project.pieces} - {None, *(part.name for part in project.parts)}


@pytest.mark.parametrize(
    ("old", "new"),
    [
        pytest.param("format = 1", 'format = 1\nunit = "ells"', id="unit"),
        pytest.param("thickness = 2", 'thickness = "two"', id="material"),
    ],
)
def test_where_nothing_is_sound_nothing_is_reached(old: str, new: str) -> None:
    assert reached(SOUND.replace(old, new, 1)) is None


def test_a_piece_that_says_its_own_thickness_is_sound_without_that_of_the_material() -> None:
    text = SOUND.replace("thickness = 2", 'thickness = "two"', 1)
    project = reached(text.replace("rectangle = [200, 300]", "rectangle = [200, 300]\nthickness = 3"))
    assert project is not None
    assert [piece.name for piece in project.pieces] == ["back"]


def test_a_sound_file_leaves_nothing_out() -> None:
    assert read_project_text(SOUND, file="p.toml", folder=Path()).left_out == ()
