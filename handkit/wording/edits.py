"""Edits: how far one word is from another, as people mistype them.

In: two words. Out: the least number of letters to add, drop, change or swap with a neighbour.
"""

from __future__ import annotations


def edits(a: str, b: str, limit: int) -> int:
    """Letters to add, drop, change or swap to get from a to b; `limit` where it is no fewer.

    >>> edits("ruond", "round", 4), edits("colour", "color", 4), edits("colour", "round", 3)
    (1, 1, 3)
    """
    if abs(len(a) - len(b)) >= limit:
        return limit
    before: list[int] = []
    row = list(range(len(b) + 1))
    for i, x in enumerate(a, start=1):
        last, before, row = before, row, [i]
        for j, y in enumerate(b, start=1):
            cost = min(before[j] + 1, row[j - 1] + 1, before[j - 1] + (x != y))
            if i > 1 and j > 1 and x == b[j - 2] and a[i - 2] == y:
                cost = min(cost, last[j - 2] + 1)
            row.append(cost)
        if min(row) >= limit and min(before) >= limit:  # a swap looks two rows back
            return limit
    return min(row[-1], limit)
