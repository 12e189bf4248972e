"""Finishing: the last step.

In: pieces. Out: a step.
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.draft.pattern import PatternPiece
from handkit.stitch.plan import Step, StepKind


def finished(pieces: Sequence[PatternPiece]) -> Step:
    """Oil and finish for leather; without any, the work is looked over."""
    leather = [piece for piece in pieces if piece.traits.is_leather]
    if leather:
        names = ", ".join(piece.name for piece in leather)
        oil = "Oil sparingly, let it sink in, then finish; let it dry."
        return Step(StepKind.FINISH, names, oil, "oil and finish come last: glue holds on neither")
    names = ", ".join(piece.name for piece in pieces)
    return Step(StepKind.FINISH, names, "Clip thread ends, brush and press.", "it is looked over last")
