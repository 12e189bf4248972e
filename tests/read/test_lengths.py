"""Lengths as a maker writes them, against published definitions and sums by hand."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.findings import Finding
from handkit.read.values.lengths import length_mm

# Inch fractions: an inch is 25.4 mm exactly (the international inch); worked out by hand from it.
LENGTHS = [
    ("3.5 mm", 3.5),
    ("3.5mm", 3.5),
    ("  40 mm ", 40.0),
    ("0.5 cm", 5.0),
    (".5 cm", 5.0),
    ("1 in", 25.4),
    ("2 1/4 in", 57.15),  # 2.25 x 25.4
    ("2.25 in", 57.15),
    ("1/8 in", 3.175),
    ("1/16 in", 1.5875),
    ("3/64 in", 1.190625),
    ("9/4 in", 57.15),  # a fraction alone may be more than one
    ("8 1/2 in", 215.9),  # letter paper's width, ASME Y14.1
    ("-3 mm", -3.0),
    ("−1/2 in", -12.7),  # with the true minus sign
    ("0 mm", 0.0),
    ("3.1415926535897932384626 mm", 3.141592654),  # kept to nine decimals
    ("0." + "3" * 300 + " in", 8.466666667),  # a third of an inch
    ("." + "0" * 100 + "1 cm", 0.0),
]

# Ounces of thickness: 1 oz is 1/64 in, 0.396875 mm (conversion charts of the trade: 4 oz 1.5875,
# 8 oz 3.175 or 1/8 in, 10 oz 3.96875).
THICKNESSES = [
    ("4 oz", 1.5875),
    ("8 oz", 3.175),
    ("10 oz", 3.96875),
    ("1 oz", 0.396875),
    ("6.5 oz", 2.5796875),  # by hand
    ("2.4 mm", 2.4),
]

REFUSED = [
    ("3,5 mm", "decimal-comma"),
    ("2,25 in", "decimal-comma"),
    ("4", "unit-missing"),
    ("2 1/4", "unit-missing"),
    ("4 m", "unit-unknown"),
    ("4 inches", "unit-unknown"),
    ("4 MM", "unit-unknown"),
    ("6 oz", "ounces-of-length"),
    ("1/0 in", "length-unreadable"),
    ("2 4/4 in", "length-unreadable"),
    ("2 2.5 in", "length-unreadable"),
    ("1/2/3 in", "length-unreadable"),
    ("7-8 mm", "length-unreadable"),
    ("1e3 mm", "length-unreadable"),
    ("inf mm", "length-unreadable"),
    ("nan mm", "length-unreadable"),
    ("0x10 mm", "length-unreadable"),
    ("4 mm 5", "length-unreadable"),
    ("1_000 mm", "length-unreadable"),
    ("٣ mm", "length-unreadable"),  # digits of other scripts are digits to Python
    ("½ in", "length-unreadable"),
    ("mm", "length-unreadable"),
    ("", "length-unreadable"),
    ("5" * 400 + " mm", "length-unreadable"),
]


@pytest.mark.parametrize(("text", "mm"), LENGTHS)
def test_lengths(text: str, mm: float) -> None:
    assert length_mm(text) == mm
    assert length_mm(text, thickness=True) == mm


@pytest.mark.parametrize(("text", "mm"), THICKNESSES)
def test_thicknesses(text: str, mm: float) -> None:
    assert length_mm(text, thickness=True) == mm


@pytest.mark.parametrize(("text", "code"), REFUSED)
def test_what_is_no_length_is_told(text: str, code: str) -> None:
    fault = length_mm(text)
    assert isinstance(fault, Finding)
    assert fault.code == code
    assert fault.remedy


@pytest.mark.parametrize(
    ("text", "remedy"),
    [
        ("3,5 mm", 'write "3.5 mm" with a point'),
        ("4 Inches", "write in"),
        ("4 millimeter", "write mm"),
        ("4 m", "write mm"),
        ("4 furlongs", "write one of these units"),
        ("6 oz", "ounces are for thickness only; write mm or in"),
        ("2.5", 'add the unit, such as "2.5 mm", or leave the quotes out'),
        ("7–8 mm", "write one length, not a range"),
        ("2 1/4″", 'write "2 1/4 in"'),
    ],
)
def test_the_remedy_is_what_was_meant(text: str, remedy: str) -> None:
    fault = length_mm(text)
    assert isinstance(fault, Finding)
    assert fault.remedy == remedy


@settings(derandomize=True, deadline=None, max_examples=200)
@given(whole=st.integers(0, 400), over=st.integers(1, 63), power=st.integers(1, 6))
def test_mixed_numbers_are_their_sum(whole: int, over: int, power: int) -> None:
    """A whole number and a fraction of a rule, down to 64ths, are as long as both together."""
    under = 2**power
    over %= under
    both = length_mm(f"{whole} {over}/{under} in")
    parts = [length_mm(f"{whole} in"), length_mm(f"{over}/{under} in")]
    assert both == pytest.approx(sum(part for part in parts if isinstance(part, float)), abs=1e-9)


@pytest.mark.long
@settings(derandomize=True, deadline=None, max_examples=300)
@given(st.text(max_size=12))
def test_any_text_is_a_length_or_a_fault(text: str) -> None:
    found = length_mm(text, thickness=True)
    assert isinstance(found, Finding | float)
