"""Sides: which side of one layer lies on which side of the next, in words for the bench.

In: the pattern, two pieces or a seam. Out: words, "" where the file does not tell.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from handkit.draft.pattern import Pattern
from handkit.punch.punched import PunchedLayer
from handkit.read.project import Side
from handkit.stitch.plan import LayersMet, SeamPlan
from handkit.stitch.sewing.layers_met import inner_side, leaves
from handkit.wording.quoting import words


def met_words(pattern: Pattern, upper: str, lower: str) -> str:
    """Of two pieces, such as "flesh side of pocket on the grain side of back"."""
    met = pattern.faces_met(upper, lower)
    return _met(pattern, (upper, met[0]), (lower, met[1])) if met is not None else ""


def seam_sides(pattern: Pattern, seam: SeamPlan) -> str:
    """A sentence on each two layers of a seam that lie on each other, each told once."""
    runs = [stack.layers for stack in seam.punched.stacks]
    told = dict.fromkeys(
        [
            *(text for layers in runs for text in _folded(pattern, layers)),
            *(_pair(pattern, met) for met in seam.met if not any(_inside(pattern, met, s) for s in runs)),
        ]
    )
    told.pop("", None)
    if not told:
        return ""
    text = words(told, last="and")
    return f" {text[0].upper()}{text[1:]}."


def _folded(pattern: Pattern, layers: Sequence[PunchedLayer]) -> Iterable[str]:
    """Leaves of a folded piece, and what lies between them."""
    for a, b in leaves(pattern, layers):
        piece = pattern.piece(layers[a].piece)
        between = words((layer.piece for layer in layers[a + 1 : b]), last="and")
        inner = piece.side_words(inner_side(pattern, layers, a, b))
        yield f"{inner} of {piece.name} inside" + f", {between} between its leaves" * bool(between)


def _inside(pattern: Pattern, met: LayersMet, layers: Sequence[PunchedLayer]) -> bool:
    """Whether two layers lie between leaves, or are leaves: told with the fold."""
    runs = [layer.run for layer in layers]
    if met.upper_run not in runs or met.lower_run not in runs:
        return False
    first = runs.index(met.upper_run)
    return any(a <= first < b for a, b in leaves(pattern, layers))


def _pair(pattern: Pattern, met: LayersMet) -> str:
    if met.upper_side is None or met.lower_side is None or met.upper == met.lower:
        return ""
    return _met(pattern, (met.upper, met.upper_side), (met.lower, met.lower_side))


def _met(pattern: Pattern, upper: tuple[str, Side], lower: tuple[str, Side]) -> str:
    above, below = (f"{pattern.piece(name).side_words(side)} of {name}" for name, side in (upper, lower))
    return f"{above} on the {below}"
