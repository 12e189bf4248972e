"""Lengths: a number or a text of the project file in, mm out.

A plain number is in the file's unit; text has its own: "3.5 mm", "2 1/4 in", "1/8 in", "6 oz"
(thickness only). Nothing is guessed: a decimal comma, a range or a unit that isn't known is told,
with what would be read.

Words: a *mixed* number is a whole number and a fraction, as a folding rule in inches is read.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from handkit.findings import nearest
from handkit.quoting import quoted
from handkit.read.values.spot import Fault
from handkit.units import LENGTH_UNITS, THICKNESS_UNITS

_NUMBER = (
    r"(?P<sign>[-+−]?)\s*(?:(?P<whole>\d{1,9})\s+)?"
    r"(?:(?P<over>\d{1,6})/(?P<under>\d{1,6})|(?P<decimal>\d{1,9}(?:\.\d{1,12})?|\.\d{1,12}))"
)
_LENGTH = re.compile(rf"{_NUMBER}\s*(?P<unit>[^\W\d]+)", re.ASCII)
_NO_UNIT = re.compile(_NUMBER, re.ASCII)
_COMMA = re.compile(r"(\d),(\d)")
_RANGE = re.compile(r"\d\s*(?:-|–|to)\s*\d")
_UNIT_WORDS = {
    "inch": "in", "inches": "in", "ins": "in", "zoll": "in", "ounce": "oz", "ounces": "oz",
    "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
    "centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm",
}  # fmt: skip
# Decimals of a mm that are kept: what lies behind them is noise of the arithmetic.
CLEAN = 9

EXAMPLE = 'a number, or text with its unit such as "3.5 mm" or "2 1/4 in"'


def length_mm(text: str, *, thickness: bool = False) -> float | Fault:
    """The length a text stands for, in mm, or what is wrong with it; its range is not looked at.

    >>> length_mm("2 1/4 in"), length_mm("3.5mm"), length_mm("-1/8 in"), length_mm(".5 cm")
    (57.15, 3.5, -3.175, 5.0)
    >>> length_mm("6 oz", thickness=True)
    2.38125
    >>> length_mm("3,5 mm").remedy
    'write "3.5 mm" with a point'
    """
    written = _LENGTH.fullmatch(text.strip())
    if written is None:
        return _unreadable(text.strip(), thickness=thickness)
    units: Mapping[str, float] = THICKNESS_UNITS if thickness else LENGTH_UNITS
    if written["unit"] not in units:
        return _unit_fault(text, written["unit"], thickness=thickness)
    number = _number(written)
    if number is None:
        return Fault("length-unreadable", quoted(text), EXAMPLE, "mend the fraction, such as 1/4")
    return round(number * units[written["unit"]], CLEAN)


def unit_meant(unit: str, known: Sequence[str]) -> str:
    """The known unit that was likely meant, "" where that can't be told.

    >>> unit_meant("Inches", ["mm", "in"]), unit_meant("m", ["mm", "in"]), unit_meant("oz", ["mm"])
    ('in', 'mm', '')
    """
    word = _UNIT_WORDS.get(unit.lower(), unit.lower())
    return word if word in known else nearest(unit, known)


def _number(written: re.Match[str]) -> float | None:
    """The number of a match, None where its fraction is none: over zero, or 2 5/4."""
    sign = -1.0 if written["sign"] in ("-", "−") else 1.0
    whole = int(written["whole"] or 0)
    if written["decimal"] is not None:
        return None if written["whole"] is not None else sign * float(written["decimal"])
    over, under = int(written["over"]), int(written["under"])
    if under == 0 or (written["whole"] is not None and over >= under):
        return None
    return sign * (whole * under + over) / under


def _unreadable(text: str, *, thickness: bool) -> Fault:
    """Say which of the usual slips a text is."""
    if _COMMA.search(text):
        mended = _COMMA.sub(r"\1.\2", text)
        return Fault("decimal-comma", quoted(text), "a decimal point", f"write {quoted(mended)} with a point")
    if _NO_UNIT.fullmatch(text):
        remedy = f"add the unit, such as {quoted(text + ' mm')}, or leave the quotes out"
        return Fault("unit-missing", quoted(text), EXAMPLE, remedy)
    if _RANGE.search(text):
        return Fault("length-unreadable", quoted(text), EXAMPLE, "write one length, not a range")
    if text.endswith(('"', "″", "”", "''")):
        return Fault("length-unreadable", quoted(text), EXAMPLE, "write in for inches")
    example = EXAMPLE + (' or "6 oz"' if thickness else "")
    return Fault("length-unreadable", quoted(text), example, "write the length in one of these ways")


def _unit_fault(text: str, unit: str, *, thickness: bool) -> Fault:
    """Say which units there are, and the one that was likely meant."""
    known = tuple(THICKNESS_UNITS if thickness else LENGTH_UNITS)
    if unit in THICKNESS_UNITS:
        allowed = ", ".join(known)
        return Fault(
            "ounces-of-length", quoted(text), allowed, "ounces are for thickness only; write mm or in"
        )
    near = unit_meant(unit, known)
    remedy = f"write {near}" if near else "write one of these units"
    return Fault("unit-unknown", f"the unit {quoted(unit)}", ", ".join(known), remedy)
