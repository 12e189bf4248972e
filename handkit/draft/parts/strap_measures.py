"""Strap measures: all that part and context tell of a strap, and what leaves no room.

In: a part, the pieces, rows and openings that it promised. Out: `Strap`, with the places along it from the
butt on; findings, each at the measure to change. What they allow is taken. All mm.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import pi

import msgspec

from handkit.draft.parts.drafted import PartContext
from handkit.draft.parts.keeper import Keeper, keeper_for
from handkit.draft.parts.padding import (
    LEAST_LONG,
    LEAST_WIDE,
    RAMP,
    Padding,
    default_width,
    first_padded,
    padded_along,
    spread_over,
)
from handkit.draft.sizes.strap_sizes import (
    BEHIND_BUTT,
    FIRST_HOLE,
    BuckleEnd,
    PointShape,
    RowSizes,
    along_for,
    buckle_end,
    girth_of,
    hole_girths,
    point_shape,
)
from handkit.findings import Finding, finding
from handkit.geometry.affine import Point
from handkit.kinds.openings import OPENINGS, Clearance, OpeningKind
from handkit.kinds.stitch_holes import EDGE_WIDTHS
from handkit.read.project import Part, Piece, Seam
from handkit.tolerances import SAME_POINT
from handkit.units import tenth_above, tenth_below

FROM_HOLE = 2.5  # widths from the last hole to the point (saddlery rule)

# So much of a strap's end goes on past its last fixed keeper, mm (common practice, no source).
PAST_KEEPER = 10.0

# Holes of a padded strap come nearer to one another than their girths by less than this.
PADDED = 1.05

# Leather beside the tongue's slot, mm: what a slot needs to an edge (`kinds/openings.py`).
SLOT_EDGE = OPENINGS[OpeningKind.SLOT].beside


class Strap(msgspec.Struct, frozen=True):
    """All that is known of a strap before it is drawn; x from the butt, all mm."""

    part: Part
    piece: Piece
    lining: Piece | None
    rows: tuple[Seam, ...]  # of the lower side, then of the upper one
    row: RowSizes
    end: BuckleEnd
    keepers: tuple[Keeper, ...]  # the fixed ones first
    hole: float  # a tongue hole's diameter
    clearance: Clearance  # what it needs
    lined_in: float  # the inset of the lining's row; 0 without one
    padding: Padding | None = None

    @property
    def width(self) -> float:
        """At the buckle."""
        return self.part.size("width")

    @property
    def aside(self) -> float:
        """How far the rows stand from the edge: the inset, and no nearer than holes may."""
        return max(self.row.inset, EDGE_WIDTHS * self.row.hole)

    @property
    def narrowest(self) -> float:
        """The least width where tongue holes are: they lie clear of the edge, and of a lining's row."""
        return 2 * max(self.clearance.edge, self.lined_in + self.clearance.stitch if self.lining else 0.0)

    @property
    def tip(self) -> float:
        """Its width at the point."""
        return self.part.length("tip") or self.width

    @property
    def between_rows(self) -> float:
        """From one side of the lining's row to the other where the strap is narrowest."""
        return min(self.width, self.tip) - 2 * self.lined_in

    @property
    def thick(self) -> float:
        """All that closes round the body, at the tongue holes."""
        return self.piece.thickness + (self.lining.thickness if self.lining else 0.0)

    @property
    def girth(self) -> tuple[float, float]:
        """The least and the most it is to close round."""
        return self.part.range("girth") or (0.0, 0.0)

    @property
    def usual(self) -> float:
        """What the middle hole closes round."""
        return self.part.length("usual") or sum(self.girth) / 2

    @property
    def girths(self) -> tuple[float, ...]:
        """Of the tongue holes, the least first; none where they have no room."""
        least, most = self.girth
        step = self.part.size("step")
        apart = self.clearance.apart * (PADDED if self.padding else 1.0)
        return hole_girths(least, most, usual=self.usual, step=step, apart=apart) or ()

    @property
    def holes(self) -> tuple[float, ...]:
        """Where the tongue holes are."""
        along = [along_for(each, self.end, thick=self.thick) for each in self.girths]
        pad = self.padding
        if pad is not None and along:
            padded = first_padded(along[0], pad.thickness, self.bare) - self.bare
            along = [padded_along(each, pad.thickness, max(padded, 0.0)) for each in along]
        return tuple(self.end.butt + each for each in along)

    @property
    def bare(self) -> float:
        """What of the way from the fold to the first hole has no padding."""
        return 0.0 if self.padding is None else self.padding.start - self.end.butt + self.padding.before

    @property
    def padded(self) -> float:
        """How long its padding is."""
        return 0.0 if self.padding is None else self.holes[0] - self.end.butt - self.bare

    @property
    def beyond(self) -> float:
        """From the last hole to the tip of the point."""
        return self.part.length("beyond") or max(FROM_HOLE * self.width, self.least_beyond)

    @property
    def least_beyond(self) -> float:
        """The last hole lies before the point, and buckled in it the end reaches past the fixed keepers."""
        past = [start + self.keepers[0].band + PAST_KEEPER for start in self.end.keepers]
        held = [far - (self.end.turn + self.end.bar) / 2 for far in past]
        return tenth_above(max([self.point.length + self.clearance.edge, *held]))

    @property
    def point(self) -> PointShape:
        """How it ends."""
        return point_shape(self.part.word("point"), self.tip)

    @property
    def length(self) -> float:
        """From butt to tip."""
        return self.holes[-1] + self.beyond

    @property
    def shoulder(self) -> Point:
        """Where the lower side ends, and the point begins."""
        tipped = self.point.length if self.point.tipped else 0.0
        return self.length - tipped, (self.width - self.tip) / 2

    @property
    def behind_butt(self) -> float:
        """Where the butt ends that is turned back, with a little room."""
        return 2 * self.end.butt + BEHIND_BUTT


