"""What lies behind, under a flap, and the heavy: what a maker knows and the arranger keeps."""

from __future__ import annotations

from pathlib import Path

import msgspec
import pytest
from arranged_sets import outcome_of
from random_sets import random_set, stated_in_part, under_flap, worn_set

from handkit.assemble.article import Article
from handkit.assemble.assembler import assemble
from handkit.draft.arrange.bands import on_foot, settled
from handkit.draft.arrange.behind import Spare, with_behind
from handkit.draft.arrange.faced import pairs_of
from handkit.draft.arrange.grounds import ground_of
from handkit.draft.arrange.packing import Lane, PackedBox, Packing
from handkit.draft.arrange.ways import unlike_ways
from handkit.draft.drafter import draft
from handkit.punch.puncher import punch
from handkit.read.reader import read_project, read_project_text

POUCH = Path(__file__).parents[2] / "samples/orchard_pouch/pouch.toml"


@pytest.fixture(scope="module")
def pouch() -> Article:
    return assemble(punch(draft(read_project(POUCH))))


def bounds(article: Article, name: str) -> tuple[float, float, float, float]:
    return article.figures[0].body(name).outline.bounds()


def test_loops_are_level_and_as_far_from_the_middle(pouch: Article) -> None:
    left, right = (bounds(pouch, f"{side} loop") for side in ("right", "left"))
    wide = bounds(pouch, "back")[2]
    assert left[1::2] == right[1::2]
    assert left[0] == pytest.approx(wide - right[2])


def test_a_flap_whose_lap_the_file_leaves_open_has_room_for_it() -> None:
    """It lies 20 mm on its base then, and no thing lies under its thread."""
    text = POUCH.read_text("utf-8").replace("lap = 28\n", "")
    laid = assemble(punch(draft(read_project_text(text, file="p.toml", folder=Path()))))
    back, flap = bounds(laid, "back"), laid.figures[0].body("flap").outline.bounds()
    assert back[3] - flap[1] == pytest.approx(20)
    assert laid.clashes == ()


def test_the_knife_is_drawn_out_over_the_belt(pouch: Article) -> None:
    """By hand: the belt is 60 high, in the middle of its loop; the blade 110 long, and half a mm is spare."""
    _, low, _, high = bounds(pouch, "left loop")
    blade = next(item for item in pouch.punched.pattern.piece("back").items if item.item == "grafting knife")
    assert blade.path.bounds()[3] >= (low + high) / 2 + 30


def test_a_flap_covers_what_it_closes_over(pouch: Article) -> None:
    """What it closes on lies lowest and in the middle; all that is in front under its thread, and no wider
    than it; what is behind under its lower edge."""
    flap, front, strap = (bounds(pouch, name) for name in ("flap", "front", "holder strap"))
    wide = bounds(pouch, "back")[2]
    assert front[0] + front[2] == pytest.approx(wide, abs=1)
    assert front[1] < strap[1]
    assert flap[0] <= min(front[0], strap[0])
    assert max(front[2], strap[2]) <= flap[2]
    (row,) = (seam for seam in pouch.punched.seams if seam.name == "flap")
    thread = min(hole.at[1] for layer in row.layers if layer.piece == "back" for hole in layer.holes)
    assert all(item.path.bounds()[3] < thread for item in pouch.punched.pattern.piece("back").items)
    assert max(bounds(pouch, name)[3] for name in ("sheath", "left loop")) < flap[1]


def test_the_hinge_has_a_rivet_at_each_end(pouch: Article) -> None:
    """By hand: a lap of 28, its row 4 from its edge: half-way up at 16, and 12 from the flap's sides."""
    (hinge,) = (opening for opening in pouch.punched.pattern.openings if opening.name == "flap hinge")
    wide = bounds(pouch, "flap")[2] - bounds(pouch, "flap")[0]
    assert [(place.at, place.piece) for place in hinge.places if place.piece == "flap"] == [
        ((12.0, 16.0), "flap"),
        ((pytest.approx(wide - 12), 16.0), "flap"),
    ]


def test_the_heavy_band_is_behind_whatever_its_size() -> None:
    light, heavy = PackedBox(60, 40, weight=5), PackedBox(30, 20, weight=500)
    way = settled([light, heavy], Packing(((0, 26), (0, 0)), 60, 66), 6)
    assert way.places == ((0, 0), (15, 46))


def test_what_is_drawn_out_under_the_heavy_leaves_it_where_it_is() -> None:
    pen = PackedBox(10, 100, (Lane(0, 10, 60, 2),), weight=1)
    block = PackedBox(10, 30, stands=40, weight=500)
    way = Packing(((0, 36), (0, 0)), 10, 136)
    assert settled([pen, block], way, 6).places == way.places  # over the pen it would lie 40 further up


def test_what_a_flap_closes_on_is_alone_at_the_foot() -> None:
    pocket = PackedBox(41, 50, leather=(0, 0, 40, 50))
    way = on_foot([PackedBox(80, 30), pocket], 1, Packing(((0, 0),), 80, 30), 6)
    assert way.places == ((0, 56), (20, 0))


