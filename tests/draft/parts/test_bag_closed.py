"""Bags that are closed and turned: halves that meet in space, allowances that lie inside."""

from __future__ import annotations

from math import pi
from pathlib import Path

import pytest

from handkit import ProjectText, kit
from handkit.draft.drafter import draft
from handkit.draft.pattern import Pattern
from handkit.findings import Severity
from handkit.punch.puncher import punch
from handkit.read.project import Side
from handkit.read.reader import read_project_text

BOOK = '[[item]]\nname = "book"\nin = "bag"\nsize = [210, 50, 260]\n'


def bag(more: str, *, thickness: float = 0.8, kind: str = "canvas") -> Pattern:
    head = f'format = 1\n[material]\nthickness = {thickness}\nkind = "{kind}"\n'
    text = f'{head}[[part]]\nname = "bag"\nkind = "bag"\n{more}\n{BOOK}'
    return draft(read_project_text(text, file="p.toml", folder=Path()))


# By hand, leather of 1.6: the flap's bends leave its face against the front's, the front's own 1.6 outside
# what the bag is deep. A snap of 12.7 needs 6.35 + 2 to the edge, so the default of 15 stays: 120 − 15 below
# the mouth.
@pytest.mark.parametrize(
    ("word", "half", "across"), [("snaps", "cap", (0.25, 0.75)), ("stud", "hole", (0.5,))]
)
def test_halves_meet_in_space(word: str, half: str, across: tuple[float, ...]) -> None:
    own = f'closed_by = "{word}"\nflap = 120'
    pattern = bag(own, thickness=1.6, kind="firm leather")
    back, front = pattern.piece("bag back"), pattern.piece("bag front")
    openings = {each.name: each for each in pattern.openings}
    wide, high = front.outline.bounds()[2:]
    (depth,) = {room.profiles[0].height(wide / 2) for room in pattern.rooms}
    for number, share in enumerate(across):
        cap, stud = (openings[f"bag {name}"] for name in (half, "stud"))
        x, y, z = back.in_space(cap.neck(cap.places[number]))
        at = stud.places[number].at
        assert (x, y) == pytest.approx(at, abs=0.1)
        assert at == pytest.approx((share * wide, high - 105))
        assert depth + 1.6 - 0.1 <= abs(z) <= depth + 3 * 1.6 + 0.1


# By hand, leather of 1.6, stitches 4 apart and 4 inside, a flap 120 down. A tab's snap needs 8.35 to the
# flap's end; its rivets are 6.35 + 4.5 + 2 above that and 6.5 from their edge, and it goes on 15 below. A
# strap 24 wide has a U of three stitches, 4 above the flap's end, and 4 more above that; the loop, 14 wide,
# is 6 below that end, and the strap 20 below the loop. Beside a hem of 20 a tab's snap is clear of that, and
# a strap's row one stitch off the hem's. Of each: above its place, below it, and that above the flap's end.
CLOSED = [
    ("tab", "", (12.85 + 6.5, 15.0, 8.35)),
    ("tab", "hem = 20", (12.85 + 6.5, 15.0 + 20, 28.35)),
    ("strap", "", (4 + 12 + 4 + 6 + 7, 27.0, -13.0)),
    ("strap", "hem = 20", (4 + 12 + 8 + 6 + 7, 27.0, -13.0)),
]


@pytest.mark.parametrize(("word", "hem", "expected"), CLOSED)
def test_a_tab_and_a_strap_come_where_they_close(
    word: str, hem: str, expected: tuple[float, float, float]
) -> None:
    above, below, tail = expected
    own = f'closed_by = "{word}"\nflap = 120\n{hem}\n'
    own += "allowance = 12\nease = 4\n" if hem else ""
    own += "strap = 24\nband = 14\nbelow = 20\n" if word == "strap" else ""
    pattern = bag(own, thickness=1.6, kind="canvas" if hem else "firm leather")
    flap, held = pattern.piece("bag flap" if hem else "bag back"), pattern.piece(f"bag {word}")
    wide, high = pattern.piece("bag front").outline.bounds()[2:]
    assert held.outline.bounds()[3] == pytest.approx(above + below)
    stood = [at.at for each in pattern.openings for at in each.places if at.piece == "bag front"]
    assert [y for _, y in stood] == pytest.approx([high - 120 + tail] * len(stood))
    assert sum(x for x, _ in stood) / len(stood) == pytest.approx(wide / 2)
    at = held.in_root.apply((held.outline.bounds()[2] / 2, above))
    x, y, _ = flap.in_space(flap.in_root.inverse().apply(at))
    assert flap.in_root.apply((x, y)) == pytest.approx((wide / 2, high - 120 + tail), abs=0.1)


