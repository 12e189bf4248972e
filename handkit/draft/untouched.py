"""What of a pattern the errors of drafting have nothing to do with: later steps can judge it beside them.

In: the pattern as far as it could be drawn, and what is told of it. Out: the same without the pieces that an
error is told of, those that a part with one drafts, what lies on either, and all that goes through them.
"""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from handkit.draft.pattern import Pattern
from handkit.findings import Finding, Source
from handkit.messages.message import Severity
from handkit.read.project import Piece


def untouched(pattern: Pattern, told: Iterable[Finding]) -> Pattern:
    """The pattern without what is wrong, and without what hangs on that."""
    project, wrong = pattern.project, _Wrong(tuple(each for each in told if each.severity is Severity.ERROR))
    parts = {part.name for part in project.parts if wrong.names(part.source)}
    by_name = {piece.name: piece for piece in project.pieces}

    def stands(piece: Piece) -> bool:
        """Whether neither it nor what it lies on, or is a copy of, is wrong."""
        below = [by_name[name] for name in (piece.on, piece.copy_of) if name is not None]
        return piece.drafted_by not in parts and not wrong.names(piece.source) and all(map(stands, below))

    names = {piece.name for piece in pattern.pieces if stands(by_name[piece.name])}
    seams = tuple(
        seam
        for seam in pattern.seams
        if {run.piece for run in seam.runs} <= names and not wrong.names(seam.source)
    )
    openings = tuple(each for each in pattern.openings if {place.piece for place in each.places} <= names)
    works = {*(seam.name for seam in seams), *(opening.name for opening in openings)}
    return msgspec.structs.replace(
        pattern,
        pieces=tuple(each for each in pattern.pieces if each.name in names),
        seams=seams,
        openings=openings,
        fittings=tuple(
            each
            for each in pattern.fittings
            if {each.fitting.on, each.fitting.piece} - {None} <= names
            and {each.fitting.holes, each.fitting.through, *each.fitting.seams} - {""} <= works
        ),
        rooms=tuple(each for each in pattern.rooms if {each.base, each.cover} <= names),
        faces=tuple(each for each in pattern.faces if {each.first, each.second} <= names),
    )


class _Wrong(msgspec.Struct, frozen=True):
    """The errors, asked for what they are told of."""

    errors: tuple[Finding, ...]

    def names(self, source: Source) -> bool:
        """Whether one of them is told of an entry of the file, or spoils it."""
        path = source.path
        return any(
            each.where.key == path or each.where.key.startswith(f"{path}: ") or path in each.spoils
            for each in self.errors
        )
