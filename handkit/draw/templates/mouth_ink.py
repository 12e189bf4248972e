"""Mouth ink: the extra holes past a mouth, into which turns of a thread round the edge go.

In: the plan, a view. Out: `Extra` holes, their marks and their texts. An extra hole is a point in a
saltire, ×, so that it is taken neither for a stitch hole (a tick) nor for an opening (a rim).
"""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, pi, sin

import msgspec

from handkit.draw.model.marks import Ink, Mark, Words
from handkit.draw.model.path_ops import dot_ops, joined, line_ops
from handkit.draw.model.placing import Site, put
from handkit.draw.model.view import View
from handkit.draw.words.names import Codes
from handkit.geometry.affine import Point
from handkit.ink import HOLE_POINT_DIAMETER, STROKES, Tag
from handkit.stitch.plan import StitchPlan

ARM = 1.3
REACHES = (5.0, 6.5, 8.0, 10.0, 13.0)
DIRECTIONS = 16


class Extra(msgspec.Struct, frozen=True):
    """One extra hole: the seam's short name, the piece and the place in its frame."""

    code: str
    piece: str
    at: Point


def extra_holes(plan: StitchPlan, codes: Codes) -> tuple[Extra, ...]:
    """All extra holes, by seam, the start's first."""
    return tuple(
        Extra(codes.seams[seam.name], mouth.base, mouth.at)
        for seam in plan.seams
        for mouth in seam.mouths
        if mouth.at is not None
    )


def seen_extras(view: View, extras: tuple[Extra, ...]) -> tuple[Extra, ...]:
    """Those that lie in a window."""
    return tuple(extra for extra in extras if extra.piece == view.piece.name and view.holds(extra.at))


def extra_mark(view: View, extra: Extra) -> Mark:
    """The point and its saltire."""
    return Mark(Tag.CENTRE, view.properties, saltire(view.to_sheet.apply(extra.at)))


def saltire(at: Point) -> tuple[Ink, Ink]:
    """A point in an ×."""
    x, y = at
    cross = joined(
        (
            line_ops((x - ARM, y - ARM), (x + ARM, y + ARM)),
            line_ops((x - ARM, y + ARM), (x + ARM, y - ARM)),
        )
    )
    return (Ink(cross, STROKES[Tag.HOLE]), Ink(dot_ops(at, HOLE_POINT_DIAMETER)))


def extra_text_marks(view: View, seen: tuple[Extra, ...], site: Site) -> tuple[Mark, ...]:
    """Beside each the seam that it belongs to."""
    words: list[Words] = []
    for extra in seen:
        found = put(site, f"{extra.code} turn", _round(view.to_sheet.apply(extra.at)))
        words.extend([found] if found is not None else [])
    return (Mark(Tag.LABEL, view.properties, tuple(words)),) if words else ()


def _round(at: Point) -> Iterator[Point]:
    for reach in REACHES:
        for k in range(DIRECTIONS):
            angle = 2 * pi * k / DIRECTIONS
            yield (at[0] + reach * 1.4 * cos(angle), at[1] + reach * sin(angle))
