"""The needles' way: the row of holes both needles visit, back stitches included.

In: how many holes a seam has, whether it is closed, back stitches. Out: hole numbers in order.

    open, back = 2                closed, back = 2              open, start_back = 2
    1 → 2 → 3 → 4 → 5             1 → 2 → … → n → 1             3 → 2 → 1
            3 ← 4 ←               then on: 2 → 3                    2 ← then on: 3 → 4 → 5

Words: a *back stitch* is a stitch sewn a second time, so that it locks the end. An open seam goes
back on itself; a closed one has come home to its first hole and goes on over its first stitches.
"""

from __future__ import annotations


def walk(count: int, *, closed: bool, back: int, start_back: int) -> tuple[int, ...]:
    """Hole numbers in the order both needles reach them; the thread hangs in the first.

    With `start_back` k it starts at hole k + 1, sews back to hole 1 and then on. A seam has no
    more back stitches at either end than `most_back` allows. Raises ValueError without a hole.

    >>> walk(5, closed=False, back=2, start_back=0)
    (1, 2, 3, 4, 5, 4, 3)
    >>> walk(5, closed=True, back=2, start_back=0)
    (1, 2, 3, 4, 5, 1, 2, 3)
    >>> walk(5, closed=False, back=0, start_back=2)
    (3, 2, 1, 2, 3, 4, 5)
    >>> walk(3, closed=False, back=9, start_back=0)  # back at the first hole: there is no more seam
    (1, 2, 3, 2, 1)
    >>> walk(1, closed=False, back=2, start_back=0)
    (1,)
    """
    if count < 1:
        raise ValueError("a seam without holes has no way")
    first = min(start_back, most_back(count)) + 1
    last = min(back, most_back(count))
    ahead = (*range(first, 0, -1), *range(2, count + 1))
    if closed and count > 1:
        return (*ahead, *range(1, last + 2))
    return (*ahead, *range(count - 1, count - 1 - last, -1))


def most_back(count: int) -> int:
    """The most back stitches a seam of `count` holes takes: all its stitches once more.

    A closed seam keeps the stitch before its first hole single, where the needles came home.
    """
    return count - 1
