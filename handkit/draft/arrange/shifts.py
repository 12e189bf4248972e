"""Shifts: by which whole steps some rectangles come to lie on others.

In: rectangles in whole steps. Out: a set of shifts, which is asked at once however many rectangles there are.

To each shift aside belongs a whole number, whose bits are the shifts up: what one pair of rectangles adds is
the same run of bits for every shift aside at which the two lie over one another.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import msgspec

from handkit.draft.arrange.packing import Rectangle


class Shifts(msgspec.Struct, frozen=True):
    """Shifts aside and up; bit 0 stands for `lowest`."""

    lowest: int
    ups: dict[int, int]

    def heights(self, aside: int, low: int) -> int:
        """Which heights are among them, bit by bit from 0 on, where what lies there begins at `low`.

        >>> bin(onto([([(0, 0, 2, 2)], [(0, 0, 9, 1)])]).heights(3, 4))
        '0b11000'
        """
        bits, by = self.ups.get(aside, 0), low + self.lowest
        return bits << by if by >= 0 else bits >> -by


def onto(pairs: Iterable[tuple[Sequence[Rectangle], Sequence[Rectangle]]]) -> Shifts:
    """By which shifts, of any pair, any of its first rectangles lies in part on any of its others.

    >>> over = onto([([(0, 0, 2, 2), (0, 5, 2, 7)], [(10, 10, 14, 12)])])
    >>> [up for up in range(20) if over.heights(9, 0) >> up & 1], over.heights(8, 0), over.heights(14, 0)
    ([4, 5, 6, 9, 10, 11], 0, 0)
    """
    found = [(own, other) for moved, others in pairs for own in moved for other in others]
    lowest = min((other[1] - own[3] + 1 for own, other in found), default=0)
    ups: dict[int, int] = {}
    for own, other in found:
        first, last = other[1] - own[3] + 1, other[3] - own[1]
        bits = ((1 << (last - first)) - 1) << (first - lowest)
        for aside in range(other[0] - own[2] + 1, other[2] - own[0]):
            ups[aside] = ups.get(aside, 0) | bits
    return Shifts(lowest, ups)
