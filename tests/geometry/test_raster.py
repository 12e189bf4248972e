"""The raster: what a line takes, whichever way it goes; and lines that are level but for rounding."""

from __future__ import annotations

from math import dist

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Point
from shapely import box as square

from handkit.geometry.box import Box
from handkit.geometry.raster import Raster

AREA = Box(-7.0, -3.0, 33.0, 27.0)
places = st.tuples(st.floats(-7, 33), st.floats(-3, 27))


def taken(line: tuple[tuple[float, float], ...], *, exact: bool) -> list[int]:
    raster = Raster(AREA, cell=1.0, exact=exact)
    raster.take_line(line, reach=1.0)
    return raster.rows


@pytest.mark.parametrize("exact", [True, False])
@pytest.mark.parametrize("rise", [0.0, 5e-324, 1e-17, 2e-16, 1e-12])
def test_a_line_level_but_for_rounding_is_taken_as_a_level_one(rise: float, exact: bool) -> None:
    """Rises far below a cell: they vanish when the raster's corner is taken off, and may not divide."""
    assert taken(((0.0, 0.0), (20.0, rise)), exact=exact) == taken(((0.0, 0.0), (20.0, 0.0)), exact=exact)


@settings(derandomize=True, deadline=None, max_examples=100)
@given(start=places, end=places, share=st.floats(0, 1), exact=st.booleans())
def test_the_cell_of_each_place_on_a_line_is_taken(
    start: tuple[float, float], end: tuple[float, float], share: float, exact: bool
) -> None:
    rows = taken((start, end), exact=exact)
    x, y = (a + share * (b - a) for a, b in zip(start, end, strict=True))
    column, row = int(x - AREA.left), int(y - AREA.bottom)
    if row < len(rows) and column < 40:
        assert rows[row] >> column & 1


cells = st.tuples(st.integers(0, 39), st.integers(0, 29))


@settings(derandomize=True, deadline=None, max_examples=300)
@given(start=places, end=places, stones=st.sets(cells, max_size=40), reach=st.sampled_from([0.1, 0.4]))
def test_a_way_is_free_where_no_cell_on_it_is_taken(
    start: tuple[float, float], end: tuple[float, float], stones: set[tuple[int, int]], reach: float
) -> None:
    raster = Raster(AREA, cell=1.0)
    for column, row in stones:
        raster.rows[row] |= 1 << column
    free = raster.is_free_along(start, end, reach=reach)
    line = LineString([start, end]) if dist(start, end) > 1e-9 else Point(start)  # 2.1 divides by its length
    gaps = [
        line.distance(square(AREA.left + x, AREA.bottom + y, AREA.left + x + 1, AREA.bottom + y + 1))
        for x, y in stones
    ]
    assert not free or all(gap > 0 for gap in gaps)
    assert free or min(gaps) <= reach * 2**0.5 + 1e-9
