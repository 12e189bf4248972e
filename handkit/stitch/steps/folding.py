"""Folding: when a piece is folded, and how.

In: the sources, a piece. Out: the task before which it is folded, and its step.
"""

from __future__ import annotations

from handkit.draft.pattern import PatternPiece
from handkit.kinds.fittings import FittingKind
from handkit.stitch.order.tasks import Task, TaskKind
from handkit.stitch.plan import Step, StepKind
from handkit.stitch.steps.sources import StepSources
from handkit.wording.quoting import words


def late_folds(sources: StepSources) -> dict[str, Task]:
    """Pieces that are folded and sewn to themselves, by name, each with the first task that holds it.

    They are folded just before, for what lies inside is sewn while they are flat; a keeper on both
    leaves goes on when they are folded.
    """
    round_it: dict[str, set[Task]] = {}
    for enclosure in sources.enclosures:
        if len(enclosure.pieces) == 2 and len(set(enclosure.pieces)) == 1:
            round_it.setdefault(enclosure.pieces[0], set()).update(enclosure.holders)
    for name, holders in round_it.items():
        holders.update(task for task in sources.ordered.tasks if sits_on_fold(sources, task, name))
    return {
        piece.name: next(task for task in sources.ordered.tasks if task in round_it[piece.name])
        for piece in sources.pieces
        if piece.folds and piece.name in round_it
    }


def sits_on_fold(sources: StepSources, task: Task, piece: str) -> bool:
    """Whether a task puts a keeper on both leaves of a piece's fold."""
    if task.kind is not TaskKind.FITTING:
        return False
    fitting = sources.fitting(task.name)
    return fitting.kind is FittingKind.KEEPER and fitting.on == piece and bool(fitting.fold)


def folded(piece: PatternPiece) -> Step:
    """The step for all fold lines of a piece."""
    named = ((f'"{fold.name}"', piece.fold_words(fold)) for fold in piece.folds)
    lines = words((f"{name} ({how})" if how else name for name, how in named), last="and")
    firm = "; damp it first and let it dry in shape" if piece.traits.damped else ""
    return Step(
        StepKind.FOLD,
        piece.name,
        f"Fold {piece.name} on {lines}{firm}.",
        "a fold is formed before it is glued or stitched",
    )
