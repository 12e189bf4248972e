"""Flap: hinged at the upper edge of its base, folded over what the other parts hold, and closed.

In: the part, its context with all that lies on the base. Out: the flap, its row, what closes it.

      ╭───fold───╮          Sewn on behind the base, below its edge, it goes round that edge, taut over all
      │ base     │ flap     that is on its way, to the stud: so long that both halves meet (`flap_length`).
    row          · cap

The bend goes round the edge: its inside radius is half of the base's thickness, and it begins at the edge.
One that `continues` its base is bent on as much, where that ends, and is a part of it.

Beyond what closes it the flap goes on by what it needs to be held by; or it ends there, and a tab or a strap
goes on in its place (`fastening.py`).
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import ceil

import msgspec

from handkit.draft.fit.laid import LaidBase, laid_on
from handkit.draft.parts.drafted import (
    DraftedBase,
    DraftedOpening,
    DraftedPart,
    DraftedPiece,
    PartContext,
)
from handkit.draft.parts.idle import idle_keys
from handkit.draft.parts.outlines import rectangle_corners
from handkit.draft.pieces.outline import draft_outline
from handkit.draft.sizes.fold_length import fold_allowance
from handkit.draft.worn.fastening import (
    CLOSING_KEYS,
    HINGED_KEYS,
    Ends,
    fastened,
    fastening_faults,
)
from handkit.draft.worn.flap_closing import ClosingPlace, Hinge, closing_place, wanted_lap
from handkit.findings import Finding, finding
from handkit.geometry.affine import Point
from handkit.geometry.laid.taut import flap_length
from handkit.geometry.path import polyline
from handkit.geometry.region import lines_of
from handkit.kinds.stitch_holes import EDGE_WIDTHS
from handkit.read.project import FoldLine, InnerLine, Item, Part, Piece
from handkit.tolerances import EDGE_SLACK, SAGITTA, SAME_POINT

# How far apart the places on the way are that leather is asked at, mm.
STEP = 1.0

# In what steps less is tried of how far a flap lies on its base, mm.
LAP_STEP = 0.5


def draft_flap(part: Part, items: tuple[Item, ...], context: PartContext) -> DraftedPart:
    """The flap; a part that holds nothing: `items` is empty."""
    base, to = context.base, context.around.pieces.get(part.word("to"))
    hinge = _hinge(part, context)
    if part.word("to") in context.pieces:
        told = {"piece": part.word("to"), "base": part.on or ""}
        return DraftedPart(findings=(finding("flap-closes-on-nothing", part.source.at("to"), **told),))
    if base is None or to is None or hinge is None:  # their own findings say why
        return DraftedPart()
    if base.on is not None or base.drafted_by is not None:
        fault = finding("flap-on-part", part.source.at("on"), base=base.name)
        return DraftedPart(findings=(fault,))
    laid = laid_on(base.name, context.around, without=frozenset(context.pieces))
    stated = None if part.flag("continues") else part.length("width")
    wide = stated or hinge.straight
    idle = idle_keys(part, "closed_by", HINGED_KEYS if part.flag("rivets") else CLOSING_KEYS)
    faults = (*idle, *_faults(part, context, hinge, wide), *fastening_faults(part, context))
    if faults:
        return DraftedPart(findings=faults)
    lapped = _lapped(part, context, laid, hinge, wide)
    closes = lapped if isinstance(lapped, Finding) else closing_place(lapped, context, laid, hinge, wide)
    if isinstance(closes, Finding):
        return DraftedPart(findings=(closes,))
    return _drafted(closes, context, laid, hinge, wide)


def _drafted(
    closes: ClosingPlace, context: PartContext, laid: LaidBase, hinge: Hinge, wide: float
) -> DraftedPart:
    """Once it is known where it closes."""
    part, base, to = closes.part, context.base, closes.part.word("to")
    assert base is not None
    beyond = _length(laid, hinge, wide, closes.stud, (base.name, to))
    end = beyond + closes.fast.tail
    if hinge.round > (most := end - hinge.half) + SAME_POINT:
        told: dict[str, object] = {"radius": hinge.round, "most": most}
        return DraftedPart(findings=(finding("flap-too-round/short", part.source.at("round"), **told),))
    given = _continued(part, base, hinge, end)
    on, fold, middle = base.name, hinge.fold, hinge.middle
    if given is None:
        given = _sewn(part, context, hinge, (wide, end))
        on, fold, middle = part.name, part.size("lap") + hinge.half, wide / 2
    at, lie, behind = (middle, fold + beyond), laid.pieces[to].lie, part.flag("continues")
    ends = Ends(on, at, to, closes.stud, lie, closes.fast.tail, behind)
    return fastened(given, part, context, ends)


def _sewn(part: Part, context: PartContext, hinge: Hinge, size: tuple[float, float]) -> DraftedPart:
    """A piece of its own, its row along what lies behind the base; `size` is its width, and from the fold to
    its end."""
    (wide, beyond), lap = size, part.size("lap")
    inset, fold = context.seams[part.name].stitching.inset, lap + hinge.half
    piece = DraftedPiece(
        part.name,
        rectangle_corners(wide, fold + beyond, foot=0.0, mouth=part.size("round")),
        lines=(InnerLine(part.name, ((inset, inset), (wide - inset, inset))),),
        folds=(_fold(part, ((0.0, fold), (wide, fold)), hinge),),
        at=(hinge.middle + wide / 2, hinge.edge - lap),
    )
    return DraftedPart(pieces=(piece,), openings=_hinge_rivets(part, context, wide))


def _hinge_rivets(part: Part, context: PartContext, wide: float) -> tuple[DraftedOpening, ...]:
    """One at each end of what is sewn on behind, half-way from its row to the base's edge."""
    name, lap = f"{part.name} hinge", part.size("lap")
    if name not in context.openings:
        return ()
    up = (context.seams[part.name].stitching.inset + lap) / 2
    aside = max(lap - up, context.openings[name].clearance.edge)
    return (DraftedOpening(name, ((part.name, ((aside, up), (wide - aside, up))),)),)


