"""Nesting: drawings of any outline onto few pages, each put down where a rule says.

In: items, each as its footprints at several turns, in the order in which they are put down. Out: for
each its page, its footprint and its position; and how full the pages are.

The rule: an item goes to the first page that has a place for it; of all turns, and of the eight
outermost free positions of each turn (lowest, highest, first and last, and those in their rows and
columns), to the one where most of its rim touches others or the wall, a little less being enough
near a corner.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import floor

import msgspec

from handkit.sheets.nest.footprint import Footprint, PageGrid
from handkit.sheets.nest.no_fit import Cover, NoFitMask, TakenSquares, no_fit_mask
from handkit.sheets.nest.packing import NOISE

Position = tuple[int, int]

# What a page's width off the walls is worth, as a share of the rim.
OFF_CORNER = 0.1

# Bytes of no-fit masks that are remembered.
MOST_REMEMBERED = 32_000_000

# Pairs of which it is known that they were met.
MOST_ASKED = 100_000


class Nested(msgspec.Struct, frozen=True):
    """Where an item has come to stand: page from 0, position in squares."""

    page: int
    footprint: Footprint
    position: Position


class Nesting(msgspec.Struct, frozen=True):
    """All items in the order given. `fills` are the squares taken on each page."""

    items: tuple[Nested, ...]
    fills: tuple[int, ...]

    @property
    def pages(self) -> int:
        """How many pages it takes."""
        return len(self.fills)


class _Page:
    """A page while it is being filled. `free` are positions of footprints, as they were when so many
    items stood on it."""

    def __init__(self, walls: int, stride: int) -> None:
        self.touch = walls  # walls and all that is taken, one square up and right
        self.taken = TakenSquares(0, stride)
        self.squares = 0
        self.items: list[tuple[Footprint, Position]] = []
        self.free: dict[Footprint, tuple[int, int]] = {}
        self.full_for: set[int] = set()

    def put(self, footprint: Footprint, position: Position, stride: int) -> None:
        """Take an item's squares."""
        column, row = position
        number = footprint.number << (row * stride + column)
        self.items.append((footprint, position))
        self.taken = TakenSquares(self.taken.seen_by((0, 0)) | number, stride)
        self.touch |= number << (stride + 1)
        self.squares += footprint.squares


