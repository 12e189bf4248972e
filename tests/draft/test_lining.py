"""Linings: the piece's own shape, mirrored and turned over, or set in all round."""

from __future__ import annotations

from pathlib import Path

import pytest
import shapely

from handkit.draft.drafter import draft
from handkit.draft.pattern import Pattern
from handkit.punch.puncher import punch
from handkit.read.reader import read_project_text

# Shapes with straight, bowed and rounded edges, an inside corner, a circle.
SHAPES = {
    "rectangle": "rectangle = [120, 80]",
    "rounded": "rectangle = [120, 80]\nround = { A = 5, C = 20 }",
    "bowed": 'rectangle = [120, 80]\narc = { "C-D" = 6, "A-B" = -4 }\nround = { C = 12 }',
    "inside corner": "points = [[0, 0], [120, 0], [120, 80], [60, 80], [60, 40], [0, 40]]",
    "clockwise": "points = [[0, 0], [0, 80], [120, 80], [120, 0]]\nround = 9",
    "circle": "circle = 90",
}


def drafted(shape: str, part: str = "", more: str = "") -> Pattern:
    text = f"""format = 1
[material]
thickness = 1.5
[[piece]]
name = "front"
{shape}
[[part]]
name = "lining"
kind = "lining"
of = "front"
{part}
{more}"""
    return draft(read_project_text(text, file="p.toml", folder=Path()))


def area_in_front(pattern: Pattern, name: str) -> shapely.Polygon:
    place = pattern.carry(name, "front")
    assert place is not None
    points = pattern.piece(name).outline.flattened(sagitta=0.001)
    return shapely.Polygon(place.apply_all(points))


@pytest.mark.parametrize("shape", SHAPES.values(), ids=SHAPES)
@pytest.mark.parametrize("by", [0, 2, 4])
def test_its_edge_lies_inside_the_others_by_so_much(shape: str, by: float) -> None:
    """By an independent library; corners, which a buffer rounds, apart from sharp ones left out."""
    pattern = drafted(shape, f"inset_by = {by}", f'[[seam]]\nname = "lining"\ninset = {max(4 - by, 1)}\n')
    front, lining = area_in_front(pattern, "front"), area_in_front(pattern, "lining")
    inner = front.buffer(-by, join_style="mitre", mitre_limit=50)
    assert lining.symmetric_difference(inner).area < 0.002 * front.area
    assert front.covers(lining.buffer(-0.001))
    assert front.exterior.distance(lining.buffer(-0.001)) >= by - 0.01


def test_it_lies_behind_turned_over_with_the_same_letters() -> None:
    pattern = drafted(SHAPES["rectangle"])
    lining = pattern.piece("lining")
    assert (lining.behind, lining.flat, lining.level) == (True, True, -1)
    assert lining.in_root.turns_over
    front = {letter.name: letter.at for letter in pattern.piece("front").letters}
    mine = {letter.name: lining.in_root.apply(letter.at) for letter in lining.letters}
    assert mine == front


def test_its_own_seam_goes_all_round() -> None:
    (seam,) = punch(drafted(SHAPES["rounded"])).seams
    assert (seam.name, seam.closed) == ("lining", True)
    assert len({len(layer.holes) for layer in seam.layers}) == 1


def test_sewn_in_with_a_pockets_seam_it_has_its_holes() -> None:
    more = """[[piece]]
name = "pocket"
rectangle = [60, 40]
on = "front"
at = [20, 20]
[[seam]]
name = "pocket"
runs = ["pocket: D-A-B-C", "front"]
match = [[[30, 4], ""]]
"""
    punched = punch(drafted(SHAPES["rectangle"], 'seams = ["pocket"]', more))
    (seam,) = punched.seams
    assert [layer.piece for layer in seam.layers] == ["pocket", "front", "lining"]
    carry = punched.pattern.carry("lining", "front")
    assert carry is not None
    for mine, front in zip(seam.layers[2].holes, seam.layers[1].holes, strict=True):
        assert carry.apply(mine.at) == pytest.approx(front.at, abs=0.01)


def test_a_lining_of_a_drafted_pocket_follows_it() -> None:
    more = """[[part]]
name = "pocket"
kind = "flat pocket"
on = "front"
[[item]]
name = "card"
in = "pocket"
size = [40, 1, 60]
[[part]]
name = "pocket lining"
kind = "lining"
of = "pocket"
seams = ["pocket"]
[[piece]]
name = "pocket lining"
thickness = 0.8
kind = "canvas"
"""
    pattern = drafted(SHAPES["rectangle"], more=more)
    pocket, lining = pattern.piece("pocket"), pattern.piece("pocket lining")
    assert lining.outline.length == pytest.approx(pocket.outline.length)
    assert (lining.thickness, pocket.thickness) == (0.8, 1.5)


def test_a_lining_of_a_copy_follows_it_wherever_it_stands_in_the_file() -> None:
    more = """[[piece]]
name = "twin"
copy = "pocket"
mirrored = true
[[part]]
name = "twin lining"
kind = "lining"
of = "twin"
[[part]]
name = "pocket"
kind = "flat pocket"
on = "front"
[[item]]
name = "card"
in = "pocket"
size = [40, 1, 60]
"""
    pattern = drafted(SHAPES["rectangle"], more=more)
    lining, twin = pattern.piece("twin lining"), pattern.piece("twin")
    assert lining.outline.length == pytest.approx(twin.outline.length)
    assert lining.in_root.apply(lining.letters[1].at) == pytest.approx(twin.letters[1].at)


def test_lines_on_a_lining_are_written_as_they_lie_on_what_it_lines() -> None:
    """A line, a fold and a snap 20 mm from the front's left edge lie there through both layers."""
    more = """[[piece]]
name = "lining"
lines = { pen = [[20, 10], [20, 60]] }
folds = { flap = [[0, 70], [120, 70]] }
[[piece]]
name = "spare"
copy = "lining"
[[piece]]
name = "other side"
copy = "lining"
mirrored = true
[[opening]]
name = "label slot"
kind = "slot"
slot = [20, 3]
turn = 30
through = ["lining"]
at = [[20, 66]]
"""
    pattern = drafted(SHAPES["rectangle"], more=more)
    lining = pattern.piece("lining")
    place = pattern.carry("lining", "front")
    assert place is not None
    assert place.apply_all(lining.lines[0].path.flattened(sagitta=1)) == ((20, 10), (20, 60))
    assert place.apply_all(lining.folds[0].path.flattened(sagitta=1)) == ((0, 70), (120, 70))
    (slot,) = pattern.openings[0].places
    assert place.apply(slot.at) == (20, 66)
    assert slot.degrees == 150  # 30 degrees as seen on the front
    own = [tuple(pattern.piece(name).lines[0].path.flattened(sagitta=1)) for name in ("spare", "other side")]
    assert own == [((-20, 10), (-20, 60)), ((20, 10), (20, 60))]


def test_a_copy_of_a_lining_has_lines_of_its_own_in_its_own_frame() -> None:
    more = """[[piece]]
name = "spare"
copy = "lining"
lines = { pen = [[-20, 10], [-20, 60]] }
"""
    spare = drafted(SHAPES["rectangle"], more=more).piece("spare")
    assert tuple(spare.lines[0].path.flattened(sagitta=1)) == ((-20, 10), (-20, 60))