def _fold(part: Part, line: tuple[Point, Point], hinge: Hinge) -> FoldLine:
    return FoldLine(f"{part.name} fold", line, angle_degrees=180.0, radius=hinge.radius)


def _continued(part: Part, base: Piece, hinge: Hinge, beyond: float) -> DraftedPart | None:
    """Its base with the upper edge as much higher, folded where that was; None of a flap that is sewn on."""
    if not part.flag("continues"):
        return None
    top = hinge.fold + beyond
    corners = tuple(
        msgspec.structs.replace(
            corner,
            at=(corner.at[0], top),
            radius=corner.radius if "round" in base.stated else part.size("round"),
        )
        if hinge.edge - corner.at[1] <= SAME_POINT
        else corner
        for corner in base.corners
    )
    left, right = (hinge.middle - hinge.straight / 2, hinge.middle + hinge.straight / 2)
    fold = _fold(part, ((left, hinge.fold), (right, hinge.fold)), hinge)
    stays = next(corner.letter for corner in corners if corner.at[1] < hinge.edge)
    fold = msgspec.structs.replace(fold, out=base.shows.other, stays=stays)
    return DraftedPart(base=DraftedBase(corners, fold))


def _hinge(part: Part, context: PartContext) -> Hinge | None:
    """At the upper edge of the base; None where the base can't be drawn. A flap that is sewn on goes round
    that edge from behind, one that continues it is bent towards the front on as much."""
    base = context.base
    outline = draft_outline(base)[0] if base is not None else None
    if base is None or outline is None:
        return None
    own = base.thickness if part.flag("continues") else context.pieces[part.name].thickness
    points = outline.path.flattened(sagitta=SAGITTA)
    top, radius = max(y for _, y in points), base.thickness / 2
    if part.flag("continues"):
        points = tuple(corner.at for corner in base.corners)
    level = [x for x, y in points if top - y <= SAME_POINT]
    half = fold_allowance(180, radius, own) / 2
    middle, straight = (min(level) + max(level)) / 2, max(level) - min(level)
    height = 0.0 if part.flag("continues") else -base.thickness
    return Hinge(middle, top, straight, own, half, radius, height, _far_radius(part, base, top))


def _far_radius(part: Part, base: Piece, top: float) -> float:
    """Of the corners at its far end."""
    if not part.flag("continues") or "round" not in base.stated:
        return part.size("round")
    return max(corner.radius for corner in base.corners if top - corner.at[1] <= SAME_POINT)


