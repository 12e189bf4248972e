"""The box and the fold: lengths along and across a gusset, against worked values."""

from __future__ import annotations

from math import pi

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.draft.sizes.box_sizes import BoxSizes, corner_rise, u_length
from handkit.draft.sizes.fold_length import fold_allowance

law = settings(derandomize=True, deadline=None, max_examples=60)

PLAIN = BoxSizes(200, 150, 30, 4, 40, 2)
TURNED = BoxSizes(200, 150, 30, 4, 40, 2, turned=True)


@pytest.mark.parametrize(
    ("angle", "radius", "thickness", "k", "length"),
    [
        (90, 1, 1, 0.337, 2.1002),  # Machinery's Handbook's formula, a page's example
        (180, 2, 2.4, 0.5, 10.053),  # worked out by hand
        (180, 2, 3, 0.5, 10.996),  # worked out by hand
        (180, 2, 3, 0.33, 9.393),  # worked out by hand
        (180, 0, 3, 0.5, 4.712),  # worked out by hand
    ],
)
def test_fold_allowance(angle: float, radius: float, thickness: float, k: float, length: float) -> None:
    assert fold_allowance(angle, radius, thickness, k=k) == pytest.approx(length, abs=6e-4)


def test_a_gusset_is_as_long_as_the_stitch_line_not_as_the_edge() -> None:
    """200 × 150, R 30, inset 4: 461.681 on the stitch line, 474.248 on the edge: worked out by hand."""
    assert u_length(200, 150, 30) == pytest.approx(474.248, abs=6e-4)
    assert PLAIN.stitch_length == PLAIN.gusset_length == pytest.approx(461.681, abs=6e-4)
    assert u_length(200, 150, 30) - PLAIN.stitch_length == pytest.approx(4 * pi)


def test_a_turned_flange_has_too_much_at_each_corner() -> None:
    """d·π/2 at each right angle: the wall's middle is longer than the stitch line by two of them."""
    off = TURNED.inset - TURNED.thickness / 2
    assert TURNED.gusset_length - TURNED.stitch_length == pytest.approx(2 * off * pi / 2)
    assert TURNED.excess(off) == pytest.approx(4.712, abs=6e-4)  # 3·π/2, by hand


def test_least_radii() -> None:
    """Plain: 4 mm outside an arc of 16 are a quarter more. Turned: of an arc of R − 1 half is left at
    R − 8 for R = 15. Worked out by hand."""
    assert PLAIN.least_radius == pytest.approx(20)
    assert TURNED.least_radius == pytest.approx(15)


@pytest.mark.parametrize(
    ("radius", "beside", "rise"),
    [(10, 2, 4), (10, 10, 0), (10, 12, 0), (0, 1, 0), (25, 10, 5)],  # 6-8-10 and 15-20-25 triangles
)
def test_a_square_thing_stands_off_a_round_foot(radius: float, beside: float, rise: float) -> None:
    assert corner_rise(radius, beside) == pytest.approx(rise)


@pytest.mark.parametrize("box", [PLAIN, TURNED])
def test_the_corners_lie_where_the_straights_end(box: BoxSizes) -> None:
    """From the mouth down, round, along, round and up: the whole strip."""
    ends = box.corner_ends
    assert ends[0] == 120
    assert ends[2] - ends[1] == pytest.approx(140)
    assert ends[3] + 120 == pytest.approx(box.gusset_length)


def across_in_space(box: BoxSizes) -> float:
    """How far apart front and base come out, the strip laid through its turns from seam to seam."""
    turn = pi / 2 * box.thickness / 2  # a quarter round the middle line, sharp inside
    flats = box.inset - box.thickness if box.turned else 0.0
    upright = box.across - 2 * turn - 2 * flats
    middles = upright + box.thickness  # two turns of half a thickness
    return middles + box.thickness


@law
@given(depth=st.floats(12, 90), thickness=st.floats(0.8, 4), inset=st.floats(4, 8), turned=st.booleans())
def test_the_strip_stands_as_high_as_its_depth(
    depth: float, thickness: float, inset: float, turned: bool
) -> None:
    """Its middle turns twice; its two layers at base and front lie within the depth."""
    box = BoxSizes(200, 150, 40, inset, depth, thickness, turned)
    assert across_in_space(box) == pytest.approx(depth)
    assert box.clear == pytest.approx(depth - (2 * thickness if turned else 0))
