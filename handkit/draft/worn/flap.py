"""Flap: hinged at the upper edge of its base, folded over what the other parts hold, closed by a snap.

In: the part, its context with all that lies on the base. Out: the flap, its row, its snap.

      ╭───fold───╮          Sewn on behind the base, below its edge, it goes round that edge, taut over all
      │ base     │ flap     that is on its way, to the stud: so long that both halves meet (`flap_length`).
    row          · cap

The bend goes round the edge: its inside radius is half of the base's thickness, and it begins at the edge.
Beyond the cap the flap goes on by what it needs to be held by; or it ends there, and a tab that is riveted on
goes on in its place.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

import msgspec

from handkit.draft.fit.laid import LaidBase, laid_on
from handkit.draft.parts.drafted import DraftedOpening, DraftedPart, DraftedPiece, PartContext
from handkit.draft.parts.outlines import rectangle_corners
from handkit.draft.pieces.outline import draft_outline
from handkit.draft.sizes.fold_length import fold_allowance
from handkit.findings import Finding, finding
from handkit.geometry.affine import Point
from handkit.geometry.laid.taut import flap_length
from handkit.read.project import FoldLine, InnerLine, Item, Part, Piece
from handkit.tolerances import EDGE_SLACK, SAGITTA, SAME_POINT

# How far apart the places on the way are that leather is asked at, mm.
STEP = 1.0


class Hinge(msgspec.Struct, frozen=True):
    """Where a flap hangs: the middle of its base's edge, how wide that is straight, half of its bend."""

    middle: float
    edge: float
    straight: float
    half: float

    @property
    def fold(self) -> float:
        """How high the fold's line is in the base's frame while all is flat."""
        return self.edge + self.half


def draft_flap(part: Part, items: tuple[Item, ...], context: PartContext) -> DraftedPart:
    """The flap; a part that holds nothing: `items` is empty."""
    piece, base = context.pieces[part.name], context.base
    to = context.around.pieces.get(part.word("to"))
    hinge = _hinge(piece, base)
    if part.word("to") in context.pieces:
        told = {"piece": part.word("to"), "base": part.on or ""}
        return DraftedPart(findings=(finding("flap-closes-on-nothing", part.source.at("to"), **told),))
    if base is None or to is None or hinge is None:  # their own findings say why
        return DraftedPart()
    laid = laid_on(_lowest(base, context), context.around, without=frozenset(context.pieces))
    wide = part.length("width") or hinge.straight
    clear = context.openings[f"{part.name} cap"].clearance.edge
    tail = clear if part.word("closed_by") == "tab" else max(part.size("below"), clear)
    faults = (*_faults(part, context, hinge, wide), *_stud_faults(part, laid, hinge, clear))
    if faults:
        return DraftedPart(findings=faults)
    stud = _stud(part, laid, hinge)
    own = _length(laid, hinge, wide, stud, (base.thickness, piece.thickness, to.name))
    cap = (wide / 2, part.size("lap") + hinge.half + own)
    flap = _flap(part, context, hinge, (wide, cap[1] + tail), base.thickness)
    at = laid.pieces[to.name].lie.inverse().apply(stud)
    openings = (
        DraftedOpening(f"{part.name} cap", ((part.name, (cap,)),)),
        DraftedOpening(f"{part.name} stud", ((to.name, (at,)),)),
    )
    if part.word("closed_by") == "snap":
        return DraftedPart(pieces=(flap,), openings=openings)
    tab, rivets = _tab(part, context, cap)
    return DraftedPart(pieces=(flap, tab), openings=(*openings, rivets))


def _flap(
    part: Part, context: PartContext, hinge: Hinge, size: tuple[float, float], edge: float
) -> DraftedPiece:
    """The flap itself, so wide and long, round an edge so thick; its row along what lies behind the base."""
    (wide, long), lap = size, part.size("lap")
    inset, fold = context.seams[part.name].stitching.inset, lap + hinge.half
    line = ((0.0, fold), (wide, fold))
    return DraftedPiece(
        part.name,
        rectangle_corners(wide, long, foot=0.0, mouth=part.size("round")),
        lines=(InnerLine(part.name, ((inset, inset), (wide - inset, inset))),),
        folds=(FoldLine(f"{part.name} fold", line, angle_degrees=180.0, radius=edge / 2),),
        at=(hinge.middle + wide / 2, hinge.edge - lap),
    )


def _tab(part: Part, context: PartContext, cap: Point) -> tuple[DraftedPiece, DraftedOpening]:
    """On the side of the flap that shows: two rivets side by side above the snap, and below it what is
    pulled."""
    snap = context.openings[f"{part.name} cap"].clearance
    rivet = context.openings[f"{part.name} rivets"].clearance
    wide = max(2 * rivet.edge + rivet.apart, 2 * snap.edge)
    above = part.size("snap_cap") / 2 + part.size("rivet_cap") / 2 + CAPS_APART
    below, top = max(part.size("below"), snap.edge), above + rivet.edge
    left, low = cap[0] - wide / 2, cap[1] - top
    half = rivet.apart / 2
    places = tuple((cap[0] + side * half, cap[1] - above) for side in (-1, 1))
    radius = min(wide / 2, below)
    corners = rectangle_corners(wide, top + below, foot=0.0, mouth=radius)
    thin = min(context.pieces[f"{part.name} tab"].thickness, TAB)
    tab = DraftedPiece(f"{part.name} tab", corners, at=(left, low), thickness=thin)
    return tab, DraftedOpening(f"{part.name} rivets", ((part.name, places),))


