"""Layers: carried holes, slits, shared holes."""

from __future__ import annotations

from math import cos, hypot, radians, sin
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.draft.pattern import PatternFold
from handkit.geometry.affine import Affine, Point
from handkit.geometry.path import circle, polyline
from handkit.punch.puncher import punch
from handkit.read.project import SlitHole

SEEDED = settings(derandomize=True, deadline=None, max_examples=100)
SLIT = SlitHole(2.5, 45.0)


def lying(bench: Any, name: str, outline: Any, place: Affine, *, level: int = 1) -> Any:
    return bench.piece(name, outline, on="base", root="base", placed=place, level=level, depth=1)


def test_a_carried_layer_takes_the_holes_through_both_placements(bench: Any) -> None:
    place = Affine.shift(39, 40) @ Affine.turn(90)
    pieces = [
        bench.piece("base", bench.rectangle(200, 270)),
        lying(bench, "pocket", bench.rectangle(70, 36), place),
    ]
    run = bench.run("pocket", polyline([(4, 4), (66, 4)]))
    seam = bench.seam("pocket", run, bench.run("base", None, carried_from=0))
    top, base = punch(bench.pattern(pieces, [seam])).seams[0].layers
    # Turned a quarter to the left about the origin, then moved: (x, y) → (39 − y, 40 + x), by hand.
    for one, other in zip(top.holes, base.holes, strict=True):
        assert other.at == pytest.approx((39 - one.at[1], 40 + one.at[0]), abs=1e-12)
        assert (one.along_degrees, other.along_degrees) == (0.0, 90.0)
        assert one.number == other.number
        assert one.corner == other.corner
    assert base.text == ""
    assert (top.run, base.run) == (1, 2)
    assert base.length == top.length == 62.0


@pytest.mark.parametrize(
    ("place", "along", "slit"),
    [
        (Affine(), 0.0, 45.0),
        (Affine.turn(90), 90.0, 135.0),
        (Affine.turn(180), 180.0, 45.0),
        (Affine.mirror(), 180.0, 135.0),
    ],
)
def test_slits_are_carried_by_the_map(bench: Any, place: Affine, along: float, slit: float) -> None:
    big = polyline([(-300, -300), (300, -300), (300, 300), (-300, 300)], closed=True)
    pieces = [bench.piece("base", big), lying(bench, "top", bench.rectangle(90, 60), place)]
    seam = bench.seam(
        "s",
        bench.run("top", polyline([(10, 10), (50, 10)])),
        bench.run("base", None, carried_from=0),
        hole=SLIT,
    )
    top, base = punch(bench.pattern(pieces, [seam])).seams[0].layers
    assert {(h.along_degrees, h.slit_degrees) for h in top.holes} == {(0.0, 45.0)}
    assert {(h.along_degrees, h.slit_degrees) for h in base.holes} == {(along, slit)}


@pytest.mark.parametrize(
    ("first", "second", "slit"), [(1, 1, 45.0), (1, -1, 135.0), (-1, 1, 135.0), (1, 0, 45.0), (0, -1, 45.0)]
)
def test_slits_of_layers_marked_from_opposite_sides_are_mirrored(
    bench: Any, first: int, second: int, slit: float
) -> None:
    pieces = [bench.piece(name, bench.rectangle(90, 60)) for name in ("front", "back")]
    way = polyline([(10, 10), (50, 10)])
    seam = bench.seam(
        "s", bench.run("front", way, inside=first), bench.run("back", way, inside=second), hole=SLIT
    )
    front, back = punch(bench.pattern(pieces, [seam])).seams[0].layers
    assert {h.slit_degrees for h in front.holes} == {45.0}
    assert {h.slit_degrees for h in back.holes} == {slit}


def test_slits_of_stated_flat_layers_meet(bench: Any) -> None:
    # A lining turned over under its piece: its body lies right of the way, and its slits are mirrored.
    place = Affine.shift(90, 0) @ Affine.mirror()
    pieces = [
        bench.piece("base", bench.rectangle(90, 60)),
        lying(bench, "lining", bench.rectangle(90, 60), place, level=-1),
    ]
    seam = bench.seam(
        "s",
        bench.run("base", polyline([(10, 10), (50, 10)]), inside=1),
        bench.run("lining", polyline([(80, 10), (40, 10)]), inside=1),
        hole=SLIT,
    )
    base, lining = punch(bench.pattern(pieces, [seam])).seams[0].layers
    for one, other in zip(base.holes, lining.holes, strict=True):
        assert one.slit_degrees == 45.0
        assert other.slit_degrees == 135.0
        # The direction once laid in place, worked out from the placement alone.
        x, y = cos(radians(other.slit_degrees)), sin(radians(other.slit_degrees))
        laid = place.apply_direction((x, y))
        assert abs(laid[0] * sin(radians(45)) - laid[1] * cos(radians(45))) < 1e-9


