"""Roll strap: the strap with a buckle that closes a roll, sewn on its back by one row.

In: a roll's part, its context, where all is on its base. Out: what a strap drafts, the row on both, the
faults that only a roll has.

      D┌──────────────────────┐C     Seen from inside; the strap lies behind, its buckle beyond the edge that
       │ · · · · fold · · · · │      ends outside when it is rolled up. The row stands in the margin, where no
    <══╪═══ o o o ═══════╡⊐ ══╪══▯   tool lies, between the mouth and the flap's fold: through the base alone.
       ├──┊──┊──┊─────────────┤      Its turned end lies beyond the edge, its holes beyond the row.
      A└──┴──┴──┴─────────────┘B

Holes go from the least that any rolling could come to as far to the other side of the girth that it is
reckoned to have (`sizes/coil.py`).
"""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

import msgspec

from handkit.draft.parts.drafted import DraftedFitting, DraftedPart, DraftedSeam, PartContext
from handkit.draft.parts.strap import draft_strap
from handkit.draft.parts.strap_measures import Strap, strap_of
from handkit.draft.sizes.strap_sizes import FIRST_HOLE, girth_of
from handkit.draft.worn.end_rows import u_depth, u_row
from handkit.findings import Finding, finding
from handkit.geometry.affine import Point
from handkit.read.project import BUCKLE_STEP, InnerLine, Part
from handkit.tolerances import SAME_POINT
from handkit.units import tenth_above

BESIDE = 2.0  # leather or cloth between the row and what is turned in, the mouth, a tool's row, mm


class StrapPlace(msgspec.Struct, frozen=True):
    """Where a roll has room for it, mm: on its base between mouth and fold, in from the edge by what is
    turned or sewn there, in a margin that begins an inset beyond the last row; and the girth, tight and
    likely."""

    width: float
    mouth: float
    fold: float
    turned: float
    inset: float
    tight: float
    likely: float


class _Fixed(msgspec.Struct, frozen=True):
    """The strap with its row: from where to where along it, from its cut end."""

    strap: Strap
    start: float
    end: float
    aside: float

    @property
    def least(self) -> float:
        """The least girth that a hole beyond the row closes round."""
        first = self.end - self.strap.end.butt + FIRST_HOLE + self.strap.hole / 2
        return girth_of(first, self.strap.end, thick=self.strap.thick)


def draft_closing(part: Part, context: PartContext, place: StrapPlace) -> DraftedPart:
    """The strap with its row on the base as a base line; what leaves no room for it is refused."""
    own = part.closing_strap
    pieces = {name: piece for name, piece in context.pieces.items() if name.startswith(own.name)}
    inner = PartContext(None, pieces, context.seams, context.openings)
    place = msgspec.structs.replace(place, turned=max(place.turned, context.seams[own.name].stitching.inset))
    fixed = _fixed(own, inner, place.turned + BESIDE)
    fault = next(_faults(part, fixed, place), None)
    if fault is not None:
        return DraftedPart(findings=(fault,))
    girth = own.range("girth") or _girth(fixed, place)
    given = draft_strap(own.stating("girth", girth), (), inner)
    if not given.pieces:
        return DraftedPart(findings=tuple(_at_own_keys(part, each) for each in given.findings))
    across = u_row(fixed.strap.width, fixed.aside, fixed.end - fixed.start, 0.0)
    row = tuple((fixed.start + y - fixed.aside, x) for x, y in across)
    at = place.width - place.turned - BESIDE + fixed.start, (place.mouth + place.fold - fixed.strap.width) / 2
    body, *keepers = given.pieces
    sewn = msgspec.structs.replace(body, at=at, lines=(*body.lines, InnerLine(own.name, row)))
    buckle = DraftedFitting(f"{own.name} buckle", girth=girth)
    return msgspec.structs.replace(
        given,
        pieces=(sewn, *keepers),
        base_lines=(InnerLine(own.name, tuple(_behind(at, each) for each in row)),),
        seams=(*given.seams, DraftedSeam(own.name)),
        fittings=(*given.fittings, buckle),
    )


def _fixed(own: Part, inner: PartContext, off: float) -> _Fixed:
    """The row in a U, closed towards the buckle; so far from the turned end as it stands in from the edge of
    the roll, beyond which that lies."""
    strap, sewn = strap_of(own, inner), inner.seams[own.name].stitching
    aside = max(sewn.inset, strap.aside)
    start = strap.behind_butt + off
    return _Fixed(strap, start, start + u_depth(strap.width, sewn), aside)


def _girth(fixed: _Fixed, place: StrapPlace) -> tuple[float, float]:
    """From as tight as can be to as loose; where that is less than the strap closes round, from there on."""
    likely = ceil(place.likely)
    half = ceil(max(2 * BUCKLE_STEP, likely - place.tight))
    usual = max(likely, ceil(fixed.least + half))
    return float(usual - half), float(usual + half)


def _behind(at: Point, own: Point) -> Point:
    """A place of what lies turned over behind, on what it lies on."""
    return at[0] - own[0], at[1] + own[1]


def _faults(part: Part, fixed: _Fixed, place: StrapPlace) -> Iterator[Finding]:
    """A margin or a space below the fold without room, a roll too thin for a strap with a buckle."""
    where, wide, own = part.source.at, fixed.strap.width, part.range("girth")
    room, least = place.fold - place.mouth, max(wide, wide - 2 * fixed.aside + 2 * BESIDE)
    if room < least - SAME_POINT:
        yield finding("roll-eye/strap", where("shows"), room=room, least=least)
    margin = place.turned + fixed.end - fixed.start + 2 * BESIDE - place.inset
    if part.size("margin") < margin - SAME_POINT:
        told = {"margin": part.size("margin"), "least": tenth_above(margin)}
        yield finding("roll-margin/strap", where("margin"), **told)
    if own is not None and own[0] < fixed.least - SAME_POINT:
        yield finding("roll-girth", where("girth"), girth=own[0], least=tenth_above(fixed.least))
    elif own is None and place.likely < fixed.least - SAME_POINT:
        told = {"girth": place.likely, "least": tenth_above(fixed.least)}
        yield finding("roll-thin", where("closed_by"), **told)


def _at_own_keys(part: Part, told: Finding) -> Finding:
    """What a strap of its own would be told at its width is told at the roll's key for it."""
    if told.where.key.rpartition(": ")[2] != "width":
        return told
    return msgspec.structs.replace(told, where=part.source.at("inside"))
