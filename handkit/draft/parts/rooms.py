"""Rooms: what the fit of each item tells the maker.

In: the rooms that the parts' drafting gave. Out: findings, a warning for each item that sits too
tight or too loose, with the change that mends it.
"""

from __future__ import annotations

from collections.abc import Iterable

from handkit.draft.pattern import Fit, Room
from handkit.draft.words import mm
from handkit.findings import Finding, warning
from handkit.read.project import Project


def room_findings(project: Project, rooms: Iterable[Room]) -> tuple[Finding, ...]:
    """A warning for each room that does not fit its item, at the item's place in the file."""
    items = {item.name: item for item in project.items}
    return tuple(
        warning(
            "item-too-tight" if room.fit is Fit.TIGHT else "item-too-loose",
            items[room.item].source.at(),
            found=f'{mm(room.ease)} of ease in its {room.measure} in part "{room.part}"',
            allowed=f"{mm(room.least)} to {mm(room.most)}",
            remedy=room.remedy or _remedy(room),
        )
        for room in rooms
        if room.fit is not Fit.FITS
    )


def _remedy(room: Room) -> str:
    """What to change where the part itself does not say it better."""
    return f"make the part's ease {'larger' if room.fit is Fit.TIGHT else 'smaller'}"
