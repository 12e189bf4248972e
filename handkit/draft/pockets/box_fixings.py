"""Box fixings: which places of front, gusset and base must meet, and so are holes on all of them.

In: a box, how its seams are stitched. Out: the fixed places along the gusset with those on the U of
front and base; the ways round its corners, for notches.

The middle of the foot is fixed; of a turned gusset also where its corners begin and end, since its
flanges have too much there and nowhere else. Where the straight foot is short, not all have room:

    ├────corner────┤   ├───┤   ├────corner────┤
    o              o   o   o   o              o      a stitch fits on either side of the middle
    o              o           o              o      one fits between the corners: no middle
    o                    o                    o      none fits: the corners end in the middle
"""

from __future__ import annotations

from enum import Enum
from math import pi

import msgspec

from handkit.draft.sizes.box_sizes import BoxSizes
from handkit.geometry.affine import Point
from handkit.read.project import Stitching
from handkit.tolerances import SAME_POINT
from handkit.units import round_half_up


class FootRoom(Enum):
    """What a turned gusset's straight foot has room for."""

    HALVES = "a stitch on either side of the middle"
    ONE = "a stitch between the corners"
    NONE = "no stitch"


class CornerWay(msgspec.Struct, frozen=True):
    """From one fixed place to the next round a corner: where along the gusset, how long on the U."""

    start: float
    end: float
    on_u: float


def fixings(box: BoxSizes, stitching: Stitching) -> tuple[tuple[float, Point], ...]:
    """The fixed places from the left mouth to the right: along the gusset, on the U in the front's frame."""
    middle = (box.gusset_length / 2, (box.width / 2, box.inset))
    if not box.turned:
        return (middle,)
    left, right, low, r = box.inset, box.width - box.inset, box.inset, box.radius
    on_u = ((left, r), (r, low), (box.width - r, low), (right, r))
    first, second, third, last = zip(box.corner_ends, on_u, strict=True)
    match foot_room(box, stitching):
        case FootRoom.HALVES:
            return (first, second, middle, third, last)
        case FootRoom.ONE:
            return (first, second, third, last)
        case FootRoom.NONE:
            return (first, middle, last)


def foot_room(box: BoxSizes, stitching: Stitching) -> FootRoom:
    """What lies between the corners of a turned gusset, by the steps that even spacing takes."""
    _, foot = box.straights
    least = stitching.least_step - SAME_POINT
    if foot / 2 >= least * max(1, round_half_up(foot / 2 / stitching.pitch)):
        return FootRoom.HALVES
    return FootRoom.ONE if foot >= least else FootRoom.NONE


def corner_ways(box: BoxSizes, stitching: Stitching) -> tuple[CornerWay, CornerWay]:
    """Of a turned gusset: round its left corner and its right one."""
    first, second, third, last = box.corner_ends
    on_u = box.stitch_radius * pi / 2
    if foot_room(box, stitching) is FootRoom.NONE:
        second = third = box.gusset_length / 2
        on_u += box.straights[1] / 2
    return CornerWay(first, second, on_u), CornerWay(third, last, on_u)
