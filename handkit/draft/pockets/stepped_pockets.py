"""Stepped pockets: cards and notes one above the other, all in one row round them.

In: the part, its items from the highest down, its context. Out: the pockets (see `step_sizes.py`), the rows
on the base, where the items stand.

Each item lies flat behind a front that is sewn at both sides and along its foot, as in a flat pocket: the
same room across (`way_over`). The longest stands on its foot's row and shows about as much above its mouth as
that is above the next: the reveal, to half a pitch. All pockets are as wide as the widest item needs (an
outline as wide as what of it lies under its mouth) and as deep as the longest; an item of several pockets
(`steps`) is in each.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import msgspec

from handkit.draft.parts.drafted import DraftedPart, DraftedPiece, DraftedRoom, DraftedSeam, PartContext
from handkit.draft.parts.item_fit import ease_for, standing_out
from handkit.draft.parts.outlines import corners_of, foot_radii, item_outline
from handkit.draft.parts.rooms import draped, held_item, pocket_place
from handkit.draft.pattern import ItemFit, ItemOutline, RoomProfile
from handkit.draft.sizes.box_sizes import corner_rise
from handkit.draft.sizes.half_way import way_over
from handkit.draft.sizes.section import section_of
from handkit.draft.sizes.step_sizes import StepSizes
from handkit.findings import Finding, finding
from handkit.geometry.affine import Affine, Point
from handkit.geometry.path import Path, polyline
from handkit.kinds.materials import Material
from handkit.read.project import Corner, InnerLine, Item, Part, Stitching
from handkit.tolerances import SAGITTA, SAME_POINT

# Thicker things bulge so much that the pockets before them no longer close (common practice, no source).
THICKEST = 4.0


class _Needs(msgspec.Struct, frozen=True):
    """What an item needs between the rows at its sides, and how far it stands off its foot's row."""

    item: Item
    across: float
    bow: float


class _Limits(msgspec.Struct, frozen=True):
    """What a set of pockets must have: its least width by its feet, by its items with their ease, and the
    larger radius at its foot; how long its longest item is with its bow; a stitch at the sides, and at the
    feet."""

    feet: float
    wanted: float
    radius: float
    length: float
    side: Stitching
    foot: Stitching

    def least_reveal(self, steps: int) -> float:
        """A foot's row stands clear of the lower edge of the pocket behind it."""
        return self.foot.inset + self.foot.hole.width if steps > 1 else 0.0

    def most_reveal(self, *, tees: bool) -> float:
        """One stitch is left at the sides, and of a tee a stem."""
        if tees:
            return (self.length - 2.5 * self.side.pitch) / 3
        return self.length - 1.5 * self.side.pitch


def draft_stepped_pockets(part: Part, items: tuple[Item, ...], context: PartContext) -> DraftedPart:
    """The pockets for their items; a step that leaves no room for feet, bars or stitches is refused."""
    pockets = _pockets(part, context)
    low = context.pieces[pockets[-1]]
    side, corners = _stitchings(part, pockets, context)[0], foot_radii(part, low)
    *_, sizes = _sized(part, items, context)
    deep = max(sizes.deep(k) for k in range(1, sizes.steps + 1))  # which hangs on no item's width
    needs, limits, sizes = _sized(part, [item.going_in(deep) for item in items], context)
    told = next(_faults(part, needs, sizes, limits), None)
    if told is not None:
        return DraftedPart(findings=(told,))
    return DraftedPart(
        pieces=tuple(
            DraftedPiece(name, _corners(sizes, k, corners), at=(0.0, sizes.foot(k)))
            for k, name in enumerate(pockets, start=1)
        ),
        base_lines=_rows(part, sizes, corners),
        seams=tuple(DraftedSeam(f"{name}, foot", ends=(_ends(sizes, side),)) for name in pockets[:-1]),
        items=_outlines(sizes, needs),
        fits=tuple(_fits(part, needs, sizes, low.material)),
        place=pocket_place(sizes.width, sizes.top),
        rooms=tuple(_rooms(pockets, sizes, needs, corners)),
        findings=tuple(_findings(part, needs, sizes)),
    )


def _pockets(part: Part, context: PartContext) -> tuple[str, ...]:
    """From the highest down."""
    return tuple(name for name, piece in context.pieces.items() if piece.drafted_by == part.name)


