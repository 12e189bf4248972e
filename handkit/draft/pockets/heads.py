"""Heads: things whose upper ends are wider than what of them goes in, side by side.

In: items from left to right, as wide as what of each goes in, and the places they have. Out: how much
wider those must be for their heads.

Words: a *head* is what of a thing stands out beside its width, above a mouth.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from handkit.geometry.affine import Point
from handkit.geometry.polygon import widths_at
from handkit.kinds.materials import EaseRange
from handkit.read.project import Item
from handkit.tolerances import SAME_POINT


def heads_need(
    items: Sequence[Item], feet: Sequence[float], widths: Sequence[float], eases: Sequence[EaseRange]
) -> list[float]:
    """How much wider the places must be, each thing in the middle of its own and `feet` above the row, so
    that no two neighbours come nearer to one another than their ease."""
    more = [0.0] * len(items)
    rings = [_standing(item, foot) for item, foot in zip(items, feet, strict=True)]
    for k, (one, other) in enumerate(pairwise(rings)):
        beside = (eases[k].wanted + eases[k + 1].wanted) / 2
        lack = apart(one, other) + beside - (widths[k] + more[k] + widths[k + 1]) / 2
        for place in (k, k + 1) if lack > SAME_POINT else ():
            more[place] += lack
    return more


def apart(one: Sequence[Point], other: Sequence[Point]) -> float:
    """How far to the right of one ring's frame another's stands when they touch; less than any where no level
    line crosses both.

    >>> apart(((-4, 0), (4, 0), (1, 9), (-1, 9)), ((-1, 0), (1, 0), (3, 6), (-3, 6)))
    5
    """
    found = [-1e9]
    for level in sorted({y for _, y in (*one, *other)}):
        ends, others = widths_at(one, level), widths_at(other, level)
        if ends and others:
            found.append(ends[1] - others[0])
    return max(found)


def _standing(item: Item, foot: float) -> list[Point]:
    return [(x - item.width / 2, foot + y) for x, y in item.seen]
