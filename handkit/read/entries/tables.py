"""Tables: the file's [tables] and [[lists of tables]] as entries.

In: the top of the file. Out: an entry for each table, which a message calls by its name:
piece "front", or piece 3 where it has none.
"""

from __future__ import annotations

from collections.abc import Mapping

from handkit.errors import ProjectError
from handkit.quoting import quoted, shown
from handkit.read.entries.entry import Entry, entry_of
from handkit.read.parts.promised import Given
from handkit.read.schema.keys import SECTIONS
from handkit.read.values.spot import Fault, Reading, Spot
from handkit.read.values.values import composed


def table(top: Entry, key: str) -> Entry:
    """The table of a key; an empty one where it isn't written or is no table."""
    spot, value = top.at(key), top.table.get(key, {})
    if isinstance(value, list) and value and all(isinstance(each, dict) for each in value):
        fault = Fault("double-brackets", f"[[{key}]]", f"[{key}]", f"write [{key}] once, in single brackets")
        spot.refuse(fault)
        value, spot = value[0], Spot(spot.reading, (key, 0), key)
    entry = entry_of(key, value, spot, rule=top.rule(key))
    return entry or Entry(SECTIONS[key], {}, spot)


_NONE: Mapping[str, Given] = {}


def tables(top: Entry, key: str, given: Mapping[str, Given] = _NONE) -> list[Entry]:
    """The tables of a key in order, with those that parts give, where the part stands.

    A table of a given one's name adds to it and goes before it.

    Raises ProjectError where there are more than may be: what then is lacking would mislead.
    """
    value, spot, rule = top.table.get(key, []), top.at(key), top.rule(key)
    if isinstance(value, dict):
        spot.refuse(
            Fault("single-brackets", f"[{key}]", rule.header, f"write {rule.header}, in double brackets")
        )
        value = [value]
    if not isinstance(value, list):
        spot.refuse(Fault("not-a-list-of-tables", shown(value), rule.allowed, f"write {rule.header}"))
        return []
    if len(value) > rule.many:
        fault = Fault(
            "too-many", f"{len(value)} of {rule.header}", f"at most {rule.many}", "split the project"
        )
        spot.refuse(fault)
        raise ProjectError(top.spot.reading.findings)
    own = [_added(each, given) for each in value]
    found = [entry_of(key, each, _spot(spot, key, value[i], i), rule=rule) for i, each in enumerate(own)]
    entries = [entry for entry in found if entry is not None]
    return _in_order(entries, key, given, spot.reading) if given else entries


def _added(value: object, given: Mapping[str, Given]) -> object:
    """A table of the file with what a part gives for it."""
    name = value.get("name") if isinstance(value, dict) else None
    found = given.get(composed(name)) if isinstance(name, str) else None
    return {**found.table, **value} if found and isinstance(value, dict) else value


def _in_order(entries: list[Entry], key: str, given: Mapping[str, Given], reading: Reading) -> list[Entry]:
    """The file's tables and those only given, by line; what is given stands where its part does."""
    written = {entry.name() for entry in entries}
    for name, found in given.items():
        if name not in written and found.whole:
            spot = Spot(reading, found.path, f"{key} {quoted(name)}")
            entries = [*entries, Entry(SECTIONS[key], found.table, spot)]
    places = {name: place for place, name in enumerate(given)}

    def place(entry: Entry) -> tuple[int, int]:
        name = entry.name() or ""
        found = given.get(name)
        if found is None:
            return entry.spot.where().line, 0
        return found.part.source.line, places[name]

    return sorted(entries, key=place)


def _spot(spot: Spot, key: str, value: object, index: int) -> Spot:
    """The place of one table of several, by its name."""
    name = value.get("name") if isinstance(value, dict) else None
    said = (
        f"{key} {quoted(composed(name))}" if isinstance(name, str) and name.strip() else f"{key} {index + 1}"
    )
    path = (*spot.path, index) if (*spot.path, index) in spot.reading.lines else spot.path
    return Spot(spot.reading, path, said)
