"""Edge turns: what becomes of each edge of leather, and before or after which task it is finished.

In: the pattern, what closes what, tasks in working order. Out: an `EdgeTurn` for each edge that ends in
a cut.

    single, covered, captive    sand, bevel │ dye with the pieces │ burnish │ sew
    made one, trimmed           sew, trim │ sand level, bevel, dye along the edge, burnish

An edge that is made one in part has a turn for each part: what stays single is not reached all round later.

(Makers' pages agree on the order; common practice.) What is dyed before it is bevelled is left with a bare
core. Edges that are made one and then closed in are finished before the task that closes; those of a strap
before a buckle, a ring or a keeper hangs on it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import msgspec

from handkit.draft.pattern import Pattern, PatternPiece
from handkit.stitch.edges.made_one import MadeOne, made_one, places_of
from handkit.stitch.order.edges import FLUSH, OutlineEdge, bare_edges, edges_along, enclosed_edges
from handkit.stitch.order.enclosure import Enclosure
from handkit.stitch.order.tasks import Task, TaskKind
from handkit.stitch.plan import EdgeState
from handkit.wording.figures import METRIC, Units


class EdgeTurn(msgspec.Struct, frozen=True):
    """One edge or a part of it: `after` is what makes it one with `mates`, `before` what closes it in."""

    piece: str
    edge: OutlineEdge
    state: EdgeState
    mates: tuple[str, ...] = ()
    after: Task | None = None
    before: Task | None = None
    units: Units = METRIC

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
                _turn(_Bare(piece, edge, edge in trimmed, part), one, closed, order)
                for edge in bare_edges(piece)
                for part, one in _parts(piece, edge, made_one(pattern, piece, edge, tasks), edge in trimmed)
            ]
    return tuple(_with_mates(pattern, turn, turns, order) for turn in turns)


class _Bare(msgspec.Struct, frozen=True):
    """An edge that ends in a cut, whether it is trimmed later, and the part of it that is looked at."""

    piece: PatternPiece
    edge: OutlineEdge
    trimmed: bool
    part: OutlineEdge


def _parts(
    piece: PatternPiece, edge: OutlineEdge, ones: Sequence[MadeOne], trimmed: bool
) -> Iterator[tuple[OutlineEdge, MadeOne | None]]:
    """The parts of an edge that are made one, and what lies before, between and behind them; what is
    trimmed is cut as one."""
    if trimmed or not ones:
        yield edge, ones[-1] if ones else None
        return
    done = 0.0
    for one in ones:
        if one.low > done:
            yield edge.between(done, one.low, piece.outline), None
        yield edge.between(one.low, one.high, piece.outline), one
        done = one.high
    if done < edge.span:
        yield edge.between(done, edge.span, piece.outline), None


def _turn(
    bare: _Bare,
    one: MadeOne | None,
    closed: Mapping[tuple[str, OutlineEdge], tuple[Task, bool]],
    order: Mapping[Task, int],
) -> EdgeTurn:
    piece, trimmed, units = bare.piece, bare.trimmed, bare.piece.source.units
    before, mouth = closed.get((piece.name, bare.edge), (None, False))
    if one is None and not trimmed:
        state = EdgeState.SINGLE if before is None else EdgeState.CAPTIVE if mouth else EdgeState.COVERED
        return EdgeTurn(piece.name, bare.part, state, before=before, units=units)
    state = EdgeState.TRIMMED if trimmed else EdgeState.MADE_ONE
    mates, after = (one.pieces, one.after) if one else ((), None)
    in_time = before is not None and after is not None and order[before] > order[after]
    return EdgeTurn(piece.name, bare.part, state, mates, after, before if in_time else None, units)


def _with_mates(
    pattern: Pattern, turn: EdgeTurn, turns: Sequence[EdgeTurn], order: Mapping[Task, int]
) -> EdgeTurn:
    """What is made one is finished at one time: before the first task that closes in any of it, or puts on
    what would be in the way."""
    if not turn.is_late or turn.after is None:
        return turn
    done = order[turn.after]
    closers, lies = list[Task](), dict[str, list[float]]()
    for other in turns:
        if other.before is None or not (other is turn or (other.is_late and other.piece in turn.mates)):
            continue
        if other.piece not in lies:
            lies[other.piece] = _along(pattern, turn, other.piece)
        if other is turn or _meets(lies[other.piece], other.edge, pattern.piece(other.piece).outline.length):
            closers.append(other.before)
    first = min(closers, key=lambda task: order[task], default=turn.after)
    hung = [task for task in order if order[task] > done and _hangs_on(task, (turn.piece, *turn.mates))]
    late = [task for task in (first, *hung) if order[task] > done]
    before = min(late, key=lambda task: order[task], default=None)
    return msgspec.structs.replace(turn, before=before)


def _hangs_on(task: Task, pieces: Sequence[str]) -> bool:
    """Whether it puts a fitting on one of some pieces that a fold or a strap goes round."""
    return task.kind is TaskKind.FITTING and task.bends and task.ground in pieces


def _along(pattern: Pattern, one: EdgeTurn, other: str) -> list[float]:
    """How far along another piece's outline an edge lies at it, from place to place."""
    lie = pattern.carry(one.piece, other)
    if lie is None:
        return []
    there = pattern.piece(other).outline
    points = lie.apply_all(places_of(pattern.piece(one.piece), one.edge))
    return [there.along_of(point) for point in points if there.comes_within(FLUSH, point)]


def _meets(places: Sequence[float], edge: OutlineEdge, length: float) -> bool:
    """Whether one of some places along an outline, so long, is on an edge of it."""
    low, high = edge.low, edge.low + edge.span
    return any(low <= along <= high or low <= along + length <= high for along in places)
