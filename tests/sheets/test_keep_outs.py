"""Which cut lines run through a hole or an opening."""

from __future__ import annotations

from math import hypot
from types import SimpleNamespace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.geometry.capsule import Capsule
from handkit.geometry.path import polyline
from handkit.geometry.straight import line_to_line
from handkit.read.project import SlitHole
from handkit.sheets.cut.template import keep_outs_of
from handkit.sheets.joins.keep_out import runs_through

SQUARE = polyline([(0, 0), (90, 0), (90, 90), (0, 90)], closed=True)
Straight = tuple[tuple[float, float], tuple[float, float]]

DISTANCES: list[tuple[Straight, Straight, float]] = [
    # worked out by hand
    (((0, 0), (10, 0)), ((0, 4), (10, 4)), 4),
    (((0, 0), (10, 0)), ((13, 4), (20, 4)), 5),  # 3-4-5 triangle
    (((0, 0), (10, 0)), ((5, 5), (5, 5)), 5),
    (((0, 0), (0, 0)), ((3, 4), (3, 4)), 5),
    (((0, 0), (10, 10)), ((0, 10), (10, 0)), 0),
    (((0, 0), (10, 0)), ((10, 0), (10, 8)), 0),
    (((0, 0), (10, 0)), ((5, 0), (15, 0)), 0),  # along each other
    (((0, 0), (10, 0)), ((12, -1), (12, 1)), 2),
]


@pytest.mark.parametrize(("first", "second", "wanted"), DISTANCES)
def test_the_distance_of_two_straights(first: Straight, second: Straight, wanted: float) -> None:
    assert line_to_line(first, second) == pytest.approx(wanted, abs=1e-12)
    assert line_to_line(second, first) == pytest.approx(wanted, abs=1e-12)


coordinate = st.integers(-30, 30).map(float)
point = st.tuples(coordinate, coordinate)


@settings(derandomize=True, deadline=None, max_examples=200)
@given(st.tuples(point, point), st.tuples(point, point))
def test_no_pair_of_places_is_nearer_than_the_distance(first: Straight, second: Straight) -> None:
    def along(straight: Straight, k: int) -> tuple[float, float]:
        (x0, y0), (x1, y1) = straight
        return (x0 + (x1 - x0) * k / 50, y0 + (y1 - y0) * k / 50)

    sampled = min(
        hypot(a[0] - b[0], a[1] - b[1])
        for a in (along(first, k) for k in range(51))
        for b in (along(second, k) for k in range(51))
    )
    distance = line_to_line(first, second)
    assert distance <= sampled + 1e-9
    assert sampled - distance <= hypot(60, 60) / 50 + 1e-9  # the sampling's own step


# The cut line goes up at x = 40; the hole's middle stands at (x, 50). Nearer than 3 mm to its edge
# counts (tolerances.JOIN_CLEARANCE); all by hand.
ROUND = [(43.8, False), (43.799, True), (36.2, False), (36.201, True), (40.0, True)]
SLIT = [(0, 44.25, False), (0, 44.249, True), (90, 43.0, False), (90, 42.999, True)]  # 2.5 long
SLOT = [(0, 53.0, False), (0, 52.999, True), (90, 46.0, False), (90, 45.999, True)]  # 20 × 6


@pytest.mark.parametrize(("x", "through"), ROUND)
def test_a_cut_line_and_a_round_hole(parts: SimpleNamespace, x: float, through: bool) -> None:
    project = parts.punched([parts.piece("p", SQUARE)], seams=[parts.seam("s", "p", [(x, 50)])])
    assert runs_through(((40, 0), (40, 90)), keep_outs_of(project, "p")) is through


@pytest.mark.parametrize("case", SLIT)
def test_a_cut_line_and_a_slit(parts: SimpleNamespace, case: tuple[float, float, bool]) -> None:
    slant, x, through = case
    project = parts.punched(
        [parts.piece("p", SQUARE)], seams=[parts.seam("s", "p", [(x, 50)], SlitHole(2.5, slant))]
    )
    assert runs_through(((40, 0), (40, 90)), keep_outs_of(project, "p")) is through


@pytest.mark.parametrize("case", SLOT)
def test_a_cut_line_and_a_slot(parts: SimpleNamespace, case: tuple[float, float, bool]) -> None:
    degrees, x, through = case
    slot = parts.opening("o", "p", [(x, 50)], diameter=6, length=20, degrees=degrees)
    project = parts.punched([parts.piece("p", SQUARE)], openings=[slot])
    assert runs_through(((40, 0), (40, 90)), keep_outs_of(project, "p")) is through


def test_a_hole_beyond_the_end_of_a_cut_line_is_clear_of_it() -> None:
    hole = Capsule((40, 93.8), (40, 93.8), 0.8)
    assert not runs_through(((40, 0), (40, 90)), (hole,))
    assert runs_through(((40, 0), (40, 90.001)), (hole,))


def test_only_the_voids_of_the_piece_are_found(parts: SimpleNamespace) -> None:
    project = parts.punched(
        [parts.piece("p", SQUARE), parts.piece("q", SQUARE)],
        seams=[parts.seam("s", "p", [(10, 10), (14, 10)]), parts.seam("t", "q", [(20, 20)])],
        openings=[parts.opening("rivet", "p", [(50, 50)], diameter=3)],
    )
    assert keep_outs_of(project, "p") == (
        Capsule((10, 10), (10, 10), 0.8),
        Capsule((14, 10), (14, 10), 0.8),
        Capsule((50, 50), (50, 50), 1.5),
    )
