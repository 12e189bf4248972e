"""Flat pockets: how wide and high for their items, dividers, fit, and what hangs on what."""

from __future__ import annotations

from math import atan, pi
from pathlib import Path
from typing import Any

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.draft.drafter import draft
from handkit.draft.pattern import Fit, Pattern
from handkit.draft.sizes.half_way import way_over
from handkit.errors import ProjectError
from handkit.punch.puncher import punch
from handkit.read.reader import read_project_text

FEW = settings(derandomize=True, deadline=None, max_examples=30)


def project(
    items: list[str],
    *,
    part: str = "",
    more: str = "",
    back: str = "thickness = 2",
    kind: str = "firm leather",
) -> str:
    """A pocket "pocket" on a back of 400 × 300; an item is its name, "=", and its size."""
    tables = "".join(
        f'[[item]]\nname = "{text.split("=")[0]}"\nin = "pocket"\n{text.split("=", 1)[1]}\n' for text in items
    )
    return f"""format = 1
[material]
thickness = 2
kind = "{kind}"
[[piece]]
name = "back"
rectangle = [500, 400]
{back}
[[part]]
name = "pocket"
kind = "flat pocket"
on = "back"
at = [20, 30]
{part}
{tables}
{more}"""


def drafted(*args: Any, **more: Any) -> Pattern:
    text = project(*args, **more)
    return draft(read_project_text(text, file="p.toml", folder=Path()))


def size_of(pattern: Pattern, name: str = "pocket") -> tuple[float, float]:
    x0, y0, x1, y1 = pattern.piece(name).outline.bounds()
    return x1 - x0, y1 - y0


RULE, KNIFE, PEN = "rule=size = [30, 1, 150]", "knife=size = [22, 4, 120]", "pen=diameter = 8\nlength = 140"

# width, thickness, leather, round: the way over half the thing.
WAYS = [
    ((30, 5, 0, False), 35.0),  # half the girth of 30 × 5, by hand
    ((10, 10, 0, True), 5 * pi),  # half a circle, by hand
    ((22, 4, 2, False), 22 + 4 - 2 + pi),  # straight up 2 × (2 − 1), two quarters on radius 1: by hand
    ((30, 0, 2, False), 32.0),  # flat, stitched half the leather beside it on either side: by hand
    ((30, 2, 2, False), 30 + pi),  # two quarters on radius 1: by hand
    # tangents of 1 from (5, 1), then 2 × 90° − 2 × 2·atan(1/5) on radius 5: by hand
    ((8, 8, 2, True), 2 + 10 * (pi / 2 - 2 * atan(0.2))),
]


@pytest.mark.parametrize(("thing", "way"), WAYS)
def test_the_way_over_half_a_thing(thing: tuple[float, float, float, bool], way: float) -> None:
    width, thickness, leather, round_ = thing
    assert way_over(width, thickness, leather=leather, round_=round_) == pytest.approx(way, abs=1e-9)


def hull_way(width: float, thickness: float, leather: float, *, round_: bool) -> float:
    """The same by an independent library: the hull of the grown half, cut off where it is stitched, and
    the two stitch points, less the straight between them."""
    if round_:
        thing = shapely.Point(0, 0).buffer(width / 2 + leather / 2, quad_segs=2000)
    else:
        box = shapely.box(-width / 2, -thickness / 2, width / 2, thickness / 2)
        thing = box.buffer(leather / 2, quad_segs=2000)
    half, low = (width + leather) / 2, leather / 2
    above = thing.intersection(shapely.box(-half - 1, low, half + 1, thickness + leather + width))
    hull = shapely.union_all([above, shapely.MultiPoint([(-half, low), (half, low)])]).convex_hull
    return float(hull.length) - 2 * half


@settings(derandomize=True, deadline=None, max_examples=100)
@given(st.floats(5, 100), st.floats(0.2, 15), st.floats(0.5, 4), st.booleans())
def test_the_way_is_that_of_a_numeric_hull(
    width: float, thickness: float, leather: float, round_: bool
) -> None:
    thickness = width if round_ else min(thickness, width)
    found = way_over(width, thickness, leather=leather, round_=round_)
    assert found == pytest.approx(hull_way(width, thickness, leather, round_=round_), abs=0.01)


