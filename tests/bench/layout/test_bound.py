"""The bound: values worked out by hand, and layouts known to exist that it may not forbid."""

from __future__ import annotations

from math import pi, sqrt

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from layout_bound import bound, cheeger, inside_corners, least_cut, need, parted
from layout_case import Case, Drawing

W, H, OVERLAP, GAP = 190.0, 277.0, 10.0, 2.0


def case_of(*rings: tuple[tuple[float, float], ...]) -> Case:
    pieces = tuple(Drawing(f"piece {k}", ring) for k, ring in enumerate(rings))
    return Case("by hand", "a4", W + 20, H + 20, 10.0, OVERLAP, GAP, pieces)


def rectangle(w: float, h: float) -> tuple[tuple[float, float], ...]:
    return ((0, 0), (w, 0), (w, h), (0, h))


def test_a_piece_that_fits_needs_its_area_and_half_the_gap_around_it() -> None:
    # By hand: 100 × 50 grown by 1: 5000 + 2·(100 + 50)·1 + π (by chords, a little less).
    grown, cutting = need(shapely.box(0, 0, 100, 50), W, H, gap=GAP, overlap=OVERLAP)
    assert cutting == 0
    assert 5300 + pi - 0.01 < grown < 5300 + pi


@pytest.mark.parametrize(
    ("length", "wide", "cuts"),
    [
        # By hand: a strap is worn to (length − 10.02) × (wide − 10.02) mm; R⁻ is 180 × 267, its
        # diagonal 322.0; each whole diagonal that is passed is a cut across what is left of the width.
        (320, 40, 0),
        (340, 40, 1),
        (650, 40, 1),
        (660, 40, 2),
        (1310, 40, 4),
    ],
)
def test_a_strap_is_cut_at_every_diagonal(length: float, wide: float, cuts: int) -> None:
    worn = shapely.box(0, 0, length, wide).buffer(-5.01)
    found = least_cut(worn, W - OVERLAP, H - OVERLAP)
    assert found == pytest.approx(cuts * (wide - 10.02), abs=1e-6)


def test_the_perimeter_of_a_square_page() -> None:
    """Greatest area over perimeter in a square: side over 2 + √π, by hand from the root."""
    t = cheeger(70, 70)
    assert t == pytest.approx(70 / (2 + sqrt(pi)))
    assert (70 - 2 * t) ** 2 == pytest.approx(pi * t * t)


def test_a_large_square_is_cut_by_its_perimeter() -> None:
    # By hand: K is a square of side s with square corners, 2ℓ ≥ s²/t − 4s at least.
    t, side = cheeger(W - OVERLAP, H - OVERLAP), 900.0
    worn = shapely.box(0, 0, side, side)
    plain = (side * side / t - 4 * side) / 2
    found = least_cut(worn, W - OVERLAP, H - OVERLAP)
    # Five columns and three rows of cells of 180 × 267 at least: 4 + 3 cuts of the side.
    assert plain <= found <= 7 * side


def test_both_arms_of_a_corner_count() -> None:
    """Parted at its inside corner, an L has a cut in either arm; no one direction sees both whole."""
    ring = ((0, 0), (500, 0), (500, 80), (80, 80), (80, 500), (0, 500))
    piece = shapely.Polygon(ring)
    worn = piece.buffer(-5.01)
    whole = least_cut(worn, W - OVERLAP, H - OVERLAP)
    found = parted(worn, inside_corners(piece), W - OVERLAP, H - OVERLAP)
    assert whole < found <= 2 * 80
    assert found == pytest.approx(2 * (80 - 10.02), abs=0.5)


@pytest.mark.parametrize("columns", [1, 2, 3, 4])
@pytest.mark.parametrize("rows", [1, 2, 3])
def test_what_a_grid_of_whole_pages_shows_is_not_forbidden(columns: int, rows: int) -> None:
    """A rectangle that fills a grid to its rim takes columns × rows sheets, and the bound says as much."""
    w = columns * (W - OVERLAP) + OVERLAP
    h = rows * (H - OVERLAP) + OVERLAP
    found = bound(case_of(rectangle(w, h)))
    assert found.exact <= columns * rows
    # And it is not idle: not a sixth of the sheets is given away.
    assert found.exact > columns * rows * 5 / 6


@settings(derandomize=True, deadline=None, max_examples=60)
@given(
    st.lists(st.tuples(st.floats(20, 189), st.floats(20, 276)), min_size=1, max_size=6),
    st.lists(st.floats(0.1, 0.9), min_size=6, max_size=6),
)
def test_what_was_cut_from_pages_fits_them_again(
    sizes: list[tuple[float, float]], shares: list[float]
) -> None:
    """Pages cut in two by a straight, a gap apart: the bound may not ask for more pages than there were."""
    rings = []
    for (w, h), share in zip(sizes, shares, strict=False):
        low = w * share - GAP / 2
        rings += [rectangle(low, h)] if low > 1 else []
        rings += [rectangle(w - low - GAP, h)] if w - low - GAP > 1 else []
    if rings:
        assert bound(case_of(*rings)).sheets <= len(sizes)
