"""Lengths as a maker writes them, against published definitions and sums by hand."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.errors import ProjectError
from handkit.findings import Finding
from handkit.read.reader import read_project_text
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

# What stands without a unit is in the file's; fractions only where that is inches (sums by hand).
WITHOUT_UNIT = [
    ("58", "mm", 58.0),
    ("2.5", "mm", 2.5),
    ("-3", "mm", -3.0),
    ("5.8", "cm", 58.0),
    ("2", "in", 50.8),
    ("2.25", "in", 57.15),
    ("2 1/4", "in", 57.15),
    ("2-1/4", "in", 57.15),
    ("2 - 1/4", "in", 57.15),
    ("2¼", "in", 57.15),
    ("2 ¼", "in", 57.15),
    ("3/16", "in", 4.7625),
    ("⅜", "in", 9.525),
    ("−1/2", "in", -12.7),
    ("2 1/4 mm", "in", 2.25),  # its own unit goes before the file's
]
# Signs for inches and for fractions, in a file in mm.
SIGNS = [
    ('2 1/4"', 57.15),
    ("2 1/4″", 57.15),
    ("2¼ in", 57.15),
    ("2-1/4 in", 57.15),
    ("½ in", 12.7),
    ("1/4''", 6.35),
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

PROJECT = """\
format = 1
unit = "in"
[material]
thickness = %s
[[piece]]
name = "tab"
rectangle = [%s, %s]
round = %s
"""
ALIKE = [
    ('"1/8 in"', '"2 1/4 in"', '"3 in"', '"3/16 in"'),
    ('"1/8"', '"2 1/4"', '"3"', '"3/16"'),
    ('"⅛"', '"2-1/4"', "3", '"0.1875"'),
    ("0.125", "2.25", '"3.0"', "0.1875"),
]

REFUSED = [
    ("3,5 mm", "decimal-comma"),
    ("2,25 in", "decimal-comma"),
    ("1/2", "unit-missing"),
    ("2¼", "unit-missing"),
    ("2-1/4", "unit-missing"),
    ("2 5/4", "length-unreadable"),
    ("1/0", "length-unreadable"),
    ("1e3", "length-unreadable"),
    ("1_000", "length-unreadable"),
    ("٣", "length-unreadable"),
    ("5" * 400, "length-unreadable"),
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
    ("mm", "length-unreadable"),
    ("", "length-unreadable"),
    ("5" * 400 + " mm", "length-unreadable"),
]


@pytest.mark.parametrize(("text", "mm"), LENGTHS)
def test_lengths(text: str, mm: float) -> None:
    assert length_mm(text) == mm
    assert length_mm(text, thickness=True) == mm


@pytest.mark.parametrize(("text", "unit", "mm"), WITHOUT_UNIT)
def test_what_has_no_unit_is_in_the_files(text: str, unit: str, mm: float) -> None:
    assert length_mm(text, unit=unit) == mm
    assert length_mm(text, unit=unit, thickness=True) == mm


@pytest.mark.parametrize(("text", "mm"), SIGNS)
def test_signs_of_inches_are_read(text: str, mm: float) -> None:
    assert length_mm(text) == mm


@pytest.mark.parametrize("unit", ["mm", "cm"])
@pytest.mark.parametrize("text", ["1/2", "2 1/4", "2-1/4", "2¼"])
def test_a_fraction_is_of_inches_alone(text: str, unit: str) -> None:
    fault = length_mm(text, unit=unit)
    assert isinstance(fault, Finding)
    assert (fault.code, "quotes out" in fault.remedy) == ("unit-missing", False)


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
        ("4 Inches", 'write "4 in"'),
        ("4 millimeter", 'write "4 mm"'),
        ("4 MM", 'write "4 mm"'),
        ("0.06 m", 'write "60 mm"'),
        ("2 ft", 'write "24 in"'),
        ("2'", 'write "24 in"'),
        ("1 1/2 feet", 'write "18 in"'),
        ("1/2 yard", 'write "18 in"'),
        ("4 furlongs", "write one of these units"),
        ("2 in.", 'write "2 in"'),
        ("6 oz", 'write how long it is, such as "20 mm" or "3/4 in"'),
        (
            "1/4",
            'write "1/4 in" where inches are meant, or "0.25 mm"; where the whole file is in inches, '
            'write unit = "in" at its top',
        ),
        ("7–8 mm", "write one length, not a range"),
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


def test_a_project_in_inches_is_the_same_with_fractions_and_with_units() -> None:
    """Values in quotes without a unit are those with it, to the last bit, and a thickness is told as one."""
    told = [read_project_text(PROJECT % values, file="p.toml", folder=Path()) for values in ALIKE]
    corners = [[corner.at for corner in each.pieces[0].corners] for each in told]
    assert corners == [[(0.0, 0.0), (57.15, 0.0), (57.15, 76.2), (0.0, 76.2)]] * len(ALIKE)
    assert {each.pieces[0].thickness for each in told} == {3.175}
    assert told[1].thicknesses == told[0].thicknesses == ((25.4 / 8, "1/8 in"),)


def test_fractions_without_a_unit_are_told_once() -> None:
    """One cause, one message, with the lines of the others."""
    text = (PROJECT % ALIKE[1]).replace('unit = "in"', 'unit = "mm"')
    with pytest.raises(ProjectError) as refused:
        read_project_text(text, file="p.toml", folder=Path())
    (told,) = refused.value.findings
    assert (told.code, told.where.line, told.also) == ("unit-missing", 4, (7,))