# Inset 4 on either side, ease 2 for each: firm leather (the table's, common practice).
SIZES = [
    ([RULE], "", 4 + way_over(30, 1, leather=2) + 2 + 4),
    ([KNIFE], "", 4 + (24 + pi) + 2 + 4),
    ([KNIFE, RULE], "", 4 + (24 + pi) + 2 + way_over(30, 1, leather=2) + 2 + 4),
    ([KNIFE], "ease = 5", 4 + (24 + pi) + 5 + 4),
    ([KNIFE], 'ease = "10 %"', 4 + (24 + pi) + 2.2 + 4),
    ([KNIFE, RULE], "width = 90", 90.0),
]


@pytest.mark.parametrize(("items", "part", "width"), SIZES)
def test_it_is_as_wide_as_its_items_need(items: list[str], part: str, width: float) -> None:
    assert size_of(drafted(items, part=part))[0] == pytest.approx(width, abs=1e-9)


# The item stands half of what its way is longer than it is wide above the foot's row.
RISE = (24 + pi - 22) / 2
HEIGHTS = [
    ([KNIFE], "", 4 + RISE + 120 - 25),
    ([KNIFE], "shows = 0", 4 + RISE + 120),
    ([KNIFE], "height = 80", 80.0),
    # Corners of 16 leave a row of radius 12; the item's corner is (24 + π + 2 − 22) / 2 = 3.571 beside
    # the row: 12 − √(12² − 8.429²) = 3.459 higher. By hand.
    ([KNIFE], "round = 16", 4 + RISE + 120 - 25 + 12 - (144 - (12 - (4 + pi) / 2) ** 2) ** 0.5),
]


@pytest.mark.parametrize(("items", "part", "height"), HEIGHTS)
def test_it_is_as_high_as_the_longest_needs(items: list[str], part: str, height: float) -> None:
    assert size_of(drafted(items, part=part))[1] == pytest.approx(height, abs=1e-9)


def test_a_thicker_base_makes_it_wider() -> None:
    thick = drafted([KNIFE], back="thickness = 3.5")
    assert size_of(thick)[0] == pytest.approx(8 + way_over(22, 4, leather=3.5) + 2)


def test_dividers_meet_the_pockets_row_in_one_hole() -> None:
    punched = punch(drafted([KNIFE, RULE, PEN]))
    seams = {seam.name: seam for seam in punched.seams}
    assert list(seams) == ["pocket", "pocket 1", "pocket 2"]
    row = [hole.at for hole in seams["pocket"].layers[0].holes]
    for name in ("pocket 1", "pocket 2"):
        first = seams[name].layers[0].holes[0].at
        assert min(abs(x - first[0]) + abs(y - first[1]) for x, y in row) < 1e-6
    assert [finding for finding in punched.findings if finding.code == "holes-too-close"] == []


def test_without_dividers_there_is_one_place_for_all() -> None:
    pattern = drafted([KNIFE, RULE], part="dividers = false")
    assert [seam.name for seam in pattern.seams] == ["pocket"]
    assert pattern.piece("pocket").lines == ()


# Width of the pocket and what its items need under one lens: the sum of widths, the greatest thickness.
# 30 × 2 and 40 × 2 under 2 mm of leather: 70 + 2 − 2 + 2 · π/2 = 73.14 (two places took 72 + 2π = 78.28
# and two eases); 22 × 4 and 30 × 1: 52 + 4 − 2 + π = 57.14. Ease 2, insets 4. By hand.
TOGETHER = [
    (["rule=size = [30, 2, 150]", "card=size = [40, 2, 110]"], "", 83.1416, 73.1416, 2.0),
    ([KNIFE, RULE], "", 67.1416, 57.1416, 2.0),
    ([KNIFE, RULE], "width = 70", 70.0, 57.1416, 4.8584),
    ([KNIFE, RULE], 'ease = "10 %"', 70.3416, 57.1416, 5.2),  # of 52
    ([PEN], "", 8 + way_over(8, 8, leather=2, round_=True) + 2, way_over(8, 8, leather=2, round_=True), 2.0),
]


@pytest.mark.parametrize(("items", "part", "width", "needed", "ease"), TOGETHER)
def test_without_dividers_the_leather_bows_once_over_all(
    items: list[str], part: str, width: float, needed: float, ease: float
) -> None:
    pattern = drafted(items, part=f"dividers = false\n{part}")
    assert size_of(pattern)[0] == pytest.approx(width, abs=1e-4)
    (room,) = pattern.item_fits
    assert room.item == ", ".join(item.split("=")[0] for item in items)
    assert (room.needed, room.ease) == (pytest.approx(needed, abs=1e-4), pytest.approx(ease, abs=1e-4))


