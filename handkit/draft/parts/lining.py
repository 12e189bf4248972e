"""Lining: a piece behind another, of its shape or set in from its edge all round.

In: the part and its context, whose base is the piece that is lined. Out: the lining, drawn as seen
from its own showing side, which is the far one: mirrored, and turned over where it lies. The maker
draws on it as it lies on the lined piece; see `from_lined_frames`.

Set in by d, straight edges move d inwards, arcs keep their centre, and a rounded corner's radius
loses d outside (to a sharp one at the least) or gains d inside.
"""

from __future__ import annotations

from collections.abc import Container, Sequence
from itertools import pairwise
from math import atan2, pi, tan

import msgspec

from handkit.draft.parts.drafted import DraftedPart, DraftedPiece, PartContext
from handkit.draft.pieces.outline import draft_outline, sharp_edges, way_round
from handkit.findings import finding
from handkit.geometry.affine import Affine, Point
from handkit.geometry.intersect import carriers_meet, first_crossing
from handkit.geometry.joint import parallel_of
from handkit.geometry.path import turn_degrees
from handkit.geometry.segment import Segment
from handkit.geometry.straight import distance
from handkit.read.project import Corner, Item, Opening, Part, PartKind, Piece, Project
from handkit.tolerances import SAME_POINT


def draft_lining(part: Part, items: tuple[Item, ...], context: PartContext) -> DraftedPart:
    """The lining of `of`, set in by `inset_by`. A part that holds nothing: `items` is empty."""
    lined = context.base
    if lined is None or draft_outline(lined)[0] is None:  # its own findings say why
        return DraftedPart()
    by = part.size("inset_by")
    inner = set_in(lined, by)
    if inner is None:
        fault = finding("lining-without-room", part.source.at("inset_by"), by=by, piece=lined.name)
        return DraftedPart(findings=(fault,))
    over = Affine.mirror()
    corners = tuple(msgspec.structs.replace(each, at=over.apply(each.at)) for each in inner.corners)
    name = next(iter(context.pieces))
    return DraftedPart(pieces=(DraftedPiece(name, corners, inner.sagittas, inner.circle),))


def from_lined_frames(project: Project) -> Project:
    """The project with what the maker drew on linings turned over with them.

    Lines, folds and places of openings on a lining are written as they lie on the piece it lines, which
    the maker has before him; the lining's own frame is that frame mirrored. A copy has the lining's own.
    """
    linings = {part.name: part.on for part in project.parts if part.kind is PartKind.LINING}
    lined = {each.name: linings[each.drafted_by] for each in project.pieces if each.drafted_by in linings}
    if not lined:
        return project
    copied = {piece.name: piece.copy_of for piece in project.pieces}

    def turned(piece: Piece) -> Piece:
        original: str | None = piece.name
        while original is not None and original not in lined:
            original = copied[original]
        return piece if original is None else _turned_over(piece, lined[original])

    return msgspec.structs.replace(
        project,
        pieces=tuple(turned(piece) for piece in project.pieces),
        openings=tuple(_on_lining(opening, lined) for opening in project.openings),
    )


def _turned_over(piece: Piece, lined: str | None) -> Piece:
    """A lining with what is drawn on it mirrored; of a copy what it takes over."""
    over, own = piece.mirror_image(), piece.stated if piece.copy_of is not None else ()
    return msgspec.structs.replace(
        piece,
        lines=piece.lines if "lines" in own else over.lines,
        folds=piece.folds if "folds" in own else over.folds,
        marks=piece.marks if "marks" in own else over.marks,
        items=piece.items if piece.copy_of is not None else over.items,
        lined=None if "lines" in own or "folds" in own else lined,
    )


def _on_lining(opening: Opening, linings: Container[str]) -> Opening:
    """An opening with those of its places that are on a lining mirrored."""
    over = Affine.mirror()
    places = tuple(
        (name, over.apply_all(points) if name in linings else points) for name, points in opening.places
    )
    opening = msgspec.structs.replace(opening, places=places)
    if opening.through[0] not in linings:
        return opening
    turned = 180.0 - opening.turn_degrees
    return msgspec.structs.replace(opening, at=over.apply_all(opening.at), turn_degrees=turned)


def set_in(piece: Piece, by: float) -> Piece | None:
    """The piece with its edge moved inwards by mm, letter by letter; None where an edge is lost."""
    if by == 0:
        return piece
    if piece.circle is not None:
        rest = piece.circle - 2 * by
        return msgspec.structs.replace(piece, circle=rest) if rest > 0 else None
    way = way_round(piece)
    before = sharp_edges(piece, way)
    moved = [parallel for edge in before if (parallel := parallel_of(edge, by * way)) is not None]
    if len(moved) < len(before):
        return None
    places = [at for k in range(len(moved)) if (at := _meeting(moved[k - 1], moved[k])) is not None]
    if len(places) < len(moved):
        return None
    ends = pairwise([*places, places[0]])
    edges = [
        kept for edge, pair in zip(moved, ends, strict=True) if (kept := _between(edge, *pair)) is not None
    ]
    if len(edges) < len(moved) or first_crossing(edges, closed=True) is not None:
        return None
    return _with_edges(piece, edges, by=by, way=way)


def _with_edges(piece: Piece, edges: Sequence[Segment], *, by: float, way: int) -> Piece:
    """The piece with these edges, its radii as the parallel of its corners has them."""
    corners = tuple(
        msgspec.structs.replace(
            corner, at=edges[k].start, radius=_radius(corner, edges[k - 1], edges[k], by * way)
        )
        for k, corner in enumerate(piece.corners)
    )
    sagittas = tuple(edge.bulge * edge.chord / 2 * way for edge in edges)
    return msgspec.structs.replace(piece, corners=corners, sagittas=sagittas)


def _meeting(before: Segment, after: Segment) -> Point | None:
    """Where two moved edges meet: the nearest meeting of their carriers to where they parted."""
    if distance(before.end, after.start) <= SAME_POINT:
        return after.start
    parted = ((before.end[0] + after.start[0]) / 2, (before.end[1] + after.start[1]) / 2)
    return min(carriers_meet(before, after), key=lambda at: distance(at, parted), default=None)


def _between(edge: Segment, start: Point, end: Point) -> Segment | None:
    """The moved edge between its new corners; None where they have changed places."""
    if distance(start, end) <= SAME_POINT:
        return None
    if not edge.bulge:
        (dx, dy), (ux, uy) = edge.direction_at(0), Segment(start, end).direction_at(0)
        return Segment(start, end) if dx * ux + dy * uy > 0 else None
    (cx, cy), sign = edge.centre, 1 if edge.bulge > 0 else -1
    turn = sign * (atan2(end[1] - cy, end[0] - cx) - atan2(start[1] - cy, start[0] - cx)) % (2 * pi)
    return Segment(start, end, sign * tan(turn / 4)) if turn < abs(edge.sweep) + pi else None


def _radius(corner: Corner, before: Segment, after: Segment, left: float) -> float:
    """A corner's radius once its edges have moved `left` mm: less where they turn that way."""
    if not corner.radius:
        return 0.0
    turns_there = turn_degrees(before, after) * left > 0
    return max(0.0, corner.radius + (-abs(left) if turns_there else abs(left)))
