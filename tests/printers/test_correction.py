"""What a printer does and what is drawn in its stead, and that a page goes through that whole."""

from __future__ import annotations

from math import hypot, radians, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.draw.pdf.operators import page_operators
from handkit.printers.correction import Correction
from handkit.units import PT_PER_MM

SHARES = st.floats(0.98, 1.02)


@settings(max_examples=30)
@given(across=SHARES, down=SHARES, skew=st.floats(-1, 1), x=st.floats(0, 210), y=st.floats(0, 297))
def test_what_is_drawn_is_printed_in_its_place(
    across: float, down: float, skew: float, x: float, y: float
) -> None:
    one = Correction("", across, down, skew)
    u, v = one.drawn(210, 297).apply((x, y))
    back = one.printed.apply((u - 105, v - 148.5))
    assert back == pytest.approx((x - 105, y - 148.5), abs=1e-9)


# By hand, of a square of 100 drawn: 0.992 × 100; 0.989 × 100; and of the parallelogram with these sides at
# 90 − 0.2 degrees, its diagonals by the law of cosines.
def test_a_square_becomes_the_parallelogram_that_was_measured() -> None:
    a, b = 99.2, 98.9
    bend = 2 * a * b * sin(radians(0.2))
    way = Correction("", 0.992, 0.989, 0.2).printed
    assert hypot(*way.apply((100, 0))) == pytest.approx(a)
    assert hypot(*way.apply((0, 100))) == pytest.approx(b)
    assert hypot(*way.apply((100, 100))) == pytest.approx((a * a + b * b + bend) ** 0.5)
    assert hypot(*way.apply((-100, 100))) == pytest.approx((a * a + b * b - bend) ** 0.5)


def test_a_page_goes_through_the_map_whole_and_a_true_one_through_none() -> None:
    head = f"q {PT_PER_MM:.10f} 0 0 {PT_PER_MM:.10f} 0 0 cm "
    assert page_operators(()).startswith(head + "1 j")
    drawn = Correction("", 0.5, 1.0).drawn(200, 100)
    told = "2.0000000000 0.0000000000 0.0000000000 1.0000000000 -100.0000000000 0.0000000000 cm 1 j"
    assert page_operators((), drawn=drawn).replace("-0.0", "0.0").startswith(head + told)
