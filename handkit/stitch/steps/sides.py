"""Sides: which side of one layer lies on which side of the next, in words for the bench.

In: the pattern, two pieces or a seam. Out: words, "" where the file does not tell.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
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
    told = dict.fromkeys(text for stack in seam.stacks for text in _stack_met(pattern, stack.layers))
    if not told:
        return ""
    text = words(told, last="and")
    return f" {text[0].upper()}{text[1:]}."


def _stack_met(pattern: Pattern, layers: Sequence[PunchedLayer]) -> Iterable[str]:
    """Layers from the face downwards: those that are next to each other, and what is folded round others."""
    names = [layer.piece for layer in layers]
    inside: set[int] = set()  # leaves of folded pieces, and what lies between them
    for upper, layer in enumerate(layers):
        for lower in range(upper + 1, len(layers)):
            if names[lower] == layer.piece and _folded_over(pattern, layer, layers[lower]):
                piece, between = pattern.piece(layer.piece), words(names[upper + 1 : lower], last="and")
                yield f"{piece.far_side} of {piece.name} inside" + f", {between} between its leaves" * bool(
                    between
                )
                inside.update(range(upper, lower))
    for upper, pair in enumerate(pairwise(names)):
        if upper not in inside and pair[0] != pair[1] and (text := met_words(pattern, *pair)):
            yield text


def _folded_over(pattern: Pattern, upper: PunchedLayer, lower: PunchedLayer) -> bool:
    """Whether a piece lies on itself folded; else its ends lap, the same way up."""
    first = next((hole for hole in upper.holes if lower.hole(hole.number) is not None), None)
    mate = lower.hole(first.number) if first is not None else None
    if first is None or mate is None:
        return False
    return pattern.piece(upper.piece).folds_between(first.at, mate.at) % 2 == 1
