"""Flat pocket: a front that lies flat on its base, for thin things beside one another.

    D ──────────┬──────── C     the mouth; what an item shows stands out above
    │  ┌─────┐  ╎  ┌───┐  │     ╎ a divider between two items, sewn through to the base
    │  │  1  │  ╎  │ 2 │  │
    │  └─────┘  ╎  └───┘  │     the items stand on the foot's stitch line
    A ──────────┴──────── B     A is the origin of the part's frame

In: the part, its items, its context. Out: the pocket, with a line for each divider.

Front and base are equally long between two rows of stitches, so each bows over one half of the
item's thickness: the hull rule (see `hull_rule`), taken with half the
item; without leather it is half the girth, as sewers reckon. Both are taken to be as thick as the
thicker of them; a section by points counts as the box around it. A base that can't bend at all leaves
all of it to the front, which then lacks 2 · (√(x² + t²) − x), where t is the thickness and x what is
free beside the item: 0.6 mm for a rule 1 mm thick with 2 mm of ease, but 4 mm for a folder of 4 mm.
Leather gives so much to a thin thing; for a thick one on a stiff base take a pocket that is bowed.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import accumulate
from math import atan, floor, pi, sqrt

import msgspec

from handkit.draft.parts.drafted import DraftedPart, DraftedPiece, DraftedSeam, PartContext
from handkit.draft.parts.item_fit import EaseRange, ease_for
from handkit.draft.parts.outlines import foot_radius, item_outline, rectangle_corners
from handkit.draft.pattern import ItemFit
from handkit.findings import Finding, finding
from handkit.read.project import InnerLine, Item, MatchPoint, Part

# Thicker things want a front that bows, or a gusset (common practice, no source).
THICKEST = 12.0

# An item is held by at least this share of its length (common practice, no source).
LEAST_HELD = 1 / 3


class _Place(msgspec.Struct, frozen=True):
    """Where an item stands: between two rows of stitches, `foot` above the foot's row."""

    item: Item
    left: float
    right: float
    needed: float
    ease: EaseRange
    foot: float

    @property
    def middle(self) -> float:
        """Where the item's middle is."""
        return (self.left + self.right) / 2

    @property
    def top(self) -> float:
        """How high the item reaches above the foot's row."""
        return self.foot + self.item.length


def draft_flat_pocket(part: Part, items: tuple[Item, ...], context: PartContext) -> DraftedPart:
    """The pocket for its items: as wide as they need side by side, as high as the longest less `shows`.

    With `dividers = false` all items share one place, as wide as they are side by side.
    """
    stitching = context.seams[part.name].stitching
    piece = context.pieces[part.name]
    inset = stitching.inset
    stated, narrowest = part.length("width"), 2 * inset + len(items) * stitching.pitch
    if stated is not None and stated < narrowest:
        where = part.source.at("width")
        return DraftedPart(findings=(finding("part-too-narrow", where, width=stated, least=narrowest),))
    radius = foot_radius(part, piece)
    places = _places(part, items, context, corner=max(0.0, radius - inset))
    width = places[-1].right + inset
    tops = max(place.top for place in places)
    height = part.length("height") or tops - part.size("shows") + inset
    least = 2 * inset + stitching.pitch
    if height < least:
        return DraftedPart(findings=(_too_low(part, height, least, tops + inset - least),))
    dividers = _dividers(part, places, foot=inset, mouth=height - inset)
    drafted = DraftedPiece(
        piece.name, rectangle_corners(width, height, foot=radius, mouth=0.0), lines=dividers
    )
    matches = tuple(MatchPoint((line.points[0], None)) for line in dividers)
    outlines = tuple(
        item_outline(place.item, middle=place.middle, foot=inset + place.foot) for place in places
    )
    return DraftedPart(
        pieces=(drafted,),
        seams=(DraftedSeam(part.name, matches),),
        items=outlines,
        items_on=(piece.name,),
        fits=_fits(part, places, inset=inset),
        findings=tuple(_findings(part, places, height - inset)),
    )


