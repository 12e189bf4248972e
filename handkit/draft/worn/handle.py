"""Handle: what of a blade stands out of its sheath.

In: a blade as its file tells it, and where it lies in the sheath. Out: its handle as the sheath's room holds
it, on the blade's own leaf, its lower end at the blade's upper one.

It lies about the blade's middle; where some of it goes in, no further over than the blade's back. Shown by an
outline it is as it is drawn there, and as thick as a hand asks for. Where the file tells of none it is taken
to be as broad as the blade, and as thick and long as a hand asks for (`HANDLE_THICK`, `HANDLE_LONG`): every
blade has something to draw it by.
"""

from __future__ import annotations

from handkit.draft.parts.rooms import section_path
from handkit.draft.pattern import HeldItem
from handkit.draft.sizes.section import rectangle_section
from handkit.geometry.affine import Affine, Point
from handkit.geometry.path import polyline
from handkit.kinds.edged_tools import HANDLE_LONG, HANDLE_THICK
from handkit.read.project import Item


def handle_size(item: Item) -> tuple[float, float, float]:
    """Width, thickness and length of a blade's handle, as stated or as it is taken.

    >>> from handkit.findings import Source
    >>> handle_size(Item(Source(), "knife", 22, 3, 110, None, (), "sheath"))
    (22, 15.0, 100.0)
    """
    if item.handle is None:
        return (item.width, max(HANDLE_THICK, item.thickness), HANDLE_LONG)
    wide, thick, long = item.handle
    return (wide, thick, long)


def held_handle(item: Item, blade: HeldItem, lie: Affine, *, grip: float) -> HeldItem:
    """The handle of an item that is a blade alone (`Item.in_sheath`) and is held as `blade`; `lie` leads from
    the item's lower left end to the room's frame."""
    _, thick, _ = handle_size(item)
    ring = item.head or _box(item)
    left = min(x for x, _ in ring)
    over = max(-left, 0.0) if grip else 0.0
    places = lie.apply_all([(x + over, y) for x, y in ring])
    near, far = min(x for x, _ in places), max(x for x, _ in places)
    section = section_path(rectangle_section(far - near, thick), middle=(near + far) / 2)
    outline = polyline(places, closed=True)
    return HeldItem(
        item.name, outline, section, blade=blade.outline, assumed=item.handle is None or item.handle_taken
    )


def _box(item: Item) -> tuple[Point, ...]:
    """About the blade's middle, above it."""
    wide, _, long = handle_size(item)
    left, high = (item.width - wide) / 2, item.length
    return ((left, high), (left + wide, high), (left + wide, high + long), (left, high + long))
