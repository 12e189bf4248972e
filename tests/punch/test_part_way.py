"""Layers that go part of the way: which holes lie on them, and how holes keep clear of their edges.

run along y = 4 of a base, from x = 4      │ edge of a layer that lies on the base
·  ·  ·  ·  ·  ·  ·  ·  ·  ·  ·  ·  ·  ·   │ ·  ·  ·  ·  ·
"""

from __future__ import annotations

from itertools import pairwise
from math import dist
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.draft.pattern import Pattern
from handkit.errors import ProjectError
from handkit.findings import Finding
from handkit.geometry.affine import Affine
from handkit.geometry.path import circle, polyline
from handkit.punch.checks.mouths import mouths_of
from handkit.punch.punched import Punched
from handkit.punch.puncher import punch
from handkit.punch.spacing.clear_steps import merged_gates, spread_clear
from handkit.punch.spacing.clearing import MOUTH_LEAST
from handkit.read.project import RoundHole, SlitHole, Spacing
from handkit.tolerances import EDGE_SLACK

SEEDED = settings(derandomize=True, deadline=None, max_examples=60)
LONG = settings(derandomize=True, deadline=None, max_examples=500)


def on_base(bench: Any, *layers: tuple[float, float], length: float = 200.0, **changes: Any) -> Pattern:
    """A base with a row of holes from x = 4 to `length` − 4 at y = 4, and layers from x to x flush with
    its foot, all of them in the seam without a run of their own.
    """
    pieces = [bench.piece("base", bench.rectangle(length, 60))]
    for level, (left, right) in enumerate(layers, start=1):
        outline = polyline([(0, 0), (right - left, 0), (right - left, 40), (0, 40)], closed=True)
        place = Affine.shift(left, 0)
        pieces.append(
            bench.piece(f"layer {level}", outline, on="base", root="base", placed=place, level=level, depth=1)
        )
    run = bench.run("base", polyline([(4, 4), (length - 4, 4)]))
    carried = (bench.run(piece.name, None, carried_from=0) for piece in pieces[1:])
    return bench.pattern(pieces, [bench.seam("row", run, *carried, **changes)])


def told(pattern: Pattern) -> tuple[Finding, ...]:
    try:
        return punch(pattern).findings
    except ProjectError as error:
        return error.findings


def stretches(punched: Punched) -> list[tuple[tuple[int, int], ...]]:
    (seam,) = punched.seams
    return [seam.stretches_of(layer) for layer in seam.layers]


# Holes stand at x = 4 k: 192 ÷ 4 = 48 steps (by hand). Each edge lies 2 mm from its holes, and
# 2 ≥ 0.8 + 0.25: nothing is moved.
@pytest.mark.parametrize(
    ("layers", "wanted"),
    [
        ([(-4, 98)], [(1, 24)]),
        ([(102, 204)], [(26, 49)]),
        ([(50, 98)], [(13, 24)]),
        ([(-4, 98), (-4, 54), (102, 204)], [(1, 24), (1, 13), (26, 49)]),
    ],
)
def test_a_layer_takes_the_holes_that_lie_on_it(
    bench: Any, layers: list[tuple[float, float]], wanted: list[tuple[int, int]]
) -> None:
    punched = punch(on_base(bench, *layers))
    assert [hole.at[0] for hole in punched.seams[0].layers[0].holes] == pytest.approx(
        [4.0 * k for k in range(1, 50)]
    )
    assert stretches(punched) == [((1, 49),), *(((first, last),) for first, last in wanted)]
    assert punched.findings == ()
    for layer, (first, last) in zip(punched.seams[0].layers[1:], wanted, strict=True):
        assert layer.length == pytest.approx(4.0 * (last - first))


