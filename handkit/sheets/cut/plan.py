"""Plans: which cells of one row are joined to which of the next.

In: a stack of rows and profiles of the piece, upright and sideways, mm in the laid frame. Out:
`Plan`s: a chain of cells for each row, and where cells meet.

A cut in one row that goes on in the next costs fewer joins than two that miss each other. So each
row may be cut from the left, from the right, or where another row is cut; the best rows are put
together from the bottom up, a handful of the best kept at each (by joins, then by line across
them). Trying every cut in every stack took hundreds of times as long and found nothing better.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

import msgspec

from handkit.sheets.cut.chain import Cell, Chain, chain_from_left, chain_from_right, cuts_of
from handkit.sheets.cut.lattice import Stack
from handkit.sheets.cut.profile import Profile, Span

# How near to a cut line the piece must come, along it, to be joined there: below what can be cut.
TOUCH = 0.05

# Plans of one stack that are kept from row to row.
KEPT = 12


class Views(msgspec.Struct, frozen=True):
    """A piece's profile, and that of the piece with x and y exchanged."""

    upright: Profile
    sideways: Profile


class Meeting(msgspec.Struct, frozen=True):
    """Two cells, each (row, place in it), and the line both are cut at, `at` one coordinate,
    inked from `start` to `end` of the other; `upright` where it goes up the page."""

    first: tuple[int, int]
    second: tuple[int, int]
    upright: bool
    at: float
    start: float
    end: float
    inked: float  # how much of it lies in the piece


class Plan(msgspec.Struct, frozen=True):
    """A piece in cells."""

    stack: Stack
    chains: tuple[Chain, ...]
    meetings: tuple[Meeting, ...]
    line: float  # mm of the piece that lie on cut lines

    @property
    def windows(self) -> int:
        """How many."""
        return sum(len(chain) for chain in self.chains)

    @property
    def joins(self) -> int:
        """How many."""
        return len(self.meetings)


def plans_of(stack: Stack, views: Views, *, most: int) -> tuple[Plan, ...]:
    """The best plans of a stack, best first."""
    kept: list[_Part] = [(0, 0.0, (), ())]
    for row, chains in enumerate(_ways(stack)):
        longer: list[_Part] = []
        for chain in chains:
            beside = meetings_beside(row, chain, (stack[row].bottom, stack[row].top), views.sideways)
            across: dict[int, tuple[Meeting, ...]] = {}
            for joins, line, below, met in kept:
                key = id(below[-1]) if row else 0
                if key not in across:
                    over = (
                        meetings_across(row, below[-1], chain, stack[row].bottom, views.upright)
                        if row
                        else ()
                    )
                    across[key] = (*beside, *over)
                more = across[key]
                length = round(line + sum(meeting.inked for meeting in more), 3)
                longer.append((joins + len(more), length, (*below, chain), (*met, *more)))
        kept = sorted(longer, key=lambda part: part[:2])[:KEPT]
    return tuple(Plan(stack, chains, met, line) for _, line, chains, met in kept[:most])


def plan_of(stack: Stack, chains: Sequence[Chain], views: Views) -> Plan:
    """The plan of rows that are cut already."""
    met: list[Meeting] = []
    for row, chain in enumerate(chains):
        met += meetings_beside(row, chain, (stack[row].bottom, stack[row].top), views.sideways)
        if row:
            met += meetings_across(row, chains[row - 1], chain, stack[row].bottom, views.upright)
    return Plan(stack, tuple(chains), tuple(met), round(sum(one.inked for one in met), 3))


# The lower rows of a plan: joins, line across them, chains, meetings.
_Part = tuple[int, float, tuple[Chain, ...], tuple[Meeting, ...]]


def rank(plan: Plan) -> tuple[float, ...]:
    """Less is better: joins, then line across them."""
    return (plan.joins, plan.line)


def _ways(stack: Stack) -> list[tuple[Chain, ...]]:
    """For each row the chains worth trying."""
    plain = [(row.from_left, row.from_right) for row in stack]
    return [tuple(dict.fromkeys((*plain[k], *_aligned(stack, k, plain)))) for k in range(len(stack))]


def _aligned(stack: Stack, k: int, plain: list[tuple[Chain, Chain]]) -> Iterator[Chain]:
    """A row cut where others are."""
    spans, reach = stack[k].spans, stack[k].reach
    if len(plain[k][0]) == 1:
        return
    wanted = dict.fromkeys(cuts_of(chain) for other in plain[:k] + plain[k + 1 :] for chain in other)
    for cuts in wanted:
        if cuts:
            yield chain_from_left(spans, reach, tuple(reversed(cuts)))
            yield chain_from_right(spans, reach, cuts)


def meetings_beside(row: int, chain: Chain, height: Span, sideways: Profile) -> tuple[Meeting, ...]:
    """Where neighbours of one row are cut apart."""
    found = []
    for index, (cell, _) in enumerate(pairwise(chain)):
        if not cell.cut_right:
            continue
        inked = _common(sideways.spans(cell.right, cell.right), height)
        if inked:
            found.append(_meeting((row, index), (row, index + 1), True, cell.right, inked))
    return tuple(found)


def meetings_across(row: int, below: Chain, above: Chain, at: float, upright: Profile) -> tuple[Meeting, ...]:
    """Where the cells of a row meet those of the row below it."""
    spans = upright.spans(at, at)
    found = []
    passed = 0  # so many cells above end left of all that is still to come below
    for i, low in enumerate(below):
        while passed < len(above) and above[passed].right <= low.left:
            passed += 1
        for j in range(passed, len(above)):
            high = above[j]
            left, right = max(low.left, high.left), min(low.right, high.right)
            if high.left >= low.right:
                break
            if right - left > TOUCH and (inked := _common(spans, (left, right))):
                found.append(_meeting((row - 1, i), (row, j), False, at, inked))
    return tuple(found)


def _meeting(
    first: tuple[int, int], second: tuple[int, int], upright: bool, at: float, inked: Sequence[Span]
) -> Meeting:
    total = sum(end - start for start, end in inked)
    return Meeting(first, second, upright, at, inked[0][0], inked[-1][1], total)


def _common(spans: Sequence[Span], within: Span) -> list[Span]:
    """What of the spans lies within another, shreds left out."""
    cut = ((max(low, within[0]), min(high, within[1])) for low, high in spans)
    return [(low, high) for low, high in cut if high - low > TOUCH]


def cells_of(plan: Plan) -> Iterator[tuple[tuple[int, int], Cell]]:
    """All cells by rows from the top, each from the left, with row and place."""
    for row in reversed(range(len(plan.chains))):
        for index, cell in enumerate(plan.chains[row]):
            yield (row, index), cell
