"""Task steps: a seam sewn, an opening set, a piece glued down, and why it comes where it does.

In: the sources and a task of the order. Out: its step, and the turning of the work before it.
"""

from __future__ import annotations

from collections.abc import Iterable

from handkit.draft.pattern import Pattern
from handkit.geometry.straight import point_to_line
from handkit.grouping import grouped
from handkit.kinds.openings import OpeningKind
from handkit.read.project import Fitting
from handkit.stitch.lists.sentences import (
    fit_sentence,
    held_words,
    pierce_words,
    set_sentence,
    sew_sentence,
)
from handkit.stitch.order.tasks import Task, TaskKind, is_plain_hole
from handkit.stitch.plan import SeamPlan, Step, StepKind
from handkit.stitch.steps.set_sides import cap_side, side_met
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
    besides: tuple[str, ...] = ()
    more = [each.sentence for each in sources.ordered.hindrances if each.task is task]
    more += [f"Note: {task.note.rstrip('.')}."] * bool(task.note)
    if task.kind is TaskKind.SEAM:
        seam = sources.seams[task.name]
        row = [sources.seams[name] for name in seam.row.seams]
        sides = "" if _told_with_glue(seam) else seam_sides(sources.punched.pattern, seam)
        what = sew_sentence(seam, row)
        more = [sides] * bool(sides) + more
        first = (_sentence(words) for words in (held_words(seam, row), pierce_words(seam)) if words)
        besides = (*first, *more)
    elif task.kind is TaskKind.OPENING:
        pattern, opening = sources.punched.pattern, sources.openings[task.name]
        what = set_sentence(opening, meets=side_met(pattern, opening.pattern))
        side = cap_side(pattern, opening.pattern)
        more = [side] * bool(side) + more
    elif task.kind is TaskKind.FITTING:
        fitting = sources.fitting(task.name)
        what = fit_sentence(fitting, slotted=_slotted(sources.punched.pattern, fitting))
    else:
        base = task.layers[1].piece
        sides = met_words(sources.punched.pattern, task.name, base)
        what = f"Glue {task.name} down on {base}{f', {sides}' if sides else ''}, and let it set."
    what = " ".join((what, *more))
    return Step(_KINDS[task.kind], task.name, what, _why(sources, task), besides)


def _sentence(words: str) -> str:
    return f"{words[0].upper()}{words[1:]}."


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


def _why(sources: StepSources, task: Task) -> str:
    """Why a task stands where it does: each reason is told at the later of its two tasks, and at the earlier
    one only where that has no other, and the next step does not tell it anyway."""
    if is_plain_hole(task):
        return "it is cut while the piece lies flat"
    ordered, reasons = sources.ordered, sources.ordered.told
    after = _reasons_by_task(sources, "after", ((one.first, one.why) for one in reasons if one.then is task))
    follows = ordered.tasks[ordered.tasks.index(task) + 1 :][:1]
    next_told = {one.why for one in reasons if one.first is task and one.then in follows}
    first = ((one.then, one.why) for one in reasons if one.first is task and one.why not in next_told)
    before = _reasons_by_task(sources, "before", first)
    return "; ".join(after or before[:1]) or ordered.chosen[task]


def _reasons_by_task(sources: StepSources, word: str, pairs: Iterable[tuple[Task, str]]) -> list[str]:
    """One phrase for each reason, with all tasks it holds for."""
    by_reason = grouped(pairs, by=lambda pair: pair[1])
    return [
        f"{word} {words(few([sources.named(task) for task, _ in some]), last='and')}: {why}"
        for why, some in by_reason.items()
    ]
