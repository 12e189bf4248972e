"""Edge turns: what becomes of each edge of leather, and before or after which task it is finished.

In: the pattern, what closes what, tasks in working order. Out: an `EdgeTurn` for each edge that ends in
a cut.

    single, covered, captive    sand, bevel │ dye with the pieces │ burnish │ sew
    made one, trimmed           sew, trim │ sand level, bevel, dye along the edge, burnish

(Makers' pages agree on the order; common practice.) What is dyed before it is bevelled is left with a bare
core. Edges that are made one and then closed in are finished before the task that closes.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import msgspec

from handkit.draft.pattern import Pattern, PatternPiece
from handkit.stitch.edges.made_one import MadeOne, made_one, places_of
from handkit.stitch.order.edges import FLUSH, OutlineEdge, bare_edges, edges_along, enclosed_edges
from handkit.stitch.order.enclosure import Enclosure
from handkit.stitch.order.tasks import Task
from handkit.stitch.plan import EdgeState


class EdgeTurn(msgspec.Struct, frozen=True):
    """One edge: `after` is what makes it one with `mates`, `before` what closes it in."""

    piece: str
    edge: OutlineEdge
    state: EdgeState
    mates: tuple[str, ...] = ()
    whole: bool = True  # made one all along; else the rest of it stays single
    after: Task | None = None
    before: Task | None = None

    @property
    def is_late(self) -> bool:
        """Whether it is sanded and bevelled after pieces are joined."""
        return self.state in (EdgeState.MADE_ONE, EdgeState.TRIMMED)


def edge_turns(
    pattern: Pattern, enclosures: Sequence[Enclosure], tasks: Sequence[Task]
) -> tuple[EdgeTurn, ...]:
    """Every bare edge of leather, by piece and letters. `tasks` are in working order."""
    order = {task: index for index, task in enumerate(tasks)}
    closed = enclosed_edges(pattern, enclosures, tasks)
    turns = []
    for piece in pattern.pieces:
        if piece.traits.is_leather:
            trimmed = frozenset(edges_along(piece, piece.trims)) if piece.trims else frozenset()
            turns += [
                _turn(
                    _Bare(piece, edge, edge in trimmed), made_one(pattern, piece, edge, tasks), closed, order
                )
                for edge in bare_edges(piece)
            ]
    return tuple(_with_mates(pattern, turn, turns, order) for turn in turns)


class _Bare(msgspec.Struct, frozen=True):
    """An edge that ends in a cut, and whether it is trimmed later."""

    piece: PatternPiece
    edge: OutlineEdge
    trimmed: bool


def _turn(
    bare: _Bare,
    one: MadeOne | None,
    closed: Mapping[tuple[str, OutlineEdge], tuple[Task, bool]],
    order: Mapping[Task, int],
) -> EdgeTurn:
    piece, edge, trimmed = bare.piece, bare.edge, bare.trimmed
    before, mouth = closed.get((piece.name, edge), (None, False))
    if one is None and not trimmed:
        state = EdgeState.SINGLE if before is None else EdgeState.CAPTIVE if mouth else EdgeState.COVERED
        return EdgeTurn(piece.name, edge, state, before=before)
    state = EdgeState.TRIMMED if trimmed else EdgeState.MADE_ONE
    mates, whole, after = (one.pieces, one.whole, one.after) if one else ((), True, None)
    in_time = before is not None and after is not None and order[before] > order[after]
    return EdgeTurn(piece.name, edge, state, mates, whole, after, before if in_time else None)


def _with_mates(
    pattern: Pattern, turn: EdgeTurn, turns: Sequence[EdgeTurn], order: Mapping[Task, int]
) -> EdgeTurn:
    """What is made one is finished at one time: before the first task that closes in any of it."""
    if not turn.is_late:
        return turn
    closers = [
        other.before
        for other in turns
        if other is turn or (other.is_late and other.piece in turn.mates and _meet(pattern, turn, other))
        if other.before is not None
    ]
    if turn.after is None or not closers:
        return turn
    first = min(closers, key=lambda task: order[task])
    late = order[first] > order[turn.after]
    return msgspec.structs.replace(turn, before=first if late else None)


def _meet(pattern: Pattern, one: EdgeTurn, other: EdgeTurn) -> bool:
    """Whether two edges lie on one another in part."""
    lie = pattern.carry(one.piece, other.piece)
    if lie is None:
        return False
    there = pattern.piece(other.piece).outline
    length, low = there.length, other.edge.low
    high = low + other.edge.span
    for at in places_of(pattern.piece(one.piece), one.edge):
        point = lie.apply(at)
        if there.distance_to(point) <= FLUSH:
            along = there.along_of(point)
            if low <= along <= high or low <= along + length <= high:
                return True
    return False
