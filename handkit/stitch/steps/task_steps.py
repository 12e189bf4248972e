"""Task steps: a seam sewn, an opening set, a piece glued down, and why it comes where it does.

In: the sources and a task of the order. Out: its step, and the turning of the work before it.
"""

from __future__ import annotations

from collections.abc import Iterable

from handkit.draft.pattern import Pattern
from handkit.geometry.straight import point_to_line
from handkit.kinds.openings import OpeningKind
from handkit.read.project import Fitting
from handkit.stitch.lists.sentences import fit_sentence, set_sentence, sew_sentence
from handkit.stitch.order.order import TaskOrder
from handkit.stitch.order.tasks import Task, TaskKind, is_plain_hole
from handkit.stitch.plan import SeamPlan, Step, StepKind
from handkit.stitch.steps.sides import met_words, seam_sides
from handkit.stitch.steps.sources import StepSources
from handkit.wording.quoting import few, words

_KINDS = {
    TaskKind.GLUE: StepKind.GLUE,
    TaskKind.SEAM: StepKind.SEAM,
    TaskKind.OPENING: StepKind.OPENING,
    TaskKind.FITTING: StepKind.FITTING,
}


def step_of(sources: StepSources, task: Task) -> Step:
    """The step for one task of the order."""
    if task.kind is TaskKind.SEAM:
        seam = sources.seams[task.name]
        sides = "" if _told_with_glue(seam) else seam_sides(sources.punched.pattern, seam)
        what = sew_sentence(seam, [sources.seams[name] for name in seam.row.seams]) + sides
    elif task.kind is TaskKind.OPENING:
        what = set_sentence(sources.openings[task.name])
    elif task.kind is TaskKind.FITTING:
        fitting = sources.fitting(task.name)
        what = fit_sentence(fitting, slotted=_slotted(sources.punched.pattern, fitting))
    else:
        base = task.layers[1].piece
        sides = met_words(sources.punched.pattern, task.name, base)
        what = f"Glue {task.name} down on {base}{f', {sides}' if sides else ''}, and let it set."
    for hindrance in sources.ordered.hindrances:
        if hindrance.task is task:
            what += f" {hindrance.sentence}"
    return Step(_KINDS[task.kind], task.name, what + _noted(task.note), _why(sources.ordered, task))


def _slotted(pattern: Pattern, fitting: Fitting) -> bool:
    """Whether a slot lies across the fold that goes round a fitting."""
    if fitting.on is None or not fitting.traits.by_fold:
        return False
    fold = pattern.piece(fitting.on).fold(fitting.fold)
    return any(
        each.opening.kind is OpeningKind.SLOT
        and any(
            place.piece == fitting.on and point_to_line(place.at, fold.ends) <= each.opening.length / 2
            for place in each.places
        )
        for each in pattern.openings
    )


def _told_with_glue(seam: SeamPlan) -> bool:
    """Whether the sides of all layers are told where the glue goes: nothing is folded round others."""
    pieces = [layer.piece for layer in seam.punched.layers]
    return len(seam.strips) == len(pieces) - 1 == len(set(pieces)) - 1


def turned(pattern: Pattern, task: Task) -> Step:
    """The work is laid the other side up, for a task; the side is that of the piece which the others of the
    task stand on."""
    piece = pattern.piece(task.ground)
    up, side = (piece.shows.other, "from behind") if task.behind else (piece.shows, "from the front")
    what = f"Turn the work over, {piece.side_words(up)} of {piece.name} up."
    done = "goes on" if task.kind is not TaskKind.OPENING or task.hardware else "is cut"
    return Step(StepKind.TURN, task.name, what, f"{task} {done} {side}")


def _noted(note: str) -> str:
    """The maker's own note as a sentence."""
    return f" Note: {note.rstrip('.')}." if note else ""


def _why(ordered: TaskOrder, task: Task) -> str:
    """Why a task stands where it does."""
    reasons = ordered.reasons
    if is_plain_hole(task):
        return "it is cut while the piece lies flat"
    parts = [
        *_reasons_by_task(
            "before",
            ((pair.then, pair.why) for pair in reasons if pair.first is task),
        ),
        *_reasons_by_task("after", ((pair.first, pair.why) for pair in reasons if pair.then is task)),
    ]
    return "; ".join(parts) if parts else ordered.chosen[task]


def _reasons_by_task(word: str, pairs: Iterable[tuple[Task, str]]) -> Iterable[str]:
    """One phrase for each reason, with all tasks it holds for."""
    by_reason: dict[str, list[str]] = {}
    for task, why in pairs:
        by_reason.setdefault(why, []).append(str(task))
    return (f"{word} {words(few(tasks), last='and')}: {why}" for why, tasks in by_reason.items())
