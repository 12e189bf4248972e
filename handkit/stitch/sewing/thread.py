"""Thread: what each move of the needles takes, and the lengths to cut.

In: the moves and stacks of a seam. Out: threads, all mm, to a thousandth.

The saddle stitch with two needles on one thread: it hangs by its middle in the first hole, which
it crosses once; then both needles make every move together, so that between two holes one strand
lies on either face and both strands pass the hole that is reached. Hence, for M moves,

    bare = T first + sum over the moves of (step on the front + step on the back + 2 x T reached)
    cut  = bare + wraps + 2 x tail

which is T + 2 M (p + T) where all are alike. Counting 2 T for every hole is one T too long. A
rectangle is the longest shape a stitch can take, so the sum is safe.

Words: a *tail* is left at each end, for the needle; a *wrap* is a turn of one strand round the
edge: out to the edge and back on either face, and round the stack twice, 2 x distance + 2 x T.
A thread is *too long* when the side one needle pulls (half of it, with two needles) passes what sews
well; then the seam is sewn with the fewest that do, as alike as can be, each begun two holes back in
the last. Where that costs no thread more, joins lie clear of corners and ends (see `joins`). Seams that
go on into one another are one path to the thread (`end_to_end`), and each has its part of it.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from itertools import accumulate

import msgspec

from handkit.stitch.plan import DECIMALS, Move, Thread
from handkit.stitch.sewing.joins import OVERLAP, JoinLimits, clear_ends

ThreadSpan = tuple[int, int]


class ThreadPath(msgspec.Struct, frozen=True):
    """A seam as the thread sees it: moves, the stack where each place of the walk lies, ends.

    `strands` is what a thread that begins at a place lays across first, `fixed` are the places a
    join keeps clear of.
    """

    moves: tuple[Move, ...]
    stacks: tuple[float, ...]  # by place in the walk: one more than moves
    wrap_start: float  # mm of thread in turns round the edge
    wrap_end: float
    tail: float  # one of them
    strands: tuple[float, ...] = ()
    needles: int = 2
    fixed: tuple[int, ...] = ()

    @property
    def last(self) -> int:
        """The last place of the walk."""
        return len(self.moves)

    def wraps(self, first: int, last: int) -> float:
        """Thread in wraps on the way between two places of the walk."""
        return (self.wrap_start if first == 0 else 0.0) + (self.wrap_end if last == self.last else 0.0)

    def strand(self, start: int) -> float:
        """What a thread that begins at a place of the walk lays across there."""
        return self.strands[start] if self.strands else 0.0


def wrap_length(turns: int, *, to_edge: float, stack: float) -> float:
    """Thread in turns of a strand round the edge.

    >>> wrap_length(1, to_edge=3, stack=4)
    14
    """
    return turns * (2 * to_edge + 2 * stack)


def threads(sewn: ThreadPath, *, longest_side: float) -> tuple[Thread, ...]:
    """The threads of a seam, in order; empty where even the shortest is longer than allowed.

    Between two needles a thread hangs by its middle: it may be twice `longest_side` long, tails
    included.
    """
    lengths, limit = _Lengths(sewn), sewn.needles * longest_side
    spans = _fewest(lengths, limit)
    alike = _alike(lengths, len(spans))
    if len(alike) == len(spans) and all(lengths.cut(*span) <= limit for span in alike):
        spans = alike
    if len(spans) > 1:
        spans = _clear(lengths, spans, limit)
    return tuple(
        Thread(
            start,
            end,
            sewn.stacks[start],
            round(sewn.wraps(start, end), DECIMALS),
            round(2 * sewn.tail, DECIMALS),
            lengths.cut(start, end),
            sewn.strand(start),
            number,
            whole=lengths.cut(start, end),
        )
        for number, (start, end) in enumerate(spans, start=1)
    )


def end_to_end(paths: Sequence[ThreadPath]) -> ThreadPath:
    """Paths of which each begins in the hole where the last one ends, as one; they are sewn alike."""
    first, last = paths[0], paths[-1]
    fixed: list[int] = []
    begin = 0
    for path in paths:
        fixed.extend(begin + place for place in path.fixed)
        begin += path.last
    return msgspec.structs.replace(
        first,
        moves=tuple(move for path in paths for move in path.moves),
        stacks=(first.stacks[0], *(stack for path in paths for stack in path.stacks[1:])),
        strands=(*first.strands[:1], *(strand for path in paths for strand in path.strands[1:])),
        wrap_end=last.wrap_end,
        fixed=tuple(dict.fromkeys(fixed)),
    )


def part_of(sewn: ThreadPath, thread: Thread, begin: int, end: int) -> Thread | None:
    """What of a thread lies between two places of its path, counted from the first of them; None where
    it does not go there."""
    first, last = max(thread.start, begin), min(thread.end, end)
    if first >= last:
        return None
    starts, ends = first == thread.start, last == thread.end
    stack = sewn.stacks[first] if starts else 0.0
    strand = sewn.strand(first) if starts else 0.0
    wraps, tails = sewn.wraps(first, last), sewn.tail * (starts + ends)
    cut = stack + strand + sum(map(_moved, sewn.moves[first:last])) + wraps + tails
    return msgspec.structs.replace(
        thread,
        start=first - begin,
        end=last - begin,
        start_stack=stack,
        start_strand=strand,
        wraps=round(wraps, DECIMALS),
        tails=round(tails, DECIMALS),
        cut=round(cut, DECIMALS),
    )


def least_side(sewn: ThreadPath) -> float:
    """The least `longest_side` with which every thread gets one stitch ahead of the overlap."""
    lengths = _Lengths(sewn)
    ends = ((start, min(start + OVERLAP + 1, sewn.last)) for start in range(max(sewn.last, 1)))
    return max(lengths.cut(start, end) for start, end in ends) / sewn.needles


def _moved(move: Move) -> float:
    """The thread that a move takes."""
    return move.front + move.back + move.over + move.passes * move.stack


class _Lengths:
    """Thread from any place of the walk to any other, without adding up each time."""

    def __init__(self, sewn: ThreadPath) -> None:
        self.sewn = sewn
        self.to = tuple(accumulate(map(_moved, sewn.moves), initial=0.0))

    def cut(self, start: int, end: int) -> float:
        """What to cut for a thread that sews from one place of the walk to another."""
        sewn = self.sewn
        bare = sewn.stacks[start] + sewn.strand(start) + self.to[end] - self.to[start]
        return round(bare + sewn.wraps(start, end) + 2 * sewn.tail, DECIMALS)

    def farthest(self, start: int, limit: float) -> int:
        """The last place a thread of at most `limit` reaches; before `start` if it reaches none."""
        ends = range(start, self.sewn.last + 1)
        return start - 1 + bisect_right(ends, limit, key=lambda end: self.cut(start, end))


def _fewest(lengths: _Lengths, limit: float) -> tuple[ThreadSpan, ...]:
    """As few threads as possible: each sews as far as it goes. Empty where one can't get on."""
    start, last = 0, lengths.sewn.last
    spans: list[ThreadSpan] = []
    while True:
        end = lengths.farthest(start, limit)
        if end == last:
            return (*spans, (start, last))
        if end - OVERLAP <= start:
            return ()
        spans.append((start, end))
        start = end - OVERLAP


