"""Tables: the file's [tables] and [[lists of tables]] as entries.

In: the top of the file, and the tables that parts expand to. Out: an entry for each table, which a
message calls by its name: piece "front", or piece 3 where it has none.
"""

from __future__ import annotations

import pathlib
from collections.abc import Iterable, Mapping
from typing import Any

from handkit.errors import ProjectError
from handkit.findings import finding, nearest
from handkit.read.entries.entry import Entry, check_keys, entry_of
from handkit.read.file.load import loaded
from handkit.read.file.project_file import Location, ProjectFile, names_of
from handkit.read.parts.expansion import DraftedTable
from handkit.read.project import ARRANGED, PartKind
from handkit.read.schema.keys import FORMAT, TABLES
from handkit.read.values.field import Field
from handkit.read.values.plain import composed
from handkit.units import LENGTH_UNITS
from handkit.wording.quoting import quoted

_NONE: Mapping[str, DraftedTable] = {}

# What a file can't say of an entry that a part drafts.
SHAPES: Mapping[str, tuple[str, ...]] = {
    "piece": (
        "rectangle", "points", "circle", "copy", "mirrored",
        "on", "at", "turn", "turned_over", "behind", "flat",
    ),
    "seam": ("runs",),
    "opening": ("kind", "through", "at", "row", "places"),
    "fitting": ("kind", "on", "fold", "piece", "through", "holes", "seams", "at"),
}  # fmt: skip


def top_of(schema: str, text: str, *, file: str, folder: pathlib.Path) -> Entry:
    """The top of a file of this schema, its keys checked. Raises ProjectError where it is no TOML, or of
    another format: what its other keys say would mislead."""
    source = loaded(text, file=file)
    unit = source.values.get("unit", TABLES[schema].keys["unit"].default)
    known = unit if isinstance(unit, str) and unit in LENGTH_UNITS else ""  # else told with the other keys
    top = Entry(TABLES[schema], source.values, Location(ProjectFile(file, folder, known, source.places)))
    check_keys(top)
    field = top.field("format")  # a missing one is told with the other keys
    if field is not None and not (type(field.value) is int and field.value == FORMAT):
        top.location.file.findings.clear()
        field.reject("format-unknown")
        raise ProjectError(top.location.file.findings)
    top.get("unit")  # for its faults
    return top


def table(top: Entry, key: str) -> Entry:
    """The table of a key; an empty one where it isn't written or is no table."""
    field = Field(top.table.get(key, {}), top.schema.keys[key], top.at(key))
    value = field.value
    if isinstance(value, list) and value and all(isinstance(each, dict) for each in value):
        field.reject("double-brackets", name=key)
        field = Field(value[0], field.rule, Location(top.location.file, (key, 0), key))
    if not isinstance(field.value, dict):
        header, known = TABLES[key].header, TABLES[key].keys
        example = " and ".join(f"{name} = …" for name in [*known][:2])
        told = finding("not-a-table/key", value=field.value, header=header, example=example)
        field.location.report(told.spoiling(*(f"{key}: {name}" for name in known)))
        return Entry(TABLES[key], {}, field.location)
    return entry_of(key, field) or Entry(TABLES[key], {}, field.location)


def tables(
    top: Entry, key: str, drafted: Mapping[str, DraftedTable] = _NONE, *, common: Entry | None = None
) -> list[Entry]:
    """The tables of a key in order, with those that parts draft, where the part stands.

    A table of a drafted one's name adds to it and goes before it; see `check_shapes`.

    Raises ProjectError where there are more than may be: what then is lacking would mislead.
    """
    field = Field(top.table.get(key, []), top.schema.keys[key], top.at(key))
    listed, header, most = field.value, field.rule.header, field.rule.many
    if isinstance(listed, dict) and (names := _named(listed, field)):
        _report_named(top.at(key), key, names[0], header)
        return []
    if isinstance(listed, dict):
        field.reject("single-brackets", name=key, header=header)
        listed = [listed]
    if not isinstance(listed, list):
        field.reject("not-a-list-of-tables", header=header)
        return []
    if len(listed) > most:
        field.reject("too-many/tables", count=len(listed), header=header, most=most)
        raise ProjectError(top.location.file.findings)
    for number, each in enumerate(listed):
        for name in (named := _named(each, field) if isinstance(each, dict) else []):
            _report_named(Location(top.location.file, (key, number, name), key), key, name, header)
        if named:
            own = {known: value for known, value in each.items() if known not in named}
            listed = [*listed[:number], own, *listed[number + 1 :]]
    entries: list[Entry | None] = []
    spare = {name: each for name, each in drafted.items() if name not in {_name(value) for value in listed}}
    for i, each in enumerate(listed):
        place = _location(field, key, each, i)
        value = each if _name(each) in drafted else _as_meant(each, key, spare, place)
        found = drafted.get(_name(value) or "")
        added = Field({**found.table, **value} if found else value, field.rule, place)
        entries.append(entry_of(key, added, common=common, drafted=found))
    return _in_order([entry for entry in entries if entry is not None], top, key, drafted, common)


