"""Threads that serve several seams: the fewest there can be, held to a search of its own."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from functools import cache
from itertools import pairwise
from typing import Any

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.draw.export.plan_csv import plan_csv
from handkit.draw.words.names import kit_plan
from handkit.draw.words.needle_words import seam_lines
from handkit.draw.words.work_order import order_parts
from handkit.stitch.plan import cut_threads
from handkit.stitch.sewing.joins import CLEAR, OVERLAP
from handkit.stitch.sewing.trails import fewest_trails, least_trails

Make = Callable[[str], Any]
Edges = list[tuple[int, int]]


def fewest_by_trying(edges: Edges) -> int:
    """Trails tried out edge by edge, each on from where the last one ended or from anywhere."""

    @cache
    def least(left: frozenset[int], at: int | None) -> int:
        if not left:
            return 0
        ways = []
        for index in left:
            for start, end in (edges[index], edges[index][::-1]):
                rest = left - {index}
                ways.append(least(rest, end) + (0 if start == at else 1))
        return min(ways)

    return least(frozenset(range(len(edges))), None)


EDGES = st.lists(st.tuples(st.integers(0, 5), st.integers(0, 5)), min_size=1, max_size=8)


@settings(derandomize=True, deadline=None, max_examples=150)
@given(EDGES)
def test_no_fewer_trails_would_do_and_the_bound_is_met(edges: Edges) -> None:
    trails = fewest_trails(edges)
    assert sorted(index for trail in trails for index, _ in trail) == list(range(len(edges)))
    for trail in trails:
        walked = [edges[index][::-1] if turned else edges[index] for index, turned in trail]
        assert all(before[1] == after[0] for before, after in pairwise(walked))
    assert len(trails) == least_trails(edges) == fewest_by_trying(edges)


@settings(derandomize=True, deadline=None, max_examples=200)
@given(st.lists(st.tuples(st.integers(0, 30), st.integers(0, 30)), min_size=1, max_size=60))
def test_the_bound_is_a_graph_library_s(edges: Edges) -> None:
    """Odd-degree places of each connected group, by a general-purpose graph library."""
    graph = nx.MultiGraph(edges)
    groups = nx.connected_components(graph)
    odd = [sum(degree % 2 for _, degree in graph.degree(group)) for group in groups]
    assert len(fewest_trails(edges)) == least_trails(edges) == sum(max(1, count // 2) for count in odd)


@pytest.mark.parametrize(
    ("edges", "count"),
    [
        ([(1, 2)], 1),
        ([(1, 2), (2, 3), (3, 1)], 1),  # a ring
        ([(1, 2), (1, 3), (1, 4)], 2),  # a star of three: four odd places
        ([(1, 2), (2, 3), (3, 4), (4, 1), (1, 3), (2, 4)], 2),  # a square and its diagonals
        ([(1, 2), (3, 4)], 2),  # apart
        ([(1, 1), (1, 2)], 1),  # a closed seam and one that leaves it
        ([(1, 2), (2, 3), (3, 1), (1, 4), (4, 5), (5, 1), (1, 6), (6, 7)], 1),  # rings put in on the way
    ],
)
def test_known_graphs(edges: Edges, count: int) -> None:
    """Half the odd places of each group, at least one (Euler; worked out by hand)."""
    assert len(fewest_trails(edges)) == least_trails(edges) == count


TWO = """
[[piece]]
name = "a"
rectangle = {0}
[[piece]]
name = "b"
rectangle = {0}
on = "a"
"""


def square(*runs: str, more: str = "") -> str:
    """Two pieces of 48 mm laid on each other: ten stitches of 4 mm a side."""
    text = (
        '[[piece]]\nname = "a"\nrectangle = [48, 48]\n[[piece]]\nname = "b"\nrectangle = [48, 48]\non = "a"\n'
    )
    for number, run in enumerate(runs, start=1):
        text += f'[[seam]]\nname = "s{number}"\nruns = ["b: {run}", "a"]\nback = 2\n{more}'
    return text


def test_seams_that_meet_in_a_corner(planned: Make, head: str) -> None:
    """20 stitches and 2 back through 4 mm: 4 + 22 x 16 + 200, against 2 x (4 + 12 x 16 + 200); by hand."""
    (shared,) = planned(head + square("A-B", "B-C")).plan.shared
    assert shared.seams == (("s1", False), ("s2", False))
    assert shared.cuts == (pytest.approx(556, abs=0.001),)
    assert shared.apart == pytest.approx(792, abs=0.001)


def test_a_seam_may_be_sewn_from_its_end(planned: Make, head: str) -> None:
    (shared,) = planned(head + square("A-B", "C-B", "C-D")).plan.shared
    assert shared.seams == (("s1", False), ("s2", True), ("s3", False))
    assert shared.cuts == (pytest.approx(4 + 32 * 16 + 200, abs=0.001),)


def test_four_sides_are_one_round(planned: Make, head: str) -> None:
    (shared,) = planned(head + square("A-B", "C-D", "B-C", "D-A")).plan.shared
    assert [name for name, _ in shared.seams] == ["s1", "s3", "s2", "s4"]
    assert shared.cuts == (pytest.approx(4 + 42 * 16 + 200, abs=0.001),)


def test_rows_that_run_on_have_a_stitch_between(planned: Make, head: str) -> None:
    """100 mm in two rows with one pitch between: 12 stitches, one over, 12, and 2 back: 27 of 16."""
    text = TWO.format("[108, 48]")
    text += '[[seam]]\nname = "s1"\nruns = [{ run = "b: A-B", from_end = 52 }, "a"]\n'
    text += '[[seam]]\nname = "s2"\nruns = [{ run = "b: A-B", from_start = 52 }, "a"]\n'
    (shared,) = planned(head + text).plan.shared
    assert shared.cuts == (pytest.approx(4 + 27 * 16 + 200, abs=0.001),)
    assert planned(head + text.replace("from_start = 52", "from_start = 60")).plan.shared == ()


def test_unlike_threads_are_not_shared(planned: Make, head: str) -> None:
    text = square("A-B", "B-C")
    assert planned(head + text + "thread = 0.7\n").plan.shared == ()
    assert planned(head + text + 'stitch = "running"\n').plan.shared == ()
    assert planned(head + text + "wrap_start = 1\n").plan.shared == ()  # its turns end a thread


def test_what_lies_between_keeps_them_apart(planned: Make, head: str) -> None:
    """One before the other, because the file says so: they do not change places, and are not offered."""
    assert planned(head + square("A-B", "B-C") + 'after = ["s1"]\n').plan.shared == ()


def test_the_gap_to_the_bound_is_noted(planned: Make, head: str) -> None:
    """556 mm is 278 a side: with 220 it takes two threads where one would do."""
    told = planned(head.replace("tail = 100", "tail = 100\nlongest = 220") + square("A-B", "B-C"))
    (shared,) = told.plan.shared
    assert len(shared.cuts) == 2
    assert [str(f) for f in told.plan.findings if f.code == "threads-over-bound"] == [
        'p.toml: note: found 2 threads where seams are sewn with shared ones ("s1", "s2"); allowed: 1, the '
        "fewest there can be without a longest thread; allow a longer thread, or leave it: a join more does "
        "no harm [threads-over-bound]"
    ]


BOWED = """
[[piece]]
name = "back"
rectangle = [200, 220]
[[item]]
name = "hank"
in = "pocket"
size = [76, 24, 150]
[[part]]
name = "pocket"
kind = "bowed pocket"
on = "back"
at = [30, 10]
"""


def test_a_bowed_pocket_is_sewn_with_one_thread(planned: Make, head: str) -> None:
    """What its three seams take is what one walk over all of them takes, reckoned a second way: every hole
    crossed twice but the first, a strand on either face, two back stitches at either mouth, both tails."""
    plan = planned(head + BOWED).plan
    left, foot, right = plan.seams
    assert (left.goes_on, foot.comes_from, foot.goes_on) == (foot.name, left.name, right.name)
    (thread,) = plan.shared
    assert thread.adopted
    moves = [move for seam in plan.seams for move in seam.moves]
    stack = left.stack  # the same all along: front on back
    by_hand = stack + sum(move.front + move.back + 2 * stack for move in moves) + 2 * 100
    assert sum(seam.thread for seam in plan.seams) == pytest.approx(by_hand, abs=0.001)
    assert [seam.threads[0].tails for seam in plan.seams] == [100, 0, 100]  # each where that end is
    assert thread.cuts == pytest.approx([by_hand], abs=0.001)
    assert {seam.row.thread for seam in plan.seams} == set(thread.cuts)
    assert [row.count for row in plan.threads] == [1]
    assert len(moves) == sum(seam.punched.count - 1 for seam in plan.seams) + 4


def test_of_a_row_the_whole_thread_is_told_once_and_no_end_where_it_goes_on(planned: Make, head: str) -> None:
    """42 and 35 and 42 stitches: 4 + 16 each, tails and four back stitches; the rule for all three."""
    told = planned(head + BOWED)
    whole = f"{told.plan.shared[0].cuts[0]:.0f} mm"
    (step,) = (step for step in order_parts(kit_plan(told.punched, told.plan)) if step.seams)
    assert step.seams == ("pocket, left", "pocket, foot", "pocket, right")
    assert step.aside == f"T1 {whole}"
    assert [line.text for line in step.lines if line.at_hand] == [
        "S1: 3 → 1, on to 32",
        "S2: 1 → 28",
        "S3: 1 → 32, back to 30",
    ]
    rule = 5 * sum(seam.length for seam in told.plan.seams) + 100  # common practice
    assert told.plan.shared[0].rule_of_thumb == pytest.approx(rule, abs=0.001)
    steps = [step.what for step in told.plan.steps if step.kind.value == "seam"]
    assert steps[0].startswith("Spread cement 2.2 mm wide along D-A, A-B and B-C of pocket, between ")
    assert [what.partition(" pocket")[0] for what in steps[1:]] == ["Stitch", "Stitch"]  # stuck already
    assert told.text().count(whole) == 2  # among the threads and at the step
    at = [[event.value for event in place.events] for seam in told.plan.seams for place in seam.way]
    assert at[0] == ["start"]
    assert at[-1] == ["back stitch", "end"]
    assert not any({"start", "end", "join", "shared hole"} & set(events) for events in at[1:-1])
    (row,) = csv.DictReader(io.StringIO(plan_csv(told.plan, told.punched)))
    ends = (row["seam"], row["from_hole"], row["to_seam"], row["to_hole"], row["tails_mm"])
    assert ends == ("pocket, left", "3", "pocket, right", str(told.plan.seams[2].walk[-1]), "200.0")
    assert row["goes_on_in"] == "pocket, foot; pocket, right"


def test_a_row_that_is_too_long_for_one_thread_is_joined_on_its_way(planned: Make, head: str) -> None:
    """Never at a corner where there is a choice: three holes of a join, each two off a corner or mouth."""
    made = planned(head.replace("tail = 100", "tail = 100\nlongest = 700") + BOWED)
    plan = made.plan
    (shared,) = plan.shared
    assert (shared.adopted, len(shared.cuts)) == (True, 2)
    assert all(cut <= 1400 for cut in shared.cuts)
    assert [seam.goes_on for seam in plan.seams] == ["pocket, foot", "pocket, right", ""]
    foot = plan.seams[1]
    ends, begins = foot.threads
    assert (ends.seams, begins.seams) == (
        ("pocket, left", "pocket, foot"),
        ("pocket, foot", "pocket, right"),
    )
    assert ends.end - begins.start == OVERLAP
    assert begins.start + 1 > CLEAR
    assert ends.end + CLEAR < foot.punched.count - 1
    lines = seam_lines(kit_plan(made.punched, plan), foot)
    join = f"thread 1 ends in hole {ends.end + 1}; thread 2 begins in hole {begins.start + 1}"
    assert [line.text for line in lines if line.key == "Join"] == [f"{join}, over the same holes"]
    two = [(thread.code, thread.number, thread.count, thread.over) for thread in cut_threads(plan.seams)]
    assert two == [("T1", 1, 2, None), ("T2", 2, 2, ("pocket, foot", ends.end + 1))]
    assert [row.count for row in plan.threads] == [2]


def test_a_join_may_lie_over_a_joint_where_there_is_no_room_beside_it(planned: Make, head: str) -> None:
    """344 of 400 mm are tails: joins lie everywhere, and each seam tells what of them is in it."""
    tight = head.replace("tail = 100", "tail = 172\nlongest = 200") + BOWED.replace("150]", "60]")
    made = planned(tight)
    plan, kit = made.plan, kit_plan(made.punched, made.plan)
    threads = cut_threads(plan.seams)
    over = [thread for thread in threads if thread.over and thread.over[0] != thread.seam.name]
    assert over  # it begins in one seam, over the end of the last one in the next
    for thread in over:
        name, hole = thread.over or ("", 0)
        other = next(seam for seam in plan.seams if seam.name == name)
        here, there = (
            [line.text for line in seam_lines(kit, seam) if line.key == "Join"]
            for seam in (thread.seam, other)
        )
        k = thread.number
        assert f"thread {k} begins in hole {thread.first_hole}, over the same holes" in here
        assert f"thread {k - 1} ends in hole {hole}, over the same holes" in there


def test_a_seam_of_the_maker_s_that_runs_on_into_a_row_leaves_it_whole(planned: Make, head: str) -> None:
    """A box at the mouth, 5 mm from the row's first hole on either piece: it is no part of the row, and
    the row's corners are not locked for it."""
    first = [hole for layer in planned(head + BOWED).plan.seams[0].punched.layers for hole in layer.holes[:1]]
    lines = "".join(
        f"[[piece]]\nname = {name!r}\n{shape}[piece.lines]\nbox = [[{x + 5}, {y}], [{x + 17}, {y}]]\n"
        for name, shape, (x, y) in (
            ("pocket", "", first[0].at),
            ("back", "rectangle = [200, 220]\n", first[1].at),
        )
    )
    drafted = BOWED.replace('[[piece]]\nname = "back"\nrectangle = [200, 220]\n', "")
    box = '[[seam]]\nname = "box"\nruns = ["pocket: box", "back: box"]\n'
    plan = planned(head + lines + drafted + box).plan
    assert [seam.name for seam in plan.seams if seam.comes_from or seam.goes_on] == [
        "pocket, left",
        "pocket, foot",
        "pocket, right",
    ]
    assert [(thread.adopted, len(thread.seams)) for thread in plan.shared] == [(True, 3)]


