"""Bends in space, against values worked out by hand and the laws of rigid motions."""

from __future__ import annotations

from itertools import pairwise
from math import cos, degrees, pi, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handkit.geometry.affine import Affine
from handkit.geometry.path import Path, circle, polyline
from handkit.geometry.polygon import parts_left_of
from handkit.geometry.region import rectangle, region_of
from handkit.geometry.segment import Segment
from handkit.geometry.space import Bend, Motion, apart, bent, folded_sheet

# A line up the page at x = 10; what is right of it moves.
LINE = ((10.0, 0.0), (0.0, -1.0))


def place(bends: tuple[Bend, ...], x: float, y: float, z: float = 0.0) -> tuple[float, ...]:
    return tuple(round(v, 4) + 0.0 for v in bent(bends, (x, y)).apply((x, y, z)))


@pytest.mark.parametrize(
    ("angle", "half", "at", "comes_to"),
    [
        # Half a turn on a radius of 2: the zone is 2·pi wide. 5 beyond it lies 5 before it, 4 higher.
        (180.0, pi, (10 + pi + 5, 3.0), (10 - pi - 5, 3.0, 4.0)),
        (-180.0, pi, (10 + pi + 5, 3.0), (10 - pi - 5, 3.0, -4.0)),
        # A quarter on a radius of 2: the zone is pi wide. 5 beyond it stands 2 + 5 high, 2 beyond its start.
        (90.0, pi / 2, (10 + pi / 2 + 5, 3.0), (10 - pi / 2 + 2, 3.0, 7.0)),
        # The middle of a quarter's zone, an eighth of a turn: 2·sin 45° on, 2·(1 − cos 45°) high.
        (90.0, pi / 2, (10.0, 3.0), (10 - pi / 2 + 2**0.5, 3.0, 2 - 2**0.5)),
        # What is before the zone keeps its place.
        (90.0, pi / 2, (8.0, -4.0), (8.0, -4.0, 0.0)),
    ],
)
def test_where_a_bend_brings_a_point(
    angle: float, half: float, at: tuple[float, float], comes_to: tuple[float, float, float]
) -> None:
    """By hand, from the circle that the zone lies on."""
    assert place((Bend(*LINE, angle, half),), *at) == pytest.approx(comes_to, abs=1e-4)


def test_two_bends_make_a_u() -> None:
    """By hand: a strip with quarters of radius 2 at 10 and at 40 stands up, then goes back over itself."""
    quarters = (Bend((10.0, 0.0), (0.0, -1.0), 90.0, pi / 2), Bend((40.0, 0.0), (0.0, -1.0), 90.0, pi / 2))
    wall = 30 - pi  # between both zones
    assert place(quarters, 40 + pi / 2 + 6, 1.0) == pytest.approx(
        (10 - pi / 2 + 2 - 2 - 6, 1.0, 2 + wall + 2), abs=1e-4
    )


ANGLES = st.floats(1, 180)
COORDINATES = st.floats(-200, 200)
POINTS = st.tuples(COORDINATES, COORDINATES)


@st.composite
def bends(draw: st.DrawFn) -> Bend:
    turn = draw(st.floats(0, 360))
    way = Motion.about((0, 0, 0), (0, 0, 1), turn).turned((1, 0, 0))
    return Bend(
        draw(POINTS),
        (way[0], way[1]),
        draw(ANGLES) * draw(st.sampled_from((1, -1))),
        draw(st.floats(0.2, 30)),
    )


@given(bend=bends(), one=POINTS, other=POINTS)
def test_what_lies_beyond_keeps_its_shape(
    bend: Bend, one: tuple[float, float], other: tuple[float, float]
) -> None:
    """Two points both beyond the zone, or both before it, keep their distance."""
    if bend.is_bent(one) or bend.is_bent(other) or (bend.beyond(one) > 0) is not (bend.beyond(other) > 0):
        return
    first, second = (bent((bend,), at).apply((*at, 0.0)) for at in (one, other))
    assert apart(first, second) == pytest.approx(apart((*one, 0.0), (*other, 0.0)), abs=1e-6)


