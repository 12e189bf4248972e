"""The whole: what only the file as a whole can show.

In: the entries, or what was read of them. Out: findings in the file.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from handkit.findings import finding, has_errors
from handkit.read.entries.entry import Entry
from handkit.read.file.project_file import ProjectFile, names_of
from handkit.read.project import Piece, Seam


def check_names(entries: Sequence[Entry], message: str) -> None:
    """Report, by the message of this key, names that two of the entries share."""
    first: dict[str, Entry] = {}
    for entry in entries:
        name = entry.name()
        if name is None:
            continue
        if name in first:
            line = first[name].location.where().line
            told = finding(message, name=name, line=line)
            entry.at("name").report(told.spoiling(names_of(entry.schema.name)))
        first.setdefault(name, entry)


def check_unused_lines(pieces: Sequence[Piece], seams: Iterable[Seam], file: ProjectFile) -> None:
    """Report inner lines that no seam runs along, be it on a copy of the piece."""
    if has_errors(file.findings):  # a misspelt run would be reported twice
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
            file.report(finding("line-unused", piece.source.at("lines"), line=line.name))
