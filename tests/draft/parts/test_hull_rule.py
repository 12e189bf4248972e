"""The hull rule against worked values, and against the hulls of a library it does not use."""

from __future__ import annotations

import random
from itertools import pairwise
from math import atan, pi

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity

from handkit.draft.sizes.hull_rule import least_base, strap_way
from handkit.draft.sizes.section import Section, polygon_section, rectangle_section, round_section
from handkit.geometry.path import turn_degrees

law = settings(derandomize=True, deadline=None, max_examples=60)


@pytest.mark.parametrize(
    ("section", "base", "thickness", "length"),
    [
        # Worked out by hand from the formulas.
        (rectangle_section(30, 5), 54, 0, 56.0),  # 30 + 2·13, the 5-12-13 triangle
        (round_section(20), 30, 0, 30 + 40 * atan(2 / 3)),  # 53.520: tangents and an arc
        (round_section(20), 20, 0, 20 + 10 * pi),  # straight up, half round, straight down
        (rectangle_section(30, 5), 30, 0, 40.0),  # 30 + 2·5
        (polygon_section([(0, 0), (24, 0), (12, 5)]), 24, 0, 26.0),  # two sides of 13
        # By a hull of many points, `numeric_length` below.
        (rectangle_section(30, 5), 54, 2.4, 56.025),
        (round_section(20), 24, 2.4, 52.856),
        (round_section(20), 30, 2.4, 54.167),
    ],
)
def test_worked_values(section: Section, base: float, thickness: float, length: float) -> None:
    assert strap_way(section, base=base, thickness=thickness).length == pytest.approx(length, abs=6e-4)


def random_section(dice: random.Random) -> tuple[Section, shapely.Geometry]:
    """A section, and the same as the other library has it, standing on y = 0 about x = 0."""
    kind = dice.choice(["rectangle", "round", "polygon"])
    if kind == "rectangle":
        w, t = dice.uniform(2, 90), dice.uniform(0.5, 60)
        return rectangle_section(w, t), shapely.box(-w / 2, 0, w / 2, t)
    if kind == "round":
        d = dice.uniform(3, 60)
        return round_section(d), shapely.Point(0, d / 2).buffer(d / 2, quad_segs=300)
    points = [(dice.uniform(0, 60), dice.uniform(0, 40)) for _ in range(dice.randint(3, 9))]
    hull = shapely.MultiPoint(points).convex_hull
    left, low, right, _ = hull.bounds
    return polygon_section(points), affinity.translate(hull, -(left + right) / 2, -low)


def numeric_length(shape: shapely.Geometry, base: float, thickness: float) -> float:
    """The rule as it is worded: grown, cut off, hull with the stitch points, less the base."""
    half = thickness / 2
    grown = shape.buffer(half, quad_segs=300) if half else shape
    left, _, right, high = grown.bounds
    above = shapely.box(left - 1, half, right + 1, high + 1)
    ends = shapely.MultiPoint([(-base / 2, half), (base / 2, half)])
    return float(grown.intersection(above).union(ends).convex_hull.length) - base


def test_two_hundred_sections_have_the_way_of_a_numeric_hull() -> None:
    dice = random.Random(4)
    for _ in range(200):
        section, shape = random_section(dice)
        thickness = dice.choice([0.0, 0.8, 1.6, 2.4, 4.0])
        base = least_base(section, thickness) + dice.choice([0.0, dice.uniform(0, 40)])
        numeric = numeric_length(shape, base, thickness)
        assert strap_way(section, base=base, thickness=thickness).length == pytest.approx(numeric, abs=0.01)


def test_a_base_too_narrow_is_refused_with_the_least() -> None:
    with pytest.raises(ValueError, match=r"a base of 32 is less than 32\.4"):
        strap_way(rectangle_section(30, 5), base=32, thickness=2.4)


sizes = st.floats(1, 80)


@law
@given(w=sizes, t=sizes, more=st.floats(0, 20), s=st.floats(0, 4), gap=st.floats(0, 30))
def test_a_larger_item_never_needs_a_shorter_strap(
    w: float, t: float, more: float, s: float, gap: float
) -> None:
    base = w + more + s + gap
    lengths = [
        strap_way(section, base=base, thickness=s).length
        for section in (
            rectangle_section(w, t),
            rectangle_section(w + more, t),
            rectangle_section(w, t + more),
        )
    ]
    assert lengths[0] <= min(lengths[1:]) + 1e-9
    eased = strap_way(rectangle_section(w, t).eased(min(more, gap)), base=base, thickness=s).length
    assert lengths[0] <= eased + 1e-9


@law
@given(d=sizes, s=st.floats(0, 4), gap=st.floats(0, 30))
def test_the_way_is_smooth_and_turns_one_way_only(d: float, s: float, gap: float) -> None:
    """Its arcs touch its tangents; a strap never dents inwards."""
    way = strap_way(round_section(d), base=d + s + gap, thickness=s)
    assert all(abs(turn_degrees(a, b)) < 1e-3 for a, b in pairwise(way.segments))
    assert all(segment.bulge >= 0 for segment in way.segments)
    assert way.start == pytest.approx((-way.end[0], way.end[1]))
