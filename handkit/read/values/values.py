"""Values: one value of the project file in, checked against its key; a plain value in mm out.

A faulty value is told at its spot and read as what cannot cause a second finding: a number as NaN
(no comparison with it holds), a list as None. Nothing of it is ever used, because any fault ends
the reading in an error.
"""

from __future__ import annotations

import math
import unicodedata
from collections.abc import Sequence

from handkit.findings import nearest
from handkit.quoting import quoted, shown
from handkit.read.project import Point
from handkit.read.schema.rules import Key, Kind, point_key
from handkit.read.values.lengths import CLEAN, EXAMPLE, length_mm
from handkit.read.values.spot import Fault, Spot
from handkit.units import LENGTH_UNITS

FAULTY = math.nan
_POINT = point_key("point", "")
_PAIR = 2
_IN_WORDS = {"mm": "mm", "cm": "cm", "in": "inches"}

# Texts that reorder what stands around them would make a name look like another.
_REORDERING = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")


def read_length(value: object, spot: Spot, key: Key) -> float:
    """A length in mm, NaN where it is faulty. `key` gives the range, and whether it is a thickness."""
    thickness = key.kind is Kind.THICKNESS
    if isinstance(value, str):
        length = length_mm(value, thickness=thickness)
        if isinstance(length, Fault):
            spot.refuse(length)
            return FAULTY
        return _in_range(length, spot, key, found=f"{quoted(value)}, {length:.10g} mm")
    if isinstance(value, bool) or not isinstance(value, int | float):
        spot.refuse(Fault("not-a-length", shown(value), key.allowed, f"write {EXAMPLE}"))
        return FAULTY
    unit = spot.reading.unit
    if not unit:  # it isn't known, and that is told
        return FAULTY
    length = round(value * LENGTH_UNITS[unit], CLEAN) if math.isfinite(value) else value
    found = shown(value) + (f" {unit}, {length:.10g} mm" if unit != "mm" and math.isfinite(value) else "")
    hint = f'; plain numbers are {_IN_WORDS[unit]} here, write "{shown(value)} mm" where mm are meant'
    hint = hint if unit != "mm" else ""
    return _in_range(length, spot, key, found=found, hint=hint)


