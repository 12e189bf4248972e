"""Joining: the registration marks and the rule line of every join.

In: a shape and how it is cut. Out: `Join` for each pair of windows that meet, in the piece's
frame, and how many of them run through a hole.

Marks stand on the cut line, as far apart as it is long, moved towards its middle where a hole or
an opening is in their way. The rule line crosses the cut line at right angles, from the far side of
one window to the far side of the other, where it meets fewest holes and stands clear of the marks,
a quarter of the way over the piece rather than in its middle, which is left to the label.
All mm.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from handkit.geometry.affine import Affine, Point
from handkit.ink import REGISTRATION_ARM
from handkit.sheets.box import Box, around
from handkit.sheets.grid import Cut, CutJoin
from handkit.sheets.laid import Join
from handkit.sheets.shape import Shape
from handkit.sheets.void import Void, distance_of_straights, runs_through

# A mark may be moved in by this share of the cut line; further in, the two would align badly.
MOST_SHIFT = 0.25
STEP = 1.0

# Clear of a hole: room for its tick beside the mark or the rule.
MARK_CLEAR = 0.5
RULE_CLEAR = 1.5
RULE_STEP = 2.0

# Where on the piece the rule line is wanted: off the middle, which is left to the label.
RULE_SHARE = 0.25

# The rule line ends short of the windows' sides.
RULE_INSET = 1.0


@dataclass(frozen=True, slots=True)
class _Way:
    """A cut line as a stretch of one coordinate, `low` to `high`, at the other's value `at`."""

    upright: bool
    at: float
    low: float
    high: float
    inked: tuple[float, float]  # what of it lies in the piece

    def point(self, along: float, off: float = 0.0) -> Point:
        """The point at a place along the line, moved off it to the right or upwards."""
        return (self.at + off, along) if self.upright else (along, self.at + off)


def joins_of(shape: Shape, cut: Cut, *, copy: int = 1) -> tuple[Join, ...]:
    """The joins of a piece, by window numbers."""
    back = cut.base.inverse()
    voids = tuple(_moved(void, cut.base) for void in shape.voids)
    return tuple(replace(_join(shape.name, cut, join, voids, back), copy=copy) for join in cut.joins)


def count_through(joins: tuple[Join, ...], voids: tuple[Void, ...]) -> int:
    """How many cut lines come nearer than 3 mm to the edge of a hole or opening."""
    return sum(runs_through(join.cut_line, voids) for join in joins)


def _join(piece: str, cut: Cut, join: CutJoin, voids: tuple[Void, ...], back: Affine) -> Join:
    way = _way(join)
    marks = _marks(way, voids)
    both = around([cut.windows[join.first], cut.windows[join.second]])
    return Join(
        piece=piece,
        windows=(join.first + 1, join.second + 1),
        cut_line=(back.apply(join.line[0]), back.apply(join.line[1])),
        marks=tuple(back.apply(way.point(along)) for along in marks),
        rule_line=_placed_rule(way, _rule_place(way, both, marks, voids), both, back),
    )


def _way(join: CutJoin) -> _Way:
    (x0, y0), (x1, y1) = join.line
    return _Way(True, x0, y0, y1, join.inked) if join.upright else _Way(False, y0, x0, x1, join.inked)


def _marks(way: _Way, voids: tuple[Void, ...]) -> tuple[float, float]:
    """Places of two marks along the cut line: its ends, or the nearest places that are clear."""
    shift = MOST_SHIFT * (way.high - way.low - 2 * REGISTRATION_ARM)
    steps = [STEP * step for step in range(int(shift / STEP) + 1)]
    low, high = way.low + REGISTRATION_ARM, way.high - REGISTRATION_ARM
    first = next((low + step for step in steps if _mark_is_clear(way, low + step, voids)), low)
    last = next((high - step for step in steps if _mark_is_clear(way, high - step, voids)), high)
    return first, last


def _mark_is_clear(way: _Way, along: float, voids: tuple[Void, ...]) -> bool:
    at = way.point(along)
    room = REGISTRATION_ARM + MARK_CLEAR
    return all(distance_of_straights((at, at), (v.start, v.end)) >= v.radius + room for v in voids)


def _rule_place(way: _Way, both: Box, marks: tuple[float, float], voids: tuple[Void, ...]) -> float:
    """Where along the cut line the rule line crosses it."""
    blocked = [_blocked(way, both, void) for void in voids]
    wanted = way.inked[0] + (way.inked[1] - way.inked[0]) * RULE_SHARE
    count = int((way.high - way.low) / RULE_STEP)
    places = [wanted + RULE_STEP * step for step in range(-count, count + 1)]
    places = [place for place in places if way.low <= place <= way.high]

    def rank(place: float) -> tuple[float, ...]:
        on_mark = any(abs(place - mark) <= REGISTRATION_ARM + MARK_CLEAR for mark in marks)
        hits = sum(low < place < high for low, high in blocked)
        return (hits, on_mark, round(abs(place - wanted), 3), place)

    return min(places, key=rank)


def _blocked(way: _Way, both: Box, void: Void) -> tuple[float, float]:
    """The stretch along the cut line that a void closes to the rule; an empty one where it is elsewhere."""
    xs, ys = zip(void.start, void.end, strict=True)
    across, along = (xs, ys) if way.upright else (ys, xs)
    side = (both.left, both.right) if way.upright else (both.bottom, both.top)
    if max(across) + void.radius < side[0] or min(across) - void.radius > side[1]:
        return (0.0, 0.0)
    room = void.radius + RULE_CLEAR
    return (min(along) - room, max(along) + room)


def _placed_rule(way: _Way, along: float, both: Box, back: Affine) -> tuple[Point, Point]:
    low, high = (both.left, both.right) if way.upright else (both.bottom, both.top)
    ends = (low + RULE_INSET - way.at, high - RULE_INSET - way.at)
    return (back.apply(way.point(along, ends[0])), back.apply(way.point(along, ends[1])))


def _moved(void: Void, by: Affine) -> Void:
    return Void(by.apply(void.start), by.apply(void.end), void.radius)
