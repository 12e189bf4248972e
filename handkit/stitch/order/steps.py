"""Steps: the whole order of work, from the first cut to the last wipe of oil, with reasons.

In: everything punched, the seams and openings in order, what closes what. Out: steps.

The frame is the trade's: cut, mark and punch, skive, fold, dye and let dry; then glue, set and
stitch in order, burnishing in time what will be closed in; then trim, burnish the outer edges,
oil and finish last. Glue holds neither on oil nor on finish.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import msgspec

from handkit.draft.pattern import PatternPiece
from handkit.punch.punched import Punched, PunchedSeam
from handkit.read.project import Material, Punching
from handkit.stitch.lists.sentences import set_sentence, sew_sentence
from handkit.stitch.order.edges import EnclosedEdges, edges_along, edges_of, enclosed_edges, named
from handkit.stitch.order.enclosure import Enclosure
from handkit.stitch.order.order import TaskOrder
from handkit.stitch.order.precedence import Precedence
from handkit.stitch.order.tasks import LEATHER, Task, TaskKind, is_plain_hole
from handkit.stitch.plan import OpeningPlan, SeamPlan, Step, StepKind
from handkit.stitch.sewing.stack import to_path
from handkit.wording.quoting import words

_KINDS = {
    TaskKind.GLUE: StepKind.GLUE,
    TaskKind.SEAM: StepKind.SEAM,
    TaskKind.OPENING: StepKind.OPENING,
}


class StepSources(msgspec.Struct, frozen=True):
    """All that the steps are made from."""

    punched: Punched
    ordered: TaskOrder
    enclosures: tuple[Enclosure, ...]
    seams: dict[str, SeamPlan]
    openings: dict[str, OpeningPlan]


def steps(sources: StepSources) -> tuple[Step, ...]:
    """All steps in order."""
    hidden = enclosed_edges(sources.punched.pattern, sources.enclosures, sources.ordered.tasks)
    folds, trims = _late_folds(sources), _trims(sources)
    middle: list[Step] = []
    down = False
    for task in sources.ordered.tasks:
        if not is_plain_hole(task):
            if task.behind != down:
                down = task.behind
                middle.append(_turned(task))
            middle.extend(_burnished_early(closed) for closed in hidden if closed.before is task)
            middle.extend(_fold(piece) for piece, holder in folds if holder is task)
            middle.append(_step_of(sources, task))
            middle.extend(_trim(piece) for piece, last in trims if last is task)
    middle.extend(_trim(piece) for piece, last in trims if last is None)
    return (*_prepared(sources, folds), *middle, *_finished(sources, hidden))


def _prepared(sources: StepSources, late: Sequence[tuple[PatternPiece, Task]]) -> Iterable[Step]:
    """What is done to single pieces."""
    pieces = sources.punched.pattern.pieces
    names = ", ".join(piece.name for piece in pieces)
    leather = any(piece.material in LEATHER for piece in pieces)
    yield Step(
        StepKind.CUT,
        names,
        f"Cut {words(map(_counted, pieces), last='and')}.",
        "templates are laid on the whole hide; best leather for the largest pieces"
        if leather
        else "templates are laid on the whole cloth before the first cut, largest pieces first",
    )
    yield Step(
        StepKind.MARK,
        names,
        "Mark the pieces and punch the holes." + _punched_later(sources.punched.seams),
        "leather is marked and punched before dye and glue, while each piece lies flat"
        if leather
        else "pieces are marked while each lies flat",
    )
    yield from (_step_of(sources, task) for task in sources.ordered.tasks if is_plain_hole(task))
    for piece in pieces:
        for skive in piece.skives:
            edges = named(edges_along(piece, [skive.path]))
            yield Step(
                StepKind.SKIVE,
                piece.name,
                f"Skive {piece.name} along {edges}, {skive.width:g} mm wide, down to {skive.to:g} mm.",
                "thinned edges fold and glue flat",
            )
    for piece in pieces:
        if piece.folds and all(piece is not folded for folded, _ in late):
            yield _fold(piece)
    yield from _dyed(pieces)


def _dyed(pieces: Sequence[PatternPiece]) -> Iterable[Step]:
    leather = [piece.name for piece in pieces if piece.material in LEATHER]
    if leather:
        yield Step(
            StepKind.DYE,
            ", ".join(leather),
            "Dye what is to be dyed, and let it dry. Keep areas to be glued bare of oil and finish.",
            "after it is put together dye no longer reaches everywhere, and it goes under oil and finish",
        )


def _step_of(sources: StepSources, task: Task) -> Step:
    """The step for one task of the order."""
    if task.kind is TaskKind.SEAM:
        what = sew_sentence(sources.seams[task.name])
    elif task.kind is TaskKind.OPENING:
        what = set_sentence(sources.openings[task.name])
    else:
        what = f"Glue {task.name} down on {task.layers[1].piece}, and let it set."
    return Step(_KINDS[task.kind], task.name, what + _noted(task.note), _why(sources.ordered.reasons, task))


def _noted(note: str) -> str:
    """The maker's own note as a sentence."""
    return f" Note: {note.rstrip('.')}." if note else ""


def _turned(task: Task) -> Step:
    down, side = ("down", "from behind") if task.behind else ("up", "from the front")
    return Step(StepKind.TURN, task.name, f"Turn the work over, face {down}.", f"{task} goes on {side}")