# By hand, inset 4, rivets of 9 mm whose middle stays 6.5 from the loop's ends, and these 8 from the front's
# edges, a strap of s and 1.6 mm with 1.2 of ease at the least: 2 · (8 + 6.5 + 4.5) + s + 1.6 + ease is the
# front's width.
@pytest.mark.parametrize(("wide", "most"), [(80, 32), (70, 29), (60, 19)])
def test_a_strap_that_is_left_open_is_as_wide_as_its_loop_lets_it(wide: int, most: int) -> None:
    head = 'format = 1\n[material]\nthickness = 1.6\nkind = "firm leather"\n'
    part = f'[[part]]\nname = "bag"\nkind = "bag"\nclosed_by = "strap"\nwidth = {wide}\n'
    thing = '[[item]]\nname = "thing"\nin = "bag"\nsize = [40, 12, 150]\n'
    pattern = draft(read_project_text(head + part + thing, file="p.toml", folder=Path()))
    assert most - 2 < pattern.piece("bag strap").outline.bounds()[2] <= most


@pytest.mark.parametrize("word", ["tab", "strap"])
@pytest.mark.parametrize("allowed", ["", "hem = 20\nallowance = 12\n"])
def test_what_closes_a_bag_is_put_on_it_before_it_is_closed(word: str, allowed: str) -> None:
    """The loop on the front, strap or tab on the flap, caps outside; a strap goes through its loop last."""
    kind = ("canvas", 0.8) if allowed else ("firm leather", 1.6)
    head = f'format = 1\n[material]\nkind = "{kind[0]}"\nthickness = {kind[1]}\n'
    text = f'{head}[[part]]\nname = "bag"\nkind = "bag"\nclosed_by = "{word}"\n{allowed}{BOOK}'
    punched = kit.punched_of(ProjectText(text))
    made = kit.plan_of(punched)
    told = (*punched.pattern.findings, *punched.findings, *made.findings, *kit.article_of(punched).findings)
    assert [str(each) for each in told if each.severity is not Severity.NOTE] == []
    names = [step.name for step in made.steps]
    walls = names.index("bag, front")
    own = ("bag rivets", "bag cap", "bag stud") if word == "tab" else ("bag rivets", "bag strap")
    assert max(map(names.index, own)) < walls
    rivets = made.steps[names.index("bag rivets")].what
    assert f"Cap on the grain side of bag {'tab' if word == 'tab' else 'loop'}." in rivets
    last = 'Close bag: put "bag strap" under "bag loop".'
    assert (made.steps[-1].what == last) is (word == "strap")


def test_a_flap_beside_an_allowance_hangs_outside_the_back() -> None:
    """By hand, canvas of 0.8 round 54: the flap begins 20 under the mouth, 3 inside either side, and goes
    over back, inside and front, 55.6; its caps lie on the studs, clear of the hem: 15 + 6.35 + 2 above its
    end."""
    own = 'closed_by = "snaps"\nflap = 120\nhem = 15\nallowance = 12\nease = 4'
    punched = punch(bag(own))
    pattern = punched.pattern
    back, flap, front = (pattern.piece(f"bag {name}") for name in ("back", "flap", "front"))
    wide, high = front.outline.bounds()[2:]
    assert back.outline.bounds()[2:] == (wide, high)
    assert flap.outline.bounds()[2] == pytest.approx(wide - 6)
    assert back.in_root.inverse().apply(flap.in_root.apply((0.0, 20.0))) == pytest.approx((wide - 3, high))
    openings = {each.name: each for each in pattern.openings}
    for cap, stud in zip(openings["bag cap"].places, openings["bag stud"].places, strict=True):
        x, y, z = flap.in_space(cap.at)
        assert (wide - 3 - x, high - 20 + y) == pytest.approx((wide - stud.at[0], stud.at[1]), abs=0.1)
        assert stud.at[1] == pytest.approx(high - 120 + 23.35)
        assert abs(z) == pytest.approx(0.4 + 55.6 + 0.4, abs=0.1)
    (row,) = (seam for seam in punched.seams if seam.name == "bag flap")
    assert {layer.piece for layer in row.layers} == {"bag back", "bag flap"}
    assert [each.code for each in punched.findings] == []


