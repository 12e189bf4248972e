"""Plain values: a field of the project file in, checked against its key; mm, text or a list out.

A faulty value is reported at its place and read as what cannot cause a second finding: a number as
NaN (no comparison with it holds), a list as None. Nothing of it is ever used, because any fault
ends the reading in an error.
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Mapping
from enum import StrEnum
from typing import TypeGuard

from handkit.findings import Finding, nearest
from handkit.geometry.affine import Point
from handkit.read.file.project_file import MANY, keys_like
from handkit.read.schema.rules import Kind, point_key
from handkit.read.values.field import Field, alone
from handkit.read.values.lengths import CLEAN, lacks_unit, length_mm, plain_number, with_unit
from handkit.units import LENGTH_UNITS
from handkit.wording.quoting import is_unprintable, quoted, shown

FAULTY = math.nan
_POINT = point_key("point", "")
_SIDES: Mapping[Kind, tuple[str, ...]] = {
    Kind.SIZE: ("width", "height"),
    Kind.SLOT: ("length", "width"),
    Kind.BOX: ("width", "thickness", "length"),
    Kind.POINT: ("x", "y"),
    Kind.RANGE: ("least", "most"),
}
_NUMBERS = r"\d+(?:\.\d+)?"
_UNITS_IN_WORDS = {"mm": "mm", "cm": "cm", "in": "inches"}


def read_length(field: Field) -> float:
    """A length in mm, NaN where it is faulty. The rule gives the range, and whether it is a thickness."""
    unit = field.location.file.unit
    if isinstance(field.value, str) and (number := plain_number(field.value)) is not None:
        field = field.with_value(number)
    if isinstance(field.value, str):
        known = unit or not lacks_unit(field.value)
        return _read_text_length(field, field.value, unit or "mm") if known else FAULTY
    if not _is_number(field.value):
        field.reject_kind("not-a-length")
        return FAULTY
    if not unit:  # it isn't known, and that is reported
        return FAULTY
    return _in_range(round(field.value * LENGTH_UNITS[unit], CLEAN), field, unit=unit)


def _read_text_length(field: Field, text: str, unit: str) -> float:
    """A length with its own unit, or a fraction, in mm; how a thickness is written is kept."""
    length = length_mm(text, thickness=field.rule.kind is Kind.THICKNESS, unit=unit)
    if isinstance(length, Finding):
        field.location.report(length)
        return FAULTY
    if field.rule.kind is Kind.THICKNESS:
        field.location.file.thicknesses.setdefault(length, with_unit(text, unit))
    return _in_range(length, field)


def read_number(field: Field) -> float:
    """A plain number, NaN where it is faulty."""
    if _is_number(field.value):
        return _in_range(float(field.value), field)
    field.reject("not-a-number")
    return FAULTY


def read_count(field: Field) -> int:
    """A whole number, the least of its range where it is faulty."""
    value = field.value
    if not isinstance(value, int) or isinstance(value, bool):
        field.reject("not-a-whole-number")
    elif len(str(abs(value))) > 18:  # beyond what a float tells apart
        field.reject("too-big", found=shown(value))
    elif _in_range(float(value), field) == value:
        return value
    return int(field.rule.least)


def _is_number(value: object) -> TypeGuard[int | float]:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _in_range(number: float, field: Field, *, unit: str = "mm") -> float:
    """The number, in mm or plain, where it lies in its key's range; else it is reported, and NaN."""
    least, most = field.rule.least, field.rule.most
    if least <= number <= most:
        return number
    found = _found(number, field, unit)
    if not math.isfinite(number):
        field.reject("not-finite", found=shown(field.value))
    elif number < 0 <= least:
        _out_of_range("negative", field, found, unit)
    elif number == 0 < least:
        _out_of_range("zero", field, found, unit)
    elif number < least:
        _out_of_range("too-small", field, found, unit)
    elif unit == "in" and field.rule.kind is Kind.THICKNESS:
        field.reject("too-big/ounces", found=found, unit=_UNITS_IN_WORDS[unit])
    else:
        _out_of_range("too-big", field, found, unit)
    return FAULTY


