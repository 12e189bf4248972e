"""Stepped pockets: sizes by hand, what they hold, what moves with a measure."""

from __future__ import annotations

from collections.abc import Callable
from math import atan, pi

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.draft.pattern import Pattern
from handkit.punch.punched import Punched

law = settings(derandomize=True, deadline=None, max_examples=12)

Size = tuple[float, float, float]
CARD = (85.6, 0.76, 53.98)  # ISO/IEC 7810, ID-1


def pockets(
    more: str = "", *, cards: tuple[tuple[float, float, float], ...] = (CARD,), pitch: float = 3
) -> str:
    items = "".join(
        f'[[item]]\nname = "card {k}"\nin = "cards"\nsize = [{wide}, {thick}, {long}]\n'
        for k, (wide, thick, long) in enumerate(cards)
    )
    return (
        f'[[part]]\nname = "cards"\nkind = "stepped pockets"\non = "back"\nat = [20, 30]\n{more}\n{items}'
        f"[stitching]\npitch = {pitch}\ninset = 3\nthread = 0.5\n"
    )


def size(pattern: Pattern, name: str) -> tuple[float, float]:
    left, low, right, high = pattern.piece(name).outline.bounds()
    return right - left, high - low


def mouth(pattern: Pattern, k: int) -> float:
    """The height of pocket k's mouth on the base."""
    piece = pattern.piece(f"cards {k}")
    return piece.in_base.apply((0.0, piece.outline.bounds()[3]))[1]


# What a card needs across, between rows: 0.8 mm leather on it and under it, the hull rule with half the card,
# by hand: the stitch stands s/2 = 0.4 above the plane, half the card 0.38: deep = 0.02;
# 85.6 + 2 × 0.02 + 0.8 × (π/2 − 2 atan(0.04 / 0.8)) = 86.8168; and 2 of ease.
ACROSS = 85.6 + 0.04 + 0.8 * (pi / 2 - 2 * atan(0.05))

# Its foot stands (86.8168 − 85.6) / 2 = 0.6084 above the row: 54.5884 long in all, less the reveal.
# The lowest: 3 + (m + 1/2) pitches, m nearest; the others, 3 more for the foot, to whole pitches.
HEIGHTS = [
    # reveal, pitch, lowest, others
    (12, 3, 3 + 14.5 * 3, 15 * 3),  # 42.588 / 3 = 14.196: 14 1/2; 45.588 / 3 = 15.196: 15
    (10, 3, 3 + 14.5 * 3, 16 * 3),  # 44.588 / 3 = 14.863: 14 1/2; 47.588 / 3 = 15.863: 16
    (12, 4, 3 + 10.5 * 4, 11 * 4),  # 42.588 / 4 = 10.647: 10 1/2; 45.588 / 4 = 11.397: 11
]


@pytest.mark.parametrize(("reveal", "pitch", "lowest", "others"), HEIGHTS)
def test_sizes_by_hand(
    pattern_of: Callable[..., Pattern], reveal: float, pitch: float, lowest: float, others: float
) -> None:
    pattern = pattern_of(pockets(f"steps = 3\nreveal = {reveal}", pitch=pitch), thickness=0.8)
    assert pattern.item_fits[0].needed == pytest.approx(ACROSS, abs=1e-9)
    width = ACROSS + 2 + 2 * 3
    assert size(pattern, "cards 3") == pytest.approx((width, lowest))
    assert size(pattern, "cards 1") == size(pattern, "cards 2") == pytest.approx((width, others))
    assert [mouth(pattern, k) for k in (3, 2, 1)] == pytest.approx(
        [30 + lowest + k * reveal for k in range(3)]
    )


