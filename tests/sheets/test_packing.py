"""Boxes on pages: none is lost, none overlaps, small sets take the fewest pages there can be."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.sheets.nest.packing import BoxPlacement, Size, pack

PAGE = Size(190, 277)

#  page 100 × 100, gap 2; pages by hand: no arrangement takes fewer
TABLE = [
    ("none", [], 0),
    ("one that fills the page", [(100, 100)], 1),
    ("two halves less the gap", [(49, 100), (49, 100)], 1),
    ("two halves", [(50, 100), (50, 100)], 2),
    ("one turned", [(40, 100), (100, 58)], 1),
    ("four quarters", [(49, 49)] * 4, 1),
    ("five quarters", [(49, 49)] * 5, 2),
    ("small ones beside a big one", [(70, 70), (28, 40), (28, 40), (70, 28), (28, 16)], 1),
]


@pytest.mark.parametrize(("name", "sizes", "pages"), TABLE, ids=[row[0] for row in TABLE])
def test_small_sets_take_the_fewest_pages(name: str, sizes: list[tuple[float, float]], pages: int) -> None:
    spots = pack([Size(*size) for size in sizes], page=Size(100, 100), gap=2)
    assert len({spot.page for spot in spots}) == pages


def test_a_box_larger_than_the_page_is_refused() -> None:
    with pytest.raises(ValueError, match=r"a box of Size\(width=101, height=40\) is larger than the page"):
        pack([Size(101, 40)], page=Size(100, 100), gap=2)


def corners(size: Size, spot: BoxPlacement) -> tuple[float, float, float, float]:
    width, height = (size.height, size.width) if spot.turned else (size.width, size.height)
    return (spot.left, spot.bottom, spot.left + width, spot.bottom + height)


side = st.integers(1000, 190_000).map(lambda thousandths: thousandths / 1000)


@settings(derandomize=True, deadline=None, max_examples=120)
@given(st.lists(st.tuples(side, side), min_size=1, max_size=25), st.sampled_from([0.0, 2.0, 5.0]))
def test_boxes_stay_on_their_page_and_keep_the_gap(sides: list[tuple[float, float]], gap: float) -> None:
    sizes = [Size(*both) for both in sides]
    spots = pack(sizes, page=PAGE, gap=gap)
    assert len(spots) == len(sizes)
    assert {spot.page for spot in spots} == set(range(len({spot.page for spot in spots})))
    boxes = [(spot.page, corners(size, spot)) for size, spot in zip(sizes, spots, strict=True)]
    for index, (page, (left, bottom, right, top)) in enumerate(boxes):
        assert min(left, bottom) >= 0 and right <= PAGE.width + 1e-6 and top <= PAGE.height + 1e-6
        for other_page, other in boxes[:index]:
            apart = max(other[0] - right, left - other[2], other[1] - top, bottom - other[3])
            assert page != other_page or apart >= gap - 1e-6
    assert spots == pack(sizes, page=PAGE, gap=gap)


def test_more_pages_than_are_of_use_are_not_packed() -> None:
    """Three boxes of over half a page take three pages: no answer for two, the usual one for three."""
    page, sizes = Size(100, 100), [Size(60, 90)] * 3
    assert pack(sizes, page=page, gap=2, most_pages=2) == ()
    assert pack(sizes, page=page, gap=2, most_pages=3) == pack(sizes, page=page, gap=2)
