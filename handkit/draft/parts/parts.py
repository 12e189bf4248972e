"""Parts: every part drafted, and its shapes put in the place of its placeholders.

In: a project as read, with placeholders. Out: the same project with all its points, the outlines of
items and the marks by piece, the fit of each item, and findings. A part is drafted after its base;
what the file says itself (radii, lines, notes) goes before what the part gives.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import msgspec

from handkit.draft.fit.items_on_base import items_past_base
from handkit.draft.fit.on_base import Holes, past_its_base
from handkit.draft.fit.part_place import frame_of
from handkit.draft.parts.drafted import Around, DraftedPart, PartContext
from handkit.draft.parts.item_fit import fit_findings, fit_of
from handkit.draft.parts.lining import from_lined_frames
from handkit.draft.parts.part_kinds import CLOSES_OVER, DRAFTINGS
from handkit.draft.parts.rooms import rooms_of
from handkit.draft.parts.whole import whole_fitting, whole_opening, whole_piece, whole_seam, with_points
from handkit.draft.pattern import ItemFit, Room
from handkit.findings import Finding, finding
from handkit.geometry.affine import Point
from handkit.geometry.path import Path
from handkit.kept.kept import NOTHING, KeptOf
from handkit.read.project import (
    Fitting,
    InnerLine,
    Item,
    MarkLine,
    Opening,
    Part,
    Piece,
    Project,
    Seam,
)


class DraftedParts(msgspec.Struct, frozen=True):
    """A project without placeholders, and what the drafting of its parts tells beside.

    `lacking` are pieces that got no shape; findings say why. Seams along what is lacking are left out.
    """

    project: Project
    fits: tuple[ItemFit, ...] = ()
    findings: tuple[Finding, ...] = ()
    rooms: tuple[Room, ...] = ()
    lacking: frozenset[str] = frozenset()


class _Work(msgspec.Struct, frozen=True):
    """What is whole so far, by name; grows as parts are drafted."""

    pieces: dict[str, Piece]
    seams: dict[str, Seam]
    openings: dict[str, Opening]
    fittings: dict[str, Fitting]
    drafted: dict[str, DraftedPart] = msgspec.field(default_factory=dict)
    rooms: dict[str, tuple[Room, ...]] = msgspec.field(default_factory=dict)


def draft_parts(project: Project, kept: KeptOf = NOTHING) -> DraftedParts:
    """The project with its parts drafted, as far as they can be, as they are `kept` where they are."""
    if not project.parts:
        return DraftedParts(project)
    project = from_lined_frames(project)
    work = _Work(
        {piece.name: piece for piece in project.pieces},
        {seam.name: seam for seam in project.seams},
        {opening.name: opening for opening in project.openings},
        {fitting.name: fitting for fitting in project.fittings},
    )
    for part in _bases_first(project):
        _draft(part, project, work, kept)
    pieces = tuple(_copied(work.pieces[piece.name], work.pieces) for piece in project.pieces)
    unsewn = {(piece.name, line.name) for piece in pieces for line in piece.lines if not line.points}
    placed = {opening.name for each in work.drafted.values() for opening in each.openings}
    whole = msgspec.structs.replace(
        project,
        pieces=tuple(
            msgspec.structs.replace(piece, lines=tuple(line for line in piece.lines if line.points))
            for piece in pieces
        ),
        seams=tuple(
            work.seams[seam.name]
            for seam in project.seams
            if not unsewn & {(layer.piece, layer.run) for layer in seam.layers}
        ),
        openings=tuple(
            work.openings[opening.name]
            for opening in project.openings
            if opening.part is None or opening.name in placed
        ),
        fittings=tuple(work.fittings[fitting.name] for fitting in project.fittings),
    )
    given = [work.drafted[part.name] for part in project.parts]
    fits = tuple(fit for each in given for fit in each.fits)
    found = [told for each in given for told in each.findings]
    found += [told for part in project.parts for told in _otherwise(part, project)]
    findings = (*found, *fit_findings(project, fits))
    rooms = tuple(room for part in project.parts for room in work.rooms.get(part.name, ()))
    return DraftedParts(whole, fits, findings, rooms, _lacking(pieces, work))


def _otherwise(part: Part, project: Project) -> Iterator[Finding]:
    """Warnings of what the file says of drafted pieces, and the part does not reckon with."""
    for piece in project.pieces:
        if piece.drafted_by == part.name and "arc" in piece.stated:
            yield finding("drafted-otherwise/arc", piece.source.at("arc"), part=part.name)


def _lacking(pieces: Sequence[Piece], work: _Work) -> frozenset[str]:
    """The pieces that their parts gave no shape, and copies of them."""
    shaped = {piece.name for given in work.drafted.values() for piece in given.pieces}
    sources = {piece.name: _source(piece, work.pieces) for piece in pieces}
    return frozenset(
        name
        for name, source in sources.items()
        if source.drafted_by is not None and source.name not in shaped
    )


def _bases_first(project: Project) -> list[Part]:
    """The parts, each after the part that drafts its base, those that close over others after these; reading
    has refused circles."""
    by_name = {part.name: part for part in project.parts}
    pieces = {piece.name: piece for piece in project.pieces}
    ordered: dict[str, Part] = {}

    def add(part: Part) -> None:
        base = pieces.get(part.on or "")
        drafter = by_name.get(_source(base, pieces).drafted_by or "") if base is not None else None
        if drafter is not None and drafter.name not in ordered:
            add(drafter)
        ordered.setdefault(part.name, part)

    for part in project.parts:
        add(part)
    last = [
        part for part in ordered.values() if part.kind in CLOSES_OVER or _stands_on(part, ordered, pieces)
    ]
    return [*(part for part in ordered.values() if part not in last), *last]


def _stands_on(part: Part, parts: Mapping[str, Part], pieces: Mapping[str, Piece]) -> bool:
    """Whether a part stands on one that closes over others, be it by way of parts between."""
    base = pieces.get(part.on or "")
    drafter = parts.get(_source(base, pieces).drafted_by or "") if base is not None else None
    return drafter is not None and (drafter.kind in CLOSES_OVER or _stands_on(drafter, parts, pieces))


def _draft(part: Part, project: Project, work: _Work, kept: KeptOf) -> None:
    """Draft one part and put what it gives into the work."""
    own = {name: piece for name, piece in work.pieces.items() if piece.drafted_by == part.name}
    base = work.pieces.get(part.on or "")
    base = _copied(base, work.pieces) if base is not None else None
    items = tuple(item for item in project.items if item.held_by == part.name)
    seams = {name: seam for name, seam in work.seams.items() if seam.part in (None, part.name)}
    openings = {name: opening for name, opening in work.openings.items() if opening.part in (None, part.name)}
    context = PartContext(base, own, seams, openings, _around(part, work))
    given = kept.of_these("part", (part, items, context), lambda: _drafted(part, items, context))
    work.drafted[part.name] = given
    lie = frame_of(part)
    for piece in given.pieces:
        work.pieces[piece.name] = whole_piece(work.pieces[piece.name], piece, part, lie)
    if part.on is not None and given.base is not None:
        on = work.pieces[part.on]
        folds = (*on.folds, given.base.fold)
        work.pieces[part.on] = msgspec.structs.replace(on, corners=given.base.corners, folds=folds)
    if part.on is not None and given.base_lines:
        on_base = {line.name: lie.apply_all(line.points) for line in given.base_lines}
        work.pieces[part.on] = with_points(work.pieces[part.on], on_base)
    for seam in given.seams:
        work.seams[seam.name] = whole_seam(work.seams[seam.name], seam, part, lie)
    for opening in given.openings:
        work.openings[opening.name] = whole_opening(work.openings[opening.name], opening, part, lie)
    for fitting in given.fittings:
        work.fittings[fitting.name] = whole_fitting(work.fittings[fitting.name], fitting)
    for name in (*given.items_on, *([part.on] if part.on else [])):
        by = lie if name == part.on else given.items_by
        outlines = tuple(InnerLine(each.item, _points(each.path.moved(by))) for each in given.items)
        on = work.pieces[name]
        work.pieces[name] = msgspec.structs.replace(on, items=(*on.items, *outlines))
    work.rooms[part.name] = tuple(rooms_of(part, items, given, lie))
    for name, mark in given.marks:
        path = mark.path.moved(lie) if name == part.on else mark.path
        marked, line = work.pieces[name], MarkLine(mark.kind, _points(path))
        work.pieces[name] = msgspec.structs.replace(marked, marks=(*marked.marks, line))


def _drafted(part: Part, items: tuple[Item, ...], context: PartContext) -> DraftedPart:
    """What a part gives, and what is told of it on its base."""
    given = DRAFTINGS[part.kind](part, items, context)
    fault = _past_its_base(part, items, given, context)
    if fault is None:
        return given
    told = tuple(each.following(fit_of(part)) for each in given.findings)
    fault = fault.following(part.source.path)  # what arranging had no room for
    return msgspec.structs.replace(given, findings=(*told, fault))


def _points(path: Path) -> tuple[Point, ...]:
    """The corners of straight lines, from their start."""
    points = (path.start, *(each.end for each in path.segments))
    return points[:-1] if path.closed else points


def _around(part: Part, work: _Work) -> Around:
    """For a part that closes over others: those, its own pieces left out."""
    if part.kind not in CLOSES_OVER:
        return Around()
    lacking = _lacking(tuple(work.pieces.values()), work)
    pieces = {name: _copied(piece, work.pieces) for name, piece in work.pieces.items() if name not in lacking}
    rooms = tuple(room for rooms in work.rooms.values() for room in rooms)
    return Around(pieces, rooms, tuple(work.seams.values()))


def _past_its_base(
    part: Part, items: tuple[Item, ...], given: DraftedPart, context: PartContext
) -> Finding | None:
    """What is told of a part that does not lie on its base, or of its items that do not, by the stitching of
    its own seams.
    """
    if context.base is None:
        return None
    holes = Holes.of(seam for seam in context.seams.values() if seam.part == part.name)

    def again(other: Part, fewer: tuple[Item, ...]) -> DraftedPart:
        return DRAFTINGS[other.kind](other, fewer, context)

    fault = past_its_base(part, items, given, (context.base, holes), again)
    if fault is None:
        return items_past_base(part, given, context.base, holes)
    fault = fault.following(f"{context.base.source.path}: rectangle")  # which may be at fault itself
    return fault.spoiling(part.source.path, *(piece.source.path for piece in context.pieces.values()))


def _copied(piece: Piece, pieces: Mapping[str, Piece]) -> Piece:
    """A copy with what its original got from a part: lines, or all that was drafted."""
    original = pieces.get(piece.copy_of or "")
    if original is None:
        return piece
    original = _copied(original, pieces)
    over = original.mirror_image() if piece.mirrored else original
    piece = with_points(piece, {line.name: line.points for line in over.lines})
    if "marks" not in piece.stated:
        piece = msgspec.structs.replace(piece, marks=over.marks)
    if _source(original, pieces).drafted_by is None:
        return piece
    return msgspec.structs.replace(
        piece,
        corners=over.corners,
        sagittas=over.sagittas,
        circle=over.circle,
        folds=piece.folds if "folds" in piece.stated else over.folds,
        note=piece.note if "note" in piece.stated else over.note,
        grain_degrees=piece.grain_degrees if "grain" in piece.stated else over.grain_degrees,
    )


def _source(piece: Piece, pieces: Mapping[str, Piece]) -> Piece:
    """What a piece is a copy of, be it by way of other copies; itself where it is none."""
    while piece.copy_of is not None:
        piece = pieces[piece.copy_of]
    return piece
