"""Strap sizes: where along a strap its slot, rows, keepers and tongue holes stand.

In: a buckle's bar, girths, thicknesses, how the rows are stitched. Out: distances from the fold that goes
round the bar, alike on both leaves of it, in mm.

          butt                     fold                                  Both leaves have the same rows.
    ══════╪══ rows 2 ═ keeper ═ rows 1 ═ slot ╪ slot ═ rows 1 ═ keeper ═ rows 2 ═════ o o o ══>
          └────────────── turned back ────────┘                               girth: bar to hole

- The tongue's slot is twice as long as the turn round the bar, in whole mm: the tongue stands upright in
  the half of it that lies on the leaves (common practice, no source).
- Rows end a fold that a fixed keeper sits at on both sides of it, so that it stays where it is.
- Tongue holes are odd in number and evenly apart; the middle one is at the usual girth (saddlery rule).

Words: the *butt* is a strap's cut end, the one that is turned back; a *leaf* here is the strap on either side
of the fold; the *band* is a keeper's width along its strap.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, floor, sqrt

import msgspec

from handkit.draft.pattern import inside_girth
from handkit.draft.sizes.fold_length import HALF_TURN, fold_allowance
from handkit.kinds.openings import BESIDE_STITCH
from handkit.kinds.stitch_holes import EDGE_WIDTHS
from handkit.tolerances import SAME_POINT
from handkit.units import round_half_up

# What a keeper has to either side before the next stitch, mm (common practice, no source).
BESIDE_KEEPER = 2.0

# Beyond the butt: to the lining, and to the first tongue hole's rim, mm (common practice, no source).
BEHIND_BUTT, FIRST_HOLE = 2.0, 6.0


class BuckleEnd(msgspec.Struct, frozen=True):
    """The end of a strap that goes round a bar: all as distances from the fold."""

    bar: float
    turn: float  # what of the strap goes round the bar, half of it on either leaf
    slot: float  # half of its length
    rows: tuple[tuple[float, float], ...]  # from, to
    keepers: tuple[float, ...]  # where the fixed ones begin
    butt: float


class RowSizes(msgspec.Struct, frozen=True):
    """How rows are stitched."""

    pitch: float
    inset: float
    hole: float  # how wide
    least: float  # the least step


def buckle_end(
    bar: float, thickness: float, width: float, row: RowSizes, bands: Sequence[float]
) -> BuckleEnd:
    """The end for a bar, with rows about as long in all as the strap is wide; `bands` are those of the
    fixed keepers.

    By hand, 3.6 mm on a bar of 5: the turn is π · (2.5 + 1.8) = 13.509, the slot 28 long; with a keeper of
    16, holes of 2.6 and a pitch of 5 on 38 mm: rows of 4 steps from 14 + 2 + 1.3.

    >>> end = buckle_end(5, 3.6, 38, RowSizes(5, 4, 2.6, 3.68), [16])
    >>> round(end.turn, 3), end.slot, [round(x, 3) for row in end.rows for x in row], end.butt
    (13.509, 14, [17.3, 37.3, 59.9, 79.9], 88)
    >>> [round(start, 3) for start in end.keepers]
    [40.6]
    """
    turn = fold_allowance(HALF_TURN, bar / 2, thickness)
    hole, pitch = row.hole, row.pitch
    slot = ceil(turn - SAME_POINT)
    share = width / (len(bands) + 1) / pitch
    long = max(2 if bands else 3, ceil(share - SAME_POINT)) * pitch
    beside = BESIDE_KEEPER + hole / 2
    start = slot + BESIDE_STITCH + hole / 2
    rows: list[tuple[float, float]] = []
    at: list[float] = []
    for band in (*bands, 0.0):
        rows.append((start, start + long))
        at.append(start + long + beside)
        start += long + 2 * beside + band
    butt = ceil(rows[-1][1] + max(2 * row.inset, EDGE_WIDTHS * hole) - SAME_POINT)
    return BuckleEnd(bar, turn, slot, tuple(rows), tuple(at[: len(bands)]), butt)


def hole_girths(
    least: float, most: float, *, usual: float, step: float, apart: float
) -> tuple[float, ...] | None:
    """The girths of the tongue holes, the least first; None where holes `apart` leave no room for three.

    So many on either side of the usual one as are nearest to `step` from each other: the farther of least and
    most is met, the nearer one passed where the usual girth is not half-way.

    >>> hole_girths(610, 750, usual=680, step=25, apart=13.5)
    (610.0, 633.3333333333334, 656.6666666666666, 680.0, 703.3333333333334, 726.6666666666666, 750.0)
    >>> hole_girths(330, 420, usual=380, step=25, apart=12)
    (330.0, 355.0, 380.0, 405.0, 430.0)
    >>> hole_girths(300, 300, usual=300, step=25, apart=12)
    (300,)
    """
    half = max(usual - least, most - usual)
    if half <= SAME_POINT:
        return (usual,)
    count = min(max(1, round_half_up(half / step)), floor(half / apart + SAME_POINT))
    if count < 1:
        return None
    return tuple(usual + half * k / count for k in range(-count, count + 1))


def girth_of(along: float, end: BuckleEnd, *, thick: float) -> float:
    """The girth that a hole closes round, so far from the fold; `thick` is all of the strap."""
    return inside_girth(along, turn=end.turn, bar=end.bar, thick=thick)


def along_for(girth: float, end: BuckleEnd, *, thick: float) -> float:
    """How far from the fold a hole stands that closes round a girth."""
    return girth - girth_of(0.0, end, thick=thick)


class PointShape(msgspec.Struct, frozen=True):
    """How a strap ends: where its sides leave the straight, whether they meet in a tip, by arcs or round
    shoulders.
    """

    length: float
    tipped: bool = False
    sagitta: float = 0.0  # of each side from there to the tip
    radius: float = 0.0  # of the shoulders


def point_shape(point: str, width: float) -> PointShape:
    """The point of a strap that is so wide there, in mm.

    An English point is struck with compasses set to the strap's width from either side: an arch of two arcs
    that leave the sides without a corner, √3/2 of the width long. A round one is half a circle. A plain one
    has straight sides, 5/8 of the width long, and round shoulders (common practice, no source).

    >>> shape = point_shape("English", 38)
    >>> round(shape.length, 3), round(shape.sagitta, 4)  # 38 · √3/2, 38 · (1 - cos 30°)
    (32.909, 5.091)
    """
    match point:
        case "English":
            return PointShape(width * sqrt(3) / 2, tipped=True, sagitta=width * (1 - sqrt(3) / 2))
        case "pointed":
            return PointShape(width * 5 / 8, tipped=True, radius=width / 4)
        case "round":
            return PointShape(width / 2, radius=width / 2)
        case _:
            return PointShape(0.0)