def _sized(
    part: Part, items: Sequence[Item], context: PartContext
) -> tuple[list[_Needs], _Limits, StepSizes]:
    """What items as wide as these need."""
    pockets = _pockets(part, context)
    low, (side, foot) = context.pieces[pockets[-1]], _stitchings(part, pockets, context)
    leather = max(low.thickness, context.base.thickness if context.base else 0.0)
    radius = max(foot_radii(part, low))
    needs = [_needs(item, leather, radius - side.inset) for item in items]
    wanted = max(
        each.across + ease_for(part, low.material, each.item.width, each.item.uncertainty).wanted
        for each in needs
    )
    longest = max(each.bow + each.item.length for each in needs)
    limits = _Limits(_least_width(part, len(pockets), side, foot), wanted, radius, longest, side, foot)
    return needs, limits, _sizes(part, len(pockets), limits)


def _sizes(part: Part, steps: int, limits: _Limits) -> StepSizes:
    inset, reveal = limits.side.inset, part.size("reveal")
    width = part.length("width") or max(limits.wanted + 2 * inset, limits.feet)
    wanted, pitch = limits.length - reveal, limits.side.pitch
    return StepSizes(steps, width, wanted, reveal, pitch, inset, limits.foot.inset, part.flag("tees"))


def _stitchings(part: Part, pockets: Sequence[str], context: PartContext) -> tuple[Stitching, Stitching]:
    """Of the rows at the sides, and of the feet."""
    side = context.seams[(*part.names("seams"), part.name)[0]].stitching
    foot = context.seams.get(f"{pockets[0]}, foot")
    return side, foot.stitching if foot is not None else side


def _needs(item: Item, leather: float, corner: float) -> _Needs:
    """As in a flat pocket; a rounded corner of the row keeps the item's corner off."""
    across = way_over(item.width, item.thickness, leather=leather, round_=item.diameter is not None)
    bow = (across - item.width) / 2
    return _Needs(item, across, bow + corner_rise(max(corner, 0.0), bow))


def _least_width(part: Part, steps: int, side: Stitching, foot: Stitching) -> float:
    """How wide the pockets are at the least: a stitch along each foot, clear of the rows at the sides."""
    if steps == 1:
        return 2 * side.inset + side.pitch
    beside = 2 * side.inset + foot.inset if part.flag("tees") else max(side.inset, foot.inset) + side.pitch
    return 2 * beside + foot.pitch


def _ends(sizes: StepSizes, side: Stitching) -> tuple[float, float]:
    """How far a foot's row stays clear of the rows at the sides: by a stitch; a stem does by itself."""
    clear = 0.0 if sizes.tees else side.pitch + max(0.0, side.inset - sizes.foot_inset)
    return clear, clear


def _corners(sizes: StepSizes, k: int, foot: tuple[float, float]) -> tuple[Corner, ...]:
    points = sizes.outline(k)
    radii = (*foot, *(0.0 for _ in points[2:])) if k == sizes.steps else ()
    return corners_of(points, radii)


def _rows(part: Part, sizes: StepSizes, foot: tuple[float, float]) -> tuple[InnerLine, ...]:
    """The rows on the base: down from above the highest mouth, round the lowest foot and up again; or one
    side, from a stitch above the row along the foot."""
    left, right = sizes.inset, sizes.width - sizes.inset
    beside = part.word("beside")
    if beside != "none":
        x, low = left if beside == "left" else right, sizes.inset + sizes.pitch
        return (InnerLine(f"{part.name}, {beside}", ((x, low), (x, sizes.top))),)
    if part.names("seams"):
        return ()
    return (InnerLine(part.name, _round_the_foot(sizes, foot)),)


def _round_the_foot(sizes: StepSizes, foot: tuple[float, float]) -> tuple[Point, ...]:
    inner = (max(0.0, foot[0] - sizes.inset), max(0.0, foot[1] - sizes.inset))
    place = pocket_place(sizes.width - 2 * sizes.inset, sizes.top - sizes.inset, inner)
    shifted = place.moved(Affine.shift(sizes.inset, sizes.inset)).flattened(sagitta=SAGITTA)
    start = shifted.index(min(shifted, key=lambda at: (at[0], -at[1])))
    return (*shifted[start:], *shifted[:start])


def _outlines(sizes: StepSizes, needs: Sequence[_Needs]) -> tuple[ItemOutline, ...]:
    return tuple(
        item_outline(each.item, middle=sizes.width / 2, foot=sizes.foot_row(k) + each.bow)
        for k, each in enumerate(needs, start=1)
    )


