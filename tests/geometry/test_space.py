"""Bends in space, against values worked out by hand and the laws of rigid motions."""

from __future__ import annotations

from itertools import pairwise
from math import degrees, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handkit.geometry.space import Bend, Motion, apart, bent

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
