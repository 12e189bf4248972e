"""Examples: for every key of the project file one line that a maker could write.

In: a key. Out: `name = value` as TOML, a value that the key allows. A kind of value has one example for all
its keys but where the key's own words or range give a better one.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from handkit.kinds.rows import table
from handkit.read.schema.rules import Key, Kind

# What is likely of a length, in mm: the first that lies in a key's range, of what may be long or not.
_LONG = (150.0, 40.0, 900.0)
_SHORT = (12.0, 4.0, 0.8, 40.0)
_MAY_BE_LONG = 1000.0

_OF_KIND: Mapping[Kind, str] = table(
    Kind,
    {
        Kind.FORMAT: "1",
        Kind.TEXT: '"the stiffest part of the hide"',
        Kind.NAME: '"back"',
        Kind.CHOICE: "",
        Kind.FLAG: "true",
        Kind.COUNT: "",
        Kind.PERCENT: "20",
        Kind.ANGLE: "45",
        Kind.LENGTH: "",
        Kind.THICKNESS: '"6 oz"',
        Kind.SIZE: "[200, 270]",
        Kind.SLOT: "[25, 4]",
        Kind.POINT: "[15, 20]",
        Kind.POINTS: "[[15, 20], [45, 20], [45, 60]]",
        Kind.CORNERS: "[[0, 0], [90, 0], [80, 120], [10, 120]]",
        Kind.ROUND: "{ A = 12, B = 12 }",
        Kind.ARC: '{ "B-C" = 12 }',
        Kind.LINES: "{ divider = [[60, 0], [60, 120]] }",
        Kind.MARKS: "{ meet = [[[10, 0], [10, 4]]] }",
        Kind.OUTLINES: "{ awl = [[10, 5], [18, 5], [18, 120], [10, 120]] }",
        Kind.WIDTHS: '{ "A-B-C" = 4 }',
        Kind.SKIVE: '{ "A-B" = { width = 12, to = 1 } }',
        Kind.HEM: '{ "C-D" = { width = 15, turns = 2, turn_in = 8 } }',
        Kind.BINDING: '{ "A-B-C" = { width = 20, thickness = 0.5 } }',
        Kind.HOLE: "{ round = 1.6 }",
        Kind.IRON: "{ teeth = 6, pitch = 4 }",
        Kind.SPOOL: '"25 m"',
        Kind.RUN: '"pocket: D-A-B-C"',
        Kind.RUNS: '["pocket: D-A-B-C", "back"]',
        Kind.MATCH: '[["A", [0, 0]]]',
        Kind.NAMES: '["front", "back"]',
        Kind.PIECE: '"back"',
        Kind.MATE: '"lower snap"',
        Kind.PART: '"tool pocket"',
        Kind.BOX: "[22, 4, 150]",
        Kind.RANGE: "[800, 950]",
        Kind.EASE: '"5 %"',
        Kind.ROW: "[5, 12, 0]",
        Kind.PLACES: "{ front = [[20, 60], [60, 60]] }",
        Kind.PAPER: '"letter"',
        Kind.FONT: '"letters.ttf"',
        Kind.THINGS: '"things.toml"',
        Kind.SHAPE: '"things.svg#knife"',
        Kind.TABLE: "",
        Kind.TABLES: "",
    },
)

# Where the kind's own would mislead.
_OWN: Mapping[str, str] = MappingProxyType(
    {"title": '"Orchard pouch"', "fold": '"spine"', "stays": '"A"', "strap": '"25 mm"', "in": '"tool pocket"'}
)


def example(key: Key) -> str:
    """One line of a project file; of a table its header.

    >>> from handkit.read.schema.keys import TABLES
    >>> [example(TABLES["stitching"].keys[name]) for name in ("pitch", "back", "hand", "hole")]
    ['pitch = 4', 'back = 2', 'hand = "left"', 'hole = { round = 1.6 }']
    """
    if key.kind in (Kind.TABLE, Kind.TABLES):
        return key.header
    return f"{key.name} = {_value(key)}"


def _value(key: Key) -> str:
    match key.kind:
        case Kind.CHOICE:
            return f'"{next((each for each in key.choices if each != key.default), key.choices[0])}"'
        case Kind.COUNT:
            return f"{min(max(2, key.least), key.most):g}"
        case Kind.LENGTH:
            return f"{_likely(key):g}"
        case _:
            return _OWN.get(key.name, _OF_KIND[key.kind])


def _likely(key: Key) -> float:
    if isinstance(key.default, float) and key.default:
        return key.default
    likely = _LONG if key.most >= _MAY_BE_LONG and key.least > 0.2 else _SHORT
    fits = (each for each in likely if key.least <= each <= key.most)
    return next(fits, key.least)
