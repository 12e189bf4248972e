"""Bag: front and back, a gusset between them in one strip or as two sides and a base.

In: the part, its items side by side, its context. Out: the pieces, the places that must meet, where the items
lie on the back, which is drawn as seen from the front, into the bag. Lengths are those of `box_sizes.py` and
`bag_sizes.py`; the gusset's edges are bent outwards.

    one strip round three sides        two sides and a base: each corner is one hole of three seams
      D ─────────── C                    D ─────────── C
      │             │                    │             │
      ╰─────────────╯                    └─────────────┘

A zip goes along the mouth between front and back. The gusset's seams begin in the end holes of its rows, and
hold the ends of its tapes. What is not stated is as large as the items need, and as its own rows need;
things end below what leans in under a closed zip.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import msgspec

from handkit.draft.cases.bag_fastening import (
    CLOSING_KEYS,
    fastening_faults,
    with_closing,
    with_fastening,
    with_fitting_strap,
    with_room,
)
from handkit.draft.cases.bag_mouth import (
    flap_folds,
    flap_of,
    flap_pieces,
    handle_lines,
    handle_pieces,
    handles_of,
    least_for_handles,
    least_for_zip,
    zip_length,
    zip_seam_names,
)
from handkit.draft.cases.bag_walls import (
    strip_names,
    wall_marks,
    wall_pieces,
    wall_seam_names,
    wall_seams,
)
from handkit.draft.cases.panels import bag_panels
from handkit.draft.parts.drafted import DraftedPart, DraftedPiece, PartContext, Standing
from handkit.draft.parts.idle import idle_keys
from handkit.draft.parts.item_fit import ease_for
from handkit.draft.parts.outlines import item_outlines, rectangle_corners
from handkit.draft.parts.rooms import pocket_place
from handkit.draft.pattern import ItemFit, RoomProfile
from handkit.draft.sizes.bag_sizes import BagSizes, leaning, least_to_turn
from handkit.draft.sizes.box_sizes import BoxSizes, corner_rise
from handkit.draft.sizes.fold_length import fold_allowance
from handkit.findings import Finding, finding
from handkit.geometry.box import Box
from handkit.geometry.path import polyline
from handkit.kinds.materials import Material
from handkit.read.project import Item, Part, Piece, Stitching
from handkit.tolerances import SAME_POINT


def draft_bag(part: Part, items: tuple[Item, ...], context: PartContext) -> DraftedPart:
    """All of the bag; one that its stated sizes leave no room for is refused."""
    strip = context.pieces[strip_names(part)[-1]]
    names = wall_seam_names(part)
    _, apart = context.shared_inset(
        *names, *(zip_seam_names(part) if part.length("allowance") is None else ())
    )
    sizes = _sizes(part, items, context, (strip, context.seams[names[0]].stitching))
    part = with_fitting_strap(part, context, sizes)
    sizes = with_fastening(with_room(sizes, part, context), part, context)
    told = (*_faults(part, sizes, context.seams[names[0]].stitching), *fastening_faults(part, context, sizes))
    faults = apart[:1] or told[:1]
    if faults:
        return DraftedPart(findings=faults)
    turned = tuple(_turned_through(part, sizes, strip))
    outlines = item_outlines(items, width=sizes.box.width, foot=_foot(sizes.box, items))
    given = DraftedPart(
        pieces=(
            *_panels(part, context, sizes),
            *wall_pieces(part, sizes),
            *handle_pieces(part, sizes),
            *flap_pieces(part, sizes),
        ),
        seams=wall_seams(part, sizes, context),
        fittings=zip_length(part, sizes),
        items=outlines,
        items_on=(f"{part.name} back",),
        marks=wall_marks(part, sizes),
        fits=tuple(_fits(part, items, sizes, strip.material)),
        standing=_standing(part, sizes),
        findings=turned,
    )
    whole = with_closing(given, part, context, sizes)
    things = [(Box(*each.path.bounds()), item.thickness) for each, item in zip(outlines, items, strict=True)]
    return msgspec.structs.replace(whole, panels=tuple(bag_panels(part, sizes, things, whole, context)))


def _sizes(part: Part, items: Sequence[Item], context: PartContext, on: tuple[Piece, Stitching]) -> BagSizes:
    """As stated, or as the items and the bag's own rows need."""
    strip, stitching = on
    inset, pitch, strips = stitching.inset, stitching.pitch, 1 if part.word("strips") == "one" else 3
    rows, allowance = _rows_inset(part, context, inset), part.length("allowance")
    deepest = max(_needs(part, item.thickness, strip.material) for item in items)
    least_depth = _least_depth(part, strip.thickness, rows, pitch)
    depth = part.length("depth") or max(deepest, least_depth)
    blank = BoxSizes(0.0, 0.0, 0.0, inset, depth, strip.thickness)
    least = blank.least_radius if allowance is None else ROUND_ALLOWANCE * allowance
    radius = (part.length("round") or least) if strips == 1 else inset
    box = msgspec.structs.replace(blank, radius=radius)
    handles = handles_of(part, rows, pitch)
    wide, high = least_for_handles(handles, box, rows) if handles else (0.0, 0.0)
    inside = sum(_needs(part, item.width, strip.material, item.uncertainty) for item in items)
    width = part.length("width") or max(inside + 2 * box.wall, _least_width(part, box, rows, pitch), wide)
    box = msgspec.structs.replace(box, width=width)
    leans = leaning(depth) if part.word("closed_by") == "zip" else 0.0
    longest = max(_needs(part, item.length, strip.material, item.uncertainty) for item in items)
    needed = _foot(box, items) + longest + _rows_at_mouth(part, rows, leans)
    under = 0.0 if allowance is None else pitch
    height = part.length("height") or max(needed, _least_height(box, pitch, under), high)
    box = msgspec.structs.replace(box, height=height)
    if handles is not None:
        handles = msgspec.structs.replace(handles, apart=width / 2)
    return BagSizes(box, strips, handles, flap_of(part, context, box), rows, under, leans)


