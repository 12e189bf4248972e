"""Sections of rooms and folds: measures worked out by hand, areas by an independent reckoning."""

from __future__ import annotations

from math import pi
from pathlib import Path

import pytest
import shapely

from handkit import kit
from handkit.assemble.article import ArticleSection
from handkit.assemble.section import sections_of
from handkit.read.project import Side

SAMPLE = Path(__file__).parents[2] / "samples" / "sketching_case" / "case.toml"

HEAD = (Path(__file__).parent / "board.toml").read_text("utf-8")
HEAD += '[[piece]]\nname = "back"\nrectangle = [260, 300]\n'

ITEM = """
[[item]]
name = "press board"
in = "tray"
size = [60, 10, 120]
[[part]]
name = "tray"
on = "back"
at = [40, 30]
"""


def sections(tmp_path: Path, text: str) -> tuple[ArticleSection, ...]:
    """Of a project."""
    file = tmp_path / "tray.toml"
    file.write_text(HEAD + text, "utf-8")
    return sections_of(kit.article_of(kit.punched_of(file)))


def test_a_box_stands_on_its_strip_with_its_edges_out(tmp_path: Path) -> None:
    """By hand: depth = 10 and the ease; a plain strip of 2 stands 4 inside the front's edge, its edges flush
    with the front's, so its section is 2·(4 + 2)·2 for the flanges and 2·(depth − 4) for the wall."""
    across, along = sections(tmp_path, ITEM + 'kind = "boxed pocket"\n')
    assert (across.of, across.along, along.along) == ("tray", False, True)
    base, left, right, front = across.plates
    assert [plate.piece for plate in across.plates] == ["back", "tray gusset", "tray gusset", "tray front"]
    depth = front.outline.bounds()[1]
    assert left.outline.bounds()[3] == depth > 10
    assert front.outline.bounds()[3] == depth + 2
    assert abs(left.outline.signed_area()) == pytest.approx(2 * 6 * 2 + 2 * (depth - 4))
    edge, _, end, _ = front.outline.bounds()
    assert (left.outline.bounds()[0], right.outline.bounds()[2]) == pytest.approx((edge, end))
    assert base.outline.bounds()[1::2] == (-2.0, 0.0)
    (thing,) = across.things
    x0, z0, x1, z1 = thing.outline.bounds()
    assert (x1 - x0, z0, z1) == pytest.approx((60.0, 0.0, 10.0))
    assert {plate.up for plate in across.plates} == {Side.GRAIN}
    (lengthwise,) = along.things
    y0, _, y1, high = lengthwise.outline.bounds()
    assert (y1 - y0, high) == pytest.approx((120.0, 10.0))
    assert base.outline.bounds()[::2] == pytest.approx((edge - 12, end + 12))  # shown of the base beside it


def test_no_more_of_a_base_is_shown_than_there_is(tmp_path: Path) -> None:
    """A bag's back is as wide as its front, and nothing of it stands out beside the gusset."""
    across, _ = sections(tmp_path, ITEM.replace('on = "back"\nat = [40, 30]', 'kind = "bag"'))
    back, *_, front = across.plates
    assert back.outline.bounds()[::2] == pytest.approx(front.outline.bounds()[::2])


def test_a_bowed_front_lies_flat_beside_its_mouth_and_arcs_over_it(tmp_path: Path) -> None:
    """The band's area is thickness × the middle's length: Pappus and Guldin for an arc, to a thousandth."""
    across, along = sections(tmp_path, ITEM + 'kind = "bowed pocket"\n')
    front = across.plates[-1]
    assert front.piece == "tray" and front.up is Side.GRAIN
    inside = list(front.outline.flattened(sagitta=0.01))
    assert min(z for _, z in inside) == 0.0
    upper = front.upper.flattened(sagitta=0.01)
    low = front.outline.length / 2 - 2  # half the way round less one end: the middle's length
    assert abs(front.outline.signed_area()) == pytest.approx(2 * low, rel=2e-3)
    assert max(z for _, z in upper) == pytest.approx(max(z for _, z in inside))
    assert along.plates[-1].outline.bounds()[3] == pytest.approx(max(z for _, z in upper), abs=0.2)
    (thing,) = along.things  # the cover is drawn over what fills it: both have no area in common
    cover = shapely.Polygon(along.plates[-1].outline.flattened(sagitta=0.01))
    assert cover.intersection(shapely.Polygon(thing.outline.flattened(sagitta=0.01))).area < 0.01


