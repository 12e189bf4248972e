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
from handkit.draft.parts.drafted import DraftedBase, DraftedPart, DraftedPiece, PartContext
from handkit.draft.parts.outlines import rectangle_corners
from handkit.draft.pieces.outline import draft_outline
from handkit.draft.sizes.fold_length import fold_allowance
from handkit.draft.worn.fastening import Ends, Fastening, fastened, fastening_faults, fastening_of
from handkit.findings import Finding, finding
from handkit.geometry.affine import Point
from handkit.geometry.laid.taut import flap_length
from handkit.geometry.region import Region, rectangle
from handkit.read.project import FoldLine, InnerLine, Item, Part, Piece
from handkit.tolerances import EDGE_SLACK, SAGITTA, SAME_POINT

# How far apart the places on the way are that leather is asked at, mm.
STEP = 1.0

# How wide a strip is that tells how far a region reaches along an upright line, mm.
STRIP = 0.1


class Hinge(msgspec.Struct, frozen=True):
    """Where a flap hangs, in its base's frame: the middle of the base's upper edge, how wide that is straight
    or, where it continues, at all; how thick the flap is, and its bend: half of its zone, its radius, from
    where on it rises."""

    middle: float
    edge: float
    straight: float
    leather: float
    half: float
    radius: float
    height: float

    @property
    def fold(self) -> float:
        """How high the fold's line is in the base's frame while all is flat."""
        return self.edge + self.half


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
    wide = part.length("width") or hinge.straight
    fast = fastening_of(part, context)
    faults = (*_faults(part, context, hinge, wide), *fastening_faults(part, context))
    faults = faults or tuple(_stud_faults(part, laid, hinge, fast))
    if faults:
        return DraftedPart(findings=faults)
    stud = _stud(part, laid, hinge, fast)
    beyond = _length(laid, hinge, wide, stud, (base.name, to.name))
    given = _continued(part, base, hinge, beyond + fast.tail)
    on, fold, middle = base.name, hinge.fold, hinge.middle
    if given is None:
        given = _sewn(part, context, hinge, (wide, beyond + fast.tail))
        on, fold, middle = part.name, part.size("lap") + hinge.half, wide / 2
    ends = Ends(on, (middle, fold + beyond), to.name, stud, laid.pieces[to.name].lie)
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
    return DraftedPart(pieces=(piece,))


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
    return Hinge(middle, top, straight, own, half, radius, height)


def _stud(part: Part, laid: LaidBase, hinge: Hinge, fast: Fastening) -> Point:
    """In plan: below the mouth of what it is set in, in the flap's middle."""
    mouth = laid.pieces[part.word("to")].outline.bounds()[3]
    return (hinge.middle, mouth - part.size("reach") - fast.lower)


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


def _faults(part: Part, context: PartContext, hinge: Hinge, wide: float) -> Iterator[Finding]:
    """A flap wider than its edge, a lap too small for its row, corners too round."""
    if part.flag("continues"):
        yield from _edge_faults(part, context.base, hinge)
    else:
        yield from _row_faults(part, context, wide)
    if not part.flag("continues") and wide > hinge.straight + SAME_POINT:
        yield finding(
            "flap-too-wide", part.source.at("width"), width=wide, most=hinge.straight, base=part.on or ""
        )
    most = wide / 2
    if part.size("round") > most + SAME_POINT:
        yield finding("flap-too-round", part.source.at("round"), radius=part.size("round"), most=most)


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


def _row_faults(part: Part, context: PartContext, wide: float) -> Iterator[Finding]:
    """Of a flap that is sewn on."""
    stitching = context.seams[part.name].stitching
    least, narrowest = 2 * stitching.inset, 2 * stitching.inset + stitching.pitch
    if part.size("lap") < least - SAME_POINT:
        yield finding("flap-lap-too-small", part.source.at("lap"), lap=part.size("lap"), least=least)
    if wide < narrowest - SAME_POINT:
        yield finding("flap-too-narrow", part.source.at("width"), width=wide, least=narrowest)


def _stud_faults(part: Part, laid: LaidBase, hinge: Hinge, fast: Fastening) -> Iterator[Finding]:
    """What closes it is not on what it is to be set in, or so near the hinge that nothing folds."""
    name = part.word("to")
    target, where = laid.pieces.get(name), part.source.at("to")
    if target is None or target.level < 0:
        yield finding("flap-closes-on-nothing", where, piece=name, base=part.on or "")
        return
    stud, mouth = _stud(part, laid, hinge, fast), target.outline.bounds()[3]
    region, told = laid.heights.region(name), {"piece": name, "what": fast.called}
    column = _column(region, stud[0], fast)
    if not isinstance(column, tuple):
        middle = msgspec.structs.replace(fast, beside=0.0)
        if part.word("closed_by") == "strap" and isinstance(_column(region, stud[0], middle), tuple):
            loop = {"loop": 2 * fast.beside, "strap": part.size("strap"), "by": 2 * column}
            yield finding("flap-loop-wide", part.source.at("strap"), **told, **loop)
        else:
            yield finding("flap-beside", where, **told, off=column, base=part.on or "")
    elif not column[0] <= stud[1] <= column[1] + SAME_POINT:
        least, most = (max(mouth - fast.lower - y, 1.0) for y in (column[1], column[0]))
        reach = part.source.at("reach")
        yield finding("flap-stud-off", reach, **told, reach=part.size("reach"), least=least, most=most)
    elif hinge.fold - stud[1] <= 2 * hinge.half + fast.clear + fast.cut - min(fast.tail, 0.0):
        yield finding("flap-too-near", where, **told, base=part.on or "")


def _column(region: Region, x: float, fast: Fastening) -> tuple[float, float] | float:
    """From where to where at x there is room on what it is set in; how far beside it stands, where at no
    height there is."""
    left, low, right, top = region.bounds()
    off = max(left + fast.beside - x, x - right + fast.beside)
    if off > 0:
        return off
    strips = [
        region.common(rectangle(at - STRIP / 2, low, at + STRIP / 2, top))
        for at in (x - fast.beside, x, x + fast.beside)
    ]
    if not any(strip.empty for strip in strips):
        ends = [strip.bounds() for strip in strips]
        low, top = max(end[1] for end in ends) + fast.clear, min(end[3] for end in ends) - fast.clear
        if low <= top + SAME_POINT:
            return low, top
    return min(x - left, right - x)
