"""Nesting: drawings of any outline onto as few pages as can be found by a plain rule.

In: items, each as its stencils at several turns, in the order in which they are put down. Out: for
each its page, its stencil and its position; and how full the pages are.

The rule: an item goes to the first page that has a place for it; of all turns, and of the eight
outermost free positions of each turn (lowest, highest, first and last, and those in their rows and
columns), to the one where most of its rim touches others or the wall, a little less being enough
near a corner. Shadows of pairs that are
asked for again are kept; a pair met once is not worth its own.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import floor

import msgspec

from handkit.sheets.nest.packing import NOISE
from handkit.sheets.nest.shadow import Shadow, blocked, shadow_of
from handkit.sheets.nest.stencil import Canvas, Stencil

Position = tuple[int, int]

# What a page's width off the walls is worth, as a share of the rim.
OFF_CORNER = 0.1

# Shifts it takes to spread what is taken, about.
SPREADING = 8


class Lain(msgspec.Struct, frozen=True):
    """Where an item has come to lie: page from 0, position in squares."""

    page: int
    stencil: Stencil
    position: Position


class Nesting(msgspec.Struct, frozen=True):
    """All items in the order given. `fills` are the squares taken on each page."""

    lain: tuple[Lain, ...]
    fills: tuple[int, ...]

    @property
    def pages(self) -> int:
        """How many pages it takes."""
        return len(self.fills)


class _Page(msgspec.Struct):
    """A page while it is being filled."""

    touch: int  # walls and all that is taken, one square up and right
    taken: int = 0
    squares: int = 0
    items: list[tuple[Stencil, Position]] = msgspec.field(default_factory=list)
    blocked: dict[Stencil, tuple[int, int]] = msgspec.field(default_factory=dict)
    full_for: set[int] = msgspec.field(default_factory=set)


class Nest:
    """Puts items down on pages of one canvas, and remembers shadows between one time and the next.

    `work` counts what was done, in shifts of a page's squares: a limit that every machine reaches
    at the same place.
    """

    def __init__(self, canvas: Canvas) -> None:
        self.canvas = canvas
        self.work = 0
        self._shadows: dict[tuple[Stencil, Stencil], Shadow] = {}
        self._asked: set[tuple[Stencil, Stencil]] = set()
        self._rooms: dict[Position, int] = {}
        self._column = sum(1 << (row * canvas.stride) for row in range(canvas.rows))
        self._walls = self._walls_of(canvas)

    def put_down(
        self, items: Sequence[Sequence[Stencil]], *, most_pages: int | None = None, apart: int = 0
    ) -> Nesting | None:
        """Lay all items, or give up where they take more than `most_pages`. The first so many that
        are kept `apart` have a page each.

        Raises ValueError for an item without a stencil.
        """
        pages: list[_Page] = []
        lain: list[Lain] = []
        for number, stencils in enumerate(items):
            if not stencils:
                raise ValueError("an item that fits no page")
            found = self._first_place(pages, stencils) if number >= apart else None
            if found is None:
                if most_pages is not None and len(pages) >= most_pages:
                    return None
                pages.append(_Page(self._walls))
                found = (len(pages) - 1, *self._must(self._best_place(pages[-1], stencils)))
            page, stencil, position = found
            self._put(pages[page], stencil, position)
            lain.append(Lain(page, stencil, position))
        return Nesting(tuple(lain), tuple(page.squares for page in pages))

    def _first_place(
        self, pages: Sequence[_Page], stencils: Sequence[Stencil]
    ) -> tuple[int, Stencil, Position] | None:
        least = min(stencil.squares for stencil in stencils)
        room = self.canvas.columns * self.canvas.rows
        for number, page in enumerate(pages):
            if page.squares + least > room or id(stencils) in page.full_for:
                continue
            found = self._best_place(page, stencils)
            if found:
                return (number, *found)
            page.full_for.add(id(stencils))
        return None

    def _best_place(self, page: _Page, stencils: Sequence[Stencil]) -> tuple[Stencil, Position] | None:
        best: tuple[float, Stencil, Position] | None = None
        for stencil in stencils:
            free = self.free(page, stencil)
            if not free:
                continue
            for position in self.outermost(free):
                score = self.contact(page, stencil, position) - OFF_CORNER * self._off_corner(
                    stencil, position
                )
                if best is None or score > best[0]:
                    best = (score, stencil, position)
        return best[1:] if best else None

    def free(self, page: _Page, stencil: Stencil) -> int:
        """The positions at which a stencil can stand on a page."""
        count, bits = page.blocked.get(stencil, (0, 0))
        pending = page.items[count:]
        if pending:
            pairs = [(other, stencil) for other, _ in pending]
            if all(pair in self._shadows or pair in self._asked for pair in pairs):
                for other, (column, row) in pending:
                    bits |= self._shadow(other, stencil).at(column, row, self.canvas.stride)
            else:
                self._asked.update(pairs)
                self.work += SPREADING + len(stencil.blocks)
                bits = blocked(page.taken, stencil, self.canvas.stride)
            self.work += len(pending)
            page.blocked[stencil] = (len(page.items), bits)
        return self._room(stencil) & ~bits

    def outermost(self, free: int) -> tuple[Position, ...]:
        """The lowest and highest free positions, first and last of their row, and likewise the
        first and last columns'."""
        stride = self.canvas.stride
        low, high = ((free & -free).bit_length() - 1) // stride, (free.bit_length() - 1) // stride
        found: list[Position] = []
        for row in (low, high):
            squares = free >> (row * stride) & ((1 << stride) - 1)
            found += [((squares & -squares).bit_length() - 1, row), (squares.bit_length() - 1, row)]
        folded, done = free, 1
        while done < self.canvas.rows:
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

    def contact(self, page: _Page, stencil: Stencil, position: Position) -> float:
        """The share of a stencil's rim that touches others or the wall."""
        column, row = position
        touching = page.touch >> (row * self.canvas.stride + column) & stencil.rim
        return touching.bit_count() / stencil.rim_squares

    def _off_corner(self, stencil: Stencil, position: Position) -> float:
        """How far a stencil stands from the nearest walls, each way as a share of the page."""
        (column, row), canvas = position, self.canvas
        across = min(column, canvas.columns - column - stencil.columns)
        up = min(row, canvas.rows - row - stencil.rows)
        return across / canvas.columns + up / canvas.rows

    def _put(self, page: _Page, stencil: Stencil, position: Position) -> None:
        column, row = position
        squares = stencil.flat << (row * self.canvas.stride + column)
        page.items.append((stencil, position))
        page.taken |= squares
        page.touch |= squares << (self.canvas.stride + 1)
        page.squares += stencil.squares

    def _shadow(self, standing: Stencil, placed: Stencil) -> Shadow:
        found = self._shadows.get((standing, placed))
        if found is None:
            found = self._shadows[standing, placed] = shadow_of(standing, placed, self.canvas)
            self.work += SPREADING + len(placed.blocks)
        return found

    def _room(self, stencil: Stencil) -> int:
        """The positions at which a stencil lies on the page, by its drawing's exact size."""
        page, raster = self.canvas.page, self.canvas.raster
        columns = floor((page.width - stencil.size.width) / raster + NOISE) + 1
        rows = floor((page.height - stencil.size.height) / raster + NOISE) + 1
        found = self._rooms.get((columns, rows))
        if found is None:
            found = self._rooms[columns, rows] = self.canvas.flat([(1 << columns) - 1] * rows)
        return found

    @staticmethod
    def _walls_of(canvas: Canvas) -> int:
        full = (1 << canvas.stride) - 1
        sides = full & ~(((1 << canvas.columns) - 1) << 1)
        return canvas.flat([full, *[sides] * canvas.rows, full, full])

    @staticmethod
    def _must(place: tuple[Stencil, Position] | None) -> tuple[Stencil, Position]:
        if place is None:
            raise ValueError("an item that fits no empty page")
        return place
