"""One seam through the whole road: stacks, wraps, pitches that differ, and what is said of it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from handkit.errors import ProjectError

Make = Callable[[str], Any]

# Two pieces whose stitch line along A-B is 200 mm: 51 holes, 50 stitches of 4 mm.
STRIP = """
[[piece]]
name = "under"
rectangle = [208, 40]
[[piece]]
name = "upper"
rectangle = [208, 40]
on = "under"
[[seam]]
name = "long"
runs = ["upper: A-B", "under"]
"""


def test_a_straight_seam(planned: Make, head: str) -> None:
    """200 mm at 4 mm, stack 4, three back stitches, tails of 100: 1052 mm, worked out by hand."""
    seam = planned(head + STRIP + "back = 3\n").plan.seams[0]
    assert (seam.punched.count, seam.length, seam.stack) == (51, pytest.approx(200), 4)
    assert (seam.stitches, seam.back, seam.start_back) == (50, 3, 0)
    assert seam.thread == pytest.approx(1052, abs=0.001)
    assert seam.rule_of_thumb == pytest.approx(1100, abs=0.001)


def test_a_longer_layer_takes_its_own_pitch(planned: Make, head: str) -> None:
    """4 mm on 4.32 behind, stack 4: 820 mm and two tails, worked out by hand."""
    text = STRIP.replace('"under"\nrectangle = [208', '"under"\nrectangle = [224')
    text = text.replace('on = "under"', 'on = "under"\nflat = false')
    text = text.replace('"upper: A-B", "under"', '"upper: A-B", "under: A-B"') + "back = 0\nbowed = true\n"
    seam = planned(head + text).plan.seams[0]
    assert seam.thread == pytest.approx(820 + 200, abs=0.06)  # 50 steps, each to 0.001 mm
    assert {move.front for move in seam.moves} == {4.0}
    assert {move.back for move in seam.moves} == {4.32}


def test_a_short_seam_takes_ten_times_its_length(planned: Make, head: str) -> None:
    """40 mm at 4 mm, stack 4, three back stitches, tails of 100: 412 mm, worked out by hand."""
    seam = planned(head + STRIP.replace("208", "48") + "back = 3\n").plan.seams[0]
    assert seam.thread == pytest.approx(412, abs=0.001)


def test_a_skived_edge_thins_the_stack(planned: Make, head: str) -> None:
    """2 mm thinned to 1 over 10 mm from A-D: at 4 mm from it, 1 + 4/10, and 2 below: 3.4, by hand."""
    text = STRIP.replace('on = "under"', 'on = "under"\nskive = { "D-A" = { width = 10, to = 1 } }')
    seam = planned(head + text + "back = 0\n").plan.seams[0]
    assert seam.threads[0].start_stack == pytest.approx(3.4)
    assert [move.stack for move in seam.moves[:3]] == pytest.approx([3.8, 4, 4])
    assert seam.stack == 4


def test_turns_round_the_edge_at_both_ends(planned: Make, head: str) -> None:
    """Two turns at 4 mm from the edge, stack 4: 2 x (2 x 4 + 2 x 4) = 32; one more at the end: 16."""
    plain = planned(head + STRIP).plan.seams[0]
    seam = planned(head + STRIP + "wrap_start = 2\nwrap_end = 1\n").plan.seams[0]
    assert seam.wraps == pytest.approx(48, abs=0.003)
    assert seam.thread == pytest.approx(plain.thread + 48, abs=0.003)


def test_a_piece_that_is_in_twice_counts_twice(planned: Make, head: str) -> None:
    fold = '[[piece]]\nname = "sheath"\nrectangle = [100, 160]\nfolds = { spine = [[50, 0], [50, 160]] }\n'
    seam = planned(
        head + fold + '[[seam]]\nname = "side"\nruns = ["sheath: D-A", "sheath: C-B"]\n'
    ).plan.seams[0]
    assert seam.stack == 4


def test_a_closed_seam_goes_on_over_its_first_stitches(planned: Make, head: str) -> None:
    text = STRIP.replace("[208, 40]", "[48, 48]").replace("upper: A-B", "upper: A-B-C-D-A")
    seam = planned(head + text + "back = 2\n").plan.seams[0]
    assert seam.punched.count == 40
    assert seam.walk[-4:] == (40, 1, 2, 3)
    assert seam.thread == pytest.approx(4 + 42 * (8 + 8) + 200, abs=0.001)


def test_a_long_seam_is_cut_in_two(planned: Make, head: str) -> None:
    """The thread of 1052 mm is 526 a side; with 400 a side two, each with its tails."""
    seam = planned(head + STRIP + "back = 3\nlongest = 400\n").plan.seams[0]
    assert [(thread.start, thread.end) for thread in seam.threads] == [(0, 28), (26, 53)]
    assert [thread.cut for thread in seam.threads] == pytest.approx([4 + 28 * 16 + 200, 4 + 27 * 16 + 200])
    assert seam.thread == pytest.approx(sum(thread.cut for thread in seam.threads))


def test_no_thread_is_a_refusal(planned: Make, head: str) -> None:
    with pytest.raises(ProjectError) as refused:
        planned(head + STRIP + "longest = 200\ntail = 190\n")
    assert str(refused.value) == (
        'p.toml:20: error: seam "long": longest: found a longest thread of 200 mm a side; allowed: at least '
        "216 mm here, 190 mm of it tail; allow a longer thread or shorter tails [longest-thread-too-short]"
    )


def test_no_thread_for_all_that_a_line_is_about_is_told_once_at_the_worst(planned: Make, head: str) -> None:
    """Two seams that say nothing of their own; the one with the greater step needs more."""
    text = head.replace("tail = 100", "tail = 190\nlongest = 200") + STRIP
    other = STRIP[STRIP.index("[[seam]]") :].replace('"long"', '"wide"') + "pitch = 6\n"
    with pytest.raises(ProjectError) as refused:
        planned(text + other.replace("A-B", "C-D"))
    (told,) = refused.value.findings
    assert told.code == "longest-thread-too-short"
    # 190 + (3 x (2 x 6.06 + 2 x 4) + 4) / 2 = 222.2, a whole mm up: by hand
    assert told.allowed.startswith("at least 223 mm here")


def test_more_back_stitches_than_the_seam_has_are_noted(planned: Make, head: str) -> None:
    told = planned(head + STRIP.replace("208", "16") + "back = 5\n")
    assert told.plan.seams[0].walk == (1, 2, 3, 2, 1)
    assert [str(f) for f in told.plan.findings if f.severity.value == "note"] == [
        'p.toml:20: note: seam "long": back: found 5 back stitches in a seam of 3 holes; allowed: at most 2; '
        "the plan has 2; say so in the file if that is meant [back-stitches-end]"
    ]


def test_a_short_seam_that_a_part_drafts_is_locked_as_far_as_it_goes_and_not_noted(planned: Make) -> None:
    """A keeper's ring is closed by two stitch holes, and so by one stitch back."""
    told = planned(
        'format = 1\n[material]\nthickness = 3\n[[part]]\nname = "tie"\nkind = "strap"\n'
        "width = 25\nbar = 4\ngirth = [600, 700]\n"
    )
    keeper = next(seam for seam in told.plan.seams if seam.punched.name == "tie keeper")
    assert (keeper.punched.count, keeper.walk) == (2, (1, 2, 1))
    assert told.plan.findings == ()


