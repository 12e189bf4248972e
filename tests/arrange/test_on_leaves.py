"""Parts without a place on a cover that keeps its size: on which leaf they lie, what has no room."""

from __future__ import annotations

import re
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.draft.arrange.arranging import arrangements
from handkit.draft.arrange.grounds import PartGround
from handkit.draft.arrange.leaf_packing import LeafBox, placed_on_leaf
from handkit.draft.arrange.lying import shifted
from handkit.draft.arrange.packing import PackedBox
from handkit.draft.drafter import draft
from handkit.errors import ProjectError
from handkit.geometry.box import Box
from handkit.read.project import Project
from handkit.read.reader import read_project_text
from handkit.read.written.places import with_places

COVER = (
    'format = 1\n[material]\nthickness = 2\n[[part]]\nname = "cover"\nkind = "fold cover"\nends = "open"\n'
    'width = {wide}\nheight = {high}\ndepth = 20\n[[piece]]\nname = "cover"\nrectangle = "arranged"\n'
)
RULE = (
    '[[part]]\nname = "{0}"\nkind = "flat pocket"\non = "cover"\nwidth = {1}\nheight = {2}\n{3}'
    '[[item]]\nname = "rule {0}"\nin = "{0}"\nsize = [25, 2, {4}]\n'
)


def rule(name: str, more: str = "", wide: float = 40, high: float = 100) -> str:
    return RULE.format(name, wide, high, more, high + 10)


def read(*tables: str, wide: float = 100, high: float = 180) -> Project:
    return read_project_text(
        COVER.format(wide=wide, high=high) + "".join(tables), file="p.toml", folder=Path()
    )


def places(project: Project) -> dict[str, tuple[float, float]]:
    return {part.name: part.at for part in draft(project).project.parts if part.name != "cover"}


def test_a_part_lies_in_the_middle_of_the_first_leaf() -> None:
    # By hand: the leaf is straight as far as the bend of radius 2, 98; the pocket keeps 8 off all edges, so
    # it takes 56 x 124, from 8 under its foot to the rule's end at 116: at (98 - 56) / 2 + 8 and
    # (180 - 124) / 2 + 8.
    assert places(read(rule("a"))) == {"a": (29.0, 36.0)}


def test_what_has_no_room_beside_it_lies_on_the_other_leaf() -> None:
    both = places(read(rule("a"), rule("b")))
    far = draft(read(rule("a"))).project.pieces[0].folds[1].points[0][0]
    assert both["a"] == (29.0, 36.0)
    assert both["b"][0] > far + 8
    assert both["b"][1] == 36.0


def test_a_cover_has_several_ways_unlike_one_another() -> None:
    """By hand: one pocket on either leaf; two, of one width, beside one another on the first one, the second,
    and one on either; what is made where none is taken comes first."""
    (one,) = (each for each in read(rule("a")).pieces if each.arranged)
    ways = arrangements(read(rule("a")), one)
    far = draft(read(rule("a"))).project.pieces[0].folds[1].points[0][0]
    assert [dict(way.places)["a"][0] < 98 for way in ways] == [True, False]
    assert dict(ways[1].places)["a"][0] > far + 8
    assert ways[0].places == (("a", (29.0, 36.0)),)
    assert len(arrangements(read(rule("a", "at = [20, 20]\n"), rule("b"), wide=130), one)) >= 2


def test_what_is_stated_is_never_moved() -> None:
    stated = rule("a", "at = [20, 20]\n")
    beside, beyond = (places(read(stated, rule("b"), wide=wide)) for wide in (130, 100))
    assert beside["a"] == beyond["a"] == (20.0, 20.0)
    assert beside["b"][0] == 68.0  # by hand: 20 + 40, and 8 off its leather
    assert beyond["b"][0] > 100


def test_without_the_word_nothing_is_laid() -> None:
    text = COVER.format(wide=100, high=180).partition("[[piece]]")[0] + rule("a")
    assert places(read_project_text(text, file="p.toml", folder=Path())) == {"a": (0.0, 0.0)}


