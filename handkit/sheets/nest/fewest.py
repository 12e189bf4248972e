"""Fewest sheets: which cut of each piece, and where each window lies.

In: for each piece the ways it may be cut, the page's printable size and the gap, mm. Out: `Answer`:
one cut for each piece and a placement for each of its windows.

Cuts that take few sheets by themselves are likely to take few together. So the choices of cuts are put
down in the order of the sheets that their cuts take alone; then those with fewer joins that might do
with as few; then single pieces take other cuts that cost less: fewer joins through holes, through
letters, less line across joins. Rectangles are often packed better by their boxes, so that packing is
tried beside the nesting. The search ends when the answer takes as few sheets as the area allows. All
limits are counts of work done, never the clock.
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from math import ceil

import msgspec

from handkit.counting import OnProgress, no_progress
from handkit.geometry.affine import Affine
from handkit.geometry.box import Box, moved
from handkit.sheets.cut.candidates import Candidate
from handkit.sheets.nest.choices import Choice, choices_by_joins, cost_of, promise
from handkit.sheets.nest.footprint import Footprint, page_grid
from handkit.sheets.nest.nest import Nest, Nested, Nesting
from handkit.sheets.nest.packing import NOISE, BoxPlacement, Size, pack, turns_of
from handkit.sheets.nest.repack import repacked

# Squares of a first answer, and of a second where the bound isn't met.
COARSE_RASTER, FINE_RASTER = 2.0, 1.0

# Work of the search for fewer sheets, and of that for fewer joins: searches of a page for a place.
WORK = 16_000

# Work of repacking pages, in squares of either size.
REPACKING, FINE_REPACKING = 8_000, 2_500

# Fuller than this no set of pages gets by nesting; rectangles may, and are packed by their boxes
# where these leave a little.
FULLEST = 0.95
FULLEST_OF_BOXES = 0.97

# Choices that are tried with any number of joins.
OF_ALL = 40

Window = tuple[int, int]  # a piece by number, a window of it


class WindowPlacement(msgspec.Struct, frozen=True):
    """Where a window lies: page from 0, and the map from its laid frame to the printable area."""

    page: int
    onto: Affine


class Answer(msgspec.Struct, frozen=True):
    """A cut for each piece, in the order given, and for each a placement of every window."""

    choice: Choice
    placements: tuple[tuple[WindowPlacement, ...], ...]
    pages: int
    emptiest: float  # share of the emptiest page that is taken

    @property
    def cost(self) -> tuple[float, ...]:
        """What the cuts cost together."""
        return cost_of(self.choice)


def fewest_sheets(
    pieces: Sequence[Sequence[Candidate]], *, page: Size, gap: float, on_progress: OnProgress = no_progress
) -> Answer:
    """The best answer found. Raises ValueError for a piece without a cut."""
    search = _Search(pieces, page, gap, on_progress)
    answer = search.with_fewer_sheets(search.first())
    answer = search.with_less_cost(search.with_fewer_joins(answer))
    return search.with_pages_repacked(answer)


class _Search:
    """What is remembered between one try and the next: footprints and no-fit masks."""

    def __init__(
        self, pieces: Sequence[Sequence[Candidate]], page: Size, gap: float, on_progress: OnProgress
    ) -> None:
        self.pieces = pieces
        self.on_progress = on_progress
        self.page = page
        self.gap = gap
        self.whole = (page.width + gap) * (page.height + gap)
        self.bound = _bound(pieces, self.whole)
        self.nest = Nest(page_grid(page, gap=gap, raster=COARSE_RASTER))
        self.fine = Nest(page_grid(page, gap=gap, raster=FINE_RASTER))
        self.choices = choices_by_joins(pieces)

    def first(self) -> Answer:
        """Every piece cut in its most promising way."""
        choice = min((choices[0] for choices in self.choices.values()), key=promise)
        boxed = self.boxed(choice)
        assert boxed is not None, "there is no limit of pages"
        return self.better(boxed, self.nested(choice))

    def with_fewer_sheets(self, answer: Answer) -> Answer:
        """Of the choices that should take fewest sheets the one that takes fewest."""
        every = sorted((one for choices in self.choices.values() for one in choices), key=promise)
        tries = set[Hashable]()
        for choice in every[1:OF_ALL]:
            if answer.pages <= self.bound or self.nest.work > WORK:
                break
            if self.may_do(choice, answer.pages - 1) and self.is_new(choice, tries):
                answer = self.better(answer, self.laid(choice))
        improved = True
        while improved and answer.pages > self.bound and self.nest.work < WORK:
            improved = False
            for index, ways in enumerate(self.pieces):
                self.tell(f"fewer than {answer.pages}", index)
                for way in ways:
                    choice = (*answer.choice[:index], way, *answer.choice[index + 1 :])
                    if way is answer.choice[index] or not self.may_do(choice, answer.pages - 1):
                        continue
                    if not self.is_new(choice, tries):
                        continue
                    other = self.better(answer, self.laid(choice))
                    answer, improved = other, improved or other is not answer
        return answer

    def with_fewer_joins(self, answer: Answer) -> Answer:
        """The choice with fewest joins found that takes no more sheets."""
        tries = set[Hashable]()
        for joins in sorted(self.choices):
            if joins >= answer.cost[0]:
                break
            self.tell(f"{joins:.0f} joins in place of {answer.cost[0]:.0f}")
            for choice in self.choices[joins]:
                if self.nest.work > 2 * WORK:
                    break
                other = self.laid(choice, most_pages=answer.pages) if self.is_new(choice, tries) else None
                if other:
                    return other
        return answer

    def with_less_cost(self, answer: Answer) -> Answer:
        """Other cuts, one piece at a time, that cost less on no more sheets."""
        improved, tries = True, set[Hashable]()
        while improved and self.nest.work < 3 * WORK:
            improved = False
            for index, ways in enumerate(self.pieces):
                self.tell(f"better cuts on {answer.pages}", index)
                for way in sorted(ways, key=lambda way: way.cost):
                    if way.cost >= answer.choice[index].cost:
                        break
                    choice = (*answer.choice[:index], way, *answer.choice[index + 1 :])
                    other = self.laid(choice, most_pages=answer.pages) if self.is_new(choice, tries) else None
                    if other:
                        answer, improved = other, True
                        break
        return answer

    def with_pages_repacked(self, answer: Answer) -> Answer:
        """The same cuts put down with pages repacked, in squares of either size."""
        for nest, work in ((self.nest, REPACKING), (self.fine, FINE_REPACKING)):
            if answer.pages <= self.bound or not self.may_do(answer.choice, answer.pages - 1):
                break
            self.tell(f"fewer than {answer.pages}, packed anew")
            other = self.repacked(answer.choice, nest, aim=self.bound, work=work)
            if other.pages < answer.pages:
                answer = other
        return answer

    def tell(self, looked_for: str, piece: int | None = None) -> None:
        """What is looked for now, and which piece is cut otherwise for it."""
        where = "" if piece is None else f", piece {piece + 1} of {len(self.pieces)}"
        self.on_progress(f"laying out sheets: looking for {looked_for}{where}")

    @staticmethod
    def better(one: Answer, other: Answer | None) -> Answer:
        """The one that takes fewer sheets."""
        if other and (other.pages, other.emptiest) < (one.pages, one.emptiest):
            return other
        return one

    def is_new(self, choice: Choice, tries: set[Hashable]) -> bool:
        """Whether none like it was tried before; from now on one was. Pieces that are alike have the same
        cuts to choose from: where they change these among them, mostly the same is put down in the same
        order."""
        _, items = self.items(choice, self.nest)
        sizes = _sizes_of(choice)
        likeness = (tuple(map(id, items)), *(tuple(sizes[k] for k in turn) for turn in turns_of(sizes)))
        known = likeness in tries
        tries.add(likeness)
        return not known

    def may_do(self, choice: Choice, pages: int) -> bool:
        """Whether a choice leaves enough of so many pages free for nesting to succeed."""
        return sum(one.area for one in choice) <= FULLEST * pages * self.whole

    def laid(self, choice: Choice, *, most_pages: int | None = None) -> Answer | None:
        """The windows of a choice put down, by their boxes where that takes fewer sheets."""
        nested = self.nested(choice, most_pages=most_pages)
        if nested and (most_pages is not None or nested.pages <= self.bound):
            return nested
        wanted = nested.pages - 1 if nested else most_pages or 0
        if self.boxes_area(choice) > FULLEST_OF_BOXES * wanted * self.whole:
            return nested
        return self.boxed(choice, most_pages=wanted) or nested

    def boxes_area(self, choice: Choice) -> float:
        """Mm² that the windows' boxes take from pages."""
        boxes = (box for one in choice for box in one.cut.windows)
        return sum((box.width + self.gap) * (box.height + self.gap) for box in boxes)

    def nested(self, choice: Choice, *, most_pages: int | None = None) -> Answer | None:
        """The windows of a choice put down, largest first."""
        windows, items = self.items(choice, self.nest)
        found = self.nest.put_down(items, most_pages=most_pages)
        return answer_of(choice, windows, found, self.nest) if found else None

    def repacked(self, choice: Choice, nest: Nest, *, aim: int, work: int) -> Answer:
        """The same, with the emptiest page repacked as far as can be."""
        windows, items = self.items(choice, nest)
        found = nest.put_down(items)
        assert found is not None, "there is no limit of pages"
        return answer_of(choice, windows, repacked(nest, items, found, aim=aim, work=work), nest)

    def items(self, choice: Choice, nest: Nest) -> tuple[list[Window], list[tuple[Footprint, ...]]]:
        """All windows of a choice and their footprints, largest first."""
        windows = [(piece, index) for piece, one in enumerate(choice) for index in range(len(one.cut.drawn))]
        footprints = {
            (piece, index): choice[piece].cut.drawn[index].footprints(nest.grid) for piece, index in windows
        }
        windows.sort(key=lambda window: -max(footprint.squares for footprint in footprints[window]))
        return windows, [footprints[window] for window in windows]

    def boxed(self, choice: Choice, *, most_pages: int | None = None) -> Answer | None:
        """The windows of a choice packed by their boxes; None where that takes more pages."""
        sizes = _sizes_of(choice)
        placements = pack(sizes, page=self.page, gap=self.gap, most_pages=most_pages)
        if not placements:
            return None
        fills = [0.0] * (max(placement.page for placement in placements) + 1)
        for placement, size in zip(placements, sizes, strict=True):
            fills[placement.page] += (size.width + self.gap) * (size.height + self.gap)
        rest = iter(placements)
        each = tuple(tuple(_of_box(box, next(rest)) for box in one.cut.windows) for one in choice)
        return Answer(choice, each, len(fills), round(min(fills) / self.whole, 3))


