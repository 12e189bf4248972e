"""Flap closing: where in plan what closes a flap stands on the piece that it comes down on.

In: the part, what lies on its base, its hinge. Out: `ClosingPlace`, or the one finding that says what to
change. All mm, in the base's frame.

    ╭─────────────────╮ mouth     What is set in stands clear of the piece's edges and of all rows on it, and
    │ · · · · · · · · │           clear of the flap's bend: that leaves stretches of the upright line in the
    │ ·      ×      · │ reach     flap's middle. Where the file says nothing, the usual reach is taken, or
    │ ·             · │           what is nearest to it, and a strap as wide as usual, or as wide as its loop
    ╰─────────────────╯           and the flap's end let it be.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import reduce
from math import hypot

import msgspec

from handkit.draft.fit.laid import LaidBase
from handkit.draft.parts.drafted import PartContext
from handkit.draft.worn.fastening import Fastening, fastening_of
from handkit.findings import Finding, finding
from handkit.geometry.affine import Affine, Point
from handkit.geometry.largest import largest_fitting
from handkit.geometry.path import polyline
from handkit.geometry.region import Region, lines_of
from handkit.kinds.stitch_holes import EDGE_WIDTHS
from handkit.read.project import Part, Stitching
from handkit.tolerances import SAME_POINT

# How far below the mouth a flap is closed, and how far it lies on its base, where the file does not say
# (common practice, no source).
REACH, LAP = 15.0, 20.0

_Stretch = tuple[float, float]


class Hinge(msgspec.Struct, frozen=True):
    """Where a flap hangs, in its base's frame: the middle of the base's upper edge, how wide that is straight
    or, where it continues, at all; how thick the flap is, and its bend: half of its zone, its radius, from
    where on it rises; how round its far corners are."""

    middle: float
    edge: float
    straight: float
    leather: float
    half: float
    radius: float
    height: float
    round: float

    @property
    def fold(self) -> float:
        """How high the fold's line is in the base's frame while all is flat."""
        return self.edge + self.half


class ClosingPlace(msgspec.Struct, frozen=True):
    """Where a flap closes: the part with all that the file left open, what closes it, where that stands."""

    part: Part
    fast: Fastening
    stud: Point


def wanted_lap(part: Part, stitching: Stitching) -> float:
    """How far a flap lies on its base: as the file says, or as usual, with room for its row."""
    stated = part.length("lap")
    return max(LAP, 2 * stitching.inset) if stated is None else stated


def closing_place(
    part: Part, context: PartContext, laid: LaidBase, hinge: Hinge, wide: float
) -> ClosingPlace | Finding:
    """Where it closes; of straps that the file does not state the widest that can be."""
    name = part.word("to")
    target = laid.pieces.get(name)
    if target is None or target.level < 0:
        return finding("flap-closes-on-nothing", part.source.at("to"), piece=name, base=part.on or "")
    own = last = _tried(part, context, laid, hinge, wide)
    for narrower in narrower_straps(part, context) if isinstance(own, Finding) else ():
        last = _tried(narrower, context, laid, hinge, wide)
        if isinstance(last, ClosingPlace):
            break
    if isinstance(own, ClosingPlace) or not part.source.says("strap"):
        return last
    if isinstance(last, ClosingPlace):
        told: dict[str, object] = {"strap": part.size("strap"), "most": last.part.size("strap")}
        return finding("flap-strap-wide", part.source.at("strap"), piece=name, **told)
    return own if own.code == "flap-stud-off" else last


def narrower_straps(part: Part, context: PartContext) -> Iterator[Part]:
    """One closed by a strap with narrower ones in whole steps, down to one stitch across."""
    if part.word("closed_by") != "strap":
        return
    sewn, step = context.seams[f"{part.name} strap"].stitching, part.source.units.whole
    least, widest = 2 * sewn.inset + sewn.pitch, part.size("strap")
    steps = int((widest - least + SAME_POINT) / step)
    yield from (part.stating("strap", widest - k * step) for k in range(1, steps + 1))


def _tried(
    part: Part, context: PartContext, laid: LaidBase, hinge: Hinge, wide: float
) -> ClosingPlace | Finding:
    fast = fastening_of(part, context)
    if wide < fast.wide - SAME_POINT:
        where = part.source.at("continues" if part.flag("continues") else "width")
        return finding("flap-too-narrow/closing", where, width=wide, least=fast.wide)
    roundest = largest_fitting(hinge.round, lambda radius: _sewn_within(part, context, radius, wide))
    if roundest < hinge.round - SAME_POINT and not _sewn_within(part, context, hinge.round, wide):
        where = part.source.at("round")
        return finding("flap-too-round/strap", where, radius=hinge.round, most=roundest)
    return _place(part, laid, hinge, fast)


def _sewn_within(part: Part, context: PartContext, radius: float, wide: float) -> bool:
    """Whether the ends of the row of a flap's strap lie inside the flap's round corners."""
    if part.word("closed_by") != "strap":
        return True
    sewn = context.seams[f"{part.name} strap"].stitching
    keep = min(EDGE_WIDTHS * sewn.hole.width, sewn.inset)
    beyond, up = part.size("strap") / 2 - sewn.inset - (wide / 2 - radius), radius - sewn.inset
    return beyond <= 0 or up <= 0 or radius - hypot(beyond, up) >= keep - SAME_POINT


def _place(part: Part, laid: LaidBase, hinge: Hinge, fast: Fastening) -> ClosingPlace | Finding:
    """Where it stands, or why it can't."""
    name, x = part.word("to"), hinge.middle
    told: dict[str, object] = {"piece": name, "what": fast.called}
    all_, over = _free(laid, name, fast), _over(laid, name)
    free = reduce(
        lambda left, each: left.without(laid.heights.region(each).grown(fast.room.edge)), over, all_
    )
    where = part.source.at("to")
    if all_.empty:
        return finding("flap-no-room", where, **told)
    stretches, under = _stretches(free, x), _stretches(all_, x)
    if under and not stretches:
        low, top = under[0]
        line = polyline([(x, low), (x, top)])
        here = [each for each in over if laid.heights.region(each).meets(lines_of([line]))]
        return finding("flap-closes-under", where, **told, over=(here or over)[-1])
    if not stretches:
        off = _beside(all_, x)
        side, way = ("right", "left") if off > 0 else ("left", "right")
        return finding("flap-beside", where, **told, off=abs(off), side=side, way=way, base=part.on or "")
    highest = hinge.fold - 2 * hinge.half - fast.towards
    clear = [(a, min(b, highest)) for a, b in stretches if a <= highest]
    if not clear:
        by = stretches[0][0] - highest
        return finding("flap-too-near", where, **told, base=part.on or "", by=by)
    return _reached(part, laid, hinge, fast, clear)


