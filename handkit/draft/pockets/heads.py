"""Heads: things whose upper ends are wider than what of them goes in, side by side.

In: items from left to right, as wide as what of each goes in, and the places they have. Out: places as wide
as their heads need.

Words: a *head* is what of a thing stands out beside its width, above a mouth.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import msgspec

from handkit.geometry.affine import Point
from handkit.geometry.polygon import widths_at
from handkit.kinds.materials import EaseRange
from handkit.read.project import Item


def with_heads_clear(
    items: Sequence[Item], feet: Sequence[float], widths: Sequence[float], eases: Sequence[EaseRange]
) -> tuple[list[float], list[EaseRange]]:
    """The places' widths, each thing in the middle of its own and `feet` above the row, grown where two
    neighbours would come nearer to one another than their ease; a place that is wide for a head is not too
    loose."""
    wide, most = list(widths), list(eases)
    rings = [_standing(item, foot) for item, foot in zip(items, feet, strict=True)]
    for k, (one, other) in enumerate(pairwise(rings)):
        beside = (eases[k].wanted + eases[k + 1].wanted) / 2
        lack = apart(one, other) + beside - (wide[k] + wide[k + 1]) / 2
        for place in (k, k + 1) if lack > 0 else ():
            wide[place] += lack
            grown = msgspec.structs.replace(most[place], most=most[place].most + lack)
            most[place] = grown
    return wide, most


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