@given(bend=bends(), along=st.floats(-50, 50))
def test_the_middle_neither_stretches_nor_shrinks(bend: Bend, along: float) -> None:
    """Walked across the zone in small steps, it is as long as on the flat sheet."""
    (x, y), (u, v) = bend.at, bend.way
    steps = 400
    ways = [(-bend.half + 2 * bend.half * k / steps) for k in range(steps + 1)]
    flat = [(x + u * along - v * way, y + v * along + u * way) for way in ways]
    places = [bent((bend,), at).apply((*at, 0.0)) for at in flat]
    length = sum(apart(a, b) for a, b in pairwise(places))
    assert length == pytest.approx(2 * bend.half, rel=1e-4)


@given(bend=bends(), at=POINTS, slant=st.floats(0, 360))
def test_mates_of_half_a_turn_meet_and_their_slits_lie_on_one_another(
    bend: Bend, at: tuple[float, float], slant: float
) -> None:
    """A hole and its mirror image in the fold's line lie one over the other, and so do mirrored slits."""
    bend = Bend(bend.at, bend.way, 180.0 if bend.degrees > 0 else -180.0, bend.half)
    if bend.is_bent(at):
        return
    (u, v), off = bend.way, bend.beyond(at)
    mate = (at[0] + 2 * off * v, at[1] - 2 * off * u)
    first, second = (bent((bend,), each).apply((*each, 0.0)) for each in (at, mate))
    assert first[:2] == pytest.approx(second[:2], abs=1e-6)
    assert abs(first[2] - second[2]) == pytest.approx(4 * bend.half / pi, abs=1e-6)  # two neutral radii
    slit = Motion.about((0, 0, 0), (0, 0, 1), slant).turned((1, 0, 0))
    along = slit[0] * u + slit[1] * v
    mirrored = (2 * along * u - slit[0], 2 * along * v - slit[1], 0.0)
    ways = (bent((bend,), at).turned(slit), bent((bend,), mate).turned(mirrored))
    assert abs(sum(a * b for a, b in zip(*ways, strict=True))) == pytest.approx(1, abs=1e-9)


def test_a_turn_by_the_right_hand() -> None:
    """Degrees are degrees: a quarter about z brings x to y."""
    assert Motion.about((0, 0, 0), (0, 0, 1), degrees(pi / 2)).apply((1, 0, 5)) == pytest.approx((0, 1, 5))


# An ell with a round corner, a comb, a disc, and the ell the other way round.
ELL = Path(
    (
        Segment((-60.0, -40.0), (50.0, -40.0)),
        Segment((50.0, -40.0), (60.0, -30.0), 2**0.5 - 1),
        Segment((60.0, -30.0), (60.0, 0.0)),
        Segment((60.0, 0.0), (0.0, 0.0)),
        Segment((0.0, 0.0), (0.0, 50.0)),
        Segment((0.0, 50.0), (-60.0, 50.0)),
        Segment((-60.0, 50.0), (-60.0, -40.0)),
    ),
    closed=True,
)
COMB = polyline(
    [(-50, -30), (40, -30), (40, 20), (10, 20), (10, -10), (-20, -10), (-20, 20), (-50, 20)], closed=True
)