def test_what_lies_behind_is_cut_alike(tmp_path: Path) -> None:
    """z counts from the base towards the cover, so a pocket behind looks like one in front, and shows its
    grain away from the base."""
    fore = sections(tmp_path, ITEM + 'kind = "bowed pocket"\n')
    text = (ITEM + 'kind = "bowed pocket"\nbehind = true\n').replace("[40, 30]", "[200, 30]")
    aft = sections(tmp_path, text)
    for one, other in zip(fore, aft, strict=True):
        for here, there in zip(one.plates, other.plates, strict=True):
            assert here.outline.bounds() == pytest.approx(there.outline.bounds())
    assert [plate.up for plate in fore[0].plates] == [Side.GRAIN, Side.GRAIN]
    assert [plate.up for plate in aft[0].plates] == [Side.FLESH, Side.GRAIN]


def test_a_strap_over_round_tools_is_their_hull(tmp_path: Path) -> None:
    """By hand: the strap's inside touches each tool at its top, and comes down to the base between."""
    text = """
[[item]]
name = "awl"
in = "row"
diameter = 12
length = 90
[[item]]
name = "folder"
in = "row"
size = [20, 4, 90]
[[part]]
name = "row"
kind = "holder row"
on = "back"
at = [40, 100]
gap = 14
"""
    across, _ = sections(tmp_path, text)
    strap = across.plates[-1]
    assert max(z for _, z in strap.upper.flattened(sagitta=0.01)) == pytest.approx(14.0, abs=0.05)
    round_, flat = across.things
    assert abs(round_.outline.signed_area()) == pytest.approx(36 * pi)
    assert abs(flat.outline.signed_area()) == pytest.approx(80.0)


def test_a_fold_of_half_a_turn_lays_one_leaf_on_the_other(tmp_path: Path) -> None:
    """By hand: leather of 2 round an inside radius of 3: the middles are 8 apart, the whole 10 high."""
    text = """
[[piece]]
name = "cover"
rectangle = [60, 200]
folds = { spine = { line = [[0, 100], [60, 100]], out = "grain", angle = 180, radius = 3 } }
"""
    (section,) = sections(tmp_path, text)
    (plate,) = section.plates
    _, low, _, high = plate.outline.bounds()
    assert (plate.piece, plate.up) == ("cover", Side.GRAIN)
    assert high - low == pytest.approx(10.0, abs=0.05)
    assert abs(plate.outline.signed_area()) == pytest.approx(200 * 2, rel=1e-3)


def test_a_folded_base_is_cut_with_what_is_in_it() -> None:
    """The sketching case, by hand: 48 between the leaves of its cover, so that z is 49 on the flap's inside,
    1 being the back's. A brush of 13 hangs there; a block of 24 stands on the back, and is as long as it is
    cut: 212."""
    article = kit.article_of(kit.punched_of(SAMPLE))
    (section,) = [each for each in sections_of(article) if each.of == "back"]
    things = {thing.item: thing.outline.bounds() for thing in section.things}
    inside = 48 + 1
    left, low, right, high = things["water brush"]
    assert (low, high) == pytest.approx((inside - 13, inside), abs=0.01)
    assert right - left == pytest.approx(13, abs=0.01)
    start, foot, end, top = things["sketch block"]
    assert (foot, top) == pytest.approx((1, 25), abs=0.01)
    assert end - start == pytest.approx(212, abs=0.01)
