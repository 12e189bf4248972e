"""Threads: every thread to cut, with a number of its own.

In: the plan. Out: records; what each sews, sums, and threads for several seams, in words for the page
of threads and for a terminal.

Words: threads are T1, T2 … in the order in which they are sewn.
"""

from __future__ import annotations

import msgspec

from handkit.draw.words.names import Codes
from handkit.draw.words.needle_words import walk_words
from handkit.stitch.plan import DECIMALS, SeamPlan, SharedThread, StitchPlan, Thread, ThreadRow, sewn_on
from handkit.wording.figures import CUT_THREAD, THREAD, counted, mm, plain


class CutThread(msgspec.Struct, frozen=True):
    """One thread to cut: its number, the seam it sews, its place among that seam's threads."""

    code: str
    seam: SeamPlan
    place: int  # from 1
    more: tuple[SeamPlan, ...] = ()  # seams that it goes on in

    @property
    def sewn(self) -> Thread:
        """As it is planned."""
        return self.seam.threads[self.place - 1]

    @property
    def cut(self) -> float:
        """Length to cut, mm."""
        return round(self.sewn.cut + sum(seam.thread for seam in self.more), DECIMALS)

    @property
    def seams(self) -> tuple[SeamPlan, ...]:
        """All seams it sews, in order."""
        return (self.seam, *self.more)

    @property
    def diameter(self) -> float:
        """In mm."""
        return self.seam.stitching.thread

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
    pairs = [(row, place) for row in sewn_on(plan.seams) for place in range(1, len(row[0].threads) + 1)]
    return tuple(
        CutThread(f"T{number}", row[0], place, row[1:]) for number, (row, place) in enumerate(pairs, start=1)
    )


def thread_words(thread: CutThread) -> str:
    """What a thread sews, in holes; where it takes over from another."""
    walk = thread.walk
    join = f"; thread {thread.place} of {thread.count}" if thread.count > 1 else ""
    if thread.place > 1:
        before = thread.seam.walk[thread.seam.threads[thread.place - 2].end]
        join += f", begins in hole {walk[0]} over the last one's end in hole {before}"
    on = "".join(f", on through {seam.name} to its hole {seam.walk[-1]}" for seam in thread.more)
    return f"⌀{mm(thread.diameter)}; holes {walk_words(walk)}{on}{join}"


def total_words(row: ThreadRow, copies: int) -> str:
    """All threads of a kind, for all copies, with what is left on the spool."""
    count = counted(row.count * copies, "thread")
    text = f"In all {row.fibre.value} ⌀{mm(row.diameter)}: {count}, {THREAD.text(row.all_copies)}"
    if row.spool is None or row.spools is None or row.left is None:
        return text
    spools = f"{counted(row.spools, 'spool')} of {row.spool / 1000:.6g} m"
    return f"{text}: {spools}, {THREAD.text(row.left)} left"


def total_line(row: ThreadRow) -> str:
    """The same for one article, and for a terminal."""
    spool = ""
    if row.spool is not None and row.spools is None:
        spool = f"; a spool of {plain(row.spool / 1000)} m is too short for the longest"
    elif row.spool is not None and row.left is not None:
        spools = counted(row.spools or 1, "spool")
        spool = f"; {spools} of {plain(row.spool / 1000)} m, {THREAD.text(row.left)} left on the last"
    copies = f", {THREAD.text(row.all_copies)} for all copies" if row.all_copies > row.length else ""
    count = counted(row.count, "thread")
    return f"⌀{mm(row.diameter)}, {row.fibre.value}: {count}, {THREAD.text(row.length)}{copies}{spool}"


def shared_words(shared: SharedThread, codes: Codes) -> str:
    """One thread for several seams, in place of their own."""
    seams = _in_turn(shared, codes.seams)
    lengths = " and ".join(map(CUT_THREAD.text, shared.cuts))
    count = "one thread" if len(shared.cuts) == 1 else f"{len(shared.cuts)} threads"
    return (
        f"{seams}: {count}, {lengths}, in place of their own, {CUT_THREAD.text(shared.apart)} together; back "
        "stitches at its two ends only."
    )


def shared_line(shared: SharedThread) -> str:
    """The same for a terminal."""
    seams = _in_turn(shared, {name: f'"{name}"' for name, _ in shared.seams})
    return (
        f"May be sewn on: {seams}: cut {CUT_THREAD.several(shared.cuts)} in place of "
        f"{CUT_THREAD.text(shared.apart)}, back stitches at both ends alone"
    )


def _in_turn(shared: SharedThread, names: dict[str, str]) -> str:
    """The seams as they are sewn then."""
    return ", then ".join(
        names[name] + (" from its last hole to its first" if backwards else "")
        for name, backwards in shared.seams
    )
