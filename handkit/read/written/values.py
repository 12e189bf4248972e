"""Values: what a key of the project file holds, in mm, as its text; the kind of the key decides how.

In: a key's row of the schema, a value as records have it, and the file's unit. Out: lines of TOML. What is
the key's default is left out. Tables by name are mappings, tables with keys of their own mappings by key.

Words: *values* are a table's, by key, before they are text; *plain* is a length without its unit.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import Any

import msgspec

from handkit.read.project import Ease
from handkit.read.schema.keys import TABLES
from handkit.read.schema.rules import Key, Kind
from handkit.read.written.toml_text import array, fact, inline, number, string
from handkit.tolerances import SAME_POINT
from handkit.units import LENGTH_UNITS

Values = Mapping[str, Any]
NOTHING: Values = MappingProxyType({})

# Decimals that keep a length to a millionth of a mm, by unit; of a degree and a share likewise.
_DECIMALS = {"mm": 6, "cm": 7, "in": 8}
_FINE = 9
# In a file in inches a length with more decimals than this is written in mm where it is short there.
_SHORT = 4
_MM_PER_METRE = 1000.0


class FileForm(msgspec.Struct, frozen=True):
    """How a file writes lengths: its unit, and the thicknesses that it has as text, by mm."""

    unit: str = "mm"
    written: Mapping[float, str] = msgspec.field(default_factory=dict)

    def length(self, mm: float) -> str:
        """A length.

        >>> inches = FileForm("in")
        >>> FileForm().length(12.5), inches.length(6.35), inches.length(4.0), inches.length(1 / 3)
        ('12.5', '0.25', '"4 mm"', '0.01312336')
        """
        plain, metric = self._in(self.unit, mm), self._in("mm", mm)
        short = len(metric.partition(".")[2]) < _SHORT < len(plain.partition(".")[2])
        return f'"{metric} mm"' if self.unit == "in" and short else plain

    def thickness(self, mm: float) -> str:
        """A thickness, as text where the file has it so."""
        return string(self.written[mm]) if mm in self.written else self.length(mm)

    def _in(self, unit: str, mm: float) -> str:
        return number(mm / LENGTH_UNITS[unit], _DECIMALS[unit])

    def point(self, at: Sequence[float]) -> str:
        """Two or three lengths."""
        return array([self.length(each) for each in at])

    def points(self, points: Sequence[Sequence[float]]) -> str:
        """A list of points."""
        return array([self.point(at) for at in points])


def written_table(schema: str, values: Values, form: FileForm, usual: Values = NOTHING) -> Iterator[str]:
    """The lines of a table, its keys in the order of the schema; tables by name stand last, under headers of
    their own. `usual` is what a key left out means in place of its default."""
    known = [
        each for each in TABLES[schema].keys.values() if not _is_left_out(each, values.get(each.name), usual)
    ]
    for rule in known:
        if rule.kind not in _UNDER_HEADERS:
            value = values[rule.name]
            yield from fact(rule.name, written_value(rule, value, form), _items(rule, value, form))
    for rule in known:
        if rule.kind in _UNDER_HEADERS:
            yield f"[{schema}.{rule.name}]"
            for name, value in values[rule.name].items():
                lists = value if rule.kind is Kind.MARKS else ()
                points = value if isinstance(value, tuple) else ()
                items = [form.points(each) if lists else form.point(each) for each in points]
                yield from fact(name, _UNDER_HEADERS[rule.kind](value, form), items)


def written_value(rule: Key, value: Any, form: FileForm) -> str:
    """A value on one line."""
    return _WRITERS[rule.kind](value, form)


def _items(rule: Key, value: Any, form: FileForm) -> list[str]:
    """The items of a value that is a list."""
    match rule.kind:
        case Kind.POINTS | Kind.CORNERS | Kind.SHAPE:
            return [form.point(at) for at in value]
        case Kind.RUNS:
            return [_run(each, form) for each in value]
        case Kind.MATCH:
            return [_match(each, form) for each in value]
        case _:
            return []


def _is_left_out(rule: Key, value: Any, usual: Values = NOTHING) -> bool:
    """Whether a value need not be written: none, or what it is when left out."""
    if rule.required or value is None:
        return value is None
    if rule.name in usual:
        return alike(value, usual[rule.name])
    if rule.default is not None:
        return alike(value, rule.default)
    return not value or (rule.kind is Kind.POINT and not any(value))


def alike(one: Any, other: Any) -> bool:
    """Whether two values are the same but for rounding noise.

    >>> alike({"A": (1.0, 2)}, {"A": (1.0, 2.0000000001)}), alike(1.0, True), alike((), (1,))
    (True, False, False)
    """
    if isinstance(one, bool) or isinstance(other, bool):
        return one is other
    if isinstance(one, float | int) and isinstance(other, float | int):
        return abs(one - other) <= SAME_POINT
    if isinstance(one, Mapping) and isinstance(other, Mapping):
        return list(one) == list(other) and all(alike(one[name], other[name]) for name in one)
    if isinstance(one, tuple | list) and isinstance(other, tuple | list):
        return len(one) == len(other) and all(map(alike, one, other))
    return bool(one == other)


def _sub(schema: str, values: Values, form: FileForm) -> str:
    """A table with keys of its own, on one line."""
    keys = TABLES[schema].keys.values()
    return inline(
        {
            each.name: written_value(each, values[each.name], form)
            for each in keys
            if not _is_left_out(each, values.get(each.name))
        }
    )


def _widths(value: Mapping[str, float], form: FileForm) -> str:
    return inline({edges: form.length(width) for edges, width in value.items()})


def _round(value: float | Mapping[str, float], form: FileForm) -> str:
    return _widths(value, form) if isinstance(value, Mapping) else form.length(value)


def _by_edges(schema: str) -> Callable[[Mapping[str, Values], FileForm], str]:
    def write(value: Mapping[str, Values], form: FileForm) -> str:
        return inline({edges: _sub(schema, each, form) for edges, each in value.items()})

    return write


def _run(value: str | Values, form: FileForm) -> str:
    return string(value) if isinstance(value, str) else _sub("run", value, form)


def _match(value: Sequence[str | Sequence[float] | None], form: FileForm) -> str:
    return array(
        [string(at) if isinstance(at, str) else form.point(at) if at else string("") for at in value]
    )


def _line_or_fold(value: Any, form: FileForm) -> str:
    return _sub("fold", value, form) if isinstance(value, Mapping) else form.points(value)


def _marks(value: Sequence[Sequence[Sequence[float]]], form: FileForm) -> str:
    return array([form.points(line) for line in value])


def _ease(value: Ease, form: FileForm) -> str:
    return string(f"{number(value.share * 100, _FINE)} %") if value.share else form.length(value.mm)


def _row(value: tuple[int, float, float], form: FileForm) -> str:
    count, dx, dy = value
    return array([str(count), form.length(dx), form.length(dy)])


def _text(value: str, form: FileForm) -> str:
    return string(str(value))


def _names(value: Sequence[str], form: FileForm) -> str:
    return array([string(each) for each in value])


def _number(value: float, form: FileForm) -> str:
    return number(value, _FINE)


_WRITERS: Mapping[Kind, Callable[[Any, FileForm], str]] = {
    **dict.fromkeys((Kind.TEXT, Kind.NAME, Kind.CHOICE, Kind.PIECE, Kind.MATE, Kind.PART), _text),
    **dict.fromkeys((Kind.RUN, Kind.PAPER, Kind.FONT, Kind.THINGS), _text),
    **dict.fromkeys((Kind.PERCENT, Kind.ANGLE), _number),
    **dict.fromkeys(
        (Kind.SIZE, Kind.SLOT, Kind.POINT, Kind.RANGE, Kind.BOX), lambda at, form: form.point(at)
    ),
    **dict.fromkeys((Kind.POINTS, Kind.CORNERS, Kind.SHAPE), lambda points, form: form.points(points)),
    **dict.fromkeys((Kind.ARC, Kind.WIDTHS), _widths),
    Kind.FORMAT: lambda value, form: str(value),
    Kind.FLAG: lambda value, form: "true" if value else "false",
    Kind.COUNT: lambda value, form: str(int(value)),
    Kind.LENGTH: lambda mm, form: form.length(mm),
    Kind.THICKNESS: lambda mm, form: form.thickness(mm),
    Kind.ROUND: _round,
    Kind.SKIVE: _by_edges("skived edge"),
    Kind.HEM: _by_edges("hem"),
    Kind.BINDING: _by_edges("binding"),
    Kind.HOLE: lambda value, form: _sub("hole", value, form),
    Kind.IRON: lambda value, form: _sub("iron", value, form),
    Kind.SPOOL: lambda mm, form: number(mm / _MM_PER_METRE, _FINE),
    Kind.RUNS: lambda runs, form: array([_run(each, form) for each in runs]),
    Kind.MATCH: lambda points, form: array([_match(each, form) for each in points]),
    Kind.NAMES: _names,
    Kind.EASE: _ease,
    Kind.ROW: _row,
    Kind.PLACES: lambda value, form: inline({name: form.points(each) for name, each in value.items()}),
}
# Tables by name of lines, each under a header.
_UNDER_HEADERS: Mapping[Kind, Callable[[Any, FileForm], str]] = {
    Kind.LINES: _line_or_fold,
    Kind.OUTLINES: _line_or_fold,
    Kind.MARKS: _marks,
}
# Those that a file has tables for: they are written as entries.
WRITTEN_KINDS = frozenset((*_WRITERS, *_UNDER_HEADERS))
