"""Threads: what each thread to cut sews, sums, and threads for several seams.

In: threads of the plan. Out: words for the page of threads and for a terminal.

Words: threads are T1, T2 … in the order in which they are sewn.
"""

from __future__ import annotations

from handkit.draw.words.names import Codes
from handkit.draw.words.needle_words import walk_words
from handkit.stitch.plan import CutThread, SharedThread, ThreadRow
from handkit.wording.figures import CUT_THREAD, THREAD, counted, mm, plain
from handkit.wording.quoting import quoted


def thread_words(thread: CutThread) -> str:
    """What a thread sews, in holes, seam by seam; where it takes over from another."""
    seam, part = thread.parts[0]
    walk = seam.walk[part.start : part.end + 1]
    join = f"; thread {thread.number} of {thread.count}" if thread.count > 1 else ""
    if thread.over is not None:
        name, hole = thread.over
        where = "" if name == seam.name else f" of {quoted(name)}"
        join += f", begins in hole {walk[0]} over the last one's end in hole {hole}{where}"
    on = "".join(
        f", on through {quoted(one.name)} to its hole {one.walk[p.end]}" for one, p in thread.parts[1:]
    )
    return f"⌀{mm(seam.stitching.thread)}; holes {walk_words(walk)}{on}{join}"


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
