"""Folding: when a piece is folded, and how.

In: the sources, a piece. Out: the tasks before which its folds are folded, and their steps.
"""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from handkit.draft.pattern import PatternFold, PatternPiece
from handkit.grouping import grouped
from handkit.kinds.edge_works import EdgeWork
from handkit.kinds.fittings import FittingKind
from handkit.stitch.order.fitting_order import closers_of
from handkit.stitch.order.shutting import Shutting, shutting_of
from handkit.stitch.order.tasks import Task, TaskKind, is_plain_hole
from handkit.stitch.plan import Step, StepKind
from handkit.stitch.steps.sources import StepSources
from handkit.wording.quoting import words

FORMED_FIRST = "a fold is formed before it is glued or stitched"
COVERED = "it lies open until {} is done: folded it would lie over the holes"
FLAT = "it lies open until {} is done: that is worked while it is flat"
HEMMED = "its edges are turned, and sewn, while it lies flat"
DRY_FIRST = "leather that is damped is formed, and dry, before metal lies in it"


class LateFolds(msgspec.Struct, frozen=True):
    """Folds of a piece that are folded just before a task, or after all of them; and why so late."""

    piece: PatternPiece
    folds: tuple[PatternFold, ...]
    before: Task | None
    why: str = FORMED_FIRST


def late_folds(sources: StepSources) -> tuple[LateFolds, ...]:
    """The folds of pieces that are folded and held so, each with the first task that holds it.

    They are folded just before, for what lies inside is sewn while they are flat; what a fold goes round, and
    a keeper on both leaves, goes on when they are folded. A fold that nothing closes is folded with the first
    of its piece; where nothing closes any of a base's, once all is done that its leaves would lie over. What
    has edges turned is folded once they are, and once what is sewn on it alone is, and what lies on it.
    """
    round_it: dict[str, set[Task]] = {}
    for enclosure in sources.enclosures:
        if len(enclosure.pieces) == 2 and len(set(enclosure.pieces)) == 1:
            round_it.setdefault(enclosure.pieces[0], set()).update(enclosure.holders)
    shutting = shutting_of(sources.punched.pattern, sources.ordered.tasks)
    found: list[LateFolds] = []
    for piece in sources.pieces:
        if piece.folds and piece.name in round_it:
            found += _late(sources, piece, round_it[piece.name])
        elif piece.bends and shutting is not None and (shut := [*_shut(sources, piece, shutting)]):
            found += shut
        elif piece.folds and any(each.work.work is not EdgeWork.ALLOWANCE for each in piece.works):
            found.append(LateFolds(piece, piece.folds, _joined(sources, piece), HEMMED))
    return tuple(found)


def _joined(sources: StepSources, piece: PatternPiece) -> Task | None:
    """The first task that joins a piece to another; a tab or a strap that lies on it goes on before that one
    while it is flat, where it is joined to anything else at all."""
    joins = [task for task in sources.ordered.tasks if {piece.name} < set(task.pieces)]
    borne = {each.name for each in sources.pieces if each.on == piece.name}
    return next((task for task in joins if set(task.pieces) - {piece.name} - borne), next(iter(joins), None))


def _shut(sources: StepSources, piece: PatternPiece, shutting: Shutting) -> Iterator[LateFolds]:
    """The folds of a piece that others hold shut, or else that nothing does: a base with a leaf that comes
    over the rest lies open until all that goes through it is done, and all that the leaf would lie over."""
    order = sources.ordered.tasks
    closers = {shutting.shut_by(piece, bend, order) for bend in range(len(piece.bends))} - {None}
    over = {each.task for each in shutting.over if each.leaf[0] == piece.name}
    leaf = piece.on is None and any(panel.turned for panel in piece.panels)
    worked = [k for k, task in enumerate(order) if task in over or (leaf and _works(task, piece))]
    if closers:
        yield LateFolds(piece, piece.folds, next(task for task in order if task in closers))
    elif worked:
        last = worked[-1]
        following = (task for task in order[last + 1 :] if not is_plain_hole(task))
        why = COVERED if order[last] in over else FLAT
        yield LateFolds(piece, piece.folds, next(following, None), why.format(order[last]))


def _works(task: Task, piece: PatternPiece) -> bool:
    """Whether a task wants a piece flat: whatever is sewn, set or glued on it."""
    return task.kind is not TaskKind.FITTING and not is_plain_hole(task) and piece.name in task.pieces


def _late(sources: StepSources, piece: PatternPiece, round_it: set[Task]) -> Iterator[LateFolds]:
    """The folds of one piece, by what holds them."""
    holders = {
        fold: [
            task
            for task in sources.ordered.tasks
            if (task in round_it and closers_of(piece, fold.name, [task]))
            or on_fold(sources, task, piece.name, fold.name)
        ]
        for fold in piece.folds
    }
    any_first = next(task for task in sources.ordered.tasks if task in round_it)
    for first, folds in grouped(piece.folds, by=lambda fold: [*holders[fold], any_first][0]).items():
        fitted = piece.traits.damped and all(
            on_fold(sources, first, piece.name, fold.name, round_it=True) for fold in folds
        )
        yield LateFolds(piece, tuple(folds), first, DRY_FIRST if fitted else FORMED_FIRST)


def on_fold(sources: StepSources, task: Task, piece: str, fold: str, *, round_it: bool = False) -> bool:
    """Whether a task puts a fitting on a piece's fold: a keeper on both its leaves, or what it goes round."""
    if task.kind is not TaskKind.FITTING:
        return False
    fitting = sources.fitting(task.name)
    sits = fitting.kind is FittingKind.KEEPER and not round_it
    return (sits or fitting.traits.by_fold) and fitting.on == piece and fitting.fold == fold


def folded(piece: PatternPiece) -> Step:
    """The step for all folds of a piece."""
    return folded_late(LateFolds(piece, piece.folds, None))


def folded_late(late: LateFolds) -> Step:
    """The step for fold lines of a piece."""
    piece = late.piece
    named = ((f'"{fold.name}"', piece.fold_words(fold)) for fold in late.folds)
    lines = words((f"{name} ({how})" if how else name for name, how in named), last="and")
    firm = "; damp it first and let it dry in shape" if piece.traits.damped else ""
    alone = any(fold.out is None for fold in late.folds)  # a line tells no more: its piece's note does
    note = f" Note: {piece.note.rstrip('.')}." if alone and piece.note else ""
    return Step(StepKind.FOLD, piece.name, f"Fold {piece.name} on {lines}{firm}.{note}", late.why)
