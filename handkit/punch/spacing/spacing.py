"""Spacing: dividing the way between two fixed holes into steps.

In: a line, the number of steps, for an iron its pitch. Out: `Spaced`, a hole at either end and the
holes between. All mm; every step is a chord, straight across from hole to hole, as dividers and
iron teeth measure it.

    even   o───o───o───o───o───o───o      one chord for all steps
    iron   o────o────o────o──o──o──o──o──o    the pitch, and the last five steps take up the rest

Words: *pitch* is the distance from hole to hole; a *stretch* is the way between two fixed holes.

Chosen: walk the dividers along the lines and arcs themselves and search for the one opening that
comes down on the last hole. Rejected: equal distances along the line, whose chords on an arc are
alike but next to a straight segment are not; and letting the last step take up what is left.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from math import floor

import msgspec

from handkit.geometry.affine import Point
from handkit.punch.spacing.dividers import MeasuredPath, Place, reached, stepped
from handkit.read.project import Spacing
from handkit.tolerances import SAME_POINT
from handkit.units import round_half_up

# An iron's last steps, which share what is left (common practice).
IRON_LAST = 5

# A walk that comes down this near to the last hole, in mm, has come down on it.
_LANDED = 5e-10
# The search stops here: below is, on long lines, the rounding of the sums themselves.
_EXACT = 1e-10
# A line no longer than this over its straight distance is straight.
_STRAIGHT = 1e-12
# A bracket is halved at least every third try; 53 bits are used up before this.
_MOST_TRIES = 180
# Openings tried where the first search ended at a leap.
_SAMPLES = 256


class Spaced(msgspec.Struct, frozen=True):
    """The holes of one stretch: the first at its start, the last at its end.

    `places` are on the stretch's line, `points` where they are. `step` is the chord of all steps,
    or of the last five of an iron.
    """

    places: tuple[Place, ...]
    points: tuple[Point, ...]
    step: float

    def __post_init__(self) -> None:
        if len(self.points) != len(self.places) or len(self.places) < 2:
            raise ValueError("a stretch has a hole at either end")
        if any((a.segment, a.t) >= (b.segment, b.t) for a, b in pairwise(self.places)):
            raise ValueError("holes go forwards along their line")


def steps_in(length: float, pitch: float, *, least: float = 0.0) -> int:
    """The whole number of steps nearest to length ÷ pitch, halves up, at least 1.

    Where a pitch that is long enough would be divided into steps under `least`, they are fewer.

    >>> [steps_in(length, 4.0) for length in (203, 10, 9.9, 0.5)]
    [51, 3, 2, 1]
    >>> [steps_in(length, 4.0, least=3.2) for length in (6.5, 6.3, 6, 5.9, 2)]
    [2, 1, 1, 1, 1]
    """
    steps = max(1, round_half_up(length / pitch))
    if not least or pitch < least:
        return steps
    return max(1, min(steps, floor(length / (least - SAME_POINT))))


def spaced(line: MeasuredPath, *, count: int, pitch: float, spacing: Spacing) -> Spaced | None:
    """`count` steps on a line by the seam's way of spacing; None where no chord fits.

    An iron of `pitch` walks all steps but the last five, which divide the rest evenly.

    >>> from handkit.geometry.path import polyline
    >>> from handkit.punch.spacing.dividers import measured_path
    >>> six = spaced(measured_path(polyline([(0, 0), (25, 0)])), count=6, pitch=4, spacing=Spacing.IRON)
    >>> six.points[1], six.step
    ((4.0, 0.0), 4.2)
    """
    if spacing is Spacing.IRON and count > IRON_LAST:
        return _iron(line, count, pitch)
    return even(line, count)


def even(line: MeasuredPath, count: int) -> Spaced | None:
    """`count` equal steps; None where no one chord comes down on the last hole (a tight hairpin).

    A straight line goes the short way, and so does a single arc: equal distances, equal chords.
    """
    if len(line.segments) == 2 or line.length - line.straight <= _STRAIGHT:
        places = [line.locate(line.length * k / count) for k in range(count + 1)]
        return _held(line, places, _chord(line, places))
    chord = _equal_chord(line, count)
    if chord is None:
        return None
    return _held(line, [Place(0, 0.0), *stepped(line, chord=chord, count=count)], chord)


def _iron(line: MeasuredPath, count: int, pitch: float) -> Spaced | None:
    """Exact pitch, then five even steps; None where the rest of the way has no room for five."""
    walked = [Place(0, 0.0), *stepped(line, chord=pitch, count=count - IRON_LAST)]
    if line.left(walked[-1]) <= _LANDED:
        return None
    rest = line.rest(walked[-1])
    last = even(rest, IRON_LAST)
    if last is None:
        return None
    # `rest` begins on the segment of the last place walked, at that place, or with the next segment.
    skipped = len(line.segments) - len(rest.segments)
    shift = walked[-1].t if skipped == walked[-1].segment else 0.0
    ahead = (Place(p.segment + skipped, p.t + (0.0 if p.segment else shift)) for p in last.places[1:])
    return _held(line, [*walked, *ahead], last.step)


def _held(line: MeasuredPath, places: list[Place], step: float) -> Spaced:
    """The holes at places, the last one put on the line's end itself."""
    final = len(line.segments) - 2
    ended = [*places[:-1], Place(final, line.segments[final].length)]
    points = (*(line.point(place) for place in ended[:-1]), line.end)
    return Spaced(tuple(ended), points, step)


