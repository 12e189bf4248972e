"""No-fit masks: the positions at which one footprint would run into what is already there.

In: squares that are taken, and the footprint that looks for a place. Out: a whole number with a bit
for every position, counted as a page's grid counts squares.

A block of columns × rows is blocked wherever a taken square lies within it: by shifting the taken
squares over one another, twice as far each time, all positions are answered at once. So a footprint
is covered by blocks whose sides are powers of two; they may overlap. The largest is asked first: on
a page that is nearly full it leaves no position, and the others need not be asked. Chosen over
polygons of impossible places, which are exact and a hundred times slower in plain Python.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cached_property

import msgspec

from handkit.sheets.nest.footprint import Footprint, PageGrid

# Rows by which a footprint may overhang a page whose drawing lies on it.
MORE = 2

# Columns and rows of a block, as powers of two; and columns, rows: where it begins, how large it is.
Power = tuple[int, int]
Block = tuple[int, int, int, int]


class TakenSquares:
    """Squares that are taken, as blocks of several sizes see them; remembers what it found."""

    def __init__(self, taken: int, stride: int) -> None:
        self._stride = stride
        self._known: dict[Power, int] = {(0, 0): taken}

    def seen_by(self, power: Power) -> int:
        """The positions at which a block of 2^wide × 2^high squares meets a taken one."""
        known = self._known
        bits = known.get(power)
        if bits is None:
            wide, high = power
            if high:
                before, step = self.seen_by((wide, high - 1)), self._stride << (high - 1)
            else:
                before, step = self.seen_by((wide - 1, 0)), 1 << (wide - 1)
            bits = known[power] = before | before >> step
        return bits


class Cover:
    """Blocks that together are a footprint: for each size of block how far each is shifted."""

    def __init__(self, footprint: Footprint, stride: int) -> None:
        self._rows = footprint.rows
        self._stride = stride
        self._inner = inner_blocks(footprint.number, stride)

    @cached_property
    def _groups(self) -> list[tuple[Power, set[int]]]:
        """The largest blocks first."""
        groups: dict[Power, set[int]] = {}
        for row, rows, column, columns in blocks_of(self._rows):
            wide, high = columns.bit_length() - 1, rows.bit_length() - 1
            shifts = groups.setdefault((wide, high), set())
            for up in {row, row + rows - (1 << high)}:
                shift = up * self._stride + column
                shifts.update((shift, shift + columns - (1 << wide)))
        return [(power, groups[power]) for power in sorted(groups, key=sum, reverse=True)]

    def blocked(self, taken: TakenSquares) -> int:
        """Where the footprint may not stand."""
        found = 0
        for power, shifts in self._groups:
            bits = taken.seen_by(power)
            for shift in shifts:
                found |= bits >> shift
        return found

    def free(self, taken: TakenSquares, room: int) -> int:
        """Where in some room the footprint may stand."""
        for power, low, high in self._inner:
            bits = taken.seen_by(power)
            room &= ~(bits >> low | bits >> high)
            if not room:
                return 0
        for power, shifts in self._groups:
            bits, found = taken.seen_by(power), 0
            for shift in shifts:
                found |= bits >> shift
            room &= ~found
            if not room:
                break
        return room


def inner_blocks(number: int, stride: int) -> list[tuple[Power, int, int]]:
    """Of each height the widest block within a footprint, and how far it is shifted at its first and
    its last place; the largest block first.

    >>> inner_blocks(0b000110_001111_001111_000110, 6)
    [((2, 1), 6, 6), ((1, 2), 1, 1), ((2, 0), 6, 12)]
    """
    found = []
    high, tall = 0, number
    while tall:
        wide, inner = 0, tall
        while narrower := inner & inner >> (1 << wide):
            wide, inner = wide + 1, narrower
        found.append(((wide, high), (inner & -inner).bit_length() - 1, inner.bit_length() - 1))
        tall &= tall >> (stride << high)
        high += 1
    return sorted(found, key=lambda block: -sum(block[0]))


class NoFitMask(msgspec.Struct, frozen=True):
    """Where a footprint may not stand beside another that stands at (0, 0): bit (column + `left`,
    row + `below`) of `bits`."""

    bits: int
    left: int
    below: int

    def at(self, column: int, row: int, stride: int) -> int:
        """The blocked positions on a page when the other stands at this position."""
        shift = (row - self.below) * stride + column - self.left
        return self.bits << shift if shift >= 0 else self.bits >> -shift


def no_fit_mask(standing: Footprint, placed: Footprint, cover: Cover, grid: PageGrid) -> NoFitMask:
    """Where the second, with its cover, may not stand beside the first."""
    left = placed.columns - 1
    below = min(len(placed.rows) - 1, max(0, grid.rows + MORE - len(standing.rows)))
    base = standing.number << (below * grid.stride + left)
    return NoFitMask(cover.blocked(TakenSquares(base, grid.stride)), left, below)


def blocks_of(rows: Sequence[int]) -> Iterator[Block]:
    """Rectangles that together are all squares, as (row, rows, column, columns): rows that are alike
    go as one.

    >>> list(blocks_of([0b0110, 0b0110, 0b1001]))
    [(0, 2, 1, 2), (2, 1, 0, 1), (2, 1, 3, 1)]
    """
    first = 0
    for row in range(1, len(rows) + 1):
        if row < len(rows) and rows[row] == rows[first]:
            continue
        for column, columns in runs_of(rows[first]):
            yield (first, row - first, column, columns)
        first = row


def runs_of(squares: int) -> Iterator[tuple[int, int]]:
    """Where set bits begin and how many follow one another.

    >>> list(runs_of(0b1110_0110))
    [(1, 2), (5, 3)]
    """
    at = 0
    while squares:
        skip = (squares & -squares).bit_length() - 1
        squares >>= skip
        length = (~squares & (squares + 1)).bit_length() - 1
        at += skip
        yield (at, length)
        squares >>= length
        at += length