def way_over(width: float, thickness: float, *, leather: float, round_: bool = False) -> float:
    """How long leather must be from stitch to stitch to bow over half a thing, in mm; all inputs mm.

    The middle of leather of thickness s neither stretches nor shrinks; it lies s/2 off the thing and,
    where it is stitched down, s/2 above the plane between the two layers. Stitched as near as may
    be, s/2 beside the thing on either side, it goes straight up, round the corner on s/2 and across.
    With s = 0 it is half the girth: width + thickness, or half a circle.

    >>> way_over(30, 5, leather=0), round(way_over(10, 10, leather=0, round_=True), 4)
    (35.0, 15.708)
    >>> way_over(30, 0, leather=2)
    32.0
    """
    if round_:
        radius = (width + leather) / 2
        return leather + 2 * radius * (pi / 2 - 2 * atan(leather / (2 * radius)))
    if thickness >= leather:
        return width + thickness - leather + leather * pi / 2
    deep = (leather - thickness) / 2
    return width + 2 * deep + leather * (pi / 2 - 2 * atan(2 * deep / leather))


def _places(part: Part, items: Sequence[Item], context: PartContext, *, corner: float) -> tuple[_Place, ...]:
    """The items' places from left to right, between rows of stitches.

    `corner` is the radius of the stitch line at the foot's outer corners.
    """
    piece = context.pieces[part.name]
    inset = context.seams[part.name].stitching.inset
    leather = max(piece.thickness, context.base.thickness if context.base else 0.0)
    needed = [
        way_over(item.width, item.thickness, leather=leather, round_=item.diameter is not None)
        for item in items
    ]
    eases = [ease_for(part, piece.material, item.width) for item in items]
    stated = part.length("width")
    spare = (stated - 2 * inset - sum(needed)) / len(items) if stated is not None else None
    widths = [
        need + (ease.wanted if spare is None else spare) for need, ease in zip(needed, eases, strict=True)
    ]
    ends = [inset, *(inset + along for along in accumulate(widths))]
    return tuple(
        _Place(item, ends[k], ends[k + 1], needed[k], eases[k], _foot(item, needed[k], widths[k], corner))
        for k, item in enumerate(items)
    )


def _foot(item: Item, needed: float, width: float, corner: float) -> float:
    """How far an item's end stays above the foot's row: its thickness bows the leather there too, and
    a rounded corner of the row keeps the item's corner off."""
    beside = (width - item.width) / 2
    short = max(0.0, corner - beside)
    return (needed - item.width) / 2 + corner - sqrt(max(0.0, corner * corner - short * short))


def _dividers(part: Part, places: Sequence[_Place], *, foot: float, mouth: float) -> tuple[InnerLine, ...]:
    """A line between each two items, from the foot's row up to where the sides' rows end."""
    if not part.flag("dividers"):
        return ()
    return tuple(
        InnerLine(f"{part.name} {k}", ((place.right, foot), (place.right, mouth)))
        for k, place in enumerate(places[:-1], start=1)
    )


def _fits(part: Part, places: Sequence[_Place], *, inset: float) -> tuple[ItemFit, ...]:
    stated = part.length("width") is not None
    wanted = 2 * inset + sum(place.needed + place.ease.wanted for place in places)
    return tuple(
        ItemFit(
            place.item.name,
            part.name,
            "width",
            place.needed,
            place.right - place.left,
            place.ease.least,
            place.ease.most,
            "width" if stated else "",
            wanted if stated else None,
        )
        for place in places
    )


def _too_low(part: Part, height: float, least: float, shows: float) -> Finding:
    """Lower than a stitch needs: by its own height, or because its items show too much."""
    if part.length("height") is not None:
        return finding("part-too-low/height", part.source.at("height"), height=height, least=least)
    most = max(0.0, floor(shows * 10) / 10)
    return finding("part-too-low/shows", part.source.at("shows"), height=height, least=least, most=most)


def _findings(part: Part, places: Sequence[_Place], mouth: float) -> Iterator[Finding]:
    """What a flat pocket is not for; `mouth` is its height above the foot's row."""
    for place in places:
        item, shows, where = place.item, place.top - mouth, place.item.source.at()
        held = {"length": item.length, "part": part.name}
        if item.thickness > THICKEST:
            thick = item.thickness
            yield finding("item-too-thick", where, thickness=thick, part=part.name, most=THICKEST)
        if shows < 0 < part.size("shows"):
            yield finding("item-sinks", where, below=-shows, part=part.name)
        elif item.length - shows < item.length * LEAST_HELD:
            most = item.length * (1 - LEAST_HELD)
            yield finding("item-stands-out/pocket", where, shows=shows, **held, most=most)
