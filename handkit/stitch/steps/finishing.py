"""Finishing: the last steps.

In: pieces. Out: steps.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from handkit.draft.pattern import PatternPiece
from handkit.stitch.plan import Step, StepKind


def finished(pieces: Sequence[PatternPiece]) -> Iterable[Step]:
    """Oil and finish for leather; cloth is looked over, before leather is oiled."""
    leather = [piece for piece in pieces if piece.traits.is_leather]
    cloth = [piece for piece in pieces if not piece.traits.is_leather]
    if cloth:
        names = ", ".join(piece.name for piece in cloth)
        yield Step(StepKind.FINISH, names, "Clip thread ends, brush and press.", "it is looked over last")
    if leather:
        names = ", ".join(piece.name for piece in leather)
        oil = "Oil sparingly, let it sink in, then finish; let it dry."
        bare = " Keep oil and finish off the cloth." if cloth else ""
        yield Step(StepKind.FINISH, names, oil + bare, "oil and finish come last: glue holds on neither")
