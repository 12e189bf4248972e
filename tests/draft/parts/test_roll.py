"""Rolls: base, pocket, flap, eyelet and tie by hand; each tool goes in, and the flap covers its end.

`python tests/draft/parts/test_roll.py 500` tries so many random rolls, and tells how many became a kit; the
suite tries a few.
"""

from __future__ import annotations

import random
import re
import sys
from bisect import bisect
from itertools import pairwise
from math import cos, pi, sin, sqrt
from pathlib import Path
from typing import Any

import pytest
import shapely

from handkit.draft.drafter import draft
from handkit.draft.pattern import Pattern
from handkit.errors import ProjectError
from handkit.messages.message import Severity
from handkit.punch.puncher import punch
from handkit.read.reader import read_project_text
from handkit.stitch.planner import plan

IN_SUITE = 20

HEAD = """format = 1
unit = "mm"
[material]
thickness = {thickness}
kind = "{material}"
[stitching]
pitch = 4
inset = {inset}
thread = 0.6
"""
PART = '[[part]]\nname = "roll"\nkind = "roll"\n'
PENS = (10.0, 150.0), (8.0, 140.0)


def text_of(own: str, pens: Any = PENS, *, thickness: float = 0.6, material: str = "canvas") -> str:
    head = HEAD.format(thickness=thickness, material=material, inset=6)
    items = "".join(
        f'[[item]]\nname = "pen {k}"\nin = "roll"\ndiameter = {wide}\nlength = {long}\n'
        for k, (wide, long) in enumerate(pens)
    )
    return head + PART + own + items


def roll(own: str = "shows = 70\nhem = 15\n", pens: Any = PENS, **more: Any) -> Pattern:
    return draft(read_project_text(text_of(own, pens, **more), file="p.toml", folder=Path()))


def measures(pattern: Pattern) -> dict[str, Any]:
    base, pocket = (pattern.piece(name).outline.bounds() for name in ("roll", "roll pocket"))
    lines = [line.points[0][0] for line in pattern.project.pieces[1].lines]
    eyes = [place.at for each in pattern.openings for place in each.places]
    ties = [one.fitting.length for one in pattern.fittings]
    return {"base": base[2:], "pocket": pocket[2:], "lines": lines, "eye": eyes, "tie": ties}


def test_by_hand() -> None:
    """Over half a pen of 10 in cloth of 0.6 it is 0.6 + 10.6 · (π/2 - 2 · atan(0.6 ÷ 10.6)) = 16.052, over
    one of 8 12.911; with 4 of ease the lines stand at 6 + 20.052 and 16.911 further, and 60 and an inset
    beyond them it ends. The pens stand half of what is more than their width, 3.026 and 2.455, above the
    foot's row: 9.026 + 150 is the highest, the mouth 70 lower. Fold: 10 and the thickest above that; flap:
    to 20 below the mouth. The eyelet is 15 + 5.5 + 2 from the side, half-way from mouth to fold. Rolled up
    it is 108.963 · 1.8 + 100 + 64 = 360.13 in section, 21.413 across, twice round 134.5, and 400 for the
    bow: 550.
    """
    found = measures(roll())
    assert found["lines"] == pytest.approx([26.052, 42.963], abs=0.002)
    assert found["pocket"] == pytest.approx((108.963, 89.026), abs=0.002)
    assert found["base"] == pytest.approx((108.963, 289.026), abs=0.002)
    assert found["eye"][0] == pytest.approx((86.463, 134.026), abs=0.002)
    assert found["tie"] == [550]


SAMPLE = Path(__file__).parents[3] / "samples" / "bindery_roll" / "roll.toml"


def test_the_sample_is_drafted_from_its_tools_alone() -> None:
    """No place and no size of cloth is in the file. In cloth of 0.8, a flat tool needs its width, twice half
    its thickness less 0.4, and 0.8 · π/2: 28.457 of the folder, 23.457 of the rule, 27.457 of the dividers;
    a round one 0.8 + (d + 0.8) · (π/2 - 2 · atan(0.8 ÷ (d + 0.8))): 19.308 of 12, 16.168 of 10. With 4 of
    ease each, 60 beside the last and both insets of 6 it is 230.155 wide. The brush stands (16.168 - 10) ÷ 2
    = 3.084 over its row: it reaches to 209.084, and the mouth is 80 lower.
    """
    text = SAMPLE.read_text("utf-8")
    assert not re.search(r"^(at|width|height|points|rectangle)\b", text, re.MULTILINE)
    found = measures(draft(read_project_text(text, file="roll.toml", folder=Path())))
    assert found["base"][0] == found["pocket"][0] == pytest.approx(230.155, abs=0.002)
    assert found["pocket"][1] == pytest.approx(129.084, abs=0.002)


