"""A round foot on a tube: as many holes on the strip as round the foot, and one step across the joint."""

from __future__ import annotations

from itertools import pairwise
from math import hypot, pi, sin
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.draft.drafter import draft
from handkit.punch.punched import Punched, PunchedSeam
from handkit.punch.puncher import punch
from handkit.read.reader import read_project_text
from handkit.stitch.planner import plan

SEEDED = settings(derandomize=True, deadline=None, max_examples=40)


def pot(
    foot: str,
    wall: str,
    *,
    stitch: str = "saddle",
    runs: str = '"foot: A-A", "wall: A-B"',
    pitch: float = 4,
    from_start: float = 0,
    more: str = "",
) -> str:
    """A foot and the wall on it, whose joint stands 3 mm from either end."""
    ends = (f'{{ run = "wall: {edge}", from_start = {from_start} }}' for edge in ("B-C", "A-D"))
    return f"""format = 1
[material]
thickness = 1.6
[stitching]
pitch = {pitch}
inset = 4
thread = 0.6
[[piece]]
name = "foot"
{foot}
[[piece]]
name = "wall"
{wall}
on = "foot"
flat = false
[[seam]]
name = "joint"
inset = 3
stitch = "{stitch}"
runs = [{", ".join(ends)}]
[[seam]]
name = "foot seam"
runs = [{runs}]
{more}"""


def punched(text: str) -> Punched:
    return punch(draft(read_project_text(text, file="p.toml", folder=Path())))


def foot_seam(text: str) -> PunchedSeam:
    return punched(text).seams[1]


# By hand. Inset 4: the stitch line of a foot of 80 is a circle of 72, 226.19 round, 56.55 steps of 4, so 57,
# each straight across 72·sin(π/57); of 60 it is one of 52, 163.36 round, 40.84 steps, so 41. Butted, the
# strip is as long as that and its holes stand from 2 beside one end to step − 2 beside the other; lapped it
# is 3 longer at either end, with holes at 3 and one more than round, for the last is the first.
BUTTED = [(80, 226.19, 57, 226.19 / 57), (60, 163.36, 41, 163.36 / 41)]
LAPPED = [(80, 232.19, 58, 226.19 / 57), (60, 169.36, 42, 163.36 / 41)]


@pytest.mark.parametrize(("across", "width", "count", "step"), BUTTED)
def test_a_butted_wall_is_closed_as_the_foot_is(across: float, width: float, count: int, step: float) -> None:
    seam = foot_seam(pot(f"circle = {across}", f"rectangle = [{width}, 90]", stitch="cross", from_start=4))
    foot, wall = seam.layers
    assert (seam.closed, len(foot.holes), len(wall.holes)) == (True, count, count)
    assert wall.holes[0].at == pytest.approx((2, 4), abs=1e-9)
    assert wall.holes[1].at == pytest.approx((2 + step, 4), abs=1e-9)
    assert wall.holes[-1].at == pytest.approx((width - (step - 2), 4), abs=1e-9)
    assert wall.length == pytest.approx(width, abs=1e-9)
    assert seam.joint_step == pytest.approx((across - 8) * sin(pi / count), abs=1e-9)


@pytest.mark.parametrize(("across", "width", "count", "step"), LAPPED)
def test_a_lapped_wall_meets_itself_in_one_hole(across: float, width: float, count: int, step: float) -> None:
    whole = punched(pot(f"circle = {across}", f"rectangle = [{width}, 90]", from_start=1))
    seam = whole.seams[1]
    foot, wall = seam.layers
    assert (seam.closed, len(foot.holes), len(wall.holes)) == (False, count, count)
    assert foot.holes[0].at == pytest.approx(foot.holes[-1].at, abs=1e-9)
    assert [wall.holes[k].at for k in (0, 1, -1)] == [
        pytest.approx((3, 4), abs=1e-9),
        pytest.approx((3 + step, 4), abs=1e-9),
        pytest.approx((width - 3, 4), abs=1e-9),
    ]
    # The joint's first holes are the row's ends, the ring's first and last are one.
    shared = {(each.piece, len(each.users)) for each in whole.shared}
    assert (len(whole.shared), shared) == (3, {("wall", 2), ("foot", 2)})


def test_it_does_not_matter_which_is_named_first() -> None:
    text = pot("circle = 80", "rectangle = [226.19, 90]", stitch="cross", from_start=4)
    turned = text.replace('"foot: A-A", "wall: A-B"', '"wall: A-B", "foot: A-A"')
    one, other = ({layer.piece: layer.holes for layer in foot_seam(each).layers} for each in (text, turned))
    assert one == other


def test_ends_that_slant_are_butted_along_the_edge_itself() -> None:
    """By hand: at 4 mm up the ends of 10 in 100 stand at 0.4 and 225.79, so the row begins at 2.4."""
    leaning = "points = [[0, 0], [226.19, 0], [216.19, 100], [10, 100]]"
    wall = foot_seam(pot("circle = 80", leaning, stitch="cross", from_start=4)).layers[1]
    assert wall.length == pytest.approx(225.39, abs=1e-9)
    assert wall.holes[0].at == pytest.approx((2.4, 4), abs=1e-9)


def test_what_is_measured_across_the_joint_is_a_step() -> None:
    """The plan's pitch and thread. By hand: 59 moves (57 stitches, two back) of 2·(3.967 + 3.2), the first
    hole's 3.2 and tails of 360: 1209; with the joint taken for the strip's length it is 218 more.
    """
    text = pot("circle = 80", "rectangle = [226.19, 90]", stitch="cross", from_start=4)
    seam = next(each for each in plan(punched(text)).seams if each.name == "foot seam")
    assert seam.pitch == pytest.approx(3.968, abs=0.001)
    assert sum(thread.cut for thread in seam.threads) == pytest.approx(1209, abs=0.5)


def test_the_ends_of_a_butted_row_tear_nothing_out() -> None:
    """The holes beside the joint, 2 mm from an end: the end is sewn to the other, and no edge of theirs."""
    text = pot("circle = 80", "rectangle = [226.19, 90]", stitch="cross", from_start=4)
    assert punched(text).findings == ()


@SEEDED
@given(across=st.integers(50, 200), pitch=st.sampled_from([3.0, 4.0, 5.0]), butted=st.booleans())
def test_every_step_of_the_wall_is_alike_across_the_joint_too(
    across: int, pitch: float, butted: bool
) -> None:
    round_it = (across - 8) * pi
    width = round(round_it + (0 if butted else 6), 2)
    text = pot(
        f"circle = {across}",
        f"rectangle = [{width}, 90]",
        stitch="cross" if butted else "saddle",
        pitch=pitch,
        from_start=5 if butted else 1,
    )
    foot, wall = foot_seam(text).layers
    xs = [hole.at[0] for hole in wall.holes]
    steps = [b - a for a, b in pairwise(xs)]
    joint = width - xs[-1] + xs[0] if butted else xs[0] + (width - xs[-1]) - 6 + steps[0]
    assert [*steps, joint] == pytest.approx([steps[0]] * (len(steps) + 1), abs=1e-6)
    round_foot = [hole.at for hole in foot.holes]
    chords = [hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(round_foot)]
    assert len(chords) == len(steps)
    assert chords == pytest.approx([chords[0]] * len(chords), abs=1e-6)
