"""The bow: the mouth of a pocket whose front stands off its base in an arc.

In: what the mouth holds (sections standing on the base), the `base` between the two stitch lines,
the front's thickness. Out: how far the middle of the front stands off (`height`) and its length.

            .-´´´´´-.           the front's middle is an arc over the chord between the stitch
         .´  ┌─────┐  `.        points, half a thickness above the base; its inside touches what
        /    │item │    \\       stands highest in the corners: the arc's top is higher
    ───·─────┴─────┴─────·───

How far it holds. A loaded front is somewhere between this arc and the tight hull of its contents;
the arc is the wider of the two, so what is drafted by it goes in. Under the mouth each level of
the front is taken as such an arc over the same base: narrower by as much as the slanted sides are
nearer, down to the foot, where it lies flat. These arcs in a stack are no surface that unrolls
flat: their middle line is longer than the flat front, which shows as a dip of the mouth's
middle (`mouth_dip`): 58 x 20 mm on a base of 80, 150 deep, dips 5.6 mm, 3.7 % of the depth.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise
from math import atan, hypot

import msgspec

from handkit.draft.sizes.section import Section
from handkit.geometry.affine import Point
from handkit.tolerances import SAME_POINT

# How near a search comes to what it looks for, mm.
_NEAR = 1e-9

# No bow that a search looks for stands off higher, mm: beyond it, `_NEAR` is lost in the rounding.
_HIGHEST = 1e6

# Steps in which the middle line under the mouth is measured: exact to 0.001 mm at hand size.
_LEVELS = 400


class Held(msgspec.Struct, frozen=True):
    """A disc of a section where it stands in the mouth: its middle must be `radius` inside."""

    at: Point
    radius: float


def bow_radius(base: float, height: float) -> float:
    """R = (b²/4 + h²) / (2h): circular segment, any mechanical engineering handbook.

    >>> bow_radius(80, 20)
    50.0
    """
    return (base**2 / 4 + height**2) / (2 * height)


def bow_length(base: float, height: float) -> float:
    """4·R·atan(2h/b): the arc over a chord, right also where it is more than half a circle.

    >>> round(bow_length(80, 20), 4), round(bow_length(80, 60), 3), bow_length(80, 0)
    (92.7295, 170.351, 80)
    """
    return 4 * bow_radius(base, height) * atan(2 * height / base) if height > 0 else base


def bow_height(base: float, length: float) -> float:
    """The height of an arc of a length over a chord; 0 where it is no longer than the chord.

    >>> round(bow_height(80, bow_length(80, 20)), 6), bow_height(80, 80)
    (20.0, 0.0)
    """
    if length <= base:
        return 0.0
    return _least(lambda height: bow_length(base, height) - length, above=length)


def side_by_side(sections: Sequence[Section]) -> tuple[Held, ...]:
    """Sections standing side by side in their order, their whole width about x = 0."""
    left = -sum(section.width for section in sections) / 2
    held: list[Held] = []
    for section in sections:
        middle = left + section.width / 2
        held.extend(Held((x + middle, y), section.radius) for x, y in section.centres)
        left += section.width
    return tuple(held)


def mouth_height(sections: Sequence[Section], *, base: float, thickness: float) -> float:
    """The least height at which the bow holds sections side by side.

    A w × t item under a thin front: (w/2)² + (R − h + t)² = R². Raises ValueError where the base is
    less than the sections' width and the front's thickness: no height holds them then.

    >>> from handkit.draft.sizes.section import rectangle_section
    >>> round(mouth_height([rectangle_section(58, 20)], base=80, thickness=0), 3)
    32.02
    """
    least = sum(section.width for section in sections) + thickness
    if base < least - SAME_POINT:
        raise ValueError(f"a base of {base} is less than {least}")
    base = max(base, least)
    held = side_by_side(sections)
    tallest = max(section.height for section in sections)
    return _least(lambda height: _room(held, base, height, thickness), above=tallest)


def _room(held: Sequence[Held], base: float, height: float, thickness: float) -> float:
    """How much nearer the bow's inside could come to the nearest of what it holds."""
    radius, low = bow_radius(base, height), thickness / 2
    middle = height - radius  # the arc's centre, seen from the chord
    rooms = []
    for disc in held:
        x, y = disc.at[0], disc.at[1] - low
        off = hypot(x, y - middle)
        reaches = middle + (y - middle) * radius / off >= 0 if off else True
        clear = radius - off if reaches else min(hypot(x - end, y) for end in (base / 2, -base / 2))
        rooms.append(clear - disc.radius - low)
    return min(rooms)


def mouth_dip(*, base: float, height: float, depth: float) -> float:
    """By how much the middle line of the stacked arcs is longer than the flat front's depth.

    The mouth's middle stands about this much lower than its ends once the pocket is filled.
    """
    spread = bow_length(base, height) - base
    heights = [height * k / _LEVELS for k in range(_LEVELS + 1)]
    line = [(each, depth * (bow_length(base, each) - base) / spread) for each in heights]
    return sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(line)) - depth


def _least(room: Callable[[float], float], *, above: float) -> float:
    """The least height at which a room that grows with it is 0 or more, by halving a bracket.

    Raises ValueError where there is none up to `_HIGHEST`.
    """
    low, high = 0.0, max(above, 1.0)
    while room(high) < -_NEAR:
        if high > _HIGHEST:
            raise ValueError(f"no height up to {high} has room")
        low, high = high, 2 * high
    while high - low > _NEAR:
        middle = (low + high) / 2
        low, high = (low, middle) if room(middle) >= -_NEAR else (middle, high)
    return high