def test_one_layer_several_stretches(bench: Any) -> None:
    """A comb with two teeth: 0 to 30 and 62 to 200; the run goes over the gap. Holes to 28, from 64."""
    outline = [(0, 0), (30, 0), (30, 20), (62, 20), (62, 0), (200, 0), (200, 40), (0, 40)]
    pattern = on_base(bench, (0, 200))
    comb = bench.piece(
        "layer 1", polyline(outline, closed=True), on="base", root="base", placed=Affine(), level=1
    )
    punched = punch(bench.pattern([pattern.pieces[0], comb], pattern.seams))
    assert stretches(punched) == [((1, 49),), ((1, 7), (16, 49))]
    (seam,) = punched.seams
    assert [(one.first, one.last, len(one.layers)) for one in seam.stacks] == [
        (1, 7, 2),
        (8, 15, 1),
        (16, 49, 2),
    ]
    assert seam.through(7) == (seam.layers[0], seam.layers[1])  # as listed: from the face down
    assert seam.through(8) == (seam.layers[0],)
    assert seam.layers[1].length == pytest.approx(6 * 4 + 33 * 4)
    assert {round(cross.along) for cross in punched.crossings} == {26, 58}
    assert [cross.onto for cross in punched.crossings] == [False, True]


def test_round_a_closed_seam_a_stretch_goes_on_over_its_start(bench: Any) -> None:
    """A base of 108 x 58 sewn round 4 in; a layer over its left half: 100 and 50 ÷ 4: 25 and 13 steps
    (50 ÷ 13 = 3.846). The edge at 54 stands midway between hole 13 (52) and 14 (56).
    """
    pieces = [
        bench.piece("base", bench.rectangle(108, 58)),
        bench.piece("half", bench.rectangle(54, 58), on="base", root="base", level=1),
    ]
    ring = polyline([(4, 4), (104, 4), (104, 54), (4, 54)], closed=True)
    seam = bench.seam("rim", bench.run("base", ring), bench.run("half", None, carried_from=0))
    punched = punch(bench.pattern(pieces, [seam]))
    (made,) = punched.seams
    assert made.count == 76
    assert made.stretches_of(made.layers[1]) == ((52, 13),)
    assert [(one.first, one.last) for one in made.stacks] == [(1, 13), (14, 51), (52, 76)]
    assert [hole.number for hole in made.rows_of(made.layers[1])[0]] == [*range(52, 77), *range(1, 14)]
    assert made.layers[1].length == pytest.approx(12 * 4 + 50 + 12 * 4)
    assert made.face is made.layers[0]


def test_a_slit_keeps_its_projection_from_a_mouth(bench: Any) -> None:
    """2.5 long at 45 degrees: 1.768 wide towards an edge that stands square; 0.884 + 0.25 = 1.134."""
    clear = told(on_base(bench, (-4, 97.2), hole=SlitHole(2.5, 45.0)))  # hole at 96: 1.2 on it
    assert clear == ()
    punched = punch(on_base(bench, (-4, 97.1), hole=SlitHole(2.5, 45.0)))  # 1.1: moved
    base, layer = punched.seams[0].layers
    last = base.hole(layer.holes[-1].number)
    assert last is not None
    assert 97.1 - last.at[0] >= 1.134 - 1e-3
    assert punched.findings == ()


