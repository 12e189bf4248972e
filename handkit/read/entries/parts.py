"""Parts: every [[part]] of the project file: what holds items.

In: the entries. Out: `Part`s in the file's order, with the settings of their kinds. What they stand
for is written out by `parts/expansion.py`.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import msgspec

from handkit.findings import finding
from handkit.kinds.edged_tools import tells_of_an_edge
from handkit.read.checks.whole_file import check_names
from handkit.read.entries.entry import Entry, check_keys_of_kind
from handkit.read.file.lines import KeyPath
from handkit.read.file.project_file import HELD, ProjectFile, names_of
from handkit.read.parts.part_kinds import KINDS
from handkit.read.project import Item, Part, PartKind, Piece
from handkit.read.schema.rules import Kind

# The others are fields of a part.
_SETTINGS = (Kind.LENGTH, Kind.FLAG, Kind.CHOICE, Kind.NAMES, Kind.COUNT, Kind.RANGE, Kind.PIECE)


def read_parts(entries: Sequence[Entry]) -> dict[KeyPath, Part]:
    """All parts whose name and kind are known, by their paths in the file."""
    check_names(entries, "name-taken/part")
    parts = ((entry.location.path, _part(entry)) for entry in entries)
    return {path: part for path, part in parts if part is not None}


def _part(entry: Entry) -> Part | None:
    """One part; None where its name or kind is faulty, which is reported."""
    kind: PartKind = entry.get("kind")
    name = entry.name()
    if entry.table.get("kind") != kind or name is None:
        return None
    row = KINDS[kind]
    check_keys_of_kind(entry, kind, KINDS)
    entry = msgspec.structs.replace(entry, schema=entry.schema.with_words(row.words))
    keys = [
        key for key in (*row.needs, *row.keys) if key != row.base and entry.schema.keys[key].kind in _SETTINGS
    ]
    settings = ((key, entry.get(key)) for key in keys)
    return entry.record(
        Part,
        source=entry.source(),
        name=name,
        kind=kind,
        on=entry.get(row.base) if row.base else None,
        at=entry.get("at") or (0.0, 0.0),
        turn_degrees=entry.get("turn"),
        unplaced=not entry.has("at"),
        settings=tuple((key, value) for key, value in settings if value is not None),
    )


def check_items(parts: Sequence[Part], items: Sequence[Item], file: ProjectFile) -> None:
    """Report parts that hold too few items, or too many, handles of what is no blade in a sheath, and edges
    that lie bare in what has no welt."""
    kinds = {part.name: part.kind for part in reversed(parts)}
    for item in (item for item in items if item.handle is not None and item.held_by in kinds):
        if not KINDS[kinds[item.held_by]].handles:
            file.report(finding("item-handle", item.source.at("handle"), part=item.held_by))
    for item in items:
        kind = kinds.get(item.held_by)
        if kind is not None and not KINDS[kind].handles and item.handle is None:
            _check_edge(item, kind, file)
    for part in parts:
        few, many = KINDS[part.kind].items
        count = sum(item.held_by == part.name for item in items)
        where = part.source.at()
        if count < few:
            told = finding("part-without-items", where, least=few, part=part.name)
            file.report(told.following(HELD, names_of("item")))
        elif count > many:
            message = "part-with-items" if many else "part-with-items/none"
            told = finding(message, where, count=count, most=many)
            file.report(told.following(f"{part.source.path}: kind"))


def check_covers(parts: Iterable[Part], pieces: dict[str, Piece], file: ProjectFile) -> dict[str, Piece]:
    """Report rooms whose cover does not lie on what their base lies on, so that nothing is between them; the
    pieces again."""
    for part in (each for each in parts if each.kind is PartKind.ROOM):
        on, cover = part.on or "", part.word("cover")
        if {on, cover} <= pieces.keys() and _root(on, pieces) != _root(cover, pieces):
            file.report(finding("cover-apart", part.source.at("cover"), cover=cover, base=on))
    return pieces


def _root(name: str, pieces: Mapping[str, Piece]) -> str:
    """What a piece lies on in the end; of pieces that lie on each other, which is reported, any of them."""
    seen: set[str] = set()
    while name not in seen and (on := pieces[name].on if name in pieces else None) is not None:
        seen.add(name)
        name = on
    return name


def _check_edge(item: Item, kind: PartKind, file: ProjectFile) -> None:
    """Report a cutting edge that lies bare in what has no welt, or may do so by its name."""
    if item.bares_edge:
        file.report(finding("edge-bare", item.source.at("in"), item=item.name, kind=kind.value))
    elif item.cutting is None and tells_of_an_edge(item.name):
        file.report(finding("edge-bare/named", item.source.at("name"), item=item.name, kind=kind.value))
