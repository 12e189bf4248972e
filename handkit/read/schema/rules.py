"""Rules: how the value of a key looks, and what an error says is allowed.

In: a kind of value with its range. Out: `Key` and `TableSchema`. The keys themselves stand in
`keys.py`.

Words: a *schema* lists the keys of one kind of table in the file, such as [[piece]]; a *kind* says
what a value looks like, and decides how it is read (`entries/entry.py`);
`least` and `most` are mm for lengths, degrees for angles; `few` and `many` count the entries of a
list, or the characters of a text.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from enum import StrEnum
from types import MappingProxyType
from typing import TypedDict, Unpack

import msgspec

from handkit.kinds.rows import table
from handkit.messages.allowed import ALLOWED
from handkit.messages.placeholders import filled
from handkit.wording.figures import METRIC, Units

MOST_LENGTH = 10_000.0  # 10 m: longer than any hide, strap or sheet of paper


class Kind(StrEnum):
    """What a value looks like, in the words of `messages/allowed.py`."""

    FORMAT = "format"
    TEXT = "text"
    NAME = "name"
    CHOICE = "choice"
    FLAG = "flag"
    COUNT = "count"
    PERCENT = "percent"
    ANGLE = "angle"
    LENGTH = "length"
    THICKNESS = "thickness"
    SIZE = "size"
    SLOT = "slot"
    POINT = "point"
    POINTS = "points"
    CORNERS = "corners"
    ROUND = "round"
    ARC = "arc"
    LINES = "lines"
    MARKS = "marks"
    OUTLINES = "outlines"
    WIDTHS = "widths"
    SKIVE = "skive"
    HEM = "hem"
    BINDING = "binding"
    HOLE = "hole"
    IRON = "iron"
    SPOOL = "spool"
    RUN = "run"
    RUNS = "runs"
    MATCH = "match"
    NAMES = "names"
    PIECE = "piece"
    MATE = "mate"
    PART = "part"
    BOX = "box"
    RANGE = "range"
    EASE = "ease"
    ROW = "row"
    PLACES = "places"
    PAPER = "paper"
    FONT = "font"
    THINGS = "things"
    SHAPE = "shape"
    TABLE = "table"
    TABLES = "tables"


# What an error says is allowed, by kind, with the fields of the key as placeholders.
_PHRASES = table(Kind, {Kind(word): phrase for word, phrase in ALLOWED.items()})


class Key(msgspec.Struct, frozen=True):
    """One key: how its value looks, what it is when left out, and what it is for.

    `default` None: it may be left out and then means nothing (`unless` says what then), unless it
    is `required`. Default lengths are mm whatever the file's unit.
    """

    name: str
    kind: Kind
    why: str
    default: str | float | bool | None = None
    unless: str = ""
    required: bool = False
    least: float = 0.0
    most: float = 0.0
    few: int = 0
    many: int = 200
    choices: tuple[str, ...] = ()  # members of an enumeration where the project has one
    synonyms: Mapping[str, str] = MappingProxyType({})  # what is written for a choice by mistake
    means: Mapping[str, str] = MappingProxyType({})  # other words for a choice, as good as its own
    header: str = ""

    @property
    def allowed(self) -> str:
        """What an error says is allowed.

        >>> length_key("pitch", 1, 50, "from hole to hole").allowed
        'a length from 1 to 50 mm'
        >>> choice_key("unit", ["mm", "cm"], "of plain numbers", "mm").allowed
        '"mm" or "cm"'
        """
        return self.allowed_in(METRIC)

    def allowed_in(self, units: Units) -> str:
        """The same in a file of these units.

        >>> from handkit.wording.figures import INCHES
        >>> length_key("pitch", 1, 50, "from hole to hole").allowed_in(INCHES)
        'a length from 0.04 to 1.968 in'
        """
        return filled(_PHRASES[self.kind], msgspec.structs.asdict(self) | {"choices": self.written}, units)

    @property
    def written(self) -> tuple[str, ...]:
        """All that may be written for its choices: each one's own word, then the words as good as those."""
        return (*self.choices, *self.means)

    def of_one(self, kind: Kind) -> Key:
        """The rule of one value of several that this key holds.

        >>> Key("trim", Kind.WIDTHS, "cut outside", least=0.1, most=50).of_one(Kind.LENGTH).allowed
        'a length from 0.1 to 50 mm'
        """
        return msgspec.structs.replace(self, kind=kind)


