"""Keeper: a ring of leather that a strap's end passes.

In: the strap's width and thicknesses, how the ring's seam is stitched. Out: the strip, with a row at
each end.

    ┌──────────────────────┐
    │ ╎near           far╎ │   The ends lap, and the rows lie on each other: between them it is as long
    └──────────────────────┘   as the way round what passes it, with 2 mm of ease (1 to 3: trade's pages).
"""

from __future__ import annotations

from math import pi

import msgspec

from handkit.draft.parts.drafted import DraftedPiece
from handkit.draft.parts.outlines import rectangle_corners
from handkit.kinds.stitch_holes import EDGE_WIDTHS
from handkit.read.project import InnerLine, Stitching

EASE = 2.0
LEAVES, LEAVES_AT_FOLD = 2, 3  # of a strap that pass it: its end, and what it lies on

# How far its ends lap at the least; its band as a share of the strap's width (common practice, no source).
LAP, BAND = 14.0, 0.4


class Keeper(msgspec.Struct, frozen=True):
    """The measures of a keeper, all mm."""

    band: float
    least: float  # the narrowest band that takes one stitch
    width: float  # of the strap
    stack: tuple[float, float]  # of the strap and of its lining
    thickness: float
    edge: float  # from a row's end to the edge

    def strip(self, name: str, lines: tuple[str, str], *, at_fold: bool) -> DraftedPiece:
        """The strip of one keeper; `lines` name its rows."""
        lap = max(LAP, 2 * self.edge)
        long = self.round(at_fold=at_fold) + lap
        rows = tuple(
            InnerLine(line, ((x, self.edge), (x, self.band - self.edge)))
            for line, x in zip(lines, (lap / 2, long - lap / 2), strict=True)
        )
        corners = rectangle_corners(long, self.band, foot=0.0, mouth=0.0)
        return DraftedPiece(name, corners, lines=rows, grain_degrees=0.0)

    def round(self, *, at_fold: bool) -> float:
        """How long it is from row to row: round strap and stack on its middle, with its ease. At a fold both
        bare leaves pass it and the strap's end with its lining, else strap and end with theirs.

        By hand, 2 mm round a strap of 38 and three leaves of 3.6: 2 · (38 + 10.8) + π · 2 + 2:

        >>> round(Keeper(16, 8, 38, (3.6, 0), 2, 4).round(at_fold=True), 2)
        105.88
        """
        strap, lining = self.stack
        stack = LEAVES_AT_FOLD * strap + lining if at_fold else LEAVES * (strap + lining)
        return 2 * (self.width + stack) + pi * self.thickness + EASE


def keeper_for(
    band: float | None, width: float, stack: tuple[float, float], thickness: float, stitching: Stitching
) -> Keeper:
    """A keeper of a stated band, or of one that suits its strap."""
    edge = EDGE_WIDTHS * stitching.hole.width
    least = 2 * edge + stitching.least_step
    return Keeper(band or max(round(BAND * width), least), least, width, stack, thickness, edge)
