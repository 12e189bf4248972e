"""Step sizes: pockets one above the other on one base, each mouth a step higher than the next one's.

In: the width, how deep the pockets should be over their feet, the step, the insets and the pitch. Out: where
each pocket's foot row, foot and mouth are, and its outline; all mm, y from the place's lower edge.

    F ─────────────── E                 E, F: the mouth
    │    pocket 1     │                 what shows of it, and as much again under the next pocket
    G ── H       C ── D
    ┌────┼───────┼────┐  mouth of 2     with tees the rest is narrower: it keeps out of the seams at the sides
    │    A ───── B    │                 A-B: the foot, sewn to the base before the next pocket is laid
    │    pocket 2     │
    └─────────────────┘                 the lowest is whole

Edges that cross the rows at the sides lie half-way between two of their holes, which stand a pitch apart from
the lowest row on: with a step of whole pitches no hole is torn by an edge, and a strand goes over each mouth.
So depths are rounded to the pitch, by half of it at the most. A tee's *bar* is its upper part, the *stem* its
lower one, an inset inside the stitch line at either side.
"""

from __future__ import annotations

from math import ceil, floor

import msgspec

from handkit.geometry.affine import Point


class StepSizes(msgspec.Struct, frozen=True):
    """`steps` pockets `width` wide over their edges; pocket 1 is the highest.

    `wanted` is how deep they should be from a foot's row to its mouth. `inset` is that of the rows at the
    sides and of the lowest foot, `foot_inset` that of the other feet.
    """

    steps: int
    width: float
    wanted: float
    reveal: float
    pitch: float
    inset: float
    foot_inset: float
    tees: bool = False

    def mouth(self, k: int) -> float:
        """The height of pocket k's mouth.

        >>> [StepSizes(3, 97.5, 40, 12, 3, 3, 3).mouth(k) for k in (1, 2, 3)]
        [67.5, 55.5, 43.5]
        """
        lowest = self.inset + (max(1, _nearest(self.wanted / self.pitch - 0.5)) + 0.5) * self.pitch
        return lowest + (self.steps - k) * self.reveal

    def height(self, k: int) -> float:
        """Of pocket k, over its edges."""
        if k == self.steps:
            return self.mouth(k)
        return max(2, _nearest((self.wanted + self.foot_inset) / self.pitch)) * self.pitch

    def foot(self, k: int) -> float:
        """The height of pocket k's lower edge: 0 of the lowest.

        >>> [StepSizes(3, 97.5, 40, 12, 3, 3, 3).foot(k) for k in (1, 2, 3)]
        [25.5, 13.5, 0.0]
        """
        return self.mouth(k) - self.height(k)

    def foot_row(self, k: int) -> float:
        """The height of pocket k's row along its foot."""
        return self.foot(k) + (self.inset if k == self.steps else self.foot_inset)

    def deep(self, k: int) -> float:
        """How far pocket k's mouth is above its row along the foot.

        >>> [StepSizes(3, 97.5, 40, 12, 3, 3, 3).deep(k) for k in (1, 2, 3)]
        [39.0, 39.0, 40.5]
        """
        return self.mouth(k) - self.foot_row(k)

    @property
    def top(self) -> float:
        """Where the rows at the sides end: in the first hole above the highest mouth."""
        return self.mouth(1) + self.pitch / 2

    @property
    def stem(self) -> float:
        """From either side to a tee's stem."""
        return 2 * self.inset

    @property
    def bar(self) -> float:
        """The height of a tee's bar: what shows, and at least as much again."""
        return ceil(2 * self.reveal / self.pitch - 1e-9) * self.pitch

    def outline(self, k: int) -> tuple[Point, ...]:
        """Pocket k's corners in its own frame, A at its foot's left.

        >>> StepSizes(2, 100, 40, 12, 3, 3, 3, tees=True).outline(1)
        ((6, 0.0), (94, 0.0), (94, 18), (100, 18), (100, 42), (0.0, 42), (0.0, 18), (6, 18))
        """
        wide, high = self.width, self.height(k)
        if not self.tees or k == self.steps:
            return ((0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high))
        left, right, low = self.stem, wide - self.stem, high - self.bar
        return (
            *((left, 0.0), (right, 0.0), (right, low), (wide, low)),
            *((wide, high), (0.0, high), (0.0, low), (left, low)),
        )


def _nearest(number: float) -> int:
    """The nearest whole number, halves up."""
    return floor(number + 0.5)