class TableSchema(msgspec.Struct, frozen=True):
    """A kind of table: its header in the file, and its keys by name."""

    name: str
    header: str
    why: str
    keys: MappingProxyType[str, Key]

    def with_words(self, words: Mapping[str, tuple[str, ...]]) -> TableSchema:
        """The schema of a kind of entry that takes words of its own for these keys; the first is the usual
        one."""
        own = {
            key: msgspec.structs.replace(self.keys[key], choices=choices, default=choices[0], unless="")
            for key, choices in words.items()
        }
        return msgspec.structs.replace(self, keys=MappingProxyType({**self.keys, **own}))


def schema(name: str, header: str, why: str, *keys: Key) -> TableSchema:
    """The schema of a table with these keys, in the order of the reference; none may stand there twice."""
    assert len({key.name for key in keys}) == len(keys)
    return TableSchema(name, header, why, MappingProxyType({key.name: key for key in keys}))


class _Rest(TypedDict, total=False):
    """Fields that any key may have beside its range."""

    required: bool
    unless: str
    synonyms: Mapping[str, str]
    means: Mapping[str, str]


def length_key(
    name: str, least: float, most: float, why: str, default: float | None = None, **rest: Unpack[_Rest]
) -> Key:
    """A length from `least` to `most` mm."""
    return Key(name, Kind.LENGTH, why, default, least=least, most=most, **rest)


def count_key(
    name: str, least: int, most: int, why: str, default: int | None = None, **rest: Unpack[_Rest]
) -> Key:
    """A whole number from `least` to `most`."""
    return Key(name, Kind.COUNT, why, default, least=least, most=most, **rest)


def angle_key(name: str, why: str, default: float) -> Key:
    """Degrees, up to one turn either way."""
    return Key(name, Kind.ANGLE, why, default, least=-360, most=360)


def text_key(name: str, why: str, default: str | None = "", **rest: Unpack[_Rest]) -> Key:
    """A line of text."""
    return Key(name, Kind.TEXT, why, default, **rest)


def name_key(why: str) -> Key:
    """A name, which may stand in a run and so holds none of a run's marks."""
    return Key("name", Kind.NAME, why, required=True, many=60)


def flag_key(name: str, why: str, *, default: bool = False) -> Key:
    """True or false."""
    return Key(name, Kind.FLAG, why, default)


def choice_key(
    name: str, choices: Iterable[str], why: str, default: str | None = None, **rest: Unpack[_Rest]
) -> Key:
    """One of some words, or of the members of an enumeration."""
    return Key(name, Kind.CHOICE, why, default, choices=tuple(choices), **rest)


def point_key(name: str, why: str, **rest: Unpack[_Rest]) -> Key:
    """A point anywhere within the longest length of the origin."""
    return Key(name, Kind.POINT, why, least=-MOST_LENGTH, most=MOST_LENGTH, **rest)


def points_key(name: str, kind: Kind, why: str, *, few: int, many: int, **rest: Unpack[_Rest]) -> Key:
    """A list of `few` to `many` such points."""
    return Key(name, kind, why, least=-MOST_LENGTH, most=MOST_LENGTH, few=few, many=many, **rest)


def table_key(name: str, why: str) -> Key:
    """A table that may be there once."""
    return Key(name, Kind.TABLE, why, header=f"[{name}]")


def tables_key(name: str, why: str, *, many: int, **rest: Unpack[_Rest]) -> Key:
    """A table that may be there `many` times."""
    return Key(name, Kind.TABLES, why, header=f"[[{name}]]", many=many, **rest)
