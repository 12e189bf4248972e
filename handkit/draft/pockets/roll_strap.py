"""Roll strap: the strap with a buckle that closes a roll, sewn on its back by one row.

In: a roll's part, its context, where all is on its base. Out: what a strap drafts, the row on both, the
faults that only a roll has.

      D┌──────────────────────┐C     Seen from inside; the strap lies behind, its buckle beyond the edge that
       │ · · · · fold · · · · │      ends outside when it is rolled up. The row stands in the margin, where no
    <══╪═══ o o o ═══════╡⊐ ══╪══▯   tool lies, between the mouth and the flap's fold: through the base alone.
       ├──┊──┊──┊─────────────┤      Its turned end lies beyond the edge, its holes beyond the row.
      A└──┴──┴──┴─────────────┘B

Holes go from the least that any rolling could come to as far to the other side of the girth that it is
reckoned to have (`sizes/coil.py`). Round what is too thin for the buckle's end and that row the strap goes
twice, or as often as it takes.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, pi

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


class Fixed(msgspec.Struct, frozen=True):
    """The strap with its row: from where to where along it, from its cut end; how far that stands in from
    its edges, how far what lies along the roll's edge reaches in."""

    strap: Strap
    start: float
    end: float
    aside: float
    turned: float

    @property
    def room(self) -> float:
        """What it takes of the roll between mouth and fold."""
        return max(self.strap.width, self.strap.width - 2 * self.aside + 2 * BESIDE)

    @property
    def margin(self) -> float:
        """What it takes beside the last tool's row."""
        return self.turned + self.end - self.start + 2 * BESIDE

    @property
    def least(self) -> float:
        """The least girth that a hole beyond the row closes round."""
        first = self.end - self.strap.end.butt + FIRST_HOLE + self.strap.hole / 2
        return girth_of(first, self.strap.end, thick=self.strap.thick)

    def turns(self, girth: float) -> int:
        """How often it goes round a roll to its holes."""
        return max(1, ceil(self.least / girth))


def fixed_strap(part: Part, context: PartContext, turned: float) -> Fixed:
    """The row in a U, closed towards the buckle; so far from the turned end as it stands in from the edge of
    the roll, beyond which that lies. So much is `turned` or sewn there."""
    own = part.closing_strap
    inner = _inner(own, context)
    strap, sewn = strap_of(own, inner), inner.seams[own.name].stitching
    aside, turned = max(sewn.inset, strap.aside), max(turned, sewn.inset)
    start = strap.behind_butt + turned + BESIDE
    return Fixed(strap, start, start + u_depth(strap.width, sewn), aside, turned)


def _inner(own: Part, context: PartContext) -> PartContext:
    """What the strap by itself is drafted on."""
    pieces = {name: piece for name, piece in context.pieces.items() if name.startswith(own.name)}
    return PartContext(None, pieces, context.seams, context.openings)


def draft_closing(part: Part, context: PartContext, place: StrapPlace) -> DraftedPart:
    """The strap with its row on the base as a base line; what leaves no room for it is refused."""
    own, fixed = part.closing_strap, fixed_strap(part, context, place.turned)
    inner = _inner(own, context)
    fault = next(_faults(part, fixed, place), None)
    if fault is not None:
        return DraftedPart(findings=(fault,))
    girth = own.range("girth") or _girth(fixed, place)
    given = draft_strap(own.stating("girth", girth), (), inner)
    if not given.pieces:
        return DraftedPart(findings=tuple(_at_own_keys(part, each) for each in given.findings))
    across = u_row(fixed.strap.width, fixed.aside, fixed.end - fixed.start, 0.0)
    row = tuple((fixed.start + y - fixed.aside, x) for x, y in across)
    at = place.width - fixed.turned - BESIDE + fixed.start, (place.mouth + place.fold - fixed.strap.width) / 2
    body, *keepers = given.pieces
    turns = 1 if own.range("girth") else fixed.turns(place.likely)
    often = "twice" if turns == 2 else f"{turns} times"
    note = f"{body.note}; it goes round the roll {often}" if turns > 1 else body.note
    sewn = msgspec.structs.replace(body, at=at, lines=(*body.lines, InnerLine(own.name, row)), note=note)
    buckle = DraftedFitting(f"{own.name} buckle", girth=girth)
    return msgspec.structs.replace(
        given,
        pieces=(sewn, *keepers),
        base_lines=(InnerLine(own.name, tuple(_behind(at, each) for each in row)),),
        seams=(*given.seams, DraftedSeam(own.name)),
        fittings=(*given.fittings, buckle),
    )


def _girth(fixed: Fixed, place: StrapPlace) -> tuple[float, float]:
    """From as tight as can be to as loose, all its turns together, each on the one before; where that is less
    than the strap closes round, from there on."""
    turns = fixed.turns(place.likely)
    likely = ceil(turns * place.likely + turns * (turns - 1) * pi * fixed.strap.thick)
    half = ceil(max(2 * BUCKLE_STEP, likely - turns * place.tight))
    usual = max(likely, ceil(fixed.least + half))
    return float(usual - half), float(usual + half)


def _behind(at: Point, own: Point) -> Point:
    """A place of what lies turned over behind, on what it lies on."""
    return at[0] - own[0], at[1] + own[1]


def _faults(part: Part, fixed: Fixed, place: StrapPlace) -> Iterator[Finding]:
    """A margin without room, a girth that is too small."""
    where, own = part.source.at, part.range("girth")
    margin = fixed.margin - place.inset
    if part.size("margin") < margin - SAME_POINT:
        told = {"margin": part.size("margin"), "least": tenth_above(margin)}
        yield finding("roll-margin/strap", where("margin"), **told)
    if own is not None and own[0] < fixed.least - SAME_POINT:
        yield finding("roll-girth", where("girth"), girth=own[0], least=tenth_above(fixed.least))


def _at_own_keys(part: Part, told: Finding) -> Finding:
    """What a strap of its own would be told at its width is told at the roll's key for it."""
    if told.where.key.rpartition(": ")[2] != "width":
        return told
    return msgspec.structs.replace(told, where=part.source.at("inside"))
