"""The walk visits every hole, one step at a time, and comes back as often as told."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.stitch.sewing.walk import most_back, walk

# Worked out by hand; two back stitches at the least, three at 3 mm and finer (common practice).
WAYS = [
    # holes, closed, back, start_back, way
    (4, False, 0, 0, (1, 2, 3, 4)),
    (4, False, 2, 0, (1, 2, 3, 4, 3, 2)),
    (4, False, 2, 1, (2, 1, 2, 3, 4, 3, 2)),
    (4, False, 3, 0, (1, 2, 3, 4, 3, 2, 1)),
    (4, True, 0, 0, (1, 2, 3, 4, 1)),
    (4, True, 2, 0, (1, 2, 3, 4, 1, 2, 3)),
    (4, True, 1, 2, (3, 2, 1, 2, 3, 4, 1, 2)),
    # Fewer holes than back stitches: all stitches once more, and no further.
    (2, False, 3, 0, (1, 2, 1)),
    (2, False, 3, 3, (2, 1, 2, 1)),
    (3, False, 5, 0, (1, 2, 3, 2, 1)),
    (3, True, 5, 0, (1, 2, 3, 1, 2, 3)),
    (1, False, 2, 2, (1,)),
]


@pytest.mark.parametrize(("count", "closed", "back", "start_back", "way"), WAYS)
def test_ways(count: int, closed: bool, back: int, start_back: int, way: tuple[int, ...]) -> None:
    assert walk(count, closed=closed, back=back, start_back=start_back) == way


def test_a_seam_without_holes_is_refused() -> None:
    with pytest.raises(ValueError, match="a seam without holes has no way"):
        walk(0, closed=False, back=2, start_back=0)


@settings(derandomize=True, deadline=None, max_examples=300)
@given(st.integers(1, 60), st.booleans(), st.integers(0, 9), st.integers(0, 9))
def test_every_hole_is_visited_in_steps_of_one(count: int, closed: bool, back: int, start_back: int) -> None:
    way = walk(count, closed=closed, back=back, start_back=start_back)
    assert set(way) == set(range(1, count + 1))
    for here, there in pairwise(way):
        assert abs(here - there) == 1 or (closed and (here, there) == (count, 1))


@settings(derandomize=True, deadline=None, max_examples=300)
@given(st.integers(2, 60), st.booleans(), st.integers(0, 9), st.integers(0, 9))
def test_moves_are_the_stitches_and_the_back_stitches_again(
    count: int, closed: bool, back: int, start_back: int
) -> None:
    """M = stitches + back stitches at either end; a closed seam has as many stitches as holes."""
    way = walk(count, closed=closed, back=back, start_back=start_back)
    most = most_back(count)
    assert len(way) - 1 == (count if closed else count - 1) + min(back, most) + min(start_back, most)
