"""Sheath: one piece folded round a blade's back, with a welt between its edge and the thread.

In: a part, its blade, its context. Out: the piece with both leaves, the welt, what the back leaf goes on
above the mouth for, and where the blade lies.

         ┌──┐                 The back leaf, on the left, lies on the base, grain side towards it; the other
         │  │ goes on         one is folded over it. Above the mouth the back leaf goes on: to be sewn to the
     ┌───┘  └─┬────────┐      base, or folded to a loop for a belt; there, too, a strap closes round the
     │        ┊ ▕    ▒▒│      handle. No thread and no metal stands bare where the blade slides.
     │        ┊ ▕   ▒▒▒│
      ╲       ┊ ▕  ▒▒▒╱       ┊ the fold  ▕ the blade's back, half a fold beside it  ▒ the welt
       └──────┴──▒▒▒▒┘

From the fold to the blade's back there is half of what the fold takes round a spine as thick as the welt,
which is as thick as the blade at least; then the blade, its ease, the welt (see `sizes/blade.py`). The part's
frame has its origin at the foot of the fold, the blade's edge to the right.
"""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from handkit.draft.parts.drafted import (
    DraftedOpening,
    DraftedPart,
    DraftedPiece,
    DraftedRoom,
    DraftedSeam,
    PartContext,
)
from handkit.draft.parts.item_fit import ease_for
from handkit.draft.parts.outlines import rectangle_corners
from handkit.draft.parts.rooms import held_item
from handkit.draft.pattern import ItemFit, ItemOutline
from handkit.draft.sizes.blade import strap_round
from handkit.draft.sizes.fold_length import fold_allowance
from handkit.draft.worn.back_leaf import BackLeaf, BladeLeaf
from handkit.draft.worn.handle import held_handle
from handkit.findings import Finding, finding
from handkit.geometry.affine import Affine
from handkit.geometry.path import Path, polyline
from handkit.kinds.materials import EaseRange
from handkit.kinds.stitch_holes import EDGE_WIDTHS
from handkit.read.project import Corner, FoldLine, InnerLine, Item, Part, Piece, Side, Stitching
from handkit.tolerances import SAME_POINT

# So far a hole stands from an edge, mm, if it is not to be weak (as punching tells it).
FROM_EDGE = 3.0


def draft_sheath(part: Part, items: tuple[Item, ...], context: PartContext) -> DraftedPart:
    """The sheath of its blade; a welt too thin or too narrow, and a leaf too narrow to go on, are refused."""
    (item,), piece = (each.in_sheath() for each in items), context.pieces[part.name]
    welt = context.pieces[f"{part.name} welt"]
    if "thickness" not in welt.stated:
        welt = msgspec.structs.replace(welt, thickness=item.thickness)
    stitching = context.seams[part.name].stitching
    ease = ease_for(part, piece.material, item.width, item.uncertainty)
    clear = _clear(stitching, (2 * piece.thickness + welt.thickness) / 2)
    width = part.length("welt") or max(2.5 * stitching.inset, stitching.inset + clear)
    leaf = BladeLeaf(
        edge=item.edge(grip=part.size("grip"), drain=part.size("drain")),
        half=fold_allowance(180, welt.thickness / 2, piece.thickness) / 2,
        ease=ease.wanted,
        welt=width,
    )
    faults = (*_faults(part, item, welt, leaf, stitching.inset + clear),)
    back = BackLeaf(part, leaf, context, piece)
    beyond = () if faults else (*_strap_faults(part, item, context), *back.faults())
    if faults or beyond:
        return DraftedPart(findings=(*faults, *beyond))
    blade = polyline([(leaf.half + x, leaf.foot + y) for x, y in item.seen], closed=True)
    room = _room(part, item, leaf, blade)
    strap = _strap(part, item, context, back) if part.size("handle_strap") else None
    return DraftedPart(
        pieces=(
            _piece(part, piece, welt, leaf, back),
            DraftedPiece(
                welt.name, _lettered(welt, leaf.welt_points(welt.thickness)), thickness=welt.thickness
            ),
            *([strap[0]] if strap else []),
            *([back.guard()] if back.goes_on else []),
        ),
        seams=(DraftedSeam(part.name, ends=((leaf.first_hole(stitching, clear), 0.0),)),),
        openings=(*(strap[1] if strap else ()), *_drain(part, leaf)),
        items=tuple(ItemOutline(each.name, each.outline.moved(Affine.mirror())) for each in room.items),
        items_on=(part.name,),
        items_by=Affine.mirror(),
        rooms=(room,),
        held=back.held(),
        fits=(_fit(part, item, leaf, ease),),
    )


def _clear(stitching: Stitching, half_stack: float) -> float:
    """How far a hole stands from the bend and from the welt's inner edge: as from any edge."""
    return max(EDGE_WIDTHS * stitching.hole.width, FROM_EDGE, half_stack)


def _piece(part: Part, piece: Piece, welt: Piece, leaf: BladeLeaf, back: BackLeaf) -> DraftedPiece:
    """Both leaves round the fold, and what the back one goes on to above the mouth."""
    right = leaf.outer()
    left = [(-x, y) for x, y in reversed(right)]
    corners = _lettered(piece, [(0.0, 0.0), *right, *back.corners(), *left], back.radii(len(right)))
    stays = corners[-1].letter
    spine = FoldLine(
        f"{part.name} back",
        ((0.0, 0.0), (0.0, leaf.mouth)),
        out=Side.GRAIN,
        angle_degrees=180.0,
        radius=welt.thickness / 2,
        stays=stays,
    )
    return DraftedPiece(
        part.name,
        corners,
        lines=back.lines(),
        folds=(spine, *back.folds(stays)),
        note=_note(back),
    )