def test_an_allowance_is_all_that_a_bag_of_cloth_gains() -> None:
    """By hand, canvas of 0.8, 12 beyond its seams, corners of 2 · 12: the walls stand 0.8 inside the seams;
    the book with 4 of ease is 214 and twice 0.8 from seam to seam. The cut is 12 outside all but the mouth,
    where the hem is turned twice by 20, each turn 0.8 more: no raw edge is left of it."""
    punched = punch(bag("hem = 20\nallowance = 12\nease = 4"))
    pattern = punched.pattern
    front, gusset = pattern.piece("bag front"), pattern.piece("bag gusset")
    left, low, right, high = front.outline.bounds()
    assert right - left == pytest.approx(214 + 1.6)
    cut = front.cut_outline.bounds()
    assert (left - cut[0], low - cut[1], cut[2] - right, cut[3] - high) == pytest.approx((12, 12, 12, 41.6))
    across = 54 - 1.6 + 2 * (0.4 * pi / 2)  # of the gusset, from seam to seam
    assert gusset.outline.bounds()[3] == pytest.approx(across)
    assert gusset.outline.bounds()[2] == pytest.approx(2 * (high - 24) + (right - left) - 48 + pi * 24)
    for name in ("bag, front", "bag, back"):
        seam = next(each for each in punched.seams if each.name == name)
        one, other = (each.holes for each in seam.layers)
        assert len(one) == len(other)
        assert {round(min(abs(h.at[1]), abs(h.at[1] - across)), 6) for h in other} == {0.0}
        assert max(hole.at[1] for hole in one) <= high - 4 + 0.01
    assert pattern.faces_met("bag front", "bag gusset") == (Side.GRAIN, Side.GRAIN)


def test_hems_of_what_shows_its_inside_turn_inwards() -> None:
    pattern = bag("hem = 20\nallowance = 12")
    assert {piece.name: piece.hem_side for piece in pattern.pieces} == {
        "bag back": "back",
        "bag front": "back",
        "bag gusset": "back",
    }
    assert pattern.piece("bag back").far_side == "face"


def test_more_allowance_moves_the_corners_and_the_cut_alone() -> None:
    one, other = (bag(f"round = 40\nallowance = {wide}\nhem = 15") for wide in (10, 16))
    for piece in one.pieces:
        assert piece.outline == other.piece(piece.name).outline
        assert piece.cut_outline != other.piece(piece.name).cut_outline


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ("", "add hem = … and allowance = … "),
        ("hem = 20", "add allowance = … "),
        ("hem = 20\nallowance = 12", ""),
    ],
)
def test_edges_that_fray_are_told_at_the_part_by_its_keys(more: str, told: str) -> None:
    findings = [each for each in punch(bag(more)).findings if each.code == "raw-edge"]
    assert [(each.where.key, each.remedy) for each in findings] == [
        ('part "bag"', f"{told}to the part")
    ] * bool(told)


