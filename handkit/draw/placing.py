"""Placing: a text is set where it lies on no line, no hole and no other text.

In: the grounds of a sheet, candidates for a place in the order of liking. Out: `Words`, and their
cells taken.

A text first looks for room inside its own piece; only what must be there (a name, a hole 1) may go
to bare paper outside every piece. What finds no room is left out rather than printed over a mark.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from handkit.draw.fonts import CAPITAL, LEAST_SIZE, Fonts
from handkit.draw.ground import Box, Ground
from handkit.draw.join_ink import beyond
from handkit.draw.lettering import DESCENT, centred
from handkit.draw.marks import Group, Ink, Words
from handkit.draw.view import View
from handkit.geometry.affine import Point
from handkit.sheets.laid import Join

# Free paper kept round a text, and round a line's own width.
AIR = 0.5


@dataclass(frozen=True, slots=True)
class Grounds:
    """A whole sheet's: `busy` has all that is drawn, `hard` only what must never be written over
    (cut lines, holes, openings, texts), `outer` the insides of all pieces."""

    busy: Ground
    hard: Ground
    outer: Ground


@dataclass(frozen=True, slots=True)
class Site:
    """Where a window's texts may go: `inner` has all taken but the inside of its part of the piece."""

    sheet: Grounds
    inner: Ground
    fonts: Fonts

    def free(self, box: Box, *, outside: bool = False, over_lines: bool = False) -> bool:
        """Whether a text may stand in a box."""
        wide = box.grown(AIR)
        ground = self.sheet.hard if over_lines else self.sheet.busy
        return ground.is_free(wide) and (self.sheet.outer if outside else self.inner).is_free(wide)

    def take(self, box: Box) -> None:
        """Nothing else comes here."""
        self.sheet.busy.take(box)
        self.sheet.hard.take(box)


def site_of(view: View, joins: Iterable[Join], sheet: Grounds, fonts: Fonts) -> Site:
    """A window's site on its sheet: the inside of its part of the piece, up to its trim lines."""
    inner = Ground(sheet.busy.room)
    inner.take_outside(view.ring())
    if view.window.count > 1:
        inner.take_outside(view.rim)
    for join in joins:
        inner.take_inside(beyond(view, join))
    return Site(sheet, inner, fonts)


def box_of(words: Words, fonts: Fonts) -> Box:
    """What a line of text covers, level or upright."""
    (x, y), width = words.at, fonts.width(words.text, words.size, bold=words.bold)
    low = 0.0 if words.text.isupper() or words.text.isdigit() else DESCENT * words.size
    high = CAPITAL * words.size
    if words.degrees:  # upright, read from the right
        return Box(x - high, y, x + low, y + width)
    return Box(x, y - low, x + width, y + high)


def put(  # noqa: PLR0913 - a text's looks, each with a default
    site: Site,
    text: str,
    centres: Iterable[Point],
    *,
    size: float = LEAST_SIZE,
    bold: bool = False,
    outside: bool = False,
    upright: bool = False,
) -> Words | None:
    """The text at the first centre where it is free; None where it is free at none."""
    for centre in centres:
        words = centred(text, centre, site.fonts, size=size, bold=bold, upright=upright)
        box = box_of(words, site.fonts)
        if site.free(box, outside=outside):
            site.take(box)
            return words
    return None


def take_groups(ground: Ground, groups: Iterable[Group]) -> None:
    """Take the lines that groups draw; a hole's point lies on its tick."""
    for group in groups:
        for mark in group.marks:
            for part in mark.parts:
                if isinstance(part, Ink) and part.stroke is not None:
                    ground.take_steps(part.steps, reach=part.stroke.width / 2)
