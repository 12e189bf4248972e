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

from collections.abc import Iterable, Sequence
from functools import cached_property
from math import ceil

import msgspec

from handkit.draft.pattern import Pattern, PatternPiece
from handkit.geometry.affine import Point
from handkit.geometry.path import Path
from handkit.geometry.straight import distance
from handkit.stitch.order.edges import FLUSH, OutlineEdge
from handkit.stitch.order.tasks import Task, TaskKind
from handkit.tolerances import EDGE_SLACK, SAME_POINT

# An edge is looked at every so many mm, at five places at least.
LOOK = 4.0
LEAST_LOOKS = 5


class MadeOne(msgspec.Struct, frozen=True):
    """With which pieces an edge is made one, after which task; `whole` where it is all along."""

    pieces: tuple[str, ...]
    after: Task
    whole: bool


class _Looked(msgspec.Struct, frozen=True, dict=True, eq=False):
    """An edge of a piece, with the places where it is looked at."""

    piece: PatternPiece
    edge: OutlineEdge
    places: tuple[Point, ...]

    @cached_property
    def parts(self) -> tuple[Path, Path] | None:
        """The edge and the rest of the outline; None where it is all of it."""
        outline, end = self.piece.outline, self.edge.low + self.edge.span
        if self.edge.span >= outline.length - SAME_POINT:
            return None
        rest = outline.between(end, self.edge.low + outline.length)
        return outline.between(self.edge.low, end), rest


def made_one(
    pattern: Pattern, piece: PatternPiece, edge: OutlineEdge, tasks: Sequence[Task]
) -> MadeOne | None:
    """What is known of one edge; None where it is made one with nothing."""
    looked = _Looked(piece, edge, places_of(piece, edge))
    joining = [task for task in tasks if task.kind is not TaskKind.OPENING and piece.name in task.pieces]
    mates = [pattern.piece(name) for name in dict.fromkeys(name for task in joining for name in task.pieces)]
    ending = {mate.name: _ending(pattern, looked, mate) for mate in mates if mate.traits.is_leather}
    flush: set[int] = set()
    found: dict[str, None] = {}
    after = None
    for task in joining:
        for mate in [name for name in dict.fromkeys(task.pieces) if name in ending]:
            at = _flush(pattern, looked, mate, task, ending[mate])
            if at:
                flush |= at
                found[mate] = None
                after = task
    if after is None:
        return None
    listed = tuple(each.name for each in pattern.pieces if each.name in found)
    return MadeOne(listed, after, len(flush) >= len(looked.places) - 2)


def places_of(piece: PatternPiece, edge: OutlineEdge) -> tuple[Point, ...]:
    """Places along an edge, clear of its ends."""
    count = max(LEAST_LOOKS, ceil(edge.span / LOOK))
    length = piece.outline.length
    return tuple(
        piece.outline.point_at((edge.low + edge.span * (k + 0.5) / count) % length) for k in range(count)
    )


def _ending(pattern: Pattern, looked: _Looked, mate: PatternPiece) -> set[int] | None:
    """At which places a bare edge of a mate lies; None where the two don't lie flat together."""
    lie = pattern.carry(looked.piece.name, mate.name)
    if looked.piece is mate or lie is None:
        return None
    return {index for index, at in enumerate(looked.places) if _ends_there(mate, lie.apply(at))}


def _flush(pattern: Pattern, looked: _Looked, mate: str, task: Task, ending: set[int] | None) -> set[int]:
    """Which places of an edge are made one with a mate's by one task."""
    if ending is not None:
        return ending & _beside(looked, mate, task, looked.places) if ending else ending
    piece, samples = looked.piece, looked.edge.samples
    meets = _is_folded(task, piece) if piece.name == mate else task.kind is TaskKind.SEAM
    along = meets and _along_edges(pattern, task, piece.name, mate)
    beside = along and len(_beside(looked, mate, task, samples)) == len(samples)
    return set(range(len(looked.places))) if beside else set()


def _ends_there(mate: PatternPiece, at: Point) -> bool:
    """Whether a bare edge of a piece lies at a place of its frame."""
    turned = any(each.path.distance_to(at) <= FLUSH for each in mate.works)
    return not turned and mate.outline.distance_to(at) <= FLUSH


def _beside(looked: _Looked, mate: str, task: Task, places: Sequence[Point]) -> set[int]:
    """The places beside which a seam has holes of this edge that go through both; all where it is glue."""
    if task.kind is TaskKind.GLUE:
        return set(range(len(places)))
    near = task.reach / 2 + task.pitch
    holes = [hole for run in task.common(looked.piece.name, (mate,)) for hole in run]
    beside = {index: [h for h in holes if distance(at, h) <= near] for index, at in enumerate(places)}
    own = _of_edge(dict.fromkeys(hole for some in beside.values() for hole in some), looked)
    return {index for index, some in beside.items() if any(hole in own for hole in some)}


def _of_edge(holes: Iterable[Point], looked: _Looked) -> set[Point]:
    """The holes that are nearer to an edge than to all others; one at a corner is of neither."""
    if looked.parts is None:
        return set(holes)
    own, rest = looked.parts
    return {hole for hole in holes if own.distance_to(hole) < rest.distance_to(hole) - EDGE_SLACK}


def _along_edges(pattern: Pattern, task: Task, *names: str) -> bool:
    """Whether a seam runs along edges of both pieces."""
    runs = next((seam.runs for seam in pattern.seams if seam.name == task.name), ())
    return all(any(run.piece == name and run.inside for run in runs) for name in names)


def _is_folded(task: Task, piece: PatternPiece) -> bool:
    """Whether a seam goes through two leaves of a piece with a fold between."""
    own = [layer.points for layer in task.layers if layer.piece == piece.name]
    return len(own) > 1 and any(piece.folds_between(*pair) for pair in zip(own[0], own[1], strict=False))
