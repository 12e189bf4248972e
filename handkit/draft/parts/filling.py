"""Filling: every part drafted, and its shapes put in the place of what it promised.

In: a project as read, with placeholders. Out: the same project with all its points, the outlines of
items by piece, the room of each item, and findings. A part is drafted after its base; what the
file says itself (radii, lines, notes) goes before what the part gives.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import msgspec

from handkit.draft.parts.drafted import (
    DraftedOpening,
    DraftedPart,
    DraftedPiece,
    DraftedSeam,
    Drafting,
    Ground,
)
from handkit.draft.parts.rooms import room_findings
from handkit.draft.pattern import ItemOutline, PieceMark, Room
from handkit.findings import Finding
from handkit.geometry.affine import Affine, Point
from handkit.read.project import (
    Corner,
    FoldLine,
    InnerLine,
    Layer,
    MatchPoint,
    Opening,
    Part,
    PartKind,
    Piece,
    Project,
    Seam,
)


class Filled(msgspec.Struct, frozen=True):
    """A project without placeholders, and what the drafting of its parts tells beside.

    `lacking` are pieces that got no shape; findings say why. Seams along what is lacking are left out.
    """

    project: Project
    items: Mapping[str, tuple[ItemOutline, ...]] = msgspec.field(default_factory=dict)  # by piece
    marks: Mapping[str, tuple[PieceMark, ...]] = msgspec.field(default_factory=dict)  # by piece
    rooms: tuple[Room, ...] = ()
    findings: tuple[Finding, ...] = ()
    lacking: frozenset[str] = frozenset()


class _Work(msgspec.Struct, frozen=True):
    """What is filled so far, by name; grows as parts are drafted."""

    pieces: dict[str, Piece]
    seams: dict[str, Seam]
    openings: dict[str, Opening]
    items: dict[str, tuple[ItemOutline, ...]]
    marks: dict[str, tuple[PieceMark, ...]]
    drafted: dict[str, DraftedPart]


def filled(project: Project, draftings: Mapping[PartKind, Drafting]) -> Filled:
    """The project with its parts drafted, as far as they can be."""
    if not project.parts:
        return Filled(project)
    work = _Work(
        {piece.name: piece for piece in project.pieces},
        {seam.name: seam for seam in project.seams},
        {opening.name: opening for opening in project.openings},
        {},
        {},
        {},
    )
    for part in _bases_first(project):
        _draft(part, project, work, draftings)
    pieces = tuple(_copied(work.pieces[piece.name], work.pieces) for piece in project.pieces)
    lacking = _lacking(pieces, work)
    unsewn = {(piece.name, line.name) for piece in pieces for line in piece.lines if not line.points}
    whole = msgspec.structs.replace(
        project,
        pieces=tuple(_with_points(piece) for piece in pieces),
        seams=tuple(
            work.seams[seam.name]
            for seam in project.seams
            if not unsewn & {(layer.piece, layer.run) for layer in seam.layers}
        ),
        openings=tuple(work.openings[opening.name] for opening in project.openings),
    )
    given = [work.drafted[part.name] for part in project.parts]
    rooms = tuple(room for each in given for room in each.rooms)
    found = [finding for each in given for finding in each.findings]
    marks = {piece.name: _copied_marks(piece, work) for piece in pieces}
    return Filled(whole, work.items, marks, rooms, (*found, *room_findings(project, rooms)), lacking)


def _lacking(pieces: Sequence[Piece], work: _Work) -> frozenset[str]:
    """The pieces that their parts gave no shape, and copies of them."""
    shaped = {piece.name for given in work.drafted.values() for piece in given.pieces}
    by_name = {piece.name: piece for piece in pieces}
    return frozenset(
        piece.name
        for piece in pieces
        if (source := _source(piece, by_name)).drafted_by is not None and source.name not in shaped
    )


def _with_points(piece: Piece) -> Piece:
    """A piece without the lines that no part gave points."""
    return msgspec.structs.replace(piece, lines=tuple(line for line in piece.lines if line.points))


def _bases_first(project: Project) -> list[Part]:
    """The parts, each after the part that drafts its base; reading has refused circles."""
    by_name = {part.name: part for part in project.parts}
    pieces = {piece.name: piece for piece in project.pieces}
    holders = {name: _source(piece, pieces).drafted_by for name, piece in pieces.items()}
    ordered: dict[str, Part] = {}

    def add(part: Part) -> None:
        base = by_name.get(holders.get(part.on or "") or "")
        if base is not None and base.name not in ordered:
            add(base)
        ordered.setdefault(part.name, part)

    for part in project.parts:
        add(part)
    return list(ordered.values())


def _draft(part: Part, project: Project, work: _Work, draftings: Mapping[PartKind, Drafting]) -> None:
    """Draft one part and put what it gives into the work."""
    own = {name: piece for name, piece in work.pieces.items() if piece.drafted_by == part.name}
    base = work.pieces.get(part.on or "")
    base = _copied(base, work.pieces) if base is not None else None
    items = tuple(item for item in project.items if item.held_by == part.name)
    given = draftings[part.kind](part, items, Ground(base, own, work.seams))
    work.drafted[part.name] = given
    over = Affine.mirror() if part.flag("behind") else Affine()
    lie = Affine.shift(*part.at) @ Affine.turn(part.turn_degrees) @ over
    for piece in given.pieces:
        work.pieces[piece.name] = _whole_piece(work.pieces[piece.name], piece, part, lie)
    if part.on is not None and given.base_lines:
        work.pieces[part.on] = _with_lines(work.pieces[part.on], given.base_lines, lie)
    for seam in given.seams:
        work.seams[seam.name] = _whole_seam(work.seams[seam.name], seam, part, lie)
    for opening in given.openings:
        work.openings[opening.name] = _whole_opening(work.openings[opening.name], opening, part, lie)
    for name, outline in given.items:
        path = outline.path.moved(lie) if name == part.on else outline.path
        work.items[name] = (*work.items.get(name, ()), ItemOutline(outline.item, path))
    for name, mark in given.marks:
        path = mark.path.moved(lie) if name == part.on else mark.path
        work.marks[name] = (*work.marks.get(name, ()), PieceMark(mark.kind, path))


def _whole_piece(piece: Piece, given: DraftedPiece, part: Part, lie: Affine) -> Piece:
    """A placeholder with its shape and place."""
    corners = tuple(
        Corner(shape.letter, shape.at, own.radius if "round" in piece.stated else shape.radius)
        for shape, own in zip(given.corners, piece.corners, strict=True)
    )
    straight = (0.0,) * len(corners)
    drawn = {line.name: line.points for line in given.lines}
    return msgspec.structs.replace(
        piece,
        corners=corners,
        sagittas=piece.sagittas if "arc" in piece.stated else given.sagittas or straight,
        circle=given.circle,
        lines=tuple(
            msgspec.structs.replace(each, points=drawn.get(each.name, each.points)) for each in piece.lines
        ),
        folds=piece.folds if "folds" in piece.stated else given.folds,
        note=piece.note or given.note,
        grain_degrees=_grain(piece, given),
        at=lie.apply(given.at),
        turn_degrees=part.turn_degrees + (-1 if part.flag("behind") else 1) * given.turn_degrees,
    )


def _grain(piece: Piece, given: DraftedPiece) -> float:
    """The file's own, or the part's: a strip's lies along it."""
    if given.grain_degrees is None or "grain" in piece.stated:
        return piece.grain_degrees
    return given.grain_degrees


