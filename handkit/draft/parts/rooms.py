"""Rooms: what the fit of each item tells the maker.

In: the rooms that the parts' drafting gave. Out: findings, a warning for each item that sits too
tight or too loose, with the change that mends it.
"""

from __future__ import annotations

from collections.abc import Iterable

from handkit.draft.pattern import Fit, Room
from handkit.findings import Finding, Where, finding
from handkit.read.project import Project


def room_findings(project: Project, rooms: Iterable[Room]) -> tuple[Finding, ...]:
    """A warning for each room that does not fit its item, at the item's place in the file."""
    items = {item.name: item for item in project.items}
    return tuple(_told(room, items[room.item].source.at()) for room in rooms if room.fit is not Fit.FITS)


def _told(room: Room, where: Where) -> Finding:
    """The change that mends it is of what the part states, or else of its ease."""
    values: dict[str, object] = {
        "ease": room.ease,
        "measure": room.measure,
        "part": room.part,
        "least": room.least,
        "most": room.most,
    }
    tight = room.fit is Fit.TIGHT
    if room.stated == "mouth":
        return finding("item-too-tight/mouth" if tight else "item-too-loose/mouth", where, **values)
    if room.wanted is not None:
        key = "item-too-tight/width" if tight else "item-too-loose/width"
        return finding(key, where, **values, wanted=room.wanted)
    if room.stated:
        key = "item-too-tight/key" if tight else "item-too-loose/key"
        return finding(key, where, **values, key=room.stated)
    return finding("item-too-tight" if tight else "item-too-loose", where, **values)