def _clear(lengths: _Lengths, spans: Sequence[ThreadSpan], limit: float) -> tuple[ThreadSpan, ...]:
    """The same number of threads with their joins clear of corners, where there is such a choice."""
    ends = [end for _, end in spans[:-1]]
    fixed, last = lengths.sewn.fixed, lengths.sewn.last
    moved = clear_ends(ends, JoinLimits(last, fixed, limit, lengths.cut)) if fixed else None
    if moved is None:
        return tuple(spans)
    return tuple(zip((0, *(end - OVERLAP for end in moved)), (*moved, last), strict=True))


def _alike(lengths: _Lengths, count: int) -> tuple[ThreadSpan, ...]:
    """`count` threads of lengths as alike as whole stitches allow; fewer where the seam ends first."""
    start, to = 0, lengths.to
    last = len(to) - 1
    spans: list[ThreadSpan] = []
    for left in range(count, 1, -1):
        again = (left - 1) * OVERLAP * to[last] / last  # what the joins still to come sew twice
        share = (to[last] - to[start] + again) / left
        reach = to[start] + share * (1 - 0.25 / last)  # less a hair, so that equal shares stay equal
        end = bisect_left(to, reach, lo=min(start + OVERLAP + 1, last))
        if end >= last:
            break
        spans.append((start, end))
        start = end - OVERLAP
    return (*spans, (start, last)) if count else ()
