"""Prepared: what is done to single pieces before any are joined.

In: the sources, pieces. Out: steps: cut, mark and punch, plain holes, skive, dye.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from handkit.draft.pattern import PatternPiece
from handkit.kinds.materials import FAMILIES
from handkit.read.project import Punching
from handkit.stitch.order.edges import edges_along, named
from handkit.stitch.order.tasks import is_plain_hole
from handkit.stitch.plan import Step, StepKind
from handkit.stitch.steps.sources import StepSources
from handkit.stitch.steps.task_steps import step_of
from handkit.wording.figures import Units
from handkit.wording.quoting import words


def prepared(sources: StepSources) -> Iterable[Step]:
    """Cut, mark and punch, and the holes that are cut in one piece."""
    pieces = sources.pieces
    names = ", ".join(piece.name for piece in pieces)
    leather = [piece for piece in pieces if piece.traits.is_leather]
    cloth = [piece for piece in pieces if not piece.traits.is_leather]
    families = [FAMILIES[family] for family in sources.punched.pattern.families]
    yield Step(
        StepKind.CUT,
        names,
        f"Cut {words(map(_counted, pieces), last='and')}.",
        "; ".join(family.laid for family in families),
    )
    yield Step(
        StepKind.MARK,
        names,
        _marked(leather, cloth) + _later(sources) + _when_turned(leather),
        "; ".join(family.marked for family in families),
    )
    yield from (step_of(sources, task) for task in sources.ordered.tasks if is_plain_hole(task))


def skived(pieces: Iterable[PatternPiece], units: Units) -> Iterable[Step]:
    """A step for each edge that is thinned."""
    for piece in pieces:
        for skive in piece.skives:
            edges = named(edges_along(piece, [skive.path]))
            yield Step(
                StepKind.SKIVE,
                piece.name,
                f"Skive {piece.name} along {edges} on the {piece.far_side}, {units.text(skive.width)} wide, "
                f"down to {units.thickness(skive.to)}.",
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


def _marked(leather: Sequence[PatternPiece], cloth: Sequence[PatternPiece]) -> str:
    """What is punched, and what is only marked."""
    if not cloth:
        return "Mark the pieces and punch the holes."
    if not leather:
        return "Mark the pieces, and the stitch holes with chalk or a soft pencil: never punch them."
    punched, only_marked = (words((piece.name for piece in some), last="and") for some in (leather, cloth))
    return (
        f"Mark the pieces. Punch the holes of {punched}; those of {only_marked} only mark, with chalk or a "
        "soft pencil: never punch them."
    )


def _later(sources: StepSources) -> str:
    """Layers that are not marked at all: they are pierced through what lies on them."""
    through = [seam for seam in sources.punched.seams if seam.stitching.punch is Punching.THROUGH]
    later = [f'"{seam.name}"' for seam in through]
    if not later:
        return ""
    names = words(later, last="and")
    top = "the face layer" if all(seam.whole for seam in through) else "the layer on top at each hole"
    cloth = any(sources.seams[seam.name].marked for seam in through)
    pierced = "pierced" if cloth else "punched"
    return f" Of {names} only {top} now: the others are {pierced} through it when stitched."


def _when_turned(leather: Iterable[PatternPiece]) -> str:
    """Leather that will be double at a turned edge is punched through both."""
    turned = [
        f"{each.work.edges} of {piece.name}"
        for piece in leather
        for each in piece.works
        if each.work.traits.turned
    ]
    return f" Along {words(turned, last='and')} punch only when that is turned." if turned else ""
