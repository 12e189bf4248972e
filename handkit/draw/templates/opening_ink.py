"""Opening ink: every rivet's, snap's, eyelet's and tongue's hole and every slot at true size.

In: a view and the openings. Out: `ShownOpening` in the sheet's frame, and their marks: the rim, a
small cross at its centre that stays inside it, and thinly the cap that will cover it. So an opening is an
open ring, and is not taken for a registration mark, which is half black and has arms past its ring.
"""

from __future__ import annotations

from math import cos, pi, radians, sin, tan

import msgspec

from handkit.draft.pattern import PatternOpening, PlacedOpening
from handkit.draw.model import tags
from handkit.draw.model.marks import Ink, Mark
from handkit.draw.model.path_ops import PathOps, circle_ops, cross_ops, path_ops
from handkit.draw.model.view import View
from handkit.draw.words.names import Codes
from handkit.geometry.affine import Affine, Point
from handkit.geometry.path import Path
from handkit.geometry.segment import Segment
from handkit.ink import CAP, CROSS, STROKES, Tag
from handkit.kinds.openings import OpeningShape
from handkit.punch.punched import Punched
from handkit.read.project import Opening

# How far the centre cross reaches from its middle: a share of the rim's least radius, no further than this.
CROSS_SHARE = 0.5
CROSS_REACH = 1.0


class ShownOpening(msgspec.Struct, frozen=True):
    """An opening on the sheet; `length` is its direction of length, a unit vector."""

    opening: Opening
    code: str
    place: PlacedOpening
    at: Point
    along: Point


def shown_openings(view: View, punched: Punched, codes: Codes) -> tuple[ShownOpening, ...]:
    """The openings of a window, in the file's order."""
    return tuple(
        _shown(view, pattern, codes.openings[pattern.name], place)
        for pattern in punched.pattern.openings
        for place in pattern.places
        if place.piece == view.piece.name and view.holds(place.at)
    )


def opening_marks(view: View, shown: ShownOpening) -> tuple[Mark, ...]:
    """Cap, centre cross and rim of an opening."""
    opening = shown.opening
    rim = Ink(_rim(shown), STROKES[Tag.OPENING])
    properties = tags.opening(
        view.properties,
        name=opening.name,
        place=shown.place.number,
        diameter=float(opening.diameter),
        length=float(opening.length),
    )
    cross = Mark(Tag.CENTRE, view.properties, (centre_cross(shown.at, shown.along, opening.diameter),))
    return (*_cap(view, shown), cross, Mark(Tag.OPENING, properties, (rim,)))


def centre_cross(at: Point, along: Point, diameter: float) -> Ink:
    """The place to prick through the paper; one arm lies along a slot."""
    arm, (dx, dy) = min(CROSS_REACH, CROSS_SHARE * diameter / 2), along
    return Ink(cross_ops(at, (dx * arm, dy * arm), (-dy * arm, dx * arm)), CROSS)


def slot_path(length: float, width: float) -> Path:
    """A slot with round ends about the origin, its length along x, over all `length` long."""
    half, r, bulge = (length - width) / 2, width / 2, tan(pi / 4)
    if half <= 0:
        return Path((Segment((-r, 0), (r, 0), bulge), Segment((r, 0), (-r, 0), bulge)), closed=True)
    return Path(
        (
            Segment((-half, -r), (half, -r)),
            Segment((half, -r), (half, r), bulge),
            Segment((half, r), (-half, r)),
            Segment((-half, r), (-half, -r), bulge),
        ),
        closed=True,
    )


def keyed_path(length: float, width: float) -> Path:
    """A hole about its middle, `length` with a cut on from it along x: in one line, from the cut's end."""
    half, r = max(length - width, 0.0) / 2, width / 2
    rim, far = (r - half, 0.0), (-r - half, 0.0)
    return Path((Segment((half + r, 0), rim), Segment(rim, far, 1.0), Segment(far, rim, 1.0)))


def long_rim(opening: Opening, at: Point, along: Point) -> PathOps:
    """The rim of what is not round, its length along a unit vector."""
    (x, y), (dx, dy) = at, along
    return path_ops(long_path(opening).moved(Affine(dx, dy, -dy, dx, x, y)))


def long_path(opening: Opening) -> Path:
    """That of a slot or a buttonhole about the origin, its length along x."""
    made = slot_path if opening.traits.shape is OpeningShape.SLOT else keyed_path
    return made(opening.length, opening.diameter)


def _shown(view: View, pattern: PatternOpening, code: str, place: PlacedOpening) -> ShownOpening:
    angle = radians(place.degrees)
    along = view.to_sheet.apply_direction((cos(angle), sin(angle)))
    return ShownOpening(pattern.opening, code, place, view.to_sheet.apply(place.at), along)


def _rim(shown: ShownOpening) -> PathOps:
    opening = shown.opening
    if not opening.traits.long:
        return circle_ops(shown.at, opening.diameter / 2)
    return long_rim(opening, shown.at, shown.along)


def _cap(view: View, shown: ShownOpening) -> tuple[Mark, ...]:
    """What covers the opening, where it is wider than the hole."""
    if shown.opening.cap <= shown.opening.diameter:
        return ()
    return (Mark(Tag.ONTOP, view.properties, (Ink(circle_ops(shown.at, shown.opening.cap / 2), CAP),)),)