def _sizes_of(choice: Choice) -> list[Size]:
    """The boxes of all windows of a choice."""
    return [Size(box.width, box.height) for one in choice for box in one.cut.windows]


def answer_of(choice: Choice, windows: Sequence[Window], found: Nesting, nest: Nest) -> Answer:
    """The answer that a nesting of a choice's windows is; `windows` are as they were put down."""
    nested = dict(zip(windows, found.items, strict=True))
    return Answer(
        choice=choice,
        placements=tuple(
            tuple(_placement(nested[piece, index], nest.grid.raster) for index in range(len(one.cut.drawn)))
            for piece, one in enumerate(choice)
        ),
        pages=found.pages,
        emptiest=round(min(found.fills) / (nest.grid.columns * nest.grid.rows), 3),
    )


def _bound(pieces: Sequence[Sequence[Candidate]], whole: float) -> int:
    """Sheets below which the areas alone do not fit."""
    area = sum(min(way.area for way in ways) for ways in pieces)
    return max(1, ceil(area / whole - NOISE))


def _placement(nested: Nested, raster: float) -> WindowPlacement:
    column, row = nested.position
    corner = Affine.shift(round(column * raster, 3), round(row * raster, 3))
    return WindowPlacement(nested.page, corner @ nested.footprint.onto)


def _of_box(box: Box, packed: BoxPlacement) -> WindowPlacement:
    turn = Affine.turn(90.0 if packed.turned else 0.0)
    turned = moved(box, turn)
    return WindowPlacement(
        packed.page, Affine.shift(packed.left - turned.left, packed.bottom - turned.bottom) @ turn
    )
