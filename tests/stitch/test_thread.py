"""Thread: the saddle stitch's sums, held to figures from outside, and threads cut in several."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.kinds.stitches import StitchKind
from handkit.stitch.plan import Move, rule_of_thumb
from handkit.stitch.sewing.joins import OVERLAP
from handkit.stitch.sewing.kinds import HoleSites, laid
from handkit.stitch.sewing.thread import ThreadPath, least_side, threads, wrap_length
from handkit.stitch.sewing.walk import walk

FAR = 1e9
Points = Sequence[tuple[float, float]]


def moves(way: Sequence[int], *, front: Points, back: Points, stacks: Sequence[float]) -> tuple[Move, ...]:
    """The saddle stitch's."""
    level = (0.0,) * len(stacks)
    sites = HoleSites((tuple(front),), (tuple(back),), tuple(stacks), level, level)
    return laid(StitchKind.SADDLE, way, sites).moves


def sewn(
    holes: int,
    pitch: float,
    stack: float,
    *,
    back: int = 0,
    tail: float = 0,
    other: float = 0,
    closed: bool = False,
) -> ThreadPath:
    """Holes in line (or, closed, as if in line), all alike; `other` is the pitch on the back."""
    way = walk(holes, closed=closed, back=back, start_back=0)
    front = [(k * pitch, 0.0) for k in range(holes)]
    behind = [(k * (other or pitch), 0.0) for k in range(holes)]
    steps = moves(way, front=front, back=behind, stacks=[stack] * holes)
    return ThreadPath(steps, (stack,) * len(way), 0, 0, tail)


def whole(seam: ThreadPath) -> float:
    (thread,) = threads(seam, longest_side=FAR)
    return thread.cut


# bare = T + 2 M (p + T), worked out by hand where nothing else is said.
TABLE = [
    # holes, pitch, stack, back, tail, pitch behind, thread
    (51, 4, 4, 0, 0, 0, 804),
    (51, 4, 2, 0, 0, 0, 602),
    (101, 3, 2.4, 0, 0, 0, 1082.4),
    (31, 5, 7, 0, 0, 0, 727),
    (101, 2.54, 0.635, 0, 0, 0, 635.635),
    (51, 4, 4, 3, 100, 0, 1052),
    (11, 4, 4, 3, 100, 0, 412),  # a short seam: ten times its length
    (51, 4, 4, 0, 0, 4.32, 820),
    (1, 4, 4, 2, 100, 0, 204),  # one hole: crossed once
]


@pytest.mark.parametrize("row", TABLE)
def test_hand_worked_lengths(row: tuple[int, float, float, int, float, float, float]) -> None:
    holes, pitch, stack, back, tail, other, thread = row
    seam = sewn(holes, pitch, stack, back=back, tail=tail, other=other)
    assert whole(seam) == pytest.approx(thread, abs=1e-6)


@pytest.mark.parametrize(
    ("per_inch", "thickness", "ratio"),
    [(10, 0.025, 2.50), (10, 0.010, 2.20)],  # a textile-education page: C = 2 + 2 T S per inch
)
def test_per_stitch_term_is_the_lockstitchs(per_inch: int, thickness: float, ratio: float) -> None:
    """In inches: what 100 stitches add to a seam, by its length."""
    pitch = 1 / per_inch
    long, short = (whole(sewn(holes, pitch, thickness)) for holes in (201, 101))
    assert (long - short) / (100 * pitch) == pytest.approx(ratio, abs=1e-9)


@pytest.mark.parametrize(("share", "times"), [(0.25, 2.5), (0.5, 3), (1, 4), (1.5, 5), (2, 6)])
def test_the_trades_multiples_are_each_right_somewhere(share: float, times: float) -> None:
    """2 (1 + T / p) of the seam, ends aside (trade pages' multiples; worked out by hand)."""
    long, short = (whole(sewn(holes, 4, 4 * share)) for holes in (201, 101))
    assert (long - short) / 400 == pytest.approx(times)


def test_a_closed_seam_has_as_many_moves_as_holes() -> None:
    """2 L + (2 H + 1) T for H holes: a regular polygon of 24 sides of 4 mm, 3 thick, by hand."""
    way = walk(24, closed=True, back=0, start_back=0)
    assert len(way) - 1 == 24
    from_table = 2 * 24 * 4 + (2 * 24 + 1) * 3
    steps = tuple(
        moves(pair, front=[(0, 0)] * 24, back=[(0, 0)] * 24, stacks=[3] * 24)[0] for pair in pairwise(way)
    )
    level = sum(2 * 4 + 2 * step.stack for step in steps) + 3
    assert level == from_table


def test_a_turn_round_the_edge() -> None:
    assert wrap_length(1, to_edge=3, stack=4) == 14  # worked out by hand: 2 e + 2 T


