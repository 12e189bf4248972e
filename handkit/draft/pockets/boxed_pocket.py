"""Boxed pocket: a front, and a gusset strip that stands between it and the base.

In: a part, its items from left to right, its context. Out: front and gusset, the U on the base, the
points where the three must meet, and where the items lie. Lengths are those of `box_sizes.py`.

The front's stitch line and the base's are the same U. A plain gusset is stitched along its straight
edges, as long as the U; the middle of the foot is a hole on all three: the centre mark. A turned
gusset's flanges lie behind the front and on the base; they have too much round the corners, so the
corners' ends are fixed too (see `box_fixings.py`), and the flanges are notched between the stitches
there.

The part's `at` is the lower left corner of the front's place. The base's corners are followed by
straight lines that leave them by no more than `SAGITTA`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import floor, pi, tan

import msgspec

from handkit.draft.parts.drafted import DraftedPart, DraftedPiece, DraftedSeam, PartContext, Standing
from handkit.draft.parts.item_fit import ease_for, standing_out
from handkit.draft.parts.outlines import item_outlines, rectangle_corners
from handkit.draft.parts.rooms import pocket_place
from handkit.draft.pattern import FacesMet, ItemFit, PieceMark, RoomProfile
from handkit.draft.pockets.box_fixings import fixings
from handkit.draft.pockets.box_marks import meet_on_foot, meets_on_gusset, notch_count, notch_width, notches
from handkit.draft.sizes.box_sizes import BoxSizes, corner_rise
from handkit.findings import Finding, finding
from handkit.geometry.path import Path, polyline
from handkit.geometry.segment import Segment
from handkit.kinds.materials import Material
from handkit.read.project import (
    FoldLine,
    InnerLine,
    Item,
    MatchPoint,
    Part,
    Piece,
    Spacing,
    Stitching,
)
from handkit.tolerances import SAGITTA, SAME_POINT


def draft_boxed_pocket(part: Part, items: tuple[Item, ...], context: PartContext) -> DraftedPart:
    """Front, gusset and base line; a box too sharp, too narrow, too low or too thin is refused."""
    front, gusset = context.pieces[f"{part.name} front"], context.pieces[f"{part.name} gusset"]
    inset, apart = context.shared_inset(f"{part.name}, front", f"{part.name}, base")
    stitching = context.seams[f"{part.name}, front"].stitching
    box = _box(part, items, gusset, inset)
    items = tuple(item.going_in(box.height - box.wall) for item in items)
    box = _box(part, items, gusset, inset)
    faults = (*apart, *_faults(part, box, front, stitching.pitch))
    if faults:
        return DraftedPart(findings=faults)
    foot = _foot(box, items)
    outline = rectangle_corners(box.width, box.height, foot=box.radius, mouth=0.0)
    return DraftedPart(
        pieces=(DraftedPiece(front.name, outline), _strip(part, gusset, box, stitching)),
        base_lines=(InnerLine(part.name, stitch_u(box).flattened(sagitta=SAGITTA)),),
        seams=_seams(part, box, stitching, _faces(part, context, turned=box.turned)),
        items=item_outlines(items, width=box.width, foot=foot),
        marks=_marks(part, box, stitching),
        fits=tuple(_fits(part, items, box, gusset.material)),
        standing=_standing(front.name, gusset.name, box),
        findings=tuple(told for item in items for told in standing_out(part, item, box.height - foot)),
    )


def _standing(cover: str, strip: str, box: BoxSizes) -> Standing:
    """The front flat over the base, as high as the strip holds it, from wall to wall."""
    left, right = box.wall, box.width - box.wall
    inside = ((left, 0.0), (left, box.depth), (right, box.depth), (right, 0.0))
    place = pocket_place(box.width, box.height, (box.radius, box.radius))
    profiles = (RoomProfile(box.wall, inside), RoomProfile(box.height, inside))
    return Standing(cover, place, profiles, (strip, polyline(box.strip_section, closed=True)))


def _box(part: Part, items: Sequence[Item], gusset: Piece, inset: float) -> BoxSizes:
    """The box as stated, or as its items need."""
    turned = part.word("gusset") == "turned"
    thickness = gusset.thickness
    depth = max(item.thickness + ease_for(part, gusset.material, item.thickness).wanted for item in items)
    blank = BoxSizes(0.0, 0.0, 0.0, inset, depth + (2 * thickness if turned else 0.0), thickness, turned)
    inside = sum(
        item.width + ease_for(part, gusset.material, item.width, item.uncertainty).wanted for item in items
    )
    width = part.length("width") or inside + 2 * blank.wall
    radius = part.length("round") or blank.least_radius
    box = msgspec.structs.replace(
        blank, width=width, radius=radius, depth=part.length("depth") or blank.depth
    )
    longest = max(item.length for item in items)
    height = part.length("height") or _foot(box, items) + longest - part.size("shows")
    return msgspec.structs.replace(box, height=height)


def _foot(box: BoxSizes, items: Sequence[Item]) -> float:
    """Where the items stand: on the foot's wall, or in the rounded corners a little higher."""
    width, _, radius = box.inside
    beside = (width - sum(item.width for item in items)) / (len(items) + 1)
    return box.wall + (corner_rise(radius, max(beside, 0.0)) if radius > beside else 0.0)


def stitch_u(box: BoxSizes) -> Path:
    """The stitch line of front and base: from the left end of the mouth round the foot to the right."""
    left, right, low, high = box.inset, box.width - box.inset, box.inset, box.height - box.inset
    r, quarter = box.stitch_radius, tan(pi / 8)
    return Path(
        (
            Segment((left, high), (left, low + r)),
            Segment((left, low + r), (left + r, low), quarter),
            *([Segment((left + r, low), (right - r, low))] if right - left > 2 * r + SAME_POINT else []),
            Segment((right - r, low), (right, low + r), quarter),
            Segment((right, low + r), (right, high)),
        )
    )