@pytest.mark.parametrize("pens", [PENS, ((6, 120), (20, 160), (12, 100)), ((3, 150),), ((8, 180),) * 12])
@pytest.mark.parametrize("thickness", [0.6, 1.6])
def test_every_tool_goes_in_and_its_end_is_covered(pens: Any, thickness: float) -> None:
    """Half a pen's girth with its ease, reckoned round a polygon, fits between its rows; the flap, folded
    down, lies over its end.
    """
    pattern = roll(pens=pens, thickness=thickness)
    found = measures(pattern)
    edges = [6.0, *found["lines"]]
    for (wide, _), (left, right) in zip(pens, pairwise(edges), strict=True):
        girth = shapely.Point(0, 0).buffer(wide / 2, quad_segs=512).length
        assert right - left >= girth / 2 + 2  # the least ease of cloth
    tops = [each.path.bounds()[3] for each in pattern.piece("roll").items if each.item.startswith("pen")]
    fold = max(tops) + max(wide for wide, _ in pens) + 10
    reach = 2 * fold - found["base"][1]
    assert all(reach <= top for top in tops)
    assert reach <= found["pocket"][1] - 20 + 1e-6
    assert len(tops) == len(pens)


def test_it_is_rolled_and_tied_whatever_it_holds() -> None:
    """More tools never make it narrower, nor its tie shorter."""
    all_of = [measures(roll(pens=[(8, 150)] * count)) for count in (1, 2, 4, 8)]
    assert [each["base"][0] for each in all_of] == sorted(each["base"][0] for each in all_of)
    assert [each["tie"] for each in all_of] == sorted(each["tie"] for each in all_of)
    for each in all_of:
        across = sqrt(4 * each["base"][0] * 1.8 / pi)  # the cloth alone
        assert each["tie"][0] > 2 * pi * across


# What a measure moves, and nothing else; the eyelet stands half-way between mouth and fold.
MOVES = {
    "flap = 100": {"base"},
    "margin = 80": {"base", "pocket", "eye"},
    "height = 100": {"base", "pocket", "eye"},
    "eye_cap = 13": {"eye"},
    "ease = 6": {"base", "pocket", "lines", "eye"},
    'closed_by = "none"': {"eye", "tie"},
}


@pytest.mark.parametrize("own", MOVES)
def test_a_measure_moves_its_own_part_alone(own: str) -> None:
    before, after = measures(roll()), measures(roll(f"shows = 70\nhem = 15\n{own}\n"))
    assert {what for what in before if before[what] != after[what]} == MOVES[own]


@pytest.mark.parametrize(
    ("own", "key", "value"),
    [("shows = 70\nhem = 15", "flap", 12), ("shows = 70\nhem = 15", "margin", 20)],
)
def test_the_least_that_is_named_is_taken(own: str, key: str, value: float) -> None:
    def told(value: float) -> str:
        try:
            roll(f"{own}\n{key} = {value}\n")
        except ProjectError as refused:
            return str(refused)
        return ""

    named = re.search(rf": {key}: .* allowed: (?:at least )?([\d.]+)(?: mm| to)", told(value))
    assert named, told(value)
    least = float(named[1])
    assert told(least) == ""
    assert f": {key}: " in told(round(least - 0.1, 2))


def test_holders_by_hand() -> None:
    """A strap of 32, an inset of 6 and 14 between the pens: its rows are 12 from its end and 24 and 22
    further on the base; it begins 15 + 2 from the side, beyond it there are 60: 147. The pens stand 40 over
    the strap, the longest ends 15 + 10 over the foot: the strap's foot is at 25 + 150 - 72 = 103, both tops
    at 175; the fold is 10 + 10 above them. Over a pen the strap is longer than the way round it.
    """
    pattern = roll('holds = "holders"\nshows = 40\ngap = 14\nhem = 15\n')
    base, strap = pattern.piece("roll"), pattern.piece("roll strap")
    assert base.outline.bounds()[2] == pytest.approx(17 + 12 + 24 + 22 + 12 + 60)
    assert [line.path.start[0] for line in base.lines] == pytest.approx([29, 53, 75])
    (placed,) = (each.at for each in pattern.project.pieces if each.name == "roll strap")
    assert placed == pytest.approx((17, 103))
    tops = [each.path.bounds()[3] for each in base.items if each.item.startswith("pen")]
    feet = [each.path.bounds()[1] for each in base.items if each.item.startswith("pen")]
    assert (tops, feet) == (pytest.approx([175, 175]), pytest.approx([25, 35]))
    assert base.fold("flap").ends[0][1] == pytest.approx(195)
    rows = [line.path.start[0] for line in strap.lines]
    for wide, left, right in zip((10, 8), rows, rows[1:], strict=False):
        over = shapely.Point(0, wide / 2).buffer(wide / 2 + 0.3, quad_segs=512)
        points = shapely.MultiPoint([(-(wide + 14) / 2, 0.3), ((wide + 14) / 2, 0.3)])
        hull = over.union(points).convex_hull.intersection(shapely.box(-50, 0.3, 50, 50))
        assert right - left > hull.length - wide - 14  # and its ease
    (room,) = pattern.rooms
    assert (room.base, room.cover, max(p.height(17 + 12 + 12) for p in room.profiles)) == (
        "roll",
        "roll strap",
        pytest.approx(10),
    )


