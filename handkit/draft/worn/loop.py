"""Loop: a strip that goes round a belt, on what is worn.

In: the part and its context. Out: the strip, its rows and those of its base. It holds no item.

    upright                         slung
     ┌────┐                          ╭────╮ fold      One strip goes over the edge of its base, which lies
     │·  ·│ P high                   │    │           between both its ends; the belt lies over that edge,
     │    │  the belt goes under     │    │           in the fold.
     │·  ·│ P low                ────│····│──── edge
     └────┘                          │·  ·│ P
                                     └────┘

The part's `at` is the lower left corner of the strip's place; see `sizes/belt_ways.py` for the lengths.
"""

from __future__ import annotations

from collections.abc import Iterator

from handkit.draft.fit.part_place import body_of, frame_of
from handkit.draft.parts.drafted import (
    DraftedOpening,
    DraftedPart,
    DraftedPiece,
    PartContext,
    Standing,
)
from handkit.draft.parts.item_fit import ease_for
from handkit.draft.parts.outlines import rectangle_corners
from handkit.draft.parts.rooms import draped, pocket_place
from handkit.draft.pattern import RoomProfile
from handkit.draft.sizes.belt_ways import belt_section, slung_half, upright_span, upright_way
from handkit.draft.sizes.fold_length import fold_allowance
from handkit.draft.sizes.section import Section
from handkit.draft.worn.end_rows import mirrored_up, u_depth, u_row
from handkit.findings import Finding, finding
from handkit.geometry.affine import Point
from handkit.geometry.path import polyline
from handkit.geometry.region import region_of
from handkit.kinds.openings import Clearance
from handkit.read.project import FoldLine, InnerLine, Item, Part, Piece, Stitching
from handkit.tolerances import SAME_POINT


def draft_loop(part: Part, items: tuple[Item, ...], context: PartContext) -> DraftedPart:
    """The loop for its belt; a part that holds nothing: `items` is empty."""
    piece = context.pieces[part.name]
    wide, thick = part.size("belt"), part.size("belt_thickness")
    belt = belt_section(wide, thick, ease_for(part, piece.material, wide).wanted)
    if part.word("hang") == "slung":
        return _slung(part, piece, belt, context)
    if part.word("fixing") == "rivets":
        return _riveted(part, piece, belt, context.openings[f"{part.name} rivets"].clearance)
    return _stitched(part, piece, belt, context)


def _stitched(part: Part, piece: Piece, belt: Section, context: PartContext) -> DraftedPart:
    """A U of stitches at either end, open towards the belt."""
    inset, apart = context.shared_inset(*(f"{part.name}, {end}" for end in ("low", "high")))
    stitching = context.seams[f"{part.name}, low"].stitching
    wide, radius, depth = part.size("strap"), part.size("round"), u_depth(part.size("strap"), stitching)
    faults = (*apart, *_strip_faults(part, stitching, depth, context))
    if faults:
        return DraftedPart(findings=faults)
    row, end = u_row(wide, inset, depth, radius), inset + depth
    span, way = upright_span(belt, piece.thickness), upright_way(belt, piece.thickness)
    names = (f"{part.name} low", f"{part.name} high")

    def lines(length: float) -> tuple[InnerLine, ...]:
        return tuple(map(InnerLine, names, (row, mirrored_up(row, length))))

    return DraftedPart(
        pieces=(_strip(part, piece.name, 2 * end + way, lines(2 * end + way)),),
        base_lines=lines(2 * end + span),
        standing=_standing(piece.name, belt, wide, end, span),
    )


def _riveted(part: Part, piece: Piece, belt: Section, needs: Clearance) -> DraftedPart:
    """Two rivets in line at either end; the belt keeps off their caps."""
    wide, faults = part.size("strap"), tuple(_rivet_faults(part, needs))
    if faults:
        return DraftedPart(findings=faults)
    cap = part.size("rivet_cap") / 2
    end = needs.edge + needs.apart + cap
    span, way = upright_span(belt, piece.thickness), upright_way(belt, piece.thickness)

    def places(length: float) -> tuple[Point, ...]:
        low = tuple((wide / 2, y) for y in (needs.edge, needs.edge + needs.apart))
        return (*low, *((x, length - y) for x, y in low))

    on_both = ((piece.name, places(2 * end + way)), (part.on or "", places(2 * end + span)))
    return DraftedPart(
        pieces=(_strip(part, piece.name, 2 * end + way, ()),),
        openings=(DraftedOpening(f"{part.name} rivets", on_both),),
        standing=_standing(piece.name, belt, wide, end, span),
    )