def test_a_part_that_is_turned_is_drawn_out_beyond_the_edge() -> None:
    """A rule of 160 across a leaf 170 wide: what it takes with its way out is wider than any leaf."""
    pencils = rule("a", "turn = 90\n", high=140)
    (at,) = places(read(pencils, wide=180, high=150)).values()
    assert 140 <= at[0] <= 180


ROUND = (0, 0, 40, 100)


def test_all_go_to_the_middle_only_as_far_as_what_is_stated_leaves_them_clear() -> None:
    """By hand: 40 x 100 on a leaf of 100 x 120 would lie at (30, 10), 2 under a snap, which is nearer
    than 4; aside alone it is clear."""
    snap = LeafBox(PackedBox(10, 10, fixed=(45, 112)), (0, 0, 10, 10))
    assert placed_on_leaf([LeafBox(PackedBox(40, 100), ROUND)], (100, 120), 4) == ((30, 10),)
    assert placed_on_leaf([snap, LeafBox(PackedBox(40, 100), ROUND)], (100, 120), 4) == ((30, 0),)


def test_nothing_lies_where_things_are_drawn_out_sideways() -> None:
    """Two beside one another, one of them drawn out to the left as far as it is wide: it lies left of the
    other, and on a leaf that bars the other way round there is no room."""
    drawn, plain = LeafBox(PackedBox(40, 100), (-40, 0, 40, 100)), LeafBox(PackedBox(40, 100), ROUND)
    assert placed_on_leaf([plain, drawn], (90, 100), 4) == ((47, 0), (3, 0))
    stated = LeafBox(PackedBox(40, 100, fixed=(0, 0)), ROUND)
    assert placed_on_leaf([stated, drawn], (90, 100), 4) is None


def test_a_ground_is_moved_with_all_that_is_in_it() -> None:
    box, moved = Box(0, 0, 4, 9), Box(5, 7, 9, 16)
    ground = shifted(PartGround("a", box, (), leather=box, rows=(box,), things=(box,), still=box), (5, 7))
    assert {ground.box, ground.leather, *ground.rows, *ground.things, ground.still} == {moved}


def test_places_are_written_beside_the_word() -> None:
    text = COVER.format(wide=100, high=180) + rule("a")
    written = with_places(text, read(rule("a")), {}, {"a": (29.0, 36.0)})
    assert written == text.replace('on = "cover"\n', 'on = "cover"\nat = [29, 36]\n')
    assert places(read_project_text(written, file="p.toml", folder=Path())) == {"a": (29.0, 36.0)}


@settings(max_examples=6, deadline=None)
@given(st.integers(60, 130), st.integers(60, 130), st.integers(40, 90), st.integers(50, 150))
def test_what_has_no_room_has_it_once_the_cover_is_as_told(
    wide: int, high: int, own_wide: int, own_high: int
) -> None:
    tables = (rule("a", wide=own_wide, high=own_high), rule("b", wide=own_wide - 5, high=own_high))
    size = {"wide": float(wide), "high": float(high)}
    for _ in tables:
        try:
            laid = places(read(*tables, **size))
        except ProjectError as why:
            (told,) = [each for each in why.findings if each.severity.value == "error"]
            assert told.code == "arranged-without-room"
            for key, least in re.findall(r"(width|height) ([\d.]+) mm", told.remedy):
                size["wide" if key == "width" else "high"] = float(least)
        else:
            break
    else:
        laid = places(read(*tables, **size))
    cover = draft(read(*tables, **size)).project.pieces[0]
    folds = [fold.points[0][0] for fold in cover.folds]
    for name, (x, y) in laid.items():
        right = x + own_wide - (5 if name == "b" else 0)
        assert x >= 8
        assert right + 8 <= folds[0] or folds[1] + 8 <= x <= cover.corners[1].at[0] - 8
        assert 8 <= y <= size["high"] - own_high - 8
