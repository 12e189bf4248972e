"""Fold length: what a fold takes of a strip's length.

In: the angle turned through, the inside radius, the thickness, and where the neutral line lies as
a share of the thickness from the inside. Out: mm along the strip.

How far it holds: the sheet-metal handbooks' bend allowance. Leather folded with its flesh side in
has its neutral line near the middle (K = 0.5, common practice, no source); wet or skived leather
folds differently, so a fold that must be exact is tried on a scrap.
"""

from __future__ import annotations

from math import radians

# Where the neutral line of leather lies: common practice, no source.
LEATHER_K = 0.5

# A fold of so many degrees lays one leaf flat on the other.
HALF_TURN = 180.0


def fold_allowance(angle_degrees: float, radius: float, thickness: float, *, k: float = LEATHER_K) -> float:
    """angle · (r + K·T), the bend allowance of Machinery's Handbook.

    >>> round(fold_allowance(90, 1, 1, k=0.337), 3), round(fold_allowance(180, 2, 2.4), 3)
    (2.1, 10.053)
    """
    return radians(angle_degrees) * (radius + k * thickness)