def _with_lines(piece: Piece, lines: Sequence[InnerLine], lie: Affine) -> Piece:
    """A base with the lines that a part puts on it, in the place of those promised."""
    points = {line.name: lie.apply_all(line.points) for line in lines}
    own = tuple(
        msgspec.structs.replace(each, points=points.get(each.name, each.points)) for each in piece.lines
    )
    return msgspec.structs.replace(piece, lines=own)


def _whole_seam(seam: Seam, given: DraftedSeam, part: Part, lie: Affine) -> Seam:
    """A seam with the places that must meet, and the ends of its runs.

    A lining that is sewn in with it is one layer more, which takes the holes of another.
    """
    ends = (*given.ends, *((0.0, 0.0),) * (len(seam.layers) - len(given.ends)))
    layers = tuple(
        msgspec.structs.replace(layer, from_start=start, from_end=end)
        for layer, (start, end) in zip(seam.layers, ends, strict=True)
    )
    matches = tuple(_whole_match(match, seam.layers, part, lie) for match in given.matches)
    return msgspec.structs.replace(seam, layers=layers, matches=(*seam.matches, *matches))


def _whole_match(match: MatchPoint, layers: Sequence[Layer], part: Part, lie: Affine) -> MatchPoint:
    places = (*match.places, *(None,) * (len(layers) - len(match.places)))
    return MatchPoint(
        tuple(
            lie.apply(place) if isinstance(place, tuple) and layer.piece == part.on else place
            for place, layer in zip(places, layers, strict=True)
        )
    )