def test_things_in_one_place_lie_side_by_side_with_the_room_between_them() -> None:
    """70 − 8 of place for 22 + 30: 10 mm, a third of it to either side and between. By hand."""
    on_pocket = drafted([KNIFE, RULE], part="dividers = false\nwidth = 70").piece("pocket").items
    spans = [(each.path.bounds()[0], each.path.bounds()[2]) for each in on_pocket]
    flat = [x for span in spans for x in span]
    assert flat == pytest.approx([4 + 10 / 3, 26 + 10 / 3, 26 + 20 / 3, 56 + 20 / 3])


# Foot corners of 24 leave a row of radius 20 about (24, 24). Where a divider stands 4 + 15.1416 in, the
# row is 24 − √(20² − 4.8584²) = 4.599 high: one hole for both. Of 28: 24² − 8.8584² leaves 5.693; its
# second hole would stand 3.11 from the row: it starts 4 mm off it, at 28 − √(20² − 8.8584²) = 10.069.
# By hand; pitch 4, holes of 1.6.
FEET = [(18, 4.0, True), (24, 4.599, True), (28, 10.069, False)]


@pytest.mark.parametrize(("radius", "foot", "shared"), FEET)
def test_a_divider_starts_on_the_rows_arc_or_clear_of_it(radius: float, foot: float, shared: bool) -> None:
    punched = punch(
        drafted(["pen=size = [10, 2, 120]", "card=size = [60, 2, 120]"], part=f"round = {radius}")
    )
    row, divider = (seam.layers[0].holes for seam in punched.seams)
    x, y = divider[0].at
    assert (x, y) == pytest.approx((4 + 10 + pi + 2, foot), abs=1e-3)
    near = min(((a - x) ** 2 + (b - y) ** 2) ** 0.5 for a, b in (hole.at for hole in row))
    assert near < 1e-3 if shared else 3.2 <= near < 6


@settings(derandomize=True, deadline=None, max_examples=25)
@given(
    st.lists(st.integers(4, 40), min_size=2, max_size=4),
    st.integers(1, 400).map(lambda n: n / 10),
    st.sampled_from([3.5, 4.0, 5.0]),
)
def test_no_divider_comes_too_near_to_a_round_foot(widths: list[int], radius: float, pitch: float) -> None:
    items = [f"item {k}=size = [{w}, 2, 120]" for k, w in enumerate(widths)]
    radius = min(radius, (sum(widths) + 8) / 2)
    punched = punch(drafted(items, part=f"round = {radius}", more=f"[stitching]\npitch = {pitch}\n"))
    assert [finding.code for finding in punched.findings if finding.code == "holes-too-close"] == []


def test_items_lie_between_the_rows_on_pocket_and_base() -> None:
    pattern = drafted([KNIFE, RULE])
    on_pocket, on_base = pattern.piece("pocket").items, pattern.piece("back").items
    assert [each.item for each in on_pocket] == [each.item for each in on_base] == ["knife", "rule"]
    for mine, below in zip(on_pocket, on_base, strict=True):
        x0, y0, x1, y1 = mine.path.bounds()
        assert below.path.bounds() == pytest.approx((x0 + 20, y0 + 30, x1 + 20, y1 + 30))
    divider = pattern.piece("pocket").lines[0].path.start[0]
    assert on_pocket[0].path.bounds()[0] > 4
    assert on_pocket[0].path.bounds()[2] < divider < on_pocket[1].path.bounds()[0]


def test_a_turned_part_is_carried_onto_its_base_whole() -> None:
    text = project([KNIFE], part="turn = 90").replace("at = [20, 30]", "at = [220, 30]")
    pattern = draft(read_project_text(text, file="p.toml", folder=Path()))
    place = pattern.piece("pocket").placed
    assert place is not None
    assert place.apply((10, 0)) == pytest.approx((220, 40))
    x0, y0, x1, y1 = pattern.piece("back").items[0].path.bounds()
    assert (x1 - x0, y1 - y0) == pytest.approx((120, 22))


