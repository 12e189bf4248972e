"""Sides: which side of one layer lies on which side of the next, in words for the bench.

In: the pattern, two pieces or a seam. Out: words, "" where the file does not tell.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from handkit.draft.pattern import Pattern
from handkit.grouping import grouped
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
    met = [met for met in seam.met if not any(_inside(pattern, met, s) for s in runs)]
    told = dict.fromkeys(
        [
            *(text for layers in runs for text in _folded(pattern, layers)),
            *_pairs(pattern, [each.turned for each in met] if seam.from_behind else met),
        ]
    )
    told.pop("", None)
    if not told:
        return ""
    text = words(told, last="and")
    return f"{text[0].upper()}{text[1:]}."


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


def _pairs(pattern: Pattern, met: Sequence[LayersMet]) -> Iterable[str]:
    """Those of one piece, or on one piece, with the same sides together, whichever makes fewer."""
    told = [
        ((one.upper, one.upper_side), (one.lower, one.lower_side))
        for one in met
        if one.upper_side and one.lower_side and one.upper != one.lower
    ]
    by_upper = grouped(told, by=lambda pair: (pair[0], pair[1][1]))
    by_lower = grouped(told, by=lambda pair: (pair[1], pair[0][1]))
    fewer = by_lower if len(by_lower) < len(by_upper) else by_upper
    for some in fewer.values():
        uppers, lowers = (words(dict.fromkeys(pair[k][0] for pair in some), last="and") for k in (0, 1))
        (upper, above), (lower, below) = some[0]
        sides = [pattern.piece(name).side_words(side) for name, side in ((upper, above), (lower, below))]
        yield f"{sides[0]} of {uppers} on the {sides[1]} of {lowers}"


def _met(pattern: Pattern, upper: tuple[str, Side], lower: tuple[str, Side]) -> str:
    above, below = (f"{pattern.piece(name).side_words(side)} of {name}" for name, side in (upper, lower))
    return f"{above} on the {below}"
