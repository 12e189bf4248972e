"""The bow of a mouth: values of the segment formulas, what it holds, and what it leaves out."""

from __future__ import annotations

from math import pi, sqrt

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.draft.sizes.bow import bow_height, bow_length, bow_radius, mouth_dip, mouth_height, side_by_side
from handkit.draft.sizes.section import Section, polygon_section, rectangle_section, round_section

law = settings(derandomize=True, deadline=None, max_examples=60)


@pytest.mark.parametrize(
    ("base", "height", "radius", "length"),
    [
        # Circular segments, any mechanical engineering handbook; values by hand.
        (80, 20, 50, 92.7295),
        (80, 40, 40, 40 * pi),  # half a circle
        (80, 60, (1600 + 3600) / 120, 170.351),  # past half a circle
        (12, 2, 10, 12.8700),  # chord and sagitta as published on a page of sagittas
    ],
)
def test_segments(base: float, height: float, radius: float, length: float) -> None:
    assert bow_radius(base, height) == pytest.approx(radius)
    assert bow_length(base, height) == pytest.approx(length, abs=6e-4)
    assert bow_height(base, length) == pytest.approx(height, abs=1e-3)


def test_the_mouth_of_a_box_holds_its_corners() -> None:
    """58 × 20 on 80: h = 32.020, front 110.692: worked out by hand."""
    height = mouth_height([rectangle_section(58, 20)], base=80, thickness=0)
    assert height == pytest.approx(32.020, abs=6e-4)
    assert bow_length(80, height) == pytest.approx(110.692, abs=6e-4)


@pytest.mark.parametrize("thickness", [0.0, 1.6, 2.4, 4.0])
@pytest.mark.parametrize("base", [64.0, 80.0, 140.0])
def test_the_closed_form_of_a_box(base: float, thickness: float) -> None:
    """(w/2)² + (R − h + t − s/2)² = (R − s/2)²: s/2 off the stitch points and s/2 off the item."""
    h = mouth_height([rectangle_section(58, 20)], base=base, thickness=thickness)
    r = bow_radius(base, h)
    assert 29**2 + (r - h + 20 - thickness / 2) ** 2 == pytest.approx((r - thickness / 2) ** 2, abs=1e-5)


def test_a_round_item_touches_the_top_alone() -> None:
    """A bow round a disc on a wide base: h = d, as a tangent at the top."""
    assert mouth_height([round_section(20)], base=200, thickness=0) == pytest.approx(20, abs=1e-6)


def test_a_base_short_by_rounding_holds_what_the_least_holds() -> None:
    sections = [rectangle_section(54, 20).eased(4)]
    least = mouth_height(sections, base=60, thickness=2)
    assert mouth_height(sections, base=60 - 5e-7, thickness=2) == pytest.approx(least)


def test_a_base_too_narrow_is_refused_with_the_least() -> None:
    with pytest.raises(ValueError, match=r"a base of 60 is less than 60\.4"):
        mouth_height([rectangle_section(58, 20)], base=60, thickness=2.4)


def arc_points(base: float, height: float, count: int = 801) -> np.ndarray:
    """The bow as points, by its centre and angles."""
    radius = (base * base / 4 + height * height) / (2 * height)
    end = np.arctan2(base / 2, radius - height)
    angles = np.linspace(-end, end, count)
    return np.stack([radius * np.sin(angles), height - radius + radius * np.cos(angles)], axis=1)


sections = st.one_of(
    st.builds(rectangle_section, st.floats(5, 60), st.floats(1, 40)),
    st.builds(round_section, st.floats(5, 50)),
    st.builds(
        polygon_section,
        st.lists(st.tuples(st.floats(0, 50), st.floats(0, 30)), min_size=3, max_size=6, unique=True),
    ).filter(lambda section: section.width > 2 and section.height > 1),
)


def clearance(base: float, height: float, at: tuple[float, float]) -> float:
    """How far inside the arc a point is, negative outside; under the chord it goes straight down."""
    arc = arc_points(base, height)
    inside = shapely.Polygon([(-base / 2, -99.0), *map(tuple, arc), (base / 2, -99.0)])
    off = shapely.LineString(arc).distance(shapely.Point(at))
    return off if inside.covers(shapely.Point(at)) else -off


@settings(law, max_examples=25)
@given(held=st.lists(sections, min_size=1, max_size=3), s=st.floats(0, 4), gap=st.floats(0, 60))
def test_the_bow_holds_what_it_is_drawn_for_and_a_lower_one_does_not(
    held: list[Section], s: float, gap: float
) -> None:
    """Measured on the drawn arc, whose middle keeps half the thickness off all that it holds."""
    base = sum(section.width for section in held) + s + gap
    height = mouth_height(held, base=base, thickness=s)
    discs = side_by_side(held)

    def room(height: float) -> float:
        return min(clearance(base, height, (x.at[0], x.at[1] - s / 2)) - x.radius - s / 2 for x in discs)

    assert room(height) > -0.01
    assert room(height * 0.97) < 0


@law
@given(w=st.floats(5, 60), t=st.floats(1, 40), more=st.floats(0, 15), s=st.floats(0, 4), gap=st.floats(0, 40))
def test_a_larger_item_never_has_a_shorter_front(
    w: float, t: float, more: float, s: float, gap: float
) -> None:
    base = w + more + s + gap
    heights = [
        mouth_height([section], base=base, thickness=s)
        for section in (
            rectangle_section(w, t),
            rectangle_section(w + more, t),
            rectangle_section(w, t + more),
        )
    ]
    assert heights[0] <= min(heights[1:]) + 1e-6


@pytest.mark.parametrize(
    ("base", "height", "depth", "dip"),
    [
        # The number that the module's head states; a mesh of 20,000 levels measured here.
        (80, 32.0195, 150, 5.6),
        (140, 31, 150, 5.5),
    ],
)
def test_how_far_the_lower_part_is_from_unrolling(
    base: float, height: float, depth: float, dip: float
) -> None:
    """The arcs in a stack, measured along their middle, are this much longer than the flat front."""
    levels = np.linspace(0, 1, 20001) ** 2 * depth  # dense at the foot, where the front stands up
    spread = bow_length(base, height) - base
    tops = np.interp(
        base + spread * levels / depth,
        [bow_length(base, h) for h in np.linspace(0, height, 20001)],
        np.linspace(0, height, 20001),
    )
    middle = float(np.hypot(np.diff(levels), np.diff(tops)).sum())
    assert mouth_dip(base=base, height=height, depth=depth) == pytest.approx(middle - depth, abs=0.01)
    assert mouth_dip(base=base, height=height, depth=depth) == pytest.approx(dip, abs=0.1)
    assert sqrt(depth**2 + height**2) - depth < middle - depth  # a straight way up would be shorter
