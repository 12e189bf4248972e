"""Flat pocket: a front that lies flat on its base, for thin things beside one another.

    D ──────────┬──────── C     the mouth; what an item shows stands out above
    │  ┌─────┐  ╎  ┌───┐  │     ╎ a divider between two items, sewn through to the base
    │  │  1  │  ╎  │ 2 │  │
    │  └─────┘  ╎  └───┘  │     the items stand on the foot's stitch line
    A ──────────┴──────── B     A is the origin of the part's frame

In: the part, its items, its context. Out: the pocket, with a line for each divider (its foot: see
`foot_row.py`).

Front and base are equally long between two rows of stitches, so each bows over one half of the
item's thickness: the hull rule (see `hull_rule`), taken with half the
item; without leather it is half the girth, as sewers reckon. Both are taken to be as thick as the
thicker of them; a section by points counts as the box around it. A base that can't bend at all leaves
all of it to the front, which then lacks 2 · (√(x² + t²) − x), where t is the thickness and x what is
free beside the item: 0.6 mm for a rule 1 mm thick with 2 mm of ease, but 4 mm for a folder of 4 mm.
Leather gives so much to a thin thing; for a thick one on a stiff base take a pocket that is bowed.
Several items without dividers are taken as one, as wide as all and as thick as the thickest.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import accumulate
from math import floor, sqrt
from operator import add

import msgspec

from handkit.draft.parts.drafted import DraftedPart, DraftedPiece, DraftedSeam, PartContext, Standing
from handkit.draft.parts.item_fit import ease_for, standing_out
from handkit.draft.parts.outlines import foot_radii, foot_radius, item_outline, rectangle_corners
from handkit.draft.parts.rooms import draped, pocket_place
from handkit.draft.pattern import ItemFit, RoomProfile
from handkit.draft.pockets.foot_row import FootRow
from handkit.draft.pockets.heads import heads_need
from handkit.draft.sizes.half_way import way_over
from handkit.draft.sizes.section import section_of
from handkit.findings import Finding, finding
from handkit.geometry.affine import Point
from handkit.kinds.materials import EaseRange, Material
from handkit.read.project import InnerLine, Item, MatchPoint, Part, PartKind, Stitching
from handkit.tolerances import SAME_POINT
from handkit.units import tenth_above

# Thicker things want a front that bows, or a gusset (common practice, no source).
THICKEST = 12.0


class _Place(msgspec.Struct, frozen=True):
    """What lies between two rows of stitches: one item, or all of them side by side."""

    items: tuple[Item, ...]
    left: float
    right: float
    needed: float
    ease: EaseRange
    grown: float = 0.0  # for the heads of its neighbours and its own

    @property
    def over(self) -> float:
        """How wide its items are side by side."""
        return sum(item.width for item in self.items)


class _Standing(msgspec.Struct, frozen=True):
    """Where an item stands: its middle, and its end `foot` above the foot's row."""

    item: Item
    middle: float
    foot: float

    @property
    def top(self) -> float:
        """How high the item reaches above the foot's row."""
        return self.foot + self.item.length


def draft_flat_pocket(part: Part, items: tuple[Item, ...], context: PartContext) -> DraftedPart:
    """The pocket for its items: as wide as they need side by side, as high as the longest less `shows`.

    With `dividers = false` all items share one place, as wide as they are side by side: the leather
    bows over them once, and there is one room for all. A part with a `margin` has so much more beside its
    last item, and a row before it.
    """
    stitching = context.seams[part.name].stitching
    piece = context.pieces[part.name]
    inset = stitching.inset
    radius = foot_radius(part, piece)
    leather = max(piece.thickness, context.base.thickness if context.base else 0.0)
    corner = max(0.0, radius - inset)
    whole = _places(part, items, piece.material, leather=leather, inset=inset)
    deep = _height(part, _standings(whole, leather=leather, corner=corner), stitching) - inset
    items = tuple(item.going_in(deep) for item in items)
    places = _places(part, items, piece.material, leather=leather, inset=inset)
    narrow = _too_narrow(part, places, stitching)
    if narrow is not None:
        return DraftedPart(findings=(narrow,))
    width = places[-1].right + inset + part.size("margin")
    standings = _standings(places, leather=leather, corner=corner)
    height, least = _height(part, standings, stitching), 2 * inset + stitching.pitch
    if height < least:
        tops = max(standing.top for standing in standings)
        return DraftedPart(findings=(_too_low(part, height, least, tops + inset - least),))
    row = FootRow(width, inset, *foot_radii(part, piece))
    dividers = _dividers(part, places, row, stitching, mouth=height - inset)
    corners = rectangle_corners(width, height, foot=radius, mouth=0.0)
    matches = tuple(MatchPoint((line.points[0], None)) for line in dividers if row.meets(line.points[0]))
    outlines = tuple(
        item_outline(each.item, middle=each.middle, foot=inset + each.foot) for each in standings
    )
    return DraftedPart(
        pieces=(DraftedPiece(piece.name, corners, lines=dividers),),
        seams=(DraftedSeam(part.name, matches),),
        items=outlines,
        items_on=(piece.name,),
        fits=_fits(part, places, inset=inset),
        standing=_standing(piece.name, places, standings, row, height=height),
        findings=(*_findings(part, standings, height - inset), *_loose(places)),
    )


