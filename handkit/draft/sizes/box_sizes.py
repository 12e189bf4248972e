"""The box: a front, and a gusset strip that stands between it and the base.

In: the front's size, the seam's inset, the strip's thickness and the room between front and base.
Out: a `BoxSizes`: lengths along and across the strip, what flanges have too much, the room inside.

    plain: edges out, flush with the front's        turned: flanges in, behind the front

       ──────────────── front                          ──────────────── front
       ═══╗          ╔═══                              ╔═══          ═══╗
          ║          ║  gusset                         ║                ║  gusset
       ═══╝          ╚═══                              ╚═══          ═══╝
       ──────────────── base                           ──────────────── base

The *stitch line* of the front is a U with rounded corners. A plain strip is stitched to it along
its own straight edge: it is as long as that line, not as the front's edge. A turned strip's wall
stands at the front's edge, outside the stitch line: it is longer by d·π/2 at each corner, and so its
flange has that much too much where it is stitched, d from the wall: it is *notched* there.

How far it holds: the strip's middle neither stretches nor shrinks; it turns sharply (inside
radius 0) by the fold allowance with the neutral line in its middle. A plain strip's edges, outside
the stitch line, are stretched round the corners; a turned one's tabs lie flat.
"""

from __future__ import annotations

from math import pi, sqrt

import msgspec

from handkit.draft.sizes.fold_length import fold_allowance
from handkit.geometry.affine import Point

# By how much a plain gusset's edge may be stretched at a corner: common practice, no source.
MOST_STRETCH = 0.25

# What notches leave of a turned flange's free edge at a corner, at least: its tabs keep half their width.
LEAST_TABS = 0.5


def u_length(width: float, height: float, radius: float) -> float:
    """A U from mouth to mouth with rounded lower corners: its straight parts and r·π/2 twice.

    >>> round(u_length(200, 150, 30), 3)
    474.248
    """
    return 2 * (height - radius) + (width - 2 * radius) + pi * radius


class BoxSizes(msgspec.Struct, frozen=True):
    """A front of `width` × `height` over its edges, its lower corners rounded; all mm.

    `depth` is clear, from the base to the front's inside; `thickness` is the gusset's.
    """

    width: float
    height: float
    radius: float
    inset: float
    depth: float
    thickness: float
    turned: bool = False

    @property
    def stitch_radius(self) -> float:
        """Of the stitch line's corners."""
        return self.radius - self.inset

    @property
    def stitch_length(self) -> float:
        """The front's stitch line, prolonged to the mouth's edge.

        >>> round(BoxSizes(200, 150, 30, 4, 40, 2).stitch_length, 3)
        461.681
        """
        inset = self.inset
        return u_length(self.width - 2 * inset, self.height - inset, self.stitch_radius)

    @property
    def wall_off(self) -> float:
        """From the stitch line out to the middle of the wall; negative where the wall is inside it."""
        return self.inset - self.thickness / 2 if self.turned else -self.thickness / 2

    @property
    def gusset_length(self) -> float:
        """The strip, mouth to mouth: plain as the stitch line, turned as the wall's middle."""
        return self.stitch_length + (pi * self.wall_off if self.turned else 0.0)

    @property
    def flange(self) -> float:
        """From a turned flange's free edge to the wall's outside: the seam runs along its middle."""
        return 2 * self.inset

    @property
    def fold_at(self) -> float:
        """Of a turned strip: from its edge to the middle of the fold."""
        return self.flange - self.thickness + fold_allowance(45, 0, self.thickness)

    @property
    def across(self) -> float:
        """Over the strip, from stitch line to stitch line."""
        turns = 2 * fold_allowance(90, 0, self.thickness)
        flats = 2 * (self.inset - self.thickness) if self.turned else 0.0
        return self.depth - 2 * self.thickness + turns + flats

    @property
    def gusset_width(self) -> float:
        """Of the strip over its edges."""
        return self.across + 2 * self.inset

    def excess(self, off: float) -> float:
        """What a line `off` inside the wall's middle has too much at one right angle: d·π/2."""
        return off * pi / 2

    @property
    def least_radius(self) -> float:
        """The least radius of the front's corners.

        Plain: the edge, `inset` outside the stitch line, is stretched by no more than a share.
        Turned: notches leave half of the free edge.
        """
        if not self.turned:
            return self.inset * (1 + 1 / MOST_STRETCH)
        half = self.thickness / 2
        return half + (self.flange - half) / (1 - LEAST_TABS)

    @property
    def straights(self) -> tuple[float, float]:
        """Of either side and of the foot: what lies between the corners."""
        return self.height - self.radius, self.width - 2 * self.radius

    @property
    def corner_ends(self) -> tuple[float, ...]:
        """How far along the gusset its corners begin and end."""
        side, foot = self.straights
        corner = (self.stitch_radius + (self.wall_off if self.turned else 0.0)) * pi / 2
        return (side, side + corner, side + corner + foot, side + 2 * corner + foot)

    @property
    def clear(self) -> float:
        """The thickness that goes in: turned flanges lie on base and front."""
        return self.depth - (2 * self.thickness if self.turned else 0.0)

    @property
    def wall(self) -> float:
        """From the front's edge to the wall's inside."""
        return self.thickness if self.turned else self.inset + self.thickness

    @property
    def inside(self) -> tuple[float, float, float]:
        """The room inside: width, height from the foot's wall to the mouth, radius of its corners."""
        return (
            self.width - 2 * self.wall,
            self.height - self.wall,
            max(self.radius - self.wall, 0.0),
        )

    @property
    def strip_section(self) -> tuple[Point, ...]:
        """What a cut across the strip shows: (off, z), off from the front's edge inwards, z from the base.

        >>> BoxSizes(200, 150, 30, 4, 40, 2).strip_section[:4]
        ((0.0, 0.0), (6, 0.0), (6, 40), (0.0, 40))
        """
        t, high = self.thickness, self.depth
        if self.turned:
            wide, wall = self.flange, t
            return (
                *((0.0, 0.0), (wide, 0.0), (wide, t), (wall, t)),
                *((wall, high - t), (wide, high - t), (wide, high), (0.0, high)),
            )
        out = self.inset
        return (
            *((0.0, 0.0), (out + t, 0.0), (out + t, high), (0.0, high)),
            *((0.0, high - t), (out, high - t), (out, t), (0.0, t)),
        )


def corner_rise(radius: float, beside: float) -> float:
    """How far a thing with square corners stands off the foot of a place with rounded ones.

    `beside` is the room between the thing and either wall.

    >>> corner_rise(10, 2), corner_rise(10, 10), corner_rise(0, 1)
    (4.0, 0.0, 0.0)
    """
    over = radius - beside
    return radius - sqrt(radius**2 - over**2) if over > 0 else 0.0