@given(
    outline=st.sampled_from((ELL, COMB, circle((3.0, 4.0), 40.0), ELL.reversed())),
    turn=st.one_of(st.floats(0, 360), st.sampled_from((0.0, 90.0, 180.0, 270.0, 45.0))),
    off=st.one_of(st.floats(-70, 70), st.sampled_from((0.0, 20.0, -10.0, 40.0, 36.0, -30.0, 43.0))),
)
def test_both_sides_of_a_line_are_the_whole(outline: Path, turn: float, off: float) -> None:
    """Against areas cut by another library: also along edges, through corners and touching arcs."""
    u, v = cos(radians(turn)), sin(radians(turn))
    line = ((-v * off, u * off), (u - v * off, v + u * off))
    left, right = parts_left_of(outline, line), parts_left_of(outline, (line[1], line[0]))
    areas = [sum(part.signed_area() for part in parts) for parts in (left, right)]
    assert sum(areas) == pytest.approx(outline.signed_area(), abs=1e-3)
    half = rectangle(-500, 0, 500, 500).moved(Affine.shift(*line[0]) @ Affine.turn(turn))
    assert abs(areas[0]) == pytest.approx(region_of(outline).common(half).area, abs=0.5)


def test_a_line_along_edges_leaves_the_teeth_of_a_comb() -> None:
    """By hand: two teeth of 30 by 30 stand above the line that their gap's foot lies on."""
    teeth = parts_left_of(COMB, ((0.0, -10.0), (1.0, -10.0)))
    assert sorted(part.bounds() for part in teeth) == [(-50, -10, -20, 20), (10, -10, 40, 20)]
    assert [part.signed_area() for part in teeth] == [900, 900]


def test_panels_of_a_strip_folded_into_a_u() -> None:
    """By hand: quarters at 10 and 40 leave a floor, a wall and a lid that lies over the floor."""
    strip = polyline([(-30, 0), (80, 0), (80, 20), (-30, 20)], closed=True)
    quarters = [Bend((10.0, 20.0), (0.0, -1.0), 90.0, pi / 2), Bend((40.0, 20.0), (0.0, -1.0), 90.0, pi / 2)]
    floor, wall, lid = folded_sheet(strip, quarters).panels
    assert floor.motion == Motion()
    assert [panel.outline.bounds()[::2] for panel in (floor, wall, lid)] == [
        pytest.approx(each) for each in ((-30, 10 - pi / 2), (10 + pi / 2, 40 - pi / 2), (40 + pi / 2, 80))
    ]
    assert wall.plan is None
    assert lid.plan is not None
    assert lid.turned
    assert lid.height == pytest.approx(2 + 30 - pi + 2)
    assert lid.plan.apply((40 + pi / 2, 5.0)) == pytest.approx((10 - pi / 2 + 2 - 2, 5.0))


@given(bend=bends(), other=st.floats(60, 100), corners=st.lists(POINTS, min_size=3, max_size=3))
def test_a_panel_moves_as_its_places_do(bend: Bend, other: float, corners: list[tuple[float, float]]) -> None:
    """Two parallel folds: every corner of every panel comes to where the piece says."""
    second = Bend(bend.parallel(other)[0], bend.way, 180.0 - abs(bend.degrees), 5.0)
    outline = polyline(corners, closed=True)
    if abs(outline.signed_area()) < 1:
        return
    for panel in folded_sheet(outline, (bend, second)).panels:
        for at in panel.outline.flattened(sagitta=0.1):
            assert panel.motion.apply((*at, 0.0)) == pytest.approx(
                bent((bend, second), at).apply((*at, 0.0)), abs=1e-4
            )


@pytest.mark.parametrize(
    ("degrees_", "turned", "height"),
    [(180.0, True, 4.0), (-180.0, True, -4.0), (90.0, False, None), (0.0, False, 0.0)],
)
def test_what_is_a_leaf(degrees_: float, turned: bool, height: float | None) -> None:
    """By hand: half a turn on a radius of 2 lies 4 higher; a quarter is no leaf."""
    half = 2 * radians(abs(degrees_)) / 2
    strip = polyline([(0, 0), (80, 0), (80, 20), (0, 20)], closed=True)
    _, panel = folded_sheet(strip, [Bend((10.0, 20.0), (0.0, -1.0), degrees_, half)]).panels
    assert (panel.plan is not None) is (height is not None)
    assert panel.plan is None or (panel.turned, panel.height) == (turned, pytest.approx(height))
