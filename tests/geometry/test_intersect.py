"""Crossings of lines and arcs, in closed form and against shapely on flattened arcs."""

from __future__ import annotations

from math import hypot, sqrt

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from handkit.geometry.intersect import carriers_meet, first_crossing, meet
from handkit.geometry.path import circle, polyline
from handkit.geometry.segment import Segment

HALF = 1.0  # the bulge of a half circle
UNIT = Segment((1, 0), (-1, 0), HALF)
NEXT = Segment((2, 0), (0, 0), HALF)  # the unit circle about (1, 0)

# Worked out by hand.
MEETINGS = {
    "line and line": (Segment((0, 0), (1, 1)), Segment((4, 0), (4, 1)), [(4, 4)]),
    "parallels": (Segment((0, 0), (1, 0)), Segment((0, 2), (5, 2)), []),
    "line and circle": (Segment((0.6, 9), (0.6, 8)), UNIT, [(0.6, 0.8), (0.6, -0.8)]),
    "tangent line": (Segment((5, 1), (6, 1)), UNIT, [(0, 1)]),
    "line that misses": (Segment((5, 1.1), (6, 1.1)), UNIT, []),
    "two circles": (UNIT, NEXT, [(0.5, sqrt(3) / 2), (0.5, -sqrt(3) / 2)]),
    "touching circles": (UNIT, Segment((3, 0), (1, 0), HALF), [(1, 0)]),
    "the same circle": (UNIT, Segment((0, 1), (0, -1), HALF), []),
    "a circle in another": (UNIT, Segment((0.5, 0), (-0.5, 0), HALF), []),
}


@pytest.mark.parametrize(("a", "b", "expected"), MEETINGS.values(), ids=MEETINGS)
def test_where_carriers_meet(a: Segment, b: Segment, expected: list[tuple[float, float]]) -> None:
    for one, other in ((a, b), (b, a)):
        found = carriers_meet(one, other)
        assert sorted(found) == [pytest.approx(at, abs=1e-9) for at in sorted(expected)]


def test_shared_stretches_are_met_at_their_ends() -> None:
    assert set(meet(UNIT, Segment((0, 1), (0, -1), HALF))) == {(-1, 0), (0, 1)}
    assert meet(Segment((0, 0), (4, 0)), Segment((5, 0), (9, 0))) == ()


#   0---1    the row 0 1 2 3 crosses itself; the row 0 1 3 2 does not
#     X
#   2---3
@pytest.mark.parametrize(
    ("points", "closed", "crosses"),
    [
        ([(0, 4), (4, 4), (0, 0), (4, 0)], True, (1, 3)),
        ([(0, 4), (4, 4), (0, 0), (4, 0)], False, None),
        ([(0, 4), (4, 4), (4, 0), (0, 0)], True, None),
        ([(0, 0), (9, 0), (4, 0)], False, (0, 1)),  # folds back on itself
        ([(0, 0), (8, 0), (8, 4), (4, 0), (0, 4)], True, (0, 2)),  # touches an edge with a corner
    ],
)
def test_rows_that_cross_themselves(
    points: list[tuple[float, float]], closed: bool, crosses: tuple[int, int] | None
) -> None:
    found = first_crossing(polyline(points, closed=closed).segments, closed=closed)
    assert ((found.first, found.second) if found else None) == crosses


def test_a_circle_does_not_cross_itself() -> None:
    assert first_crossing(circle((0, 0), 30).segments, closed=True) is None


coordinates = st.integers(-20, 20).map(float)
places = st.tuples(coordinates, coordinates)


@st.composite
def segments(draw: st.DrawFn) -> Segment:
    start, end = draw(places), draw(places)
    assume(hypot(end[0] - start[0], end[1] - start[1]) > 0.5)
    return Segment(start, end, draw(st.sampled_from([0.0, 0.25, -0.5, 1.0, -2.0])))


@settings(derandomize=True, deadline=None, max_examples=100)
@given(segments(), segments())
def test_as_many_crossings_as_shapely_finds(a: Segment, b: Segment) -> None:
    """Every crossing lies on both; two segments that stay apart in shapely's eyes share none."""
    found = meet(a, b)
    flat_a, flat_b = (shapely.LineString(s.flattened(sagitta=1e-4)) for s in (a, b))
    for at in found:
        assert flat_a.distance(shapely.Point(at)) < 3e-4
        assert flat_b.distance(shapely.Point(at)) < 3e-4
    assert bool(found) == (flat_a.distance(flat_b) < 3e-4)