def strap_of(part: Part, context: PartContext) -> Strap:
    """What part and context tell of a strap."""
    name, width = part.name, part.size("width")
    piece, lining = context.pieces[name], context.pieces.get(f"{name} lining")
    rows = tuple(
        seam for seam in context.seams.values() if [layer.piece for layer in seam.layers] == [name, name]
    )
    row = RowSizes(
        max(seam.stitching.pitch for seam in rows),
        max(seam.stitching.inset for seam in rows),
        max(seam.stitching.hole.width for seam in rows),
        max(seam.stitching.least_step for seam in rows),
    )
    stack = piece.thickness, lining.thickness if lining else 0.0
    keepers = tuple(
        keeper_for(
            part.length("band"), width, stack, context.pieces[each].thickness, context.seams[each].stitching
        )
        for each in keepers_of(part, context)
    )
    band = max((keeper.band for keeper in keepers), default=0.0)
    end = buckle_end(part.size("bar"), piece.thickness, width, row, [band] * part.count("keepers"))
    holes = context.openings[f"{name} holes"]
    inset = context.seams[f"{name} lining"].stitching.inset if lining else 0.0
    strap = Strap(part, piece, lining, rows, row, end, keepers, holes.diameter, holes.clearance, inset)
    layer = context.pieces.get(f"{name} padding")
    if layer is None or lining is None:
        return strap
    return msgspec.structs.replace(strap, padding=_padding(strap, layer.thickness, lining.thickness))


def _padding(strap: Strap, thickness: float, lining: float) -> Padding:
    """Between the rows."""
    base = strap.between_rows
    wide = strap.part.length("padding_width") or default_width(base, thickness)
    spread = spread_over(thickness, wide, base, lining) if LEAST_WIDE <= wide < base - lining else 0.0
    start = strap.behind_butt + 2 * strap.lined_in + RAMP
    return Padding(thickness, wide, start, strap.clearance.edge + RAMP, spread)


def keepers_of(part: Part, context: PartContext) -> list[str]:
    """The names of its keepers, the fixed ones first."""
    layers = (part.name, f"{part.name} lining", f"{part.name} padding")
    return [name for name in context.pieces if name not in layers]


