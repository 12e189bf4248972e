"""Order where a piece is folded with an angle: what comes before the fold, and what after it.

In each assembly stands what is done before what, written down before the program was asked, with the trade's
reason; the file lists what closes first, so that its order says nothing. Sources: common practice (trade
pages on wallets, sheaths and cases), no other. "fold" is the step that folds the base.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

Make = Callable[[str], Any]


def piece(name: str, size: str, *more: str) -> str:
    return f'[[piece]]\nname = "{name}"\nrectangle = {size}\n' + "".join(f"{m}\n" for m in more)


def seam(name: str, *runs: str, more: str = "") -> str:
    told = ", ".join(f'"{run}"' for run in runs)
    return f'[[seam]]\nname = "{name}"\nruns = [{told}]\n{more}'


def patch(name: str, at: str, *more: str) -> str:
    """40 by 30, sewn on the base all round."""
    placed = piece(name, "[40, 30]", 'on = "base"', f"at = {at}", *more)
    return placed + seam(name, f"{name}: A-B-C-D-A", "base")


BEHIND = "behind = true"
# 200 by 120, folded by half a turn at x = 100: what is left of it comes over the rest.
HALF = 'folds = { back = { line = [[100, 0], [100, 120]], out = "flesh", angle = 180, stays = "B" } }'
LOW = "lines = { near = [[196, 6], [196, 46]], far = [[4, 6], [4, 46]] }"
HELD_LOW = piece("base", "[200, 120]", HALF, LOW) + seam("edge", "base: near", "base: far")
STRIP = piece("strip", "[120, 30]")
STRIP += seam("far", "strip: C-D", "base: D-A") + seam("near", "strip: A-B", "base: B-C")
# 120 by 260, the short end over the long one: it reaches up to 120 of the rest's 200, which begins at 60.
TALL = 'folds = { back = { line = [[0, 60], [120, 60]], out = "flesh", angle = 180, stays = "D" } }'
TALL_LINES = "lines = { near = [[6, 90], [46, 90]], far = [[6, 30], [46, 30]] }"
TALL_BASE = piece("base", "[120, 260]", TALL, TALL_LINES) + seam("edge", "base: near", "base: far")
# A floor of 40 between two panels of 150, with two gussets.
FLOOR = """[piece.folds]
low = { line = [[0, 150], [200, 150]], out = "flesh", angle = 90, stays = "A" }
up = { line = [[0, 190], [200, 190]], out = "flesh", angle = 90, stays = "A" }"""
EDGES = """[piece.lines]
lb = [[4, 146], [4, 6]]
lf = [[4, 194], [4, 334]]
rb = [[196, 146], [196, 6]]
rf = [[196, 194], [196, 334]]"""
GUSSET = "lines = { b = [[4, 4], [4, 144]], f = [[36, 4], [36, 144]] }"
BAG = piece("base", "[200, 340]", EDGES, FLOOR)
BAG += piece("left", "[40, 150]", GUSSET) + piece("right", "[40, 150]", GUSSET)
SIDES = [("left", "f", "lf"), ("right", "f", "rf"), ("left", "b", "lb"), ("right", "b", "rb")]
BAG += "".join(seam(f"{side} {row}", f"{side}: {row}", f"base: {line}") for side, row, line in SIDES)
CASE = piece("base", "[200, 340]", FLOOR)
CORNER = 'folds = { up = { line = [[0, 150], [200, 150]], out = "flesh", angle = 90, stays = "A" } }'

ASSEMBLIES: dict[str, tuple[str, list[tuple[str, str]], str]] = {
    "a patch inside before the edge that holds the leaf over it": (
        HELD_LOW + patch("label", "[120, 70]"),
        [("label", "fold"), ("fold", "edge")],
        "the other leaf would lie over its stitches",
    ),
    "a patch outside on the leaf that moves": (
        HELD_LOW + patch("label", "[20, 70]", BEHIND),
        [("label", "fold"), ("fold", "edge")],
        "the needle would have to come out between the leaves",
    ),
    "a gusset between the leaves: the fold before its second row": (
        piece("base", "[200, 120]", HALF)
        + STRIP
        + patch("label", "[120, 20]")
        + patch("badge", "[20, 20]", BEHIND),
        [("label", "fold"), ("badge", "fold"), ("label", "near"), ("badge", "far")],
        "it is folded when only the last row is left, for till then it can lie open",
    ),
    "a bag in one with its floor: folded before the first gusset's second row": (
        BAG + patch("label", "[80, 240]") + patch("badge", "[80, 40]", BEHIND),
        [
            ("label", "fold"),
            ("badge", "fold"),
            ("label", "left f"),
            ("label", "right f"),
            ("badge", "left b"),
        ],
        "a gusset holds the front at the back from its second row on",
    ),
    "a case that nothing holds shut is folded when all is sewn": (
        CASE + patch("label", "[80, 260]") + patch("badge", "[80, 40]"),
        [("label", "fold"), ("badge", "fold")],
        "folded it would lie over the holes, and would have to be flattened again",
    ),
    "a corner covers nothing and is formed at first": (
        piece("base", "[200, 340]", CORNER) + patch("label", "[80, 240]"),
        [("fold", "label")],
        "a fold is formed before dye and finish where it is in nobody's way",
    ),
    "a leaf that lies over no hole, and that nothing shuts, comes over when all is sewn": (
        piece("base", "[120, 260]", TALL) + patch("label", "[40, 215]") + patch("badge", "[40, 150]", BEHIND),
        [("label", "fold"), ("badge", "fold")],
        "what is sewn on a piece is sewn while that lies flat on the bench",
    ),
    "what is glued on one leaf shuts nothing": (
        CASE
        + piece("lining", "[180, 120]", 'on = "base"', "at = [10, 205]", "glued = true")
        + patch("badge", "[80, 40]"),
        [("badge", "fold")],
        "both leaves hang together by the base alone",
    ),
}


def done(plan: Any) -> list[str]:
    """Seams and the base's fold, in working order."""
    return [
        "fold" if step.kind == "fold" else step.name
        for step in plan.steps
        if step.kind == "seam" or (step.kind == "fold" and step.name == "base")
    ]


