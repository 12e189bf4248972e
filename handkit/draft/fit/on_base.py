"""A part that its base has no room for: told once, with what mends it.

In: a part with its items, what was drafted of it, its base. Out: the finding. All mm, in the base's
frame. Every remedy is tried before it is told: the part is drafted again as it says.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator
from math import floor

import msgspec

from handkit.draft.fit.part_place import body_of, frame_of, place_of, sides_past
from handkit.draft.fit.where_it_fits import (
    PartBase,
    PlacedPart,
    circle_that_fits,
    size_that_fits,
    where_it_fits,
)
from handkit.draft.parts.drafted import DraftedPart
from handkit.draft.parts.item_fit import fit_of
from handkit.findings import Finding, Where, finding
from handkit.kinds.materials import MATERIALS
from handkit.kinds.stitch_holes import EDGE_WIDTHS
from handkit.read.project import Item, Part, Piece, Seam
from handkit.tolerances import COINCIDE, EDGE_SLACK

# A thing so much longer than all of its base has a digit too many, or its point in another place: our own.
TYPING_SLIP = 3.0

Again = Callable[[Part, tuple[Item, ...]], DraftedPart]


def past_its_base(
    part: Part, items: tuple[Item, ...], given: DraftedPart, on: tuple[Piece, Holes], again: Again
) -> Finding | None:
    """What is told of a part that does not lie on its base, or None; `again` drafts it otherwise."""
    piece, holes = on
    place, body = place_of(given, holes.inset), body_of(piece)
    keep = keep_of(piece, holes)
    if place is None or body is None or place.lies_on(body, frame_of(part), keep=_torn_within(piece, keep)):
        return None
    base = PartBase(piece, body, keep)
    lying = PlacedPart(part, place, part.at)
    told = _told(lying, items, base)
    elsewhere = where_it_fits(lying, base)
    if elsewhere is not None:
        return finding("part-past-base/at", part.source.at("at"), **told, at=elsewhere)

    def tried(other: Part, fewer: tuple[Item, ...]) -> PlacedPart | None:
        """The part drafted otherwise, where it fits."""
        place = place_of(again(other, fewer), holes.inset)
        start = PlacedPart(other, place, part.at) if place is not None else None
        at = where_it_fits(start, base) if start is not None else None
        return None if start is None or at is None else msgspec.structs.replace(start, at=at)

    return _without_stated(part, items, tried, told) or _with_larger_base(lying, items, base, tried, told)


class Holes(msgspec.Struct, frozen=True):
    """What holds a part on its base: how far inside its edge, how wide, and how near to one another they may
    stand; all 0 of what its openings tell of alone.
    """

    inset: float = 0.0
    width: float = 0.0
    least_step: float = 0.0

    @staticmethod
    def of(seams: Iterable[Seam]) -> Holes:
        """Those of the seam that stands furthest inside."""
        inmost = max((seam.stitching for seam in seams), key=lambda each: each.inset, default=None)
        return Holes() if inmost is None else Holes(inmost.inset, inmost.hole.width, inmost.least_step)


def keep_of(base: Piece, holes: Holes) -> float:
    """How far inside the base's edge rows are clear: of the edge, or of the rows that a part which drafts the
    base has along it."""
    if base.drafted_by is not None:
        return holes.inset + holes.least_step
    return min(EDGE_WIDTHS * holes.width, holes.inset)


def _torn_within(piece: Piece, keep: float) -> float:
    """How near a base's edge rows tear out; 0 where something else tells of it: on a base that another part
    drafts, or whose edges are worked."""
    sound = piece.drafted_by is None and not piece.works and MATERIALS[piece.material].words.punched
    return keep - COINCIDE if sound else 0.0


Tried = Callable[[Part, tuple[Item, ...]], PlacedPart | None]


def _told(lying: PlacedPart, items: tuple[Item, ...], base: PartBase) -> dict[str, object]:
    """What all ways of telling it say: what the part needs, and what there is."""
    (wide, high), (base_wide, base_high) = lying.place.size, base.size
    return {
        "wide": wide,
        "high": high,
        "items": [item.name for item in items],
        "past": past_edges(lying, base),
        "base": base.piece.name,
        "base_wide": base_wide,
        "base_high": base_high,
    }


def past_edges(lying: PlacedPart, base: PartBase) -> tuple[str, ...]:
    """By how much a place reaches past which edges of its base, in words."""
    sides = sides_past(lying.bounds, base.body.bounds())
    units = lying.part.source.units
    if sides:
        return tuple(f"{units.text(by)} past the {side} edge" for side, by in sides)
    frame = frame_of(lying.part)
    if lying.place.lies_on(base.body, frame):
        near = min(base.body.edge_distance(frame.apply(at)) for row in lying.place.rows for at in row)
        return (f"stitched {units.text(near)} (at least {units.text(base.keep)}) from the edge",)
    by = lying.place.past(base.body, frame_of(lying.part))
    return (f"{units.text(by) if by > EDGE_SLACK else 'part of it'} past the edge",)


def _without_stated(
    part: Part, items: tuple[Item, ...], tried: Tried, told: dict[str, object]
) -> Finding | None:
    """Where the width, the height or the ease that the part states is what does not fit."""
    stated = [key for key in ("width", "height") if part.length(key) is not None]
    stated += ["ease"] if part.ease is not None else []
    for keys in (*([key] for key in stated), stated):
        if not keys:
            continue
        found = tried(_without(part, keys), items)
        if found is not None:
            wide, high = found.place.size
            size = {"keys": keys, "own_wide": wide, "own_high": high}
            at = None if found.at == part.at else found.at
            fault = finding("part-past-base/stated", part.source.at(keys[0]), **told, **size, at=at)
            return fault.spoiling(fit_of(part))
    return None


def _without(part: Part, keys: Collection[str]) -> Part:
    """A part that leaves some of its sizes to its items."""
    return msgspec.structs.replace(
        part,
        settings=tuple(each for each in part.settings if each[0] not in keys),
        ease=None if "ease" in keys else part.ease,
    )


def _with_larger_base(
    lying: PlacedPart, items: tuple[Item, ...], base: PartBase, tried: Tried, told: dict[str, object]
) -> Finding:
    """How large the base would have to be, and what else may be done."""
    part = lying.part
    where = part.source.at("on")
    size = size_that_fits(lying, base)
    if size is None:
        circle = circle_that_fits(lying, base)
        if circle is None:
            return finding("part-past-base/shape", where, **told)
        return finding("part-past-base/circle", where, **told, circle=circle[0], at=circle[1])
    (base_wide, base_high), at = size
    longest = max(items, key=lambda item: item.length, default=None)
    if longest is not None and longest.length > TYPING_SLIP * max(base.size):
        slip = {"item": longest.name, "long": longest.length}
        return finding("part-past-base/slip", longest.source.at("size"), **told, **slip)
    needs: dict[str, object] = {
        "least_wide": base_wide,
        "least_high": base_high,
        "at": None if at == part.at else at,
    }
    return _with_less(part, items, tried, where, told | needs) or finding(
        "part-past-base/size", where, **told, **needs
    )


def _with_less(
    part: Part, items: tuple[Item, ...], tried: Tried, where: Where, told: dict[str, object]
) -> Finding | None:
    """Fewer of the items, or more of them that shows."""
    for count in reversed(range(1, len(items))):
        found = tried(part, items[:count])
        if found is not None:
            held, other = [item.name for item in items[:count]], None if found.at == part.at else found.at
            return finding("part-past-base/size-or-fewer", where, **told, held=held, other=other)
    for shows in _more_shown(part, items):
        found = tried(part.stating("shows", shows), items)
        if found is not None:
            other = None if found.at == part.at else found.at
            return finding("part-past-base/size-or-shows", where, **told, shows=shows, other=other)
    return None


def _more_shown(part: Part, items: tuple[Item, ...]) -> Iterator[float]:
    """Up to half of the shortest item, in steps of 5 mm (5/16 in)."""
    if "shows" in dict(part.settings) and part.length("height") is None:
        step = 5 * part.source.units.whole
        first, last = (
            floor(part.size("shows") / step) + 1,
            floor(min(item.length for item in items) / step / 2),
        )
        yield from (step * k for k in range(first, last + 1))
