"""A card wallet, worked out by hand: three stepped pockets on each side, one seam round all of it.

cover 202 x 90, holes 3 in: 196 ÷ 3 = 65.3, 65 steps of 3.01538; 84 ÷ 3 = 28 of 3: 186 holes round.
Hole 66 is B, 94 C, 159 D. Pockets are 95 wide, so left ones have holes to x = 93.46 (hole 31) and
right ones from 108.54 (hole 36); their mouths at 73.5, 61.5 and 49.5 lie midway between two holes.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest

from handkit.errors import ProjectError

Make = Callable[[str], Any]

POCKETS = "".join(
    f"""
[[piece]]
name = "left {k}"
rectangle = [95, {height}]
on = "cover"
"""
    for k, height in ((1, 73.5), (2, 61.5), (3, 49.5))
) + "".join(
    f"""
[[piece]]
name = "right {k}"
copy = "left {k}"
mirrored = true
on = "cover"
at = [202, 0]
"""
    for k in (1, 2, 3)
)
WALLET = f"""format = 1
[material]
thickness = 1.0
[stitching]
pitch = 3
inset = 3
thread = 0.6
hole = {{ round = 1.2 }}
[[piece]]
name = "cover"
rectangle = [202, 90]
round = 3
thickness = 1.4
{POCKETS}
[[seam]]
name = "left inside"
runs = [{{ run = "left 1: C-B", from_start = 1.5, from_end = 3 }}, "left 2", "left 3", "cover"]
[[seam]]
name = "right inside"
runs = [{{ run = "right 1: C-B", from_start = 1.5, from_end = 3 }}, "right 2", "right 3", "cover"]
[[seam]]
name = "edge"
runs = ["cover: A-B-C-D-A", "left 1", "left 2", "left 3", "right 1", "right 2", "right 3"]
"""

# Each layer's stretches, and each seam's: first, last, pieces without the cover, stack (by hand).
LAYERS = {
    "left inside": [[[1, 22]], [[4, 22]], [[8, 22]], [[1, 22]]],
    "right inside": [[[1, 22]], [[4, 22]], [[8, 22]], [[1, 22]]],
    "edge": [[[1, 186]], [[164, 31]], [[168, 31]], [[172, 31]], [[36, 89]], [[36, 85]], [[36, 81]]],
}
STRETCHES = {
    "left inside": [(1, 3, "left 1", 2.4), (4, 7, "left 1 2", 3.4), (8, 22, "left 1 2 3", 4.4)],
    "edge": [
        (1, 31, "left 1 2 3", 4.4),
        (32, 35, "", 1.4),
        (36, 81, "right 1 2 3", 4.4),
        (82, 85, "right 1 2", 3.4),
        (86, 89, "right 1", 2.4),
        (90, 163, "", 1.4),
        (164, 167, "left 1", 2.4),
        (168, 171, "left 1 2", 3.4),
        (172, 186, "left 1 2 3", 4.4),
    ],
}
# T first + strands + twice every stack reached + tails. Edge: 4.4 + 2·560 + 18.09 (three steps of
# 3.01538 sewn again) + 2·(186·1.4 + 2·(54 + 50 + 46)) + 3·2·4.4 + 360; inside: 2.4 + 24·6 + 2·(2·2.4 +
# 4·3.4 + 15·4.4 + 3·4.4) + 360 (by hand).
THREADS = {"left inside": 701.6, "right inside": 701.6, "edge": 2649.69}


@pytest.fixture(scope="module")
def wallet(planned: Make) -> Any:
    """The wallet's plan."""
    return planned(WALLET)


@pytest.fixture(scope="module")
def told(wallet: Any) -> dict[str, Any]:
    """Its seams, as other programs read them."""
    return {seam["name"]: seam for seam in json.loads(wallet.json())["seams"]}


def test_nothing_is_found(wallet: Any) -> None:
    assert wallet.punched.findings == ()
    assert wallet.plan.findings == ()


@pytest.mark.parametrize("name", LAYERS)
def test_layers_by_hole(told: dict[str, Any], name: str) -> None:
    assert [layer["holes"] for layer in told[name]["layers"]] == LAYERS[name]


@pytest.mark.parametrize("name", STRETCHES)
def test_stacks_by_stretch(told: dict[str, Any], name: str) -> None:
    found = [(one["from"], one["to"], set(one["pieces"]), one["stack_mm"]) for one in told[name]["stretches"]]
    wanted = []
    for first, last, pockets, stack in STRETCHES[name]:
        side, *numbers = pockets.split() or [""]
        wanted.append((first, last, {"cover", *(f"{side} {k}" for k in numbers)}, stack))
    assert found == wanted


