"""Room: a thing between pieces that the file writes out itself; nothing is drafted but where it lies.

In: a part, its thing, its context. Out: the thing's outline on its base, and the room that it is held in.
What is in its way, what it passes as it is drawn out, pictures and sections see it there as in any part.

The part's frame has its origin at the thing's lower left corner; it is drawn out upwards, over a mouth that
is `height` further up, or at the thing's upper end. Of what cuts (`Item.cuts`) that is the blade's, and its
handle lies beyond it. All mm.
"""

from __future__ import annotations

from handkit.draft.parts.drafted import DraftedPart, DraftedRoom, PartContext
from handkit.draft.parts.outlines import item_outline
from handkit.draft.parts.rooms import held_item, pocket_place
from handkit.draft.pattern import ItemOutline
from handkit.draft.worn.handle import held_handle
from handkit.geometry.affine import Affine
from handkit.read.project import Item, Part


def draft_room(part: Part, items: tuple[Item, ...], context: PartContext) -> DraftedPart:
    """Where its thing lies. An outline of that name that its base has already stays as it is."""
    (item,) = (each.in_sheath() if each.cuts else each for each in items)
    outline = item_outline(item, middle=item.width / 2, foot=0.0)
    blade = held_item(item, outline.path)
    held = (blade, held_handle(item, blade, Affine(), grip=part.size("grip"))) if item.cuts else (blade,)
    drawn = {line.name for line in context.base.items} if context.base is not None else set()
    place = pocket_place(item.width, part.length("height") or item.length)
    return DraftedPart(
        items=tuple(ItemOutline(each.name, each.outline) for each in held if each.name not in drawn),
        rooms=(DraftedRoom(part.word("cover"), place, held),),
    )
