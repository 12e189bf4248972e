"""Stray keys: a key that a table does not have, and what was meant by it.

In: the key, the table as written, its schema and where it stands. Out: the finding.

Words: a key is *beside* another where the table has what was meant by it as well; *unasked* where nothing
like it is wanted.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from handkit.findings import Finding, finding, nearest
from handkit.read.file.project_file import HELD, Location, key_words, keys_like, likest, names_of
from handkit.read.schema.keys import MEANT_KEYS, MEANT_KIND, UNASKED_KEYS, schemas_with
from handkit.read.schema.rules import TableSchema
from handkit.wording.quoting import quoted, shown, words


def stray(key: str, table: Mapping[str, object], schema: TableSchema, location: Location) -> Finding:
    """The finding about a key that the schema does not have."""
    known, value = schema.keys, table[key]
    near = nearest(key, tuple(known))
    if near and known[near].header.startswith("[") and isinstance(value, dict | list):
        written = f"[{key}]" if isinstance(value, dict) else f"[[{key}]]"
        headers = [known[each].header for each in likest(key, known) if known[each].header]
        told = finding("unknown-key/table", written=written, known=headers, header=known[near].header)
        return told.spoiling(lacking(location, near), names_of(near))
    if near:
        told = finding("unknown-key/near", key=key, **keys_like(key, known), near=near)
        open_too = left_open(location, schema.name, near)
        return told.spoiling(lacking(location, near), names_of(near), *open_too)
    return _elsewhere(key, table, schema, location)


def _elsewhere(key: str, table: Mapping[str, object], schema: TableSchema, location: Location) -> Finding:
    """The same of a key that is no slip of the pen: another is meant, it has its place elsewhere, or it is of
    no use."""
    if unasked := UNASKED_KEYS.get((schema.name, key), ""):
        return finding("misplaced-key/unasked", key=key, why=unasked)
    if meant := _meant(key, table, schema):
        return _meant_by(key, meant, table, location)
    if tables := {each.name: each.header for each in schemas_with(key)}:
        told = finding("misplaced-key", key=key, words=key_words(key), tables=[*tables.values()])
        return told.once(*(f"{each}: {key}" for each in tables))
    told = finding("unknown-key", key=key, **keys_like(key, schema.keys))
    value = table[key]
    is_stock = isinstance(value, dict) and "thickness" in value  # it was meant for the material's
    return told.spoiling("material: thickness") if is_stock else told


def _meant_by(key: str, meant: str, table: Mapping[str, object], location: Location) -> Finding:
    """What to write for a key, or where that is there already, that it is to go."""
    meant_key = meant.partition(" ")[0].rstrip(",")
    name = meant_key.strip("[]")
    if name in table and meant_key == f"[{name}]":
        return finding("misplaced-key/beside-table", key=key, meant=meant_key)
    if name in table and meant_key == name:
        return finding("misplaced-key/beside-key", key=key, meant=meant_key)
    told = finding("misplaced-key/meant", key=key, meant=meant, write=_with_sizes(meant, table))
    told = told.once(f"{location.words}: {meant}")
    return told.spoiling(lacking(location, meant_key), names_of(name), f"{name}: thickness")


_OUTLINES = ("rectangle", "points", "copy")  # of a piece, that have corners


def _meant(key: str, table: Mapping[str, object], schema: TableSchema) -> str:
    """What is meant by a key that a table does not have; of a material the kind that its value names."""
    if (schema.name, key) == ("piece", "radius"):
        return "circle = the diameter" if table.keys().isdisjoint(_OUTLINES) else "round = the radius"
    value, meant = table[key], MEANT_KEYS.get((schema.name, key), "")
    if meant != MEANT_KIND:
        return meant
    rule = schema.keys["kind"]
    word = rule.synonyms.get(value.lower(), value) if isinstance(value, str) else ""
    near = [each for each in rule.written if word in each.split()] or [nearest(word, rule.written)]
    return f"kind = {words(map(quoted, near if near[0] else rule.written))}"


_SIZES = r"\b(?:width|height|thickness|length)\b(?=[,\]])|\bthe (?:diameter|radius)\b"


def _with_sizes(meant: str, table: Mapping[str, object]) -> str:
    """What is meant by a key, with the sizes that its table tells."""

    def told(word: re.Match[str]) -> str:
        value, radius = table.get(word[0].removeprefix("the ")), table.get("radius")
        if word[0] == "the diameter" and isinstance(radius, int | float):
            return shown(2 * radius)
        return shown(value) if isinstance(value, int | float | str) else word[0]

    return re.sub(_SIZES, told, meant)


def lacking(location: Location, key: str) -> str:
    """That a key is not written in an entry, as a finding that says why names it."""
    return f"{location.words}: {key}"


def left_open(location: Location, schema: str, key: str) -> tuple[str, ...]:
    """What can't be judged of other entries where one of a schema lacks a key."""
    return {"name": (names_of(schema),), "in": (HELD,), "kind": (lacking(location, key),)}.get(key, ())
