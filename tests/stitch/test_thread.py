"""Thread: the saddle stitch's sums, held to figures from outside, and threads cut in several."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate, pairwise
from math import dist
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.kinds.stitches import StitchKind
from handkit.stitch.plan import Move, rule_of_thumb
from handkit.stitch.sewing.joins import OVERLAP
from handkit.stitch.sewing.kinds import HoleSites, laid
from handkit.stitch.sewing.thread import ThreadPath, end_to_end, least_side, part_of, threads, wrap_length
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


# Several seams on one thread, over layers that go part of the way: a strand lies on the layer nearest to
# its side that has both of its holes, and passes the layers that its hole goes through.


class Layer:
    """Some of a row's holes, a little further apart on each layer; the base has all."""

    def __init__(self, thick: float, wide: float, holes: set[int]) -> None:
        self.thick, self.wide, self.holes = round(thick, 3), wide, holes

    def at(self, hole: int) -> tuple[float, float] | None:
        return (hole * self.wide, hole % 3 * 0.5) if hole in self.holes else None


@st.composite
def rows(draw: st.DrawFn) -> tuple[list[Layer], list[int]]:
    """Layers from the front, the base among them, and how many stitches each seam has."""
    lengths = draw(st.lists(st.integers(1, 25), min_size=1, max_size=4))
    count = sum(lengths) + 1
    holes = st.sets(st.integers(0, count - 1))
    part_way = st.builds(Layer, st.floats(0.5, 4), st.floats(3.5, 4.5), holes)
    layers = draw(st.lists(part_way, max_size=4))
    base = Layer(draw(st.floats(0.5, 4)), 4.0, set(range(count)))
    layers.insert(draw(st.integers(0, len(layers))), base)
    return layers, lengths


def seam_path(
    layers: list[Layer], begin: int, stitches: int, back: tuple[int, int], tail: float
) -> ThreadPath:
    """One of the seams on its own: its holes are some of the row's, counted from 1."""
    holes = range(begin, begin + stitches + 1)

    def down(some: list[Layer]) -> tuple[Any, ...]:
        reach = next(k for k, layer in enumerate(some) if set(holes) <= layer.holes)
        return tuple(tuple(layer.at(hole) for hole in holes) for layer in some[: reach + 1])

    stacks = tuple(round(sum(one.thick for one in layers if hole in one.holes), 3) for hole in holes)
    level = (0.0,) * len(stacks)
    way = walk(len(holes), closed=False, start_back=back[0], back=back[1])
    lay = laid(StitchKind.SADDLE, way, HoleSites(down(layers), down(layers[::-1]), stacks, level, level))
    fixed = tuple(place for place, hole in enumerate(way) if hole in (1, len(holes)))
    return ThreadPath(lay.moves, lay.stacks, 0.0, 0.0, tail, lay.strands, fixed=fixed)


def strands(layers: list[Layer], way: Sequence[int]) -> float:
    """Two needles led through the row's holes one at a time, every strand and passage as it is laid."""
    total = sum(one.thick for one in layers if way[0] in one.holes)
    faces = [layers, layers[::-1]]  # what each needle sees first, from the side that it is on
    for here, there in pairwise(way):
        for needle in (0, 1):
            ends = ((one.at(here), one.at(there)) for one in faces[needle])
            a, b = next((a, b) for a, b in ends if a is not None and b is not None)
            total += dist(a, b) + sum(one.thick for one in layers if there in one.holes)
        faces.reverse()
    return total


@settings(derandomize=True, deadline=None, max_examples=150)
@given(rows(), st.tuples(st.integers(0, 3), st.integers(0, 3)), st.floats(60, 500), st.integers(0, 20))
def test_a_row_of_seams_takes_what_its_strands_take(
    row: tuple[list[Layer], list[int]], back: tuple[int, int], side: float, tail: int
) -> None:
    layers, lengths = row
    last, count = len(lengths) - 1, sum(lengths) + 1
    begins = [*accumulate(lengths, initial=0)]
    ends = [(back[0] if k == 0 else 0, back[1] if k == last else 0) for k in range(last + 1)]
    paths = [seam_path(layers, begins[k], n, ends[k], tail) for k, n in enumerate(lengths)]
    whole = end_to_end(paths)
    first = min(back[0], lengths[0])
    way = [*range(first, 0, -1), *range(count), *range(count - 2, count - 2 - min(back[1], lengths[-1]), -1)]
    found = threads(whole, longest_side=side)
    assert found
    joints = [*accumulate((path.last for path in paths), initial=0)]
    assert joints[-1] == len(way) - 1
    for thread in found:
        laid_out = strands(layers, way[thread.start : thread.end + 1])
        assert thread.cut - thread.tails == pytest.approx(laid_out, abs=0.001 * (len(lengths) + 1))
        parts = [part_of(whole, thread, a, b) for a, b in pairwise(joints)]
        own = [(k, part) for k, part in enumerate(parts) if part]
        assert sum(part.cut for _, part in own) == pytest.approx(thread.cut, abs=1e-6)
        assert {part.whole for _, part in own} == {thread.cut}
        for (k, one), (next_k, other) in pairwise(own):  # from each seam's end into the next one's first hole
            assert (next_k, one.end, other.start) == (k + 1, paths[k].last, 0)
        ends_at = (joints[own[0][0]] + own[0][1].start, joints[own[-1][0]] + own[-1][1].end)
        assert ends_at == (thread.start, thread.end)