def test_without_a_tie_it_tells_the_girth_for_a_strap() -> None:
    """As by `round_it` below, within 2 mm; a strap and a loop on its back close it."""
    strap = (
        'closed_by = "none"\n[[part]]\nname = "strap"\nkind = "strap"\nwidth = 16\nbar = 3\n'
        "girth = [60, 85]\nusual = 67\nkeepers = 0\n"
        '[[piece]]\nname = "strap"\nkind = "firm leather"\nthickness = 1.6\n'
        '[[part]]\nname = "loop"\nkind = "loop"\non = "roll"\nat = [90, 150]\nbehind = true\nbelt = 16\n'
        "belt_thickness = 3.2\nstrap = 20\n"
    )
    pattern = roll("shows = 70\nhem = 15\n" + strap)
    note = pattern.piece("roll").note
    (told,) = re.findall(r"rolled up it is about (\d+) mm round: the girth for its strap$", note)
    assert abs(float(told) - round_it(pattern, PENS, thickness=0.6)) < 2
    assert {"strap", "loop"} <= {piece.name for piece in pattern.pieces}


def round_it(pattern: Pattern, pens: Any, *, thickness: float) -> float:
    """How far it is round the roll: a spiral, where each half mm of it lies on what it lay a turn before, and
    is as thick as it is there; the last turn is as taut as a hull."""
    drawn = [each.path.bounds() for each in pattern.piece("roll").items if each.item.startswith("pen")]
    middles = sorted((left + right) / 2 for left, _, right, _ in drawn)
    width = pattern.piece("roll").outline.bounds()[2]
    turns, outs = [0.0], [3 * thickness]
    for k in range(int(2 * width)):
        high = 3 * thickness
        for (wide, _), middle in zip(pens, middles, strict=True):
            high += 2 * sqrt(max(0.0, (wide / 2) ** 2 - ((k + 0.5) / 2 - middle) ** 2))
        below = outs[bisect(turns, turns[-1] - 2 * pi) - 1] if turns[-1] > 2 * pi else 0.0
        turns.append(turns[-1] + 0.5 / (below + high / 2))
        outs.append(below + high)
    last = [(r * cos(t), r * sin(t)) for t, r in zip(turns, outs, strict=True) if t > turns[-1] - 2 * pi]
    return float(shapely.MultiPoint(last).convex_hull.length)


BUCKLED = [
    ([(10, 150)] * 6, 0.6, "shows = 70\nhem = 15\n"),
    ([(12, 150), (6, 120)] * 5, 1.2, "shows = 60\n"),
    ([(8, 150)] * 12, 1.6, 'shows = 60\nholds = "holders"\nstrap = 24\n'),
    ([(9, 140)] * 3, 2.0, "shows = 50\nmargin = 90\n"),
]


