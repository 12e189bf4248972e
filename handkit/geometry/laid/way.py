"""A way in plan: what is bent along a fold and goes square to it from there.

In: places and outlines, mm. Out: how far they lie *along* it, and *beside* its start.
"""

from __future__ import annotations

import msgspec

from handkit.geometry.affine import Point
from handkit.geometry.path import Path


class FlapWay(msgspec.Struct, frozen=True):
    """From a fold to a stud in plan: where it starts, the unit vector along the fold, that across it.

    >>> way = FlapWay((80, 240), (1, 0), (0, -1))
    >>> way.along((70, 200)), way.beside((70, 200)), way.place(40, -10)
    (40, -10, (70, 200))
    """

    start: Point
    fold: Point
    across: Point

    def along(self, at: Point) -> float:
        """How far a place lies beyond the fold."""
        return (at[0] - self.start[0]) * self.across[0] + (at[1] - self.start[1]) * self.across[1]

    def beside(self, at: Point) -> float:
        """How far a place lies along the fold from the start."""
        return (at[0] - self.start[0]) * self.fold[0] + (at[1] - self.start[1]) * self.fold[1]

    def breadth(self, outline: Path, step: float) -> list[float]:
        """How far beside the start an outline's corners lie; of arcs, no further off than a step."""
        return [self.beside(at) for at in outline.flattened(sagitta=step)]

    def place(self, along: float, beside: float) -> Point:
        """A place of the plan."""
        x, y = self.start
        return (
            x + self.across[0] * along + self.fold[0] * beside,
            y + self.across[1] * along + self.fold[1] * beside,
        )
