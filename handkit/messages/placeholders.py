"""Placeholders: the values of a finding put into the texts of its message.

In: a text of the tables of messages, the values by name, the units to tell lengths in. Out: the phrase.
Beside Python's own formats, such as {width:g}, a placeholder may name a style:

    {name:quoted}          "front"; of a list "front", "back", at the most twelve
    {value:shown}          any value of a project file as a maker says it: true, "a", a list of 3
    {keys:or} {keys:and}   a list in words: a, b and c
    {keys:listed}          the same with commas alone: a, b, c
    {names:quoted or}      the same, each in quotes: "a" or "b"
    {names:cycle}          a → b → a
    {count:counted place}  1 place, 2 places
    {width:mm}  {apart:mm 3}  of mm: 4.5 mm, 3.139 mm, or 0.177 in: in the file's unit, of mm with two
                           decimals at the most, or one or three
    {1.6:mm}               the same of a length that is always the same
    {off:mm .3}  {x:mm place}  what a proof measured, with all decimals; where it is on a page
    {size:size .3}         several across one another: 210 × 297 mm
    {wide:bare}            the same without its unit
    {dash:dashes}          several after one another: 6 1.5
    {least:up} {most:down}  the ends of a range, rounded inwards; the unit stands behind the second
    {inset:plain}          the same as a plain number of the file
    {at:point}             [3, -0.25], with decimals as a length's
    {ease:percent}         0.9 %
    {count:more}           ; and 3 more: what stands behind the worst of 4, nothing behind that of 1
    {more:keys}            and 60 more, which "handkit keys" has; nothing of none
    {at:there}             , with at = [3, -0.25]: what stands behind what is to lie there, or nothing
    {items:held}           for "a", "b": what stands behind the size of what holds them; nothing of none
    {near:suggested}       "front", or "one of these" where there is nothing near
    {entry:cut}            a word of a file, no longer than may be

A value that is a `Phrase`, or several, is told in the same units.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache
from operator import attrgetter
from string import Formatter
from types import MappingProxyType
from typing import Any

import msgspec

from handkit.wording.figures import METRIC, Measure, Units, and_more, counted, percent
from handkit.wording.quoting import cut, quoted, shown, words

_MOST_LISTED = 12


class Phrase(msgspec.Struct, frozen=True):
    """A text of a table with its values, which is put together once its units are known."""

    text: str
    values: Mapping[str, object] = MappingProxyType({})

    def told(self, units: Units = METRIC) -> str:
        """The phrase in these units; of several in a value's place a list."""
        return filled(self.text, {name: _told(value, units) for name, value in self.values.items()}, units)


def _told(value: object, units: Units) -> object:
    if isinstance(value, Phrase):
        return value.told(units)
    if isinstance(value, tuple) and value and all(isinstance(each, Phrase) for each in value):
        return ", ".join(each.told(units) for each in value)
    return value


def filled(text: str, values: Mapping[str, object], units: Units = METRIC) -> str:
    """The text with its placeholders filled in. Raises KeyError where a value is missing.

    >>> filled("{names:quoted or}, {n:counted time}", {"names": ["a", "b"], "n": 2})
    '"a" or "b", 2 times'
    >>> from handkit.wording.figures import INCHES
    >>> filled("{wide:mm}, {1.6:mm 1}", {"wide": 12.7}, INCHES)
    '1/2 in, 1/16 in'
    """
    return _Styles(units).vformat(text, (), values) if _names_a_style(text) else text.format_map(values)


@cache
def _names_a_style(text: str) -> bool:
    """Whether a text of the tables needs more than Python's own formats, which are several times faster."""
    specs = {(spec or "").partition(" ")[0] for _, _, spec, _ in Formatter().parse(text)}
    return bool(specs & (_STYLES.keys() | _LENGTHS.keys()))


class _Styles(Formatter):
    """Python's own formatter, which knows the styles as well, and writes lengths in these units."""

    def __init__(self, units: Units) -> None:
        self._units = units

    def get_field(self, field_name: str, args: Any, kwargs: Any) -> Any:
        if field_name[:1].isdecimal():
            return float(field_name), field_name
        return super().get_field(field_name, args, kwargs)

    def format_field(self, value: Any, format_spec: str) -> str:
        style, _, rest = format_spec.partition(" ")
        if style in _LENGTHS:
            return _LENGTHS[style](self._units, value, rest)
        return _STYLES[style](value, rest) if style in _STYLES else format(value, format_spec)


def _quoted(value: Any, last: str) -> str:
    if isinstance(value, str):
        return quoted(value)
    if last:
        return words((quoted(each) for each in value), last=last)
    listed = list(value)
    return ", ".join(quoted(each) for each in listed[:_MOST_LISTED]) + (
        ", …" if listed[_MOST_LISTED:] else ""
    )


def _size(units: Units, values: Any, decimals: str) -> str:
    measure = _MEASURES[decimals](units)
    return f"{measure.across(*values)} {measure.unit}"


def _there(units: Units, at: Any) -> str:
    return "" if at is None else f", with at = {units.point(at)}"


# Of the decimals that mm have.
_MEASURES: Mapping[str, Callable[[Units], Measure]] = MappingProxyType(
    {
        "": attrgetter("length"),
        "1": attrgetter("rough"),
        ".1": attrgetter("sizes"),
        "3": attrgetter("fine"),
        ".2": attrgetter("off"),
        ".3": attrgetter("proved"),
        "place": attrgetter("read"),
    }
)
_LENGTHS: Mapping[str, Callable[[Units, Any, str], str]] = MappingProxyType(
    {
        "mm": lambda units, value, decimals: _MEASURES[decimals](units).text(value),
        "bare": lambda units, value, decimals: _MEASURES[decimals](units).number(value),
        "size": _size,
        "dashes": lambda units, values, _: " ".join(map(units.marked.number, values)),
        "point": lambda units, at, decimals: units.point(at, decimals=int(decimals or 2)),
        "there": lambda units, at, _: _there(units, at),
        "up": lambda units, value, _: units.at_least(value),
        "down": lambda units, value, _: f"{units.at_most(value)} {units.unit}",
        "plain": lambda units, value, _: units.as_written(value),
    }
)
_STYLES: Mapping[str, Callable[[Any, str], str]] = MappingProxyType(
    {
        "quoted": _quoted,
        "shown": lambda value, _: shown(value),
        "or": lambda value, _: words(value, last="or"),
        "and": lambda value, _: words(value, last="and"),
        "keys": lambda value, _: f' and {value} more, which "handkit keys" has' if value else "",
        "listed": lambda value, _: ", ".join(value),
        "cut": lambda value, _: cut(value),
        "cycle": lambda value, _: " → ".join([*value, value[0]]),
        "counted": counted,
        "percent": lambda value, _: percent(value),
        "more": lambda value, _: and_more(value),
        "held": lambda value, _: f" for {_quoted(value, '')}" if value else "",
        "suggested": lambda value, _: quoted(value) if value else "one of these",
    }
)
