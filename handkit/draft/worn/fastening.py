"""Fastening: what closes a flap, on the flap and on what it comes down on.

In: a flap's part, its context, where both are. Out: openings, a tab, a strap with its loop.

    snap    a cap in the flap, its stud on what that closes on
    tab     the same, the cap in a tab that is riveted on the flap's end
    stud    a buttonhole in the flap, its cut towards the fold: the flap pulls the hole against the stud
    strap   sewn on the flap's end, it goes through a loop that is riveted on what it closes on

       │ flap   │      The loop goes over the strap as one for a belt does: so much longer than its place
       │   ·    │      between the rivets as the hull rule says.
       ╰───·────╯
       ·══│ │══·  loop
          ╰─╯
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import msgspec

from handkit.draft.parts.drafted import DraftedOpening, DraftedPart, DraftedPiece, DraftedRoom, PartContext
from handkit.draft.parts.item_fit import ease_for
from handkit.draft.parts.keeper import BAND
from handkit.draft.parts.outlines import rectangle_corners
from handkit.draft.parts.rooms import draped, pocket_place
from handkit.draft.pattern import RoomProfile
from handkit.draft.sizes.belt_ways import belt_section, upright_span, upright_way
from handkit.draft.sizes.section import Section
from handkit.draft.worn.end_rows import u_depth, u_row
from handkit.findings import Finding, finding
from handkit.geometry.affine import Affine, Point
from handkit.kinds.openings import Clearance
from handkit.read.project import InnerLine, Part
from handkit.tolerances import SAME_POINT

# Between a snap's cap and a rivet's, mm, so that both can be set (common practice, no source).
CAPS_APART = 2.0

# A tab no thicker than this, mm, so that a common snap's post goes through it and the flap (common practice).
TAB = 1.6

# From a flap's end to the loop of its strap, mm, and what of the strap's end is straight beyond that loop
# (common practice, no source).
LOOP_GAP, PAST_LOOP = 6.0, 5.0

# What each is called in findings.
CALLED = {"snap": "snap", "tab": "snap", "stud": "button stud", "strap": "loop"}

# Beside which of its words keys of what closes a flap mean something; with rivets at its hinge.
HINGED_KEYS: Mapping[str, tuple[str, ...]] = {
    **dict.fromkeys(("snap_hole", "snap_cap"), ("snap", "tab")),
    **dict.fromkeys(("stud_hole", "stud_neck", "stud_head"), ("stud",)),
    **dict.fromkeys(("strap", "band"), ("strap",)),
}
CLOSING_KEYS = {**HINGED_KEYS, **dict.fromkeys(("rivet_hole", "rivet_cap"), ("tab", "strap"))}


class Fastening(msgspec.Struct, frozen=True):
    """Where a flap's fastening is, mm.

    On what it closes on: how far its middle keeps off edges to the sides and up and down, where about that
    what is set in stands `at`, and the `room` that each of those needs; how far below the `reach` it is. On
    the flap: how far that goes on beyond it, less than nothing where a strap does; how long a cut is; how far
    `towards` the fold it takes the flap, and how wide that has to be. `under` is how far a strap hangs down
    below its loop's middle.
    """

    called: str
    beside: float
    clear: float
    room: Clearance
    at: tuple[Point, ...] = ((0.0, 0.0),)
    lower: float = 0.0
    tail: float = 0.0
    cut: float = 0.0
    towards: float = 0.0
    wide: float = 0.0
    under: float = 0.0


class Ends(msgspec.Struct, frozen=True):
    """The places that meet: on the flap's piece, and on what it closes on, whose frame `lie` leads to the
    plan; the flap goes on by its `tail`. What is put on its outside lies `behind` its piece where that is
    the far side."""

    on: str
    at: Point
    to: str
    stud: Point
    lie: Affine
    tail: float
    behind: bool = False

    def left(self, wide: float) -> float:
        """Where the origin of what is so wide stands across the flap's piece: turned over, on its right."""
        return self.at[0] + (wide / 2 if self.behind else -wide / 2)


class _Loop(msgspec.Struct, frozen=True):
    """The loop over a flap's strap: from rivet to rivet on its base, on its own middle, and end to end."""

    band: float
    span: float
    way: float
    end: float