def _whole_opening(opening: Opening, given: DraftedOpening, part: Part, lie: Affine) -> Opening:
    """An opening with its places; the first piece's are its own, the others' stand beside."""
    carried: list[tuple[str, tuple[Point, ...]]] = [
        (name, lie.apply_all(points) if name == part.on else points) for name, points in given.places
    ]
    return msgspec.structs.replace(opening, at=carried[0][1], places=tuple(carried[1:]))


def _copied(piece: Piece, pieces: Mapping[str, Piece]) -> Piece:
    """A copy with what its original got from a part: lines, or all that was drafted."""
    original = pieces.get(piece.copy_of or "")
    if original is None:
        return piece
    original = _copied(original, pieces)
    over = Affine.mirror() if piece.mirrored else Affine()
    points = {line.name: over.apply_all(line.points) for line in original.lines}
    lines = tuple(
        msgspec.structs.replace(each, points=each.points or points.get(each.name, ())) for each in piece.lines
    )
    if _source(original, pieces).drafted_by is None:
        return msgspec.structs.replace(piece, lines=lines)
    corners = tuple(Corner(each.letter, over.apply(each.at), each.radius) for each in original.corners)
    folds = tuple(FoldLine(each.name, over.apply_all(each.points)) for each in original.folds)
    return msgspec.structs.replace(
        piece,
        corners=corners,
        sagittas=original.sagittas,
        circle=original.circle,
        lines=lines,
        folds=piece.folds or folds,
        note=piece.note if "note" in piece.stated else original.note,
        grain_degrees=_copied_grain(piece, original),
    )


def _copied_grain(piece: Piece, original: Piece) -> float:
    """A copy's own arrow, or the original's, mirrored with it."""
    if "grain" in piece.stated:
        return piece.grain_degrees
    return 180.0 - original.grain_degrees if piece.mirrored else original.grain_degrees


def _copied_marks(piece: Piece, work: _Work) -> tuple[PieceMark, ...]:
    """The marks that a part put on a piece, or on the one it is a copy of."""
    if piece.copy_of is None:
        return work.marks.get(piece.name, ())
    over = Affine.mirror() if piece.mirrored else Affine()
    original = _copied_marks(work.pieces[piece.copy_of], work)
    return tuple(PieceMark(mark.kind, mark.path.moved(over)) for mark in original)


def _source(piece: Piece, pieces: Mapping[str, Piece]) -> Piece:
    """What a piece is a copy of, be it by way of other copies; itself where it is none."""
    while piece.copy_of is not None:
        piece = pieces[piece.copy_of]
    return piece
