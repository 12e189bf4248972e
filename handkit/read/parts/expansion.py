"""Expansion: every part written out as the tables that a file without parts would have.

In: the parts, their items, and the names of the file's own pieces. Out: tables of pieces, seams,
openings and fittings, which are read like the file's own, and the lines that parts draft on pieces. A
table of the file that has a drafted one's name adds to it.

    [[part]]                      [[piece]]                        both make one entry: the part's
    name = "label pocket"    +    name = "label pocket"      =     outline, place and letters,
    kind = "flat pocket"          thickness = 1.6                  the file's thickness
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import msgspec

from handkit.findings import finding
from handkit.read.checks.cycles import cycles
from handkit.read.file.lines import KeyPath
from handkit.read.file.project_file import ProjectFile, unknown
from handkit.read.parts.part_kinds import KINDS
from handkit.read.parts.promises import ALL_ROUND, PartEntries, Placeholder, Table
from handkit.read.project import Item, Part, PartKind, Piece


class DraftedTable(msgspec.Struct, frozen=True):
    """A table that a part gives for an entry of the file, and where the part stands."""

    table: Table
    part: Part
    path: KeyPath  # of the part, for lines
    placeholder: Placeholder | None = None  # of a piece
    pulled: bool = False  # of a seam that starts where it is pulled
    whole: bool = True  # False where a piece of it isn't known, which is reported


class JoiningPiece(msgspec.Struct, frozen=True):
    """A piece that seams of its part's base go through: its part, the seams it says it joins, and of a lining
    the part that drafts what it lines."""

    part: Part
    piece: str
    joins: tuple[str, ...]
    drafter: Part | None = None


class Expansion(msgspec.Struct, frozen=True):
    """What the parts of a file give, each by its name; `lines` are by the piece they are drafted on."""

    pieces: dict[str, DraftedTable] = msgspec.field(default_factory=dict)
    seams: dict[str, DraftedTable] = msgspec.field(default_factory=dict)
    openings: dict[str, DraftedTable] = msgspec.field(default_factory=dict)
    fittings: dict[str, DraftedTable] = msgspec.field(default_factory=dict)
    lines: dict[str, list[tuple[str, Part]]] = msgspec.field(default_factory=dict)
    joining: list[JoiningPiece] = msgspec.field(default_factory=list)


def expanded(
    parts: Mapping[KeyPath, Part],
    items: Sequence[Item],
    copies: Mapping[str, str | None],
    file: ProjectFile,
) -> Expansion:
    """The parts, by their paths, written out; of two things of one name the first.

    `copies` has the names of the file's own pieces, and what each is a copy of.
    """
    listed = [
        (path, part, KINDS[part.kind].entries(part, [item for item in items if item.held_by == part.name]))
        for path, part in parts.items()
    ]
    drafters: dict[str, Part] = {}
    for _, part, entries in listed:
        for piece in entries.pieces:
            drafters.setdefault(piece.name, part)
    known = tuple(dict.fromkeys((*copies, *drafters)))
    ringed = _check_bases(tuple(parts.values()), known, drafters, copies, file)
    _check_names([(part, entries) for _, part, entries in listed], file)
    expansion = Expansion()
    for path, part, entries in listed:
        whole = all(drafters[piece.name] is part for piece in entries.pieces)
        for piece in entries.pieces:
            placed = (part.on in known or _has_no_base(part)) and part.name not in ringed
            table = _piece_table(piece, part) if placed else {"name": piece.name}
            if expansion.pieces.setdefault(piece.name, DraftedTable(table, part, path, piece)).part is part:
                expansion.lines[piece.name] = [(line, part) for line in piece.lines]
        _add_works(expansion, DraftedTable({}, part, path, whole=whole), entries, known)
        expansion.joining.extend(_joining(part, entries, drafters))
    for _, part, entries in listed:
        lines = expansion.lines.setdefault(part.on or "", [])
        lines.extend((line, part) for line in entries.base_lines)
    return expansion


def _add_works(expansion: Expansion, made: DraftedTable, entries: PartEntries, known: Sequence[str]) -> None:
    """The seams, openings and fittings of one part, whose pieces are whole where it is `made` so."""

    def drafted(table: Table, *, pulled: bool = False, whole: bool = True) -> DraftedTable:
        return msgspec.structs.replace(made, table=table, pulled=pulled, whole=made.whole and whole)

    for seam in entries.seams:
        runs = [run for run in seam["runs"] if run.partition(":")[0] in known]
        whole = len(runs) == len(seam["runs"])
        table = drafted({**seam, "runs": runs}, pulled=seam["name"] in entries.pulled, whole=whole)
        expansion.seams.setdefault(seam["name"], table)
    for opening in entries.openings:
        through = [name for name in opening["through"] if name in known] or [*known][:1]  # else it is told
        expansion.openings.setdefault(opening["name"], drafted({**opening, "through": through}))
    for fitting in entries.fittings:
        expansion.fittings.setdefault(fitting["name"], drafted(fitting))


def _joining(part: Part, entries: PartEntries, drafters: Mapping[str, Part]) -> list[JoiningPiece]:
    drafter = drafters.get(part.on or "") if part.kind is PartKind.LINING else None
    return [JoiningPiece(part, piece, entries.joins, drafter) for piece in entries.joining]


def _has_no_base(part: Part) -> bool:
    """Whether a part stands by itself; one that lacks the base it needs is reported elsewhere."""
    return part.on is None and KINDS[part.kind].base not in KINDS[part.kind].needs


def _piece_table(piece: Placeholder, part: Part) -> Table:
    """A drafted piece as the file would have it, on its base or on another piece of its part."""
    base = piece.on or part.on
    table: dict[str, object] = {"name": piece.name, **piece.states}
    if base is None:
        return table
    table |= {"on": base, "flat": piece.flat}
    behind = piece.behind or (piece.on is None and part.flag("behind"))
    placed = {"behind": behind, "turned_over": behind is not piece.inwards}
    return table | {key: value for key, value in placed.items() if value}


def _check_bases(
    parts: Sequence[Part],
    known: Sequence[str],
    drafters: Mapping[str, Part],
    copies: Mapping[str, str | None],
    file: ProjectFile,
) -> frozenset[str]:
    """Report bases that are no piece, and parts that stand on each other in a cycle; those in cycles."""

    def drafter_of(piece: str) -> Part | None:
        """The part that drafts a piece, be it by way of copies."""
        seen: set[str] = set()
        while piece in copies and piece not in drafters and piece not in seen:
            seen.add(piece)
            piece = copies[piece] or ""
        return drafters.get(piece)

    bases: dict[str, list[str]] = {}
    for part in parts:
        if part.on is not None and part.on not in known:
            where = part.source.at(KINDS[part.kind].base or "on")
            file.report(unknown("unknown-piece", part.on, known).placed(where))
        named = [(key, part.word(key)) for key in ("to", "cover")]
        for key, name in (*named, *(("pieces", each) for each in part.names("pieces"))):
            if name and name not in known:
                file.report(unknown("unknown-piece", name, known).placed(part.source.at(key)))
        base = drafter_of(part.on or "")
        bases.setdefault(part.name, [base.name] if base else [])
    by_name = {part.name: part for part in reversed(parts)}
    found = cycles(bases)
    for cycle in found:
        part = by_name[cycle[0]]
        file.report(finding("part-circle", part.source.at(KINDS[part.kind].base or "on"), names=cycle))
    return frozenset(name for cycle in found for name in cycle)


def _check_names(listed: Sequence[tuple[Part, PartEntries]], file: ProjectFile) -> None:
    """Report pieces, works, fittings and lines on one base that two parts would draft by one name."""
    first: dict[tuple[str, str], Part] = {}
    for part, entries in listed:
        names: list[tuple[str, str]] = [
            *(("piece", piece.name) for piece in entries.pieces),
            *(("work", work["name"]) for work in (*entries.seams, *entries.openings)),
            *(("fitting", fitting["name"]) for fitting in entries.fittings),
            *((f"line on {part.on}", name) for name in entries.base_lines),
        ]
        taken = [name for name in names if first.setdefault(name, part).name != part.name]
        if taken:
            where, other = part.source.at("name"), first[taken[0]].name
            file.report(finding("name-promised", where, name=taken[0][1], part=other))


def lettered(seams: Mapping[str, DraftedTable], pieces: Mapping[str, Piece]) -> dict[str, DraftedTable]:
    """The drafted seams with the letters of runs all round: every letter, and the first again."""

    def run(text: str) -> str:
        name, _, edges = text.partition(": ")
        if edges != ALL_ROUND or name not in pieces:
            return text
        letters = [corner.letter for corner in pieces[name].corners] or ["A"]
        return f"{name}: {'-'.join((*letters, letters[0]))}"

    return {
        name: msgspec.structs.replace(
            seam, table={**seam.table, "runs": [run(each) for each in seam.table["runs"]]}
        )
        for name, seam in seams.items()
    }
