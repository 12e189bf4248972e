"""JSON fields: what a record gives to other programs, as a row of names, and how values are written.

In: records. Out: dictionaries and the text of a document.

Words: a *field* is a name in the document, a place in the record, and a way of writing. The names of
a record's fields are one text: `copy` is the attribute of that name; `holes=punched.count` is found
elsewhere; `front_mm` is the attribute `front`, a length. What ends in a unit is a length, an area or
an angle and has three decimals. Another way of writing is given by the field's name.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable
from operator import attrgetter, itemgetter
from typing import Any

import msgspec

from handkit.geometry.affine import Affine, Point
from handkit.read.project import Project

FORMAT = 1

Writing = Callable[[Any], object]


class Fields(msgspec.Struct, frozen=True):
    """The fields of one kind of record: their names, all values at once, how each is written."""

    names: tuple[str, ...]
    values: Callable[[Any], tuple[Any, ...]]
    writings: tuple[Writing | None, ...]  # None: as it is

    def one(self, record: object) -> dict[str, Any]:
        """A record's fields in order."""
        values = zip(self.names, self.writings, self.values(record), strict=True)
        return {name: value if write is None else write(value) for name, write, value in values}

    def each(self, records: Iterable[object]) -> list[dict[str, Any]]:
        """The fields of several records."""
        return [self.one(record) for record in records]


def fields(record: type, names: str, **writings: Writing) -> Fields:
    """The fields of a kind of record, two at least. In a tuple a place is an index, `area_mm2=2`.

    Raises AttributeError where the record has no such attribute, KeyError for the writing of a field
    that is not there.

    >>> numbers = fields(complex, "along_mm=real across_mm=imag", across_mm=str)
    >>> numbers.one(complex(0.12345, 2)), fields(tuple, "name=0 area_mm2=1").each([("flap", 2)])
    ({'along_mm': 0.123, 'across_mm': '2.0'}, [{'name': 'flap', 'area_mm2': 2.0}])
    """
    places = {name: place or name.removesuffix("_mm") for name, _, place in map(_parted, names.split())}
    for name in writings:
        places[name]
    if record is tuple:
        values: Callable[[Any], tuple[Any, ...]] = itemgetter(*map(int, places.values()))
    else:
        for place in places.values():
            getattr(record, place.split(".")[0])
        values = attrgetter(*places.values())
    return Fields(tuple(places), values, tuple(writings.get(name) or _by_unit(name) for name in places))


def _parted(field: str) -> tuple[str, str, str]:
    return field.partition("=")


def _by_unit(name: str) -> Writing | None:
    return _measure if name.endswith(("_mm", "_mm2", "_dm2", "_ft2", "_degrees")) else None


def _measure(value: float | None) -> float | None:
    return None if value is None else mm(value)


def mm(value: float) -> float:
    """A length, an area or an angle in degrees: three decimals, never -0.0.

    >>> mm(-0.0001), mm(2.00049)
    (0.0, 2.0)
    """
    return round(value, 3) + 0.0


def point(at: Point | None) -> list[float] | None:
    """[x, y]; None stays None."""
    return None if at is None else [mm(at[0]), mm(at[1])]


def points(all_of: Iterable[Point]) -> list[list[float]]:
    """[[x, y] …]."""
    return [[mm(x), mm(y)] for x, y in all_of]


def matrix(placed: Affine | None) -> list[float] | None:
    """[a, b, c, d, e, f], x' = a·x + c·y + e, y' = b·x + d·y + f; None stays None.

    Its four factors have nine decimals: 0.0005 of a factor would move a point 500 mm away by a quarter
    of a mm.
    """
    if placed is None:
        return None
    factors, shift = placed.numbers()[:4], placed.numbers()[4:]
    return [*(round(factor, 9) + 0.0 for factor in factors), *(mm(length) for length in shift)]


def drafted_for(project: Project) -> dict[str, Any]:
    """What says that a project is drafted otherwise than its file has it; nothing where it is not."""
    tried = {} if project.trial is None else {"trial_mm": mm(project.trial)}
    return {**({"mirrored": True} if project.mirrored else {}), **tried}


def document(content: dict[str, Any]) -> str:
    """The text of a JSON document, `"format": 1` first, with a line's end."""
    return json.dumps({"format": FORMAT, **content}, ensure_ascii=False, allow_nan=False) + "\n"
