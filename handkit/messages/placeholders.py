"""Placeholders: the values of a finding put into the texts of its message.

In: a text of the tables of messages and the values by name. Out: the phrase. Beside Python's own
formats, such as {width:g}, a placeholder may name a style:

    {name:quoted}          "front"; of a list "front", "back", at the most twelve
    {value:shown}          any value of a project file as a maker says it: true, "a", a list of 3
    {keys:or} {keys:and}   a list in words: a, b and c
    {keys:listed}          the same with commas alone: a, b, c
    {names:quoted or}      the same, each in quotes: "a" or "b"
    {names:cycle}          a → b → a
    {count:counted place}  1 place, 2 places
    {width:mm}  {apart:mm 3}  4.5 mm, 3.139 mm: two decimals at the most, or so many
    {at:point}             [3, -0.25], with decimals as a length's
    {ease:percent}         0.9 %
    {count:more}           ; and 3 more: what stands behind the worst of 4, nothing behind that of 1
    {at:there}             , with at = [3, -0.25]: what stands behind what is to lie there, or nothing
    {near:suggested}       "front", or "one of these" where there is nothing near
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache
from string import Formatter
from types import MappingProxyType
from typing import Any

from handkit.wording.figures import and_more, counted, mm, percent, point
from handkit.wording.quoting import quoted, shown, words

_MOST_LISTED = 12
_DECIMALS = 2


def filled(text: str, values: Mapping[str, object]) -> str:
    """The text with its placeholders filled in. Raises KeyError where a value is missing.

    >>> filled("{names:quoted or}, {n:counted time}", {"names": ["a", "b"], "n": 2})
    '"a" or "b", 2 times'
    """
    return _FORMATTER.vformat(text, (), values) if _names_a_style(text) else text.format_map(values)


@cache
def _names_a_style(text: str) -> bool:
    """Whether a text of the tables needs more than Python's own formats, which are several times faster."""
    return any((spec or "").partition(" ")[0] in _STYLES for _, _, spec, _ in _FORMATTER.parse(text))


class _Styles(Formatter):
    """Python's own formatter, which knows the styles as well."""

    def format_field(self, value: Any, format_spec: str) -> str:
        style, _, rest = format_spec.partition(" ")
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


_FORMATTER = _Styles()
_STYLES: Mapping[str, Callable[[Any, str], str]] = MappingProxyType(
    {
        "quoted": _quoted,
        "shown": lambda value, _: shown(value),
        "or": lambda value, _: words(value, last="or"),
        "and": lambda value, _: words(value, last="and"),
        "listed": lambda value, _: ", ".join(value),
        "cycle": lambda value, _: " → ".join([*value, value[0]]),
        "counted": counted,
        "mm": lambda value, decimals: mm(value, decimals=int(decimals or _DECIMALS)),
        "point": lambda value, decimals: point(value, decimals=int(decimals or _DECIMALS)),
        "percent": lambda value, _: percent(value),
        "more": lambda value, _: and_more(value),
        "there": lambda value, _: "" if value is None else f", with at = {point(value)}",
        "suggested": lambda value, _: quoted(value) if value else "one of these",
    }
)
