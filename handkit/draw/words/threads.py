"""Threads: each thread to cut as a step to tick, sums, and threads for several seams.

In: the plan. Out: parts of the document.

Words: threads are T1, T2 … in the order in which they are sewn.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from handkit.draw.words.document import Heading, Paragraph, Part, Ticked
from handkit.draw.words.names import Codes, KitPlan, span_words
from handkit.draw.words.needle_words import walk_words
from handkit.grouping import grouped
from handkit.stitch.plan import CutThread, SharedThread, ThreadRow, cut_threads
from handkit.wording.figures import Units, counted
from handkit.wording.quoting import words

_INTRO = "Cut these first and tie each to a slip with its number; the tails are in the length."


def thread_parts(kit: KitPlan) -> Iterator[Part]:
    """A box for each thread, the alike that follow one another together, then what they come to."""
    if not kit.plan.seams:
        return
    alike = f" Each {kit.copies} times: {kit.copies} are made alike." if kit.copies > 1 else ""
    yield Heading("Threads to cut")
    yield Paragraph(_INTRO + alike)
    threads = cut_threads(kit.plan.seams)
    for _, some in groupby(threads, key=_likeness):
        yield _ticked(kit, list(some))
    yield from _overcast(kit, len(threads))
    units = kit.units
    totals = " ".join(total_words(row, kit.copies, units) for row in kit.plan.threads)
    yield Paragraph(f"{totals} {_needle_words(threads, apart=bool(kit.plan.overcast))}")
    offered = [shared for shared in kit.plan.shared if not shared.adopted]
    if offered:
        yield Heading("Or with fewer ends")
        yield from (Paragraph(shared_words(shared, kit.codes, units), at_hand=True) for shared in offered)


def _overcast(kit: KitPlan, before: int) -> Iterator[Part]:
    """A box for the threads of each edge that is overcast, numbered on from those of seams."""
    for each in kit.plan.overcast:
        codes = tuple(f"T{before + number}" for number in range(1, each.count + 1))
        before += each.count
        tool, cut = kit.units.tool, kit.units.cut_thread.text
        yield Ticked(
            marks=codes,
            title=f"overcasting {each.edge} of {each.piece}",
            aside=cut(each.cut) + (" each" if each.count > 1 else ""),
            notes=(f"⌀{tool(each.stitching.thread)}, 1 needle, tails of {cut(each.stitching.tail)}",),
        )


def _likeness(thread: CutThread) -> tuple[object, ...]:
    """What threads that are told together have in common."""
    alone = thread.count == 1 and not thread.more
    return (kind_words(thread), thread.cut, "" if alone else thread.code)


def _ticked(kit: KitPlan, threads: Sequence[CutThread]) -> Ticked:
    """Threads that are alike: their numbers and seams, how long each is."""
    first = threads[0]
    going = span_words([kit.codes.seams[seam.name] for seam in first.more])
    title = "; ".join(kit.seam_title(thread.seam) for thread in threads)
    return Ticked(
        marks=tuple(thread.code for thread in threads),
        title=title + (f", on in {going}" if going else ""),
        aside=kit.units.cut_thread.text(first.cut) + (" each" if len(threads) > 1 else ""),
        notes=(sewn_words(kit, first),) if first.count > 1 else (),
    )


def kind_words(thread: CutThread) -> str:
    """How thick it is, how many needles it takes and how thick they are, how long its tails are."""
    stitching, units = thread.seam.stitching, thread.seam.units
    needle = f" of ⌀{units.tool(stitching.needle)}" if stitching.needle is not None else ""
    needles = counted(thread.seam.needles, "needle")
    tails = units.cut_thread.text(stitching.tail)
    return f"⌀{units.tool(stitching.thread)}, {needles}{needle}, tails of {tails}"


def _needle_words(threads: Sequence[CutThread], *, apart: bool) -> str:
    """Of which kind each thread is; some `apart` have their own at them."""
    kinds = grouped(threads, by=kind_words)
    if len(kinds) == 1:
        return f"All {'for seams ' if apart else ''}are {min(kinds)}."
    told = (f"{', '.join(one.code for one in some)}: {kind}" for kind, some in kinds.items())
    return f"{'; '.join(told)}."


def sewn_words(kit: KitPlan, thread: CutThread) -> str:
    """Of several threads of one path what each sews, in holes, and over which end it begins."""
    seam, part = thread.parts[0]
    walk = seam.walk[part.start : part.end + 1]
    words_of = [f"thread {thread.number} of {thread.count}: holes {walk_words(walk)}"]
    words_of += [
        f"on through {kit.codes.seams[one.name]} to its hole {one.walk[p.end]}" for one, p in thread.parts[1:]
    ]
    if thread.over is not None:
        name, hole = thread.over
        where = "" if name == seam.name else f" of {kit.codes.seams[name]}"
        words_of.append(f"begins over the last one's end in hole {hole}{where}")
    return ", ".join(words_of)


def total_words(row: ThreadRow, copies: int, units: Units) -> str:
    """All threads of a kind, for all copies, with what is left on the spool."""
    count = counted(row.count * copies, "thread")
    kind = f"{row.fibre.value} ⌀{units.tool(row.diameter)}"
    text = f"In all {kind}: {count}, {units.thread.text(row.all_copies)}"
    if row.spool is None:
        return f"{text}."
    spool = units.sold(row.spool)
    if row.spools is None or row.left is None:
        return f"{text}; a spool of {spool} is too short for the longest."
    return f"{text}: {counted(row.spools, 'spool')} of {spool}, {units.thread.text(row.left)} left."


def shared_words(shared: SharedThread, codes: Codes, units: Units) -> str:
    """One thread for several seams, in place of their own."""
    seams = ", then ".join(
        codes.seams[name] + (" from its last hole to its first" if backwards else "")
        for name, backwards in shared.seams
    )
    lengths = words(map(units.cut_thread.text, shared.cuts), last="and")
    count = "one thread" if len(shared.cuts) == 1 else f"{len(shared.cuts)} threads"
    apart = units.cut_thread.text(shared.apart)
    return (
        f"{seams}: {count}, {lengths}, in place of their own, {apart} together; back "
        "stitches at its two ends only."
    )
