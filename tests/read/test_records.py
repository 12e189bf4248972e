"""Records that are made of a table's keys by their names: each key's reader gives what the field takes."""

from __future__ import annotations

import typing
from enum import StrEnum
from functools import partial
from types import NoneType, UnionType

import msgspec
import pytest

from handkit.paper import Layout
from handkit.read.entries.entry import READERS
from handkit.read.project import Fitting, Iron, Item, Opening, PageOptions, Part, Piece, Seam, Stitching
from handkit.read.schema.keys import TABLES
from handkit.read.schema.rules import Key, Kind

# Each record that `Entry.record` makes, its table, and the fields that are given to it by hand.
RECORDS = [
    (Fitting, "fitting", ("name", "kind", "at")),
    (Iron, "iron", ()),
    (Item, "item", ("name", "diameter", "length", "section", "thickness")),
    (Layout, "page", ()),
    (Opening, "opening", ("name", "kind", "cap", "through", "at", "places")),
    (PageOptions, "page", ("paper",)),
    (Part, "part", ("name", "kind", "on", "at")),
    (Piece, "piece", ("name", "circle", "thickness", "lines", "folds", "marks", "items", "at")),
    (Seam, "seam", ("name",)),
    (Stitching, "stitching", ("hole", "back", "start_back")),
    (Stitching, "seam", ("hole", "back", "start_back")),
]
# What a reader gives where its own annotation is wider than what it gives for these kinds.
GIVEN = {Kind.TEXT: str}


def members(hint: object) -> set[object]:
    return set(typing.get_args(hint)) if isinstance(hint, UnionType) else {hint}


def types_of(key: Key) -> set[object]:
    """What an entry gives for a key; a faulty value's None ends the reading in an error."""
    reader = READERS[key.kind]
    read = reader.func if isinstance(reader, partial) else reader
    found = members(GIVEN.get(key.kind) or typing.get_type_hints(read)["return"]) - {NoneType}
    if key.kind is Kind.CHOICE:
        found = {type(key.choices[0])}
    left_out = key.default is None and not key.required and not key.choices and key.kind is not Kind.NAMES
    return found | ({NoneType} if left_out else set())


@pytest.mark.parametrize(("record", "table", "by_hand"), RECORDS)
def test_a_key_gives_what_the_field_of_its_name_takes(
    record: type[msgspec.Struct], table: str, by_hand: tuple[str, ...]
) -> None:
    fields = {name: members(hint) for name, hint in typing.get_type_hints(record).items()}
    keys = {name: key for name, key in TABLES[table].keys.items() if name in fields and name not in by_hand}
    assert keys
    assert {name: types_of(key) for name, key in keys.items() if not types_of(key) <= fields[name]} == {}


def test_choices_are_members_of_one_enumeration_or_plain_words() -> None:
    keys = [key for table in TABLES.values() for key in table.keys.values() if key.choices]
    assert keys
    for key in keys:
        (kind,) = {type(choice) for choice in key.choices}
        assert kind is str or (issubclass(kind, StrEnum) and set(key.choices) == set(kind)), key.name
        assert key.default is None or key.default in key.choices, key.name