def fastening_of(part: Part, context: PartContext) -> Fastening:
    """What its closing takes."""
    word, below = part.word("closed_by"), part.size("below")
    if word == "strap":
        return _strapped(part, context)
    room = context.openings[f"{part.name} stud"].clearance
    fast = Fastening(CALLED[word], room.edge, room.edge, room, tail=max(below, room.edge))
    if word == "stud":
        hole = context.openings[f"{part.name} hole"]
        own, cut = hole.clearance.edge, 2 * hole.half_straight
        tail, towards = max(fast.tail, own), cut + own
        return msgspec.structs.replace(fast, tail=tail, cut=cut, towards=towards, wide=2 * own)
    own = context.openings[f"{part.name} cap"].clearance.edge
    if word == "tab":
        tab = _tab_of(part, context)
        return msgspec.structs.replace(fast, tail=room.edge, towards=tab.top, wide=tab.wide)
    return msgspec.structs.replace(fast, towards=own, wide=2 * own)


def _strapped(part: Part, context: PartContext) -> Fastening:
    """Its loop's two rivets, the flap's end above it, and the row that holds the strap there."""
    loop, sewn = _loop_of(part, context), context.seams[f"{part.name} strap"].stitching
    past, half = loop.band / 2 + LOOP_GAP, loop.span / 2
    return Fastening(
        "loop",
        half + loop.end,
        loop.band / 2,
        context.openings[f"{part.name} rivets"].clearance,
        ((-half, 0.0), (half, 0.0)),
        lower=past,
        tail=-past,
        towards=past + _row_off(part, context) + u_depth(part.size("strap"), sewn) + sewn.inset,
        wide=part.size("strap"),
        under=_hangs(part, loop),
    )


def _row_off(part: Part, context: PartContext) -> float:
    """How far off the flap's end the row of its strap ends; of a bag's flap with a hem a stitch off the row
    of that."""
    sewn, hem = context.seams[f"{part.name} strap"].stitching, context.seams.get(f"{part.name} flap, hem")
    return sewn.inset if hem is None else hem.stitching.inset + sewn.pitch


def _hangs(part: Part, loop: _Loop) -> float:
    """How far a strap hangs down below its loop's middle."""
    return loop.band / 2 + max(part.size("below"), part.size("strap") / 2 + PAST_LOOP)


def fastened(given: DraftedPart, part: Part, context: PartContext, ends: Ends) -> DraftedPart:
    """A flap with what closes it."""
    word = part.word("closed_by")
    if word == "strap":
        return _with_strap(given, part, context, ends)
    stud = DraftedOpening(f"{part.name} stud", ((ends.to, (ends.lie.inverse().apply(ends.stud),)),))
    if word == "stud":
        x, y = ends.at
        half = context.openings[f"{part.name} hole"].half_straight
        return _with(given, DraftedOpening(f"{part.name} hole", ((ends.on, ((x, y - half),)),)), stud)
    given = _with(given, DraftedOpening(f"{part.name} cap", ((ends.on, (ends.at,)),)), stud)
    return _with_tab(given, part, context, ends) if word == "tab" else given


def _with(given: DraftedPart, *more: DraftedOpening) -> DraftedPart:
    return msgspec.structs.replace(given, openings=(*given.openings, *more))


class _Tab(msgspec.Struct, frozen=True):
    """A tab: how wide, from its snap up to the rivets and to its upper end, and down to the other; between
    the rivets."""

    wide: float
    above: float
    top: float
    below: float
    apart: float


def _tab_of(part: Part, context: PartContext) -> _Tab:
    snap = context.openings[f"{part.name} cap"].clearance
    rivet = context.openings[f"{part.name} rivets"].clearance
    above = part.size("snap_cap") / 2 + part.size("rivet_cap") / 2 + CAPS_APART
    wide = max(2 * rivet.edge + rivet.apart, 2 * snap.edge)
    return _Tab(wide, above, above + rivet.edge, max(part.size("below"), snap.edge), rivet.apart)


def _with_tab(given: DraftedPart, part: Part, context: PartContext, ends: Ends) -> DraftedPart:
    """With a tab on the side of the flap that shows: two rivets side by side above the snap, and below it
    what is pulled."""
    (x, y), made = ends.at, _tab_of(part, context)
    usual = context.openings[f"{part.name} stud"].clearance.edge
    places = tuple((x + side * made.apart / 2, y - made.above) for side in (-1, 1))
    name = f"{part.name} tab"
    below = made.below + ends.tail - usual
    tab = DraftedPiece(
        name,
        rectangle_corners(made.wide, made.top + below, foot=0.0, mouth=min(made.wide / 2, below)),
        at=(ends.left(made.wide), y - made.top),
        thickness=min(context.pieces[name].thickness, TAB),
    )
    given = _with(given, DraftedOpening(f"{part.name} rivets", ((ends.on, places),)))
    return msgspec.structs.replace(given, pieces=(*given.pieces, tab))


