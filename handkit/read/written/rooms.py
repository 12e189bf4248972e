"""Rooms as values: what a [[part]] says of a thing between the file's own pieces, and its [[item]].

In: records as read. Out: values by key.
"""

from __future__ import annotations

from handkit.read.project import Item, Part
from handkit.read.written.pieces import plain_turn
from handkit.read.written.values import Values


def room_values(room: Part) -> Values:
    """The values of a part of that kind."""
    own = {"at": room.at, "turn": plain_turn(room.turn_degrees), "behind": room.flag("behind")}
    settings: dict[str, object] = {
        "cover": room.word("cover"),
        "height": room.length("height"),
        "grip": room.length("grip"),
    }
    settings |= {"pieces": room.names("pieces")}
    return {"name": room.name, "kind": room.kind, "on": room.on, **own, **settings}


def item_values(item: Item, bare: bool) -> Values:
    """The values of a thing, its outline as it stands in its place; `bare` says that its edge is, whatever
    the file says of that."""
    return {
        "name": item.name,
        "in": item.held_by,
        **_shape(item),
        "handle": item.handle,
        "cutting": "bare" if bare else item.cutting,
        "note": item.note,
    }


def _shape(item: Item) -> Values:
    if item.diameter is not None:
        return {"diameter": item.diameter, "length": item.length}
    if item.section:
        return {"section": item.section, "length": item.length}
    if item.plan and item.tip is None:
        told = {"thickness": item.thickness, "uncertainty": item.uncertainty, "blade": item.blade}
        return {"outline": item.plan, "up": "top", **told}
    return {"size": (item.width, item.thickness, item.length), "tip": item.tip}
