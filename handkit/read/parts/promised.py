"""Promised: what the parts draft, put among the file's own pieces, seams and openings.

In: the parts, and the file's tables. Out: tables for the entries that parts promise, which the
file's own tables of the same name override or add to; and what is promised on pieces of the file.

    [[part]]                      [[piece]]                        both make one entry: the part's
    name = "label pocket"    +    name = "label pocket"      =     outline, place and letters,
    kind = "flat pocket"          thickness = 1.6                  the file's thickness
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import msgspec

from handkit.findings import Source
from handkit.quoting import quoted
from handkit.read.checks.rings import ring_words, rings
from handkit.read.entries.entry import Entry
from handkit.read.file.lines import KeyPath
from handkit.read.parts.part_kinds import KINDS
from handkit.read.parts.promise import ALL_ROUND, Promise, PromisedPiece
from handkit.read.project import Item, Layer, MatchPoint, Part, Piece, Seam
from handkit.read.values.spot import Fault, Reading, unknown
from handkit.read.values.values import composed

Table = Mapping[str, object]

# What a file can't say of an entry that a part drafts.
SHAPES: Mapping[str, tuple[str, ...]] = {
    "piece": (
        "rectangle", "points", "circle", "copy", "mirrored",
        "on", "at", "turn", "turned_over", "behind", "flat",
    ),
    "seam": ("runs",),
    "opening": ("kind", "through", "at", "row", "places"),
}  # fmt: skip


class Given(msgspec.Struct, frozen=True):
    """A table that a part gives for an entry of the file, and where the part stands."""

    table: Table
    part: Part
    path: KeyPath  # of the part, for lines
    whole: bool = True  # False where a piece of it isn't known, which is told


class Promised(msgspec.Struct, frozen=True):
    """What all parts promise: pieces by name, and lines by the name of the piece they are on."""

    promises: tuple[tuple[Part, Promise], ...] = ()
    pieces: Mapping[str, tuple[Part, PromisedPiece]] = msgspec.field(default_factory=dict)
    base_lines: Mapping[str, tuple[tuple[str, Part], ...]] = msgspec.field(default_factory=dict)
    paths: Mapping[str, KeyPath] = msgspec.field(default_factory=dict)  # of the parts, by name
    copies: Mapping[str, str] = msgspec.field(default_factory=dict)  # the file's, and what they are copies of

    def lines_on(self, piece: str) -> tuple[tuple[str, Part], ...]:
        """The names of lines that parts will put on a piece, be it of the file or drafted."""
        part, drafted = self.pieces.get(piece, (None, None))
        own = tuple((line, part) for line in drafted.lines) if part and drafted else ()
        return (*own, *self.base_lines.get(piece, ()))

    def drafter_of(self, piece: str) -> Part | None:
        """The part that drafts a piece, be it by way of copies; None where none does."""
        seen: set[str] = set()
        while piece in self.copies and piece not in self.pieces and piece not in seen:
            seen.add(piece)
            piece = self.copies[piece]
        return self.pieces[piece][0] if piece in self.pieces else None

    def drafts(self, part: Part) -> bool:
        """Whether what a part promises is its own, and not another's of the same name."""
        own = (piece.name for each, promise in self.promises if each is part for piece in promise.pieces)
        return all(self.pieces[name][0] is part for name in own)


NO_PROMISE = Promised()


def promised_by(
    parts: Sequence[Part], items: Sequence[Item], paths: Mapping[str, KeyPath], copies: Mapping[str, str]
) -> Promised:
    """What the parts promise, in their order; of two pieces of one name, the first."""
    promises = tuple(
        (part, KINDS[part.kind].promise(part, sum(item.held_by == part.name for item in items)))
        for part in parts
    )
    pieces: dict[str, tuple[Part, PromisedPiece]] = {}
    lines: dict[str, tuple[tuple[str, Part], ...]] = {}
    for part, promise in promises:
        for piece in promise.pieces:
            pieces.setdefault(piece.name, (part, piece))
        if part.on is not None:
            lines[part.on] = (*lines.get(part.on, ()), *((name, part) for name in promise.base_lines))
    return Promised(promises, pieces, lines, paths, copies)


def tell_bases(promised: Promised, own: Sequence[str], reading: Reading) -> None:
    """Tell bases that are no piece, and parts that stand on each other in a circle."""
    known = tuple(dict.fromkeys((*own, *promised.pieces)))
    for part, _ in promised.promises:
        key = KINDS[part.kind].needs[0]
        if part.on is not None and part.on not in known:
            reading.refuse(part.source.at(key), unknown("unknown-piece", part.on, known, what="piece"))
    by_name = {part.name: part for part, _ in reversed(promised.promises)}
    for ring in _circles(promised):
        fault = Fault(
            "part-circle", ring_words(ring), "parts that end at a piece of the file", "take another base"
        )
        reading.refuse(by_name[ring[0]].source.at(KINDS[by_name[ring[0]].kind].needs[0]), fault)


def tell_clashes(promised: Promised, reading: Reading) -> None:
    """Tell pieces, seams, openings and lines on one base that two parts would draft by one name."""
    first: dict[tuple[str, str], Part] = {}
    for part, promise in promised.promises:
        names: list[tuple[str, str]] = [
            *(("piece", piece.name) for piece in promise.pieces),
            *(("work", seam.name) for seam in promise.seams),
            *(("work", opening.name) for opening in promise.openings),
            *((f"line on {part.on}", name) for name in promise.base_lines),
        ]
        taken = [name for name in names if first.setdefault(name, part).name != part.name]
        if taken:
            found = f"{quoted(taken[0][1])}, which part {quoted(first[taken[0]].name)} drafts"
            fault = Fault("name-promised", found, "a name of its own", "give the part another name")
            reading.refuse(part.source.at("name"), fault)