@pytest.mark.parametrize("name", THREADS)
def test_thread(told: dict[str, Any], name: str) -> None:
    assert told[name]["thread_mm"] == pytest.approx(THREADS[name], abs=0.01)


def test_holes_in_all(wallet: Any) -> None:
    """186 + 2·(54 + 50 + 46) on the edge, 22 + 22 + 19 + 15 on each row inside."""
    assert wallet.plan.totals.holes == 486 + 2 * 78


def test_every_move_passes_the_layers_of_the_hole_it_reaches(told: dict[str, Any]) -> None:
    for seam in told.values():
        stacks = {
            hole: one["stack_mm"] for one in seam["stretches"] for hole in range(one["from"], one["to"] + 1)
        }
        assert all(move["stack_mm"] == stacks[move["to"]] for move in seam["moves"])


def test_words(wallet: Any) -> None:
    told = " ".join(wallet.text().split())
    assert (
        "holes 1 to 3 through cover and left 1 (stack 2.4 mm); 4 to 7 through cover, left 1 and left 2 "
        "(3.4 mm); 8 to 22 through cover, left 1, left 2 and left 3 (4.4 mm)" in told
    )
    # Nine stretches: alike ones are told together, a line each, and the step leaves them to these lines.
    assert (
        "cover at every hole; besides holes 1 to 31 and 172 to 186: left 1, left 2 and left 3, stack" in told
    )
    assert "holes 32 to 35 and 90 to 163: nothing more, stack 1.4 mm" in told
    step = next(step for step in wallet.plan.steps if "186 holes" in step.what)
    assert "as far as they reach, hole by hole as the seam's own lines tell: 186 holes" in step.what
    assert "172" not in step.what


TWO = """
[[piece]]
name = "back"
rectangle = [196, 60]
[[piece]]
name = "pocket"
rectangle = [126, 40]
on = "back"
thickness = 1.2
[[seam]]
name = "foot"
runs = ["back: A-B", "pocket"]
"""


def test_words_of_two_stretches(planned: Make, head: str) -> None:
    """188 ÷ 4 = 47: 48 holes; the pocket ends at 126, midway between hole 31 (124) and 32 (128)."""
    made = planned(head + TWO)
    (step,) = [step for step in made.plan.steps if step.kind.value == "seam"]
    assert (
        "press the layers together, then stitch holes 1 to 31 through back and pocket, 32 to 48 through back "
        "alone: 48 holes"
    ) in step.what
    assert "holes 1 to 31 through back and pocket (stack 3.2 mm), 32 to 48 through back alone (2 mm)" in (
        " ".join(made.text().split())
    )


def test_a_seam_whose_layers_are_all_whole_tells_no_stretches(planned: Make, pocket: str) -> None:
    (seam,) = json.loads(planned(pocket).json())["seams"]
    assert "stretches" not in seam
    assert all("holes" not in layer for layer in seam["layers"])


def test_an_iron_begins_anew_on_each_stretch(planned: Make, head: str) -> None:
    iron = "iron = { teeth = 6, pitch = 4 }\n"
    (seam,) = json.loads(planned(head + iron + TWO).json())["seams"]
    back, pocket = seam["tooling"]
    assert [(one["from"], one["to"]) for one in pocket["iron"]] == [(k, k + 5) for k in range(1, 31, 5)]
    assert back["iron"][-1]["to"] == 48
    through = 'punch = "through"\n'
    (seam,) = json.loads(planned(head + iron + through + TWO).json())["seams"]
    marked = {one["piece"]: [(g["from"], g["to"]) for g in one["iron"]] for one in seam["tooling"]}
    assert marked["back"] == [(32, 37), (37, 42), (42, 47), (47, 48)]  # the rest comes through the pocket
    assert marked["pocket"][-1] == (26, 31)


def test_pieces_that_no_hole_joins_hold_nothing_between_them(planned: Make, head: str) -> None:
    """Two pockets side by side in one seam: a label on the left one waits for no hole of the right."""
    made = planned(
        head
        + """
[[piece]]
name = "back"
rectangle = [208, 100]
[[piece]]
name = "left"
rectangle = [102, 60]
on = "back"
[[piece]]
name = "right"
rectangle = [102, 60]
on = "back"
at = [106, 0]
[[piece]]
name = "label"
rectangle = [30, 20]
on = "left"
at = [36, 20]
[[seam]]
name = "rim"
runs = ["back: D-A-B-C", "left", "right"]
[[seam]]
name = "label"
runs = ["label: A-B-C-D-A", "left"]
"""
    )
    assert made.tasks == ["label", "rim"]
    (rim,) = [seam for seam in made.plan.seams if seam.name == "rim"]
    assert [(before.name, before.why) for before in rim.after] == [
        ("label", '"back" would lie behind the holes')
    ]