def _height(part: Part, standings: Sequence[_Standing], stitching: Stitching) -> float:
    """As stated, or so that the longest shows as far as stated; short things show as much less, where the
    file says neither, as its rows need."""
    tops = max(standing.top for standing in standings)
    height = part.length("height") or tops - part.size("shows") + stitching.inset
    stated = part.length("height") is not None or part.source.says("shows")
    return height if stated else max(height, 2 * stitching.inset + stitching.pitch)


def _standing(
    cover: str, places: Sequence[_Place], standings: Sequence[_Standing], row: FootRow, *, height: float
) -> Standing:
    """Flat at the foot's row, over what stands between two rows above the items' ends; all of it is drawn
    on the front's side, as on a base that does not bend."""
    inside: list[Point] = []
    for place in places:
        held = [
            (section_of(each.item), each.middle)
            for each in standings
            if place.left < each.middle < place.right
        ]
        inside += draped(held, place.left, place.right)[bool(inside) :]
    over, low = tuple(inside), row.inset + min(standing.foot for standing in standings)
    flat = tuple((x, 0.0) for x, _ in over)
    profiles = (
        RoomProfile(row.inset, flat),
        RoomProfile(max(low, row.inset + SAME_POINT), over),
        RoomProfile(height, over),
    )
    return Standing(cover, pocket_place(row.width, height, (row.left, row.right)), profiles)


def _places(
    part: Part, items: Sequence[Item], material: Material, *, leather: float, inset: float
) -> tuple[_Place, ...]:
    """The places from left to right, between rows of stitches: one for each item, or one for all."""
    held = [(item,) for item in items] if part.flag("dividers") else [tuple(items)]
    needed = [_way_over(together, leather) for together in held]
    eases = [
        ease_for(part, material, sum(item.width for item in each), sum(item.uncertainty for item in each))
        for each in held
    ]
    stated = part.length("width")
    spare = (stated - 2 * inset - sum(needed)) / len(held) if stated is not None else None
    widths = [
        need + (ease.wanted if spare is None else spare) for need, ease in zip(needed, eases, strict=True)
    ]
    grown = [0.0] * len(held)
    if stated is None and part.flag("dividers"):
        feet = [(_way_over((item,), leather) - item.width) / 2 for item in items]
        grown = heads_need(items, feet, widths, eases)
    ends = [inset, *(inset + along for along in accumulate(map(add, widths, grown)))]
    return tuple(
        _Place(together, ends[k], ends[k + 1], needed[k], eases[k].roomier(grown[k]), grown[k])
        for k, together in enumerate(held)
    )


def _way_over(items: tuple[Item, ...], leather: float) -> float:
    """Over half of one item, or of all side by side: as wide as they together, as thick as the thickest."""
    round_ = len(items) == 1 and items[0].diameter is not None
    width, thickness = sum(item.width for item in items), max(item.thickness for item in items)
    return way_over(width, thickness, leather=leather, round_=round_)


def _standings(places: Sequence[_Place], *, leather: float, corner: float) -> tuple[_Standing, ...]:
    """Where the items stand; `corner` is the radius of the stitch line at the foot's outer corners."""
    found: list[_Standing] = []
    for place in places:
        wide, over = place.right - place.left, place.over
        room = (wide - over) / (len(place.items) + 1)
        start = place.left
        for item in place.items:
            start += room
            beside = min(start - place.left, place.right - start - item.width)
            bow = (_way_over((item,), leather) - item.width) / 2
            found.append(_Standing(item, start + item.width / 2, _foot(bow, beside, corner)))
            start += item.width
    return tuple(found)