# Two rows of one strap, hole k on hole k: folded back the second lies turned over on the first, lapped
# (a keeper closed to a ring) it lies as it is marked. By hand: 45° mirrored at an upright fold is 135°.
@pytest.mark.parametrize(
    ("folds", "second", "slit"),
    [
        ([80.0], [(152, 5), (97, 5)], 135.0),  # folded back on itself
        ([], [(97, 5), (152, 5)], 45.0),  # lapped
        ([90.0, 120.0], [(97, 5), (152, 5)], 45.0),  # folded twice: lies as it is marked
        ([60.0, 80.0, 90.0], [(152, 5), (97, 5)], 135.0),
        ([200.0], [(97, 5), (152, 5)], 45.0),  # a fold that is not between them
    ],
)
def test_slits_of_a_folded_piece_meet_as_they_will_lie(
    bench: Any, folds: list[float], second: list[Point], slit: float
) -> None:
    lines = tuple(PatternFold(f"fold {x:g}", polyline([(x, 0), (x, 38)])) for x in folds)
    strap = bench.piece("strap", bench.rectangle(400, 38), folds=lines, grain_degrees=0.0)
    runs = [bench.run("strap", polyline([(8, 5), (63, 5)])), bench.run("strap", polyline(second))]
    first, other = punch(bench.pattern([strap], [bench.seam("s", *runs, hole=SLIT)])).seams[0].layers
    assert {hole.slit_degrees for hole in first.holes} == {45.0}
    assert {hole.slit_degrees for hole in other.holes} == {slit}


@pytest.mark.parametrize("slant", [0.0, 20.0, 45.0, 90.0])
@pytest.mark.parametrize("turn", [0.0, 33.0, 145.0, 270.0])
def test_slits_beyond_a_fold_are_the_first_ones_mirrored_in_it(bench: Any, turn: float, slant: float) -> None:
    """Whatever way the row and the fold go: reflected in the fold line, slit lies on slit."""
    place = Affine.shift(150, 150) @ Affine.turn(turn)
    fold = PatternFold("fold", polyline(place.apply_all([(0, -140), (0, 140)])))
    rows = [polyline(place.apply_all(row)) for row in ([(-60, -20), (-10, 15)], [(60, -20), (10, 15)])]
    piece = bench.piece("p", bench.rectangle(300, 300), folds=(fold,))
    seam = bench.seam("s", *(bench.run("p", row) for row in rows), hole=SlitHole(2.5, slant), pitch=6.0)
    first, second = punch(bench.pattern([piece], [seam])).seams[0].layers
    over = place @ Affine.mirror() @ place.inverse()
    for one, other in zip(first.holes, second.holes, strict=True):
        laid = over.apply(other.at)
        assert hypot(laid[0] - one.at[0], laid[1] - one.at[1]) < 0.01
        x, y = over.apply_direction((cos(radians(other.slit_degrees)), sin(radians(other.slit_degrees))))
        assert abs(x * sin(radians(one.slit_degrees)) - y * cos(radians(one.slit_degrees))) < 1e-9


def test_a_carried_layer_of_one_that_is_no_root_and_not_flat(bench: Any) -> None:
    # A label on a bowed front: the front does not lie flat, but the label lies flat on the front.
    pieces = [
        bench.piece("back", bench.rectangle(200, 270)),
        bench.piece("front", bench.rectangle(150, 150), on="back", flat=False, placed=None, level=1),
        bench.piece(
            "label",
            bench.rectangle(70, 60),
            on="front",
            root="front",
            placed=Affine.shift(39, 40),
            level=2,
            depth=2,
        ),
    ]
    run = bench.run("label", polyline([(4, 56), (4, 4), (66, 4), (66, 56)]))
    seam = bench.seam("label", run, bench.run("front", None, carried_from=0))
    label, front = punch(bench.pattern(pieces, [seam])).seams[0].layers
    assert front.holes[0].at == (43.0, 96.0)
    assert [hole.corner for hole in label.holes].count(True) == 4


def test_the_way_at_a_corner_is_half_way(bench: Any) -> None:
    piece = bench.piece("p", bench.rectangle(60, 60))
    seam = bench.seam("s", bench.run("p", polyline([(4, 56), (4, 4), (56, 4)])))
    holes = punch(bench.pattern([piece], [seam])).seams[0].layers[0].holes
    corner = next(hole for hole in holes if hole.at == (4, 4))
    assert corner.corner
    assert corner.along_degrees == 315.0
    assert (holes[0].along_degrees, holes[-1].along_degrees) == (270.0, 0.0)


@pytest.mark.parametrize("closed", [False, True])
def test_a_slit_at_a_corner_stands_to_the_leg_that_arrives(bench: Any, closed: bool) -> None:
    piece = bench.piece("p", bench.rectangle(60, 60))
    way = polyline([(4, 4), (56, 4), (56, 56), (4, 56)], closed=closed)
    holes = (
        punch(bench.pattern([piece], [bench.seam("s", bench.run("p", way), hole=SLIT)]))
        .seams[0]
        .layers[0]
        .holes
    )
    at = {hole.at: hole.slit_degrees for hole in holes}
    assert (at[56, 4], at[56, 56]) == (45.0, 135.0)
    assert at[4, 4] == (135.0 if closed else 45.0)
    assert at[4, 56] == 45.0