def _why(reasons: Sequence[Precedence], task: Task) -> str:
    """Why a task stands where it does."""
    if is_plain_hole(task):
        return "it is cut while the piece lies flat"
    parts = [
        *_reasons_by_task(
            "before",
            ((pair.then, pair.why) for pair in reasons if pair.first is task),
        ),
        *_reasons_by_task("after", ((pair.first, pair.why) for pair in reasons if pair.then is task)),
    ]
    return "; ".join(parts) if parts else "inner pieces first, else as the file lists them"


def _reasons_by_task(word: str, pairs: Iterable[tuple[Task, str]]) -> Iterable[str]:
    """One phrase for each reason, with all tasks it holds for."""
    by_reason: dict[str, list[str]] = {}
    for task, why in pairs:
        by_reason.setdefault(why, []).append(str(task))
    return (f"{word} {words(_few(tasks), last='and')}: {why}" for why, tasks in by_reason.items())


def _few(names: Sequence[str]) -> Sequence[str]:
    """At most three names; the seam's own list has them all."""
    return names if len(names) <= 3 else [*names[:2], f"{len(names) - 2} more"]


def _burnished_early(closed: EnclosedEdges) -> Step:
    return Step(
        StepKind.EDGES,
        closed.piece,
        f"Bevel and burnish {closed.piece} along {named(closed.edges)}.",
        f"after {closed.before} these edges lie close and can't be reached all round",
    )


def _late_folds(sources: StepSources) -> list[tuple[PatternPiece, Task]]:
    """Pieces that are folded and sewn to themselves, each with the first task that holds it.

    They are folded just before, for what lies inside is sewn while they are flat.
    """
    round_it: dict[str, set[Task]] = {}
    for enclosure in sources.enclosures:
        if len(enclosure.pieces) == 2 and len(set(enclosure.pieces)) == 1:
            round_it.setdefault(enclosure.pieces[0], set()).update(enclosure.holders)
    return [
        (piece, next(task for task in sources.ordered.tasks if task in round_it[piece.name]))
        for piece in sources.punched.pattern.pieces
        if piece.folds and piece.name in round_it
    ]


def _fold(piece: PatternPiece) -> Step:
    lines = words((f'"{fold.name}"' for fold in piece.folds), last="and")
    firm = "; damp it first and let it dry in shape" if piece.material is Material.FIRM_LEATHER else ""
    return Step(
        StepKind.FOLD,
        piece.name,
        f"Fold {piece.name} on {lines}{firm}.",
        "a fold is formed before it is glued or stitched",
    )


def _trims(sources: StepSources) -> list[tuple[PatternPiece, Task | None]]:
    """Pieces to trim, each with the last seam along its trimmed edges, None where none is."""
    return [
        (
            piece,
            next((task for task in reversed(sources.ordered.tasks) if _runs_along_trim(task, piece)), None),
        )
        for piece in sources.punched.pattern.pieces
        if piece.trims
    ]


def _runs_along_trim(task: Task, piece: PatternPiece) -> bool:
    near = 1.5 * task.reach  # three insets
    return task.kind is TaskKind.SEAM and any(
        to_path(hole, path) <= near for path in piece.trims for run in task.on(piece.name) for hole in run
    )


def _trim(piece: PatternPiece) -> Step:
    edges = named(edges_along(piece, piece.trims))
    return Step(
        StepKind.TRIM,
        piece.name,
        f"Trim {piece.name} along {edges} to the line.",
        "cut wide and trimmed after stitching, all layers end flush",
    )


def _finished(sources: StepSources, hidden: Sequence[EnclosedEdges]) -> Iterable[Step]:
    """What is left when all is put together."""
    pieces = sources.punched.pattern.pieces
    done = {closed.piece: len(closed.edges) for closed in hidden}
    leather = [piece for piece in pieces if piece.material in LEATHER]
    outer = [piece.name for piece in leather if done.get(piece.name, 0) < len(edges_of(piece))]
    if outer:
        yield Step(
            StepKind.BURNISH,
            ", ".join(outer),
            f"Sand, bevel and burnish the outer edges of {words(outer, last='and')}.",
            "edges of several layers are made one after stitching and trimming",
        )
    if leather:
        names = ", ".join(piece.name for piece in leather)
        oil = "Oil sparingly, let it sink in, then finish; let it dry."
        yield Step(StepKind.FINISH, names, oil, "oil and finish come last: glue holds on neither")
    else:
        names = ", ".join(piece.name for piece in pieces)
        yield Step(StepKind.FINISH, names, "Clip thread ends, brush and press.", "it is looked over last")


def _counted(piece: PatternPiece) -> str:
    return piece.name if piece.quantity == 1 else f"{piece.quantity} x {piece.name}"


def _punched_later(seams: Sequence[PunchedSeam]) -> str:
    through = [seam for seam in seams if seam.stitching.punch is Punching.THROUGH]
    later = [f'"{seam.name}"' for seam in through]
    if not later:
        return ""
    names = words(later, last="and")
    top = "the face layer" if all(seam.whole for seam in through) else "the layer on top at each hole"
    return f" Of {names} only {top} now: the others are punched through it when stitched."
