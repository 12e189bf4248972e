"""Holder row: tools side by side under one strap that is stitched down between them.

In: a part, its items from left to right, its context. Out: the strap, its lines and those of the
base, numbered alike, and where the items lie.

       1      2      3         Line k stands in the middle of the gap between two items; both share
    ┌──┊──────┊──────┊──┐      it. The outer lines stand half a gap beside the outer items, and the
    │  ┊  ()  ┊ [==] ┊  │      strap goes on past them by twice the inset, or by its round corners. On
    └──┊──────┊──────┊──┘      the base the lines are as far apart as item and gap; on the strap by
                               the hull rule.

The part's `at` is the lower left corner of the strap's place. Items lie along y and stand out above
the strap by `shows`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import accumulate, pairwise

import msgspec

from handkit.draft.parts.drafted import DraftedPart, DraftedPiece, PartContext, Standing
from handkit.draft.parts.item_fit import ease_for, girth_fit, prolonged
from handkit.draft.parts.outlines import item_outline, rectangle_corners
from handkit.draft.parts.rooms import draped, pocket_place
from handkit.draft.pattern import ItemFit, RoomProfile
from handkit.draft.sizes.hull_rule import least_base, strap_way
from handkit.draft.sizes.section import section_of
from handkit.findings import Finding, finding
from handkit.geometry.affine import Point
from handkit.kinds.materials import EaseRange
from handkit.read.project import InnerLine, Item, Part
from handkit.tolerances import SAME_POINT


class Bay(msgspec.Struct, frozen=True):
    """The place of one item: how far its lines are apart on the base and on the strap."""

    item: Item
    ease: EaseRange
    base: float
    strap: float


def draft_holder_row(part: Part, items: tuple[Item, ...], context: PartContext) -> DraftedPart:
    """The strap and the lines of a row; a gap too small for the strap to go down in is refused."""
    piece = context.pieces[f"{part.name} strap"]
    stitchings = [context.seams[line].stitching for line in _names(part, len(items) + 1)]
    inset, pitch = max(each.inset for each in stitchings), max(each.pitch for each in stitchings)
    items = tuple(item.going_in(item.length - part.size("shows")) for item in items)
    eases = tuple(ease_for(part, piece.material, item.width, item.uncertainty) for item in items)
    strap = (each.once(*context.pitches(part)) for each in _strap_faults(part, inset, pitch))
    faults = (*strap, *_gap_faults(part, items, eases, piece.thickness))
    if faults:
        return DraftedPart(findings=faults)
    gap, wide = part.size("gap"), part.size("strap")
    bays = tuple(_bay(item, ease, gap, piece.thickness) for item, ease in zip(items, eases, strict=True))
    radius = part.size("round")
    end = max(2 * inset, radius)
    on_base = tuple(accumulate((bay.base for bay in bays), initial=end))
    on_strap = tuple(accumulate((bay.strap for bay in bays), initial=end))
    corners = rectangle_corners(on_strap[-1] + end, wide, foot=radius, mouth=radius)
    top = wide + part.size("shows")
    lines = _lines(part, on_strap, inset, wide - inset)
    return DraftedPart(
        pieces=(DraftedPiece(piece.name, corners, lines=lines, grain_degrees=0.0),),
        base_lines=_lines(part, on_base, inset, wide - inset),
        items=tuple(
            item_outline(bay.item, middle=x + bay.base / 2, foot=top - bay.item.length)
            for bay, x in zip(bays, on_base, strict=False)
        ),
        fits=tuple(_fit(part, bay, piece.thickness) for bay in bays),
        standing=_standing(piece.name, bays, on_base, wide=wide),
        findings=tuple(_standing_out(part, items)),
    )


def _standing(strap: str, bays: Sequence[Bay], lines: Sequence[float], *, wide: float) -> Standing:
    """The strap tight over each item, down on the base at each row; its ends lie flat."""
    inside: list[Point] = []
    for bay, (left, right) in zip(bays, pairwise(lines), strict=True):
        inside += draped([(section_of(bay.item), (left + right) / 2)], left, right)[bool(inside) :]
    place, over = pocket_place(lines[-1] + lines[0], wide), tuple(inside)
    return Standing(strap, place, (RoomProfile(0.0, over), RoomProfile(wide, over)))


def _standing_out(part: Part, items: Sequence[Item]) -> Iterator[Finding]:
    """An item must reach under the strap, to its middle at least (common practice, no source)."""
    wide, shows = part.size("strap"), part.size("shows")
    for item in items:
        if item.length < wide:
            short = {"length": item.length, "part": part.name, "least": wide / 2 + shows}
            yield finding("item-stands-out/short", item.source.at(), **short)
        elif item.length - shows < wide / 2:
            yield finding(
                "item-stands-out/strap",
                item.source.at(),
                shows=shows,
                length=item.length,
                part=part.name,
                most=max(0.0, item.length - wide / 2),
            )


def _bay(item: Item, ease: EaseRange, gap: float, thickness: float) -> Bay:
    """A bay as long on the strap as its way over the item and its ease."""
    base = item.width + gap
    way = strap_way(section_of(item).eased(ease.wanted), base=base, thickness=thickness)
    return Bay(item, ease, base, way.length)


def _lines(part: Part, places: Sequence[float], low: float, high: float) -> tuple[InnerLine, ...]:
    """Lines across the strap, numbered from the left."""
    names = _names(part, len(places))
    return tuple(InnerLine(name, ((x, low), (x, high))) for name, x in zip(names, places, strict=True))


def _names(part: Part, count: int) -> tuple[str, ...]:
    """Of the lines and their seams."""
    return tuple(f"{part.name} {number}" for number in range(1, count + 1))


def _fit(part: Part, bay: Bay, thickness: float) -> ItemFit:
    """The room of one item: how long the strap is, and how long at each ease."""
    section = section_of(bay.item)

    def way(ease: float) -> float:
        return strap_way(section.eased(ease), base=bay.base, thickness=thickness).length

    most = bay.base - least_base(section, thickness)
    return girth_fit(part, bay.item, bay.ease, given=bay.strap, way=prolonged(way, most))


def _strap_faults(part: Part, inset: float, pitch: float) -> Iterator[Finding]:
    """The strap must have room for a stitch across it, and for its round corners."""
    wide, radius = part.size("strap"), part.size("round")
    if radius > wide / 2:
        yield finding("part-too-round/strap", part.source.at("round"), radius=radius, most=wide / 2)
    if wide < 2 * inset + pitch - SAME_POINT:
        yield finding("strap-too-narrow", part.source.at("strap"), strap=wide, least=2 * inset + pitch)


def _gap_faults(
    part: Part, items: Sequence[Item], eases: Sequence[EaseRange], thickness: float
) -> Iterator[Finding]:
    gap = part.size("gap")
    needed = {
        item.name: least_base(section_of(item).eased(ease.wanted), thickness) - item.width
        for item, ease in zip(items, eases, strict=True)
    }
    tight = [name for name, least in needed.items() if gap < least - SAME_POINT]
    if tight:
        least = max(needed[name] for name in tight)
        yield finding("gap-too-small", part.source.at("gap"), gap=gap, items=tight, least=least)
