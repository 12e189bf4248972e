"""The article put together: places and heights worked out by hand."""

from __future__ import annotations

from pathlib import Path

import pytest

from handkit import kit
from handkit.assemble.article import BodyKind, Figure, heights_of

PROJECT = (Path(__file__).parent / "board.toml").read_text("utf-8")
PROJECT += '[[piece]]\nname = "back"\nrectangle = [160, 220]\n'

BOWED = """
[[item]]
name = "bone"
in = "front"
size = [30, 12, 120]
[[part]]
name = "front"
kind = "bowed pocket"
on = "back"
at = [{at}, 16]
rivets = true
{behind}
"""

STACKED = """
[[piece]]
name = "patch"
rectangle = [80, 60]
thickness = 1.5
on = "back"
at = [10, 10]
glued = true
[[piece]]
name = "badge"
rectangle = [40, 20]
thickness = 1
on = "back"
at = [70, 20]
glued = true
[[piece]]
name = "under"
rectangle = [40, 20]
thickness = 3
on = "back"
at = [10, 10]
behind = true
glued = true
[[opening]]
name = "post"
kind = "rivet"
hole = 3
cap = 8
through = ["back", "patch"]
at = [[20, 50]]
"""


def figure_of(tmp_path: Path, more: str) -> Figure:
    """The one figure of a project."""
    file = tmp_path / "board.toml"
    file.write_text(PROJECT + more, "utf-8")
    (figure,) = kit.article_of(kit.punched_of(file)).figures
    return figure


def test_what_lies_flat_rests_on_what_is_under_it(tmp_path: Path) -> None:
    """By hand: the patch on the back; the badge half on the patch; a rivet through patch and back."""
    figure = figure_of(tmp_path, STACKED)
    assert [(body.name, body.level, body.kind) for body in figure.bodies] == [
        ("under", -1, BodyKind.FLAT),
        ("back", 0, BodyKind.FLAT),
        ("patch", 1, BodyKind.FLAT),
        ("badge", 2, BodyKind.FLAT),
    ]
    heights = heights_of(figure.bodies)
    assert heights.span("badge", (75.0, 25.0)) == (1.5, 2.5)
    assert heights.span("badge", (100.0, 25.0)) == (0.0, 1.0)
    assert heights.span("under", (20.0, 20.0)) == (-5.0, -2.0)
    front, back = figure.caps
    assert (front.at, front.low, front.high, front.on, front.to_eye) == (
        (20.0, 50.0),
        1.5,
        3.5,
        "patch",
        True,
    )
    assert (back.low, back.high, back.on, back.to_eye) == (-4.0, -2.0, "back", False)


@pytest.mark.parametrize("behind", [False, True])
def test_a_bowed_front_stands_over_its_item(tmp_path: Path, behind: bool) -> None:
    """By hand: the item lies on the back's face, along y from the foot's row; the front's inside stands off
    as high as the mouth's bow in the middle, which holds the item's corners."""
    figure = figure_of(
        tmp_path, BOWED.format(at=140 if behind else 20, behind="behind = true" if behind else "")
    )
    side = -1.0 if behind else 1.0
    (thing,) = figure.things
    assert sorted((abs(thing.low), abs(thing.high))) == ([2.0, 14.0] if behind else [0.0, 12.0])
    assert thing.in_front is not behind
    assert thing.way == pytest.approx((0.0, 1.0))
    front = figure.body("front")
    assert front.kind is BodyKind.STANDING and front.room is not None
    left, low, right, top = thing.outline.bounds()
    assert (right - left, top - low) == pytest.approx((30.0, 120.0))
    mouth = front.outline.bounds()[3]
    low_z, high_z = heights_of(figure.bodies).span("front", ((left + right) / 2, mouth))
    inside = low_z if not behind else -high_z - 2.0
    assert inside > 12.0
    assert high_z - low_z == pytest.approx(2.0)
    assert front.in_front is (side > 0)


def test_each_row_is_on_both_faces(tmp_path: Path) -> None:
    """By hand: under the rivets the pocket's rows go through 2 + 2 mm; thread stands out from both faces."""
    figure = figure_of(tmp_path, BOWED.format(at=20, behind=""))
    assert {row.seam for row in figure.rows} == {"front, left", "front, foot", "front, right"}
    for row in figure.rows:
        assert row.pieces == ("back", "front")
        assert {place[2] for place in row.back} == {-2.0}
        assert all(place[2] == pytest.approx(2.0) for place in row.front)


def test_a_gusset_written_by_hand_stands_between_others() -> None:
    """The bag's strip is sewn round its front and back, and its place in plan is not where it is; the
    keeper of the welted sheath is sewn where it is placed."""
    here = Path(__file__).parents[2]
    (bag,) = kit.article_of(kit.punched_of(here / "tests/projects/bag/bag.toml")).figures
    assert bag.body("gusset").kind is BodyKind.WALL
    (sheath,) = kit.article_of(kit.punched_of(here / "tests/projects/welted_sheath/sheath.toml")).figures
    assert sheath.body("keeper").kind is BodyKind.LOOSE
