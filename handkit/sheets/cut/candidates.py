"""Candidates: the ways a piece may be cut that are worth trying together with all other pieces.

In: a shape, the page's printable size, the overlap and gap, mm. Out: `Candidate`s, most promising
first; one alone where the piece fits a page whole.

Many turns × eight offsets × all stacks of rows with the fewest windows or one more are planned and
rated. Of those with fewest joins, with one more and so on, the best few are cut, and their windows
put down by themselves on pages of coarse squares: they are ranked by the pages that they take alone.
Corner letters only rank: a cut nearer than `LETTER_CLEARANCE` to one is taken where no other is as good.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from functools import cached_property
from itertools import islice

import msgspec

from handkit.geometry.affine import Affine
from handkit.geometry.capsule import Capsule
from handkit.kept.kept import NOTHING, KeptOf
from handkit.sheets.cut.clear_cuts import Obstacles, cleared
from handkit.sheets.cut.cut import Cut, Extent, cut_by, whole
from handkit.sheets.cut.estimates import boxes_of, nested_pages, pages_of_boxes, rough_pages
from handkit.sheets.cut.lattice import Lattice, Stack
from handkit.sheets.cut.plan import Plan, Views, plans_of, rank
from handkit.sheets.cut.profile import Profile
from handkit.sheets.joins.keep_out import runs_through
from handkit.sheets.nest.footprint import page_grid
from handkit.sheets.nest.nest import Nest
from handkit.sheets.nest.packing import Size
from handkit.sheets.nest.turns import turn_to_fit, turns_to_cut
from handkit.sheets.shape import Shape
from handkit.tolerances import JOIN_CLEARANCE, LETTER_CLEARANCE

OFFSETS = 8

# Rows begin at few places, but their number grows with the square of that of rows: of a piece many
# pages long fewer offsets are tried.
MOST_PLACES = 1200

# How many are kept at each step: stacks of one offset, stacks of all, plans of a stack, cuts with so
# many joins, and of these after they were put down alone. Few windows can be had in few ways, many
# take long: so the most are looked at in between.
STACKS_OF_ONE = 16
STACKS = 800
PLANS_OF_ONE = 2
CUTS = 10
KEPT = 4

# Cuts that are moved off holes and letters.
CLEARED = 8


def _stacks_worth(windows: int) -> int:
    return max(40, min(50 * windows * windows, STACKS, 10_000 // windows, 300_000 // (windows * windows)))


def _cuts_worth(windows: int) -> int:
    return max(2, min(2 * windows, CUTS, 130 // windows))


# More windows, and more joins, than the fewest that a piece may be given.
EXTRA = 1
EXTRA_JOINS = 3

# Windows are made so much less than the page, for sides are rounded out to a thousandth.
ROUNDING = 0.004

# Squares of the page when a cut is put down alone.
RASTER = 4.0


class Candidate(msgspec.Struct, frozen=True):
    """A way to cut a shape, with what it costs beside sheets."""

    cut: Cut
    through: int  # cut lines through a hole or an opening
    letters: int  # cut lines through a corner letter
    line: float  # mm of the piece on cut lines
    area: float  # mm² it takes from its pages, half a gap all round included
    pages: float = 0.0  # pages it takes by itself, the emptiest by how full it is

    @property
    def cost(self) -> tuple[float, ...]:
        """Less is better: joins, joins through holes, through letters, line across joins."""
        return (len(self.cut.joins), self.through, self.letters, round(self.line, 1))


class _Turned(msgspec.Struct, frozen=True, dict=True, eq=False):
    """A shape at one turn."""

    shape: Shape
    base: Affine
    views: Views

    @cached_property
    def extent(self) -> Extent:
        """All that its outline covers."""
        return Extent(self.shape.extent(self.base))

    @cached_property
    def area(self) -> float:
        """In mm²."""
        return self.extent.region.area

    @cached_property
    def keep_outs(self) -> tuple[Capsule, ...]:
        """Its holes and openings."""
        return _laid(self.shape.keep_outs, self.base)


_Planned = tuple[Plan, _Turned]


def candidates_for(
    shape: Shape, *, page: Size, overlap: float, gap: float, kept: KeptOf = NOTHING
) -> tuple[Candidate, ...]:
    """The ways to cut a shape, as they are `kept` where they are; one way alone where it fits whole, whatever
    is drawn in it."""
    bare = Shape("", shape.ring, turned_over=shape.turned_over, coarse=shape.coarse)
    one = kept.of_these("whole piece", (bare, page, gap), lambda: _uncut(bare, page, gap))
    if one is not None:
        return (one,)
    return kept.of_these("cuts", (shape, page, overlap, gap), lambda: _cut(shape, page, overlap, gap))


def _uncut(shape: Shape, page: Size, gap: float) -> Candidate | None:
    """A shape that fits the page; None where it doesn't."""
    turn = turn_to_fit(shape.base(0).apply_all(shape.coarse_ring), page, room=shape.room)
    if turn is None:
        return None
    turned = _turned(shape, turn)
    cut = whole(turned.base, turned.extent)
    return Candidate(cut, 0, 0, 0.0, cut.paper(gap))


def _cut(shape: Shape, page: Size, overlap: float, gap: float) -> tuple[Candidate, ...]:
    """The ways to cut a shape that fits no page."""
    inner = Size(page.width - ROUNDING, page.height - ROUNDING)
    chosen = _chosen(_plans(shape, inner, overlap), inner, overlap, gap)
    cutting = _Cutting(shape, page, gap)
    found = [(one, planned) for planned in chosen if (one := cutting.cut(planned))]
    kept = _best(found)
    hit = [(one, planned) for one, planned in kept if one.through or one.letters]
    better = [moved for one, planned in hit[:CLEARED] if (moved := cutting.cleared(one, planned))]
    return tuple(sorted([*(one for one, _ in kept), *better], key=lambda one: (one.pages, one.cost)))