def test_threads_of_seams_that_the_maker_writes_stay_their_own(planned: Make, head: str) -> None:
    """They are offered one thread, no more."""
    rows = """
[[piece]]
name = "back"
rectangle = [100, 120]
[[piece]]
name = "front"
rectangle = [100, 120]
on = "back"
[[seam]]
name = "one"
runs = ["front: D-A", "back"]
[[seam]]
name = "two"
runs = ["front: A-B", "back"]
"""
    plan = planned(head + rows).plan
    assert not any(shared.adopted for shared in plan.shared)
    assert not any(seam.goes_on or seam.comes_from for seam in plan.seams)


def test_a_thread_through_several_seams_counts_once_on_the_spool_of_the_first(
    planned: Make, head: str
) -> None:
    """Seams that one thread goes through may be given unlike spools; it is cut from one."""
    plan = planned(head + BOWED + '[[seam]]\nname = "pocket, foot"\nspool = 25\n').plan
    (row,) = plan.threads
    assert (row.count, row.spool, len(row.seams)) == (1, None, 3)
    # What the file adds to one of them does not take it out of its place in the row.
    assert (
        [seam.name for seam in plan.seams]
        == list(row.seams)
        == ["pocket, left", "pocket, foot", "pocket, right"]
    )
    assert row.length == pytest.approx(sum(seam.thread for seam in plan.seams))