def test_what_the_rule_of_thumb_says_is_a_figure_and_no_finding(planned: Make, head: str) -> None:
    """180 mm by the rule, 300 by the sum: the plan's figure alone tells it (by hand: 5 x 16 + 100)."""
    second = (
        '[[seam]]\nname = "short"\nruns = [{ run = "upper: D-A", from_start = 8, from_end = 8 }, "under"]\n'
    )
    told = planned(head + STRIP + second)
    assert told.plan.findings == ()
    short = next(seam for seam in told.plan.seams if seam.name == "short")
    assert (short.rule_of_thumb, round(short.thread)) == (180, 300)


POCKETED = """format = 1
[material]
thickness = 2
[stitching]
{common}
[[piece]]
name = "back"
rectangle = [300, 300]
[[part]]
name = "pocket"
kind = "{kind}"
on = "back"
at = [20, 20]
[[item]]
name = "rule"
in = "pocket"
size = [30, 6, 150]
[[item]]
name = "card"
in = "pocket"
size = [60, 6, 120]
{more}
"""
# By kind, [stitching] and the file's own [[seam]]: back stitches at start and end of each seam.
MOUTHS = [
    ("flat pocket", "", "", {"pocket": (2, 2), "pocket 1": (2, 2)}),
    ("flat pocket", "pitch = 3\nthread = 0.5", "", {"pocket": (3, 3), "pocket 1": (3, 3)}),  # fine: 3
    ("flat pocket", "back = 4", "", {"pocket": (2, 4), "pocket 1": (2, 4)}),
    ("flat pocket", "start_back = 0", "", {"pocket": (0, 2), "pocket 1": (0, 2)}),
    (
        "flat pocket",
        "",
        '[[seam]]\nname = "pocket"\nstart_back = 1\nback = 0',
        {"pocket": (1, 0), "pocket 1": (2, 2)},
    ),
    ("boxed pocket", "", "", {"pocket, front": (2, 2), "pocket, base": (2, 2)}),
    # Three seams round a bowed pocket, from mouth to mouth, one thread: none is locked at a bottom corner.
    ("bowed pocket", "", "", {"pocket, left": (2, 0), "pocket, foot": (0, 0), "pocket, right": (0, 2)}),
    # Where one thread would be too long a second is joined on its way, and still no corner is locked.
    (
        "bowed pocket",
        "longest = 700",
        "",
        {"pocket, left": (2, 0), "pocket, foot": (0, 0), "pocket, right": (0, 2)},
    ),
    # Where the file locks an end itself, each seam has its own.
    (
        "bowed pocket",
        "",
        '[[seam]]\nname = "pocket, foot"\nback = 3',
        {"pocket, left": (2, 2), "pocket, foot": (0, 3), "pocket, right": (0, 2)},
    ),
    (
        "flat pocket",
        "",
        '[[seam]]\nname = "hem"\nruns = ["back: A-B"]',
        {"pocket": (2, 2), "pocket 1": (2, 2), "hem": (0, 2)},
    ),
]


@pytest.mark.parametrize(("kind", "common", "more", "back"), MOUTHS)
def test_drafted_pockets_start_and_end_with_back_stitches(
    planned: Make, kind: str, common: str, more: str, back: dict[str, tuple[int, int]]
) -> None:
    seams = planned(POCKETED.format(kind=kind, common=common, more=more)).plan.seams
    assert {seam.name: (seam.start_back, seam.back) for seam in seams} == back


def test_a_drafted_seam_of_no_pocket_starts_plain(planned: Make, head: str) -> None:
    lining = """[[piece]]
name = "front"
rectangle = [120, 80]
[[part]]
name = "lining"
kind = "lining"
of = "front"
"""
    (seam,) = planned(head + lining).plan.seams
    assert (seam.start_back, seam.back) == (0, 2)
