"""Edge steps: what is single is bevelled, dyed, burnished, then sewn; what is made one is finished after.

In: what becomes of each edge, the steps as they stand in the end. Out: steps; the rows of the edge plan.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from handkit.grouping import grouped
from handkit.stitch.edges.edge_turns import EdgeTurn
from handkit.stitch.order.edges import named
from handkit.stitch.order.tasks import Task, TaskKind
from handkit.stitch.plan import EdgeAction, EdgeFinish, EdgeRow, Step, StepKind
from handkit.wording.edge_names import WHOLE_EDGE
from handkit.wording.quoting import few, words


def bevelled(turns: Iterable[EdgeTurn]) -> Iterable[Step]:
    """One step, before the dye, for all edges that stay single."""
    early = [turn for turn in turns if not turn.is_late]
    if early:
        yield Step(
            StepKind.BEVEL,
            _pieces(early),
            f"Sand and bevel, while each piece is single: {_listed(early)}.",
            "edges are bevelled before they are dyed: a bevel cut later is bare",
        )


def burnished(turns: Iterable[EdgeTurn]) -> Iterable[Step]:
    """One step, after the dye, for the same edges."""
    early = [turn for turn in turns if not turn.is_late]
    if early:
        closers = dict.fromkeys(str(turn.before) for turn in early if turn.before is not None)
        held = (
            f"; after {words(few(list(closers)), last='and')} some lie close and can't be reached all round"
        )
        yield Step(
            StepKind.EDGES,
            _pieces(early),
            f"Burnish the bevelled edges of {words(_names(early), last='and')}.",
            "edges that stay single are finished before they are sewn" + held * bool(closers),
        )


def made_one_before(turns: Iterable[EdgeTurn], task: Task) -> Iterable[Step]:
    """What was made one and will be closed in by a task."""
    due = [turn for turn in turns if turn.is_late and turn.before is task]
    if due:
        hung = task.kind is TaskKind.FITTING
        late = (
            f"before {task} hangs in the way"
            if hung
            else f"; after {task} these edges can't be reached all round"
        )
        why = f"what is joined is sanded into one{' ' * hung}{late}"
        yield Step(StepKind.EDGES, _pieces(due), _finish(due), why)


def burnished_last(turns: Iterable[EdgeTurn]) -> Iterable[Step]:
    """One step for all edges that are left when the pieces are joined."""
    due = [turn for turn in turns if turn.is_late and turn.before is None]
    if due:
        why = (
            "edges of several layers are made one after stitching and trimming, and what is bevelled then is "
            "bare: it is dyed again"
        )
        yield Step(StepKind.BURNISH, _pieces(due), _finish(due), why)


def edge_rows(turns: Sequence[EdgeTurn], steps: Sequence[Step]) -> tuple[EdgeRow, ...]:
    """The edge plan: edges of one piece that are finished alike are one row."""
    alike = grouped(
        turns,
        by=lambda turn: (turn.piece, turn.state, turn.mates, turn.edge.part is None, turn.after, turn.before),
    )
    return tuple(_row(some, turns, steps) for some in alike.values())


def _row(alike: Sequence[EdgeTurn], turns: Sequence[EdgeTurn], steps: Sequence[Step]) -> EdgeRow:
    first = alike[0]
    return EdgeRow(
        first.piece,
        tuple((turn.edge.start, turn.edge.end) for turn in alike),
        first.state,
        first.mates,
        first.after.name if first.after else "",
        first.before.name if first.before else "",
        tuple(_actions(first, turns, steps)),
        tuple(turn.edge.part for turn in alike),
    )


def _actions(turn: EdgeTurn, turns: Sequence[EdgeTurn], steps: Sequence[Step]) -> Iterable[EdgeAction]:
    """Each work with the number of its step."""
    if turn.is_late:
        (step,) = made_one_before(turns, turn.before) if turn.before else burnished_last(turns)
        yield from (EdgeAction(work, _number(steps, step)) for work in EdgeFinish)
        return
    (bevel,), (burnish,) = bevelled(turns), burnished(turns)
    dye = next(step for step in steps if step.kind is StepKind.DYE)
    for work, step in zip(EdgeFinish, (bevel, bevel, dye, burnish), strict=True):
        yield EdgeAction(work, _number(steps, step))


def _number(steps: Sequence[Step], step: Step) -> int:
    return steps.index(step) + 1


def _finish(due: Sequence[EdgeTurn]) -> str:
    """All that is done to edges after the pieces are joined."""
    return f"Sand level, bevel both sides, dye along the edge and burnish: {_listed(due)}."


def _listed(turns: Iterable[EdgeTurn]) -> str:
    """Pieces with their edges; those with the same letters together."""
    by_piece = grouped(turns, by=lambda turn: turn.piece)
    edges = {piece: named((turn.edge for turn in some), some[0].units) for piece, some in by_piece.items()}
    alike = grouped(edges, by=lambda piece: edges[piece])
    where = {letters: "all round" if letters == WHOLE_EDGE else f"along {letters}" for letters in alike}
    return "; ".join(f"{words(pieces, last='and')} {where[letters]}" for letters, pieces in alike.items())


def _names(turns: Iterable[EdgeTurn]) -> Iterable[str]:
    return dict.fromkeys(turn.piece for turn in turns)


def _pieces(turns: Iterable[EdgeTurn]) -> str:
    return ", ".join(_names(turns))