def strap_faults(strap: Strap) -> Iterator[Finding]:
    """What leaves no room, what much hangs on first; the first of them is told."""
    at, least = strap.part.source.at, _least_width(strap)
    if strap.width < least - SAME_POINT:
        yield finding("strap-too-narrow/buckled", at("width"), strap=strap.width, least=least)
    yield from _girth_faults(strap)
    narrow = tenth_above(strap.narrowest)
    if not narrow - SAME_POINT <= strap.tip <= strap.width + SAME_POINT:
        yield finding("strap-tip", at("tip"), tip=strap.tip, least=narrow, most=strap.width)
    elif strap.beyond < (far := strap.least_beyond) - SAME_POINT:
        yield finding("strap-point-near", at("beyond"), beyond=strap.beyond, least=far)
    yield from _padding_faults(strap)
    for keeper in strap.keepers[:1]:
        if keeper.band < keeper.least - SAME_POINT:
            yield finding("keeper-too-narrow", at("band"), band=keeper.band, least=tenth_above(keeper.least))


def _padding_faults(strap: Strap) -> Iterator[Finding]:
    """A padding without a lining, without room between the rows, or without length before the holes."""
    part, pad = strap.part, strap.padding
    for key in ("padding", "padding_width"):
        if part.length(key) is not None and pad is None:
            bare = key == "padding" or not part.flag("lined")
            found = "padding-alone/lined" if bare else "padding-alone/padding"
            yield finding(found, part.source.at(key), key=key)
            return
    if pad is None or not strap.girths:
        return
    most = default_width(strap.between_rows, pad.thickness)
    if most < LEAST_WIDE - SAME_POINT:
        told = {"thick": pad.thickness, "room": strap.between_rows, "least": LEAST_WIDE}
        yield finding("padding-thick", part.source.at("padding"), **told)
    elif not LEAST_WIDE - SAME_POINT <= pad.width <= most + SAME_POINT:
        told = {"wide": pad.width, "least": LEAST_WIDE, "most": tenth_below(most)}
        yield finding("padding-wide", part.source.at("padding_width"), **told)
    elif strap.padded < LEAST_LONG - SAME_POINT:
        along = strap.bare + LEAST_LONG
        least = girth_of(along, strap.end, thick=strap.thick) - 2 * pi * pad.thickness * LEAST_LONG / along
        told = {"hole": strap.girths[0], "least": tenth_above(least)}
        yield finding("padding-short", part.source.at("girth"), **told)


def _least_width(strap: Strap) -> float:
    """So wide that the rows have two stitches' room between them and tongue holes lie clear of the edge."""
    rows = 2 * strap.aside + strap.row.least
    slot = strap.hole + 2 * SLOT_EDGE
    return tenth_above(max(rows, slot, strap.narrowest))


def _girth_faults(strap: Strap) -> Iterator[Finding]:
    """The first hole lies beyond the butt, the holes are far enough apart, the usual girth among them."""
    (least, most), at = strap.girth, strap.part.source.at
    if least > most:
        yield finding("strap-girth-turned", at("girth"), least=least, most=most)
        return
    if not least - SAME_POINT <= strap.usual <= most + SAME_POINT:
        yield finding("strap-usual", at("usual"), usual=strap.usual, least=least, most=most)
    elif not strap.girths:
        apart = strap.clearance.apart
        yield finding(
            "strap-holes-near", at("girth"), span=most - least, apart=apart, least=tenth_above(2 * apart)
        )
    else:
        first = strap.end.butt + FIRST_HOLE + strap.hole / 2
        smallest = tenth_above(girth_of(first, strap.end, thick=strap.thick))
        hole, usual = strap.girths[0], tenth_above((smallest + most) / 2)
        if hole >= smallest - SAME_POINT:
            return
        if strap.part.length("usual") is not None and strap.usual < usual - SAME_POINT:
            yield finding("strap-usual/near", at("usual"), usual=strap.usual, least=usual)
        else:
            key = "strap-girth" if strap.part.count("keepers") else "strap-girth/bare"
            yield finding(key, at("girth"), hole=hole, least=smallest)
