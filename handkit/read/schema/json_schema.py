"""The project file as a JSON Schema (draft 7), for editors that complete and check.

In: the table of keys. Out: JSON text. It is written from the table that checks the file, and forbids nothing
that the reader takes: what hangs on other entries, on the unit or on a file beside it is left to the reader.

Words: a *fragment* is the schema of one value.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from typing import Any

from handkit.kinds.rows import table
from handkit.read.schema.examples import example
from handkit.read.schema.keys import FORMAT, TABLES
from handkit.read.schema.rules import Key, Kind, TableSchema

_Fragment = dict[str, Any]

_TEXT: _Fragment = {"type": "string"}
_LENGTH: _Fragment = {"type": ["number", "string"]}
_PAIR: _Fragment = {"type": "array", "items": _LENGTH, "minItems": 2, "maxItems": 2}
_TRIPLE: _Fragment = {"type": "array", "items": _LENGTH, "minItems": 3, "maxItems": 3}
_POINTS: _Fragment = {"type": "array", "items": _PAIR}

# What a part or a common table may give in an entry's place is required by the reader, not here.
_ALWAYS = ("name", "format")
_GIVEN_ELSEWHERE = ("project", "things", "piece", "seam", "opening", "fitting", "item", "part")


def json_schema() -> str:
    """The schema, as text."""
    top = TABLES["project"]
    schema = {
        "$schema": "http://json-schema.org/draft-07/schema#",
        "title": "handkit project",
        **_of_table(top),
        "definitions": {_named(each): _of_table(each) for each in TABLES.values() if each is not top},
    }
    return json.dumps(schema, indent=1, ensure_ascii=False) + "\n"


def _of_table(schema: TableSchema) -> _Fragment:
    required = [key.name for key in schema.keys.values() if key.required]
    if schema.name in _GIVEN_ELSEWHERE:
        required = [name for name in required if name in _ALWAYS]
    return {
        "description": schema.why,
        "type": "object",
        "properties": {key.name: _of_key(key) for key in schema.keys.values()},
        "required": required,
        "additionalProperties": False,
    }


def _of_key(key: Key) -> _Fragment:
    left_out = f"; left out: {key.unless}" if key.unless else ""
    return {"description": f"{key.why}: {key.allowed}{left_out}. {example(key)}", **_FRAGMENTS[key.kind](key)}


def _named(schema: TableSchema) -> str:
    return schema.name.replace(" ", "_")


def _ref(name: str) -> _Fragment:
    return {"$ref": f"#/definitions/{_named(TABLES[name])}"}


def _any(*fragments: _Fragment) -> _Fragment:
    return {"anyOf": list(fragments)}


def _by_name(fragment: _Fragment) -> Callable[[Key], _Fragment]:
    return lambda _: {"type": "object", "additionalProperties": fragment}


def _always(fragment: _Fragment) -> Callable[[Key], _Fragment]:
    return lambda _: fragment


def _number(key: Key, kind: str = "number") -> _Fragment:
    return {"type": kind, "minimum": key.least, "maximum": key.most}


def _length(key: Key) -> _Fragment:
    """Its range hangs on the file's unit, its sign on nothing."""
    if key.least < 0:
        return _LENGTH
    sign = "exclusiveMinimum" if key.least > 0 else "minimum"
    return _any({"type": "number", sign: 0}, _TEXT)


def _list(fragment: _Fragment) -> Callable[[Key], _Fragment]:
    return lambda key: {"type": "array", "items": fragment, "minItems": key.few, "maxItems": key.many}


_FRAGMENTS: Mapping[Kind, Callable[[Key], _Fragment]] = table(
    Kind,
    {
        Kind.FORMAT: _always({"const": FORMAT}),
        Kind.TEXT: _always(_TEXT),
        Kind.NAME: _always({"type": "string", "minLength": 1}),
        Kind.CHOICE: lambda key: {"enum": [str(each) for each in key.written]},
        Kind.FLAG: _always({"type": "boolean"}),
        Kind.COUNT: lambda key: _number(key, "integer"),
        Kind.PERCENT: _number,
        Kind.ANGLE: _number,
        Kind.LENGTH: _length,
        Kind.THICKNESS: _length,
        Kind.SIZE: _always(_any(_PAIR, {"const": "arranged"})),
        Kind.SLOT: _always(_PAIR),
        Kind.POINT: _always(_PAIR),
        Kind.POINTS: _list(_PAIR),
        Kind.CORNERS: _list(_PAIR),
        Kind.ROUND: lambda key: _any(_length(key), _by_name(_LENGTH)(key)),
        Kind.ARC: _by_name(_LENGTH),
        Kind.LINES: _by_name(_any(_POINTS, _ref("fold"))),
        Kind.MARKS: lambda key: {
            "type": "object",
            "properties": {str(each): {"type": "array", "items": _POINTS} for each in key.written},
            "additionalProperties": False,
        },
        Kind.OUTLINES: _by_name(_POINTS),
        Kind.WIDTHS: _by_name(_LENGTH),
        Kind.SKIVE: _by_name(_ref("skived edge")),
        Kind.HEM: _by_name(_any(_LENGTH, _ref("hem"))),
        Kind.BINDING: _by_name(_any(_LENGTH, _ref("binding"))),
        Kind.HOLE: _always(_ref("hole")),
        Kind.IRON: _always(_ref("iron")),
        Kind.SPOOL: _always(_LENGTH),
        Kind.RUN: _always(_TEXT),
        Kind.RUNS: _list(_any(_TEXT, _ref("run"))),
        Kind.MATCH: _list({"type": "array", "items": _any(_TEXT, _PAIR)}),
        Kind.NAMES: _list(_TEXT),
        Kind.PIECE: _always(_TEXT),
        Kind.MATE: _always(_TEXT),
        Kind.PART: _always(_TEXT),
        Kind.BOX: _always(_TRIPLE),
        Kind.RANGE: _always(_PAIR),
        Kind.EASE: _length,
        Kind.ROW: _always(_TRIPLE),
        Kind.PLACES: _by_name(_POINTS),
        Kind.PAPER: _always(_TEXT),
        Kind.FONT: _always(_TEXT),
        Kind.THINGS: _always(_TEXT),
        Kind.SHAPE: lambda key: _any(_list(_PAIR)(key), _TEXT),
        Kind.TABLE: lambda key: _ref(key.name),
        Kind.TABLES: lambda key: {"type": "array", "items": _ref(key.name), "maxItems": key.many},
    },
)
