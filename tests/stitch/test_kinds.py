"""Hand stitches: thread worked out by hand for whole seams, and what is refused."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest

from handkit.errors import ProjectError

Make = Callable[[str], Any]

HEAD = """format = 1
[material]
thickness = {thick}
[stitching]
pitch = {pitch}
inset = {inset}
thread = 0.6
tail = {tail}
"""

# Two strips laid edge on edge; the row along A-B is `length` long.
STRIPS = """
[[piece]]
name = "under"
rectangle = [{width}, 60]
[[piece]]
name = "upper"
rectangle = [{width}, 60]
on = "under"
[[seam]]
name = "row"
runs = ["upper: A-B", "under{along}"]
stitch = "{stitch}"
"""


def strips(
    stitch: str, length: float, pitch: float, stack: float, *, inset: float = 4, tail: float = 0
) -> str:
    head = HEAD.format(thick=stack / 2, pitch=pitch, inset=inset, tail=tail)
    along = ": A-B" if stitch in ("box", "cross") else ""
    return head + STRIPS.format(width=length + 2 * inset, along=along, stitch=stitch)


# The sums stand beside the figures; all worked out by hand from the shape of the stitch.
TABLE = [
    # stitch, length, pitch, stack, ends, thread
    ("saddle", 200, 4, 4, "back = 0", 4 + 2 * 50 * 8),  # 804
    ("saddle", 200, 4, 4, "back = 3", 4 + 2 * 53 * 8),  # 852
    ("saddle", 200, 4, 2, "back = 0", 2 + 2 * 50 * 6),  # 602
    ("saddle", 300, 3, 2.4, "back = 0", 1082.4),  # 2.4 + 2 x 100 x 5.4
    ("saddle", 150, 5, 7, "back = 0", 727),  # 7 + 2 x 30 x 12
    ("saddle", 200, 4, 4, "back = 2\nstart_back = 2", 4 + 2 * 54 * 8),  # 868
    ("saddle", 200, 4, 4, "back = 0\nwrap_start = 2", 804 + 2 * (8 + 8)),  # two turns: 836
    ("saddle", 200, 4, 4, "back = 0\nwrap_end = 1", 804 + 16),
    ("running", 200, 4, 4, "back = 0", 2 * 50 * (4 + 4)),  # 800: every hole twice, both ends once
    ("running", 200, 4, 4, "back = 2", 102 * 8),  # 816: two single strands more
    ("running", 200, 4, 4, "back = 1", 101 * 8 + 4),  # and once more through, to end behind: 812
    ("running", 60, 6, 3, "back = 0\nwrap_end = 2", 2 * 10 * 9 + 2 * (8 + 6)),  # 208
    ("whip", 100, 5, 4, "back = 0", 4 + 20 * (4 + 13)),  # 4 + 4 + 4 and 5: 13, so 344
    ("whip", 100, 5, 4, "back = 2", 4 + 22 * 17),  # 378
    ("cross", 60, 6, 4, "back = 0", 8 + 4 + 10 * (2 * 10 + 2 * 8 + 2 * 4)),  # 8 across and 6: 10, so 452
    ("cross", 60, 6, 2, "back = 1", 8 + 2 + 11 * (20 + 16 + 4)),  # 450
]


@pytest.mark.parametrize("row", TABLE, ids=str)
def test_hand_worked_seams(planned: Make, row: tuple[str, float, float, float, str, float]) -> None:
    *strip, ends, thread = row
    (seam,) = planned(strips(*strip) + ends).plan.seams
    assert seam.thread == pytest.approx(thread, abs=0.001)


def test_a_box_stitch_passes_straight_through_the_corner(planned: Make) -> None:
    """Holes 3 mm from the edge on one piece and 4 on the other: 5 through; 25 steps of 4: 5 + 50 x 9."""
    text = strips("box", 100, 4, 4).replace('"under: A-B"', '{ run = "under: A-B", inset = 3 }')
    text = text.replace('name = "under"\nrectangle = [108', 'name = "under"\nrectangle = [106')
    text = text.replace('on = "under"', 'on = "under"\nflat = false') + "back = 0\nbowed = true\n"
    (seam,) = planned(text).plan.seams
    assert seam.threads[0].start_stack == pytest.approx(5)
    assert seam.thread == pytest.approx(5 + 2 * 25 * (4 + 5), abs=0.001)


def test_tails_and_needles(planned: Make) -> None:
    """A tail at either end; one needle pulls all of its thread, two share it."""
    (seam,) = planned(strips("whip", 100, 5, 4, tail=100) + "back = 0\nlongest = 300").plan.seams
    assert seam.needles == 1
    assert len(seam.threads) > 1
    assert all(thread.cut <= 300 for thread in seam.threads)
    (seam,) = planned(strips("saddle", 100, 5, 4, tail=50) + "back = 0\nlongest = 300").plan.seams
    assert (seam.needles, [thread.cut for thread in seam.threads]) == (2, [4 + 20 * 18 + 100])


def test_the_lockstitchs_term_per_stitch(planned: Make) -> None:
    """C = 2 + 2 T S an inch (a textile-education page): S = 10, T = 0.025 in gives 2.50."""
    inch = 25.4

    def thread(length: float) -> float:
        text = strips("saddle", length, inch / 10, 0.025 * inch)
        (seam,) = planned(text + "back = 0").plan.seams
        return float(seam.thread)

    assert (thread(20 * inch) - thread(10 * inch)) / (10 * inch) == pytest.approx(2.50, abs=1e-4)


def test_a_running_needle_enters_from_either_side_in_turn(planned: Make) -> None:
    told = json.loads(planned(strips("running", 16, 4, 4) + "back = 0").json())
    (seam,) = told["seams"]
    assert seam["walk"] == [1, 2, 3, 4, 5, 4, 3, 2, 1]
    assert [step["first"] for step in seam["way"]] == ["back", "front"] * 4 + ["back"]
    assert [move["passes"] for move in seam["moves"]] == [1] * 7 + [0]


REFUSED = [
    (
        strips("whip", 100, 5, 4).replace('"upper: A-B"', '{ run = "upper: A-B", inset = 12 }'),
        'p.toml:20: error: seam "row": stitch: found whip stitch with holes 12.0 mm from the edge; allowed: '
        "at most 8 mm, two insets, on the front and the back; use the saddle stitch, or stitch along edges "
        "[stitch-off-edge]",
    ),
    (
        strips("saddle", 100, 5, 4).replace(', "under"]', "]").replace("saddle", "cross"),
        'p.toml:20: error: seam "row": stitch: found cross stitch through 1 layer; allowed: two layers that '
        "meet edge to edge; use the saddle stitch, or name two runs [stitch-of-two]",
    ),
    (
        strips("saddle", 100, 5, 4) + "wrap_start = 1\npast_start = 2",
        'p.toml:22: error: seam "row": past_start: found a hole 2 mm past the mouth, and no layer that goes '
        "on so far; allowed: a layer that goes on past the mouth; take past_start out, or make it smaller "
        "[past-without-base]",
    ),
]


@pytest.mark.parametrize(("text", "line"), REFUSED)
def test_refusals(planned: Make, text: str, line: str) -> None:
    with pytest.raises(ProjectError) as refused:
        planned(text)
    assert [str(f) for f in refused.value.findings if f.severity.value == "error"] == [line]
