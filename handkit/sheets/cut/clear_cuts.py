"""Clear cuts: the cuts of a plan moved off holes, openings and corner letters.

In: a plan, the piece's profiles, the places to keep clear of, in the laid frame, mm. Out: a plan
with no more windows and no more joins, and fewer cut lines through such places.

Cuts one after the other may move as long as what lies between two is no longer than a window holds.
Of all places a cut can go those are looked at where nothing stands within reach, and all cuts of a
piece between its rows, or of one row, are placed together. Cuts that are one line over several rows
are moved together too, and go on being one.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import inf

import msgspec

from handkit.geometry.capsule import Capsule
from handkit.sheets.cut.chain import Chain, chain_from_left
from handkit.sheets.cut.cut_places import CutsInLine, free_places
from handkit.sheets.cut.lattice import Row, Stack
from handkit.sheets.cut.plan import Meeting, Plan, Views, plan_of
from handkit.sheets.cut.profile import Span
from handkit.sheets.nest.packing import Size
from handkit.tolerances import JOIN_CLEARANCE

# How often all cuts are gone through.
ROUNDS = 2


class Obstacles:
    """Places that cut lines should keep clear of, sorted for quick asking."""

    def __init__(self, keep_outs: Sequence[Capsule]) -> None:
        # for cut lines that lie level and that stand upright: from where to where one is hit, and
        # from where to where along it
        boxes = [(_extent(keep_out, 0), _extent(keep_out, 1)) for keep_out in keep_outs]
        self._sorted = (sorted((y, x) for x, y in boxes), sorted(boxes))
        self._widest = [max((b - a for (a, b), _ in some), default=0.0) for some in self._sorted]

    def is_hit(self, line: Meeting) -> bool:
        """Whether a cut line comes near any: by its box, which is a little strict."""
        some = self._sorted[line.upright]
        first = bisect_left(some, ((line.at - self._widest[line.upright], -inf), (-inf, -inf)))
        last = bisect_left(some, ((line.at, -inf), (-inf, -inf)))
        return any(
            high > line.at and start < line.end and end > line.start
            for (_, high), (start, end) in some[first:last]
        )

    def across(self, upright: bool, band: Span) -> list[Span]:
        """Where cut lines may not stand that go from one end of a band to the other."""
        return [one for one, along in self._sorted[upright] if along[0] < band[1] and along[1] > band[0]]


def cleared(plan: Plan, views: Views, page: Size, *, holes: Obstacles, letters: Obstacles) -> Plan:
    """The plan itself where nothing better is found."""
    kinds = (holes, letters)
    best = _hits(plan, kinds)
    for _ in range(ROUNDS):
        before = best
        for other in _moves(plan, views, page, kinds):
            hits = _hits(other, kinds)
            cheaper = other.windows <= plan.windows and other.joins <= plan.joins
            if cheaper and hits < best:
                plan, best = other, hits
        if best == before or not any(best):
            break
    return plan


def _hits(plan: Plan, kinds: Sequence[Obstacles]) -> tuple[int, ...]:
    """How many cut lines run through places of each kind."""
    return tuple(sum(kind.is_hit(line) for line in plan.meetings) for kind in kinds)


def _extent(keep_out: Capsule, axis: int) -> Span:
    """What a cut line keeps clear of along one axis, 0 across, 1 up."""
    room = keep_out.radius + JOIN_CLEARANCE
    both = (keep_out.start[axis], keep_out.end[axis])
    return min(both) - room, max(both) + room


def _moves(plan: Plan, views: Views, page: Size, kinds: Sequence[Obstacles]) -> Iterator[Plan]:
    """The plan with cuts moved: those between rows; those of each row; those that are one line."""
    stack = _with_rows_moved(plan.stack, views, page, kinds)
    if stack != plan.stack and all(part.spans for part in stack):
        yield plan_of(stack, _rechained(stack, plan.chains), views)
    for row, chain in enumerate(plan.chains):
        part = plan.stack[row]
        if len(chain) > 1 and all(cell.cut_right for cell in chain[:-1]):
            blocked = [one for kind in kinds for one in kind.across(True, (part.bottom, part.top))]
            line = CutsInLine(chain[0].left, chain[-1].right, _lengths([part.reach.width] * len(chain), part))
            cuts = line.best([cell.right for cell in chain[:-1]], blocked)
            moved = chain_from_left(part.spans, part.reach, cuts[::-1])
            yield plan_of(plan.stack, (*plan.chains[:row], moved, *plan.chains[row + 1 :]), views)
    for at in sorted({cell.right for chain in plan.chains for cell in chain if cell.cut_right}):
        yield from _across(plan, views, at, kinds)


def _with_rows_moved(stack: Stack, views: Views, page: Size, kinds: Sequence[Obstacles]) -> Stack:
    """The same rows, cut elsewhere."""
    if len(stack) == 1:
        return stack
    sides = [span for row in stack for span in row.spans]
    band = (min(low for low, _ in sides), max(high for _, high in sides))
    blocked = [one for kind in kinds for one in kind.across(False, band)]
    heights = [page.width + page.height - row.reach.width for row in stack]
    line = CutsInLine(stack[0].bottom, stack[-1].top, _lengths(heights, stack[0]))
    ends = [stack[0].bottom, *line.best([row.bottom for row in stack[1:]], blocked), stack[-1].top]
    return tuple(
        msgspec.structs.replace(row, bottom=low, top=high, spans=views.upright.spans(low, high))
        for row, (low, high) in zip(stack, pairwise(ends), strict=True)
    )


def _lengths(windows: Sequence[float], row: Row) -> tuple[float, ...]:
    """What each of several windows in line keeps at most."""
    half = row.reach.overlap / 2
    last = len(windows) - 1
    return tuple(length - half * (k > 0) - half * (k < last) for k, length in enumerate(windows))


def _across(plan: Plan, views: Views, now: float, kinds: Sequence[Obstacles]) -> Iterator[Plan]:
    """The plan with all cuts at one place moved to another."""
    rows = [k for k, chain in enumerate(plan.chains) if any(c.right == now and c.cut_right for c in chain)]
    bands = [(plan.stack[k].bottom, plan.stack[k].top) for k in rows]
    blocked = [one for kind in kinds for band in bands for one in kind.across(True, band)]
    width = plan.stack[rows[0]].reach.width
    for at in free_places(now, (now - width, now + width), blocked):
        chains = list(plan.chains)
        for k in rows:
            cuts = [at if cell.right == now else cell.right for cell in chains[k] if cell.cut_right]
            chains[k] = chain_from_left(plan.stack[k].spans, plan.stack[k].reach, sorted(cuts, reverse=True))
        if all(any(c.right == at for c in chains[k]) for k in rows):
            yield plan_of(plan.stack, tuple(chains), views)


def _rechained(stack: Stack, chains: Sequence[Chain]) -> tuple[Chain, ...]:
    """The rows of a changed stack, cut where they were as far as can be."""
    return tuple(
        chain_from_left(
            row.spans,
            row.reach,
            sorted((cell.right for cell in chain if cell.cut_right), reverse=True),
        )
        for row, chain in zip(stack, chains, strict=True)
    )