def _found(number: float, field: Field, unit: str) -> str:
    """A length as it is written, and in the unit in which its range is told, where that is another."""
    if not isinstance(field.value, str):
        return shown(field.value) + {"mm": "", "in": " in"}.get(unit, f" {unit}, {number:.10g} mm")
    units = field.location.units
    return f"{quoted(field.value)}, " + (f"{number:.10g} mm" if units.unit == "mm" else units.text(number))


def _out_of_range(code: str, field: Field, found: str, unit: str) -> None:
    """Report it; of a number in another unit also that mm may be meant."""
    if unit == "mm":
        field.reject(code, found=found)
    else:
        field.reject(f"{code}/unit", found=found, unit=_UNITS_IN_WORDS[unit])


def read_flag(field: Field) -> bool:
    """True or false; false where it is faulty."""
    if isinstance(field.value, bool):
        return field.value
    field.reject("not-a-flag")
    return False


def read_choice(field: Field) -> StrEnum | str:
    """One of the words that a key knows, as the key has it; the first where it is another."""
    value, choices = field.value, tuple(field.rule.choices)
    if isinstance(value, str):
        value = field.rule.means.get(value, value)
        for choice in choices:
            if choice == value:
                return choice
        meant = field.rule.synonyms.get(value.lower(), value)
        if near := nearest(meant, field.rule.written):
            if len(field.rule.written) > MANY:
                field.reject("unknown-choice/many", near=near, **keys_like(near, field.rule.written))
            else:
                field.reject("unknown-choice", near=near)
            return choices[0]
    if isinstance(value, list):
        field.reject("unknown-choice/list", such=alone(value))
    else:
        field.reject("unknown-choice/far")
    return choices[0]


def read_text(field: Field) -> str | None:
    """One line of text, accents composed (Unicode NFC), so that equal looks are equal; None where faulty."""
    if not isinstance(field.value, str):
        field.reject_kind("not-a-text")
        return None
    text = composed(field.value)
    if bad := "" if text.isprintable() else next(filter(is_unprintable, text), ""):
        field.with_value(text).reject("unprintable-character", character=ord(bad))
    elif len(text) > field.rule.many:
        field.reject("text-too-long", count=len(text))
    else:
        return text
    return None


def composed(text: str) -> str:
    """Text with its accents composed, as every name is kept and compared.

    >>> composed("e\u0301") == "\u00e9"
    True
    """
    return unicodedata.normalize("NFC", text)


def read_name(field: Field) -> str | None:
    """A name: text that may stand in a run."""
    text = read_text(field)
    if text is None:
        return None
    field = field.with_value(text)
    mark = next((mark for mark in ":#" if mark in text), "")
    if mark:
        field.reject("name-mark", mark=mark)
    elif not text.strip():
        field.reject("name-empty")
    elif text != text.strip():
        field.reject("name-blanks", meant=text.strip())
    else:
        return text
    return None


def read_list(field: Field, *, what: str = "entry") -> list[Field]:
    """The entries of a list, each called `what` and its number; none where the list is faulty."""
    if not isinstance(field.value, list):
        field.reject("not-a-list", such=field.listed())
    elif len(field.value) < field.rule.few:
        field.reject("too-few", such=field.listed())
    elif len(field.value) > field.rule.many:
        field.reject("too-many")
    else:
        return [field.inside(i, each, f"{what} {i + 1}") for i, each in enumerate(field.value)]
    return []


def read_texts(field: Field) -> list[Field]:
    """The entries of a list of texts, accents composed, leaving out the faulty."""
    listed = read_list(field)
    for each in (each for each in listed if not isinstance(each.value, str)):
        each.reject("not-a-text/listed")
    return [each.with_value(composed(each.value)) for each in listed if isinstance(each.value, str)]