def test_a_closed_run_has_as_many_holes_as_steps(bench: Any) -> None:
    piece = bench.piece("p", bench.rectangle(60, 40))
    ring = polyline([(4, 4), (56, 4), (56, 36), (4, 36)], closed=True)
    seam = punch(bench.pattern([piece], [bench.seam("s", bench.run("p", ring))])).seams[0]
    assert seam.closed
    assert seam.count == 13 + 8 + 13 + 8
    assert seam.layers[0].length == 168
    first = seam.layers[0].holes[0]
    assert (first.at, first.along_degrees, first.corner) == ((4, 4), 315.0, True)


def test_a_circle_is_sewn_round(bench: Any) -> None:
    piece = bench.piece("disc", circle((0, 0), 34))
    seam = bench.seam("s", bench.run("disc", circle((0, 0), 30)), pitch=7.85)
    layer = punch(bench.pattern([piece], [seam])).seams[0].layers[0]
    assert len(layer.holes) == 24
    ends = zip(layer.holes, (*layer.holes[1:], layer.holes[0]), strict=True)
    steps = [hypot(b.at[0] - a.at[0], b.at[1] - a.at[1]) for a, b in ends]
    # Regular polygon, any geometry handbook: R = 30, n = 24: 7.8316.
    assert {round(step, 4) for step in steps} == {7.8316}
    assert max(steps) - min(steps) < 1e-9


def test_nothing_is_a_negative_zero(bench: Any) -> None:
    place = Affine.turn(180)
    big = polyline([(-300, -300), (300, -300), (300, 300), (-300, 300)], closed=True)
    pieces = [bench.piece("base", big), lying(bench, "top", big, place)]
    seam = bench.seam(
        "s",
        bench.run("top", polyline([(-40, 0), (40, 0)])),
        bench.run("base", None, carried_from=0),
        hole=SLIT,
    )
    for layer in punch(bench.pattern(pieces, [seam])).seams[0].layers:
        for hole in layer.holes:
            values = (*hole.at, hole.along_degrees, hole.slit_degrees)
            assert not any(str(value) == "-0.0" for value in values)


places = st.builds(
    lambda x, y, turn, over: Affine.shift(x, y) @ Affine.turn(turn) @ (Affine.mirror() if over else Affine()),
    st.floats(-200, 200),
    st.floats(-200, 200),
    st.floats(0, 360),
    st.booleans(),
)


@SEEDED
@given(places, places)
def test_flat_layers_coincide_once_laid_in_place(bench: Any, one: Affine, other: Affine) -> None:
    # Two pieces on one base, wherever they lie; the third layer carried from the first.
    big = polyline([(-2000, -2000), (2000, -2000), (2000, 2000), (-2000, 2000)], closed=True)
    pieces = [
        bench.piece("base", big),
        lying(bench, "top", bench.rectangle(90, 60), one),
        lying(bench, "bottom", big, other, level=-1),
    ]
    seam = bench.seam(
        "s",
        bench.run("top", polyline([(10, 50), (10, 10), (70, 10)])),
        bench.run("base", None, carried_from=0),
        bench.run("bottom", None, carried_from=0),
    )
    layers = punch(bench.pattern(pieces, [seam])).seams[0].layers
    for top, base, bottom in zip(*(layer.holes for layer in layers), strict=True):
        for matrix, hole in ((one, top), (other, bottom)):
            a, b, c, d, e, f = matrix.numbers()
            x, y = hole.at
            laid = (a * x + c * y + e, b * x + d * y + f)
            assert hypot(laid[0] - base.at[0], laid[1] - base.at[1]) < 1e-9


def test_two_seams_that_meet_share_a_hole(bench: Any) -> None:
    piece = bench.piece("p", bench.rectangle(60, 60))
    side = bench.seam("side", bench.run("p", polyline([(4, 56), (4, 4)])))
    foot = bench.seam("foot", bench.run("p", polyline([(4, 4), (56, 4)])))
    punched = punch(bench.pattern([piece], [side, foot]))
    assert [(s.piece, s.at, s.users) for s in punched.shared] == [
        ("p", (4, 4), (("side", 1, 14), ("foot", 1, 1)))
    ]
    assert punched.findings == ()


def test_the_start_and_the_end_of_one_seam_may_share_a_hole(bench: Any) -> None:
    piece = bench.piece("p", bench.rectangle(60, 60))
    ring = polyline([(4, 4), (56, 4), (56, 56), (4, 56), (4, 4)])
    punched = punch(bench.pattern([piece], [bench.seam("ring", bench.run("p", ring))]))
    assert punched.shared[0].users == (("ring", 1, 1), ("ring", 1, 53))


def test_three_seams_may_share_a_hole(bench: Any) -> None:
    piece = bench.piece("p", bench.rectangle(90, 60))
    ways = {
        "left": [(44, 30), (4, 30)],
        "right": [(44, 30), (84, 30)],
        "up": [(44, 30), (44, 54)],
    }
    seams = [bench.seam(name, bench.run("p", polyline(way))) for name, way in ways.items()]
    shared = punch(bench.pattern([piece], seams)).shared
    assert [s.users for s in shared] == [(("left", 1, 1), ("right", 1, 1), ("up", 1, 1))]
