"""Marking: where on a cut line the registration marks of a join stand.

In: a cut line and the holes and openings about it, in the laid frame. Out: two places.

Marks stand as far apart as the line is long, moved towards its middle where a hole or an opening
is in their way. All mm.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from handkit.geometry.affine import Point
from handkit.geometry.box import Box
from handkit.geometry.capsule import Capsule
from handkit.geometry.straight import line_to_line
from handkit.ink import REGISTRATION_ARM

# A mark may stand further in by this share of the room for both; beyond, the two would align badly.
MOST_SHIFT = 0.25
STEP = 1.0

# Clear of the outline, which may run along a mark's arm or close it off; part of the share above.
OFF_EDGE = 1.0

# Clear of a hole: room for its tick beside the mark.
MARK_CLEAR = 0.5

# More than distances are rounded by.
SAME = 1e-6


class CutLine(msgspec.Struct, frozen=True):
    """A cut line: from `start` to `end` of one coordinate, at the other's value `at`; `upright`
    where it goes up the page. `inked` are the piece's first and last place on it."""

    upright: bool
    at: float
    start: float
    end: float
    inked: tuple[float, float]

    def point(self, along: float, off: float = 0.0) -> Point:
        """The point at a place along the line, moved off it to the right or upwards."""
        return (self.at + off, along) if self.upright else (along, self.at + off)

    @property
    def ends(self) -> tuple[Point, Point]:
        """Both ends."""
        return self.point(self.start), self.point(self.end)

    def strip(self, half: float) -> Box:
        """All that lies beside it no further than `half`."""
        (x0, y0), (x1, y1) = self.point(self.start, -half), self.point(self.end, half)
        return Box(x0, y0, x1, y1)


def marks_on(line: CutLine, keep_outs: Sequence[Capsule]) -> tuple[Point, Point]:
    """Two marks: at the line's ends, or the nearest places that are clear; in its middle where it
    is shorter than a mark."""
    near = [keep_out for keep_out in keep_outs if _is_near(line, keep_out)]
    room = max(line.end - line.start - 2 * REGISTRATION_ARM, 0.0)
    off = min(OFF_EDGE, room * MOST_SHIFT)
    middle, half = (line.start + line.end) / 2, room / 2 - off
    low, high = middle - half, middle + half
    steps = [STEP * step for step in range(int((room * MOST_SHIFT - off) / STEP) + 1)]
    first = next((low + step for step in steps if _is_clear(line.point(low + step), near)), low)
    last = next((high - step for step in steps if _is_clear(line.point(high - step), near)), high)
    return line.point(first), line.point(last)


def is_on_mark(at: Point, marks: Sequence[Point]) -> bool:
    """Whether a place is taken by a mark."""
    return any(max(abs(at[0] - x), abs(at[1] - y)) <= REGISTRATION_ARM + MARK_CLEAR for x, y in marks)


def _is_near(line: CutLine, keep_out: Capsule) -> bool:
    room = keep_out.radius + REGISTRATION_ARM + MARK_CLEAR
    axis = 0 if line.upright else 1
    one, other = keep_out.start[axis] - line.at, keep_out.end[axis] - line.at
    return (one <= room or other <= room) and (one >= -room or other >= -room)


def _is_clear(at: Point, keep_outs: Sequence[Capsule]) -> bool:
    return all(
        _is_apart(at, keep_out, keep_out.radius + (REGISTRATION_ARM + MARK_CLEAR)) for keep_out in keep_outs
    )


def _is_apart(at: Point, keep_out: Capsule, room: float) -> bool:
    """Whether a keep-out's core is no nearer than `room`; its box tells of most that it is not."""
    (x, y), (x0, y0), (x1, y1), reach = at, keep_out.start, keep_out.end, room + SAME
    if (x0 > x + reach and x1 > x + reach) or (x0 < x - reach and x1 < x - reach):
        return True
    if (y0 > y + reach and y1 > y + reach) or (y0 < y - reach and y1 < y - reach):
        return True
    return line_to_line((at, at), (keep_out.start, keep_out.end)) >= room