def _rooms(
    pockets: Sequence[str], sizes: StepSizes, needs: Sequence[_Needs], foot: tuple[float, float]
) -> Iterator[DraftedRoom]:
    """Each pocket stands over the one behind it by what it holds; the first one over the base. An item alone
    is in each of several."""
    left, right, middle = sizes.inset, sizes.width - sizes.inset, sizes.width / 2
    own = [*needs] * (sizes.steps if len(needs) == 1 else 1)
    for k, cover in enumerate(pockets, start=1):
        held = own[k - 1 : k]
        row, mouth = sizes.foot_row(k) - sizes.foot(k), sizes.height(k)
        over = draped([(section_of(each.item), middle) for each in held], left, right)
        low = max(row + SAME_POINT, *(row + each.bow for each in held)) if held else mouth
        flat = tuple((x, 0.0) for x, _ in over)
        places = [item_outline(each.item, middle=middle, foot=row + each.bow) for each in held]
        base, down = (pockets[k - 2], sizes.foot(k - 1)) if k > 1 else ("", 0.0)
        yield DraftedRoom(
            cover,
            _place(sizes, k, foot),
            tuple(held_item(each.item, place.path, mouth) for each, place in zip(held, places, strict=True)),
            (RoomProfile(row, flat), RoomProfile(low, over), RoomProfile(mouth, over)),
            base,
            Affine.shift(0.0, sizes.foot(k) - down),
        )


def _place(sizes: StepSizes, k: int, foot: tuple[float, float]) -> Path:
    """Of pocket k, in its own frame."""
    if k == sizes.steps:
        return pocket_place(sizes.width, sizes.height(k), foot)
    return polyline(sizes.outline(k), closed=True)


def _fits(part: Part, needs: Sequence[_Needs], sizes: StepSizes, material: Material) -> Iterator[ItemFit]:
    """Each item's room; a narrower one may have as much more as the widest is wider."""
    given, stated = sizes.width - 2 * sizes.inset, "width" if part.length("width") else ""
    widest = max(each.across for each in needs)
    for each in needs:
        ease = ease_for(part, material, each.item.width, each.item.uncertainty)
        room = (each.across, given, ease.least, ease.most + widest - each.across)
        where = "between the rows of stitches"
        yield ItemFit((each.item.name,), part.name, "width", *room, stated, where=where)


def _faults(part: Part, needs: Sequence[_Needs], sizes: StepSizes, limits: _Limits) -> Iterator[Finding]:
    """What can't be drafted, the first cause first."""
    count = len(needs)
    if sizes.steps < count:
        yield finding("steps-too-few", part.source.at("steps"), steps=sizes.steps, count=count)
    if part.word("beside") != "none" and not part.names("seams"):
        yield finding("beside-without-seams", part.source.at("beside"), side=part.word("beside"))
    yield from _reveal_faults(part, needs, sizes, limits)
    least = max(limits.feet, max(each.item.width for each in needs) + 2 * sizes.inset)
    if sizes.width < least - SAME_POINT:
        wanted = max(limits.feet, limits.wanted + 2 * sizes.inset)
        where = part.source.at("width")
        yield finding("part-too-narrow/steps", where, width=sizes.width, least=least, wanted=wanted)
    above = sizes.foot(sizes.steps - 1) if sizes.steps > 1 else sizes.mouth(1)  # the next pocket's edge
    most = min(sizes.width / 2, above)
    if limits.radius > most + SAME_POINT:
        radii = part.source.units.text(limits.radius)
        yield finding("part-too-round", part.source.at("round"), radii=radii, most=most)


def _reveal_faults(
    part: Part, needs: Sequence[_Needs], sizes: StepSizes, limits: _Limits
) -> Iterator[Finding]:
    """A step too small for the feet, or too large for the longest item."""
    where, told = part.source.at("reveal"), {"reveal": sizes.reveal}
    least, most = limits.least_reveal(sizes.steps), limits.most_reveal(tees=False)
    with_tees = limits.most_reveal(tees=True)
    if least > most + SAME_POINT:
        longest = max(needs, key=lambda each: each.item.length).item
        need = longest.length + least - most
        yield finding("item-too-short", longest.source.at(), length=longest.length, least=need)
    elif sizes.reveal < least - SAME_POINT:
        yield finding("steps-too-near", where, **told, least=least)
    elif sizes.reveal > most + SAME_POINT:
        yield finding("part-too-low/reveal", where, **told, most=most)
    elif sizes.tees and sizes.reveal > with_tees + SAME_POINT:
        key = "tees-too-low" if with_tees >= least else "tees-too-low/none"
        yield finding(key, part.source.at("tees"), **told, most=with_tees)


def _findings(part: Part, needs: Sequence[_Needs], sizes: StepSizes) -> Iterator[Finding]:
    """What such pockets are not for."""
    for k, each in enumerate(needs, start=1):
        item, where = each.item, each.item.source.at()
        shows = sizes.foot_row(k) + each.bow + item.length - sizes.mouth(k)
        if item.thickness > THICKEST:
            thick = item.thickness
            yield finding("item-too-thick/steps", where, thickness=thick, part=part.name, most=THICKEST)
        if shows < 0:
            yield finding("item-sinks", where, below=-shows, part=part.name)
        else:
            yield from standing_out(part, item, item.length - shows)