@pytest.mark.parametrize(("pens", "thickness", "own"), BUCKLED)
def test_its_strap_closes_round_it_however_tight(pens: Any, thickness: float, own: str) -> None:
    """On a bar of 3, with 2 of strap: half its turn, half the bar and π · 2 less than the way from fold to
    hole is what is inside. As tight as can be there is no air in it: a circle of its solid area."""
    material = "canvas" if "hem" in own else "soft leather"
    pattern = roll(own + 'closed_by = "buckle"\n', pens, thickness=thickness, material=material)
    strap, base = pattern.piece("roll closing strap"), pattern.piece("roll")
    fold = strap.fold("buckle").ends[0][0]
    (holes,) = ([p.at[0] for p in each.places] for each in pattern.openings if each.name.endswith("holes"))
    closes = [at - fold - pi * (1.5 + 1) / 2 - 1.5 - 2 * pi for at in holes]
    solid = 3 * thickness * base.outline.bounds()[2] + sum(pi * wide * wide / 4 for wide, _ in pens)
    tight, likely = sqrt(4 * pi * solid), round_it(pattern, pens, thickness=thickness)
    assert closes[0] <= tight and likely <= closes[-1]
    (placed,) = (each.at for each in pattern.project.pieces if each.name == strap.name)
    assert placed[0] - 2 * fold > base.outline.bounds()[2]  # what is turned back lies beyond the roll's edge
    (row,) = (line.path for line in base.lines if line.name == "roll closing strap")
    _, low, right, top = row.bounds()
    things = [each.path.bounds() for each in base.items if each.item.startswith("pen")]
    assert row.bounds()[0] > max(thing[2] for thing in things)
    assert right < base.outline.bounds()[2] - 5 and low > 0 and top < base.fold("flap").ends[0][1]
    assert "roll eye" not in {each.name for each in pattern.openings}


def test_round_what_is_thin_its_strap_goes_twice() -> None:
    """One pen of 8 in canvas of 0.6 is about 51 mm round; the first hole closes round 69.8 at the least: on a
    bar of 3, 2 of strap and a pitch of 4 it lies beyond butt, row and 6 mm. Twice round it is 2 · 51 + π · 4
    in all, as tight as can be 2 · √(4 π · solid). Five are 90 round."""
    thin, usual = (
        roll('shows = 70\nhem = 15\nclosed_by = "buckle"\n', [(8, 180)] * count) for count in (1, 5)
    )
    (buckle,) = (one.fitting for one in thin.fittings if one.fitting.name.endswith("buckle"))
    assert buckle.girth is not None
    least, most = buckle.girth
    solid = 1.8 * thin.piece("roll").outline.bounds()[2] + pi * 16
    assert 69.8 < least <= 2 * sqrt(4 * pi * solid) + 1
    assert (least + most) / 2 >= 2 * sqrt(4 * pi * solid) + 4 * pi
    assert most >= 2 * round_it(thin, [(8, 180)], thickness=0.6) + 4 * pi
    notes = [pattern.piece("roll closing strap").note for pattern in (thin, usual)]
    assert [note.endswith("; it goes round the roll twice") for note in notes] == [True, False]


def test_a_margin_that_is_left_open_has_room_for_a_large_eyelet() -> None:
    """By hand: 15 turned in, twice half of 60 and 2 beside it, less the pocket's own inset of 6: 73."""
    usual, large = (measures(roll(f"shows = 70\nhem = 15\neye_cap = {cap}\n"))["base"][0] for cap in (11, 60))
    assert large - usual == pytest.approx(73 - 60)


@pytest.mark.parametrize("closing", ["tie", "buckle", "none"])
@pytest.mark.parametrize(("wide", "long"), [(10, 10), (2, 5), (3, 30)])
def test_short_things_are_rolled_up(wide: float, long: float, closing: str) -> None:
    """Nothing of a roll is stated: its pocket is as high as one stitch needs, 2 · 6 + 4, where that is more
    than what is left below the part that shows; what closes it has its room between mouth and fold, 11 + 4
    for the eyelet; its flap ends at the foot at the latest."""
    pattern = roll(f'closed_by = "{closing}"\n', [(wide, long)], material="soft leather")
    base, pocket = (pattern.piece(name).outline.bounds()[3] for name in ("roll", "roll pocket"))
    fold = pattern.piece("roll").fold("flap").ends[0][1]
    assert pocket == pytest.approx(max(16, pattern.piece("roll").items[0].path.bounds()[3] - 25))
    assert fold - pocket >= {"tie": 15, "buckle": 20, "none": 0}[closing]
    assert base - fold <= fold
    assert faults(text_of(f'closed_by = "{closing}"\n', [(wide, long)], material="soft leather")) == []


def test_a_girth_of_its_own_is_what_the_buckle_says() -> None:
    text = 'shows = 70\nhem = 15\nclosed_by = "buckle"\n'
    pens = [(10, 150)] * 6
    stated = '[[fitting]]\nname = "roll closing strap buckle"\ngirth = [130, 170]\n'
    for own, girth in (("girth = [120, 180]\n", (120, 180)), (stated, (130, 170)), ("", None)):
        pattern = roll(text + own, pens)
        (buckle,) = (one.fitting for one in pattern.fittings if one.fitting.name.endswith("buckle"))
        assert girth is None or buckle.girth == girth
        if own.startswith("girth"):  # on a bar of 3, with 2 of strap, as above
            fold = pattern.piece("roll closing strap").fold("buckle").ends[0][0]
            (holes,) = (
                [p.at[0] for p in each.places] for each in pattern.openings if each.name.endswith("holes")
            )
            assert [at - fold - pi * 3.25 - 1.5 for at in (holes[0], holes[-1])] == pytest.approx(girth)
        assert buckle.girth is not None and buckle.girth[0] < buckle.girth[1]
        assert {one.fitting.kind.value for one in pattern.fittings} == {"buckle", "keeper"}