def _strip(
    part: Part, name: str, length: float, lines: tuple[InnerLine, ...], folds: tuple[FoldLine, ...] = ()
) -> DraftedPiece:
    radius = part.size("round")
    corners = rectangle_corners(part.size("strap"), length, foot=radius, mouth=radius)
    return DraftedPiece(name, corners, lines=lines, folds=folds, note=_note(part))


def _note(part: Part) -> str:
    text = part.source.units.text
    return f"for a belt of up to {text(part.size('belt'))} × {text(part.size('belt_thickness'))}"


def _standing(strip: str, belt: Section, wide: float, end: float, span: float) -> Standing:
    """The strip tight over the belt, down on the base at both ends."""
    middle = end + span / 2
    over = draped([(belt, middle)], end, end + span)
    profiles = (RoomProfile(y, ((0.0, z), (wide, z))) for y, z in ((0.0, 0.0), *over, (2 * end + span, 0.0)))
    return Standing(strip, pocket_place(wide, 2 * end + span), tuple(profiles))


def _slung(part: Part, piece: Piece, belt: Section, context: PartContext) -> DraftedPart:
    """One strip over the edge of its base; both its ends are sewn or riveted through it as one."""
    riveted = part.word("fixing") == "rivets"
    base, wide = context.base, part.size("strap")
    if riveted:
        needs = context.openings[f"{part.name} rivets"].clearance
        low, end, told = needs.edge, needs.edge + needs.apart, _rivet_faults(part, needs)
        beyond = part.size("rivet_cap") / 2
    else:
        stitching = context.seams[part.name].stitching
        depth = u_depth(wide, stitching)
        low, end, told = (
            stitching.inset,
            stitching.inset + depth,
            _strip_faults(part, stitching, depth, context),
        )
        beyond = stitching.inset
    faults = tuple(told)
    if base is None or faults:
        return DraftedPart(findings=faults)
    rise, radius = max(_edge_over(part, base) - end, beyond), max(belt.height, base.thickness) / 2
    half = slung_half(belt, hung=base.thickness, rise=rise, leather=piece.thickness)
    half = max(half, fold_allowance(180, radius, piece.thickness) / 2)
    fold = end + half
    folds = (FoldLine(part.name, ((0.0, fold), (wide, fold)), angle_degrees=180.0, radius=radius),)
    if riveted:
        places = ((wide / 2, low), (wide / 2, end))
        rivets = DraftedOpening(f"{part.name} rivets", ((piece.name, places),))
        strip = _strip(part, piece.name, 2 * fold, (), folds)
        sides = [wide / 2 + side * low for side in (-1, 1)]
        room = tuple((x, y) for x in sides for y in (0.0, end + low))
        return DraftedPart(pieces=(strip,), openings=(rivets,), held=room)
    line = InnerLine(part.name, u_row(wide, low, end - low, part.size("round")))
    strip = _strip(part, piece.name, 2 * fold, (line,), folds)
    return DraftedPart(pieces=(strip,), held=line.points)


def _edge_over(part: Part, base: Piece | None) -> float:
    """How far up in the part's frame its base reaches under the strip; 0 where it lies beside it."""
    body = body_of(base) if base is not None else None
    if body is None:
        return 0.0
    wide, (left, low, right, high) = part.size("strap"), body.bounds()
    far = right - left + high - low + max(map(abs, (*part.at, left, low, right, high)))
    column = region_of(polyline(((0.0, -far), (wide, -far), (wide, far), (0.0, far)), closed=True))
    common = body.moved(frame_of(part).inverse()).common(column)
    return 0.0 if common.empty else common.bounds()[3]


def _rivet_faults(part: Part, needs: Clearance) -> Iterator[Finding]:
    """The strip must have room for its rivets, and for its round corners."""
    wide, least = part.size("strap"), 2 * max(needs.edge, part.size("round"))
    if wide < least - SAME_POINT:
        yield finding("strap-too-narrow/rivets", part.source.at("strap"), strap=wide, least=least)


def _strip_faults(part: Part, stitching: Stitching, depth: float, context: PartContext) -> Iterator[Finding]:
    """The strip must have room for a stitch across it, and for its round corners."""
    wide, radius, inset = part.size("strap"), part.size("round"), stitching.inset
    least = 2 * inset + stitching.pitch
    if wide < least - SAME_POINT:
        fault = finding("strap-too-narrow", part.source.at("strap"), strap=wide, least=least)
        yield fault.once(*context.pitches(part))
        return
    most = min(wide / 2, inset + depth)
    if radius > most + SAME_POINT:
        yield finding("part-too-round/strap", part.source.at("round"), radius=radius, most=most)