def test_a_part_behind_lies_on_the_far_side_mirrored() -> None:
    text = project([KNIFE, RULE], part="behind = true\nturn = -30").replace("at = [20, 30]", "at = [250, 30]")
    punched = punch(draft(read_project_text(text, file="p.toml", folder=Path())))
    pocket, place = punched.pattern.piece("pocket"), punched.pattern.carry("pocket", "back")
    assert (pocket.level, pocket.behind) == (-1, True)
    assert place is not None
    assert place.turns_over
    assert place.apply((0, 0)) == pytest.approx((250, 30))
    for mine, below in zip(pocket.items, punched.pattern.piece("back").items, strict=True):
        assert below.path.start == pytest.approx(place.apply(mine.path.start))
    for seam in punched.seams:
        for upper, lower in zip(seam.layers[0].holes, seam.layers[1].holes, strict=True):
            assert lower.at == pytest.approx(place.apply(upper.at), abs=0.01)


# What the part says, the ease each item has, and how it fits: 1 to 6 mm in firm leather (the table).
FITS = [
    ("", 2.0, Fit.FITS),
    ("ease = 1", 1.0, Fit.FITS),
    ("ease = 0.5", 0.5, Fit.TIGHT),
    ("ease = 6.5", 6.5, Fit.LOOSE),
    (f"width = {8 + 24 + pi + 3:.6f}", 3.0, Fit.FITS),
    (f"width = {8 + 24 + pi - 1:.6f}", -1.0, Fit.TIGHT),
]


@pytest.mark.parametrize(("part", "ease", "fit"), FITS)
def test_each_item_knows_its_room(part: str, ease: float, fit: Fit) -> None:
    pattern = drafted([KNIFE], part=part)
    (room,) = pattern.item_fits
    assert (room.item, room.part, room.measure) == ("knife", "pocket", "width")
    assert (room.needed, room.ease, room.fit) == (
        pytest.approx(24 + pi),
        pytest.approx(ease, abs=1e-5),
        fit,
    )
    codes = [finding.code for finding in pattern.findings]
    assert codes == {Fit.FITS: [], Fit.TIGHT: ["item-too-tight"], Fit.LOOSE: ["item-too-loose"]}[fit]


SIZE = st.tuples(st.integers(10, 60), st.integers(1, 9), st.integers(60, 250))


def text(name: str, size: tuple[int, int, int]) -> str:
    return f"{name}=size = [{size[0]}, {min(size[:2])}, {size[2]}]"


@FEW
@given(st.lists(SIZE, min_size=1, max_size=4), st.integers(0, 3), st.integers(1, 25))
def test_a_wider_item_never_gives_a_narrower_pocket(
    sizes: list[tuple[int, int, int]], which: int, more: int
) -> None:
    which %= len(sizes)
    wider = [(w + more, t, n) if k == which else (w, t, n) for k, (w, t, n) in enumerate(sizes)]
    names = [f"item {k}" for k in range(len(sizes))]
    before = size_of(drafted([text(*each) for each in zip(names, sizes, strict=True)]))
    after = size_of(drafted([text(*each) for each in zip(names, wider, strict=True)]))
    assert after[0] > before[0]
    assert after[1] >= before[1] - 1e-9


@FEW
@given(st.lists(SIZE, min_size=1, max_size=3))
def test_runs_have_equal_counts_and_each_item_fits(sizes: list[tuple[int, int, int]]) -> None:
    pattern = drafted([text(f"item {k}", size) for k, size in enumerate(sizes)], part="shows = 10")
    for seam in punch(pattern).seams:
        assert len({len(layer.holes) for layer in seam.layers}) == 1
    assert [room.fit for room in pattern.item_fits] == [Fit.FITS] * len(sizes)


def test_changing_one_item_moves_only_what_hangs_on_it() -> None:
    """What stands left of it, and every piece of the file, stays where it was."""
    other = '[[piece]]\nname = "tab"\nrectangle = [40, 20]\non = "back"\nat = [300, 10]\n'
    before, after = (drafted([KNIFE, rule, PEN], more=other) for rule in (RULE, RULE.replace("30", "36")))
    for name in ("back", "tab"):
        assert before.piece(name).outline == after.piece(name).outline
    assert before.piece("pocket").lines[0] == after.piece("pocket").lines[0]
    assert before.piece("pocket").items[0] == after.piece("pocket").items[0]
    moved = after.piece("pocket").lines[1].path.start[0] - before.piece("pocket").lines[1].path.start[0]
    assert moved == pytest.approx(6)


