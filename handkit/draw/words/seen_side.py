"""Seen side: from which side of its face piece a seam is sewn, and its picture drawn.

In: the pattern, a seam. Out: the side; a line for the bench where it is another than the maker has before
them as the work lies: the outside of what is sewn inside out, or what lies face down.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from handkit.draft.pattern import Pattern
from handkit.draw.words.document import Line
from handkit.punch.punched import PunchedSeam
from handkit.read.project import Side
from handkit.stitch.plan import SeamPlan


def seen_side(pattern: Pattern, seam: PunchedSeam) -> Side:
    """The side of the face piece that is outside while it is sewn: not the one that the next layer lies on.
    The one that shows where the file does not tell."""
    face = seam.face.piece
    for upper, lower in pairwise(layer.piece for layer in seam.from_face):
        if upper == face and (met := pattern.faces_met(upper, lower)) is not None:
            return met[0].other
    return pattern.piece(face).shows


def mirrored(pattern: Pattern, seam: PunchedSeam) -> bool:
    """Whether that is not the side that its piece is drawn as seen from."""
    return seen_side(pattern, seam) is not pattern.piece(seam.face.piece).shows


def seen_lines(pattern: Pattern, seams: Sequence[SeamPlan]) -> tuple[Line, ...]:
    """What is told of the picture of some seams, each thing once."""
    texts = dict.fromkeys(_seen(pattern, seam) for seam in seams)
    return tuple(Line("Seen", text) for text in texts if text)


def _seen(pattern: Pattern, seam: SeamPlan) -> str:
    face = pattern.piece(seam.punched.face.piece)
    side = f"the {face.side_words(seen_side(pattern, seam.punched))} of {face.name}"
    if seam.from_behind:
        return f"{side}, which lies down on the bench; in the clamp it is the face"
    return f"{side}, which is outside while this is sewn" if mirrored(pattern, seam.punched) else ""
