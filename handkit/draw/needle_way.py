"""The needles' way in words: where the thread starts, turns and ends.

In: one seam's plan. Out: phrases, plain text.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from handkit.stitch.plan import SeamPlan, Thread


def way_words(seam: SeamPlan) -> str:
    """The walk by its turns, with the back stitches counted."""
    walk, count = seam.walk, seam.punched.count
    if len(walk) == 1:
        return "one hole, no stitch"
    if seam.punched.closed:
        return _round_words(walk, count)
    places = _turns(walk)
    parts = [f"from hole {places[0]}"]
    for index, (start, end) in enumerate(pairwise(places)):
        again = index > 0 and index == len(places) - 2 and end < start
        backwards = end < start
        parts.append(f"back to {end}" if backwards else f"on to {end}")
        if again:
            parts[-1] += f" ({_stitches(start - end)})"
    return ", ".join(parts)


def thread_words(seam: SeamPlan, thread: Thread) -> str:
    """What one thread is cut to, and from which hole to which it sews."""
    first, last = seam.walk[thread.start], seam.walk[thread.end]
    half = f"{thread.cut:.0f} mm, {thread.cut / 2:.0f} a side"
    if len(seam.threads) == 1:
        return half
    return f"{half}, from hole {first} (place {thread.start + 1}) to hole {last} (place {thread.end + 1})"


def _turns(walk: Sequence[int]) -> list[int]:
    """First hole, every hole where the way turns round, last hole."""
    middle = [here for before, here, after in zip(walk, walk[1:], walk[2:], strict=False) if before == after]
    return [walk[0], *middle, walk[-1]]


def _round_words(walk: Sequence[int], count: int) -> str:
    first, last = walk[0], walk[-1]
    start = f"from hole {first}, back to 1, round to 1" if first != 1 else "from hole 1 round to 1"
    over = last - 1
    return f"{start}, on over the first stitches to {last} ({_stitches(over)})" if over else start


def _stitches(count: int) -> str:
    return f"{count} back stitch" + ("es" if count != 1 else "")