def read_number(value: object, spot: Spot, key: Key) -> float:
    """A plain number, NaN where it is faulty."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        spot.refuse(
            Fault("not-a-number", shown(value), key.allowed, "write a plain number without quotes or unit")
        )
        return FAULTY
    return _in_range(float(value), spot, key, found=shown(value))


def read_count(value: object, spot: Spot, key: Key) -> int:
    """A whole number, the least of its range where it is faulty."""
    least = int(key.least)
    if isinstance(value, bool) or not isinstance(value, int):
        spot.refuse(
            Fault(
                "not-a-whole-number",
                shown(value),
                key.allowed,
                "write a whole number, without quotes or a point",
            )
        )
        return least
    if len(str(abs(value))) > 18:  # beyond what a float tells apart
        spot.refuse(Fault("too-big", shown(value), key.allowed, "make it smaller"))
        return least
    checked = _in_range(float(value), spot, key, found=shown(value))
    return least if math.isnan(checked) else value


def read_flag(value: object, spot: Spot, key: Key) -> bool:
    """True or false; false where it is faulty."""
    if isinstance(value, bool):
        return value
    spot.refuse(Fault("not-a-flag", shown(value), key.allowed, "write true or false, without quotes"))
    return False


def read_choice(value: object, spot: Spot, key: Key, *, meant: str = "") -> str | None:
    """One of the words a key knows, None where it is another; `meant` where it is known which."""
    if isinstance(value, str) and value in key.choices:
        return value
    near = meant or (nearest(value, key.choices) if isinstance(value, str) else "")
    remedy = f"write {quoted(near)}" if near else "write one of these, in quotes"
    spot.refuse(Fault("unknown-choice", shown(value), key.allowed, remedy))
    return None


def read_text(value: object, spot: Spot, key: Key) -> str | None:
    """One line of text, accents composed (Unicode NFC), so that equal looks are equal."""
    if not isinstance(value, str):
        spot.refuse(Fault("not-a-text", shown(value), key.allowed, "put the text in quotes"))
        return None
    text = composed(value)
    bad = next((letter for letter in text if _is_unprintable(letter)), None)
    if bad is not None:
        found = f"the character U+{ord(bad):04X} in {quoted(text)}"
        spot.refuse(Fault("unprintable-character", found, key.allowed, "take it out; write one line"))
        return None
    if len(text) > key.many:
        spot.refuse(Fault("text-too-long", f"{len(text)} characters", key.allowed, "make the text shorter"))
        return None
    return text


def composed(text: str) -> str:
    """Text with its accents composed, as every name is kept and compared.

    >>> composed("e\u0301") == "\u00e9"
    True
    """
    return unicodedata.normalize("NFC", text)


def read_name(value: object, spot: Spot, key: Key) -> str | None:
    """A name: text that may stand in a run."""
    text = read_text(value, spot, key)
    if text is None:
        return None
    mark = next((mark for mark in ":#" if mark in text), "")
    if mark:
        remedy = f"leave the {mark} out; it has a meaning in runs"
        spot.refuse(Fault("name-mark", quoted(text), key.allowed, remedy))
    elif not text.strip():
        spot.refuse(Fault("name-empty", quoted(text), key.allowed, "give it a name"))
    elif text != text.strip():
        spot.refuse(Fault("name-blanks", quoted(text), key.allowed, f"write {quoted(text.strip())}"))
    else:
        return text
    return None


def read_list(
    value: object, spot: Spot, key: Key, *, what: str = "entry"
) -> list[tuple[object, Spot]] | None:
    """The entries of a list with their spots; None where it is no list, too short or too long."""
    if not isinstance(value, list):
        spot.refuse(Fault("not-a-list", shown(value), key.allowed, "put square brackets round it"))
    elif len(value) < key.few:
        spot.refuse(Fault("too-few", shown(value), key.allowed, "add what is missing"))
    elif len(value) > key.many:
        spot.refuse(Fault("too-many", shown(value), key.allowed, "leave some out"))
    else:
        return [(entry, spot.down(i, f"{what} {i + 1}")) for i, entry in enumerate(value)]
    return None


def read_table(value: object, spot: Spot, key: Key) -> list[tuple[str, object, Spot]] | None:
    """The keys and values of a table with their spots, in the order written; None where it is none."""
    if not isinstance(value, dict):
        remedy = "put braces round it, { … }"
        spot.refuse(Fault("not-a-table", shown(value), key.allowed, remedy))
    elif key.many and len(value) > key.many:
        spot.refuse(Fault("too-many", f"a table of {len(value)}", f"at most {key.many}", "leave some out"))
    else:
        return [(composed(name), entry, spot.down(name)) for name, entry in value.items()]
    return None


def read_pair(value: object, spot: Spot, key: Key) -> Point | None:
    """Two lengths in a list, such as a point or a size; None where either is faulty."""
    if not isinstance(value, list) or len(value) != _PAIR:
        remedy = "write two lengths in square brackets, their decimals with a point"
        spot.refuse(Fault("not-a-pair", shown(value), key.allowed, remedy))
        return None
    rule = key.of_one(Kind.LENGTH)
    first, second = (read_length(each, spot.down(i, _side(key, i)), rule) for i, each in enumerate(value))
    return None if math.isnan(first) or math.isnan(second) else (first, second)


def read_points(value: object, spot: Spot, key: Key) -> tuple[Point, ...] | None:
    """A list of points; None where any is faulty."""
    entries = read_list(value, spot, key)
    if entries is None:
        return None
    if all(isinstance(entry, int | float) and not isinstance(entry, bool) for entry, _ in entries[:_PAIR]):
        remedy = "put each point in brackets of its own, [[x, y], [x, y]]"
        spot.refuse(Fault("not-a-list-of-points", "a list of numbers", key.allowed, remedy))
        return None
    points = [
        read_pair(entry, spot.down(i, f"point {i + 1}"), _POINT) for i, (entry, _) in enumerate(entries)
    ]
    whole = [point for point in points if point is not None]
    return tuple(whole) if len(whole) == len(entries) else None


def _side(key: Key, index: int) -> str:
    """What the first and the second of a pair are called."""
    names: Sequence[str] = {Kind.SIZE: ("width", "height"), Kind.SLOT: ("length", "width")}.get(
        key.kind, ("x", "y")
    )
    return names[index]


def _is_unprintable(letter: str) -> bool:
    return unicodedata.category(letter) in ("Cc", "Cs", "Zl", "Zp") or letter in _REORDERING


def _in_range(number: float, spot: Spot, key: Key, *, found: str, hint: str = "") -> float:
    """The number where it lies in the key's range; else it is told, and NaN."""
    if not math.isfinite(number):
        spot.refuse(Fault("not-finite", found, key.allowed, "write a number"))
    elif number < 0 <= key.least:
        spot.refuse(Fault("negative", found, key.allowed, "leave the minus sign out" + hint))
    elif number == 0 < key.least:
        spot.refuse(Fault("zero", found, key.allowed, "make it larger" + hint))
    elif number < key.least:
        spot.refuse(Fault("too-small", found, key.allowed, "make it larger" + hint))
    elif number > key.most:
        spot.refuse(Fault("too-big", found, key.allowed, "make it smaller" + hint))
    else:
        return number
    return FAULTY
