"""Prepared: what is done to single pieces before any are joined.

In: the sources, pieces. Out: steps: cut, mark and punch, plain holes, skive, dye.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from handkit.draft.pattern import PatternPiece
from handkit.punch.punched import PunchedSeam
from handkit.read.project import Punching
from handkit.stitch.order.edges import edges_along, named
from handkit.stitch.order.tasks import is_plain_hole
from handkit.stitch.plan import Step, StepKind
from handkit.stitch.steps.sources import StepSources
from handkit.stitch.steps.task_steps import step_of
from handkit.wording.quoting import words


def prepared(sources: StepSources) -> Iterable[Step]:
    """Cut, mark and punch, and the holes that are cut in one piece."""
    pieces = sources.pieces
    names = ", ".join(piece.name for piece in pieces)
    leather = any(piece.traits.is_leather for piece in pieces)
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
    yield from (step_of(sources, task) for task in sources.ordered.tasks if is_plain_hole(task))


def skived(pieces: Iterable[PatternPiece]) -> Iterable[Step]:
    """A step for each edge that is thinned."""
    for piece in pieces:
        for skive in piece.skives:
            edges = named(edges_along(piece, [skive.path]))
            yield Step(
                StepKind.SKIVE,
                piece.name,
                f"Skive {piece.name} along {edges}, {skive.width:g} mm wide, down to {skive.to:g} mm.",
                "thinned edges fold and glue flat",
            )


def dyed(pieces: Iterable[PatternPiece]) -> Iterable[Step]:
    """One step for all that is leather."""
    leather = [piece.name for piece in pieces if piece.traits.is_leather]
    if leather:
        yield Step(
            StepKind.DYE,
            ", ".join(leather),
            "Dye what is to be dyed, and let it dry. Keep areas to be glued bare of oil and finish.",
            "after it is put together dye no longer reaches everywhere, and it goes under oil and finish",
        )


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
