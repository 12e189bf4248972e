"""Typed: lengths as people write them at a prompt.

In: text such as `58`, `2 1/4"`, `2¼`, `2-1/4 in`, `3/16 in`, `6oz`, `2,5`. Out: mm, and what stands in a
project file for it; or why it is no length, in a line. A file itself is read more strictly
(`read/values/lengths.py`), which does the sums here too.
"""

from __future__ import annotations

import re
from math import ceil, floor, log10

import msgspec

from handkit.findings import Finding
from handkit.read.schema.rules import Key
from handkit.read.values.lengths import UNIT_SYNONYMS, length_mm, signs_meant
from handkit.read.written.toml_text import number, string
from handkit.units import LENGTH_UNITS
from handkit.wording.figures import UNITS
from handkit.wording.quoting import quoted

# Signs that no rule in inches has, and people type all the same.
_THIRDS = {"⅓": " 1/3", "⅔": " 2/3"}
DECIMALS = 4  # of a plain number in a file
_NOISE = 1e-9


class Typed(msgspec.Struct, frozen=True):
    """A length: in mm, as the file has it, and as it was typed; whether it is a diameter."""

    mm: float
    toml: str
    text: str
    round: bool = False


def typed_length(text: str, unit: str, rule: Key) -> Typed | str:
    """The length that was typed where plain numbers are in `unit`, or why it can't be one that `rule` allows.

    >>> from handkit.read.schema.keys import TABLES
    >>> rule = TABLES["item"].keys["thickness"]
    >>> [typed_length(text, "in", rule).toml for text in ('2 1/4"', "2¼", "2-1/4", "2,25", "3 mm")]
    ['"2 1/4 in"', '"2 1/4 in"', '"2 1/4 in"', '2.25', '"3 mm"']
    >>> typed_length("wide", "mm", rule)
    '"wide" is no length: write a number, or one with its unit such as 3.5 mm or 2 1/4 in'
    """
    written = _as_a_file_has_it(text)
    thickness = rule.kind == "thickness"
    if re.fullmatch(r"\d+(\.\d*)?|\.\d+", written):
        mm: float | Finding = float(written) * LENGTH_UNITS[unit]
        toml = number(float(written), DECIMALS)
    else:
        with_unit = written if re.search(r"[^\W\d]$", written) else f"{written} {unit}"
        mm, toml = length_mm(with_unit, thickness=thickness), string(with_unit)
    if isinstance(mm, Finding):
        ounces = " or 6 oz" if thickness else ""
        return (
            f"{quoted(text)} is no length: write a number, or one with its unit such as 3.5 mm or "
            f"2 1/4 in{ounces}"
        )
    if not rule.least <= mm <= rule.most:
        return f"{quoted(text)} is out of reach: {rule.allowed_in(UNITS[unit])}"
    return Typed(mm, toml, written)


def between(typed: Typed, usual: float, share: float, unit: str) -> Typed:
    """So far on from a length to a usual one, by their ratio; a round figure towards the usual one.

    >>> typed = Typed(300.0, "300", "300")
    >>> [between(typed, 40.0, share, "mm").toml for share in (0, 0.25, 0.5, 1)]
    ['300', '180', '100', '40']
    >>> between(Typed(1.0, "1", "1"), 40.0, 0.25, "in").toml
    '0.1'
    """
    size = LENGTH_UNITS[unit]
    found, end = (typed.mm ** (1 - share) * usual**share / size, usual / size)
    step = 10.0 ** (floor(log10(found)) - 1)
    if end < found:
        found = max(floor(found / step + _NOISE) * step, end)
    else:
        found = min(ceil(found / step - _NOISE) * step, end)
    found = round(found, DECIMALS)
    return Typed(found * size, number(found, DECIMALS), figure(found * size, unit), typed.round)


def figure(mm: float, unit: str) -> str:
    """A length as it is told and can be typed: the number and its unit."""
    return f"{number(mm / LENGTH_UNITS[unit], DECIMALS)} {unit}"


def _as_a_file_has_it(text: str) -> str:
    """What was typed, with a decimal point, plain fractions and the unit's own word."""
    for sign, fraction in _THIRDS.items():
        text = text.replace(sign, fraction)
    found = re.sub(r"^(\d+),(\d+)", r"\1.\2", signs_meant(text))
    number_part, word = re.fullmatch(r"(.*?)\s*([^\W\d]*)\.?", found, re.DOTALL).groups()  # type: ignore[union-attr]
    unit = UNIT_SYNONYMS.get(word.lower(), word.lower())
    return f"{number_part} {unit}".strip()
