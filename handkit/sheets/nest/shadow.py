"""Shadows: the positions at which one stencil would run into what is already there.

In: squares that are taken, and the stencil that looks for a place. Out: a whole number whose bit
is set for every blocked position, counted as a canvas counts squares.

A block of columns × rows is blocked wherever a taken square lies within it: by shifting the taken
squares over one another, twice as far each time, all positions are answered at once; a block that
is no power of two is covered by up to four that overlap. Chosen over polygons of impossible places,
which are exact and a hundred times slower in plain Python.
"""

from __future__ import annotations

import msgspec

from handkit.sheets.nest.stencil import Canvas, Stencil

# Rows by which a stencil may overhang a page whose drawing lies on it.
MORE = 2


class Shadow(msgspec.Struct, frozen=True):
    """Where a stencil may not stand beside another that stands at (0, 0): bit (column + `left`,
    row + `below`) of `bits`."""

    bits: int
    left: int
    below: int

    def at(self, column: int, row: int, stride: int) -> int:
        """The blocked positions on a page when the other stands at this position."""
        shift = (row - self.below) * stride + column - self.left
        return self.bits << shift if shift >= 0 else self.bits >> -shift


def shadow_of(standing: Stencil, placed: Stencil, canvas: Canvas) -> Shadow:
    """Where the second may not stand beside the first."""
    left = placed.columns - 1
    below = min(placed.rows - 1, max(0, canvas.rows + MORE - standing.rows))
    base = standing.flat << (below * canvas.stride + left)
    return Shadow(blocked(base, placed, canvas.stride), left, below)


def blocked(taken: int, placed: Stencil, stride: int) -> int:
    """Where a stencil may not stand because of squares that are taken."""
    spread = {(0, 0): taken}
    found = 0
    for row, rows, column, columns in placed.blocks:
        wide, high = columns.bit_length() - 1, rows.bit_length() - 1
        bits = spread.get((wide, high)) or _spread(spread, wide, high, stride)
        shift = row * stride + column
        more = columns - (1 << wide)
        found |= bits >> shift
        if more:
            found |= bits >> (shift + more)
        if rows != 1 << high:
            shift += (rows - (1 << high)) * stride
            found |= bits >> shift
            if more:
                found |= bits >> (shift + more)
    return found


def _spread(known: dict[tuple[int, int], int], wide: int, high: int, stride: int) -> int:
    """What is taken, seen by a block of 2^wide × 2^high squares; keeps what it finds on the way."""
    step = (0, 0)
    bits = known[step]
    for k in range(wide):
        step = (k + 1, 0)
        bits = known[step] = known.get(step) or bits | bits >> (1 << k)
    for k in range(high):
        step = (wide, k + 1)
        bits = known[step] = known.get(step) or bits | bits >> (stride << k)
    return bits
