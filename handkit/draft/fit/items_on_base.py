"""Items that reach past the edge of what their part lies on: told once a part, with what mends it.

In: a part that lies on its base, what was drafted of it, its base. Out: the finding. All mm, in the base's
frame.
"""

from __future__ import annotations

import msgspec

from handkit.draft.fit.on_base import Holes, keep_of, past_edges
from handkit.draft.fit.part_place import body_of, frame_of, place_of, with_items
from handkit.draft.fit.where_it_fits import (
    PartBase,
    PlacedPart,
    circle_that_fits,
    size_that_fits,
    where_it_fits,
)
from handkit.draft.parts.drafted import DraftedPart
from handkit.findings import Finding, finding
from handkit.geometry.region import Region
from handkit.read.project import Part, Piece
from handkit.tolerances import EDGE_SLACK, SAGITTA


def items_past_base(part: Part, given: DraftedPart, piece: Piece, holes: Holes) -> Finding | None:
    """What is told of a part's items that do not lie on its base, or None; of what hangs there by a row, and
    may reach past it, only what stands out of that: the handle of a blade."""
    hangs = given.standing is None
    if hangs:
        heads = {held.name for room in given.rooms for held in room.items if held.blade is not None}
        given = msgspec.structs.replace(
            given, items=tuple(each for each in given.items if each.item in heads)
        )
    place, body = place_of(given, holes.inset), body_of(piece)
    past = () if body is None else _past(part, given, body)
    if place is None or body is None or not past:
        return None
    base = PartBase(piece, body, keep_of(piece, holes))
    return _mended(PlacedPart(part, with_items(place, given), part.at), past, base)


def _past(part: Part, given: DraftedPart, body: Region) -> tuple[str, ...]:
    """The items that do not lie on the base, by name."""
    lie = frame_of(part)
    return tuple(
        each.item
        for each in given.items
        if not body.covers(each.path.moved(lie).flattened(sagitta=SAGITTA), slack=EDGE_SLACK)
    )


def _mended(lying: PlacedPart, items: tuple[str, ...], base: PartBase) -> Finding:
    """Where to lay the part, or how large to make its base."""
    part = lying.part
    told: dict[str, object] = {
        "items": items,
        "past": past_edges(lying, base),
        "base": base.piece.name,
    }
    at = where_it_fits(lying, base)
    if at is not None:
        return finding("item-past-base/at", part.source.at("at"), **told, at=at)
    where, size = part.source.at("on"), size_that_fits(lying, base)
    if size is not None:
        (wide, high), at = size
        told |= {"least_wide": wide, "least_high": high, "at": None if at == part.at else at}
        return finding("item-past-base/size", where, **told)
    circle = circle_that_fits(lying, base)
    if circle is not None:
        return finding("item-past-base/circle", where, **told, circle=circle[0], at=circle[1])
    return finding("item-past-base/shape", where, **told)