CASES: dict[str, tuple[Any, list[str]]] = {
    "missed": (
        lambda b: on_base(b, (-90, -10)),
        [
            'bag.toml:20: error: run "layer 1": found no hole of seam "row" on "layer 1"; allowed: a layer '
            "that the run passes through; move the piece, or take it out of the seam [layer-missed]"
        ],
    ),
    "at a mouth, too coarse": (
        # 24 mm, 4 a step: with 5 % the hole behind 19.7 can be at 20.65 to 20.8 (four steps), and two
        # more to 28 would be 3.6 to 3.7 (by hand).
        lambda b: on_base(b, (-4, 13.9), (-4, 19.7), length=32, hole=RoundHole(1.9), thread=0.9),
        [
            'bag.toml:20: warning: run "layer 2": found hole 5 of seam "row" 0.3 mm outside the edge of '
            '"layer 2"; allowed: at least 0.95 mm outside it; move the piece by 0.65 mm, or choose another '
            "pitch [hole-at-mouth]"
        ],
    ),
    "fixed": (
        lambda b: on_base(b, (-4, 4.5)),
        [
            'bag.toml:20: warning: run "layer 1": found hole 1 of seam "row", which a corner, an end or a '
            'match point fixes, 0.5 mm inside the edge of "layer 1"; allowed: at least 1.05 mm inside it; '
            "move the piece by 0.55 mm, so that its edge lies off that hole [hole-at-mouth]"
        ],
    ),
    "by an iron": (
        lambda b: on_base(b, (-4, 99.7), spacing=Spacing.IRON),
        [
            'bag.toml:20: warning: run "layer 1": found hole 25 of seam "row", which an iron spaces, 0.3 mm '
            'outside the edge of "layer 1"; allowed: at least 0.8 mm outside it; say spacing = "even", or '
            "move the piece by 0.5 mm [hole-at-mouth]"
        ],
    ),
}


@pytest.mark.parametrize("case", CASES)
def test_what_is_said(bench: Any, case: str) -> None:
    make, texts = CASES[case]
    assert [str(finding) for finding in told(make(bench))] == texts


# The plain hole 25 stands at 100. On the layer a hole of 1.6 keeps 0.8 + 0.25, better 0.8 + 0.5, from
# its edge, beside it 0.8; with steps within 5 % of 4 the better is reached (by hand: 24 steps of up to
# 4.2 reach 104.8 from 4, of 3.8 at least 95.2).
@pytest.mark.parametrize("edge", [99.3, 99.7, 100.0, 100.4, 100.9])
def test_holes_are_spaced_clear_of_an_edge(bench: Any, edge: float) -> None:
    punched = punch(on_base(bench, (-4, edge)))
    base, layer = punched.seams[0].layers
    xs = [hole.at[0] for hole in base.holes]
    last, behind = xs[len(layer.holes) - 1], xs[len(layer.holes)]
    assert last <= edge - 1.3 + 1e-5
    assert behind >= edge + 0.8 - 1e-5
    assert len({round(b - a, 4) for a, b in pairwise(xs)}) <= 3  # even before, across, and behind
    assert punched.findings == ()


def test_an_edge_anywhere_is_cleared(bench: Any) -> None:
    """Every tenth of a millimetre over three pitches in the middle of a row of 192."""
    for tenth in range(120):
        assert punch(on_base(bench, (-4, 96 + tenth / 10))).findings == (), tenth


def test_holes_that_clear_an_edge_are_no_corners(bench: Any) -> None:
    punched = punch(on_base(bench, (-4, 99.7)))
    base = punched.seams[0].layers[0]
    assert [hole.number for hole in base.holes if hole.corner] == [1, len(base.holes)]


def test_mates_holes_move_at_the_same_share(bench: Any) -> None:
    """A second run twice as long, meant so: its holes keep their numbers and shares."""
    pattern = on_base(bench, (-4, 99.7))
    mate = bench.piece("mate", bench.rectangle(392, 60))
    (seam,) = pattern.seams
    runs = (*seam.runs, bench.run("mate", polyline([(4, 4), (388, 4)])))
    both = bench.pattern([*pattern.pieces, mate], [bench.seam("row", *runs, bowed=True)])
    base, _, other = punch(both).seams[0].layers
    assert [2 * (hole.at[0] - 4) for hole in base.holes] == pytest.approx(
        [hole.at[0] - 4 for hole in other.holes]
    )


def test_an_edge_that_runs_along_is_no_mouth(bench: Any) -> None:
    """A layer whose edge crosses the row at 14 degrees: holes near it are told as of every edge."""
    pattern = on_base(bench, (0, 200))
    slanting = polyline([(0, 0), (100, -21), (200, 29), (200, 40), (0, 40)], closed=True)
    layer = bench.piece("layer 1", slanting, on="base", root="base", placed=Affine(), level=1)
    found = told(bench.pattern([pattern.pieces[0], layer], pattern.seams))
    assert {finding.code for finding in found} >= {"hole-at-edge"}