def _note(back: BackLeaf) -> str:
    """What the blade meets: below the mouth nothing, above it what lies over the rows there."""
    bare = "no metal and no thread below the mouth"
    covered = f"; above it, inside, {back.part.name} guard lies over the rows" if back.goes_on else ""
    return f"{bare}{covered}; try it with the blade's edge covered"


def _lettered(
    piece: Piece, points: list[tuple[float, float]], radii: list[float] | None = None
) -> tuple[Corner, ...]:
    """Corners with the letters that were promised."""
    each = radii or [0.0] * len(points)
    return tuple(
        Corner(own.letter, at, radius) for own, at, radius in zip(piece.corners, points, each, strict=True)
    )


def _fit(part: Part, item: Item, leaf: BladeLeaf, ease: EaseRange) -> ItemFit:
    """The room from the fold to the welt, on the middle of either leaf."""
    needed = max(x for x, _ in item.seen)
    given = needed + leaf.ease
    return ItemFit(
        (item.name,),
        part.name,
        "width",
        needed,
        given,
        ease.least,
        ease.most,
        where="from the bend to the welt",
    )


def _faults(part: Part, item: Item, welt: Piece, leaf: BladeLeaf, least: float) -> Iterator[Finding]:
    """A welt thinner than the blade, or so narrow that the thread is not clear of its inner edge."""
    if welt.thickness < item.thickness - SAME_POINT:
        yield finding(
            "welt-too-thin",
            welt.source.at("thickness"),
            piece=welt.name,
            thickness=welt.thickness,
            least=item.thickness,
            item=item.name,
        )
    if leaf.welt < least - SAME_POINT:
        yield finding("welt-too-narrow", part.source.at("welt"), welt=leaf.welt, least=least)


def _room(part: Part, item: Item, leaf: BladeLeaf, blade: Path) -> DraftedRoom:
    """Between both leaves, on the inner side of the one that keeps its place."""
    mirror = Affine.mirror()
    place = polyline([(0.0, 0.0), *leaf.outer(), (0.0, leaf.mouth)], closed=True).moved(mirror)
    held, lie = held_item(item, blade.moved(mirror)), mirror @ Affine.shift(leaf.half, leaf.foot)
    handle = held_handle(item, held, lie, grip=part.size("grip"))
    return DraftedRoom(part.name, place, (held, handle), base=part.name, behind=True)


def _strap_faults(part: Part, item: Item, context: PartContext) -> Iterator[Finding]:
    """What goes round or takes in a handle needs to know it; a strap must have room for its snap."""
    keys = [key for key in ("handle_strap", "grip") if part.size(key)]
    if keys and item.handle is None:
        yield finding("sheath-without-handle", part.source.at(keys[0]), item=item.name)
    if part.size("handle_strap"):
        least = 2 * context.openings[f"{part.name} cap"].clearance.edge
        if part.size("handle_strap") < least - SAME_POINT:
            where = part.source.at("handle_strap")
            yield finding("strap-too-narrow/snap", where, strap=part.size("handle_strap"), least=least)
    handle = item.handle
    if handle is not None and part.size("grip") > handle[2]:
        yield finding("grip-too-long", part.source.at("grip"), grip=part.size("grip"), most=handle[2])


def _strap(
    part: Part, item: Item, context: PartContext, back: BackLeaf
) -> tuple[DraftedPiece, tuple[DraftedOpening, ...]]:
    """Sewn behind the handle by its middle; its ends meet in front of it with a snap."""
    assert item.handle is not None  # told before
    name, wide = f"{part.name} strap", part.size("handle_strap")
    own, leather = context.pieces[name], context.pieces[part.name].thickness + back.guard_thickness
    wanted = ease_for(part, own.material, item.handle[0]).wanted
    end = context.openings[f"{part.name} cap"].clearance.edge
    round_ = strap_round((item.handle[0], item.handle[1]), (back.width, leather), own.thickness, wanted)
    long, row = round_ + 2 * end, back.strap_row()
    (left, level), (right, _) = row
    half = (right - left) / 2
    line = InnerLine(name, ((long / 2 - half, wide / 2), (long / 2 + half, wide / 2)))
    radius = min(wide / 2, end) * 0.9
    piece = DraftedPiece(
        name,
        rectangle_corners(long, wide, foot=radius, mouth=radius),
        lines=(line,),
        at=((left + right) / 2 - long / 2, level - wide / 2),
        grain_degrees=0.0,
    )
    halves = zip(("cap", "stud"), (end, long - end), strict=True)
    openings = tuple(
        DraftedOpening(f"{part.name} {half_}", ((name, ((x, wide / 2),)),)) for half_, x in halves
    )
    return piece, openings


def _drain(part: Part, leaf: BladeLeaf) -> tuple[DraftedOpening, ...]:
    """Below the blade's point, which can't reach it, through the back leaf."""
    if not part.size("drain"):
        return ()
    middle = -leaf.edge[0][1] / 2
    at = (-(leaf.half + middle), leaf.welt + middle)
    return (DraftedOpening(f"{part.name} drain", ((part.name, (at,)),)),)
