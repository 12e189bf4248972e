"""The unit: a file that says none, and whose sizes are those of inches or cm.

In: the file's top, before anything of it is checked. Out: one warning, with what made it suspect; where the
file has an error besides, that is told in its place, for the error comes of it.

Nothing speaks of inches where a thing or a piece is longer than anything is in inches (`LONGEST`). Else one
of these does: sizes that are small all over; things of which none is as long as a finger; a piece too narrow
for a row of holes; a pitch, an inset or a thickness that no iron, awl or hide has in mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import msgspec

from handkit.findings import EVERYTHING, finding
from handkit.read.entries.entry import Entry
from handkit.read.file.lines import KeyPath
from handkit.read.file.project_file import Location
from handkit.read.values.lengths import plain_number
from handkit.units import LENGTH_UNITS
from handkit.wording.quoting import cut, shown

# In the file's own numbers, all our own: so long is what is made by hand in inches (a strap over the
# shoulder); nothing in mm is so small all over, and several pieces or things together are larger still;
# nothing that is carried is shorter; no piece is cut narrower.
LONGEST, SMALLEST, SMALLEST_OF_SEVERAL, SHORTEST, NARROWEST = 72.0, 20.0, 30.0, 20.0, 5.0
# Below these no pitch, inset or thickness is in mm: holes would touch, and the thinnest canvas is thicker.
_LEAST = {"pitch": 0.6, "inset": 0.6, "thickness": 0.25}
# Several: as many numbers as two rectangles have.
_SEVERAL = 4
_MOST_TOLD = 3


class _Size(msgspec.Struct, frozen=True):
    """A size in plain numbers: where it stands, its key and value, its extents (one length, or each way)."""

    path: KeyPath
    key: str
    value: Any
    extents: tuple[float, ...]


def check_unit(top: Entry) -> None:
    """Report a unit that is missing where sizes are those of another than mm."""
    if top.has("unit"):
        return
    pieces = list(_sizes(top, "piece", ("rectangle", "points", "circle")))
    things = list(_sizes(top, "item", ("size", "diameter", "length")))
    extents = [abs(extent) for size in (*pieces, *things) for extent in size.extents]
    largest = max(extents, default=0.0)
    if len(extents) < 2 or not 0 < largest < LONGEST:
        return
    if facts := _facts(top, pieces, things, largest, len(extents)):
        where = msgspec.structs.replace(Location(top.location.file, facts[0].path).where(), key="unit")
        told = dict.fromkeys(cut(f"{fact.key} = {_as_written(fact.value)}") for fact in facts)
        doubt = finding(
            "unit-forgotten",
            where,
            facts=tuple(told)[:_MOST_TOLD],
            largest=largest,
            units=tuple(LENGTH_UNITS),
        )
        top.location.file.report(doubt.spoiling(EVERYTHING))


def _as_written(value: Any) -> str:
    """A value as a file has it: some of its numbers may stand in quotes.

    >>> _as_written([[0, 0], ["4", 2.5]])
    '[[0, 0], ["4", 2.5]]'
    """
    return f"[{', '.join(map(_as_written, value))}]" if isinstance(value, list) else shown(value)


def _facts(
    top: Entry, pieces: Sequence[_Size], things: Sequence[_Size], largest: float, count: int
) -> list[_Size]:
    """What speaks of inches, the plainest first."""
    facts = [
        _Size(path, str(path[-1]), value, (value,))
        for path, value in _plain(top.table, ())
        if path[0] != "item" and 0 < value < _LEAST.get(str(path[-1]), 0.0)
    ]
    facts += [piece for piece in pieces if 0 < min(piece.extents) < NARROWEST]
    if things and max(extent for thing in things for extent in thing.extents) < SHORTEST:
        facts += things
    if largest < (SMALLEST_OF_SEVERAL if count >= _SEVERAL else SMALLEST):
        facts += sorted((*pieces, *things), key=lambda size: -max(size.extents))
    return facts


def _sizes(top: Entry, schema: str, keys: Sequence[str]) -> Iterator[_Size]:
    """The sizes of tables of a schema that are plain numbers; text has its own unit."""
    listed = top.table.get(schema)
    for number, each in enumerate(listed if isinstance(listed, list) else []):
        for key in keys:
            value = each.get(key) if isinstance(each, Mapping) else None
            extents = _extents(value)
            if extents:
                yield _Size((schema, number, key), key, value, extents)


def _extents(value: object) -> tuple[float, ...]:
    """How far a value of plain numbers reaches each way: itself, its numbers, or the box round its points."""
    if (alone := _plain_number(value)) is not None:
        return (alone,)
    if not isinstance(value, list) or not value:
        return ()
    if numbers := _all_plain(value):
        return numbers
    points = [_all_plain(each) for each in value if isinstance(each, list) and len(each) == 2]
    if len(points) < len(value) or not all(points):
        return ()
    return tuple(max(along) - min(along) for along in zip(*points, strict=True))


def _all_plain(values: Sequence[object]) -> tuple[float, ...]:
    """The plain numbers of a list that has no others; else none."""
    numbers = [number for number in map(_plain_number, values) if number is not None]
    return tuple(numbers) if len(numbers) == len(values) else ()


def _plain(table: Mapping[str, Any], path: KeyPath) -> Iterator[tuple[Any, float]]:
    """All plain numbers of a table and of what is in it, with their paths."""
    for key, value in table.items():
        if isinstance(value, Mapping):
            yield from _plain(value, (*path, key))
        elif isinstance(value, list):
            for number, each in enumerate(value):
                if isinstance(each, Mapping):
                    yield from _plain(each, (*path, key, number))
        elif (plain := _plain_number(value)) is not None:
            yield (*path, key), plain


def _plain_number(value: object) -> float | None:
    """A number that is in the file's unit, in quotes or not; None of all else."""
    if isinstance(value, str):
        return plain_number(value)
    return float(value) if isinstance(value, int | float) and not isinstance(value, bool) else None
