"""Lines and arcs as the file has them: cubics hold to the true arc, circles close, points are small."""

from __future__ import annotations

from itertools import pairwise
from math import cos, hypot, pi, radians, sin, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.draw.model.path_ops import PathOps, circle_ops, cubics_of, dot_ops, path_ops, segment_ops
from handkit.geometry.path import circle, polyline
from handkit.geometry.segment import Segment

Point = tuple[float, float]


def on_cubic(start: Point, six: tuple[float, ...], t: float) -> Point:
    """A cubic's point by its definition (ISO 32000-1 8.5.2.2)."""
    s = 1 - t
    weights = (s**3, 3 * s * s * t, 3 * s * t * t, t**3)
    xs, ys = (start[0], *six[0::2]), (start[1], *six[1::2])
    return (
        sum(w * x for w, x in zip(weights, xs, strict=True)),
        sum(w * y for w, y in zip(weights, ys, strict=True)),
    )


def arc_about(cx: float, cy: float, radius: float, first: float, sweep: float) -> Segment:
    """An arc by centre and angles in degrees."""
    a, b = radians(first), radians(first + sweep)
    start = (cx + radius * cos(a), cy + radius * sin(a))
    return Segment(start, (cx + radius * cos(b), cy + radius * sin(b)), tan(radians(sweep) / 4))


@given(
    radius=st.floats(0.2, 500),
    first=st.floats(-180, 180),
    sweep=st.floats(1, 350) | st.floats(-350, -1),
)
@settings(derandomize=True, deadline=None, max_examples=150)
def test_cubics_keep_to_the_true_arc(radius: float, first: float, sweep: float) -> None:
    """No point of any cubic is further than 0.001 mm from the circle; bits turn 22.5° at most."""
    arc = arc_about(30, -20, radius, first, sweep)
    cubics = cubics_of(arc)
    assert len(cubics) >= abs(sweep) / 22.5 - 1e-6
    start = arc.start
    for cubic in cubics:
        for k in range(1, 17):
            x, y = on_cubic(start, cubic, k / 16)
            assert hypot(x - 30, y + 20) == pytest.approx(radius, abs=0.001)
        start = (cubic[4], cubic[5])
    assert start == arc.end


def test_an_arc_runs_the_way_it_turns() -> None:
    """A quarter turn to the left from (10, 0) passes (7.071, 7.071), to the right (7.071, -7.071)."""
    left, right = arc_about(0, 0, 10, 0, 90), arc_about(0, 0, 10, 0, -90)
    assert cubics_of(left)[1][4:] == pytest.approx((7.0711, 7.0711), abs=1e-4)
    assert cubics_of(right)[1][4:] == pytest.approx((7.0711, -7.0711), abs=1e-4)


def test_a_circle_is_sixteen_cubics_and_closes() -> None:
    ops = list(circle_ops((5, 7), 300).each())
    assert [name for name, _ in ops] == ["m", *["c"] * 16, "h"]
    assert ops[0][1] == ops[-2][1][4:] == (305, 7)
    for (_, a), (_, b) in pairwise(ops[:-1]):
        for k in range(9):
            x, y = on_cubic((a[-2], a[-1]), b, k / 8)
            assert hypot(x - 5, y - 7) == pytest.approx(300, abs=0.0001)


def test_a_point_is_round_enough() -> None:
    """Four cubics: by hand, 2.7e-4 of 0.2 mm is 0.00005 mm."""
    ops = list(dot_ops((0, 0), 0.4).each())
    start = (ops[0][1][0], ops[0][1][1])
    for _, cubic in ops[1:-1]:
        for k in range(9):
            assert hypot(*on_cubic(start, cubic, k / 8)) == pytest.approx(0.2, abs=0.00006)
        start = (cubic[4], cubic[5])


def test_straight_bits_stay_lines() -> None:
    square = polyline([(0, 0), (4, 0), (4, 4), (0, 4)], closed=True)
    assert path_ops(square) == PathOps("mlllh", (0, 0, 4, 0, 4, 4, 0, 4))
    assert segment_ops(square.segments[:2]) == PathOps("mll", (0, 0, 4, 0, 4, 4))


def test_a_closed_arc_path_closes_where_it_began() -> None:
    ops = list(path_ops(circle((0, 0), 2)).each())
    assert ops[0][1] == ops[-2][1][4:]
    assert len([1 for name, _ in ops if name == "c"]) == round(2 * pi / radians(22.5))
