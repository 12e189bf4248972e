"""Steps: the whole order of work, from the first cut to the last wipe of oil, with reasons.

In: the sources. Out: steps.

The frame is the trade's: cut, mark and punch, skive, bevel what stays single, fold, dye and let dry, burnish
that, turn and bind edges; then glue, set and stitch in order, finishing in time what will be closed in;
then trim, make edges of several layers one, pass a tie through its eyelet, oil and finish last: glue holds
neither on oil nor on finish. A strap that hangs by nothing is put through its slots after that.

A new kind of step is a module beside this one and a line here: in front of the tasks, at one of
them, or after all of them.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import msgspec

from handkit.stitch.edges.edge_turns import EdgeTurn, edge_turns
from handkit.stitch.order.tasks import is_plain_hole
from handkit.stitch.order.turning import turned_for
from handkit.stitch.plan import EdgeRow, Step
from handkit.stitch.steps.edge_steps import bevelled, burnished, burnished_last, edge_rows, made_one_before
from handkit.stitch.steps.finishing import finished
from handkit.stitch.steps.folding import folded, folded_late, late_folds
from handkit.stitch.steps.hemming import allowances, hemmed, opened, sealed
from handkit.stitch.steps.prepared import dyed, prepared, skived
from handkit.stitch.steps.sources import StepSources
from handkit.stitch.steps.task_steps import step_of, turned
from handkit.stitch.steps.threading import hung_last, threaded
from handkit.stitch.steps.trimming import trimmed, trims
from handkit.stitch.steps.turned_out import inside_out, turned_out
from handkit.stitch.steps.zips import zip_shortened, zips_opened


def steps(sources: StepSources) -> tuple[tuple[Step, ...], tuple[EdgeRow, ...]]:
    """All steps in order, and the plan of edges, which names their numbers."""
    turns = edge_turns(sources.punched.pattern, sources.enclosures, sources.ordered.tasks)
    numbers = {step: number for number, step in enumerate(_all(sources, turns), start=1)}
    own = ((task, numbers.get(step_of(sources, task))) for task in sources.ordered.tasks)
    by_task = {task: number for task, number in own if number is not None}
    found = tuple(_all(msgspec.structs.replace(sources, numbers=by_task), turns))
    return found, edge_rows(turns, found)


def _all(sources: StepSources, turns: Sequence[EdgeTurn]) -> Iterable[Step]:
    tasks, pieces = sources.ordered.tasks, sources.pieces
    late, to_trim = late_folds(sources), trims(sources)
    to_open, to_turn = allowances(sources), inside_out(sources)
    yield from prepared(sources)
    yield from sealed(pieces)
    yield from skived(pieces, sources.punched.project.units)
    yield from bevelled(turns)
    waiting = {each.piece.name for each in late}
    yield from (folded(piece) for piece in pieces if piece.folds and piece.name not in waiting)
    yield from dyed(pieces)
    yield from burnished(turns)
    yield from hemmed(sources)
    over, hanging = turned_for(tasks), hung_last(sources)
    for task in tasks:
        if not is_plain_hole(task) and task not in hanging:
            if task in over:
                yield turned(sources.punched.pattern, task)
            yield from made_one_before(turns, task)
            yield from (folded_late(each) for each in late if each.before is task)
            yield from zip_shortened(sources, task)
            yield from zips_opened(sources, task)
            yield step_of(sources, task)
            yield from (trimmed(piece) for piece, last in to_trim if last is task)
            yield from (opened(sources, piece, work) for piece, work, last in to_open if last is task)
            yield from (turned_out(part) for part, last in to_turn if last is task)
    yield from (folded_late(each) for each in late if each.before is None)
    yield from (trimmed(piece) for piece, last in to_trim if last is None)
    yield from burnished_last(turns)
    for task in hanging:
        yield from (folded_late(each) for each in late if each.before is task)
        yield step_of(sources, task)
    yield from finished(pieces)
    yield from threaded(sources)
