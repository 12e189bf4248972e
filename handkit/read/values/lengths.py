"""Lengths: a number or a text of the project file in, mm out.

Text has its own unit: "3.5 mm", "2 1/4 in", "2-1/4 in", "2¼ in", '2 1/4"', "6 oz" (thickness only). A number
without one is in the file's, whether it stands in quotes or not; a fraction without one only where that is
inches, for no rule in mm shows fractions. Nothing is guessed: a decimal comma, a range or a unit that isn't
known is reported, with what would be read.

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
    "inch": "in", "inches": "in", "ins": "in", "zoll": "in", "pouce": "in", "pouces": "in", "duim": "in",
    "pulgada": "in", "pulgadas": "in", "ounce": "oz", "ounces": "oz",
    "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
    "centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm",
}  # fmt: skip
# Units that nothing is written in, and what one of them is in a unit that is.
LARGER_UNITS = {
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), (1000, "mm")),
    **dict.fromkeys(("ft", "foot", "feet"), (12, "in")),
    **dict.fromkeys(("yd", "yard", "yards"), (36, "in")),
}
# Signs for fractions of an inch, and how they are written.
FRACTIONS = {"¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
# Decimals of a mm that are kept: what lies behind them is noise of the arithmetic.
CLEAN = 9


def length_mm(text: str, *, thickness: bool = False, unit: str = "mm") -> float | Finding:
    """The length a text stands for, in mm, or what is wrong with it; its range is not looked at. `unit` is
    the file's, that of a number without one.

    >>> length_mm("2 1/4 in"), length_mm("3.5mm"), length_mm("-1/8 in"), length_mm(".5 cm"), length_mm("58")
    (57.15, 3.5, -3.175, 5.0, 58.0)
    >>> length_mm("2 1/4", unit="in"), length_mm("2¼", unit="in"), length_mm('2-1/4"')
    (57.15, 57.15, 57.15)
    >>> length_mm("6 oz", thickness=True)
    2.38125
    >>> length_mm("3,5 mm").remedy
    'write "3.5 mm" with a point'
    """
    plain = signs_meant(text)
    units: Mapping[str, float] = THICKNESS_UNITS if thickness else LENGTH_UNITS
    written = re.fullmatch(_LENGTH, plain, re.ASCII)
    bare = re.fullmatch(_NUMBER, plain, re.ASCII) if written is None else None
    number = written or bare
    if number is None:
        return _unreadable(text.strip(), thickness=thickness)
    if written is not None and written["unit"] not in units:
        return _unknown_unit(text, written, tuple(units))
    if (value := _number(number)) is None:
        return finding("length-unreadable/fraction", text=text)
    if bare is not None and bare["over"] is not None and unit != "in":
        return _fraction_without_unit(plain, value, unit)
    return round(value * units[written["unit"] if written else unit], CLEAN)


def plain_number(text: str) -> float | None:
    """A number in quotes, which is read as it is without them; None of all else, a fraction too.

    >>> plain_number("58"), plain_number(" -2.50 "), plain_number("1/2"), plain_number("58 mm")
    (58, -2.5, None, None)
    """
    number = re.fullmatch(_NUMBER, text.strip(), re.ASCII)
    value = _number(number) if number is not None and number["over"] is None else None
    return int(value) if value is not None and value.is_integer() else value


def with_unit(text: str, unit: str) -> str:
    """A length as it is told, in words that a file takes, with the file's unit where it has none.

    >>> with_unit("2-1/4", "in"), with_unit("3  oz", "in")
    ('2 1/4 in', '3 oz')
    """
    return f"{signs_meant(text)} {unit}" if lacks_unit(text) else signs_meant(text)


def lacks_unit(text: str) -> bool:
    """Whether a text is a number in the file's unit.

    >>> lacks_unit("2¼"), lacks_unit("2 mm"), lacks_unit("two")
    (True, False, False)
    """
    return re.fullmatch(_NUMBER, signs_meant(text), re.ASCII) is not None


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


def _fraction_without_unit(text: str, value: float, unit: str) -> Finding:
    """Of a file that is not in inches: told once, for where one fraction lacks its unit all do."""
    told = finding("unit-missing", text=text, inches=f"{text} in", other=f"{value:.4g} {unit}", unit=unit)
    return told.once("fractions without a unit")


def _unreadable(text: str, *, thickness: bool) -> Finding:
    """Say which of the usual slips a text is."""
    if re.search(_COMMA, text):
        whole, _, behind = text.partition(",")
        meant = f"{whole.replace('.', '')}.{behind}" if "." in whole else re.sub(_COMMA, r"\1.\2", text)
        return finding("decimal-comma", text=text, meant=meant)
    if meant := _meant(text):
        return finding("length-unreadable/meant", text=text, meant=meant)
    key = "length-unreadable/thickness" if thickness else "length-unreadable"
    if text.lower() in _NOTHING:
        key = "length-unreadable/nothing"
    return finding("length-unreadable/range" if re.search(_RANGE, text) else key, text=text)


def _meant(text: str) -> str:
    """A length with a full stop behind its unit, or with the sign for feet, as it should be written; "" where
    it is none."""
    plain = signs_meant(text.rstrip("."))
    if feet := re.fullmatch(rf"({_NUMBER})\s*['′’]", plain, re.ASCII):
        return in_known_unit(feet[1], "ft")
    return plain if plain != text and re.fullmatch(_LENGTH, plain, re.ASCII) else ""


def in_known_unit(number: str, unit: str) -> str:
    """A length in the unit that one was meant for which no file has; in mm where that is none, too.

    >>> in_known_unit("2 1/4", "inches"), in_known_unit("0.06", "m"), in_known_unit("1 1/2", "feet")
    ('2 1/4 in', '60 mm', '18 in')
    """
    unit = unit.lower()
    times, larger = LARGER_UNITS.get(unit, (1, UNIT_SYNONYMS.get(unit, unit)))
    written = re.fullmatch(_NUMBER, number.strip(), re.ASCII)
    value = _number(written) if written is not None else None
    return f"{number.strip() if times == 1 or value is None else f'{value * times:.6g}'} {larger}"


def _unknown_unit(text: str, written: re.Match[str], known: Sequence[str]) -> Finding:
    """Say which units there are, and the length in the one that was likely meant."""
    unit, number = written["unit"], written[0][: written.start("unit")].strip()
    if unit in THICKNESS_UNITS:
        return finding("ounces-of-length", text=text, units=known)
    if unit.lower() in (*LARGER_UNITS, *UNIT_SYNONYMS):
        meant = in_known_unit(number, unit)
    else:
        spelt = nearest(unit, (*known, *UNIT_SYNONYMS, *LARGER_UNITS))
        meant = in_known_unit(number, spelt) if spelt else ""
    near = meant if meant.rpartition(" ")[2] in known else ""
    return finding("unit-unknown" if near else "unit-unknown/far", unit=unit, units=known, near=near)