def test_one_row_goes_through_all_with_a_strand_over_each_mouth(
    punched_of: Callable[..., Punched],
) -> None:
    """With a step of whole pitches holes stand half a pitch from each edge that crosses the row."""
    punched = punched_of(pockets("steps = 3"), thickness=0.8)
    row = next(seam for seam in punched.seams if seam.name == "cards")
    assert [layer.piece for layer in row.layers] == ["back", "cards 1", "cards 2", "cards 3"]
    assert {seam.name for seam in punched.seams} == {"cards", "cards 1, foot", "cards 2, foot"}
    on_back = [hole.at for hole in row.layers[0].holes if hole.at[0] < 23.001]
    steps = sorted(y for _, y in on_back)
    for k in (1, 2, 3):
        assert min(abs(y - mouth(punched.pattern, k)) for y in steps) == pytest.approx(1.5)
        assert max(steps) > mouth(punched.pattern, k)
    assert (*punched.pattern.findings, *punched.findings) == ()


def test_tees_keep_out_of_the_row_but_where_they_show(punched_of: Callable[..., Punched]) -> None:
    """A bar of two reveals, 24 mm, has 24 / 3 = 8 holes at either side; the stem has none."""
    plain, tees = (punched_of(pockets(f"steps = 3\n{more}"), thickness=0.8) for more in ("", "tees = true"))
    for k, count in ((1, 16), (2, 16)):
        row = next(seam for seam in tees.seams if seam.name == "cards")
        layer = next(each for each in row.layers if each.piece == f"cards {k}")
        assert len(layer.holes) == count
    assert len(tees.pattern.piece("cards 1").letters) == 8
    assert size(tees.pattern, "cards 3") == size(plain.pattern, "cards 3")


def over(wide: float, thick: float, leather: float) -> float:
    """The least way over half a card from stitch to stitch, measured on a hull of many points."""
    half, deep = leather / 2, thick / 2
    corners = shapely.MultiPoint([(-wide / 2, deep), (wide / 2, deep), (-wide / 2, 0), (wide / 2, 0)])
    stitches = [(-(wide + leather) / 2, half), ((wide + leather) / 2, half)]
    grown = corners.buffer(half, quad_segs=256)
    above = grown.intersection(shapely.box(-999, half, 999, 999))
    hull = above.union(shapely.MultiPoint(stitches)).convex_hull
    return float(hull.length - (wide + leather))


@law
@given(
    card=st.tuples(
        st.sampled_from([40.0, 74.0, 85.6, 140.0]),
        st.sampled_from([0.3, 0.76, 2.0, 4.0]),
        st.sampled_from([40.0, 53.98, 105.0]),
    ),
    leather=st.sampled_from([0.6, 1.0, 1.6]),
    steps=st.integers(1, 4),
)
def test_they_hold_the_card_with_its_ease(
    pattern_of: Callable[..., Pattern], card: Size, leather: float, steps: int
) -> None:
    """Between the rows on the base, beside what a taut string over half the card measures; above the feet."""
    text = pockets(f"steps = {steps}\nease = 1.5\nreveal = 12", cards=(card,))
    pattern = pattern_of(text, thickness=leather)
    (line,) = [each for each in pattern.piece("back").lines if each.name == "cards"]
    left, low, right, _ = line.path.bounds()
    assert right - left == pytest.approx(over(card[0], card[1], leather) + 1.5, abs=2e-3)
    (outline,) = pattern.piece("back").items
    _, foot, _, top = outline.path.bounds()
    assert foot >= low + (steps - 1) * 12 - 1.5 - 1e-9  # to half a pitch
    assert 12 - 1.5 - 1e-6 <= top - mouth(pattern, 1) <= 12 + 1.5 + 1e-6


