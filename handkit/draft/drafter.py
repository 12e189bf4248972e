"""Step 2, the public function: a project in, its pattern out, or all that is wrong in one go.

All mm; see `pattern.py` for what comes out. First parts without a place are laid on bases that are arranged
(`arrange/`) and parts give their pieces a shape (`parts/parts.py`), then every piece, seam and opening is
drawn, whoever wrote it. Nothing is mended: a radius, inset or trim that does not fit is refused with the
largest that would.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from functools import partial
from typing import TypeVar

import msgspec

from handkit.draft.arrange.arranging import arranged
from handkit.draft.mirrored import mirrored
from handkit.draft.parts.parts import DraftedParts, draft_parts
from handkit.draft.pattern import FacesMet, Pattern, PatternOpening, PatternSeam
from handkit.draft.pieces.beside import beside_base
from handkit.draft.pieces.drawn import DrawnPiece, ShapedPiece, place_piece, shape_piece
from handkit.draft.pieces.placement import placements_of
from handkit.draft.seams.fittings import draft_fitting, fitting_outlines
from handkit.draft.seams.openings import draft_opening
from handkit.draft.seams.seams import draft_seam
from handkit.errors import ProjectError
from handkit.findings import Finding, Where, first_causes, has_errors, in_order
from handkit.geometry.space import folded_sheet
from handkit.kept.kept import NOTHING, KeptOf
from handkit.read.project import Piece, Project, Seam

T = TypeVar("T")
D = TypeVar("D")


def draft(project: Project, kept: KeptOf = NOTHING) -> Pattern:
    """The true shapes of a project's pieces, its stitch lines and openings; what was drafted of the same
    before is `kept`.

    Raises ProjectError with every finding of the drafting where one is an error; what could be drawn is in
    its `reached`.
    """
    laid = arranged(project)
    whole = draft_parts(laid.project, kept)
    whole = mirrored(whole) if project.mirrored else whole
    project = whole.project
    drafted, findings = _pieces(project.pieces, kept, lacking=whole.lacking, over=project.mirrored)
    seams, more = _sound(partial(draft_seam, seams=project.seams), project.seams, drafted)
    openings, still_more = _sound(draft_opening, project.openings, drafted)
    told = in_order(first_causes((*laid.findings, *whole.findings, *findings, *more, *still_more)))
    if has_errors(told):
        sound = _sound_without(project, drafted, {opening.name for opening in openings})
        raise ProjectError(told, _pattern(whole, sound, drafted, seams, openings, told))
    return _pattern(whole, project, drafted, seams, openings, told)


def _pattern(  # noqa: PLR0913, PLR0917 - all that was drafted
    whole: DraftedParts,
    sound: Project,
    drafted: Mapping[str, DrawnPiece],
    seams: tuple[PatternSeam, ...],
    openings: tuple[PatternOpening, ...],
    told: tuple[Finding, ...],
) -> Pattern:
    """The pattern of what of a project is `sound`."""
    names = {piece.name for piece in sound.pieces}
    fittings = tuple(draft_fitting(fitting, drafted) for fitting in sound.fittings)
    pieces = tuple(
        msgspec.structs.replace(
            drafted[piece.name].piece,
            items=(*drafted[piece.name].piece.items, *fitting_outlines(fittings, piece.name, drafted)),
        )
        for piece in sound.pieces
    )
    return Pattern(
        whole.project,
        pieces,
        tuple(seam for seam in seams if {run.piece for run in seam.runs} <= names),
        tuple(opening for opening in openings if {place.piece for place in opening.places} <= names),
        told,
        whole.fits,
        fittings,
        tuple(room for room in whole.rooms if {room.base, room.cover} <= names),
        tuple(each for each in _faces(whole.project.seams) if {each.first, each.second} <= names),
    )


def _faces(seams: Iterable[Seam]) -> Iterator[FacesMet]:
    """The sides that lie on each other by word of a seam."""
    for seam in seams:
        sided = [(layer.piece, layer.side) for layer in seam.layers if layer.side is not None]
        if len(sided) == 2:
            (first, one), (second, other) = sided
            yield FacesMet(first, one, second, other)


def _sound_without(project: Project, drafted: Mapping[str, DrawnPiece], openings: Collection[str]) -> Project:
    """A project without the pieces that could not be drawn, what lies on them, and fittings that need what
    is missing."""
    by_name = {piece.name: piece for piece in project.pieces}

    def stands(name: str | None) -> bool:
        return name is None or (name in drafted and stands(by_name[name].on))

    pieces = tuple(piece for piece in project.pieces if stands(piece.name))
    names = {piece.name for piece in pieces}
    fittings = tuple(
        fitting
        for fitting in project.fittings
        if {fitting.on, fitting.piece} - {None} <= names
        and {fitting.holes, fitting.through} - {""} <= set(openings)
        and not fitting.seams
        and (not fitting.fold or fitting.fold in _folds(drafted[fitting.on or ""]))
    )
    return msgspec.structs.replace(project, pieces=pieces, fittings=fittings)


def _folds(drawn: DrawnPiece) -> set[str]:
    return {fold.name for fold in drawn.piece.folds}


def _pieces(
    pieces: tuple[Piece, ...], kept: KeptOf, *, lacking: Collection[str], over: bool
) -> tuple[dict[str, DrawnPiece], list[Finding]]:
    """The pieces that can be drawn, by name. What a copy takes from another is told once.

    Those that are `lacking` a shape are left out: the part that drafts them says why. `over` says that all
    are mirrored.
    """
    by_name = {piece.name: piece for piece in pieces}
    shaped: dict[str, ShapedPiece] = {}
    findings: list[Finding] = []
    for piece in _originals_first(piece for piece in pieces if piece.name not in lacking):
        mirrored = _mirrored(piece, by_name) is not over
        shape, faults = kept.of_these(
            "shape", (piece, mirrored), partial(shape_piece, piece, mirrored=mirrored)
        )
        told = {_fault(finding) for finding in findings} if piece.copy_of is not None else set()
        findings.extend(fault for fault in faults if _fault(fault) not in told)
        if shape is not None:
            shaped[piece.name] = shape
    outlines = {name: each.outline.path for name, each in shaped.items()}
    folded = {name: folded_sheet(outlines[name], each.bends) for name, each in shaped.items() if each.bends}
    placements = placements_of(pieces, outlines, folded)
    drawn = {name: place_piece(each, placements[name]) for name, each in shaped.items()}
    return drawn, [*findings, *beside_base(pieces, drawn)]


def _fault(finding: Finding) -> tuple[str, Where]:
    """What makes findings of a copy and its original the same: code and line of the file."""
    return finding.code, Where(finding.where.file, finding.where.line)


def _originals_first(pieces: Iterable[Piece]) -> list[Piece]:
    """Pieces with an outline of their own before copies; else in the file's order."""
    return sorted(pieces, key=lambda piece: piece.copy_of is not None)


def _mirrored(piece: Piece, by_name: Mapping[str, Piece]) -> bool:
    """Whether a piece's outline is mirrored, seen from the piece that has it written out."""
    turned = piece.mirrored
    while piece.copy_of is not None:
        piece = by_name[piece.copy_of]
        turned ^= piece.mirrored
    return turned


def _sound(
    draft_one: Callable[[T, Mapping[str, DrawnPiece]], tuple[D | None, tuple[Finding, ...]]],
    entries: Iterable[T],
    drawn: Mapping[str, DrawnPiece],
) -> tuple[tuple[D, ...], list[Finding]]:
    """What of seams or openings can be drawn, and what is wrong with the rest."""
    results = [draft_one(entry, drawn) for entry in entries]
    findings = [finding for _, found in results for finding in found]
    return tuple(drafted for drafted, _ in results if drafted is not None), findings