# Of a bag that is sewn inside out: its corners' radius, in allowances, which are clipped round them; less
# than one is refused (common practice, no source).
ROUND_ALLOWANCE = 2.0


def _rows_inset(part: Part, context: PartContext, inset: float) -> float:
    """That of its own rows on its pieces, of a zip, a hem or a handle; else of the seams along its gusset."""
    own = (seam for seam in context.seams.values() if seam.part == part.name)
    rows = [seam for seam in own if seam.name not in wall_seam_names(part)]
    return rows[0].stitching.inset if rows else inset


def _needs(part: Part, size: float, material: Material, uncertainty: float = 0.0) -> float:
    return size + ease_for(part, material, size, uncertainty).wanted


def _rows_at_mouth(part: Part, inset: float, leans: float) -> float:
    """What a hem, a zip's rows and what leans in under it take of the height: things end under them."""
    return max(part.size("hem"), leans, inset if part.word("closed_by") == "zip" else 0.0)


def _least_width(part: Part, box: BoxSizes, rows: float, pitch: float) -> float:
    return max(2 * (box.radius + pitch), least_for_zip(part, box, rows))


def _least_height(box: BoxSizes, pitch: float, under: float) -> float:
    """A stitch between the foot's corner and where the walls' rows end under the mouth."""
    return box.radius + box.inset + pitch + under


def _least_depth(part: Part, thickness: float, rows: float, pitch: float) -> float:
    """Both edges of a strip are bent; a stitch goes across it where strips are joined, on its middle, and
    where its end has a hem: of one that is sewn inside out that stays clear of its edges."""
    hemmed = 0.0 if part.length("hem") is None or part.length("allowance") is None else 2 * rows
    return max(2 * thickness, 2 * thickness - 2 * fold_allowance(90, 0, thickness) + hemmed + pitch)


def _foot(box: BoxSizes, items: Sequence[Item]) -> float:
    """Where the items stand: on the foot's wall, or in rounded corners a little higher."""
    width, _, radius = box.inside
    beside = (width - sum(item.width for item in items)) / (len(items) + 1)
    return box.wall + (corner_rise(radius, max(beside, 0.0)) if radius > beside else 0.0)


def _panels(part: Part, context: PartContext, sizes: BagSizes) -> tuple[DraftedPiece, ...]:
    """Back and front; the back goes on as the flap, its outside the side that does not show."""
    box, flap, back = sizes.box, sizes.flap, context.pieces[f"{part.name} back"]
    goes_on = flap is not None and flap.piece == back.name
    high = flap.end if flap is not None and goes_on else box.height
    outlines = (
        rectangle_corners(box.width, each, foot=sizes.corner, mouth=0.0) for each in (high, box.height)
    )
    folds = (flap_folds(sizes, back.shows.other) if goes_on else (), ())
    return tuple(
        DraftedPiece(f"{part.name} {panel}", outline, lines=handle_lines(part, sizes, panel), folds=bends)
        for panel, outline, bends in zip(("back", "front"), outlines, folds, strict=True)
    )


def _standing(part: Part, sizes: BagSizes) -> Standing:
    """The front over the back, as high as the strips hold it, from wall to wall."""
    box, back = sizes.box, f"{part.name} back"
    left, right = box.wall, box.width - box.wall
    inside = ((left, 0.0), (left, box.depth), (right, box.depth), (right, 0.0))
    place = pocket_place(box.width, box.height, (sizes.corner, sizes.corner))
    profiles = (RoomProfile(box.wall, inside), RoomProfile(box.height, inside))
    wall = (strip_names(part)[-1], polyline(box.strip_section, closed=True))
    return Standing(f"{part.name} front", place, profiles, wall, back)