def test_what_the_file_says_goes_before_the_draft() -> None:
    said = """[[piece]]
name = "pocket"
thickness = 1
round = { A = 6 }
note = "mine"
lines = { own = [[5, 5], [9, 9]] }
"""
    pattern = drafted([KNIFE, RULE], part="round = 10", more=said)
    pocket = pattern.piece("pocket")
    assert (pocket.thickness, pocket.note) == (1.0, "mine")
    assert [line.name for line in pocket.lines] == ["own", "pocket 1"]
    arcs = [segment.radius for segment in pocket.outline.segments if segment.bulge]
    assert arcs == pytest.approx([6.0] * len(arcs))
    assert arcs


# Items, keys, a width that is too small, the least that is told (insets of 4; the leather is 2 thick).
LEAST_WIDTHS = [
    ([RULE], "", 36, 38),  # 8 + 30, by hand
    ([RULE, RULE.replace("rule", "ruler")], "", 62, 68),  # 8 + 2 × 30, by hand
    ([RULE, PEN], "dividers = false", 40, 46),  # one place: 8 + 30 + 8, by hand
    # the pen bows 2 + 10 × (π/2 − 2·atan 0.2) − 8 = 5.760, the rule 1 + 2 × (π/2 − 2·atan 0.5) = 2.287:
    # at 46 the rule's place lacks half of the 3.473 between them, and both get alike: 49.473, by hand
    ([RULE, PEN], "", 44, 49.5),
]


@pytest.mark.parametrize(("items", "part", "width", "least"), LEAST_WIDTHS)
def test_a_width_between_its_items_and_the_least_is_told_with_the_least_that_works(
    items: list[str], part: str, width: float, least: float
) -> None:
    with pytest.raises(ProjectError, match=f"width: .* allowed: at least {least:g} mm: its items"):
        drafted(items, part=f"{part}\nwidth = {width}")
    works = drafted(items, part=f"{part}\nwidth = {least}")
    held = {item.name: item.width for item in works.project.items}
    assert all(fit.given >= sum(held[name] for name in fit.items) - 1e-9 for fit in works.item_fits)


def test_a_copy_takes_the_drafted_shape() -> None:
    twin = '[[piece]]\nname = "twin"\ncopy = "pocket"\nmirrored = true\n'
    pattern = drafted([KNIFE, RULE], more=twin)
    pocket, copied = pattern.piece("pocket"), pattern.piece("twin")
    assert copied.outline.length == pytest.approx(pocket.outline.length)
    assert copied.lines[0].path.start[0] == pytest.approx(-pocket.lines[0].path.start[0])


def test_a_pocket_on_a_drafted_pocket_is_drafted_after_it() -> None:
    small = """[[part]]
name = "stamp pocket"
kind = "flat pocket"
on = "pocket"
at = [4, 10]
shows = 5
[[item]]
name = "stamps"
in = "stamp pocket"
size = [20, 1, 25]
"""
    text = project([RULE]).replace("[[part]]", small + "[[part]]", 1)
    pattern = draft(read_project_text(text, file="p.toml", folder=Path()))
    assert pattern.carry("stamp pocket", "back") is not None
    assert [each.item for each in pattern.piece("pocket").items] == ["rule", "stamps"]


@FEW
@given(st.integers(0, 120), st.integers(0, 260))
def test_no_pocket_lies_over_anothers_holes(x: int, y: int) -> None:
    """Two pockets on one back: where one covers a hole of the other's row, that is refused."""
    second = f"""[[part]]
name = "second"
kind = "flat pocket"
on = "back"
at = [{x}, {y}]
[[item]]
name = "card"
in = "second"
size = [50, 2, 70]
"""
    try:
        punched = punch(drafted([KNIFE, RULE], more=second))
    except ProjectError as refused:
        assert {finding.code for finding in refused.findings} <= {
            "hole-at-edge",
            "holes-too-close",
            "piece-pierced",
        }
        return
    for top, below in (("second", "pocket"), ("pocket", "second")):
        lie = punched.pattern.carry(top, "back")
        assert lie is not None
        area = shapely.Polygon(lie.apply_all(punched.pattern.piece(top).outline.flattened(sagitta=0.01)))
        for seam in punched.seams:
            if seam.layers[0].piece == below:
                assert not any(area.contains(shapely.Point(hole.at)) for hole in seam.layers[1].holes)