def read_names(field: Field) -> tuple[str, ...]:
    """The names of a list, leaving out the faulty."""
    return tuple(str(each.value) for each in read_texts(field))


def read_table(field: Field) -> list[tuple[str, Field]]:
    """The keys and values of a table in the order written; none where it is no table."""
    value, most = field.value, field.rule.many
    if isinstance(value, str) and "=" in value:
        field.reject("not-a-table/quoted", meant=f"{{ {value.strip(' {}')} }}")
    elif not isinstance(value, dict):
        field.reject("not-a-table")
    elif most and len(value) > most:
        field.reject("too-many/keys", count=len(value), most=most)
    else:
        return [(composed(name), field.inside(name, each)) for name, each in value.items()]
    return []


def read_pair(field: Field) -> Point | None:
    """Two lengths in a list, such as a point or a size; None where either is faulty."""
    if not isinstance(field.value, list) or len(field.value) != 2:
        _reject_pair(field)
        return None
    first, second = _lengths_in(field, field.value)
    return None if math.isnan(first) or math.isnan(second) else (first, second)


def _reject_pair(field: Field) -> None:
    """Report what is no pair, with the pair that it was most likely meant for."""
    key, value, names = str(field.location.path[-1]), field.value, _SIDES.get(field.rule.kind, ("x", "y"))
    alone = value[0] if isinstance(value, list) and len(value) == 1 else value
    numbers = re.findall(_NUMBERS, alone, re.ASCII) if isinstance(alone, str) else []
    if len(numbers) == 2 and "/" not in str(alone):
        unit = re.search(r"mm|cm|in", str(alone))
        first, second = (f'"{number} {unit[0]}"' if unit else number for number in numbers)
        field.reject("not-a-pair/meant", key=key, first=first, second=second)
    elif isinstance(value, list) and len(value) == 3 and all(type(each) is int for each in value):
        head = "" if key.isdigit() else f"{key} = "
        meant = f"{head}[{value[0]}.{value[1]}, {value[2]}]"
        field.reject("not-a-pair/comma", first=value[0], second=value[1], meant=meant)
    elif _is_number(alone) and isinstance(field.location.path[-1], str):
        field.reject("not-a-pair/one", key=key, first=shown(alone), second=names[1])
    elif isinstance(alone, str) and field.rule.kind is Kind.POINT and not numbers:
        field.reject("not-a-pair/word", key=key)
    else:
        field.reject("not-a-pair")


def read_box(field: Field) -> tuple[float, ...]:
    """Width, thickness and length, NaN where they are faulty."""
    if isinstance(field.value, list) and len(field.value) == 3:
        return _lengths_in(field, field.value)
    if isinstance(field.value, list) and len(field.value) == 2:
        first, second = map(shown, field.value)
        field.reject("not-a-size/two", first=first, second=second)
    elif isinstance(field.value, str) and len(found := re.findall(_NUMBERS, field.value, re.ASCII)) == 3:
        field.reject("not-a-size/meant", key=field.location.path[-1], listed=", ".join(found))
    else:
        field.reject("not-a-size")
    return (FAULTY,) * 3


def _lengths_in(field: Field, values: list[object]) -> tuple[float, ...]:
    """The lengths of a list whose entries have names."""
    names = _SIDES.get(field.rule.kind, _SIDES[Kind.POINT])
    return tuple(
        read_length(field.inside(i, value, name).of_kind(Kind.LENGTH))
        for i, (name, value) in enumerate(zip(names, values, strict=True))
    )


def read_points(field: Field) -> tuple[Point, ...] | None:
    """A list of points; None where any is faulty."""
    listed = read_list(field, what="point")
    if listed and all(_is_number(each.value) for each in listed[:2]):
        field.reject("not-a-list-of-points")
        return None
    points = [read_pair(each.ruled(_POINT)) for each in listed]
    whole = tuple(point for point in points if point is not None)
    return whole if listed and len(whole) == len(listed) else None
