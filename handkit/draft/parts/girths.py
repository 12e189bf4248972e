"""Girths: the room of items whose place is a way round them, as under a strap or a bowed front.

In: how long that way must be at an ease, and how long it is. Out: a `Room`, told as lengths of it.
"""

from __future__ import annotations

from collections.abc import Callable

from handkit.draft.pattern import Room
from handkit.draft.sizes.ease_for_items import EaseRange
from handkit.read.project import Item, Part


def girth_room(
    part: Part, item: Item, ease: EaseRange, *, given: float, way: Callable[[float], float]
) -> Room:
    """The room of an item: `way` is the length that an ease needs, `given` the one it has."""
    needed = way(0.0)
    return Room(
        item=item.name,
        part=part.name,
        measure="girth",
        needed=needed,
        given=given,
        least=way(ease.least) - needed,
        most=way(ease.most) - needed,
    )


def held_to(way: Callable[[float], float], most: float) -> Callable[[float], float]:
    """A way that is known up to an ease only: beyond it grows by as much as the ease."""
    return lambda ease: way(min(ease, most)) + max(ease - most, 0.0)
