"""Rasters and polygons: what is taken is never called free; windows against a geometry library."""

from __future__ import annotations

from itertools import product
from math import cos, hypot, pi, sin

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.draw.model.fonts import shipped_fonts
from handkit.draw.model.free_space import FreeSpace, LabelRegion, take_groups, take_path
from handkit.draw.model.label_search import free_places, spots
from handkit.draw.model.marks import Group, Ink, Mark
from handkit.draw.model.path_ops import box_ops, circle_ops, line_ops
from handkit.geometry.box import Box
from handkit.geometry.path import polyline
from handkit.geometry.polygon import grown, inside, touching
from handkit.geometry.raster import Raster
from handkit.ink import Stroke, Tag

places = st.tuples(st.floats(5, 95), st.floats(5, 95))
SETTINGS = settings(derandomize=True, deadline=None, max_examples=200)


def is_free(raster: Raster, box: Box) -> bool:
    return raster.is_free(box.left, box.bottom, box.right, box.top)


def space_of(room: Box, raster: Raster, air: float = 0.0) -> FreeSpace:
    return FreeSpace(room, raster, raster, {LabelRegion.INSIDE: (raster, raster)}, shipped_fonts(), air=air)


def box_of(box: Box) -> shapely.Polygon:
    """A box as the other library has it; nothing where it was shrunk away."""
    if box.left >= box.right or box.bottom >= box.top:
        return shapely.Polygon()
    return shapely.box(box.left, box.bottom, box.right, box.top)


@st.composite
def boxes(draw: st.DrawFn) -> Box:
    left, bottom = draw(st.floats(0, 80)), draw(st.floats(0, 80))
    return Box(left, bottom, left + draw(st.floats(0.5, 19)), bottom + draw(st.floats(0.5, 19)))


@given(lines=st.lists(st.tuples(places, places), max_size=6), box=boxes())
@SETTINGS
def test_a_free_box_has_no_line_in_it(
    lines: list[tuple[tuple[float, float], tuple[float, float]]], box: Box
) -> None:
    raster = Raster(Box(0, 0, 100, 100), cell=0.5)
    for line in lines:
        raster.take_line(line, reach=0.1)
    area = shapely.box(box.left, box.bottom, box.right, box.top)
    if is_free(raster, box):
        assert not any(area.intersects(shapely.LineString(line)) for line in lines)
    elif not lines:
        pytest.fail("an empty raster is free")


@given(lines=st.lists(st.tuples(places, places), max_size=6), box=boxes())
@SETTINGS
def test_a_box_far_from_every_line_is_free(
    lines: list[tuple[tuple[float, float], tuple[float, float]]], box: Box
) -> None:
    raster = Raster(Box(0, 0, 100, 100), cell=0.5)
    for line in lines:
        raster.take_line(line, reach=0.1)
    area = shapely.box(box.left, box.bottom, box.right, box.top)
    if all(area.distance(shapely.LineString(line)) > 1.5 for line in lines):
        assert is_free(raster, box)


def test_nothing_outside_the_room_is_free() -> None:
    room = Box(10, 10, 50, 50)
    space = space_of(room, Raster(Box(0, 0, 50, 50), cell=0.5))
    assert space.fits(Box(10, 10, 20, 20))
    assert not space.fits(Box(9.9, 10, 20, 20))
    assert not space.fits(Box(40, 40, 50.1, 45))


def test_a_taken_circle_is_free_within_and_without() -> None:
    raster = Raster(Box(0, 0, 100, 100), cell=0.5)
    take_path(raster, circle_ops((50, 50), 30), reach=0.1)
    assert is_free(raster, Box(35, 35, 65, 65))
    for k in range(360):
        x, y = 50 + 30 * cos(k * pi / 180), 50 + 30 * sin(k * pi / 180)
        assert not is_free(raster, Box(x - 0.01, y - 0.01, x + 0.01, y + 0.01))


def test_inside_and_outside_of_a_ring() -> None:
    ring = ((20, 20), (80, 20), (80, 80), (50, 40), (20, 80))
    within, without = (Raster(Box(0, 0, 100, 100), cell=0.5) for _ in range(2))
    within.take_all_but(within.inside(ring))
    without.take_cells(without.inside(ring))
    assert is_free(within, Box(30, 22, 70, 30))
    assert not is_free(within, Box(45, 60, 55, 65))
    assert is_free(without, Box(45, 60, 55, 65))
    assert not is_free(without, Box(30, 22, 70, 30))


def test_spots_lie_in_the_area_the_middle_first() -> None:
    area = Box(10, 10, 60, 40)
    found = list(spots(area, 20, 10, step=3.0))
    assert all(box.inside(area.grown(1e-9)) for box in found)
    assert found[0] == Box(25, 20, 45, 30)
    assert list(spots(area, 60, 10, step=3.0)) == []


@given(lines=st.lists(st.tuples(places, places), max_size=6), box=boxes(), air=st.sampled_from((0.0, 0.4)))
@SETTINGS
def test_free_places_are_the_spots_that_fit_in_the_same_order(
    lines: list[tuple[tuple[float, float], tuple[float, float]]], box: Box, air: float
) -> None:
    """Looked up together or one by one."""
    raster = Raster(Box(0, 0, 100, 100), cell=0.5)
    for line in lines:
        raster.take_line(line, reach=0.1)
    space = space_of(Box(3, 3, 97, 97), raster, air=air)
    area = Box(0, 10, 100, 90)
    fitting = [spot for spot in spots(area, box.width, box.height, step=3.0) if space.fits(spot)]
    found = list(free_places(space, area, box.width, box.height))
    assert found == [(spot.left, spot.bottom) for spot in fitting]


