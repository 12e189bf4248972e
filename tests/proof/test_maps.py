"""The map by which all of some marks are off: the plainest one, found among pairs that tell another."""

from __future__ import annotations

from itertools import pairwise, product

import pytest

from handkit.geometry.affine import Affine, Point
from handkit.geometry.segment import Segment
from handkit.proof.audit.maps import map_of, pairs_of, told_map

GRID: list[Point] = [(float(x), float(y)) for x, y in product(range(10, 200, 17), range(10, 280, 23))]
ROW: list[Point] = [(float(x), 40.0) for x in range(10, 200, 4)]

# What is done to a page, and what is told of it about (100, 150), 200 mm far.
DONE = [
    (Affine.shift(0.1, 0.0), ["its middle 0.10 mm to the right"]),
    (Affine.shift(-3.0, -2.5), ["its middle 3.00 mm to the left, 2.50 mm down"]),
    (Affine(a=1.03, d=1.03), ["1.030 times as large", "its middle 3.00 mm to the right, 4.50 mm up"]),
    (Affine.turn(90), ["turned by 90.00° to the left", "its middle 250.00 mm to the left, 50.00 mm down"]),
    (Affine(a=-1.0, e=200.0), ["mirrored"]),
    (Affine(d=-1.0, f=300.0), ["mirrored", "turned by 180.00° to the left"]),
    (Affine(a=1.02, d=0.99, e=-2.0, f=1.5), ["1.020 times as large across, 0.990 down"]),
    # uprights lean by the arctangent of 0.004, 0.229 degrees
    (Affine(c=0.004, e=-0.6), ["leaning by 0.23° to the right"]),
]


@pytest.mark.parametrize(("by", "told"), DONE)
def test_a_map_is_found_though_a_third_of_all_is_elsewhere(by: Affine, told: list[str]) -> None:
    pairs = [(point, by.apply(point)) for point in GRID]
    pairs[::3] = [(here, (here[0], there[1] + 5.0 + k % 7)) for k, (here, there) in enumerate(pairs[::3])]
    found = map_of(pairs)
    assert found is not None
    assert [one.told() for one in told_map(found, (100.0, 150.0), 200.0)] == told


def test_points_on_a_line_tell_no_more_than_a_similarity() -> None:
    found = map_of([(point, Affine(a=1.03, d=1.5).apply(point)) for point in ROW])
    assert found is not None
    assert (found.a, found.d) == pytest.approx((1.03, 1.03))


def test_what_has_no_map_has_none() -> None:
    assert map_of([]) is None
    assert map_of([((x, y), (x + x * x / 50, y)) for x, y in GRID]) is None


def test_circles_that_begin_elsewhere_are_paired_by_their_middles() -> None:
    halves = (Segment((3.0, 0.0), (-3.0, 0.0), 1.0), Segment((-3.0, 0.0), (3.0, 0.0), 1.0))
    corners = ((0.0, 3.0), (-3.0, 0.0), (0.0, -3.0), (3.0, 0.0), (0.0, 3.0))
    quarters = [(a, a, b, b) for a, b in pairwise(corners)]
    assert pairs_of(halves, quarters) == [((0.0, 0.0), (0.0, 0.0))]
    assert pairs_of(halves, [*quarters, ((9.0, 9.0), (8.0, 8.0))]) == []