def test_a_layer_takes_the_holes_of_the_run_that_passes_over_it(planned: Make, head: str) -> None:
    """A strap of 200 whose end is turned back onto it at 160: the row at 150 is sewn to the one at 170. Its
    lining of 155 lies under the first alone, though the other stands nearer in the list.
    """
    made = planned(
        head
        + """
[[piece]]
name = "strap"
rectangle = [200, 30]
lines = { body = [[150, 5], [150, 25]], turned = [[170, 5], [170, 25]] }
[[piece]]
name = "lining"
rectangle = [155, 30]
on = "strap"
behind = true
[[seam]]
name = "row"
runs = ["strap: body", "strap: turned", "lining"]
"""
    )
    (seam,) = made.punched.seams
    assert [hole.at[0] for hole in seam.layers[2].holes] == [150.0] * 6
    assert seam.whole
    (row,) = made.plan.seams
    assert row.stack == 6.0


RIVETED = """
[[piece]]
name = "back"
rectangle = [200, 100]
[[piece]]
name = "strip"
rectangle = [100, 30]
on = "back"
thickness = 2.8
[[seam]]
name = "rim"
runs = ["strip: A-B-C-D-A", "back"]
[[opening]]
name = "rivets"
kind = "rivet"
hole = 3
cap = 9
through = ["back", "strip"]
at = {at}
"""


def riveted(at: list[list[float]]) -> str:
    return RIVETED.format(at=at)


def test_an_opening_pierces_a_piece_where_it_lies_on_it(planned: Make, head: str) -> None:
    """Three on both, 4.8 thick, two on the back of 2 alone; a post is the stack and 1/16 to 1/8 in: 6.39
    to 7.98 and 3.59 to 5.18 (by hand). The least that is sold in the first is 7.
    """
    made = planned(head + riveted([[20, 15], [50, 15], [80, 15], [130, 15], [160, 15]]))
    assert [str(finding) for finding in made.punched.findings] == []
    assert [str(finding) for finding in made.punched.pattern.findings] == [
        'p.toml:26: note: opening "rivets": through: found number 4 and 5 of opening "rivets" beside '
        '"strip"; that is well where it is meant [opening-part-way]'
    ]
    (rivets,) = json.loads(made.json())["openings"]
    assert (rivets["count"], rivets["stack_mm"]) == (5, 4.8)
    assert rivets["posts"] == [
        {
            "numbers": [1, 2, 3],
            "pieces": ["back", "strip"],
            "stack_mm": 4.8,
            "post_mm": 6.387,
            "common_post_mm": 7.0,
        },
        {"numbers": [4, 5], "pieces": ["back"], "stack_mm": 2.0, "post_mm": 3.587, "common_post_mm": None},
    ]
    assert [(row.count, row.post) for row in made.plan.hardware] == [(3, 6.387), (2, 3.587)]
    assert made.plan.totals.openings == 8
    (step,) = [step for step in made.plan.steps if step.kind.value == "opening"]
    assert step.what == (
        "Set 5 rivets through back and strip (numbers 1 to 3 through back and strip, 4 and 5 through back "
        "alone): hole 3 mm, post 6.4 to 8.0 mm (1 to 3), post 3.6 to 5.2 mm (4 and 5)."
    )


def test_places_that_go_through_all_have_one_post(planned: Make, head: str) -> None:
    made = planned(head + riveted([[20, 15], [50, 15]]))
    (rivets,) = json.loads(made.json())["openings"]
    assert "posts" not in rivets
    assert made.punched.pattern.findings == ()


def test_a_place_whose_rim_meets_an_edge_beside_it_is_told(planned: Make, head: str) -> None:
    """2 mm outside, and 1.5 of it is the hole: half a millimetre is left."""
    made = planned(head + riveted([[20, 15], [102, 15]]))
    found = [str(finding) for finding in made.punched.findings if finding.code == "opening-at-mouth"]
    assert found == [
        'p.toml:27: warning: opening "rivets": at: found number 2 of opening "rivets" 2 mm outside the edge '
        'of "strip"; allowed: at least 2.5 mm outside it, or on it; move it, or the piece [opening-at-mouth]'
    ]


def test_an_opening_that_misses_a_piece_is_refused(planned: Make, head: str) -> None:
    with pytest.raises(ProjectError) as refused:
        planned(head + riveted([[130, 60], [160, 60]]))
    assert [str(finding) for finding in refused.value.findings] == [
        'p.toml:26: error: opening "rivets": through: found no place of opening "rivets" on "strip"; '
        "allowed: a piece that at least one place lies on; take it out of through, or move it "
        "[opening-misses-piece]"
    ]