def test_in_leather_the_row_ends_at_the_mouth() -> None:
    """Nothing is turned that it would hold along the flap."""
    pattern = roll("shows = 70\n", thickness=1.6, material="soft leather")
    (run,) = (
        run for seam in pattern.seams if seam.name == "roll" for run in seam.runs if run.piece == "roll"
    )
    assert run.path.bounds()[3] == pytest.approx(measures(pattern)["pocket"][1] - 6)


def test_its_flap_lies_over_the_tools_when_it_is_folded() -> None:
    """In space, at its radius: the flap's inside is as high as the thickest pen, and over all ends."""
    pattern = roll()
    base = pattern.piece("roll")
    flap = base.panels[-1]
    assert flap.turned and abs(flap.height) == pytest.approx(10 + 0.6)
    top = base.outline.bounds()[3]
    reach = base.in_space((50.0, top))[1]
    assert all(reach < each.path.bounds()[3] for each in base.items if each.item.startswith("pen"))


def random_roll(rng: random.Random) -> str:
    closing, holds = rng.choice(["tie", "tie", "none", "buckle", "buckle"]), rng.choice(["slots", "holders"])
    choices: dict[str, list[Any]] = {
        "shows": [0, 10, 40, 90, 200], "flap": [5, 40, 120, 500],
        "hem": [6, 10, 15, 40], "margin": [5, 30, 90], "ease": [0, 3, '"10 %"', 40],
        **{"tie": {"eye_cap": [8, 11, 30]}, "none": {}, "buckle": {
            "inside": [8, 16, 30, 60], "bar": [1, 5, 14], "girth": ["[60, 90]", "[120, 260]", "[200, 100]"],
        }}[closing],
        **({"height": [8, 40, 120, 300]} if holds == "slots" else {"strap": [10, 14, 40], "gap": [3, 14]}),
    }  # fmt: skip
    own = [f"{key} = {rng.choice(choices[key])}\n" for key in rng.sample(sorted(choices), rng.randint(0, 4))]
    pens = [
        (rng.choice([3, 8, 12, 30]), rng.choice([40, 120, 150, 260])) for _ in range(rng.choice([1, 2, 5, 9]))
    ]
    material = rng.choice(["canvas", "firm leather", "soft leather"])
    own += [f'closed_by = "{closing}"\n', f'holds = "{holds}"\n']
    return text_of("".join(own), pens, thickness=rng.choice([0.6, 1.2, 2]), material=material)


def faults(text: str, *, planned: bool = False) -> list[str]:
    """The errors that a project is refused with; none where it becomes a kit."""
    try:
        punched = punch(draft(read_project_text(text, file="p.toml", folder=Path())))
        if planned:
            plan(punched)
    except ProjectError as refused:
        return [str(each) for each in refused.findings if each.severity is Severity.ERROR]
    return []


OWN = "shows|height|flap|hem|margin|ease|strap|gap|closed_by|inside|bar|girth"
NAMED = re.compile(rf'part "roll": ({OWN}): |piece "roll": hem: ')


KEYS = tuple(f": {key}: " for key in OWN.split("|"))


@pytest.mark.parametrize("seed", range(IN_SUITE))
def test_any_sizes_give_a_kit_or_one_message(seed: int) -> None:
    text = random_roll(random.Random(f"roll {seed}"))
    told = faults(text)
    assert len(told) <= 1 or {": strap: ", ": gap: "} == {key for key in KEYS if key in "".join(told)}, told
    assert all(NAMED.search(each) for each in told), (text, told)


def main(count: int) -> None:
    kits = 0
    for seed in range(count):
        text = random_roll(random.Random(f"roll {seed}"))
        told = faults(text, planned=True)
        kits += not told
        if len(told) > 2 or not all(NAMED.search(each) for each in told):
            print(text, *told, sep="\n")
    print(f"{count} tried, {kits} kits, the others told in one message but for those above")


if __name__ == "__main__":
    main(int(sys.argv[1]))
