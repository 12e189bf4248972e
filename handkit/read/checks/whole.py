"""The whole: what only the file as a whole can show.

In: the parts as read. Out: findings in the reading, and the pieces by name.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from handkit.findings import has_errors
from handkit.messages.message import Severity
from handkit.quoting import quoted
from handkit.read.entries.entry import Entry
from handkit.read.project import Piece, Seam
from handkit.read.values.spot import Fault, Reading


def first_by_name(pieces: Iterable[Piece]) -> dict[str, Piece]:
    """Pieces by name in the file's order; of two with one name, which is told elsewhere, the first."""
    by_name: dict[str, Piece] = {}
    for piece in pieces:
        if piece.name:
            by_name.setdefault(piece.name, piece)
    return by_name


def tell_names(entries: Sequence[Entry]) -> None:
    """Tell names that two seams or openings share: in the order of work they could not be told apart."""
    first: dict[str, Entry] = {}
    for entry in entries:
        name = entry.name()
        if name is None:
            continue
        if name in first:
            found = f"{quoted(name)} again, first in line {first[name].spot.where().line}"
            allowed = "a name that no other seam or opening has"
            entry.at("name").refuse(Fault("name-taken", found, allowed, "give it another name"))
        first.setdefault(name, entry)


def tell_unused_lines(pieces: Sequence[Piece], seams: Iterable[Seam], reading: Reading) -> None:
    """Remark on inner lines that no seam runs along, be it on a copy of the piece."""
    if has_errors(reading.findings):  # a misspelt run would be told twice
        return
    copied = {piece.name: piece.copy_of for piece in pieces}
    used: set[tuple[str, str]] = set()
    for layer in (layer for seam in seams for layer in seam.layers):
        name: str | None = layer.piece
        while isinstance(layer.run, str) and name is not None and (name, layer.run) not in used:
            used.add((name, layer.run))
            name = copied.get(name)
    for piece in pieces:
        own = piece.lines if piece.copy_of is None else ()
        for line in (line for line in own if (piece.name, line.name) not in used):
            remedy = "name it in a seam's runs, or take it out"
            fault = Fault("line-unused", f"{quoted(line.name)} in no seam", "", remedy)
            reading.tell(Severity.NOTE, piece.source.at("lines"), fault)
