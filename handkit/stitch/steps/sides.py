"""Sides: which side of one layer lies on which side of the next, in words for the bench.

In: the pattern, two pieces or a seam. Out: words, "" where the file does not tell.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

from handkit.draft.pattern import Pattern
from handkit.punch.punched import PunchedLayer, PunchedSeam
from handkit.wording.quoting import words


def met_words(pattern: Pattern, upper: str, lower: str) -> str:
    """Of two pieces, such as "flesh side of pocket on the grain side of back"."""
    met = pattern.faces_met(upper, lower)
    if met is None:
        return ""
    above, below = pattern.piece(upper), pattern.piece(lower)
    return f"{above.side_words(met[0])} of {upper} on the {below.side_words(met[1])} of {lower}"


def seam_sides(pattern: Pattern, seam: PunchedSeam) -> str:
    """A sentence on each two layers of a seam that lie on each other, each told once."""
    told = dict.fromkeys(text for pair in _pairs(seam) if (text := _layers_met(pattern, *pair)))
    if not told:
        return ""
    text = words(told, last="and")
    return f" {text[0].upper()}{text[1:]}."


def _pairs(seam: PunchedSeam) -> Iterable[tuple[PunchedLayer, PunchedLayer]]:
    """Layers that are next to each other at some hole, from the face downwards."""
    return (pair for stack in seam.stacks for pair in pairwise(stack.layers))


def _layers_met(pattern: Pattern, upper: PunchedLayer, lower: PunchedLayer) -> str:
    if upper.piece != lower.piece:
        return met_words(pattern, upper.piece, lower.piece)
    piece = pattern.piece(upper.piece)
    first = next((hole for hole in upper.holes if lower.hole(hole.number) is not None), None)
    mate = lower.hole(first.number) if first is not None else None
    if first is None or mate is None or not piece.folds_between(first.at, mate.at) % 2:
        return ""  # a lap: its ends lie one on the other, the same way up
    return f"{piece.far_side} of {piece.name} inside"
