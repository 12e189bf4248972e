"""Scaled: a piece by its measures at a scale, in a room with space for what stands about it.

In: a piece by its measures, a scale, a width in mm. Out: where it lies there.
"""

from __future__ import annotations

import msgspec

from handkit.draw.measured.words import MeasuredKit
from handkit.geometry.affine import Affine
from handkit.geometry.box import Box

# Room round the piece: for its height, a name at its right, the zero line's name, its width; mm.
LEFT, RIGHT, ABOVE, BELOW = 16.0, 10.0, 11.0, 15.0


class ScaledPiece(msgspec.Struct, frozen=True):
    """A piece at a scale in a room whose lower left corner is the origin."""

    told: MeasuredKit
    scale: float
    width: float

    @property
    def height(self) -> float:
        """With all that stands about it."""
        return self.told.measured.height * self.scale + ABOVE + BELOW

    @property
    def drawn_width(self) -> float:
        """Of the piece alone."""
        return self.told.measured.width * self.scale

    @property
    def fits(self) -> bool:
        """Whether the room is wide enough."""
        return self.drawn_width + LEFT + RIGHT <= self.width

    @property
    def to_paper(self) -> Affine:
        """From the drawing's frame."""
        left = LEFT + (self.width - LEFT - RIGHT - self.drawn_width) / 2
        return Affine(self.scale, 0.0, 0.0, self.scale, left, BELOW)

    @property
    def body(self) -> Box:
        """Where the piece lies."""
        (left, low), (right, high) = (
            self.to_paper.apply(at)
            for at in ((0.0, 0.0), (self.told.measured.width, self.told.measured.height))
        )
        return Box(left, low, right, high)
