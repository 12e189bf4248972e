"""Visible: whether what a page draws is seen on paper, and why not.

In: the drawing of a page; painted paths and points on them, or words. Out: the reason why they aren't seen,
in the words of `messages/unseen.py`, or None where they are.

Ink is seen where it is black, laid by a pen of its tag, in nothing that makes it lighter; where it lies on
the page and inside every clip; where nothing was painted over it later that isn't as black as it; and where
it isn't lost in a black area. A line is seen at a point where that holds for the point and, each way across
the pen, for one of its rims at least: so a hair of it that shows in a slit is no line.

Words: a *cover* is what may hide ink under it. A hostile page meets a limit: looks at borders are counted.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from math import cos, dist, inf, pi, sin

import msgspec

from handkit.geometry.affine import Point
from handkit.ink import PENS, Stroke, Tag
from handkit.messages.placeholders import Phrase
from handkit.messages.unseen import UNSEEN
from handkit.proof.checks.covers import HAIR, LOST, InkCover, covers_of
from handkit.proof.content.marks import InkLook, Laid, MeasuredMark, PageDrawing, Painted, ShownWords
from handkit.proof.content.objects import Allowance
from handkit.proof.content.paths import Bounds, PaintedArea, bounds, points_along

# Looks at one straight bit of a border each, in a whole file: a few seconds of them, and so many for each
# byte of it.
LEAST_LOOKS = 5_000_000
LOOKS_PER_BYTE = 2

# And a pen's measures by this share, for pages that are corrected for a printer by up to 1.5 %.
CORRECTED = 0.016

# Of a pen's half: how far from its middle its rims are looked at, and which ways.
RIM = 0.8
WAYS = tuple((cos(k * pi / 4), sin(k * pi / 4)) for k in range(4))

# How often a straight line is looked at, in mm, and how often at most.
EVERY = 4.0
MOST_ALONG = 250

# At which share of their size letters are looked at.
MIDDLE = 0.35


def looks_of(size: int) -> Allowance:
    """The looks that may be taken at all of a file of so many bytes."""
    return Allowance(
        LEAST_LOOKS + LOOKS_PER_BYTE * size, "found more areas over one another than any kit has"
    )


class Visibility(msgspec.Struct):
    """What is seen of one page; made by `visibility`. Covers stand in the order of painting."""

    sheet: Bounds
    looks: Allowance
    covers: list[InkCover]
    orders: list[int]
    blacks: list[InkCover]

    def unseen_mark(self, mark: MeasuredMark, *, within: PaintedArea | None = None) -> Phrase | None:
        """Why not all of a mark is seen: its paths at all their points, and its words. Beyond an area that it
        is shown `within` it may be cut off."""
        for painted in mark.painted:
            points = [point for subpath in painted.subpaths for s in subpath.segments for point in _along(s)]
            if within is not None and painted.laid.clips:
                clips = painted.laid.clips
                points = [
                    point
                    for point in points
                    if self._depth(within, point) >= 0
                    or all(self._depth(clip, point) >= painted.width for clip in clips)
                ]
            reason = self.unseen(painted, points, tag=mark.tag)
            if reason:
                return reason
        return next((reason for words in mark.words if (reason := self.unseen_words(words))), None)

    def unseen(self, painted: Painted, points: Iterable[Point], *, tag: Tag) -> Phrase | None:
        """Why a path isn't seen at these points of it. Raises ProofError."""
        reach = painted.width / 2 * RIM if painted.stroked else 0.0
        return badly_drawn(painted, tag) or self._hidden(painted.laid, points, reach)

    def unseen_words(self, words: ShownWords) -> Phrase | None:
        """Why words aren't seen. Raises ProofError."""
        return badly_lettered(words) or self._hidden(words.laid, _points_of(words), 0.0)

    def _hidden(self, laid: Laid, points: Iterable[Point], reach: float) -> Phrase | None:
        """Why ink isn't seen at some of the points, by where they lie."""
        places = list(points)
        if not places:
            return None
        within = _grown(bounds(places), reach)
        covers = [
            cover
            for cover in (*self.covers[bisect_right(self.orders, laid.order) :], *self.blacks)
            if cover.area is None or _meet(cover.area.bounds, within)
        ]
        for point in places:
            reason, near = self._hidden_at(laid, covers, point, reach)
            if not reason and near:
                reason = self._cut_across(laid, covers, point, reach)
            if reason:
                return _told(reason, x=point[0], y=point[1])
        return None

    def _hidden_at(
        self, laid: Laid, covers: Sequence[InkCover], point: Point, reach: float
    ) -> tuple[str, bool]:
        """Why ink isn't seen at one point, and whether a border is nearer than the pen's rim."""
        nearest = inf
        for clip in laid.clips:
            depth = self._depth(clip, point)
            if depth < 0:
                return "clipped", False
            nearest = min(nearest, depth)
        (x, y), (left, bottom, right, top) = point, self.sheet
        if not (left - HAIR <= x <= right + HAIR and bottom - HAIR <= y <= top + HAIR):
            return "off", False
        for cover in covers:
            depth = self._covered(cover, point)
            if depth > (LOST if cover.black else 0.0):
                return cover.what, False
            if not cover.black:
                nearest = min(nearest, -depth)
        return "", nearest < reach

    def _cut_across(self, laid: Laid, covers: Sequence[InkCover], point: Point, reach: float) -> str:
        """Why a line isn't seen as one: both its rims are hidden, on one way across the pen."""
        x, y = point
        for dx, dy in WAYS:
            rims = [(x + s * dx * reach, y + s * dy * reach) for s in (1, -1)]
            reasons = [self._hidden_at(laid, covers, rim, 0.0)[0] for rim in rims]
            if all(reasons):
                return reasons[0]
        return ""

    def _covered(self, cover: InkCover, point: Point) -> float:
        """How deep a point lies in a cover, as its clips leave it."""
        depth = inf if cover.area is None else self._depth(cover.area, point)
        for clip in cover.clips:
            if depth > 0:
                depth = min(depth, self._depth(clip, point))
        return depth

    def _depth(self, area: PaintedArea, point: Point) -> float:
        left, bottom, right, top = area.bounds
        x, y = point
        self.looks.spend(1)
        off = max(left - x, x - right, bottom - y, y - top)
        if off > LOST:  # so far outside that no more needs to be known
            return -off
        self.looks.spend(len(area.edges))
        return area.depth(point)


