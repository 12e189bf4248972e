"""Straights: what is left out of a long straight piece, and what is never left out."""

from __future__ import annotations

from math import cos, radians, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from handkit.geometry.affine import Affine
from handkit.geometry.region import region_of_points
from handkit.ink import BREAK_DEPTH, BREAK_OVER
from handkit.kinds.pages import Straights, Windows
from handkit.paper import PAPERS
from handkit.sheets.cut.straights import KEPT, LEAST_GAP, shortened
from handkit.sheets.engine import place
from handkit.sheets.joins.keep_out import Capsule
from handkit.sheets.nest.packing import Size
from handkit.sheets.shape import Shape

PAGE = Size(190, 277)  # A4 less a margin of 10

# 1000 × 40, its far end pointed from 980 on.
STRAP = Shape("strap", ((0, 0), (980, 0), (1000, 20), (980, 40), (0, 40)))


def hole(x: float, y: float = 20.0, r: float = 3.0) -> Capsule:
    return Capsule((x, y), (x, y), r)


def gaps(shape: Shape) -> list[tuple[float, float]]:
    """From where to where something is left out, along x; all lines stand upright."""
    return [(gap.lines[0][0][0], gap.lines[1][0][0]) for gap in shortened(shape, PAGE).gaps]


# By hand: 25 mm stay beside whatever is next.
TABLE = [
    pytest.param(STRAP, [(25, 955)], id="from the square end to where the point begins"),
    pytest.param(replace(STRAP, keep_outs=(hole(100),)), [(128, 955)], id="never where a hole is"),
    pytest.param(replace(STRAP, keep_outs=(hole(500),)), [(25, 472), (528, 955)], id="on both sides of one"),
    pytest.param(
        replace(STRAP, keep_outs=(Capsule((480, 20), (520, 20), 2),)),
        [(25, 453), (547, 955)],
        id="or of a slot",
    ),
    pytest.param(
        replace(STRAP, lines=(((0, 10), (600.5, 10)),)), [(625.5, 954.5)], id="nor an inner line; whole mm"
    ),
    pytest.param(replace(STRAP, lines=(((300, 0), (300, 40)),)), [(25, 275), (325, 955)], id="nor a fold"),
    pytest.param(replace(STRAP, texts=((700, 20),)), [(25, 675), (725, 955)], id="nor a number"),
    pytest.param(replace(STRAP, letters=((700, 0),)), [(25, 675), (725, 955)], id="nor a letter"),
    pytest.param(
        replace(STRAP, keep_outs=tuple(hole(x) for x in range(100, 1000, 150))),
        [],
        id="nothing worth measuring",
    ),
    pytest.param(Shape("short", ((0, 0), (270, 0), (270, 40), (0, 40))), [], id="a piece that fits is whole"),
    pytest.param(Shape("wedge", ((0, 0), (980, 0), (980, 39), (0, 40))), [], id="edges that run together"),
    pytest.param(Shape("panel", ((0, 0), (900, 0), (900, 200), (0, 200))), [], id="wider than the page"),
    pytest.param(
        Shape("notched", ((0, 0), (980, 0), (980, 40), (500, 40), (500, 30), (490, 30), (490, 40), (0, 40))),
        [],
        id="edges that are not whole",
    ),
]


@pytest.mark.parametrize(("shape", "expected"), TABLE)
def test_what_is_left_out(shape: Shape, expected: list[tuple[float, float]]) -> None:
    if shape.name == "notched":  # its upper edge is two: each has a gap of its own with the lower one
        expected = [(525, 955), (25, 465)]
    assert gaps(shape) == expected


def test_the_ring_the_other_way_round_leaves_out_the_same() -> None:
    back = replace(STRAP, ring=tuple(reversed(STRAP.ring)))
    assert gaps(back) == gaps(STRAP)
    ends = [{x for x, _ in part.shape.ring} for part in shortened(back, PAGE).parts]
    assert sorted((min(xs), max(xs)) for xs in ends) == [(0, 25 + BREAK_DEPTH), (955 - BREAK_DEPTH, 1000)]