def _circles(promised: Promised) -> tuple[tuple[str, ...], ...]:
    """Parts that stand on each other, by name."""
    links: dict[str, list[str]] = {}
    for part, _ in promised.promises:
        holder = promised.drafter_of(part.on or "")
        links.setdefault(part.name, [holder.name] if holder else [])
    return rings(links)


def given_pieces(promised: Promised, own: Sequence[str]) -> dict[str, Given]:
    """The tables of the promised pieces. A base that isn't known is left out: it is told."""
    known = {*own, *promised.pieces}
    ringed = {name for ring in _circles(promised) for name in ring}
    given: dict[str, Given] = {}
    for name, (part, piece) in promised.pieces.items():
        table: dict[str, object] = {"name": name}
        if part.on in known and part.name not in ringed:
            table |= {"on": part.on, "flat": piece.flat}
            if piece.behind or part.flag("behind"):
                table |= {"behind": True, "turned_over": True}
        given[name] = Given(table, part, promised.paths[part.name])
    return given


def given_seams(promised: Promised, pieces: Mapping[str, Piece]) -> dict[str, Given]:
    """The tables of the promised seams. Runs on pieces that aren't known are left out."""
    given: dict[str, Given] = {}
    for part, promise in promised.promises:
        for seam in promise.seams:
            runs = [_run(run, pieces) for run in seam.runs if run.partition(":")[0] in pieces]
            table: dict[str, object] = {"name": seam.name, "runs": runs}
            if seam.bowed:
                table["bowed"] = True
            whole = len(runs) == len(seam.runs) and promised.drafts(part)
            given.setdefault(seam.name, Given(table, part, promised.paths[part.name], whole))
    return given


def _run(text: str, pieces: Mapping[str, Piece]) -> str:
    """A run as a file would write it: all round is every letter, and the first again."""
    name, _, run = text.partition(": ")
    if run != ALL_ROUND:
        return text
    letters = [corner.letter for corner in pieces[name].corners] or ["A"]
    return f"{name}: {'-'.join((*letters, letters[0]))}"


def given_openings(promised: Promised, pieces: Mapping[str, Piece]) -> dict[str, Given]:
    """The tables of the promised openings, without their places. Lengths are told in mm."""
    given: dict[str, Given] = {}
    for part, promise in promised.promises:
        for opening in promise.openings:
            table: dict[str, object] = {
                "name": opening.name,
                "kind": opening.kind.value,
                "hole": f"{opening.hole:.9f} mm",
                "cap": f"{opening.cap:.9f} mm",
                "through": [name for name in opening.through if name in pieces],
                "at": [[0, 0]],  # until it is drafted
            }
            path, whole = promised.paths[part.name], promised.drafts(part)
            given.setdefault(opening.name, Given(table, part, path, whole))
    return given


def joined(seams: Sequence[Seam], promised: Promised, reading: Reading) -> tuple[Seam, ...]:
    """The seams with the linings that are sewn in with them, each as one layer more, without a run."""
    by_name = {seam.name: seam for seam in seams}
    for part, promise in promised.promises:
        for name in promise.joins:
            seam = by_name.get(name)
            if seam is None:
                reading.refuse(
                    part.source.at("seams"), unknown("unknown-seam", name, tuple(by_name), what="seam")
                )
            elif all(layer.piece != part.on for layer in seam.layers):
                found = f"{quoted(name)}, which does not go through {quoted(part.on or '')}"
                fault = Fault("seam-elsewhere", found, "seams of the piece it lies behind", "take it out")
                reading.refuse(part.source.at("seams"), fault)
            else:
                by_name[name] = _with_layer(seam, promise.pieces[0].name, part.source)
    return tuple(by_name.get(seam.name, seam) for seam in seams)


def _with_layer(seam: Seam, piece: str, source: Source) -> Seam:
    inset = seam.stitching.inset
    layer = Layer(source, piece, None, inset, 0.0, 0.0, piece)
    matches = tuple(MatchPoint((*match.places, None)) for match in seam.matches)
    return msgspec.structs.replace(seam, layers=(*seam.layers, layer), matches=matches)


def copies_in(value: object) -> dict[str, str]:
    """The pieces of a list of tables that are copies, and of what, before anything of it is checked."""
    tables = value if isinstance(value, list) else [value]
    pairs = ((table.get("name"), table.get("copy")) for table in tables if isinstance(table, dict))
    return {
        composed(name): composed(copied)
        for name, copied in pairs
        if isinstance(name, str) and isinstance(copied, str)
    }


def names_in(value: object) -> tuple[str, ...]:
    """The names that a list of tables has, before anything of it is checked."""
    tables = value if isinstance(value, list) else [value]
    names = (table.get("name") for table in tables if isinstance(table, dict))
    return tuple(dict.fromkeys(composed(name) for name in names if isinstance(name, str)))


def tell_shapes(entries: Iterable[Entry], given: Mapping[str, Given]) -> None:
    """Tell what the file says of a drafted entry that only its part can say."""
    for entry in entries:
        found = given.get(entry.name() or "")
        for key in SHAPES[entry.section.name] if found else ():
            if found and entry.table.get(key) != found.table.get(key):
                said = f"{key} of what part {quoted(found.part.name)} drafts"
                remedy = "take it out, or give this another name"
                entry.at(key).refuse(Fault("name-promised", said, "keys that add to it", remedy))
