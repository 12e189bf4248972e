"""Entries: a table of the project file, its values asked for by key.

In: a table as tomllib has it, and where it stands. Out: checked values. The kind of a key, stated
with the key in `schema/keys.py`, decides how its value is read (READERS, below). Making an entry
reports the keys that don't belong into it and those that are missing; asking for a key reports what
is wrong with its value. A key that is left out has its default.

Words: an entry's *common* one is asked for what isn't written in the entry itself: [stitching] for
a seam, [material] for a piece.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from enum import StrEnum
from functools import partial
from typing import Any, Protocol, TypeVar

import msgspec

from handkit.findings import Source, finding
from handkit.kinds.rows import table
from handkit.read.entries.stray_keys import lacking, left_open, stray
from handkit.read.file.project_file import Location, kinds_behind
from handkit.read.parts.expansion import DraftedTable
from handkit.read.project import Iron, RoundHole, SlitHole, StitchHole
from handkit.read.schema.examples import example
from handkit.read.schema.keys import TABLES
from handkit.read.schema.rules import Kind, TableSchema
from handkit.read.values import plain, special
from handkit.read.values.field import Field

Record = TypeVar("Record", bound=msgspec.Struct)


class Entry(msgspec.Struct, frozen=True):
    """A table of the file."""

    schema: TableSchema
    table: Mapping[str, object]
    location: Location
    common: Entry | None = None
    drafted: DraftedTable | None = None  # what a part gives for it

    def has(self, key: str) -> bool:
        """Whether the key is written in this entry."""
        return key in self.table

    def at(self, key: str) -> Location:
        """Where the key is written, or the table where it isn't."""
        return self.location.down(key)

    def field(self, key: str) -> Field | None:
        """The key's value as written, here or in the common entry; None where it is left out."""
        if key in self.table:
            return Field(self.table[key], self.schema.keys[key], self.at(key))
        common = self._common_for(key)
        return common.field(key) if common else None

    def _common_for(self, key: str) -> Entry | None:
        return self.common if self.common and key in self.common.schema.keys else None

    def get(self, key: str) -> Any:
        """The key's value, or its default; its type is what its kind's reader gives.

        Left out without a default: a table or a list is empty, a length that is required is NaN,
        anything else None. Where the value is faulty, that is reported.
        """
        rule = self.schema.keys[key]
        if key in self.table:
            return READERS[rule.kind](Field(self.table[key], rule, self.at(key)))
        if common := self._common_for(key):
            return common.get(key)
        if rule.default is not None:
            return rule.default
        if rule.kind in _LISTS:
            return ()
        if rule.choices:
            return rule.choices[0]
        return plain.FAULTY if rule.required and rule.kind in _LENGTHS else None

    def texts(self, key: str) -> list[Field]:
        """The texts of a list, leaving out the faulty; none where the key is left out."""
        field = self.field(key)
        return plain.read_texts(field) if field else []

    def name(self) -> str | None:
        """What the entry is called, None where it is missing or faulty."""
        name: str | None = self.get("name")
        return name

    def only(self, keys: Sequence[str], *, missing: str, several: str) -> str:
        """Which of these keys is written; "" where none is or several are, reported by these messages."""
        written = [key for key in keys if key in self.table]
        if not written:
            told = finding(missing, allowed=keys)
            self.location.report(told.following(*map(self.lacking, keys), *self.kinds_behind()))
        elif len(written) > 1:
            self.at(written[1]).report(several, keys=written, allowed=keys)
        else:
            return written[0]
        return ""

    def lacking(self, key: str) -> str:
        """That a key is not written, as a finding that says why names it."""
        return lacking(self.location, key)

    def kinds_behind(self) -> tuple[str, ...]:
        """The kinds of parts that may draft this entry: where one is wrong, what it lacks may be there."""
        name = self.table.get("name")
        return kinds_behind(name) if isinstance(name, str) else ()

    def record(self, record: type[Record], **fields: object) -> Record:
        """A record of these fields, and of the entry's keys that are called like the other fields."""
        keys = (key for key in record.__struct_fields__ if key in self.schema.keys and key not in fields)
        return record(**{key: self.get(key) for key in keys}, **fields)

    def source(self) -> Source:
        """The entry as later steps know it."""
        return self.location.source(list(self.table))


def entry_of(
    schema: str, field: Field, *, common: Entry | None = None, drafted: DraftedTable | None = None
) -> Entry | None:
    """A table as an entry of a schema, its keys checked. None where it is no table."""
    known = TABLES[schema]
    if not isinstance(field.value, dict):
        field.reject("not-a-table/header", header=known.header)
        return None
    entry = Entry(known, field.value, field.location, common, drafted)
    check_keys(entry)
    return entry


def check_keys(entry: Entry) -> None:
    """Report keys that the schema doesn't have, and required ones that are missing."""
    known = entry.schema.keys
    for key in (each for each in entry.table if each not in known):
        entry.at(key).of_key().report(stray(key, entry.table, entry.schema, entry.location))
    check_missing(entry, (key.name for key in known.values() if key.required))


def check_missing(entry: Entry, keys: Iterable[str]) -> None:
    """Report the keys of these that aren't written."""
    for rule in (entry.schema.keys[name] for name in keys if not entry.has(name)):
        place, allowed = entry.at(rule.name), rule.allowed_in(entry.location.units)
        match rule.kind:
            case Kind.FORMAT:
                told = finding("format-missing", allowed=allowed, key=rule.name)
            case Kind.TABLES:
                told = finding("missing-key/tables", allowed=allowed, header=rule.header)
            case _:
                told = finding("missing-key", allowed=allowed, key=rule.name, example=example(rule))
                told = told.spoiling(*left_open(entry.location, entry.schema.name, rule.name))
        place.report(told.following(entry.lacking(rule.name), *entry.kinds_behind()))


