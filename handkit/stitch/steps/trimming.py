"""Trimming: what is cut wide is cut to its line after the last seam along it.

In: the sources, a piece. Out: the task after which it is trimmed, and its step.
"""

from __future__ import annotations

from handkit.draft.pattern import PatternPiece
from handkit.stitch.order.edges import edges_along, named
from handkit.stitch.order.tasks import Task, TaskKind
from handkit.stitch.plan import Step, StepKind
from handkit.stitch.steps.sources import StepSources


def trims(sources: StepSources) -> list[tuple[PatternPiece, Task | None]]:
    """Pieces to trim, each with the last seam along its trimmed edges, None where none is."""
    return [
        (
            piece,
            next((task for task in reversed(sources.ordered.tasks) if _runs_along_trim(task, piece)), None),
        )
        for piece in sources.pieces
        if piece.trims
    ]


def trimmed(piece: PatternPiece) -> Step:
    """The step for all trims of a piece."""
    edges = named(edges_along(piece, piece.trims))
    return Step(
        StepKind.TRIM,
        piece.name,
        f"Trim {piece.name} along {edges} to the line.",
        "cut wide and trimmed after stitching, all layers end flush",
    )


def _runs_along_trim(task: Task, piece: PatternPiece) -> bool:
    near = 1.5 * task.reach  # three insets
    return task.kind is TaskKind.SEAM and any(
        path.comes_within(near, hole) for path in piece.trims for run in task.on(piece.name) for hole in run
    )