def test_the_rule_of_thumb_fits_six_mm_on_four_and_is_two_fifths_too_much_on_three() -> None:
    assert rule_of_thumb(200) == 1100
    per_length = [2 * (1 + stack / 4) for stack in (6, 3)]
    assert [5 / times for times in per_length] == pytest.approx([1, 10 / 7])


def test_local_stacks_count_each_passage() -> None:
    """2, 3 and 4 mm at three holes 5 apart: 2 + (10 + 6) + (10 + 8) = 36, by hand."""
    steps = moves(
        (1, 2, 3), front=[(0, 0), (5, 0), (10, 0)], back=[(0, 0), (5, 0), (10, 0)], stacks=[2, 3, 4]
    )
    assert whole(ThreadPath(steps, (2, 3, 4), 0, 0, 0)) == 36


@pytest.mark.parametrize(
    ("side", "spans"),
    [
        (1400, [(0, 153)]),  # 2652 mm is two sides of 1326
        (700, [(0, 53), (51, 103), (101, 153)]),
        (400, [(0, 33), (31, 63), (61, 93), (91, 123), (121, 153)]),
    ],
)
def test_a_long_seam_takes_the_fewest_threads_as_alike_as_can_be(
    side: float, spans: list[tuple[int, int]]
) -> None:
    """150 stitches of 16 mm and three back: 4 + 16 M + 200 each; worked out by hand."""
    found = threads(sewn(151, 4, 4, back=3, tail=100), longest_side=side)
    assert [(thread.start, thread.end) for thread in found] == spans
    assert [t.cut for t in found] == [4 + 16 * (end - start) + 200 for start, end in spans]


def test_no_thread_where_tails_and_overlap_leave_nothing() -> None:
    seam = sewn(151, 4, 4, tail=100)
    assert least_side(seam) == (4 + 3 * 16 + 200) / 2
    assert threads(seam, longest_side=125) == ()
    assert threads(seam, longest_side=126) != ()


STACKS = st.lists(st.floats(0.5, 9).map(lambda x: round(x, 3)), min_size=2, max_size=80)


def random_seam(stacks: list[float], tail: float, wraps: tuple[float, float]) -> ThreadPath:
    way = walk(len(stacks), closed=False, back=2, start_back=1)
    places = [(4.0 * k, k % 3 * 0.5) for k in range(len(stacks))]
    steps = moves(way, front=places, back=places, stacks=stacks)
    return ThreadPath(steps, tuple(stacks[n - 1] for n in way), *wraps, tail)


@settings(derandomize=True, deadline=None, max_examples=200)
@given(
    STACKS, st.floats(0, 60), st.tuples(st.sampled_from([0, 14]), st.sampled_from([0, 9])), st.floats(40, 400)
)
def test_threads_sew_the_whole_way_and_none_is_too_long(
    stacks: list[float], tail: float, wraps: tuple[float, float], side: float
) -> None:
    seam = random_seam(stacks, tail, wraps)
    found = threads(seam, longest_side=side)
    if not found:
        assert side < least_side(seam)
        return
    assert (found[0].start, found[-1].end) == (0, seam.last)
    assert all(after.start == before.end - OVERLAP for before, after in pairwise(found))
    assert all(after.end > before.end for before, after in pairwise(found))
    assert all(thread.cut <= 2 * side for thread in found)


@settings(derandomize=True, deadline=None, max_examples=100)
@given(STACKS, st.floats(60, 200))
def test_no_fewer_threads_would_do(stacks: list[float], side: float) -> None:
    """Tried from the end by another way: the fewest threads from each place on."""
    seam = random_seam(stacks, 20, (0, 0))
    found = threads(seam, longest_side=side)
    steps = [move.front + move.back + 2 * move.stack for move in seam.moves]

    def fits(start: int, end: int) -> bool:
        return round(seam.stacks[start] + sum(steps[start:end]) + 40, 3) <= 2 * side

    fewest = {}
    for start in range(seam.last, -1, -1):
        ways = [1] if fits(start, seam.last) else []
        ways += [
            1 + fewest[end - OVERLAP]
            for end in range(start + OVERLAP + 1, seam.last)
            if fits(start, end) and fewest[end - OVERLAP]
        ]
        fewest[start] = min(ways, default=0)
    assert len(found) == fewest[0]


@settings(derandomize=True, deadline=None, max_examples=200)
@given(STACKS, st.floats(0, 200).map(lambda x: round(x, 3)))
def test_a_thread_is_the_sum_of_its_passages(stacks: list[float], tail: float) -> None:
    """Counted another way: every strand on either face, every passage of a hole, two tails."""
    seam = random_seam(stacks, tail, (0, 0))
    way = walk(len(stacks), closed=False, back=2, start_back=1)
    strands = sum(move.front + move.back for move in seam.moves)
    passages = [1 if index == 0 else 2 for index in range(len(way))]
    through = sum(count * stacks[number - 1] for count, number in zip(passages, way, strict=True))
    assert whole(seam) == pytest.approx(strands + through + 2 * tail, abs=0.001)