def _as_meant(value: Any, key: str, spare: Mapping[str, DraftedTable], place: Location) -> Any:
    """A seam or an opening without what makes one, that is nearly called like one a part drafts, is told
    and read as that one, so that nothing more is told of it. Pieces are told by their outline."""
    needed = [name for name, rule in TABLES[key].keys.items() if rule.required and name != "name"]
    near = nearest(_name(value) or "", tuple(spare)) if needed and key != "piece" else ""
    if not near or not isinstance(value, dict) or any(name in value for name in SHAPES[key]):
        return value
    place.report("missing-key/drafted", needed=needed, near=near, part=spare[near].part.name)
    return {**value, "name": near}


def _name(value: object) -> str | None:
    """The name of a table, before anything of it is checked."""
    name = value.get("name") if isinstance(value, dict) else None
    return composed(name) if isinstance(name, str) else None


def _location(field: Field, key: str, value: object, index: int) -> Location:
    """The place of one table of several, by its name."""
    name = _name(value)
    words = f"{key} {quoted(name)}" if name and name.strip() else f"{key} {index + 1}"
    file, path = field.location.file, (*field.location.path, index)
    return Location(file, path if path in file.places else field.location.path, words)


def _in_order(
    entries: list[Entry], top: Entry, key: str, drafted: Mapping[str, DraftedTable], common: Entry | None
) -> list[Entry]:
    """The file's tables and those only drafted, by line; what is drafted stands where its part does."""
    written = {entry.name() for entry in entries}
    for name, found in drafted.items():
        if name not in written and found.whole:
            place = Location(top.location.file, found.path, f"{key} {quoted(name)}")
            entries.append(Entry(TABLES[key], found.table, place, common, found))
    order = {name: i for i, name in enumerate(drafted)}

    def place_of(entry: Entry) -> tuple[int, int]:
        if entry.drafted:
            return entry.drafted.part.source.line, order[entry.drafted.table["name"]]
        return entry.location.where().line, 0

    return sorted(entries, key=place_of) if drafted else entries


def check_shapes(entries: Iterable[Entry]) -> None:
    """Report what the file says of a drafted entry that only its part can say."""
    for entry in entries:
        if entry.drafted is None:
            continue
        drafted, arranged = entry.drafted.table, entry.table.get("rectangle") == ARRANGED
        placeholder = entry.drafted.placeholder
        may = {"rectangle"} if arranged and placeholder is not None and placeholder.arranges else set()
        keys = [key for key in SHAPES[entry.schema.name] if entry.table.get(key) != drafted.get(key)]
        keys = [key for key in keys if key not in may]
        if keys:
            part = entry.drafted.part
            told = finding("name-promised/key", keys=keys, part=part.name)
            if arranged and keys[0] == "rectangle":
                rolled = part.kind is PartKind.ROLL and drafted["name"] == part.name
                key = "name-promised/arranged-roll" if rolled else "name-promised/arranged"
                told = finding(key, part=part.name)
            entry.at(keys[0]).report(told.spoiling(*(f"{entry.location.words}: {key}" for key in keys)))


def copies_in(value: object) -> dict[str, str | None]:
    """The names in a list of tables, and what each is a copy of, before anything of it is checked."""
    copies: dict[str, str | None] = {}
    for each in value if isinstance(value, list) else [value]:
        name, copied = _name(each), each.get("copy") if isinstance(each, dict) else None
        if name is not None:
            copies[name] = composed(copied) if isinstance(copied, str) else copies.get(name)
    return copies


def _named(table: Mapping[str, Any], field: Field) -> list[str]:
    """Names that stand in headers, [[seam.rim]] for [[seam]]: keys that nothing has, with tables of what
    the entry itself has."""
    known = TABLES[field.rule.name].keys
    found = []
    for key, value in table.items():
        each = value[0] if isinstance(value, list) and value else value
        if key not in known and isinstance(each, dict) and (not each or set(each) & set(known)):
            found.append(key)
    return found


def _report_named(at: Location, key: str, name: str, header: str) -> None:
    told = finding("single-brackets/named", written=f"[{key}.{name}]", header=header, name=name)
    at.report(told.spoiling(names_of(key)))