@pytest.mark.parametrize("title", ASSEMBLIES)
def test_what_the_trade_does_first(planned: Make, head: str, title: str) -> None:
    text, pairs, _ = ASSEMBLIES[title]
    plan = planned(head + text).plan
    order = done(plan)
    for first, then in pairs:
        assert order.index(first) < order.index(then), (first, then, order)
    assert [each for each in plan.findings if each.code == "way-not-free"] == []


def test_the_fold_comes_between_the_rows_of_a_gusset(planned: Make, head: str) -> None:
    """With one row of each the bag still lies open."""
    bag = ["left f", "right f", "fold", "left b", "right b"]
    for title, rows in (("a gusset between", ["far", "fold", "near"]), ("a bag in one", bag)):
        (text,) = (text for name, (text, *_) in ASSEMBLIES.items() if name.startswith(title))
        assert done(planned(head + text).plan) == ["label", "badge", *rows]


@pytest.mark.parametrize(
    ("base", "at", "why"),
    [
        (HELD_LOW, "[120, 70]", '"base" would fold over the holes in front'),
        (TALL_BASE, "[60, 66]", '"base" would fold over the holes in front'),
        (TALL_BASE, "[40, 160]", None),
    ],
)
def test_a_leaf_is_a_reason_where_it_lies_over_holes(
    planned: Make, head: str, base: str, at: str, why: str | None
) -> None:
    """By hand: the tall one's leaf of 60 comes to lie over 60 to 120."""
    plan = planned(head + base + patch("label", at)).plan
    (edge,) = [each for each in plan.seams if each.name == "edge"]
    assert [(each.name, each.why) for each in edge.after] == ([("label", why)] if why else [])


def test_what_the_file_has_done_under_a_leaf_is_told(planned: Make, head: str) -> None:
    late = patch("label", "[120, 70]") + 'after = ["edge"]\n'
    found = [
        str(each) for each in planned(head + HELD_LOW + late).plan.findings if each.code == "way-not-free"
    ]
    assert found == [
        'p.toml:22: note: seam "label": found holes 1 to 28 with "base" in front when worked: '
        '"edge" before "label" (the file says so); bend "base" aside meanwhile [way-not-free]'
    ]
    assert planned(head + TALL_BASE + late.replace("[120, 70]", "[40, 160]")).plan.findings == ()


# Hung behind the top of a back of 200 by 260, it goes up, 40 over what is carried, and comes down in front:
# what begins 64 up it lies on the back from 260 down to 124.
BOXY = """[[piece]]
name = "flap"
rectangle = [160, 200]
on = "back"
at = [180, 236]
behind = true
turned_over = true
[piece.folds]
up = { line = [[0, 24], [160, 24]], out = "grain", angle = 90, stays = "A" }
over = { line = [[0, 64], [160, 64]], out = "grain", angle = 90, stays = "A" }
"""
HANGS = '[[seam]]\nname = "flap"\nruns = ["flap: A-B", "back"]\n'


@pytest.mark.parametrize(("top", "why"), [(166, '"flap" would fold over the holes in front'), (116, None)])
def test_a_flap_over_a_wall_is_hung_after_what_it_comes_down_on(
    planned: Make, head: str, top: int, why: str | None
) -> None:
    front = piece("front", f"[140, {top - 16}]", 'on = "back"', "at = [30, 16]")
    text = piece("back", "[200, 260]") + BOXY + HANGS + front + seam("front", "front: D-A-B-C", "back")
    plan = planned(head + text).plan
    (flap,) = [each for each in plan.seams if each.name == "flap"]
    assert [(each.name, each.why) for each in flap.after] == ([("front", why)] if why else [])