def test_of_a_hook_only_the_back_is_shortened_for_an_arm_has_the_other_beside_it() -> None:
    ring = ((0, 0), (900, 0), (900, 500), (0, 500), (0, 460), (860, 460), (860, 40), (0, 40))
    (gap,) = shortened(Shape("hook", ring), PAGE).gaps
    assert gap.lines == (((900, 65), (860, 65)), ((900, 435), (860, 435)))


def test_both_legs_of_an_angle_are_shortened() -> None:
    ring = ((0, 0), (900, 0), (900, 60), (60, 60), (60, 700), (0, 700))
    parted = shortened(Shape("angle", ring), PAGE)
    assert [gap.length for gap in parted.gaps] == [790.0, 590.0]
    assert [part.ends for part in parted.parts] == [((0, 0), (1, 0)), ((0, 1),), ((1, 1),)]


straps = st.builds(
    lambda length, width, turn, at, flip: (length, width, turn, at, flip),
    st.floats(400, 3000),
    st.floats(10, 150),
    st.integers(0, 359),
    st.floats(0.2, 0.8),
    st.booleans(),
)


@settings(derandomize=True, deadline=None, max_examples=60)
@given(strap=straps)
def test_parts_and_gaps_are_the_piece(strap: tuple[float, float, int, float, bool]) -> None:
    """What is drawn and what is left out together are the piece; a whole number of mm is left out."""
    length, width, turn, at, flip = strap
    base = Affine.turn(turn) @ (Affine.mirror() if flip else Affine())
    ring = base.apply_all(((0, 0), (length, 0), (length, width), (0, width)))
    keep_out = base.apply((length * at, width / 2))
    shape = Shape("strap", ring, keep_outs=(Capsule(keep_out, keep_out, 2.0),))
    parted = shortened(shape, PAGE)
    piece = region_of_points(ring)
    drawn = sum(region_of_points(part.shape.ring).area for part in parted.parts)
    rooms = sum(len(part.ends) for part in parted.parts) * (width + 2 * BREAK_OVER) * BREAK_DEPTH
    left = sum(gap.length * width for gap in parted.gaps)
    assert drawn - rooms + left == pytest.approx(piece.area, rel=1e-6)
    assert len(parted.parts) == len(parted.gaps) + 1
    for gap in parted.gaps:
        assert gap.length == int(gap.length) >= max(LEAST_GAP, width)
        (a, b), (c, d) = gap.lines
        area = region_of_points((a, b, d, c))
        assert area.edge_distance(keep_out) >= 2.0 + KEPT - 1e-3
        assert not area.contains(keep_out)


@pytest.mark.parametrize("windows", list(Windows))
def test_the_parts_are_windows_of_one_piece(windows: Windows) -> None:
    placed = place(
        [replace(STRAP, keep_outs=(hole(100), hole(600)))],
        paper=PAPERS[0],
        margin=10,
        windows=windows,
        straights=Straights.SHORTENED,
    )
    shown = sorted((w for sheet in placed.sheets for w in sheet.windows), key=lambda w: w.number)
    assert [(w.piece, w.number, w.count) for w in shown] == [("strap", k, 3) for k in (1, 2, 3)]
    assert [one.windows for one in placed.breaks] == [((1,), (2,)), ((2,), (3,))]
    assert placed.joins == ()
    ends = [(min(x for x, _ in w.polygon), max(x for x, _ in w.polygon)) for w in shown]
    assert [round(high, 3) for _, high in ends[:2]] == [128, 628]
    assert [round(low, 3) for low, _ in ends[1:]] == [572, 955]


def test_a_slanting_strap_is_cut_square() -> None:
    c, s = cos(radians(30)), sin(radians(30))
    ring = tuple((x * c - y * s, x * s + y * c) for x, y in STRAP.ring)
    (gap,) = shortened(replace(STRAP, ring=ring), PAGE).gaps
    for a, b in gap.lines:
        assert (b[0] - a[0]) * c + (b[1] - a[1]) * s == pytest.approx(0, abs=1e-9)