class KeysOfKind(Protocol):
    """The keys that an entry of some kind has beside those of every kind."""

    @property
    def needs(self) -> tuple[str, ...]:
        """Those that must be written."""

    @property
    def keys(self) -> tuple[str, ...]:
        """Those that may be written."""


def check_keys_of_kind(entry: Entry, kind: StrEnum, rows: Mapping[Any, KeysOfKind]) -> None:
    """Report keys that only other kinds have, and those that this kind lacks."""
    kinds_of = {
        key: [each for each, row in rows.items() if key in (*row.needs, *row.keys)] for key in entry.table
    }
    others = [key for key, kinds in kinds_of.items() if kinds and kind not in kinds]
    if len(others) == 1:
        key = others[0]
        entry.at(key).report("key-of-other-kind", key=key, kind=kind, kinds=kinds_of[key])
    elif others:
        own = dict.fromkeys((*rows[kind].needs, *rows[kind].keys))
        told = finding("key-of-other-kind/several", keys=others, kind=kind, own=own)
        entry.at("kind").report(told.spoiling(entry.lacking("kind")))
    if not others and entry.drafted is None:  # else it is the kind that may be wrong, or its part knows
        check_missing(entry, rows[kind].needs)


def _hole(field: Field) -> StitchHole | None:
    """A stitch hole: round, or a slit; None where it is faulty."""
    hole = entry_of("hole", field)
    if hole is None:
        return None
    if hole.has("round") == hole.has("slit"):
        key = "hole-round-or-slit" if hole.has("round") else "hole-round-or-slit/neither"
        hole.location.report(key, allowed=field.rule.allowed_in(hole.location.units))
        return None
    if hole.has("slit"):
        return SlitHole(hole.get("slit"), hole.get("slant"))
    if hole.has("slant"):
        hole.at("slant").report("slant-of-round")
    return RoundHole(hole.get("round"))


def _iron(field: Field) -> Iron | None:
    """A pricking iron; None where it is faulty."""
    iron = entry_of("iron", field)
    return iron.record(Iron) if iron is not None and iron.has("teeth") and iron.has("pitch") else None


def _round(field: Field) -> float | list[tuple[str, Field]]:
    """One radius for all corners, or a table by letter."""
    by_letter = isinstance(field.value, dict) or (isinstance(field.value, str) and "=" in field.value)
    return plain.read_table(field) if by_letter else plain.read_length(field)


_LENGTHS = (Kind.LENGTH, Kind.THICKNESS)
_LISTS = (
    Kind.ARC,
    Kind.LINES,
    Kind.MARKS,
    Kind.OUTLINES,
    Kind.WIDTHS,
    Kind.SKIVE,
    Kind.HEM,
    Kind.BINDING,
    Kind.PLACES,
    Kind.RUNS,
    Kind.MATCH,
    Kind.NAMES,
)

# How the value of each kind is read. Tables by name give pairs of a name and a field, lists of runs
# and matches give fields: what these mean hangs on other entries.
READERS: Mapping[Kind, Callable[[Field], Any]] = table(
    Kind,
    {
        Kind.FORMAT: lambda field: field.value,
        Kind.TEXT: lambda field: plain.read_text(field) or "",
        Kind.NAME: plain.read_name,
        Kind.CHOICE: plain.read_choice,
        Kind.FLAG: plain.read_flag,
        Kind.COUNT: plain.read_count,
        Kind.PERCENT: plain.read_number,
        Kind.ANGLE: plain.read_number,
        Kind.LENGTH: plain.read_length,
        Kind.THICKNESS: plain.read_length,
        Kind.SIZE: plain.read_pair,
        Kind.SLOT: plain.read_pair,
        Kind.POINT: plain.read_pair,
        Kind.POINTS: plain.read_points,
        Kind.CORNERS: plain.read_points,
        Kind.ROUND: _round,
        Kind.ARC: plain.read_table,
        Kind.LINES: plain.read_table,
        Kind.MARKS: plain.read_table,
        Kind.OUTLINES: plain.read_table,
        Kind.WIDTHS: plain.read_table,
        Kind.SKIVE: plain.read_table,
        Kind.HEM: plain.read_table,
        Kind.BINDING: plain.read_table,
        Kind.HOLE: _hole,
        Kind.IRON: _iron,
        Kind.SPOOL: special.read_spool,
        Kind.RUN: plain.read_text,
        Kind.RUNS: partial(plain.read_list, what="run"),
        Kind.MATCH: partial(plain.read_list, what="point"),
        Kind.NAMES: plain.read_names,
        Kind.PIECE: plain.read_text,
        Kind.MATE: plain.read_text,
        Kind.PART: plain.read_text,
        Kind.BOX: plain.read_box,
        Kind.RANGE: plain.read_pair,
        Kind.EASE: special.read_ease,
        Kind.ROW: special.read_row,
        Kind.PLACES: plain.read_table,
        Kind.PAPER: special.read_paper,
        Kind.FONT: special.read_font,
        Kind.THINGS: special.read_things,
        Kind.SHAPE: special.read_shape,
        Kind.TABLE: lambda field: field.value,
        Kind.TABLES: lambda field: field.value,
    },
)
