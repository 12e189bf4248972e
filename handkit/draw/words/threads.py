"""Threads: every thread to cut, with a number of its own.

In: the plan. Out: records, and what each sews in words.

Words: threads are T1, T2 … in the order in which they are sewn.
"""

from __future__ import annotations

import msgspec

from handkit.draw.words.names import figure
from handkit.draw.words.needle_words import walk_words
from handkit.stitch.plan import SeamPlan, StitchPlan, Thread


class CutThread(msgspec.Struct, frozen=True):
    """One thread to cut: its number, the seam it sews, its place among that seam's threads."""

    code: str
    seam: SeamPlan
    place: int  # from 1

    @property
    def sewn(self) -> Thread:
        """As it is planned."""
        return self.seam.threads[self.place - 1]

    @property
    def cut(self) -> float:
        """Length to cut, mm."""
        return self.sewn.cut

    @property
    def diameter(self) -> float:
        """In mm."""
        return self.seam.punched.stitching.thread

    @property
    def count(self) -> int:
        """How many threads its seam has."""
        return len(self.seam.threads)

    @property
    def walk(self) -> tuple[int, ...]:
        """The holes it passes, in order."""
        return self.seam.walk[self.sewn.start : self.sewn.end + 1]


def cut_threads(plan: StitchPlan) -> tuple[CutThread, ...]:
    """All threads in the order they are sewn."""
    pairs = [(seam, place) for seam in plan.seams for place in range(1, len(seam.threads) + 1)]
    return tuple(CutThread(f"T{number}", *pair) for number, pair in enumerate(pairs, start=1))


def thread_words(thread: CutThread) -> str:
    """What a thread sews, in holes; where it takes over from another."""
    walk = thread.walk
    join = f"; thread {thread.place} of {thread.count}" if thread.count > 1 else ""
    if thread.place > 1:
        before = thread.seam.walk[thread.seam.threads[thread.place - 2].end]
        join += f", begins in hole {walk[0]} over the last one's end in hole {before}"
    return f"⌀{figure(thread.diameter)} mm; holes {walk_words(walk)}{join}"