def _fits(part: Part, items: Sequence[Item], sizes: BagSizes, material: Material) -> Iterator[ItemFit]:
    """Each item's room in width; in thickness and length that of the largest. A bag is never too large."""
    box = sizes.box
    over = (box.inside[0] - sum(item.width for item in items)) / len(items)
    thickest = max(items, key=lambda item: item.thickness)
    longest = max(items, key=lambda item: item.length)
    high = box.height - _foot(box, items) - _rows_at_mouth(part, sizes.inset, sizes.leans)
    told = [(item, "width", item.width, item.width + over, "from side to side") for item in items]
    told.append((thickest, "thickness", thickest.thickness, box.depth, "from back to front"))
    told.append(
        (
            longest,
            "length",
            longest.length,
            high,
            "from the foot to the mouth, its hem or what leans in under its zip",
        )
    )
    keys = {"width": "width", "thickness": "depth", "length": "height"}
    for item, measure, needed, given, where in told:
        unsure = item.uncertainty if measure != "thickness" else 0.0
        ease, key = ease_for(part, material, needed, unsure), keys[measure]
        room = (needed, given, ease.least, max(ease.most, given - needed))
        stated = key if part.length(key) else ""
        yield ItemFit((item.name,), part.name, measure, *room, stated, where=f"{where}, inside")


def _faults(part: Part, sizes: BagSizes, stitching: Stitching) -> Iterator[Finding]:
    """What can't be drafted: each with the least that can."""
    box, pitch = sizes.box, stitching.pitch
    radius = part.length("allowance") or box.least_radius
    least = (
        ("round", "radius", box.radius, radius if sizes.strips == 1 else 0.0),
        ("width", "width", box.width, _least_width(part, box, sizes.inset, pitch)),
        ("height", "height", box.height, _least_height(box, pitch, sizes.under)),
        ("depth", "depth", box.depth, _least_depth(part, box.thickness, sizes.inset, pitch)),
    )
    yield from _idle(part)
    for key, called, found, allowed in least:
        if found < allowed - SAME_POINT:
            yield finding("box-too-small", part.source.at(key), measure=called, found=found, least=allowed)
    if sizes.flap and not sizes.flap.radius <= sizes.flap.down <= box.height:
        where, told = part.source.at("flap"), {"flap": sizes.flap.down, "least": sizes.flap.radius}
        yield finding("flap-too-long", where, **told, most=box.height)
    if sizes.handles is not None:
        yield from _handle_faults(part, sizes, stitching)


def _turned_through(part: Part, sizes: BagSizes, strip: Piece) -> Iterator[Finding]:
    """A mouth that what is sewn inside out does not go through."""
    allowance, box = part.length("allowance"), sizes.box
    if allowance is None:
        return
    least, mouth = least_to_turn(box.thickness, allowance), 2 * (box.width + box.depth)
    if mouth < least - SAME_POINT:
        told = {"mouth": mouth, "least": least, "thickness": box.thickness, "material": strip.material}
        yield finding("bag-turned-through", part.source.at("allowance"), **told, allowance=allowance)


def _idle(part: Part) -> Iterator[Finding]:
    """Keys that mean nothing beside others."""
    yield from idle_keys(part, "strips", {"round": ("one",)})
    if part.source.says("strap") and part.length("drop") is None and part.word("closed_by") != "strap":
        yield finding("bag-strap-alone", part.source.at("strap"))
    yield from idle_keys(part, "closed_by", CLOSING_KEYS)


def _handle_faults(part: Part, sizes: BagSizes, stitching: Stitching) -> Iterator[Finding]:
    """Handles that a flap would close over, that are too narrow for their rows, or too wide for the front."""
    box, handles, where = sizes.box, sizes.handles, part.source.at("strap")
    assert handles is not None
    if sizes.flap is not None:
        yield finding("handles-with-flap", part.source.at("drop"))
    narrow = 2 * sizes.inset + stitching.pitch
    if handles.width < narrow - SAME_POINT:
        yield finding("strap-too-narrow", where, strap=handles.width, least=narrow)
    wide, high = least_for_handles(handles, box, sizes.inset)
    if box.width < wide - SAME_POINT or box.height < high - SAME_POINT:
        keys = "width" if box.width < wide - SAME_POINT else "height"
        told = {"strap": handles.width, "wide": box.width, "high": box.height}
        told |= {"least_wide": wide, "least_high": high}
        yield finding("handles-without-room", part.source.at(keys), **told)
