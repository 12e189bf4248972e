"""The raster: what a line takes, whichever way it goes; and lines that are level but for rounding."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

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
