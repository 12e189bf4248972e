"""What is seen of bodies by plane geometry, brought back: prisms exactly, balls and rods as a ray touches."""

from __future__ import annotations

from math import atan, atan2, cos, hypot, pi, sin, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import MultiPoint, Point, Polygon

from handkit.photo.parallax import corrected
from handkit.photo.traced import PhotoView, Thick


def view(foot: tuple[float, float], height: float) -> PhotoView:
    return PhotoView(foot, height, 0.0, 0.0, 5.0, 0.0, 0.0, 0.0, 0.0)


@given(
    corners=st.lists(st.tuples(st.integers(0, 90), st.integers(0, 90)), min_size=3, max_size=8),
    thick=st.floats(0, 60),
    foot=st.tuples(st.floats(-150, 250), st.floats(-150, 250)),
)
def test_a_prism_comes_back_exactly(corners, thick, foot) -> None:
    """Seen is all between its lower and its upper outline: of a convex one the hull of both."""
    true = MultiPoint(corners).convex_hull
    if true.geom_type != "Polygon" or true.area < 20:
        return
    share = 400 / (400 - thick)
    upper = [
        (foot[0] + (x - foot[0]) * share, foot[1] + (y - foot[1]) * share) for x, y in true.exterior.coords
    ]
    seen = MultiPoint([*true.exterior.coords, *upper]).convex_hull
    back = Polygon(corrected(list(seen.exterior.coords)[:-1], Thick(thick), view(foot, 400.0)))
    assert back.symmetric_difference(true).area < 1e-6 * true.area + 1e-9


@pytest.mark.parametrize("far", [0.0, 60.0, 130.0])
@pytest.mark.parametrize("radius", [3.5, 8.0, 14.0])
def test_a_ball_comes_back(far: float, radius: float) -> None:
    """A ball's rim is where the cone of rays that touch it meets the paper: an ellipse whose ends lie at
    H·tan(θ ± δ), θ the slant to its middle and sin δ = r ÷ distance."""
    height = 400.0
    apart = hypot(far, height - radius)
    slant, half = atan2(far, height - radius), atan(radius / (apart**2 - radius**2) ** 0.5)
    low, high = height * tan(slant - half), height * tan(slant + half)
    middle, long = (low + high) / 2, (high - low) / 2
    # Across: at the ellipse's middle the cone is as wide as its half angle says on that ray.
    at = hypot(middle, height)
    along_axis = at * cos(atan2(middle, height) - slant)
    off_axis = at * sin(atan2(middle, height) - slant)
    wide = ((along_axis * tan(half)) ** 2 - off_axis**2) ** 0.5
    steps = [2 * pi * step / 400 for step in range(400)]
    seen = [(middle + long * cos(t), wide * sin(t)) for t in steps]
    back = Polygon(corrected(seen, Thick(2 * radius, round=True), view((0.0, 0.0), height)))
    true = Point(far, 0).buffer(radius, quad_segs=100)
    assert back.hausdorff_distance(true) < 0.03 + 0.004 * radius


def test_what_lies_on_the_paper_stays() -> None:
    square = [(10.0, 10.0), (40.0, 10.0), (40.0, 30.0), (10.0, 30.0)]
    assert Polygon(corrected(square, Thick(0.0), view((0.0, 0.0), 300.0))).equals(Polygon(square))


def test_a_rim_that_crosses_itself_by_a_hair_is_healed() -> None:
    rim = [(0.0, 0.0), (30.0, 0.0), (30.0, 20.0), (15.0, 20.0), (15.1, 20.1), (15.1, 19.9), (0.0, 20.0)]
    assert Polygon(corrected(rim, Thick(1.0), view((15.0, 10.0), 400.0))).area == pytest.approx(597, abs=4)
