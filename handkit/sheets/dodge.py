"""Dodging: moving the cuts of a plan off holes, openings and corner letters.

In: a plan, the piece's profiles, the places to keep clear of, in the laid frame, mm. Out: a plan
with no more windows and no more joins, and fewer cut lines through such places.

A cut between rows may move as far as both rows stay no higher than their windows; a cut within rows
as far as the windows beside it reach. Tried are, of all places a line can go, those where nothing
stands within reach, nearest first. Cuts that are one line go on being one.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from math import inf

from handkit.sheets.chain import Chain, chain_from_left
from handkit.sheets.lattice import Row, Stack
from handkit.sheets.packing import Size
from handkit.sheets.plan import Meeting, Plan, Views, plan_of
from handkit.sheets.profile import Span, merged
from handkit.sheets.void import Void
from handkit.tolerances import JOIN_CLEARANCE

# Places tried for each cut, and how often all cuts are gone through.
PLACES = 4
ROUNDS = 2

# Beyond the clearance, so that rounding can't undo it.
MORE = 0.01


class Obstacles:
    """Places that cut lines should keep clear of, sorted for quick asking."""

    def __init__(self, voids: Sequence[Void]) -> None:
        # for cut lines that lie level and that stand upright: from where to where one is hit, and
        # from where to where along it
        boxes = [(_extent(void, 0), _extent(void, 1)) for void in voids]
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


def dodged(plan: Plan, views: Views, page: Size, *, holes: Obstacles, letters: Obstacles) -> Plan:
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


def _extent(void: Void, axis: int) -> Span:
    """What a cut line keeps clear of along one axis, 0 across, 1 up."""
    room = void.radius + JOIN_CLEARANCE
    both = (void.start[axis], void.end[axis])
    return min(both) - room, max(both) + room


def _moves(plan: Plan, views: Views, page: Size, kinds: Sequence[Obstacles]) -> Iterator[Plan]:
    """The plan with one cut moved, every cut in turn."""
    for row in range(1, len(plan.stack)):
        limits = _limits(plan.stack, row, page)
        now = plan.stack[row].bottom
        spans = plan.stack[row].spans
        blocked = [one for kind in kinds for one in kind.across(False, (spans[0][0], spans[-1][1]))]
        for at in _free(now, limits, blocked):
            stack = _with_boundary(plan.stack, row, at, views)
            if all(part.spans for part in stack):
                yield plan_of(stack, _rechained(stack, plan.chains), views)
    for at in sorted({cell.right for chain in plan.chains for cell in chain if cell.cut_right}):
        yield from _across(plan, views, at, kinds)


def _across(plan: Plan, views: Views, now: float, kinds: Sequence[Obstacles]) -> Iterator[Plan]:
    """The plan with all cuts at one place moved to another."""
    rows = [k for k, chain in enumerate(plan.chains) if any(c.right == now and c.cut_right for c in chain)]
    bands = [(plan.stack[k].bottom, plan.stack[k].top) for k in rows]
    blocked = [one for kind in kinds for band in bands for one in kind.across(True, band)]
    width = plan.stack[rows[0]].reach.width
    for at in _free(now, (now - width, now + width), blocked):
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


def _limits(stack: Stack, row: int, page: Size) -> Span:
    """From where to where the cut below a row may move."""
    below, above = stack[row - 1], stack[row]
    half = above.reach.overlap / 2
    return (
        above.top + half * (row < len(stack) - 1) - _height(above, page) + half,
        below.bottom - half * (row > 1) + _height(below, page) - half,
    )


def _height(row: Row, page: Size) -> float:
    """How high a row's windows are: the side of the page that isn't their width."""
    return page.width + page.height - row.reach.width


def _with_boundary(stack: Stack, row: int, at: float, views: Views) -> Stack:
    low, high = stack[row - 1], stack[row]
    low = replace(low, top=at, spans=views.upright.spans(low.bottom, at))
    high = replace(high, bottom=at, spans=views.upright.spans(at, high.top))
    return (*stack[: row - 1], low, high, *stack[row + 1 :])


def _free(now: float, limits: Span, blocked: Sequence[Span]) -> list[float]:
    """The places nearest to the present one that nothing blocks, and the middles between blocks."""
    low, high = limits
    if low >= high:
        return []
    inner = [(max(a, low), min(b, high)) for a, b in blocked if b > low and a < high]
    walls = [(low, low), *merged(inner, MORE), (high, high)]
    places = []
    for (_, start), (end, _) in pairwise(walls):
        if end - start > MORE:
            places += [min(max(now, start), end), (start + end) / 2]
    found = dict.fromkeys(round(place, 3) for place in places if low <= round(place, 3) <= high)
    return sorted(found, key=lambda place: (round(abs(place - now), 3), place))[:PLACES]
