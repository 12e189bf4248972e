"""Entries: a table of the project file, its values read by the rules of its keys.

In: a table as tomllib has it, and where it stands. Out: checked values, asked for by key. Making
an entry tells the keys that don't belong into it and those that are missing; asking for a key
tells what is wrong with its value. A key that is left out has its default.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from enum import StrEnum
from typing import TypeVar

import msgspec

from handkit.findings import Source, nearest
from handkit.quoting import quoted, shown, words
from handkit.read.project import Point
from handkit.read.schema.keys import SECTIONS, sections_with
from handkit.read.schema.rules import Key, Kind, Section
from handkit.read.values import values
from handkit.read.values.spot import Fault, Spot, key_words

Choice = TypeVar("Choice", bound=StrEnum)


class Entry(msgspec.Struct, frozen=True):
    """A table of the file. Its keys are asked for by the method that fits their kind."""

    section: Section
    table: Mapping[str, object]
    spot: Spot

    def has(self, key: str) -> bool:
        """Whether the key is written."""
        return key in self.table

    def first_of(self, *keys: str) -> str | None:
        """The first of these keys that is written."""
        return next((key for key in keys if key in self.table), None)

    def rule(self, key: str) -> Key:
        """What may be written for the key."""
        return self.section.keys[key]

    def at(self, key: str) -> Spot:
        """Where the key is written, or the table where it isn't."""
        return self.spot.down(key)

    def value(self, key: str) -> object:
        """The value as written, or the default."""
        return self.table.get(key, self.rule(key).default)

    def source(self, *, words: str = "") -> Source:
        """The entry as later steps know it."""
        return self.spot.source(list(self.table), words=words)

    def length(self, key: str) -> float:
        """Mm. NaN where it is faulty, or left out without a default."""
        if not self.has(key):  # a default is in mm, whatever the file's unit
            default = self.rule(key).default
            return float(default) if isinstance(default, int | float) else values.FAULTY
        return values.read_length(self.table[key], self.at(key), self.rule(key))

    def optional_length(self, key: str) -> float | None:
        """Mm, or None where it is left out."""
        return self.length(key) if self.has(key) else None

    def number(self, key: str) -> float:
        """A plain number, NaN where it is faulty."""
        return values.read_number(self.value(key), self.at(key), self.rule(key))

    def count(self, key: str) -> int:
        """A whole number."""
        return values.read_count(self.value(key), self.at(key), self.rule(key))

    def flag(self, key: str) -> bool:
        """True or false."""
        return values.read_flag(self.value(key), self.at(key), self.rule(key))

    def text(self, key: str) -> str:
        """A line of text."""
        return values.read_text(self.value(key), self.at(key), self.rule(key)) or ""

    def optional_text(self, key: str) -> str | None:
        """A line of text, None where it is left out or faulty."""
        return values.read_text(self.table[key], self.at(key), self.rule(key)) if self.has(key) else None

    def name(self) -> str | None:
        """What the entry is called, None where it is missing or faulty."""
        if not self.has("name"):
            return None
        return values.read_name(self.table["name"], self.at("name"), self.rule("name"))

    def choice(self, key: str, choices: type[Choice]) -> Choice:
        """One of the words of `choices`; its first where it is faulty or missing."""
        if not self.has(key) and self.rule(key).default is None:
            return next(iter(choices))
        word = values.read_choice(self.value(key), self.at(key), self.rule(key))
        return choices(word) if word is not None else next(iter(choices))

    def pair(self, key: str) -> Point | None:
        """Two lengths in mm; None where the key is left out or faulty."""
        return values.read_pair(self.table[key], self.at(key), self.rule(key)) if self.has(key) else None

    def points(self, key: str) -> tuple[Point, ...] | None:
        """Points in mm; None where the key is left out or faulty."""
        return values.read_points(self.table[key], self.at(key), self.rule(key)) if self.has(key) else None

    def listed(self, key: str, *, what: str = "entry") -> list[tuple[object, Spot]]:
        """The entries of a list with their spots; none where the key is left out or faulty."""
        if not self.has(key):
            return []
        return values.read_list(self.table[key], self.at(key), self.rule(key), what=what) or []

    def texts(self, key: str) -> list[tuple[str, Spot]]:
        """The texts of a list with their spots, leaving out the faulty."""
        texts: list[tuple[str, Spot]] = []
        for value, spot in self.listed(key):
            if isinstance(value, str):
                texts.append((values.composed(value), spot))
            else:
                spot.refuse(Fault("not-a-text", shown(value), "text in quotes", "put it in quotes"))
        return texts

    def items(self, key: str) -> list[tuple[str, object, Spot]]:
        """The keys and values of a table with their spots; none where it is left out or faulty."""
        if not self.has(key):
            return []
        return values.read_table(self.table[key], self.at(key), self.rule(key)) or []


def entry_of(section: str, value: object, spot: Spot, *, rule: Key | None = None) -> Entry | None:
    """A table as an entry of a section, its keys checked. None where it is no table.

    `rule` is that of the key the table is the value of, for what is allowed.
    """
    known = SECTIONS[section]
    if not isinstance(value, dict):
        allowed = rule.allowed if rule else known.header
        spot.refuse(Fault("not-a-table", shown(value), allowed, f"write {known.header}"))
        return None
    entry = Entry(known, value, spot)
    _tell_unknown_keys(entry)
    tell_missing(entry, (key.name for key in known.keys.values() if key.required))
    return entry


def tell_missing(entry: Entry, keys: Iterable[str]) -> None:
    """Tell the keys of these that aren't written."""
    for name in keys:
        if not entry.has(name):
            rule = entry.rule(name)
            code = "format-missing" if rule.kind is Kind.FORMAT else "missing-key"
            entry.spot.down(name).refuse(Fault(code, "nothing", rule.allowed, _how_to_add(rule)))


def _how_to_add(rule: Key) -> str:
    """What to write for a key that is missing."""
    if rule.kind is Kind.FORMAT:
        return f"write {rule.name} = {rule.allowed} at the top of the file"
    return f"add a {rule.header}" if rule.kind is Kind.TABLES else f"add {rule.name} = …"


def _tell_unknown_keys(entry: Entry) -> None:
    for key in entry.table:
        if key in entry.section.keys:
            continue
        elsewhere = [section.header for section in sections_with(key)]
        known = list(entry.section.keys)
        near = nearest(key, known)
        allowed = ", ".join(known)
        found = f"the key {quoted(key)}"
        if near:
            entry.at(key).refuse(Fault("unknown-key", found, allowed, f"write {near}"))
        elif elsewhere:
            remedy = f"move it: {key_words(key)} belongs to {words(elsewhere)}"
            entry.at(key).refuse(Fault("misplaced-key", found, allowed, remedy))
        else:
            entry.at(key).refuse(Fault("unknown-key", found, allowed, "take it out"))
