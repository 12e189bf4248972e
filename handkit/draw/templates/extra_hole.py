"""Extra holes past a mouth, into which turns of a thread round the edge go.

In: the plan, a view. Out: `ExtraHole`s, their marks and their texts. An extra hole is a point in a
saltire, ×, so that it is taken neither for a stitch hole (a tick) nor for an opening (a rim).
"""

from __future__ import annotations

import msgspec

from handkit.draw.model.free_space import FreeSpace
from handkit.draw.model.label_search import circles, put
from handkit.draw.model.marks import Ink, Mark
from handkit.draw.model.path_ops import cross_ops, dot_ops
from handkit.draw.model.view import View
from handkit.draw.words.names import Codes
from handkit.geometry.affine import Point
from handkit.ink import HOLE_POINT_DIAMETER, STROKES, Tag
from handkit.stitch.plan import StitchPlan

ARM = 1.3

# How far from an extra hole its text may stand, and how much wider than high that ring of places is.
REACHES = (5.0, 6.5, 8.0, 10.0, 13.0)
STRETCH = 1.4


class ExtraHole(msgspec.Struct, frozen=True):
    """One extra hole: the seam's short name, the piece and the place in its frame."""

    code: str
    piece: str
    at: Point


def extra_holes(plan: StitchPlan, codes: Codes) -> tuple[ExtraHole, ...]:
    """All extra holes, by seam, the start's first."""
    return tuple(
        ExtraHole(codes.seams[seam.name], mouth.base, mouth.at)
        for seam in plan.seams
        for mouth in seam.mouths
        if mouth.at is not None
    )


def shown_extras(view: View, extras: tuple[ExtraHole, ...]) -> tuple[ExtraHole, ...]:
    """Those that lie in a window."""
    return tuple(extra for extra in extras if extra.piece == view.piece.name and view.holds(extra.at))


def extra_mark(view: View, extra: ExtraHole) -> Mark:
    """The point and its saltire."""
    return Mark(Tag.CENTRE, view.properties, saltire(view.to_sheet.apply(extra.at)))


def saltire(at: Point) -> tuple[Ink, Ink]:
    """A point in an ×."""
    cross = cross_ops(at, (ARM, ARM), (ARM, -ARM))
    return (Ink(cross, STROKES[Tag.HOLE]), Ink(dot_ops(at, HOLE_POINT_DIAMETER)))


def extra_text_marks(view: View, extras: tuple[ExtraHole, ...], space: FreeSpace) -> tuple[Mark, ...]:
    """Beside each the seam that it belongs to."""
    return view.label(
        words
        for extra in extras
        for words in put(
            space, f"{extra.code} turn", circles(view.to_sheet.apply(extra.at), REACHES, stretch=STRETCH)
        )
    )