def test_each_hole_has_its_own_stack_at_an_edge(bench: Any) -> None:
    """Six layers of 2.4 and the base: 8.4 at six of them; where a hole goes through two, 3 mm do."""
    layers = [(-4, 102), (-4, 98), (-4, 94), (-4, 90), (-4, 86), (-4, 82)]
    found = told(on_base(bench, *layers))
    counts = {finding.found.rpartition(" and ")[2] for finding in found if "base" in finding.found}
    assert [finding.code for finding in found].count("hole-near-edge") == 7
    assert counts == {"22 more"}  # 23 holes go through four layers or more: half of 9.6 is over 4


def test_pieces_are_pierced_only_between_layers_that_a_hole_goes_through(bench: Any) -> None:
    """A welt under the upper layer's end alone is pierced there; beyond that layer it is not."""
    pattern = on_base(bench, (-4, 98))
    (base, upper), (seam,) = pattern.pieces, pattern.seams
    upper = bench.piece("layer 1", upper.outline, on="base", root="base", placed=upper.placed, level=2)

    def welt(left: float) -> Any:
        place = Affine.shift(left, 0)
        return bench.piece(
            "welt", bench.rectangle(40, 40), on="base", root="base", placed=place, level=1, depth=1
        )

    assert told(bench.pattern([base, welt(120), upper], [seam])) == ()
    (found,) = told(bench.pattern([base, welt(82), upper], [seam]))  # holes at 84, 88, 92, 96
    assert found.code == "piece-pierced"
    assert found.found == 'hole 21 of seam "row" through "welt", which lies between its layers; and 3 more'


# Gates on a stretch, by hand: holes of a pitch of 3 at 12 and 15; with 14.2 to 15.3 kept free the
# hole behind is at 15.3 (five steps of 3.06), the one before 12.24: 2 %.
def test_clear_steps_by_hand() -> None:
    found = spread_clear(30, [(14.2, 15.3)], pitch=3, share=0.05)
    assert found is not None
    ((before, four), (behind, five)) = found.fixed
    assert (four, five, found.steps) == (4, 5, 10)
    assert (before, behind) == (pytest.approx(12.24, abs=1e-3), pytest.approx(15.3))
    assert spread_clear(30, [(14.2, 15.3)], pitch=3, share=0.01) is None
    assert spread_clear(30, [(14.2, 17.5)], pitch=3, share=0.05) is None  # wider than a step
    assert spread_clear(6, [(0, 3.1)], pitch=3, share=0.05) is not None  # behind the first hole itself
    assert spread_clear(6, [(-0.1, 1)], pitch=3, share=0.05) is None  # the first hole lies in it


def placed(length: float, fixed: Any, steps: int) -> list[float]:
    """All holes: even steps between fixed ones."""
    found, last = [0.0], (0.0, 0)
    for at, number in (*fixed, (length, steps)):
        count = number - last[1]
        found += [last[0] + (at - last[0]) * k / count for k in range(1, count + 1)]
        last = (at, number)
    return found


GATES = st.lists(st.tuples(st.floats(0, 80), st.floats(0.1, 2.8)), min_size=1, max_size=6)


def clear_law(length: float, gates: list[tuple[float, float]], share: float) -> None:
    spans_ = merged_gates([(at, at + wide) for at, wide in gates if at + wide <= length])
    pitch = length / max(1, round(length / 3))
    found = spread_clear(length, spans_, pitch=pitch, share=share)
    if found is None:
        return
    places = placed(length, found.fixed, found.steps)
    assert len(places) == found.steps + 1
    assert all(abs((b - a) / pitch - 1) <= share + 1e-6 for a, b in pairwise(places))
    assert not [at for at in places for low, high in spans_ if low + 1e-6 < at < high - 1e-6]


