"""Rounded corners: tangent to both edges, for lines and arcs, and what has no room for one."""

from __future__ import annotations

from itertools import pairwise
from math import cos, hypot, pi, radians, sin, sqrt, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.geometry.fillet import fillet
from handkit.geometry.path import turn_degrees
from handkit.geometry.segment import Segment, arc_with_sagitta


@pytest.mark.parametrize("turn", [30, 60, 90, 120, 150])
def test_between_lines(turn: float) -> None:
    """Tangents of r·tan(turn/2), an arc of r·turn: any geometry handbook."""
    after = Segment((0, 0), (-200 * cos(radians(turn)), 200 * sin(radians(turn))))
    found = fillet(Segment((200, 0), (0, 0)), after, 12)
    assert found is not None
    assert 200 - found.last == pytest.approx(12 * tan(radians(turn) / 2))
    assert found.first == pytest.approx(12 * tan(radians(turn) / 2))
    assert found.arc.length == pytest.approx(12 * radians(turn))
    assert found.arc.bulge < 0  # it turns right, clockwise


def test_between_a_line_and_an_arc() -> None:
    """A quarter disc of radius 10 with its corner at (10, 0) rounded by 2, worked out by hand.

    The centre stands 2 over the base and 8 from the arc's centre: at (√60, 2); the base is
    touched at √60 and the arc where the line of both centres meets it, at 10/8 of the way.
    """
    base, arc = Segment((0, 0), (10, 0)), Segment((10, 0), (0, 10), tan(pi / 8))
    found = fillet(base, arc, 2)
    assert found is not None
    assert found.last == pytest.approx(sqrt(60))
    assert found.arc.end == pytest.approx((sqrt(60) * 1.25, 2.5))
    assert found.arc.radius == pytest.approx(2)
    assert found.arc.centre == pytest.approx((sqrt(60), 2))


def test_between_two_arcs() -> None:
    """A lens 12 wide of two arcs of radius 10, its tip rounded by 1, worked out by hand.

    Both centres stand 8 from the chord; the tip's own centre is 9 from both: √(81 − 64) along.
    """
    lower, upper = arc_with_sagitta((-6, 0), (6, 0), 2), arc_with_sagitta((6, 0), (-6, 0), 2)
    found = fillet(lower, upper, 1)
    assert found is not None
    assert found.arc.centre == pytest.approx((sqrt(17), 0))
    assert found.arc.radius == pytest.approx(1)


@pytest.mark.parametrize(
    ("before", "after", "radius"),
    [
        (Segment((9, 0), (0, 0)), Segment((0, 0), (0, 9)), 9.01),  # longer than the edges
        (Segment((9, 0), (0, 0)), Segment((0, 0), (9, 0)), 0.1),  # folds back on itself
        (Segment((0, 0), (10, 0)), Segment((10, 0), (0, 10), tan(pi / 8)), 10.5),  # more than the arc's
    ],
)
def test_no_room(before: Segment, after: Segment, radius: float) -> None:
    assert fillet(before, after, radius) is None


@settings(derandomize=True, deadline=None, max_examples=100)
@given(
    st.floats(-170, 170).filter(lambda turn: abs(turn) > 1),
    st.sampled_from([0.0, 0.2, -0.2]),
    st.sampled_from([0.0, 0.2, -0.2]),
    st.floats(0.1, 5),
)
def test_rounded_corners_are_smooth(turn: float, first: float, last: float, radius: float) -> None:
    """Where an arc fits, no direction jumps and the arc has its radius, lines or arcs as they come."""
    before = Segment((-60, 0), (0, 0), first)
    heading = before.sweep / 2 + radians(turn)
    after = Segment((0, 0), (60 * cos(heading), 60 * sin(heading)), last)
    found = fillet(before, after, radius)
    if found is None:
        return
    assert found.arc.radius == pytest.approx(radius, abs=1e-6)
    cut = before.between(0, found.last), found.arc, after.between(found.first, after.length)
    for one, other in pairwise(cut):
        assert hypot(one.end[0] - other.start[0], one.end[1] - other.start[1]) < 1e-6
        assert abs(turn_degrees(one, other)) < 1e-3
