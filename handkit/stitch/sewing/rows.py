"""Rows: seams that are sewn as one, from the first through to the last.

In: seams, each on its own, that go on into one another in a hole. Out: the same, sewn as one path: back
stitches at its two ends alone, as few threads as it takes, joined where joins are best, and for each
seam its parts of them.

    S1 ────────●────────── S2 ──────●── S3      one path; ● a joint, where nothing is locked
    T1 ───────────────────┤                     S1 and S2 have a part of it
                     T2 ├──────────────         begun in S2, ends in S3

Words: a *row* is such seams, in the order in which they are sewn; a *joint* is the hole in which one
goes on into the next; a thread's *part* is what one seam takes of it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import accumulate

import msgspec

from handkit.draft.pattern import Pattern
from handkit.stitch.plan import DECIMALS, SeamRow, Thread
from handkit.stitch.sewing.sewing import SewnSeam, sew
from handkit.stitch.sewing.thread import end_to_end, part_of, threads
from handkit.stitch.sewing.walk_events import way_steps


def sew_through(row: Sequence[SewnSeam], pattern: Pattern) -> tuple[SewnSeam, ...]:
    """A row's seams sewn as one; empty where the longest thread allowed is too short for that."""
    last = len(row) - 1
    anew = [
        sew(each.plan.punched, pattern, each.plan.shared_holes, own_start=k == 0, own_end=k == last)
        for k, each in enumerate(row)
    ]
    path = end_to_end([each.path for each in anew])
    cut = threads(path, longest_side=row[0].plan.stitching.longest_side)
    if not cut:
        return ()
    joints = list(accumulate((each.path.last for each in anew), initial=0))
    shares = [
        [part for thread in cut if (part := part_of(path, thread, joints[k], joints[k + 1])) is not None]
        for k in range(len(anew))
    ]
    names = tuple(each.plan.name for each in anew)
    whole = SeamRow(names, round(sum(thread.cut for thread in cut), DECIMALS))
    through = {
        thread.number: tuple(
            name
            for name, parts in zip(names, shares, strict=True)
            if any(part.number == thread.number for part in parts)
        )
        for thread in cut
    }
    return tuple(
        _with_parts(each, whole, [msgspec.structs.replace(p, seams=through[p.number]) for p in parts])
        for each, parts in zip(anew, shares, strict=True)
    )


def whole_cuts(row: Sequence[SewnSeam]) -> Iterator[float]:
    """The lengths to cut for a row that is sewn as one."""
    for each in row:
        yield from (thread.whole for thread in each.plan.begun)


def _with_parts(sewing: SewnSeam, row: SeamRow, parts: Sequence[Thread]) -> SewnSeam:
    """A seam of a row with its parts of the threads, and what they make of its way."""
    plan = msgspec.structs.replace(sewing.plan, row=row, threads=tuple(parts))
    way = way_steps(plan.punched, plan.walk, plan.threads, plan.partners)
    return msgspec.structs.replace(sewing, plan=msgspec.structs.replace(plan, way=way))
