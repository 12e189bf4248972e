"""Faced: what a place behind costs for what lies in front of it.

In: boxes of both faces, a packing of those in front. Out: for each step aside, which heights cost what. In
whole steps.

Where rows go through the base under the other face's leather, that waits for them (`stitch/order/reach.py`):
never do both of two boxes wait for each other, and better neither does. Rows of both faces keep clear of one
another, and of things.

Heights are a whole number, whose bits are the steps up: what all of them cost is asked at once.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import msgspec

from handkit.draft.arrange.packing import PackedBox, Place
from handkit.draft.arrange.shifts import Shifts, onto

# What a place costs, in steps that it might lie higher in its stead: rows that the leather behind waits for;
# rows under the leather in front.
UNDER_BEHIND, UNDER_FRONT = 40.0, 15.0

# What some heights cost, each of which is a bit.
Priced = tuple[float, int]


class Through(msgspec.Struct, frozen=True):
    """By how far a box behind is shifted from one in front so that rows meet, or lie under things or on a
    blade's way; so that
    rows in front go under leather behind, which waits for them; so that those behind go under that in
    front."""

    never: Shifts
    waits: Shifts
    lies: Shifts


Pairs = Mapping[tuple[int, int], Through]


def pairs_of(boxes: Sequence[PackedBox]) -> Pairs:
    """Of each box in front with each behind that is free, by their numbers: what comes to lie over what."""
    return {
        (k, index): _through(one, behind)
        for k, one in enumerate(boxes)
        if not one.behind
        for index, behind in enumerate(boxes)
        if behind.behind and behind.fixed is None
    }


def _through(one: PackedBox, behind: PackedBox) -> Through:
    return Through(
        onto(
            (
                (behind.rows, (*one.rows, *one.things, *one.bared)),
                ((*behind.things, *behind.bared), one.rows),
            )
        ),
        onto((((behind.leather,), one.rows),)),
        onto(((behind.rows, (one.leather,)),)),
    )


class Faced(msgspec.Struct, frozen=True):
    """What lies in front, as it is packed, seen from behind, where none lies as high as `top`; what is
    `known` of it."""

    pairs: Pairs
    front: Mapping[int, Place]
    top: int
    known: dict[tuple[int, int], tuple[Priced, ...]]

    def heights(self, index: int, x: int) -> tuple[Priced, ...]:
        """At which heights a box may lie so far aside, and what they cost; the cheap first."""
        if (index, x) not in self.known:
            self.known[index, x] = self._heights(index, x)
        return self.known[index, x]

    def _heights(self, index: int, x: int) -> tuple[Priced, ...]:
        found = {0.0: (1 << self.top) - 1}
        for k, (left, low) in self.front.items():
            pair = self.pairs[k, index]
            waits, lies = pair.waits.heights(x - left, low), pair.lies.heights(x - left, low)
            found = _without(found, pair.never.heights(x - left, low) | (waits & lies))
            found = _dearer(found, UNDER_BEHIND, waits)
            found = _dearer(found, UNDER_FRONT, lies)
        return tuple(sorted(found.items()))


def _without(found: dict[float, int], barred: int) -> dict[float, int]:
    return {price: left for price, bits in found.items() if (left := bits & ~barred)}


def _dearer(found: dict[float, int], more: float, where: int) -> dict[float, int]:
    """The same, some of them dearer."""
    if not where:
        return found
    dearer = _without(found, where)
    for price, bits in found.items():
        if bits & where:
            dearer[price + more] = dearer.get(price + more, 0) | (bits & where)
    return dearer
