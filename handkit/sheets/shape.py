"""A shape: all that the layout has to know of one piece.

In and out: mm, in the shape's own frame. What is known of leather stays outside: a shape can come
from a punched piece (`template.py`) or from any plain polygon (`engine.py`).

Words: the *extent* is all that the outline's ink covers; the *base* is how the shape's frame is
turned to lie on paper, and turned over where the template is laid on the flesh side.
"""

from __future__ import annotations

import msgspec

from handkit.geometry.affine import Affine, Point
from handkit.geometry.capsule import Capsule
from handkit.geometry.region import Region, region_of_points
from handkit.ink import WIDE

# Half the outline's stroke lies outside the line itself.
STROKE_ROOM = WIDE.width / 2

# Flattening of lines that only decide what is where.
COARSE = 0.1


class Shape(msgspec.Struct, frozen=True):
    """One piece as the layout sees it; only its name and ring must be given.

    `ring` is the cut outline, its first point not repeated; `coarse_ring` the same with fewer
    points, no more than 0.1 mm off. Joins keep clear of `keep_outs`, and of `letters` where they can;
    labels stand on no keep-out, no one of the `lines`, no letter and no one of the `texts`.
    """

    name: str
    ring: tuple[Point, ...]
    keep_outs: tuple[Capsule, ...] = ()
    letters: tuple[Point, ...] = ()
    lines: tuple[tuple[Point, ...], ...] = ()  # what is drawn beside the outline
    texts: tuple[Point, ...] = ()  # where else something is written
    quantity: int = 1
    turned_over: bool = False
    coarse: tuple[Point, ...] = ()  # of `ring`, where it has many points

    @property
    def coarse_ring(self) -> tuple[Point, ...]:
        """The outline by few points."""
        return self.coarse or self.ring

    def base(self, degrees: float) -> Affine:
        """The map from the shape's frame to the laid frame at a turn."""
        turn = Affine.turn(degrees)
        return turn @ Affine.mirror() if self.turned_over else turn

    @property
    def room(self) -> float:
        """How far the outline's ink reaches beyond the coarse ring."""
        return STROKE_ROOM + (COARSE if self.coarse else 0.0)

    def extent(self, base: Affine) -> Region:
        """All that the outline's ink covers, in the laid frame, and up to 0.2 mm more at arcs.

        The coarse ring is enough to know what lies in which window and ten times as quick.
        """
        return region_of_points(base.apply_all(self.coarse_ring)).grown(self.room)