@law
@given(
    k=st.integers(0, 2),
    more=st.sampled_from([0.2, 1.0, 7.0]),
    start=st.sampled_from([(60.0, 0.76, 54.0), (85.6, 0.5, 80.0)]),
)
def test_a_larger_card_never_has_a_smaller_pocket(
    pattern_of: Callable[..., Pattern], k: int, more: float, start: Size
) -> None:
    larger = tuple(value + more * (0.2 if k == 1 == i else i == k) for i, value in enumerate(start))
    before, after = (
        pattern_of(pockets("steps = 2", cards=(each,)), thickness=0.8) for each in (start, larger)
    )
    for name in ("cards 1", "cards 2"):
        for small, large in zip(size(before, name), size(after, name), strict=True):
            assert large >= small - 1e-9
    moved = [size(before, name)[0] < size(after, name)[0] for name in ("cards 1", "cards 2")]
    assert all(moved) == (k != 2)


def test_each_of_several_cards_has_its_pocket_and_the_widest_decides(
    pattern_of: Callable[..., Pattern],
) -> None:
    pattern = pattern_of(pockets(cards=((85.6, 0.76, 54), (74, 0.3, 52))), thickness=0.8)
    assert [piece.name for piece in pattern.pieces] == ["back", "cards 1", "cards 2"]
    assert [fit.fit.value for fit in pattern.item_fits] == ["fits", "fits"]
    assert pattern.findings == ()


def test_sewn_in_with_a_seam_of_the_base(punched_of: Callable[..., Punched]) -> None:
    """They are layers of it, and have a row of their own only where they ask for one."""
    text = pockets('steps = 2\nseams = ["round"]\nbeside = "right"').replace("at = [20, 30]", "at = [0, 0]")
    text += '[[seam]]\nname = "round"\nruns = ["back: A-B-C-D-A"]\n'
    punched = punched_of(text, thickness=0.8)
    seams = {seam.name: [layer.piece for layer in seam.layers] for seam in punched.seams}
    assert seams == {
        "round": ["back", "cards 1", "cards 2"],
        "cards 1, foot": ["cards 1", "back"],
        "cards, right": ["back", "cards 1", "cards 2"],
    }
    (row,) = [seam for seam in punched.seams if seam.name == "round"]
    assert all(layer.holes for layer in row.layers)


@law
@given(
    shoulder=st.sampled_from([20.0, 60.0, 102.0, 120.0]),
    grows=st.tuples(st.sampled_from([40.0, 55.0]), st.sampled_from([60.0, 90.0])),
    steps=st.integers(1, 3),
    leather=st.sampled_from([0.6, 1.2]),
)
def test_an_outline_is_as_wide_as_what_of_it_lies_under_its_mouth(
    pattern_of: Callable[..., Pattern], shoulder: float, grows: Size, steps: int, leather: float
) -> None:
    """A fan, slanted from its foot to its shoulders and 10 more beyond them, 130 long: what lies under the
    mouth where it was drafted is cut out of it, and a taut string over half of that has its ease."""
    low, high = grows
    half = [(low / 2, 0.0), (high / 2, shoulder), (high / 2 + 10, shoulder), (high / 2 + 10, 130.0)]
    ring = [*half, *((-x, y) for x, y in reversed(half))]
    points = ", ".join(f"[{x}, {y}]" for x, y in ring)
    fan = f'[[item]]\nname = "fan"\nin = "cards"\noutline = [{points}]\nthickness = 1\n'
    text = pockets(f"steps = {steps}\nreveal = 24\nease = 1.5", cards=()) + fan
    pattern = pattern_of(text, thickness=leather)
    (line,) = [each for each in pattern.piece("back").lines if each.name == "cards"]
    left, _, right, _ = line.path.bounds()
    deep = max(room.place.bounds()[3] for room in pattern.rooms) - 3  # the foot's row is 3 above its edge
    under = shapely.Polygon(ring).intersection(shapely.box(-99, -1, 99, deep)).bounds
    assert right - left == pytest.approx(over(under[2] - under[0], 1, leather) + 1.5, abs=2e-3)
    for room in pattern.rooms:
        across = room.items[0].section.bounds()
        assert across[2] - across[0] <= under[2] - under[0] + 1e-9
