"""Nearness and segments: the quick searches find what the slow ones find."""

from __future__ import annotations

from itertools import combinations
from math import cos, dist, hypot, pi, sin, tan
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.geometry.capsule import Capsule
from handkit.geometry.path import Path, circle, polyline
from handkit.geometry.segment import Segment
from handkit.geometry.straight import line_to_line, point_to_line
from handkit.punch.checks.nearness import edge_index, near_pairs
from handkit.punch.spacing.measured import measured

SEEDED = settings(derandomize=True, deadline=None, max_examples=150)

coordinates = st.floats(-40, 40)
points = st.tuples(coordinates, coordinates)


@SEEDED
@given(st.lists(points, max_size=40), st.floats(0.5, 20))
def test_near_pairs_are_all_near_pairs(cloud: list[tuple[float, float]], within: float) -> None:
    wanted = [(i, j) for i, j in combinations(range(len(cloud)), 2) if dist(cloud[i], cloud[j]) <= within]
    assert [(i, j) for i, j, _ in near_pairs(cloud, within=within)] == wanted


@SEEDED
@given(points, st.floats(1, 15))
def test_the_nearest_edge_is_found_wherever_it_is_in_reach(
    bench: Any, point: tuple[float, float], reach: float
) -> None:
    outline = bench.rounded(60, 40, 12)
    along = outline.along_of(point)
    off = dist(outline.point_at(along), point)
    found = edge_index(outline, reach=reach).nearest(point)
    if abs(off - reach) < 1e-9:
        return
    assert (found is not None) == (off < reach)
    if found is not None:
        assert found[0] == pytest.approx(off, abs=1e-9)
        assert dist(found[1], point) == pytest.approx(off, abs=1e-9)


@SEEDED
@given(st.floats(-5.5, 5.5).filter(lambda s: abs(s) > 0.01), st.floats(2, 300), points)
def test_a_measured_segment_is_the_segment(sweep: float, radius: float, start: tuple[float, float]) -> None:
    chord = 2 * radius * sin(abs(sweep) / 2)
    segment = Segment(start, (start[0] + chord, start[1]), tan(sweep / 4))
    (ready,) = measured(Path((segment,)))
    assert ready.length == pytest.approx(segment.length, rel=1e-12)
    for k in range(9):
        t = segment.length * k / 8
        assert ready.point(t) == pytest.approx(segment.point_at(t), abs=1e-9)
        assert ready.direction(t) == pytest.approx(segment.direction_at(t), abs=1e-9)
        assert ready.nearest(ready.point(t)) == pytest.approx(t, abs=1e-6 * radius)


@SEEDED
@given(
    st.floats(-6.0, 6.0),
    st.floats(1, 50),
    st.floats(0.0, 0.999),
    st.floats(0, 2 * pi),
    st.floats(0.5, 60),
)
def test_an_exit_is_the_first_place_a_chord_away(
    sweep: float, radius: float, share: float, angle: float, chord: float
) -> None:
    # The centre lies anywhere nearer than the chord to the segment's start.
    if abs(sweep) < 0.01:
        segment = Segment((0, 0), (radius, 0))
    else:
        across = 2 * radius * sin(abs(sweep) / 2)
        segment = Segment((0, 0), (across, 0), tan(sweep / 4))
    (ready,) = measured(Path((segment,)))
    centre = (share * chord * cos(angle), share * chord * sin(angle))
    found = ready.exit(centre, chord)
    inside = found if found is not None else ready.length
    for k in range(1, 60):
        assert dist(ready.point(inside * k / 60), centre) < chord + 1e-9
    if found is not None:
        assert 0 <= found <= ready.length
        assert dist(ready.point(found), centre) == pytest.approx(chord, abs=1e-9)


@pytest.mark.parametrize(
    ("one", "other", "apart"),
    [
        (((0, 0), (4, 0)), ((0, 3), (4, 3)), 3.0),
        (((0, 0), (4, 4)), ((0, 4), (4, 0)), 0.0),
        (((0, 0), (4, 0)), ((7, 4), (9, 9)), 5.0),  # 3-4-5 triangle
        (((0, 0), (0, 0)), ((3, 4), (3, 4)), 5.0),
        (((0, 0), (4, 0)), ((4, 0), (8, 0)), 0.0),
        (((0, 0), (4, 0)), ((2, 0), (8, 0)), 0.0),
    ],
)
def test_distance_of_two_straight_lines(one: Any, other: Any, apart: float) -> None:
    # Worked out by hand.
    assert line_to_line(one, other) == apart == line_to_line(other, one)


def test_leather_between_two_slits_at_45_degrees() -> None:
    # Two parallel slits of 2.5 at 45 degrees, 3 apart along the line: 3·sin 45° = 2.121 (by hand).
    half = 1.25 / 2**0.5
    slits = [Capsule((x - half, -half), (x + half, half)) for x in (0.0, 3.0)]
    assert slits[0].gap(slits[1]) == pytest.approx(3 * sin(pi / 4))


def test_leather_between_round_holes() -> None:
    assert Capsule((0, 0), (0, 0), 0.8).gap(Capsule((4, 0), (4, 0), 0.8)) == pytest.approx(2.4)


def test_the_nearest_place_of_a_circle_from_its_middle_is_its_radius() -> None:
    found = edge_index(circle((3, 4), 5), reach=6).nearest((3, 4))
    assert found is not None
    assert found[0] == pytest.approx(5)


def test_point_to_line_of_no_length() -> None:
    assert point_to_line((3, 4), ((0, 0), (0, 0))) == 5.0 == hypot(3, 4)


def test_an_outline_of_long_edges_is_found_from_everywhere() -> None:
    outline = polyline([(0, 0), (1000, 0), (1000, 700), (0, 700)], closed=True)
    edges = edge_index(outline, reach=3.2)
    for x in range(5, 990, 7):
        assert edges.nearest((float(x), 3.0)) == (3.0, (float(x), 0.0))
        assert edges.nearest((float(x), 3.3)) is None
