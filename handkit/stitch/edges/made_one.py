"""Made one: the edges of leather that layers have in common once they are joined.

In: the pattern, a piece's edge, tasks in working order. Out: with which pieces it is made one, and after
which task.

Both edges are asked by one rule, so that it holds for the base as for what lies on it: a place of the edge
is *flush* where a seam runs beside it, or glue holds it, and an edge of the mate lies within `FLUSH`. Where
the two do not lie flat together (a gusset) the seam's lines are asked: both run along edges, all the way. A
piece that is folded on itself and sewn is its own mate; one whose ends are lapped, with no fold between, is
not. Cloth is not sanded: what is flush with it stays single.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

import msgspec

from handkit.draft.pattern import Pattern, PatternPiece
from handkit.geometry.affine import Point
from handkit.geometry.straight import distance
from handkit.stitch.order.edges import FLUSH, OutlineEdge
from handkit.stitch.order.tasks import Task, TaskKind
from handkit.stitch.sewing.stack import to_path
from handkit.tolerances import EDGE_SLACK, SAME_POINT

# An edge is looked at every so many mm, at five places at least.
LOOK = 4.0
LEAST_LOOKS = 5


class MadeOne(msgspec.Struct, frozen=True):
    """With which pieces an edge is made one, after which task; `whole` where it is all along."""

    pieces: tuple[str, ...]
    after: Task
    whole: bool


def made_one(
    pattern: Pattern, piece: PatternPiece, edge: OutlineEdge, tasks: Sequence[Task]
) -> MadeOne | None:
    """What is known of one edge; None where it is made one with nothing."""
    count = len(places_of(piece, edge))
    flush: set[int] = set()
    mates: dict[str, None] = {}
    after = None
    for task in tasks:
        if task.kind is TaskKind.OPENING or piece.name not in task.pieces:
            continue
        for mate in dict.fromkeys(task.pieces):
            found = _flush(pattern, piece, pattern.piece(mate), edge, task)
            if found:
                flush |= found
                mates[mate] = None
                after = task
    if after is None:
        return None
    listed = tuple(each.name for each in pattern.pieces if each.name in mates)
    return MadeOne(listed, after, len(flush) >= count - 2)


def places_of(piece: PatternPiece, edge: OutlineEdge) -> tuple[Point, ...]:
    """Places along an edge, clear of its ends."""
    count = max(LEAST_LOOKS, ceil(edge.span / LOOK))
    length = piece.outline.length
    return tuple(
        piece.outline.point_at((edge.low + edge.span * (k + 0.5) / count) % length) for k in range(count)
    )


def _flush(
    pattern: Pattern, piece: PatternPiece, mate: PatternPiece, edge: OutlineEdge, task: Task
) -> set[int]:
    """Which places of an edge are made one with a mate's by one task."""
    if not mate.traits.is_leather:
        return set()
    places = places_of(piece, edge)
    lie = pattern.carry(piece.name, mate.name)
    if piece is not mate and lie is not None:
        ends = {index for index, at in enumerate(places) if _ends_there(mate, lie.apply(at))}
        return ends & _beside(piece, mate, edge, task, places) if ends else set()
    meets = _is_folded(task, piece) if piece is mate else task.kind is TaskKind.SEAM
    along = meets and _along_edges(pattern, task, piece.name, mate.name)
    beside = along and len(_beside(piece, mate, edge, task, edge.samples)) == len(edge.samples)
    return set(range(len(places))) if beside else set()


def _ends_there(mate: PatternPiece, at: Point) -> bool:
    """Whether a bare edge of a piece lies at a place of its frame."""
    turned = any(to_path(at, each.path) <= FLUSH for each in mate.works)
    return not turned and to_path(at, mate.outline) <= FLUSH


def _beside(
    piece: PatternPiece, mate: PatternPiece, edge: OutlineEdge, task: Task, places: Sequence[Point]
) -> set[int]:
    """The places beside which a seam has holes of this edge that go through both; all where it is glue."""
    if task.kind is TaskKind.GLUE:
        return set(range(len(places)))
    near = task.reach / 2 + task.pitch
    rows = task.common(piece.name, (mate.name,))
    holes = _of_edge([hole for run in rows for hole in run], piece, edge)
    return {index for index, at in enumerate(places) if any(distance(at, hole) <= near for hole in holes)}


def _of_edge(holes: Sequence[Point], piece: PatternPiece, edge: OutlineEdge) -> list[Point]:
    """The holes that are nearer to an edge than to all others; one at a corner is of neither."""
    outline, end = piece.outline, edge.low + edge.span
    if edge.span >= outline.length - SAME_POINT:
        return list(holes)
    own, rest = outline.between(edge.low, end), outline.between(end, edge.low + outline.length)
    return [hole for hole in holes if to_path(hole, own) < to_path(hole, rest) - EDGE_SLACK]


def _along_edges(pattern: Pattern, task: Task, *names: str) -> bool:
    """Whether a seam runs along edges of both pieces."""
    runs = next((seam.runs for seam in pattern.seams if seam.name == task.name), ())
    return all(any(run.piece == name and run.inside for run in runs) for name in names)


def _is_folded(task: Task, piece: PatternPiece) -> bool:
    """Whether a seam goes through two leaves of a piece with a fold between."""
    own = [layer.points for layer in task.layers if layer.piece == piece.name]
    return len(own) > 1 and any(piece.folds_between(*pair) for pair in zip(own[0], own[1], strict=False))
