"""Placing: a text is set where it lies on no line, no hole and no other text.

In: the grounds of a sheet, candidates for a place in the order of liking. Out: `Words`, and their
cells taken.

A text first looks for room inside its own piece; only what must be there (a name, a hole 1) may go
to bare paper outside every piece. What finds no room is left out rather than printed over a mark.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import cos, pi, sin

import msgspec

from handkit.draw.model.fonts import CAPITAL, LEAST_SIZE, Fonts
from handkit.draw.model.ground import Ground
from handkit.draw.model.lettering import DESCENT, centred
from handkit.draw.model.marks import Group, Ink, Words
from handkit.draw.model.path_ops import line_ops
from handkit.draw.model.view import View
from handkit.draw.templates.join_ink import beyond
from handkit.geometry.affine import Point
from handkit.geometry.box import Box
from handkit.geometry.polygon import clear_of, inside
from handkit.geometry.straight import distance, unit
from handkit.ink import Stroke
from handkit.sheets.laid import Join

# Free paper kept round a text, and round a line's own width.
AIR = 0.5

# More of it from one text to the next, so that two numbers don't read as one.
APART = 0.6

# By how much nearer a text outside must stand to what it names than to any other piece, and how far
# from a window other pieces are looked for, in mm.
PLAINLY = 1.5
NEIGHBOUR = 30.0

LEADER = Stroke(0.13)

# A text that finds no room beside what it names stands so far off, with a line to it.
LED_REACHES = (5.0, 8.0, 12.0, 17.0, 23.0)
LED_DIRECTIONS = 24

# So near to its own piece's outline a line from a text is crossing it.
OWN_OUTLINE = 1.0


class Grounds(msgspec.Struct, frozen=True):
    """A whole sheet's: `busy` has all that is drawn, `hard` only what must never be written over
    (cut lines, holes, openings, texts), `outer` the insides of all pieces."""

    busy: Ground
    hard: Ground
    outer: Ground


class Site(msgspec.Struct, frozen=True):
    """Where a window's texts may go: `inner` has all taken but the inside of its part of the piece;
    `ring` is its part's outline on the sheet, `others` those of the pieces near it."""

    sheet: Grounds
    inner: Ground
    fonts: Fonts
    ring: tuple[Point, ...] = ()
    others: tuple[tuple[Point, ...], ...] = ()

    def own(self, centre: Point, anchor: Point) -> bool:
        """Whether a text outside is plainly about its anchor and not about a neighbour: it is the
        anchor it stands nearer to."""
        reach = distance(centre, anchor) + PLAINLY
        return all(clear_of(centre, ring, reach=reach) for ring in self.others)

    def leader(self, box: Box, place: Point) -> Ink | None:
        """A thin line from a text on bare paper to a place, where it crosses nothing but the own
        outline."""
        start = box.nearest(place)
        length = distance(start, place)
        if length < 1e-6:
            return None
        (ux, uy) = unit(start, place)
        for k in range(1, int(2 * (length - 0.5))):
            spot = (start[0] + ux * k / 2, start[1] + uy * k / 2)
            if not self._passes(spot):
                return None
        return Ink(line_ops((start[0] + ux * 0.5, start[1] + uy * 0.5), place), LEADER)

    def free(self, box: Box, *, outside: bool = False, over_lines: bool = False) -> bool:
        """Whether a text may stand in a box."""
        wide = box.grown(AIR)
        ground = self.sheet.hard if over_lines else self.sheet.busy
        return ground.is_free(wide) and (self.sheet.outer if outside else self.inner).is_free(wide)

    def take(self, box: Box) -> None:
        """Nothing else comes here, nor so near that two texts read as one."""
        self.sheet.busy.take(box.grown(APART))
        self.sheet.hard.take(box.grown(APART))

    def _passes(self, spot: Point) -> bool:
        """Whether a thin line may run here: over bare paper or the own outline, or in the own piece."""
        if not clear_of(spot, self.ring, reach=OWN_OUTLINE):
            return True
        x, y = spot
        box = Box(x - 0.2, y - 0.2, x + 0.2, y + 0.2)
        own = inside(spot, self.ring)
        return self.sheet.busy.is_free(box) and (own or self.sheet.outer.is_free(box))


def site_of(
    view: View,
    joins: Iterable[Join],
    sheet: Grounds,
    fonts: Fonts,
    *,
    others: Iterable[tuple[Point, ...]] = (),
) -> Site:
    """A window's site on its sheet: the inside of its part of the piece, up to its trim lines.

    `others` are the outlines of all other windows of the sheet.
    """
    inner = Ground(sheet.busy.room)
    inner.take_outside(view.ring())
    if view.window.count > 1:
        inner.take_outside(view.rim)
    for join in joins:
        inner.take_inside(beyond(view, join))
    near = bounds_of(view.rim).grown(NEIGHBOUR)
    neighbours = tuple(ring for ring in others if near.meets(bounds_of(ring)))
    return Site(sheet, inner, fonts, view.part(), neighbours)


def bounds_of(points: Iterable[Point]) -> Box:
    """The upright rectangle round points."""
    xs, ys = zip(*points, strict=True)
    return Box(min(xs), min(ys), max(xs), max(ys))


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
    over_lines: bool = False,
) -> Words | None:
    """The text at the first centre where it is free; None where it is free at none."""
    for centre in centres:
        words = centred(text, centre, site.fonts, size=size, bold=bold, upright=upright)
        box = box_of(words, site.fonts)
        if site.free(box, outside=outside, over_lines=over_lines):
            site.take(box)
            return words
    return None


def led(  # noqa: PLR0913 - each by name
    site: Site, text: str, place: Point, *, end: float, bold: bool = False, outside: bool = False
) -> tuple[Ink | Words, ...]:
    """A text further off in the piece, or on bare paper, with a thin line to a place; () where it has
    no room there.

    The line touches no hole, no cut and no text but within `end` of the place; one from outside
    crosses the own outline.
    """
    width = site.fonts.width(text, LEAST_SIZE, bold=bold)
    for reach in LED_REACHES:
        for k in range(LED_DIRECTIONS):
            angle = 2 * pi * k / LED_DIRECTIONS
            centre = (place[0] + (reach + width / 2) * cos(angle), place[1] + reach * sin(angle))
            words = centred(text, centre, site.fonts, bold=bold)
            box = box_of(words, site.fonts)
            start = box.nearest(place)
            if site.free(box, outside=outside) and _clear(site, start, place, end, outside=outside):
                site.take(box)
                return (words, Ink(line_ops(start, place), LEADER))
    return ()


def _clear(site: Site, start: Point, place: Point, end: float, *, outside: bool) -> bool:
    """Whether a line may run from a text to a place."""
    length = distance(start, place)
    for k in range(1, int(2 * (length - end))):
        share = k / 2 / length
        x, y = start[0] + (place[0] - start[0]) * share, start[1] + (place[1] - start[1]) * share
        if outside and not clear_of((x, y), site.ring, reach=OWN_OUTLINE):
            continue
        box = Box(x - 0.2, y - 0.2, x + 0.2, y + 0.2)
        bare = not outside or inside((x, y), site.ring) or site.sheet.outer.is_free(box)
        if not bare or not site.sheet.hard.is_free(box):
            return False
    return True


def take_groups(ground: Ground, groups: Iterable[Group]) -> None:
    """Take the lines that groups draw; a hole's point lies on its tick."""
    for group in groups:
        for mark in group.marks:
            for part in mark.parts:
                if isinstance(part, Ink) and part.stroke is not None:
                    ground.take_path(part.path, reach=part.stroke.width / 2)
