"""Finishing: the last steps.

In: pieces. Out: steps.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from handkit.draft.pattern import PatternPiece
from handkit.kinds.materials import FAMILIES, Family
from handkit.stitch.plan import Step, StepKind


def finished(pieces: Sequence[PatternPiece]) -> Iterable[Step]:
    """Cloth is looked over, then leather oiled and finished."""
    named = {
        family: ", ".join(piece.name for piece in pieces if piece.traits.family is family)
        for family in Family
    }
    for family in (Family.CLOTH, Family.LEATHER):
        if named[family]:
            words = FAMILIES[family]
            bare = " Keep oil and finish off the cloth." if words.punched and named[Family.CLOTH] else ""
            yield Step(StepKind.FINISH, named[family], words.finish + bare, words.finish_why)