@st.composite
def stars(draw: st.DrawFn) -> tuple[tuple[float, float], ...]:
    """Rings that do not cross themselves, with reflex corners."""
    count = draw(st.integers(3, 9))
    radii = [draw(st.floats(5, 40)) for _ in range(count)]
    return tuple(
        (50 + r * cos(2 * pi * k / count), 50 + r * sin(2 * pi * k / count)) for k, r in enumerate(radii)
    )


@given(ring=stars(), place=places)
@SETTINGS
def test_inside_as_a_geometry_library_has_it(
    ring: tuple[tuple[float, float], ...], place: tuple[float, float]
) -> None:
    shape, point = shapely.Polygon(ring), shapely.Point(place)
    if shape.boundary.distance(point) > 1e-5:
        assert inside(place, ring) == shape.contains(point)


def test_a_place_on_the_rim_is_inside() -> None:
    square = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))
    assert inside((10, 5), square)
    assert inside((10 + 5e-7, 5), square)
    assert not inside((10.001, 5), square)


@given(
    points=st.lists(places, min_size=3, max_size=8, unique=True),
    corner=places,
    size=st.floats(3, 40),
)
@SETTINGS
def test_what_touches_a_window_is_kept(
    points: list[tuple[float, float]], corner: tuple[float, float], size: float
) -> None:
    """No bit of a path that lies in the window is lost, and far bits are dropped."""
    path = polyline(points, closed=True)
    x, y = corner
    window = ((x, y), (x + size, y), (x + size, y + size), (x, y + size))
    kept = {(s.start, s.end) for run in touching(path, window, within=0.2) for s in run.segments}
    area = shapely.Polygon(window)
    for segment in path.segments:
        gap = area.distance(shapely.LineString([segment.start, segment.end]))
        if gap <= 0.2:
            assert (segment.start, segment.end) in kept
        if gap > 0.5 and len(kept) < len(path.segments):
            assert (segment.start, segment.end) not in kept


@pytest.mark.parametrize("ring", [((0, 0), (20, 0), (20, 10), (0, 10)), ((0, 0), (0, 10), (20, 10), (20, 0))])
def test_a_grown_window_is_a_mitred_buffer(ring: tuple[tuple[float, float], ...]) -> None:
    buffered = shapely.Polygon(ring).buffer(0.35, join_style="mitre")
    assert shapely.Polygon(grown(ring, 0.35)).symmetric_difference(buffered).area < 1e-9


# A line without length is no line to the library that it is held to.
some_lines = st.lists(
    st.tuples(places, places).filter(lambda ends: ends[0] != ends[1]), min_size=1, max_size=6
)


@given(lines=some_lines, clip=boxes(), box=boxes())
@SETTINGS
def test_a_clipped_line_takes_no_paper_that_it_is_not_seen_on(
    lines: list[tuple[tuple[float, float], tuple[float, float]]], clip: Box, box: Box
) -> None:
    """What a clip hides blocks no text; what it shows does, but for half a cell at the clip's rim."""
    raster = Raster(Box(0, 0, 100, 100), cell=0.5)
    inks = tuple(Ink(line_ops(*line), Stroke(0.2)) for line in lines)
    clips = (box_ops(clip.left, clip.bottom, clip.right, clip.top),)
    take_groups(raster, [Group((Mark(Tag.ONTOP, (), inks),), clips)])
    shown = [shapely.LineString(line).intersection(box_of(clip.grown(-0.6))) for line in lines]
    hidden = [shapely.LineString(line).intersection(box_of(clip.grown(0.6))) for line in lines]
    area = box_of(box)
    if is_free(raster, box):
        assert not any(area.intersects(line) for line in shown)
    else:
        assert any(area.distance(line) <= 1.5 for line in hidden if not line.is_empty)


@settings(derandomize=True, deadline=None, max_examples=48)
@given(
    taken=st.lists(st.tuples(st.integers(0, 39), st.integers(0, 29), st.integers(1, 9), st.integers(1, 9))),
    size=st.tuples(st.floats(0.6, 7.4), st.floats(0.6, 7.4)),
    area=st.tuples(st.integers(0, 20), st.integers(0, 10)),
)
def test_the_nearest_free_place_is_found_wherever_there_is_one(
    taken: list[tuple[int, int, int, int]], size: tuple[float, float], area: tuple[int, int]
) -> None:
    """Of all places by half cells, looked at one by one, none is free that is nearer by more than a cell."""
    raster = Raster(Box(0, 0, 20, 15), cell=0.5)
    for x, y, wide, high in taken:
        raster.take(x / 2 + 0.1, y / 2 + 0.1, (x + wide) / 2 - 0.1, (y + high) / 2 - 0.1)
    within = Box(area[0] / 2, area[1] / 2, area[0] / 2 + 10, area[1] / 2 + 8)
    space = space_of(Box(0, 0, 20, 15), raster, air=0.5)
    found = space.nearest(within, *size, LabelRegion.INSIDE)
    (x0, y0), (wide, high) = within.middle, size
    free = [
        hypot(x + wide / 2 - x0, y + high / 2 - y0)
        for x, y in product([k / 4 for k in range(81)], [k / 4 for k in range(61)])
        if Box(x - 0.5, y - 0.5, x + wide + 0.5, y + high + 0.5).inside(within)
        and space.fits(Box(x, y, x + wide, y + high), LabelRegion.INSIDE)
    ]
    assert found is not None or not free
    if found is not None:
        assert found.grown(0.5).inside(within)
        assert space.fits(found, LabelRegion.INSIDE)
        assert hypot(found.middle[0] - x0, found.middle[1] - y0) <= min(free, default=99) + 0.75
