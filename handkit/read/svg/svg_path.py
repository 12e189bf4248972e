"""Path data: the `d` of a path as subpaths.

In: the text, by the grammar of SVG 1.1, chapter 8.3. Out: subpaths in user units, of lines and cubics,
elliptical arcs as cubics; None where the text can't be read.

An arc's centre follows from its ends (F.6.5 there), radii too small are grown (F.6.6); each eighth of a turn
is a cubic that leaves it by less than 5 millionths of its radius.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from math import acos, ceil, cos, hypot, pi, radians, sin, sqrt, tan

import msgspec

from handkit.geometry.affine import Point
from handkit.read.svg.svg_units import MOST, NEXT_NUMBER

MOST_SEGMENTS = 20_000

# A line's end, or a cubic's two handles and its end.
Bit = tuple[Point, ...]

_COUNT = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}
_COMMAND = re.compile(r"[\s,]*([MmLlHhVvCcSsQqTtAaZz])", re.ASCII)
_BLANK = re.compile(r"[\s,]*", re.ASCII)
_FLAG = re.compile(r"[\s,]*([01])", re.ASCII)


_NO_RADIUS = 1e-9  # user units: what is no longer than that is a line (F.6.6)


class TracedLine(msgspec.Struct):
    """A start, what follows, and whether it goes back to the start."""

    start: Point
    bits: list[Bit] = msgspec.field(default_factory=list)
    closed: bool = False

    @property
    def end(self) -> Point:
        """Where it has come to."""
        return self.bits[-1][-1] if self.bits else self.start


def subpaths_of(text: str) -> list[TracedLine] | None:
    """The subpaths of path data.

    >>> [(each.start, each.bits, each.closed) for each in subpaths_of("m1,1h2v3z")]
    [((1.0, 1.0), [((3.0, 1.0),), ((3.0, 4.0),)], True)]
    """
    found: list[TracedLine] = []
    at: Point = (0.0, 0.0)
    before, handle = "", at  # the last command, and its last handle
    for count, step in enumerate(_steps(text)):
        if step is None or count > MOST_SEGMENTS or (not found and step[0] not in "Mm"):
            return None
        letter, values = step
        command, (ox, oy) = letter.upper(), at if letter.islower() else (0.0, 0.0)
        if command == "M":
            at = (ox + values[0], oy + values[1])
            found.append(TracedLine(at))
        elif command == "Z":
            found[-1].closed, at = True, found[-1].start
        else:
            if found[-1].closed:  # a path goes on from there
                found.append(TracedLine(at))
            mirrored = (2 * at[0] - handle[0], 2 * at[1] - handle[1])
            bits, handle = _bits(
                command, values, (at, (ox, oy)), mirrored if before in _ALIKE[command] else at
            )
            found[-1].bits += bits
            at = found[-1].end
        before = command
    return found


# After which commands a smooth one goes on from their handle.
_ALIKE = {"S": "CS", "T": "QT"} | dict.fromkeys("LHVCQA", "")


def _steps(text: str) -> Iterator[tuple[str, list[float]] | None]:
    """Each command with one set of its numbers; None, at last, where the text is no path data."""
    at, letter = 0, ""
    while _BLANK.match(text, at).end() < len(text):  # type: ignore[union-attr]
        match = _COMMAND.match(text, at)
        if match:
            letter, at = match[1], match.end()
        elif not letter or letter in "Zz":
            yield None
            return
        values: list[float] = []
        for k in range(_COUNT[letter.upper()]):
            each = (_FLAG if letter in "Aa" and k in (3, 4) else NEXT_NUMBER).match(text, at)
            if each is None or abs(float(each[1])) > MOST:
                yield None
                return
            values.append(float(each[1]))
            at = each.end()
        yield letter, values
        letter = {"M": "L", "m": "l"}.get(letter, letter)


def _bits(
    command: str, values: list[float], places: tuple[Point, Point], smooth: Point
) -> tuple[list[Bit], Point]:
    """Lines and cubics of one command from a place, `places` that and what relative numbers count from; and
    the handle that a smooth command after it mirrors."""
    at, (ox, oy) = places
    if command in "HV":
        end = (ox + values[0], at[1]) if command == "H" else (at[0], oy + values[0])
        return [(end,)], end
    points = [(ox + x, oy + y) for x, y in zip(values[-2::-2][::-1], values[-1::-2][::-1], strict=False)]
    match command:
        case "C" | "S":
            first, second, end = points if command == "C" else (smooth, *points)
            return [(first, second, end)], second
        case "Q" | "T":
            middle, end = points if command == "Q" else (smooth, *points)
            return [_raised(at, middle, end)], middle
        case "A":
            end = (ox + values[5], oy + values[6])
            return list(arc(at, values[:5], end)), end
        case _:
            return [(points[-1],)], points[-1]


def _raised(start: Point, middle: Point, end: Point) -> Bit:
    """A quadratic as a cubic, which it is exactly."""
    first, second = (
        (each[0] + (middle[0] - each[0]) * 2 / 3, each[1] + (middle[1] - each[1]) * 2 / 3)
        for each in (start, end)
    )
    return (first, second, end)


def arc(start: Point, values: list[float], end: Point) -> Iterator[Bit]:
    """An elliptical arc as cubics: radii, slant, whether the long way, whether y down clockwise."""
    rx, ry, slant, long_way, clockwise = (
        abs(values[0]),
        abs(values[1]),
        radians(values[2]),
        values[3],
        values[4],
    )
    if start == end:
        return
    if min(rx, ry) < _NO_RADIUS:
        yield (end,)
        return
    c, s = cos(slant), sin(slant)
    hx, hy = (start[0] - end[0]) / 2, (start[1] - end[1]) / 2
    px, py = c * hx + s * hy, -s * hx + c * hy
    grown = max(1.0, hypot(px / rx, py / ry))
    rx, ry = rx * grown, ry * grown
    spare = max(0.0, (rx * ry) ** 2 / ((rx * py) ** 2 + (ry * px) ** 2) - 1)
    root = sqrt(spare) * (1 if bool(long_way) is not bool(clockwise) else -1)
    qx, qy = root * rx * py / ry, -root * ry * px / rx
    middle = (c * qx - s * qy + (start[0] + end[0]) / 2, s * qx + c * qy + (start[1] + end[1]) / 2)
    first, last = _angle((px - qx) / rx, (py - qy) / ry), _angle((-px - qx) / rx, (-py - qy) / ry)
    turn = (last - first) % (2 * pi) if clockwise else -((first - last) % (2 * pi))
    count = max(1, ceil(abs(turn) / (pi / 4) - 1e-9))
    step = turn / count
    reach = 4 / 3 * tan(step / 4)

    def place(x: float, y: float) -> Point:
        return (middle[0] + c * rx * x - s * ry * y, middle[1] + s * rx * x + c * ry * y)

    for k in range(count):
        a, b = first + k * step, first + (k + 1) * step
        one = place(cos(a) - reach * sin(a), sin(a) + reach * cos(a))
        two = place(cos(b) + reach * sin(b), sin(b) - reach * cos(b))
        yield (one, two, end if k == count - 1 else place(cos(b), sin(b)))


def _angle(x: float, y: float) -> float:
    """Of a unit vector, but for rounding."""
    turn = acos(max(-1.0, min(1.0, x / hypot(x, y))))
    return turn if y >= 0 else -turn