def _length(laid: LaidBase, hinge: Hinge, wide: float, stud: Point, pieces: tuple[str, str]) -> float:
    """From the fold's line to the cap; `pieces` are the base and what it closes on."""
    base, to = pieces
    reach = hinge.fold - stud[1]
    steps = [EDGE_SLACK, *(k * STEP for k in range(1, ceil(reach / STEP)))]
    line = [(along, (hinge.middle, hinge.fold - along)) for along in steps]
    bends = {base} if hinge.height == 0.0 else set[str]()
    front = [piece.name for piece in laid.pieces.values() if piece.level >= 0 and piece.name not in bends]
    over = list(laid.heights.tops(front, line))
    for outline, high in laid.things:
        left, low, right, top = outline.bounds()
        if left < hinge.middle + wide / 2 and hinge.middle - wide / 2 < right:
            ends = [min(max(hinge.fold - y, 0.0), reach) for y in (top, low)]
            if ends[0] < ends[1]:
                over += [(along, high) for along in ends if along < reach]
    end = (reach, laid.heights.span(to, stud)[1])
    return flap_length(
        over, end, half=hinge.half, height=hinge.height, radius=hinge.radius, leather=hinge.leather
    )


def _faults(part: Part, context: PartContext, hinge: Hinge, wide: float) -> tuple[Finding, ...]:
    """A flap wider than its edge, a lap too small for its row; else corners too round for it."""
    if part.flag("continues"):
        found = tuple(_edge_faults(part, context.base, hinge))
    else:
        found = tuple(_row_faults(part, context, hinge, wide))
    most = wide / 2
    if found or part.size("round") <= most + SAME_POINT:
        return found
    return (finding("flap-too-round", part.source.at("round"), radius=part.size("round"), most=most),)


def _edge_faults(part: Part, base: Piece | None, hinge: Hinge) -> Iterator[Finding]:
    """Of a flap that continues its base: it is as wide as that, between two sides that go straight up."""
    corners = base.corners if base is not None else ()
    ups = [
        (one, other)
        for one, other in pairwise((*corners, *corners[:1]))
        if (hinge.edge - one.at[1] <= SAME_POINT) is not (hinge.edge - other.at[1] <= SAME_POINT)
    ]
    straight = all(abs(one.at[0] - other.at[0]) <= SAME_POINT for one, other in ups)
    if base is not None and (len(ups) != 2 or not straight or any(base.sagittas)):
        yield finding("flap-continues/sides", part.source.at("continues"), base=base.name)
    elif part.length("width") is not None:
        yield finding("flap-continues/width", part.source.at("width"), width=part.size("width"))
    elif part.flag("rivets"):
        yield finding("flap-continues/rivets", part.source.at("rivets"))


def _row_faults(part: Part, context: PartContext, hinge: Hinge, wide: float) -> Iterator[Finding]:
    """Of a flap that is sewn on."""
    stitching = context.seams[part.name].stitching
    least, narrowest = 2 * stitching.inset, 2 * stitching.inset + stitching.pitch
    lap = part.length("lap")
    if lap is not None and lap < least - SAME_POINT:
        yield finding("flap-lap-too-small", part.source.at("lap"), lap=lap, least=least)
    if wide < narrowest - SAME_POINT:
        yield finding("flap-too-narrow", part.source.at("width"), width=wide, least=narrowest)
    elif wide > hinge.straight + SAME_POINT:
        told: dict[str, object] = {"width": wide, "most": hinge.straight, "base": part.on or ""}
        yield finding("flap-too-wide", part.source.at("width"), **told)


def _lapped(part: Part, context: PartContext, laid: LaidBase, hinge: Hinge, wide: float) -> Part | Finding:
    """With a lap whose row lies on the base, clear of other rows there: the one that is stated, or as near to
    the usual one as there is room. One that continues its base has none."""
    if part.flag("continues"):
        return part
    stitching, stated = context.seams[part.name].stitching, part.length("lap")
    body, rows = laid.flat(part.on or "")
    inset, least = stitching.inset, 2 * stitching.inset
    within = body.grown(SAME_POINT - min(EDGE_WIDTHS * stitching.hole.width, inset))

    def fits(lap: float) -> bool:
        y, half = hinge.edge - lap + inset, wide / 2 - inset
        row = polyline(((hinge.middle - half, y), (hinge.middle + half, y)))
        clear = rows.empty or lines_of([row]).distance(rows) >= stitching.least_step - SAME_POINT
        return clear and within.covers((row.start, row.end))

    lap = wanted_lap(part, stitching)
    if fits(lap):
        return part.stating("lap", lap)
    steps = int((lap - least) / LAP_STEP)
    smaller = next((each for k in range(steps + 1) if fits(each := lap - k * LAP_STEP)), None)
    if smaller is not None and stated is None:
        return part.stating("lap", smaller)
    told: dict[str, object] = {"lap": lap, "base": part.on or ""}
    if smaller is None:
        return finding("flap-lap-too-large/none", part.source.at("lap"), **told)
    return finding("flap-lap-too-large", part.source.at("lap"), **told, most=smaller)