# Between a snap's cap and a rivet's, mm, so that both can be set (common practice, no source).
CAPS_APART = 2.0

# A tab no thicker than this, mm, so that a common snap's post goes through it and the flap (common practice).
TAB = 1.6


def _hinge(piece: Piece, base: Piece | None) -> Hinge | None:
    """At the upper edge of the base; None where the base can't be drawn."""
    outline = draft_outline(base)[0] if base is not None else None
    if base is None or outline is None:
        return None
    points = outline.path.flattened(sagitta=SAGITTA)
    top = max(y for _, y in points)
    level = [x for x, y in points if top - y <= SAME_POINT]
    half = fold_allowance(180, base.thickness / 2, piece.thickness) / 2
    return Hinge((min(level) + max(level)) / 2, top, max(level) - min(level), half)


def _lowest(base: Piece, context: PartContext) -> str:
    """What the base stands on, one on the other."""
    while base.on is not None and base.on in context.around.pieces:
        base = context.around.pieces[base.on]
    return base.name


def _stud(part: Part, laid: LaidBase, hinge: Hinge) -> Point:
    """In plan: below the mouth of what it is set in, in the flap's middle."""
    mouth = laid.pieces[part.word("to")].outline.bounds()[3]
    return (hinge.middle, mouth - part.size("reach"))


def _length(
    laid: LaidBase, hinge: Hinge, wide: float, stud: Point, leather: tuple[float, float, str]
) -> float:
    """From the fold's line to the cap."""
    base, own, to = leather
    reach = hinge.fold - stud[1]
    steps = [EDGE_SLACK, *(k * STEP for k in range(1, ceil(reach / STEP)))]
    line = [(along, (hinge.middle, hinge.fold - along)) for along in steps]
    front = [piece.name for piece in laid.pieces.values() if piece.level >= 0]
    over = list(laid.heights.tops(front, line))
    for outline, high in laid.things:
        left, low, right, top = outline.bounds()
        if left < hinge.middle + wide / 2 and hinge.middle - wide / 2 < right:
            ends = [min(max(hinge.fold - y, 0.0), reach) for y in (top, low)]
            if ends[0] < ends[1]:
                over += [(along, high) for along in ends if along < reach]
    end = (reach, laid.heights.span(to, stud)[1])
    return flap_length(over, end, half=hinge.half, height=-base, radius=base / 2, leather=own)


def _faults(part: Part, context: PartContext, hinge: Hinge, wide: float) -> Iterator[Finding]:
    """A flap wider than its edge, a lap too small for its row, corners too round."""
    stitching = context.seams[part.name].stitching
    least = 2 * stitching.inset
    if part.size("lap") < least - SAME_POINT:
        yield finding("flap-lap-too-small", part.source.at("lap"), lap=part.size("lap"), least=least)
    narrowest = 2 * stitching.inset + stitching.pitch
    if wide > hinge.straight + SAME_POINT:
        yield finding(
            "flap-too-wide", part.source.at("width"), width=wide, most=hinge.straight, base=part.on or ""
        )
    elif wide < narrowest - SAME_POINT:
        yield finding("flap-too-narrow", part.source.at("width"), width=wide, least=narrowest)
    most = wide / 2
    if part.size("round") > most + SAME_POINT:
        yield finding("flap-too-round", part.source.at("round"), radius=part.size("round"), most=most)


def _stud_faults(part: Part, laid: LaidBase, hinge: Hinge, clear: float) -> Iterator[Finding]:
    """A stud that is not on what it is to be set in, or so near the hinge that nothing folds."""
    name = part.word("to")
    target, where = laid.pieces.get(name), part.source.at("to")
    if target is None or target.level < 0:
        yield finding("flap-closes-on-nothing", where, piece=name, base=part.on or "")
        return
    stud, region = _stud(part, laid, hinge), laid.heights.region(name)
    left, low, right, top = target.outline.bounds()
    if not left + clear <= stud[0] <= right - clear:
        off = max(left + clear - stud[0], stud[0] - right + clear)
        yield finding("flap-beside", where, piece=name, off=off, base=part.on or "")
    elif not region.contains(stud) or not low + clear <= stud[1] <= top - clear + SAME_POINT:
        most = max(top - low - clear, clear)
        reach = part.source.at("reach")
        yield finding("flap-stud-off", reach, piece=name, reach=part.size("reach"), least=clear, most=most)
    elif hinge.fold - stud[1] <= 2 * hinge.half + clear:
        yield finding("flap-too-near", where, piece=name, base=part.on or "")
