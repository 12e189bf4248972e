"""Shifts: by which whole steps some rectangles come to lie on others.

In: rectangles in whole steps. Out: a set of shifts, which is asked at once however many rectangles there are.

To each shift aside belongs a whole number, whose bits are the shifts up: what one pair of rectangles adds is
the same run of bits for every shift aside at which the two lie over one another.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from handkit.draft.arrange.packing import Rectangle


class Shifts(msgspec.Struct, frozen=True):
    """Shifts aside and up; bit 0 stands for `lowest`."""

    lowest: int
    ups: dict[int, int]

    def has(self, aside: int, up: int) -> bool:
        """Whether a shift is among them."""
        bit = up - self.lowest
        return bit >= 0 and bool(self.ups.get(aside, 0) >> bit & 1)


def onto(moved: Sequence[Rectangle], others: Sequence[Rectangle]) -> Shifts:
    """By which shifts any of some rectangles lies in part on any of others.

    >>> over = onto([(0, 0, 2, 2), (0, 5, 2, 7)], [(10, 10, 14, 12)])
    >>> [up for up in range(20) if over.has(9, up)], over.has(8, 11), over.has(13, 6), over.has(14, 6)
    ([4, 5, 6, 9, 10, 11], False, True, False)
    """
    pairs = [(own, other) for own in moved for other in others]
    lowest = min((other[1] - own[3] + 1 for own, other in pairs), default=0)
    ups: dict[int, int] = {}
    for own, other in pairs:
        first, last = other[1] - own[3] + 1, other[3] - own[1]
        bits = ((1 << (last - first)) - 1) << (first - lowest)
        for aside in range(other[0] - own[2] + 1, other[2] - own[0]):
            ups[aside] = ups.get(aside, 0) | bits
    return Shifts(lowest, ups)