def _stretches(free: Region, x: float) -> list[_Stretch]:
    """Of the upright line there, from where to where it is free."""
    if free.empty:
        return []
    _, low, _, top = free.bounds()
    return [(low + a, low + b) for a, b in free.along((x, low), (x, top))]


def _over(laid: LaidBase, name: str) -> list[str]:
    """What lies over a piece, the lowest first."""
    level = laid.pieces[name].level
    return [
        each.name for each in sorted(laid.pieces.values(), key=lambda one: one.level) if each.level > level
    ]


def _reached(
    part: Part, laid: LaidBase, hinge: Hinge, fast: Fastening, clear: Sequence[_Stretch]
) -> ClosingPlace | Finding:
    """Where the file says, or as near as may be to where it usually is."""
    name, stated = part.word("to"), part.length("reach")
    mouth = laid.pieces[name].outline.bounds()[3]
    wanted = mouth - fast.lower - (REACH if stated is None else stated)
    low, top = min(clear, key=lambda each: max(each[0] - wanted, wanted - each[1]))
    y = min(max(wanted, low), top)
    if stated is not None and abs(y - wanted) > SAME_POINT:
        least, most = (max(mouth - fast.lower - each, 1.0) for each in (top, low))
        told: dict[str, object] = {"piece": name, "what": fast.called, "reach": stated}
        return finding("flap-stud-off", part.source.at("reach"), **told, least=least, most=most)
    return ClosingPlace(part.stating("reach", mouth - fast.lower - y), fast, (hinge.middle, y))


def _free(laid: LaidBase, name: str, fast: Fastening) -> Region:
    """Where its middle may stand: all that is set in clear of edges and rows, and what goes over them on the
    piece."""
    body, rows = laid.flat(name)
    single = body.grown(-fast.room.edge).without(rows.grown(fast.room.stitch))
    over = [(x, y) for x in (-fast.beside, fast.beside) for y in (-fast.clear, fast.clear)]
    areas = [single.moved(Affine.shift(-x, -y)) for x, y in fast.at]
    areas += [body.moved(Affine.shift(-x, -y)) for x, y in over] if len(fast.at) > 1 else []
    return reduce(Region.common, areas)


def _beside(free: Region, x: float) -> float:
    """How far beside a place the nearest of what is free lies, less than nothing on its left."""
    sides = [[at[0] - x for at in ring] for ring in free.rings()]
    return min((min(side) if min(side) > 0 else max(side) for side in sides), key=abs)