def _strip(part: Part, gusset: Piece, box: BoxSizes, stitching: Stitching) -> DraftedPiece:
    """The gusset, its grain along it; of a turned one where its flanges are turned over, and what the
    maker cuts from them at each corner."""
    corners = rectangle_corners(box.gusset_length, box.gusset_width, foot=0.0, mouth=0.0)
    if not box.turned:
        return DraftedPiece(gusset.name, corners, grain_degrees=0.0)
    heights = {"front": box.fold_at, "base": box.gusset_width - box.fold_at}
    folds = tuple(
        FoldLine(f"{part.name} {side} flange", ((0.0, y), (box.gusset_length, y)))
        for side, y in heights.items()
    )
    count, each = notch_count(box, stitching), part.source.units.text(notch_width(box, stitching))
    note = f"notch both flanges at both corners between the stitches: {count} of {each} at the edge"
    return DraftedPiece(gusset.name, corners, folds=folds, note=note, grain_degrees=0.0)


def _marks(part: Part, box: BoxSizes, stitching: Stitching) -> tuple[tuple[str, PieceMark], ...]:
    """Where the three middles meet; notches, where even spacing says where the holes are."""
    front, gusset = f"{part.name} front", f"{part.name} gusset"
    cuts = notches(box, stitching) if stitching.spacing is Spacing.EVEN else ()
    return (
        (front, meet_on_foot(box)),
        (part.on or "", meet_on_foot(box)),
        *((gusset, mark) for mark in (*meets_on_gusset(box), *cuts)),
    )


def _faces(part: Part, context: PartContext, *, turned: bool) -> tuple[FacesMet | None, FacesMet | None]:
    """Which sides meet along the front and along the base: see the pictures in `box_sizes.py`.

    The side of the strip that shows is its outside. A plain strip's edges are bent outwards, so that its
    inside comes to lie on the others; a turned one's are bent inwards, and so its outside does.
    """
    front, gusset = context.pieces[f"{part.name} front"], context.pieces[f"{part.name} gusset"]
    strip = gusset.shows if turned else gusset.shows.other
    above = FacesMet(front.name, front.shows.other, gusset.name, strip)
    if context.base is None:
        return above, None
    up = context.base.shows.other if part.flag("behind") else context.base.shows
    return above, FacesMet(gusset.name, strip, context.base.name, up)


def _seams(
    part: Part, box: BoxSizes, stitching: Stitching, faces: tuple[FacesMet | None, FacesMet | None]
) -> tuple[DraftedSeam, ...]:
    """The places that must meet: on front and base the same, on the gusset at its two edges."""
    low, high = box.inset, box.gusset_width - box.inset
    pairs = fixings(box, stitching)
    front = tuple(MatchPoint((at, (x, low))) for x, at in pairs)
    base = tuple(MatchPoint((at, (x, high))) for x, at in pairs)
    return (
        DraftedSeam(f"{part.name}, front", front, faces=faces[0]),
        DraftedSeam(f"{part.name}, base", base, faces=faces[1]),
    )


def _fits(part: Part, items: Sequence[Item], box: BoxSizes, material: Material) -> Iterator[ItemFit]:
    """Each item's room in width; in thickness that of the thickest."""
    over = (box.inside[0] - sum(item.width for item in items)) / len(items)
    thickest = max(items, key=lambda item: item.thickness)
    told = [(item, "width", item.width, item.width + over, "width") for item in items]
    told.append((thickest, "thickness", thickest.thickness, box.clear, "depth"))
    for item, measure, needed, given, key in told:
        ease = ease_for(part, material, needed, item.uncertainty if measure == "width" else 0.0)
        stated = key if part.length(key) else ""
        between = "from wall to wall, inside" if measure == "width" else "from base to front, inside"
        room = (needed, given, ease.least, ease.most)
        yield ItemFit((item.name,), part.name, measure, *room, stated, where=between)


def _too_round(part: Part, box: BoxSizes) -> Finding:
    """Corners that are stated, and have no room beside one another."""
    most = floor(box.width / 2 * 10) / 10
    return finding(
        "box-too-small/round",
        part.source.at("round"),
        radius=box.radius,
        width=box.width,
        most=most,
        least=2 * box.radius,
    )


def _faults(part: Part, box: BoxSizes, front: Piece, pitch: float) -> Iterator[Finding]:
    """What can't be drafted: each with the least that can."""
    least = (
        ("round", "radius", box.radius, box.least_radius),
        ("width", "width", box.width, 2 * box.radius),
        (
            "height" if part.length("height") else "shows",
            "height",
            box.height,
            box.radius + box.inset + pitch,
        ),
        ("depth", "depth", box.depth, (4 if box.turned else 2) * box.thickness),
    )
    for key, called, found, allowed in least:
        if found < allowed - SAME_POINT:
            if key == "width" and part.length("round") and box.least_radius <= found / 2:
                yield _too_round(part, box)
                continue
            code = "box-too-small/shows" if key == "shows" else "box-too-small"
            yield finding(code, part.source.at(key), measure=called, found=found, least=allowed)
    if box.turned and box.inset < box.thickness - SAME_POINT:
        where = part.source.at("gusset")
        yield finding("flange-too-narrow", where, inset=box.inset, least=box.thickness)
    if "round" in front.stated and any(corner.radius != box.radius for corner in front.corners[:2]):
        yield finding("box-rounded-apart", front.source.at("round"), radius=box.radius)