class Nest:
    """Puts items down on pages of one grid, and remembers no-fit masks between one time and the next.

    `work` counts how often a page was searched for a place for a footprint: a limit that every
    machine reaches at the same place.
    """

    def __init__(self, grid: PageGrid) -> None:
        self.grid = grid
        self.work = 0
        self._covers: dict[Footprint, Cover] = {}
        self._masks: dict[tuple[Footprint, Footprint], NoFitMask] = {}
        self._remembered = 0
        self._asked: set[tuple[Footprint, Footprint]] = set()
        # where items stand on an empty page, by identity: each is kept here with its answer
        self._first: dict[int, tuple[Sequence[Footprint], tuple[Footprint, Position]]] = {}
        self._rooms: dict[Position, int] = {}
        self._column = sum(1 << (row * grid.stride) for row in range(grid.rows))
        self._walls = _walls_of(grid)

    def put_down(
        self, items: Sequence[Sequence[Footprint]], *, most_pages: int | None = None, apart: int = 0
    ) -> Nesting | None:
        """Lay all items, or give up where they take more than `most_pages`. The first so many that
        are kept `apart` have a page each.

        Raises ValueError for an item without a footprint.
        """
        pages: list[_Page] = []
        nested: list[Nested] = []
        for number, footprints in enumerate(items):
            if not footprints:
                raise ValueError("an item that fits no page")
            found = self._first_place(pages, footprints) if number >= apart else None
            if found is None:
                if most_pages is not None and len(pages) >= most_pages:
                    return None
                pages.append(_Page(self._walls, self.grid.stride))
                found = (len(pages) - 1, *self._first_on_page(footprints))
            page, footprint, position = found
            pages[page].put(footprint, position, self.grid.stride)
            nested.append(Nested(page, footprint, position))
        return Nesting(tuple(nested), tuple(page.squares for page in pages))

    def _first_place(
        self, pages: Sequence[_Page], footprints: Sequence[Footprint]
    ) -> tuple[int, Footprint, Position] | None:
        least = min(footprint.squares for footprint in footprints)
        room = self.grid.columns * self.grid.rows
        for number, page in enumerate(pages):
            if page.squares + least > room or id(footprints) in page.full_for:
                continue
            found = self._best_place(page, footprints)
            if found:
                return (number, *found)
            page.full_for.add(id(footprints))
        return None

    def _first_on_page(self, footprints: Sequence[Footprint]) -> tuple[Footprint, Position]:
        known = self._first.get(id(footprints))
        if known is None:
            place = self._best_place(_Page(self._walls, self.grid.stride), footprints)
            if place is None:
                raise ValueError("an item that fits no empty page")
            known = self._first[id(footprints)] = (footprints, place)
        return known[1]

    def _best_place(self, page: _Page, footprints: Sequence[Footprint]) -> tuple[Footprint, Position] | None:
        best: tuple[float, Footprint, Position] | None = None
        for footprint in footprints:
            free = self.free(page, footprint)
            if not free:
                continue
            for position in self.outermost(free):
                score = self.contact(page, footprint, position) - OFF_CORNER * self._off_corner(
                    footprint, position
                )
                if best is None or score > best[0]:
                    best = (score, footprint, position)
        return best[1:] if best else None

    def free(self, page: _Page, footprint: Footprint) -> int:
        """The positions at which a footprint can stand on a page."""
        count, free = page.free.get(footprint) or (0, self._room(footprint))
        pending = page.items[count:]
        if not free or not pending:
            return free
        self.work += 1
        if all((other, footprint) in self._masks for other, _ in pending):
            stride = self.grid.stride
            for other, (column, row) in pending:
                free &= ~self._masks[other, footprint].at(column, row, stride)
        else:
            cover = self._cover(footprint)
            free = cover.free(page.taken, free)
            if free:
                self._remember(footprint, cover, [other for other, _ in pending])
        page.free[footprint] = (len(page.items), free)
        return free

    def _remember(self, placed: Footprint, cover: Cover, standing: Sequence[Footprint]) -> None:
        """Make the masks of pairs that are met for the second time: most are met once."""
        for other in standing:
            pair = (other, placed)
            if pair in self._asked:
                if pair not in self._masks and self._remembered < MOST_REMEMBERED:
                    mask = self._masks[pair] = no_fit_mask(other, placed, cover, self.grid)
                    self._remembered += mask.bits.bit_length() // 8
            elif len(self._asked) < MOST_ASKED:
                self._asked.add(pair)

    def outermost(self, free: int) -> tuple[Position, ...]:
        """The lowest and highest free positions, first and last of their row, and likewise the
        first and last columns'."""
        stride = self.grid.stride
        low, high = ((free & -free).bit_length() - 1) // stride, (free.bit_length() - 1) // stride
        found: list[Position] = []
        for row in (low, high):
            squares = free >> (row * stride) & ((1 << stride) - 1)
            found += [((squares & -squares).bit_length() - 1, row), (squares.bit_length() - 1, row)]
        folded, done = free >> (low * stride), 1
        while done <= high - low:
            folded |= folded >> (done * stride)
            done *= 2
        folded &= (1 << stride) - 1
        for column in ((folded & -folded).bit_length() - 1, folded.bit_length() - 1):
            squares = free >> column & self._column
            found += [
                (column, ((squares & -squares).bit_length() - 1) // stride),
                (column, (squares.bit_length() - 1) // stride),
            ]
        return tuple(dict.fromkeys(found))

    def contact(self, page: _Page, footprint: Footprint, position: Position) -> float:
        """The share of a footprint's rim that touches others or the wall."""
        column, row = position
        touching = page.touch >> (row * self.grid.stride + column) & footprint.rim
        return touching.bit_count() / footprint.rim_squares

    def _off_corner(self, footprint: Footprint, position: Position) -> float:
        """How far a footprint stands from the nearest walls, each way as a share of the page."""
        (column, row), grid = position, self.grid
        across = min(column, grid.columns - column - footprint.columns)
        up = min(row, grid.rows - row - len(footprint.rows))
        return across / grid.columns + up / grid.rows

    def _cover(self, footprint: Footprint) -> Cover:
        found = self._covers.get(footprint)
        if found is None:
            found = self._covers[footprint] = Cover(footprint, self.grid.stride)
        return found

    def _room(self, footprint: Footprint) -> int:
        """The positions at which a footprint lies on the page, by its drawing's exact size."""
        page, raster = self.grid.page, self.grid.raster
        columns = floor((page.width - footprint.size.width) / raster + NOISE) + 1
        rows = floor((page.height - footprint.size.height) / raster + NOISE) + 1
        found = self._rooms.get((columns, rows))
        if found is None:
            found = self._rooms[columns, rows] = self.grid.number([(1 << columns) - 1] * rows)
        return found


def _walls_of(grid: PageGrid) -> int:
    """All squares about a page, one square up and right."""
    full = (1 << grid.stride) - 1
    sides = full & ~(((1 << grid.columns) - 1) << 1)
    return grid.number([full, *[sides] * grid.rows, full, full])
