"""Lengths: a number or a text of the project file in, mm out.

A plain number is in the file's unit; text has its own: "3.5 mm", "2 1/4 in", "1/8 in", "6 oz"
(thickness only). Nothing is guessed: a decimal comma, a range or a unit that isn't known is
reported, with what would be read.

Words: a *mixed* number is a whole number and a fraction, as a folding rule in inches is read.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from handkit.findings import Finding, finding, nearest
from handkit.units import LENGTH_UNITS, THICKNESS_UNITS

# Patterns here are compiled when they are first needed: a file in plain numbers needs none.
_NUMBER = (
    r"(?P<sign>[-+−]?)\s*(?:(?P<whole>\d{1,9})\s+)?"
    r"(?:(?P<over>\d{1,6})/(?P<under>\d{1,6})|(?P<decimal>\d{1,9}(?:\.\d+)?|\.\d+))"
)
_LENGTH = rf"{_NUMBER}\s*(?P<unit>[^\W\d]+)"
_COMMA = r"(\d),(\d)"
_NOTHING = ("", "none", "null", "nil", "-")  # written for what isn't wanted
_RANGE = r"\d\s*(?:-|–|to)\s*\d"
UNIT_SYNONYMS = {
    "inch": "in", "inches": "in", "ins": "in", "zoll": "in", "ounce": "oz", "ounces": "oz",
    "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
    "centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm",
}  # fmt: skip
# Signs for fractions of an inch, and how they are written.
FRACTIONS = {"¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
# Decimals of a mm that are kept: what lies behind them is noise of the arithmetic.
CLEAN = 9


def length_mm(text: str, *, thickness: bool = False, unit: str = "mm") -> float | Finding:
    """The length a text stands for, in mm, or what is wrong with it; its range is not looked at. `unit` is
    the file's, which is likely meant where none is written.

    >>> length_mm("2 1/4 in"), length_mm("3.5mm"), length_mm("-1/8 in"), length_mm(".5 cm")
    (57.15, 3.5, -3.175, 5.0)
    >>> length_mm("6 oz", thickness=True)
    2.38125
    >>> length_mm("3,5 mm").remedy
    'write "3.5 mm" with a point'
    """
    written = re.fullmatch(_LENGTH, text.strip(), re.ASCII)
    if written is None:
        return _unreadable(text.strip(), thickness=thickness, unit=unit)
    units: Mapping[str, float] = THICKNESS_UNITS if thickness else LENGTH_UNITS
    if written["unit"] not in units:
        return _unknown_unit(text, written["unit"], tuple(units))
    number = _number(written)
    if number is None:
        return finding("length-unreadable/fraction", text=text)
    return round(number * units[written["unit"]], CLEAN)


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


def fraction_meant(text: str) -> str:
    """A mixed number as it is read here, from one with a sign for its fraction, or with a hyphen.

    >>> fraction_meant("2¼"), fraction_meant("2-1/4"), fraction_meant("½ in"), fraction_meant("7-8 oz")
    ('2 1/4', '2 1/4', '1/2 in', '7-8 oz')
    """
    for glyph, written in FRACTIONS.items():
        text = text.replace(glyph, f" {written} ")
    return " ".join(re.sub(r"(?<=\d)\s*-\s*(?=\d+/\d)", " ", text).split())


def signs_meant(text: str) -> str:
    """The same where inches have a sign, too.

    >>> signs_meant('2-1/4"'), signs_meant("3 mm")
    ('2 1/4 in', '3 mm')
    """
    return re.sub(r"\s*(?:\"|″|”|'')$", " in", fraction_meant(text))


def _meant(text: str, unit: str) -> str:
    """A length with another sign for its fraction or for inches, as it should be written; "" where it is
    none."""
    plain = signs_meant(text)
    if re.fullmatch(_NUMBER, plain, re.ASCII):
        plain = f"{plain} in" if unit == "in" or "/" in plain else ""
    return plain if plain != text and re.fullmatch(_LENGTH, plain, re.ASCII) else ""


def _unreadable(text: str, *, thickness: bool, unit: str) -> Finding:
    """Say which of the usual slips a text is."""
    if re.search(_COMMA, text):
        return finding("decimal-comma", text=text, meant=re.sub(_COMMA, r"\1.\2", text))
    if number := re.fullmatch(_NUMBER, text, re.ASCII):
        if "/" in text and unit == "mm":
            millimetres = f"{_number(number) or 0:.4g} mm"
            return finding("unit-missing/fraction", text=text, inches=f"{text} in", millimetres=millimetres)
        return finding("unit-missing", text=text, meant=f"{text} {unit}")
    if meant := _meant(text, unit):
        return finding("length-unreadable/meant", text=text, meant=meant)
    key = "length-unreadable/thickness" if thickness else "length-unreadable"
    if text.strip().lower() in _NOTHING:
        key = "length-unreadable/nothing"
    return finding("length-unreadable/range" if re.search(_RANGE, text) else key, text=text)


def _unknown_unit(text: str, unit: str, known: Sequence[str]) -> Finding:
    """Say which units there are, and the one that was likely meant."""
    if unit in THICKNESS_UNITS:
        return finding("ounces-of-length", text=text, units=known)
    meant = UNIT_SYNONYMS.get(unit.lower(), unit)
    near = meant if meant in known else nearest(unit, known)
    near = near or UNIT_SYNONYMS.get(nearest(unit, tuple(UNIT_SYNONYMS)), "")
    return finding("unit-unknown" if near else "unit-unknown/far", unit=unit, units=known, near=near)