def _chord(line: MeasuredPath, places: list[Place]) -> float:
    """The opening of the dividers over the first step of a line of one segment, or a straight one."""
    segment = line.segments[0]
    (x0, y0), (x1, y1) = line.point(places[0]), line.point(places[1])
    return (
        float(((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5)
        if segment.curvature
        else line.length / (len(places) - 1)
    )


def _equal_chord(line: MeasuredPath, count: int) -> float | None:
    """The chord with which `count` steps end on the line's end, or None.

    It lies between straight ÷ count (the steps can't be shorter, put end to end) and length ÷ count
    (a chord is no longer than its way).
    """

    def past(chord: float) -> float:
        return -line.left(reached(line, chord=chord, count=count)) if chord > 0 else -line.length

    low, high = line.straight / count, line.length / count
    found = _root(past, low, high)
    if found is not None:
        return found
    return _sampled(past, low, high)


def _sampled(past: Callable[[float], float], low: float, high: float) -> float | None:
    """A root between samples, from the widest opening down: on a winding line the first search may
    end at a leap where another opening fits. Closer samples near the widest, where most roots lie.
    """
    above, at_above = high, past(high)
    for k in range(1, _SAMPLES + 1):
        below = high - (high - low) * (k / _SAMPLES) ** 2
        at_below = past(below)
        found = None
        if at_below <= 0 <= at_above:
            found = _root(past, below, above)
        elif at_above <= 0 <= at_below:
            found = _root(lambda chord: -past(chord), below, above)
        if found is not None:
            return found
        above, at_above = below, at_below
    return None


def _root(past: Callable[[float], float], low: float, high: float) -> float | None:
    """Where a function rises through 0 between two chords; None where it leaps over it.

    False position; an end that stands twice has its weight halved (Illinois, any numerical
    handbook), and where that does not halve the bracket in three tries, its middle is tried.
    """
    at_low, at_high = past(low), past(high)
    best = min((abs(at_low), low), (abs(at_high), high))
    width, side = high - low, 0
    for attempt in range(_MOST_TRIES):
        if best[0] <= _EXACT or not at_low < 0 < at_high:
            break
        slow = attempt % 3 == 2 and high - low > width / 2
        chord = (low + high) / 2 if slow else (low * at_high - high * at_low) / (at_high - at_low)
        if attempt % 3 == 2:
            width = high - low
        if not low < chord < high:
            chord = (low + high) / 2
        if chord in (low, high):
            break
        off = past(chord)
        best = min(best, (abs(off), chord))
        if off < 0:
            low, at_low, at_high = chord, off, at_high / (2 if side < 0 else 1)
            side = -1
        else:
            high, at_high, at_low = chord, off, at_low / (2 if side > 0 else 1)
            side = 1
    return best[1] if best[0] <= _LANDED else None
