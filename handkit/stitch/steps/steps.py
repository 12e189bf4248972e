"""Steps: the whole order of work, from the first cut to the last wipe of oil, with reasons.

In: the sources. Out: steps.

The frame is the trade's: cut, mark and punch, skive, fold, dye and let dry, turn and bind edges; then
glue, set and stitch in order, burnishing in time what will be closed in; then trim, burnish the outer
edges, oil and finish last. Glue holds neither on oil nor on finish.

A new kind of step is a module beside this one and a line here: in front of the tasks, at one of
them, or after all of them.
"""

from __future__ import annotations

from collections.abc import Iterable

from handkit.stitch.order.edges import enclosed_edges
from handkit.stitch.order.tasks import is_plain_hole
from handkit.stitch.plan import Step
from handkit.stitch.steps.edge_steps import burnished_early, burnished_last
from handkit.stitch.steps.finishing import finished
from handkit.stitch.steps.folding import folded, late_folds
from handkit.stitch.steps.hemming import allowances, hemmed, opened, sealed
from handkit.stitch.steps.prepared import dyed, prepared, skived
from handkit.stitch.steps.sources import StepSources
from handkit.stitch.steps.task_steps import step_of, turned
from handkit.stitch.steps.trimming import trimmed, trims


def steps(sources: StepSources) -> tuple[Step, ...]:
    """All steps in order."""
    return tuple(_all(sources))


def _all(sources: StepSources) -> Iterable[Step]:
    tasks, pieces = sources.ordered.tasks, sources.pieces
    hidden = enclosed_edges(sources.punched.pattern, sources.enclosures, tasks)
    late, to_trim = late_folds(sources), trims(sources)
    yield from prepared(sources)
    yield from sealed(pieces)
    yield from skived(pieces)
    yield from (folded(piece) for piece in pieces if piece.folds and piece.name not in late)
    yield from dyed(pieces)
    yield from hemmed(pieces)
    down = False
    for task in tasks:
        if not is_plain_hole(task):
            if task.behind != down:
                down = task.behind
                yield turned(task)
            yield from (burnished_early(closed) for closed in hidden if closed.before is task)
            yield from (folded(piece) for piece in pieces if late.get(piece.name) is task)
            yield step_of(sources, task)
            yield from (trimmed(piece) for piece, last in to_trim if last is task)
            yield from (opened(piece, work) for piece, work, last in allowances(sources) if last is task)
    yield from (trimmed(piece) for piece, last in to_trim if last is None)
    yield from burnished_last(pieces, hidden)
    yield from finished(pieces)
