"""Joins: where one thread ends and the next begins, moved away from corners and mouths.

In: places where threads of equal length would end, and places of the walk to keep clear of. Out:
places near those, so that no thread is too long and as many joins as can be are clear.

    place   …  9  10  11  12  13  14 …
    thread 1 ─────────────────┤             ends in 13
    thread 2         ├───────────────────   begins two holes back: the join is 11 to 13

Words: a join is *clear* when none of its holes is within two holes of a corner or an end.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

import msgspec

OVERLAP = 2  # holes by which a new thread goes back over the last one (common practice)
CLEAR = 2  # holes that are kept between a join and a corner or an end
REACH = 8  # holes by which a join is moved at most, either way

ThreadEnds = tuple[int, ...]
# Joins that are not clear, how unlike the threads are, how far joins are moved, the ends.
Weight = tuple[int, float, int, ThreadEnds]


class JoinLimits(msgspec.Struct, frozen=True):
    """A walk as its joins see it: `cut` gives the thread from one place to another."""

    last: int  # its last place
    fixed: tuple[int, ...]  # places to keep clear of
    limit: float  # the longest thread
    cut: Callable[[int, int], float]


def clear_ends(ends: Sequence[int], walked: JoinLimits) -> ThreadEnds | None:
    """The ends of all threads but the last one, moved; None where no choice keeps to the limit.

    Unlike counts the squares of the lengths, so that among equally clear joins the threads are as
    alike as can be.

    >>> clear_ends([10], JoinLimits(last=20, fixed=(0, 11, 20), limit=99, cut=lambda a, b: b - a))
    (8,)
    >>> clear_ends([10], JoinLimits(last=20, fixed=(), limit=99, cut=lambda a, b: b - a))
    (11,)
    """
    rows: list[tuple[Weight, int]] = [((0, 0.0, 0, ()), 0)]  # the best way to each start of a thread
    for end in ends:
        low, high = max(end - REACH, OVERLAP + 1), min(end + REACH, walked.last - 1)
        rows = [row for at in range(low, high + 1) for row in _best(rows, at, end, walked)]
    closing = [
        _heavier(weight, length)
        for weight, start in rows
        if (length := walked.cut(start, walked.last)) <= walked.limit
    ]
    return min(closing)[3] if closing else None


def _heavier(weight: Weight, length: float) -> Weight:
    """With one more thread."""
    unclear, unlike, moved, ends = weight
    return unclear, round(unlike + length**2, 3), moved, ends


def _best(
    rows: Sequence[tuple[Weight, int]], end: int, meant: int, walked: JoinLimits
) -> Iterable[tuple[Weight, int]]:
    """The lightest way to a thread that ends in `end`, if there is one."""
    unclear = any(end - OVERLAP - CLEAR <= place <= end + CLEAR for place in walked.fixed)
    ways = [
        _heavier((weight[0] + unclear, weight[1], weight[2] + abs(end - meant), (*weight[3], end)), length)
        for weight, start in rows
        if end > start + OVERLAP and (length := walked.cut(start, end)) <= walked.limit
    ]
    if ways:
        yield min(ways), end - OVERLAP