@pytest.mark.parametrize("strips", ["", 'strips = "three"\n'])
def test_a_bag_sewn_inside_out_is_turned_once_when_its_walls_are_sewn(strips: str) -> None:
    head = 'format = 1\n[material]\nthickness = 0.8\nkind = "canvas"\n'
    part = f'[[part]]\nname = "bag"\nkind = "bag"\nhem = 20\n{strips}'
    steps = {}
    for more in ("", "allowance = 12\n"):
        made = kit.plan_of(kit.punched_of(ProjectText(f"{head}{part}{more}{BOOK}")))
        steps[more] = [step.what for step in made.steps]
    turned = [k for k, text in enumerate(steps["allowance = 12\n"]) if "right side out" in text]
    sewn = [k for k, step in enumerate(made.steps) if step.kind == "seam" and step.name.startswith("bag, ")]
    overcast = [k for k, text in enumerate(steps["allowance = 12\n"]) if "Overcast its cut edge" in text]
    assert len(overcast) == (5 if strips else 4)  # of each piece, of one strip both its edges
    assert max(overcast) < turned[0]
    assert len(turned) == 1
    assert turned[0] > max(sewn)
    assert not any("right side out" in text for text in steps[""])


# By hand, canvas of 0.8 sewn inside out: the walls stand 0.8 inside the edges, and 3 more are free of teeth;
# but the zip's rows begin 8 inside the edges. 100 − 16 is 84, teeth of 80 in steps of 5; 40 of teeth at the
# least are 56 wide.
@pytest.mark.parametrize(
    ("more", "wide", "expected"), [("width = 100\n", 60, (100, 80)), ("", 20, (56, 40)), ("", 60, (63, 45))]
)
def test_a_zips_rows_begin_inside_the_panels_edges(
    more: str, wide: int, expected: tuple[float, float]
) -> None:
    head = 'format = 1\n[material]\nthickness = 0.8\nkind = "canvas"\n[stitching]\ninset = 8\n'
    part = '[[part]]\nname = "bag"\nkind = "bag"\nclosed_by = "zip"\nhem = 12\nallowance = 12\nease = 1.4\n'
    thing = f'strips = "three"\n{more}[[item]]\nname = "thing"\nin = "bag"\nsize = [{wide}, 20, 120]\n'
    pattern = draft(read_project_text(head + part + thing, file="p.toml", folder=Path()))
    (zipped,) = pattern.project.fittings
    assert (pattern.piece("bag front").outline.bounds()[2], zipped.length) == pytest.approx(expected)


# What the things alone would make too small grows with what is sewn on it: a flap to its snaps (of a front
# 58 high, half is less than both need), the gusset's end to its hem, and no panel is a strap.
SMALL = [
    ('closed_by = "snaps"', (148, 20, 40)),
    ('closed_by = "snaps"', (30, 20, 40)),
    ('closed_by = "tab"', (20, 20, 10)),
    ('closed_by = "strap"', (20, 20, 10)),
    ('hem = 12\nallowance = 10\nclosed_by = "strap"', (20, 20, 10)),
    ("hem = 12\nallowance = 10", (90, 4, 148)),
    ('hem = 12\nallowance = 10\nclosed_by = "flap"', (90, 12, 148)),  # whose hem's row goes over both bends
    ('hem = 12\nallowance = 10\nclosed_by = "zip"\nstrips = "three"', (90, 4, 148)),
    ('strips = "three"', (10, 4, 297)),
]


# A long flat bag, a narrow high one with its flap sewn on: ten times as long as wide, and no straps.
LONG = [
    ("width = 900\nheight = 80\ndepth = 30", (60, 18, 40)),
    (
        'closed_by = "flap"\nallowance = 8\nhem = 10\nwidth = 50\nheight = 700\ndepth = 40\nflap = 600',
        (20, 18, 600),
    ),
]


@pytest.mark.parametrize(("more", "size"), [*SMALL, *LONG])
def test_a_small_bag_has_room_for_its_own_rows(more: str, size: tuple[float, float, float]) -> None:
    thing = f'[[item]]\nname = "thing"\nin = "bag"\nsize = {list(size)}\n'
    head = 'format = 1\n[material]\nthickness = 1.6\nkind = "soft leather"\n'
    text = f'{head}[[part]]\nname = "bag"\nkind = "bag"\n{more}\n{thing}'
    punched = punch(draft(read_project_text(text, file="p.toml", folder=Path())))
    told = {each.code for each in (*punched.pattern.findings, *punched.findings)}
    assert not told & {
        "item-too-tight",
        "seam-across-strap",
        "grain-across-strap",
        "holes-too-close",
        "zip-and-seam",
        "hole-in-bend",
    }