@pytest.mark.parametrize(("rows", "things"), [(((0, 0, 80, 4),), ()), ((), ((0, 0, 80, 90),))])
def test_rows_behind_keep_off_rows_and_things_in_front(
    rows: tuple[tuple[int, int, int, int], ...], things: tuple[tuple[int, int, int, int], ...]
) -> None:
    """Where all of the front is full of either, the base grows beyond it."""
    front = PackedBox(80, 90, leather=(0, 0, 80, 90), rows=rows, things=things)
    tab = PackedBox(70, 90, leather=(0, 0, 70, 90), rows=((0, 0, 70, 4),), behind=True)
    free, way = PackedBox(80, 90, leather=(0, 0, 80, 90)), Packing(((0, 0),), 80, 90)
    areas = [with_behind(pair, pairs_of(pair), way, Spare(6, 10)) for pair in ([free, tab], [front, tab])]
    assert [None if one is None else one.area > 80 * 90 for one in areas] == [False, True]


def test_no_row_of_the_other_face_lies_where_a_blade_is_drawn() -> None:
    """By hand: the way goes from 60 to 120 over the foot of its sheath, a row from 100 to 104: they meet
    where the sheath is moved up by less than 44, or the row by less than 20."""
    sheath = PackedBox(20, 60, leather=(0, 0, 20, 60), bared=((0, 60, 20, 120),))
    sewn = PackedBox(80, 130, leather=(0, 0, 80, 40), rows=((0, 100, 80, 104),))
    behind = msgspec.structs.replace(sheath, behind=True)
    assert pairs_of([sewn, behind])[0, 1].never.heights(0, 0) == (1 << 44) - 1
    row_behind = msgspec.structs.replace(sewn, behind=True)
    assert pairs_of([sheath, row_behind])[0, 1].never.heights(0, 0) == (1 << 20) - 1


def test_a_blade_of_a_set_that_is_worn_passes_nothing() -> None:
    """Its knife passed a row of the pocket in front, which goes through the back above its sheath."""
    assert not outcome_of(worn_set(14), "worn 14", most=1).faults


def test_a_blade_is_drawn_out_clear_of_the_row_of_a_flap() -> None:
    """Of ten such sets it was drawn over that row in five; bases are 0.6 % larger."""
    assert not outcome_of(under_flap(8), "flap 8", most=1).faults


def test_what_a_blade_passes_is_below_where_a_flap_is_sewn_on() -> None:
    """By hand: 100 high in front, a flap's lap 20 of it; a sheath whose way ends 50 over its foot begins at
    30 at the most; one whose way is longer than there is room lies as high as it may, under the lap."""
    front = PackedBox(60, 100, leather=(0, 0, 60, 100))
    sheath = PackedBox(20, 30, leather=(0, 0, 20, 30), behind=True)
    drawn = msgspec.structs.replace(sheath, bared=((0, 30, 20, 50),))
    tops = []
    for behind in (sheath, drawn, msgspec.structs.replace(sheath, bared=((0, 30, 20, 95),))):
        pair = [front, behind]
        way = with_behind(pair, pairs_of(pair), Packing(((0, 0),), 60, 100), Spare(6, 10, 30))
        assert way is not None
        tops.append(way.places[1][1])
    assert tops == [44, 30, 44]


def test_the_front_lies_aside_where_that_saves_leather() -> None:
    """By hand: beside 80 full of rows 30 and a gap are 116; on both sides of its middle they would be 152."""
    front = PackedBox(80, 90, leather=(0, 0, 80, 90), rows=((0, 0, 80, 90),))
    pair = [front, PackedBox(30, 90, leather=(0, 0, 30, 90), rows=((0, 0, 30, 4),), behind=True)]
    way = with_behind(pair, pairs_of(pair), Packing(((0, 0),), 80, 90), Spare(6, 10))
    assert way is not None
    assert (way.wide, way.high) == (116, 90)


@pytest.mark.long
def test_a_set_that_is_worn_is_free_of_clashes() -> None:
    assert not outcome_of(worn_set(29), "worn 29", most=1).faults


def test_what_is_stated_in_part_is_free_of_clashes() -> None:
    text = random_set(3, parts=3)
    assert not outcome_of(stated_in_part(text, {"flat pocket 0": (10.0, 10.0)}, 3), "part 3", most=1).faults


def test_strips_are_told_where_there_is_little_else() -> None:
    """By hand: seven boxes in one row are 12 times as long as wide."""
    ways = unlike_ways([PackedBox(20, 20)] * 7, Spare(2, 0))
    assert all(max(way.wide, way.high) <= 3 * min(way.wide, way.high) for way in ways[:3])
    assert len(unlike_ways([PackedBox(20, 20)] * 2, Spare(2, 0))) == 2


def test_rows_between_the_things_of_a_flat_pocket_are_rows_of_its_ground() -> None:
    """One more with a divider, and that upright: what lies behind keeps off it."""
    head = 'format = 1\n[material]\nthickness = 2\n[[piece]]\nname = "back"\nrectangle = "arranged"\n'
    part = '[[part]]\nname = "pocket"\nkind = "flat pocket"\non = "back"\ndividers = {divided}\n'
    item = '[[item]]\nname = "rule {k}"\nin = "pocket"\nsize = [30, 2, 150]\n'
    grounds = []
    for divided in ("false", "true"):
        text = head + part.format(divided=divided) + item.format(k=1) + item.format(k=2)
        project = read_project_text(text, file="p.toml", folder=Path())
        (back,) = (piece for piece in project.pieces if piece.name == "back")
        ground = ground_of(project.parts[0], back, project)
        assert ground is not None
        grounds.append(ground)
    undivided, divided_too = grounds
    assert len(divided_too.rows) == len(undivided.rows) + 1