def _turned(shape: Shape, turn: float) -> _Turned:
    base, room = shape.base(turn), shape.room
    ring = base.apply_all(shape.coarse_ring)
    views = Views(Profile(ring, room=room), Profile([(y, x) for x, y in ring], room=room))
    return _Turned(shape, base, views)


def _plans(shape: Shape, page: Size, overlap: float) -> list[_Planned]:
    """Plans with the fewest windows that were found, or one more."""
    lattices = list(_lattices(shape, page, overlap))
    most = min(lattice.fewest for lattice, _ in lattices) + EXTRA
    stacks: dict[Stack, tuple[float, int, _Turned]] = {}
    for lattice, turned in lattices:
        if lattice.fewest <= most:
            for stack in islice(lattice.stacks(most), STACKS_OF_ONE):
                if all(row.spans for row in stack) and stack not in stacks:
                    stacks[stack] = (rough_pages(stack, page), len(stacks), turned)
    best = sorted(stacks, key=lambda stack: stacks[stack][:2])[: _stacks_worth(most - EXTRA)]
    return [
        (plan, stacks[stack][2])
        for stack in best
        for plan in plans_of(stack, stacks[stack][2].views, most=PLANS_OF_ONE)
    ]


def _lattices(shape: Shape, page: Size, overlap: float) -> Iterator[tuple[Lattice, _Turned]]:
    step = (min(page.width, page.height) - overlap) / OFFSETS
    for turn in turns_to_cut(shape.base(0).apply_all(shape.coarse_ring)):
        turned = _turned(shape, turn)
        profile = turned.views.upright
        rows = (profile.top - profile.bottom) / min(page.width, page.height)
        for k in range(max(1, min(OFFSETS, int(MOST_PLACES / (rows * rows))))):
            yield Lattice(turned.views.upright, page, overlap, k * step), turned


def _chosen(plans: Sequence[_Planned], page: Size, overlap: float, gap: float) -> list[_Planned]:
    """Of the plans with so many joins those that would pack best; of plans that differ only by what
    is left and what right the first."""
    fewest = min(plan.joins for plan, _ in plans)
    most = _cuts_worth(min(plan.windows for plan, _ in plans))
    classes: dict[int, dict[object, tuple[float, tuple[float, ...], int]]] = {}
    for number, (plan, turned) in enumerate(plans):
        if plan.joins > fewest + EXTRA_JOINS:
            continue
        boxes = boxes_of(plan, turned.views)
        sizes = tuple(sorted((round(box.width), round(box.height)) for box in boxes))
        alike = classes.setdefault(plan.joins, {})
        if sizes not in alike:
            pages = pages_of_boxes(boxes, plan.line, area=turned.area, overlap=overlap, gap=gap, page=page)
            alike[sizes] = (pages, rank(plan), number)
    return [
        plans[number] for joins in sorted(classes) for *_, number in sorted(classes[joins].values())[:most]
    ]


class _Cutting:
    """Cuts one shape by plans; remembers what all its cuts share."""

    def __init__(self, shape: Shape, page: Size, gap: float) -> None:
        self.shape = shape
        self.page = page
        self.gap = gap
        radius = LETTER_CLEARANCE - JOIN_CLEARANCE  # a keep-out is kept clear of beyond it
        self.letters = tuple(Capsule(at, at, radius) for at in shape.letters)
        self.nest = Nest(page_grid(page, gap=gap, raster=RASTER))

    def cut(self, planned: _Planned) -> Candidate | None:
        """The candidate of a plan; None where a join has no room for its marks."""
        plan, turned = planned
        cut = cut_by(plan, base=turned.base, extent=turned.extent, page=self.page, keep_outs=turned.keep_outs)
        if cut is None:
            return None
        back = turned.base.inverse()
        lines = [(back.apply(a), back.apply(b)) for a, b in (join.line.ends for join in cut.joins)]
        return Candidate(
            cut=cut,
            through=sum(runs_through(line, self.shape.keep_outs) for line in lines),
            letters=sum(runs_through(line, self.letters) for line in lines),
            line=plan.line,
            area=cut.paper(self.gap),
            pages=nested_pages(cut, self.nest),
        )

    def cleared(self, one: Candidate, planned: _Planned) -> Candidate | None:
        """The candidate with its cuts moved off holes and letters, where that is better."""
        plan, turned = planned
        holes, letters = Obstacles(turned.keep_outs), Obstacles(_laid(self.letters, turned.base))
        inner = Size(self.page.width - ROUNDING, self.page.height - ROUNDING)
        moved = cleared(plan, turned.views, inner, holes=holes, letters=letters)
        other = self.cut((moved, turned)) if moved is not plan else None
        return other if other and other.cost < one.cost else None


def _laid(keep_outs: Sequence[Capsule], base: Affine) -> tuple[Capsule, ...]:
    return tuple(keep_out.moved(base) for keep_out in keep_outs)


def _best(found: Sequence[tuple[Candidate, _Planned]]) -> list[tuple[Candidate, _Planned]]:
    """Of the cuts with so many joins those that take least paper by themselves."""
    seen: Counter[int] = Counter()
    kept = []
    for one, planned in sorted(found, key=lambda one: (one[0].pages, one[0].cost)):
        seen[len(one.cut.joins)] += 1
        if seen[len(one.cut.joins)] <= KEPT:
            kept.append((one, planned))
    return kept
