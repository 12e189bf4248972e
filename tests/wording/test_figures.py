"""How lengths are written for people: a table worked out by hand, and laws.

A law reads back what is written, by a reader of its own: decimals and fractions of an inch.
"""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handkit.wording.figures import CENTIMETRES, INCHES, METRIC, Measure

# mm, what is written, and the sum behind it: inches to five decimals, and which step or decimal that is.
WRITTEN = [
    (25.4, "1 in"),
    (12.7, "1/2 in"),
    (58.7, "2.311 in"),  # 2.31102; 2 5/16 is 2.3125
    (58.7375, "2 5/16 in"),
    (3.175, "1/8 in"),
    (3.96875, "5/32 in"),  # a pitch in the trade
    (1.5875, "1/16 in"),
    (1.6, "1/16 in"),  # 0.06299, less than half a thousandth off
    (4.0, "0.157 in"),  # 0.15748; 5/32 is 0.15625
    (3.0, "0.118 in"),  # 0.11811
    (2.54, "0.1 in"),
    (152.4, "6 in"),
    (0.0, "0 in"),
    (-9.525, "-3/8 in"),
    (-4.0, "-0.157 in"),
    (1000.0, "39.37 in"),  # 39.37008: no zero at the end
]


@pytest.mark.parametrize(("length", "text"), WRITTEN)
def test_lengths_in_inches(length: float, text: str) -> None:
    assert INCHES.text(length) == text


# By hand: threads to the nearest eighth, sums to the inch, tools by the mm they are sold by.
KINDS = [
    (INCHES.cut_thread.text(1026), "40 3/8 in"),  # 40.39370
    (INCHES.cut_thread.text(1036), "40 3/4 in"),  # 40.78740
    (INCHES.cut_thread.text(0.4), "<1/8 in"),
    (INCHES.cut_thread.several([254, 1026]), "10 and 40 3/8 in"),
    (INCHES.thread.text(12345), "486 in"),  # 486.02362
    (INCHES.tool(1.6), "1/16 in (1.6 mm)"),
    (INCHES.tool(0.8), "1/32 in (0.8 mm)"),  # 0.03150
    (INCHES.tool(4), "0.157 in (4 mm)"),
    (METRIC.tool(4), "4 mm"),
    (INCHES.area.text(10000), "15.5 sq in"),  # 15.50003
    (INCHES.point((12.7, -58.7)), "[0.5, -2.311]"),
    (CENTIMETRES.point((12.7, -58.73)), "[1.27, -5.873]"),
    (INCHES.as_written(12.7), "0.5"),
    (CENTIMETRES.as_written(12.7), "1.27"),
    (CENTIMETRES.text(12.7), "12.7 mm"),
    (INCHES.with_written({2.38125: "6 oz"}).thickness(2.38125), "6 oz"),
    (INCHES.with_written({2.38125: "6 oz"}).thickness(1.5875), "1/16 in"),
]


@pytest.mark.parametrize(("told", "text"), KINDS)
def test_other_figures(told: str, text: str) -> None:
    assert told == text


def read_back(text: str) -> tuple[Fraction, Fraction]:
    """The number that a text has, and the last unit that it shows: a decimal or the fraction's step."""
    sign = -1 if text.startswith("-") else 1
    found = re.fullmatch(r"-?(?:(\d+)|(?:(\d+) )?(\d+)/(\d+)|(\d+)\.(\d+))", text)
    assert found, text
    whole, before, over, under, left, right = found.groups()
    if whole:
        return sign * Fraction(int(whole)), Fraction(1)
    if over:
        return sign * (int(before or 0) + Fraction(int(over), int(under))), Fraction(1, int(under))
    step = Fraction(1, 10 ** len(right))
    return sign * (int(left) + int(right) * step), step


LENGTHS = st.floats(-10_000, 10_000).map(lambda value: round(value, 4))


@given(LENGTHS)
def test_what_is_marked_out_is_told_to_within_a_twentieth_of_a_mm(length: float) -> None:
    for units in (METRIC, CENTIMETRES, INCHES):
        number, _ = read_back(units.number(length))
        assert abs(float(number) * units.length.size - length) <= 0.05


MEASURES = [
    measure
    for units in (METRIC, INCHES)
    for measure in (units.length, units.fine, units.sizes, units.pitch, units.cut_thread, units.thread)
]


@given(st.sampled_from(MEASURES), LENGTHS)
def test_what_is_written_is_within_half_of_the_last_unit_shown(measure: Measure, length: float) -> None:
    text = measure.number(abs(length))
    if text.startswith("<"):
        assert 0 < abs(length) / measure.size < read_back(text[1:])[0]
        return
    number, step = read_back(text)
    assert abs(float(number) - abs(length) / measure.size) <= float(step) / 2 + 1e-9


@given(LENGTHS, LENGTHS)
def test_a_range_in_inches_lies_inside_the_true_one(one: float, other: float) -> None:
    least, most = sorted((one, other))
    assert float(INCHES.at_least(least)) * 25.4 >= least - 1e-6
    assert float(INCHES.at_most(most)) * 25.4 <= most + 1e-6
