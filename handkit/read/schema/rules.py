"""Rules: how the value of a key looks, and what an error says is allowed.

In: a kind of value with its range. Out: `Key`, `TableSchema`, and the words for a message. The keys
themselves stand in `keys.py`.

Words: a *schema* is that of one kind of table in the file, such as [[piece]]; a *kind* says what a value
looks like, with its range where RANGE stands, and decides how it is read (`entries/entry.py`);
`least` and `most` are mm for lengths, degrees for angles; `few` and `many` count the entries of a
list, or the characters of a text.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from enum import Enum
from types import MappingProxyType
from typing import TypedDict, Unpack

import msgspec

from handkit.paper import ALLOWED as PAPERS_ALLOWED
from handkit.quoting import quoted, words

MOST_LENGTH = 10_000.0  # 10 m: longer than any hide, strap or sheet of paper


class Kind(Enum):
    """What a value looks like; the text is what an error allows."""

    FORMAT = "1"
    TEXT = "a line of text, at most MANY characters"
    NAME = "a name, at most MANY characters, without : or #"
    CHOICE = "CHOICES"
    FLAG = "true or false"
    COUNT = "a whole number RANGE"
    PERCENT = "a number RANGE"
    ANGLE = "degrees, a number RANGE"
    LENGTH = "a length RANGE"
    THICKNESS = "a thickness RANGE"
    SIZE = "[width, height], each a length RANGE"
    SLOT = "[length, width], each a length RANGE"
    POINT = "a point [x, y], each a length RANGE"
    POINTS = "a list of FEW to MANY points [x, y]"
    CORNERS = "a list of FEW to MANY points [x, y], one for each corner in order"
    ROUND = "a length RANGE, or a table by letter, { A = 12, B = 12 }"
    ARC = 'a table by edge, { "B-C" = 12 }, each a length RANGE'
    LINES = "a table by name, { divider = [[x, y], [x, y]] }"
    TRIM = 'a table by edges, { "A-B-C" = 2 }, each a length RANGE'
    SKIVE = 'a table by edges, { "A-B" = { width = 12, to = 1 } }'
    HOLE = "{ round = 1.6 } or { slit = 2.5, slant = 45 }"
    IRON = "{ teeth = 6, pitch = 4 }"
    SPOOL = 'a number of metres RANGE, or text with its unit such as "25 m"'
    RUN = '"piece: A-B-C", "piece: line" or "piece"'
    RUNS = 'a list of FEW to MANY runs, each "piece: A-B-C", "piece: line", "piece" or { run = "…" }'
    MATCH = 'a list of points, each a list with a letter, a point [x, y] or "" for every run'
    NAMES = "a list of FEW to MANY names"
    PIECE = "the name of a piece"
    MATE = "the name of a snap"
    PART = "the name of a part"
    BOX = "[width, thickness, length], each a length RANGE"
    EASE = 'a length RANGE, or a percentage such as "5 %"'
    ROW = "[count, dx, dy], a whole number RANGE and two lengths"
    PLACES = "a table by piece, { front = [[x, y], [x, y]] }"
    PAPER = PAPERS_ALLOWED
    FONT = "a .ttf file in the project's folder"
    TABLE = "a table, HEADER"
    TABLES = "tables, HEADER, at most MANY"


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
    header: str = ""

    @property
    def allowed(self) -> str:
        """What an error says is allowed.

        >>> length_key("pitch", 1, 50, "from hole to hole").allowed
        'a length from 1 to 50 mm'
        >>> choice_key("unit", ["mm", "cm"], "of plain numbers", "mm").allowed
        '"mm" or "cm"'
        """
        unit = " mm" if _holds_lengths(self.kind) else ""
        return (
            self.kind.value.replace("RANGE", f"from {self.least:g} to {self.most:g}{unit}")
            .replace("FEW", str(self.few))
            .replace("MANY", str(self.many))
            .replace("CHOICES", words(quoted(choice) for choice in self.choices))
            .replace("HEADER", self.header)
        )

    def of_one(self, kind: Kind) -> Key:
        """The rule of one value of several that this key holds.

        >>> Key("trim", Kind.TRIM, "cut outside", least=0.1, most=50).of_one(Kind.LENGTH).allowed
        'a length from 0.1 to 50 mm'
        """
        return msgspec.structs.replace(self, kind=kind)


class TableSchema(msgspec.Struct, frozen=True):
    """A kind of table: its header in the file, and its keys by name."""

    name: str
    header: str
    why: str
    keys: MappingProxyType[str, Key]


def _holds_lengths(kind: Kind) -> bool:
    return kind not in (Kind.COUNT, Kind.PERCENT, Kind.ANGLE, Kind.ROW, Kind.SPOOL)


def schema(name: str, header: str, why: str, *keys: Key) -> TableSchema:
    """The schema of a table with these keys, in the order of the reference."""
    return TableSchema(name, header, why, MappingProxyType({key.name: key for key in keys}))


class _Rest(TypedDict, total=False):
    """Fields that any key may have beside its range."""

    required: bool
    unless: str
    synonyms: Mapping[str, str]


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