def _foot(bow: float, beside: float, corner: float) -> float:
    """How far an item's end stays above the foot's row: its thickness bows the leather there too, and
    a rounded corner of the row keeps the item's corner off."""
    short = max(0.0, corner - beside)
    return bow + corner - sqrt(max(0.0, corner * corner - short * short))


def _too_narrow(part: Part, places: Sequence[_Place], stitching: Stitching) -> Finding | None:
    """A stated width that leaves a place narrower than what stands in it, or than a stitch: what is
    missing in the place that lacks most is missing in each, since all share alike in the width."""
    stated, count = part.length("width"), sum(len(place.items) for place in places)
    if stated is None:
        return None
    missing = max(max(place.over, stitching.least_step) - (place.right - place.left) for place in places)
    stitches = 2 * stitching.inset + count * stitching.pitch
    if stated >= stitches and missing <= SAME_POINT:
        return None
    where, least = part.source.at("width"), tenth_above(stated + len(places) * missing)
    if least <= stitches:
        return finding("part-too-narrow", where, width=stated, least=stitches)
    wanted = max(least, _wanted(places, stitching.inset))
    return finding("part-too-narrow/items", where, width=stated, least=least, wanted=wanted)


def _wanted(places: Sequence[_Place], inset: float) -> float:
    """How wide the pocket is with the ease that its items want."""
    return 2 * inset + sum(place.needed + place.ease.wanted for place in places)


def _dividers(
    part: Part, places: Sequence[_Place], row: FootRow, stitching: Stitching, *, mouth: float
) -> tuple[InnerLine, ...]:
    """A line between each two items, and before a margin: from the foot's row to the sides' rows' ends."""
    if not part.flag("dividers"):
        return ()
    highest = mouth - stitching.least_step
    lines: list[InnerLine] = []
    for k, place in enumerate(places if part.size("margin") else places[:-1], start=1):
        x, y = row.divider_foot(place.right, stitching)
        lines.append(InnerLine(f"{part.name} {k}", ((x, min(y, highest)), (x, mouth))))
    return tuple(lines)


def _fits(part: Part, places: Sequence[_Place], *, inset: float) -> tuple[ItemFit, ...]:
    stated = part.length("width") is not None
    wanted = _wanted(places, inset)
    return tuple(
        ItemFit(
            tuple(item.name for item in place.items),
            part.name,
            "width",
            place.needed,
            place.right - place.left,
            place.ease.least,
            place.ease.most,
            "width" if stated else "",
            wanted if stated else None,
            "between the rows of stitches",
        )
        for place in places
    )


def _too_low(part: Part, height: float, least: float, shows: float) -> Finding:
    """Lower than a stitch needs: by its own height, or because its items show too much."""
    if part.length("height") is not None:
        return finding("part-too-low/height", part.source.at("height"), height=height, least=least)
    where, most = part.source.at("shows"), floor(shows * 10) / 10
    if most < 0:
        return finding("part-too-low/short", where, height=height, least=least)
    return finding("part-too-low/shows", where, height=height, least=least, most=most)


def _loose(places: Sequence[_Place]) -> Iterator[Finding]:
    """Places that hold their things loosely, for the heads' sake."""
    for place in places:
        if place.grown > place.ease.wanted:
            yield finding("heads-apart", place.items[0].source.at(), more=place.grown)


def _findings(part: Part, standings: Sequence[_Standing], mouth: float) -> Iterator[Finding]:
    """What a flat pocket is not for; `mouth` is its height above the foot's row."""
    for standing in standings:
        item, shows, where = standing.item, standing.top - mouth, standing.item.source.at()
        if item.thickness > THICKEST:
            thick = item.thickness
            key = "item-too-thick/roll" if part.kind is PartKind.ROLL else "item-too-thick"
            yield finding(key, where, thickness=thick, part=part.name, most=THICKEST)
        if shows < 0 < part.size("shows"):
            yield finding("item-sinks/shows", where, below=-shows, part=part.name)
        else:
            yield from standing_out(part, item, item.length - shows)
