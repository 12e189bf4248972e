"""Bag sizes: a box whose back is no base, with what its mouth and its handles take.

In: the box of front, gusset and back, where the rows at the mouth are, how far handles stand up and a flap
comes down. Out: lengths of strips, handles and flap; all mm.

    ╭──────╮  drop     the handle's ends go straight down at the mouth, a quarter of the front's width
    │      │           from its sides; above, half a circle on two straight legs, or an arc where that
  ──┼──────┼── mouth   would be too high
    ╵      ╵  tab

A closed zip draws front and back together at the mouth, to where the edges are as far apart as its teeth
leave them: both lean in by half of what the bag is deeper, at 45°, and the gusset's ends are folded inwards.

A flap is the back's own leather: it is bent by 90° at the mouth, goes across the top and is bent down over
the front. Each bend takes the bend allowance, π/2 · (r + s/2) on the middle of leather s thick at an inside
radius r (Machinery's Handbook, with K = 1/2), and of the straight lengths r at either end.
"""

from __future__ import annotations

from math import asin, degrees, pi, sqrt

import msgspec

from handkit.draft.sizes.bow import bow_length
from handkit.draft.sizes.box_sizes import BoxSizes
from handkit.draft.sizes.fold_length import fold_allowance
from handkit.kinds.fittings import TEETH_FREE

# What is turned through a mouth fills no more than this share of it (our own).
FILLED = 0.5


def least_to_turn(thickness: float, allowance: float) -> float:
    """How far round a mouth is at the least that a bag is turned through: its walls g long and so thick, with
    eight allowances at four seams, fill half of a circle g round: g² ÷ 4π · 1/2 = t · (g + 8a).

    >>> round(least_to_turn(0.8, 12), 1)  # 55.1² ÷ 8π = 120.8 = 0.8 · (55.1 + 96)
    55.1
    """
    once = 2 * pi * thickness / FILLED
    return once + sqrt(once**2 + 16 * once * allowance)


# How far apart a closed zip holds the two edges it is sewn to.
ZIP_GAP = 2 * TEETH_FREE


def leaning(depth: float) -> float:
    """How much of front and back leans in under a closed zip.

    >>> round(leaning(48), 4), leaning(6)  # 20 in, 20 up: 20 · √2
    (28.2843, 0.0)
    """
    return sqrt(2) * max(depth - ZIP_GAP, 0.0) / 2


def folded_inwards(depth: float) -> float:
    """How far a gusset's end is folded along its middle at the mouth, in degrees: both its halves reach from
    there to edges that a closed zip holds so far apart.

    >>> round(folded_inwards(48), 2), folded_inwards(6)  # 180 − 2 · asin(8 ÷ 48)
    (160.81, 0.0)
    """
    return 180 - 2 * degrees(asin(min(ZIP_GAP / depth, 1.0)))


class FlapSizes(msgspec.Struct, frozen=True):
    """A flap `thickness` thick, over `across` and `down` the front. The mouth is `height` high on its
    `piece`, the back or one that is sewn on outside it, so much `narrower` on either side that the seams of
    the back's sides do not catch it."""

    piece: str
    height: float
    across: float
    down: float
    thickness: float
    narrower: float = 0.0

    @property
    def radius(self) -> float:
        """Inside the bends: as the leather is thick, or half of what they go over."""
        return min(self.thickness, self.across / 2)

    @property
    def half(self) -> float:
        """Half of a bend's allowance: from either side of its line to where the leather is straight."""
        return fold_allowance(90, self.radius, self.thickness) / 2

    @property
    def folds(self) -> tuple[float, float]:
        """How high both bends' lines stand on the back as it lies open.

        >>> flap = FlapSizes("back", 200, 50, 100, 2)  # 200 − 2 + 3π/4; 50 − 4 + 3π/2 more
        >>> [round(at, 3) for at in flap.folds], round(flap.end, 3)
        ([200.356, 251.069], 351.425)
        """
        first = self.height - self.radius + self.half
        return first, first + self.across - 2 * self.radius + 2 * self.half

    @property
    def end(self) -> float:
        """How high the flap's edge is on the back as it lies open."""
        return self.folds[1] + self.half + self.down - self.radius


class HandleSizes(msgspec.Struct, frozen=True):
    """A handle `width` wide, its ends `apart` from middle to middle, `drop` above the mouth.

    It is sewn down along its last `tab`, which begins `below` under the mouth.
    """

    width: float
    apart: float
    drop: float
    below: float
    tab: float

    @property
    def length(self) -> float:
        """Of the strip, end to end.

        >>> round(HandleSizes(25, 100, 80, 12, 40).length, 4)  # 2 · (40 + 12 + 30) + 50π
        321.0796
        >>> round(HandleSizes(25, 80, 20, 12, 40).length, 4)  # 2 · 52, an arc of 92.7295
        196.7295
        """
        half = self.apart / 2
        over = pi * half + 2 * (self.drop - half) if self.drop >= half else bow_length(self.apart, self.drop)
        return 2 * (self.tab + self.below) + over


class BagSizes(msgspec.Struct, frozen=True):
    """A bag: `box` is as wide, high and deep as front, back and gusset, whose seams begin `under` the mouth.
    `strips` is 1 or 3: in three the corners are sharp; `leans` is how much of it leans in under a closed zip.
    `inset` is that of rows on its pieces, which of seams along the gusset is none where it is sewn inside
    out: then these run along the finished edges, and what lies beyond is inside."""

    box: BoxSizes
    strips: int
    handles: HandleSizes | None = None
    flap: FlapSizes | None = None
    inset: float = 0.0
    under: float = 0.0
    leans: float = 0.0

    @property
    def corner(self) -> float:
        """The radius of the lower corners of front and back."""
        return self.box.radius if self.strips == 1 else 0.0