def visibility(drawing: PageDrawing, looks: Allowance) -> Visibility:
    """What is seen of a page."""
    covers = sorted(covers_of(drawing), key=lambda cover: cover.order)
    blacks = [cover for cover in covers if cover.black]
    lighter = [cover for cover in covers if not cover.black]
    return Visibility(drawing.sheet, looks, lighter, [cover.order for cover in lighter], blacks)


def badly_drawn(painted: Painted, tag: Tag) -> Phrase | None:
    """Why a path isn't seen as its tag's, wherever it lies: its colour, its pen, what is laid over it."""
    look, pens = painted.laid.look, PENS.get(tag)
    reason = _veiled(look)
    if reason:
        return reason
    if painted.filled and pens is not None:
        reason = _pale(look.fill, 0.0, look.fill_alpha)
    if painted.stroked and not reason:
        reason = _pale(look.stroke, max((pen.grey for pen in pens or ()), default=0.0), look.stroke_alpha)
        if pens is not None and not reason and not any(_is_of(painted, pen) for pen in pens):
            key = "dashed" if painted.dash else "pen"
            return _told(key, width=painted.width, dash=painted.dash)
    return reason


def badly_lettered(words: ShownWords) -> Phrase | None:
    """Why words aren't seen, wherever they lie: their colour, their letters, what is laid over them."""
    look = words.laid.look
    if not words.lettered:
        return _told("font")
    if not words.inked:
        return _told("letters")
    if words.uneven:
        return _told("squeezed")
    return _veiled(look) or _pale(look.fill, 0.0, look.fill_alpha)


def _is_of(painted: Painted, pen: Stroke) -> bool:
    """Whether a path was drawn with a pen."""
    dash, phase = (painted.dash, painted.phase) if any(painted.dash) else ((), 0.0)
    pairs = zip((painted.width, *dash), (pen.width, *pen.dash), strict=False)
    alike = len(dash) == len(pen.dash) and all(abs(a - b) <= HAIR + CORRECTED * b for a, b in pairs)
    return alike and abs(phase) <= HAIR and not painted.uneven


def _veiled(look: InkLook) -> Phrase | None:
    return _told(min(look.veils)) if look.veils else None


def _pale(grey: float | None, wanted: float, alpha: float) -> Phrase | None:
    if grey is None:
        return _told("colour")
    if abs(grey - wanted) > HAIR:
        return _told("light", grey=100 * grey)
    return _told("thin", share=100 * alpha) if alpha < 1 - HAIR else None


def _told(key: str, **values: object) -> Phrase:
    return Phrase(UNSEEN[key], values)


def _along(segment: Sequence[Point]) -> list[Point]:
    """Points of a segment at which all of it is looked at: a line's ends and middle, then more between them;
    a curve's bits."""
    if len(segment) == 2:
        (ax, ay), (bx, by) = segment
        count = min(MOST_ALONG, int(dist((ax, ay), (bx, by)) / EVERY))
        shares = (0.0, 0.5, 1.0, *((k + 0.5) / count for k in range(count)))
        return [(ax + (bx - ax) * share, ay + (by - ay) * share) for share in shares]
    return points_along(tuple(segment))[::4]


def _points_of(words: ShownWords) -> list[Point]:
    """The start, the middle and the end of words, half-way up their small letters."""
    (x, y), up = words.at, MIDDLE * words.size
    dx, dy = cos(words.degrees * pi / 180), sin(words.degrees * pi / 180)
    return [(x + dx * s - dy * up, y + dy * s + dx * up) for s in (0.0, words.length / 2, words.length)]


def _grown(box: Bounds, by: float) -> Bounds:
    left, bottom, right, top = box
    return left - by, bottom - by, right + by, top + by


def _meet(one: Bounds, other: Bounds) -> bool:
    return one[0] <= other[2] and other[0] <= one[2] and one[1] <= other[3] and other[1] <= one[3]