def _loop_of(part: Part, context: PartContext) -> _Loop:
    """So long over the strap as it needs, its ends riveted."""
    section, thickness = _strap_section(part, context)
    wide, edge = part.size("strap"), context.openings[f"{part.name} rivets"].clearance.edge
    cap = part.size("rivet_cap") / 2
    band = part.length("band") or max(round(BAND * wide), 2 * edge)
    span, way = upright_span(section, thickness), upright_way(section, thickness)
    return _Loop(band, span + 2 * cap, way + 2 * cap, edge)


def fastening_faults(part: Part, context: PartContext) -> Iterator[Finding]:
    """A head that is no larger than its neck, a strap or a loop too narrow for its rivets."""
    at, word = part.source.at, part.word("closed_by")
    if word == "stud":
        yield from stud_faults(part)
    if word != "strap":
        return
    wide, sewn = part.size("strap"), context.seams[f"{part.name} strap"].stitching
    if wide < (least := 2 * sewn.inset + sewn.pitch) - SAME_POINT:
        fault = finding("strap-too-narrow", at("strap"), strap=wide, least=least)
        yield fault.once(*context.pitches(part))
    band, least = part.length("band"), 2 * context.openings[f"{part.name} rivets"].clearance.edge
    if band is not None and band < least - SAME_POINT:
        yield finding("strap-too-narrow/band", at("band"), band=band, least=least)


def stud_faults(part: Part) -> Iterator[Finding]:
    """A head that is no larger than its neck."""
    head, neck = part.size("stud_head"), part.size("stud_neck")
    if head < neck + SAME_POINT:
        yield finding("stud-head-small", part.source.at("stud_head"), head=head, neck=neck)


def _with_strap(given: DraftedPart, part: Part, context: PartContext, ends: Ends) -> DraftedPart:
    """With a strap on the flap's end, sewn there in a U, and the loop that it goes through."""
    loop, wide = _loop_of(part, context), part.size("strap")
    sewn, (_, y) = context.seams[f"{part.name} strap"].stitching, ends.at
    inset, depth = sewn.inset, u_depth(wide, sewn)
    top, low = y + ends.tail - _row_off(part, context) - depth - inset, y + _hangs(part, loop)
    strap = DraftedPiece(
        f"{part.name} strap",
        rectangle_corners(wide, low - top, foot=0.0, mouth=wide / 2),
        lines=(InnerLine(f"{part.name} strap", u_row(wide, inset, depth, 0.0)),),
        at=(ends.left(wide), top),
    )
    back, long = ends.lie.inverse(), loop.way + 2 * loop.end
    over = DraftedPiece(
        f"{part.name} loop",
        rectangle_corners(long, loop.band, foot=0.0, mouth=0.0),
        at=back.apply((ends.stud[0] - long / 2, ends.stud[1] - loop.band / 2)),
        turn_degrees=back.way(0.0),
        note="the strap goes under it, and holds by friction alone",
        grain_degrees=0.0,
    )
    studs = tuple(back.apply((ends.stud[0] + side * loop.span / 2, ends.stud[1])) for side in (-1, 1))
    own = tuple((long / 2 + side * loop.way / 2, loop.band / 2) for side in (-1, 1))
    riveted = DraftedOpening(f"{part.name} rivets", ((f"{part.name} loop", own), (ends.to, studs)))
    given = _with(given, riveted)
    room = _over_strap(part, context, ends, loop)
    return msgspec.structs.replace(given, pieces=(*given.pieces, strap, over), rooms=(*given.rooms, room))


def _over_strap(part: Part, context: PartContext, ends: Ends, loop: _Loop) -> DraftedRoom:
    """Where the loop stands on what the flap closes on: tight over the strap, down at both its rivets."""
    band, wide = loop.band, loop.span + 2 * loop.end
    section, _ = _strap_section(part, context)
    over = draped([(section, wide / 2)], loop.end, loop.end + loop.span)
    inside = ((0.0, 0.0), *over, (wide, 0.0))
    lie = ends.lie.inverse() @ Affine.shift(ends.stud[0] - wide / 2, ends.stud[1] - band / 2)
    place, profiles = pocket_place(wide, band), (RoomProfile(0.0, inside), RoomProfile(band, inside))
    strap = f"{part.name} strap"
    return DraftedRoom(f"{part.name} loop", place, (), profiles, ends.to, lie, passes=strap)


def _strap_section(part: Part, context: PartContext) -> tuple[Section, float]:
    """The strap with its ease, and how thick its loop is."""
    strap, piece = (context.pieces[f"{part.name} {word}"] for word in ("strap", "loop"))
    wide = part.size("strap")
    return belt_section(wide, strap.thickness, ease_for(part, piece.material, wide).wanted), piece.thickness