@SEEDED
@given(length=st.floats(9, 90), gates=GATES, share=st.sampled_from([0.01, 0.05, 0.08]))
def test_steps_keep_out_of_gates_and_within_the_share(
    length: float, gates: list[tuple[float, float]], share: float
) -> None:
    clear_law(length, gates, share)


@pytest.mark.long
@LONG
@given(length=st.floats(9, 90), gates=GATES, share=st.sampled_from([0.01, 0.05, 0.08]))
def test_steps_keep_out_of_gates_at_length(
    length: float, gates: list[tuple[float, float]], share: float
) -> None:
    clear_law(length, gates, share)


LAYERS = st.lists(
    st.tuples(st.floats(-10, 150), st.floats(3, 120)).map(lambda one: (one[0], one[0] + one[1])),
    min_size=1,
    max_size=4,
)


def layers_law(bench: Any, layers: list[tuple[float, float]], width: float, pitch: float) -> None:
    """Each hole of a layer lies on it and no other hole does; every step is within 5 % of the plain one;
    each hole keeps off the layer's edges, or is told.
    """
    pattern = on_base(bench, *layers, hole=RoundHole(width), thread=width / 2, pitch=pitch)
    try:
        punched = punch(pattern)
    except ProjectError as error:
        assert {finding.code for finding in error.findings if finding.severity == "error"} <= {
            "layer-missed",
            "hole-at-edge",
        }
        return
    (seam,) = punched.seams
    base, *others = seam.layers
    plain = 192 / round(192 / pitch)
    assert all(abs(dist(a.at, b.at) / plain - 1) <= 0.05 + 1e-5 for a, b in pairwise(base.holes))
    quiet = not [finding for finding in punched.findings if finding.code == "hole-at-mouth"]
    for (left, right), layer in zip(layers, others, strict=True):
        on = {hole.number for hole in base.holes if left - EDGE_SLACK <= hole.at[0] <= right + EDGE_SLACK}
        assert {hole.number for hole in layer.holes} == on
        for hole in base.holes if quiet and len(on) < seam.count else ():
            apart = min(abs(hole.at[0] - left), abs(hole.at[0] - right))
            assert apart >= width / 2 + (MOUTH_LEAST if hole.number in on else 0.0) - 1e-5


# Hole and pitch.
SEWN = st.sampled_from([(0.8, 3.0), (1.2, 3.0), (1.2, 4.0), (1.6, 4.0)])


@SEEDED
@given(layers=LAYERS, sewn=SEWN)
def test_holes_of_layers_laid_anywhere(
    bench: Any, layers: list[tuple[float, float]], sewn: tuple[float, float]
) -> None:
    layers_law(bench, layers, *sewn)


@pytest.mark.long
@LONG
@given(layers=LAYERS, sewn=SEWN)
def test_holes_of_layers_laid_anywhere_at_length(
    bench: Any, layers: list[tuple[float, float]], sewn: tuple[float, float]
) -> None:
    layers_law(bench, layers, *sewn)


def test_a_round_layer_has_its_crossings_on_both_halves(bench: Any) -> None:
    pattern = on_base(bench, (0, 200))
    disc = bench.piece(
        "layer 1", circle((0, 0), 30), on="base", root="base", placed=Affine.shift(100, 10), level=1, depth=1
    )
    punched = punch(bench.pattern([pattern.pieces[0], disc], pattern.seams))
    # At y = 4, 6 under the middle: 100 ± √(900 − 36) = 70.61 and 129.39, 66.61 and 125.39 along.
    assert [round(cross.along, 2) for cross in punched.crossings] == [66.61, 125.39]
    assert mouths_of(punched.seams, punched.crossings) == {("row", 2): frozenset({1})}
    assert stretches(punched)[1] == ((18, 32),)
