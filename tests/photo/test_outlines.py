"""A thing's own frame: its long axis, its box, few points; whichever way it lay."""

from __future__ import annotations

from math import hypot

import pytest
from shapely import Point, Polygon, affinity, box

from handkit.photo.outlines import axis, in_own_frame

BLADE = Polygon([(0, -8), (90, -10), (130, 0), (90, 10), (0, 8)])  # alike above and below its axis


@pytest.mark.parametrize("turn", [-80, -45, 0, 30, 90])
def test_the_axis_of_what_is_alike_on_both_sides_is_its_own(turn: float) -> None:
    lying = affinity.rotate(BLADE, turn, origin=(0, 0))
    assert axis(list(lying.exterior.coords)[:-1]) == pytest.approx(turn, abs=1e-6)


@pytest.mark.parametrize("turn", [-70, -20, 10, 44])
def test_a_square_lies_along_one_of_its_sides(turn: float) -> None:
    """It has no longer way, so a side of the narrowest box counts."""
    lying = affinity.rotate(box(0, 0, 40, 39), turn, origin=(0, 0))
    own, _ = in_own_frame(list(lying.exterior.coords)[:-1])
    assert (max(x for x, _ in own), max(y for _, y in own)) == pytest.approx((40, 39), abs=0.02)


def test_few_points_tell_it_and_it_is_brought_back() -> None:
    disc = Point(70, 90).buffer(25, quad_segs=200)
    own, back = in_own_frame(list(disc.exterior.coords)[:-1])
    assert len(own) < 80
    assert (min(x for x, _ in own), min(y for _, y in own)) == (0, 0)
    on_mat = Polygon([back.apply(point) for point in own])
    assert on_mat.hausdorff_distance(disc) < 0.12
    assert Polygon(own).exterior.is_ccw
    assert hypot(*own[0]) < 25  # it begins at the lower left
