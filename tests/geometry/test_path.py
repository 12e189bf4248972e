"""Paths: length, area, places along them."""

from __future__ import annotations

from math import hypot, pi, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.geometry.affine import Affine
from handkit.geometry.path import Path, circle, polyline
from handkit.geometry.segment import Segment

#   A stadium 40 long between two half circles of radius 10, counter-clockwise from the lower left.
STADIUM = Path(
    (
        Segment((0, -10), (40, -10)),
        Segment((40, -10), (40, 10), tan(pi / 4)),
        Segment((40, 10), (0, 10)),
        Segment((0, 10), (0, -10), tan(pi / 4)),
    ),
    closed=True,
)


def test_length_area_and_bounds() -> None:
    """Closed formulas, worked out by hand."""
    assert STADIUM.length == pytest.approx(80 + 20 * pi)
    assert STADIUM.signed_area() == pytest.approx(800 + 100 * pi)
    assert STADIUM.bounds() == pytest.approx((-10, -10, 50, 10))
    assert STADIUM.moved(Affine.mirror()).signed_area() == pytest.approx(-800 - 100 * pi)
    assert circle((3, 4), 5).signed_area() == pytest.approx(25 * pi)


def test_segments_must_join() -> None:
    with pytest.raises(ValueError, match="do not join"):
        Path((Segment((0, 0), (1, 0)), Segment((1.1, 0), (2, 0))))


def test_between_prolongs_open_ends_straight() -> None:
    hook = polyline([(0, 0), (10, 0), (10, 10)])
    longer = hook.between(-3, 25)
    assert (longer.start, longer.end) == ((-3, 0), (10, 15))
    assert longer.length == pytest.approx(28)


def test_between_holds_at_the_very_ends() -> None:
    """An end that is off by rounding adds no bit without length."""
    hook = polyline([(0, 0), (10, 0), (10, 10)])
    assert hook.between(-1e-12, 20 + 1e-12) == hook
    assert len(hook.between(10, 20).segments) == 1


def test_corners_are_jumps_only() -> None:
    """A smooth arc turns, but has no corner; the start of a closed path may be one."""
    assert STADIUM.corners(over_degrees=30) == ()
    square = polyline([(0, 0), (4, 0), (4, 4), (0, 4)], closed=True)
    assert square.corners(over_degrees=30) == (0, 4, 8, 12)
    bend = polyline([(0, 0), (10, 0), (20, 5.77)])  # turns by 29.98 degrees
    assert bend.corners(over_degrees=30) == ()
    assert polyline([(0, 0), (10, 0), (20, 5.78)]).corners(over_degrees=30) == (10,)


@st.composite
def paths(draw: st.DrawFn) -> Path:
    """Open or closed rows of lines and arcs whose corners lie apart."""
    count = draw(st.integers(3, 7))
    xs = [40 * k + draw(st.floats(-10, 10)) for k in range(count)]
    ring = [(x, draw(st.floats(-50, 50))) for x in xs]
    closed = draw(st.booleans())
    ends = [*ring, ring[0]] if closed else ring
    bulges = [draw(st.sampled_from([0.0, 0.3, -0.4, 1.2])) for _ in ends[1:]]
    row = (Segment(a, b, bulge) for a, b, bulge in zip(ends, ends[1:], bulges, strict=False))
    return Path(tuple(row), closed)


@settings(derandomize=True, deadline=None, max_examples=100)
@given(paths(), st.floats(0, 0.999))
def test_places_on_a_path(path: Path, share: float) -> None:
    """The place at a distance along is found again: at that distance, or at an earlier one there too."""
    at = path.point_at(share * path.length)
    again = path.along_of(at)
    assert path.point_at(again) == pytest.approx(at, abs=2e-6)
    assert again <= share * path.length + 1e-5


@settings(derandomize=True, deadline=None, max_examples=100)
@given(paths(), st.floats(-60, 300), st.floats(-120, 120))
def test_the_nearest_place_is_as_near_as_any(path: Path, x: float, y: float) -> None:
    """The distance is that of the nearest of places all along it; what comes within it is told alike."""
    found = path.distance_to((x, y))
    looked = [path.point_at(path.length * k / 2000) for k in range(2001)]
    least = min(hypot(at[0] - x, at[1] - y) for at in looked)
    assert least - path.length / 4000 - 1e-5 <= found <= least + 1e-5
    assert path.comes_within(found + 1e-5, (x, y))
    assert not path.comes_within(found - 1e-5, (x, y))


@settings(derandomize=True, deadline=None, max_examples=100)
@given(paths(), st.floats(0, 0.9), st.floats(0.05, 1))
def test_between_keeps_every_place(path: Path, start: float, length: float) -> None:
    first = start * path.length
    last = first + length * (path.length if path.closed else path.length - first)
    part = path.between(first, last)
    assert part.length == pytest.approx(last - first, abs=1e-5)
    for share in (0.0, 0.3, 0.8, 1.0):
        here, there = part.point_at(share * part.length), path.point_at(first + share * (last - first))
        assert hypot(here[0] - there[0], here[1] - there[1]) < 1e-5


@settings(derandomize=True, deadline=None, max_examples=100)
@given(paths(), st.floats(0, 1))
def test_closed_paths_begin_anywhere(path: Path, share: float) -> None:
    """The same path from another start: same length and area, and the start is where it was asked."""
    if not path.closed:
        return
    begun = path.starting_at(share * path.length)
    assert begun.length == pytest.approx(path.length)
    assert begun.signed_area() == pytest.approx(path.signed_area())
    assert begun.start == pytest.approx(path.point_at(share * path.length), abs=2e-6)
