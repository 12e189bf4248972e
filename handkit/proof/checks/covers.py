"""Covers: what of a page may hide ink that lies under it, or that is lost in it.

In: the drawing of a page. Out: `InkCover`s, in no order.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, pi, sin

import msgspec

from handkit.proof.content.marks import PageDrawing, Painted, ShownWords
from handkit.proof.content.paths import PaintedArea, Subpath

# A grey, a share of opacity and a pen's measures in mm may differ by this: what a writer rounds away.
HAIR = 0.006

# What lies deeper in black than this is lost. A quarter of a registration mark is 1.04 mm deep, the deepest
# black that a template has.
LOST = 1.1

# Letters this large could hide a mark under them, in mm; a template's are smaller.
LARGE_LETTERS = 12.0

# What letters cover, as shares of their size, and the heights at which they are looked at.
BELOW, ABOVE = 0.25, 0.95


class InkCover(msgspec.Struct, frozen=True):
    """What may hide ink; without an area all of the page. What is black hides only what is deep in it."""

    what: str
    order: int
    area: PaintedArea | None
    clips: tuple[PaintedArea, ...]
    black: bool


def covers_of(drawing: PageDrawing) -> Iterator[InkCover]:
    """All that may hide something; what is never seen hides nothing."""
    for picture in drawing.pictures:
        yield InkCover(picture.what, picture.laid.order, picture.area, picture.laid.clips, black=False)
    for painted in (*drawing.loose, *(painted for mark in drawing.marks for painted in mark.painted)):
        yield from _painted_covers(painted)
    for words in (*drawing.loose_words, *(words for mark in drawing.marks for words in mark.words)):
        yield from _word_covers(words)


def _painted_covers(painted: Painted) -> Iterator[InkCover]:
    laid, look = painted.laid, painted.laid.look
    if painted.filled and look.fill_alpha > 0:
        area, black = PaintedArea(painted.subpaths, painted.even_odd), _is_black(look.fill, look.fill_alpha)
        left, bottom, right, top = area.bounds
        if not black or min(right - left, top - bottom) > 2 * LOST:
            yield InkCover("black" if black else "covered", laid.order, area, laid.clips, black)
    if painted.stroked and look.stroke_alpha > 0 and painted.width > 0:
        black = _is_black(look.stroke, look.stroke_alpha)
        if not black or painted.width > 2 * LOST:
            area = PaintedArea(painted.subpaths, reach=painted.width / 2)
            yield InkCover("black" if black else "covered", laid.order, area, laid.clips, black)


def _word_covers(words: ShownWords) -> Iterator[InkCover]:
    """The box of letters that are not black, or very large."""
    look = words.laid.look
    black = _is_black(look.fill, look.fill_alpha)
    if look.fill_alpha > 0 and (not black or words.size > LARGE_LETTERS):
        yield InkCover("letters-over", words.laid.order, _box_of(words), words.laid.clips, black=False)


def _is_black(grey: float | None, alpha: float) -> bool:
    return grey is not None and grey <= HAIR and alpha >= 1 - HAIR


def _box_of(words: ShownWords) -> PaintedArea:
    """What a row of letters covers at most."""
    (x, y), size = words.at, words.size
    dx, dy = cos(words.degrees * pi / 180), sin(words.degrees * pi / 180)
    low, high, far = -BELOW * size, ABOVE * size, words.length
    places = ((0.0, low), (far, low), (far, high), (0.0, high))
    corners = [(x + dx * s - dy * t, y + dy * s + dx * t) for s, t in places]
    sides = tuple(zip(corners, (*corners[1:], corners[0]), strict=True))
    return PaintedArea((Subpath(sides, closed=True),))
