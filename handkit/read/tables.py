"""Tables: the file's [tables] and [[lists of tables]] as entries.

In: the top of the file. Out: an entry for each table, which a message calls by its name:
piece "front", or piece 3 where it has none.
"""

from __future__ import annotations

from handkit.errors import ProjectError
from handkit.read.entry import Entry, entry_of
from handkit.read.keys import SECTIONS
from handkit.read.shown import quoted, shown
from handkit.read.spot import Fault, Spot
from handkit.read.values import composed


def table(top: Entry, key: str) -> Entry:
    """The table of a key; an empty one where it isn't written or is no table."""
    spot, value = top.at(key), top.table.get(key, {})
    if isinstance(value, list) and value and all(isinstance(each, dict) for each in value):
        fault = Fault("double-brackets", f"[[{key}]]", f"[{key}]", f"write [{key}] once, in single brackets")
        spot.refuse(fault)
        value, spot = value[0], Spot(spot.reading, (key, 0), key)
    entry = entry_of(key, value, spot, rule=top.rule(key))
    return entry or Entry(SECTIONS[key], {}, spot)


def tables(top: Entry, key: str) -> list[Entry]:
    """The tables of a key in order.

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
    entries = [entry_of(key, each, _spot(spot, key, each, i), rule=rule) for i, each in enumerate(value)]
    return [entry for entry in entries if entry is not None]


def _spot(spot: Spot, key: str, value: object, index: int) -> Spot:
    """The place of one table of several, by its name."""
    name = value.get("name") if isinstance(value, dict) else None
    said = (
        f"{key} {quoted(composed(name))}" if isinstance(name, str) and name.strip() else f"{key} {index + 1}"
    )
    path = (*spot.path, index) if (*spot.path, index) in spot.reading.lines else spot.path
    return Spot(spot.reading, path, said)
