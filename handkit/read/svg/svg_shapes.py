"""Shapes: the outline of one shape of a drawing, as points in mm.

In: an SVG file and a shape's id. Out: its points in order, y up, curves flattened so that no place of them is
farther than `OFF` from the line drawn; or `ShapeError`. Lines' widths and colours say nothing: the line's
middle is the outline. A hole in a shape, or a line inside it, is passed over.
"""

from __future__ import annotations

import pathlib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from math import ceil, dist, hypot, sqrt

from handkit.errors import ShapeError
from handkit.geometry.affine import Point
from handkit.geometry.polygon import inside, signed_area
from handkit.geometry.straight import point_to_line
from handkit.read.svg.svg_file import DrawnShape, drawn_in
from handkit.read.svg.svg_path import TracedLine, arc, subpaths_of
from handkit.read.svg.svg_units import numbers, user_length

OFF = 0.05  # mm, as far as a scriber's line is wide
_FLAT, _LEFT_OUT = OFF * 0.4, OFF * 0.6  # of that: for flattening, for points left out

# Ends nearer than this are one, mm: drawing programs round.
_CLOSE = 0.1

MOST_POINTS = 500  # as of points in a project
_MOST_RAW = 20_000  # of all lines of a shape, before points are left out
_MOST_ACROSS = 10_000.0  # mm
_MOST_GROWN = 1e9  # of any number of a map, which scales in one another may make endless


def outline_in(path: pathlib.Path, shape: str, *, file: str) -> tuple[Point, ...]:
    """The outline of a shape. Raises ShapeError."""
    rings: list[list[Point]] = []
    raw = 0
    for line, element in _subpaths(drawn_in(path, shape, file=file), shape):
        ring = _ring(line, element)
        raw += len(ring)
        if raw > _MOST_RAW:
            raise ShapeError("svg-too-fine", shape=shape, count=_MOST_RAW, most=MOST_POINTS)
        rings += [_fewer(ring)] if len(ring) > 2 and signed_area(ring) else []
    if not rings:
        raise ShapeError("svg-no-area", shape=shape)
    outer = max(rings, key=lambda ring: abs(signed_area(ring)))
    apart = sum(not all(inside(at, outer) for at in ring) for ring in rings if ring is not outer)
    if apart:
        raise ShapeError("svg-apart", shape=shape, count=apart + 1)
    if max(max(abs(x), abs(y)) for x, y in outer) > _MOST_ACROSS:
        raise ShapeError("svg-too-wide", shape=shape, most=_MOST_ACROSS)
    if len(outer) > MOST_POINTS:
        raise ShapeError("svg-too-fine", shape=shape, count=MOST_POINTS, most=MOST_POINTS)
    return tuple((round(x, 6), round(-y, 6)) for x, y in outer)


def _subpaths(drawn: Iterable[DrawnShape], shape: str) -> Iterator[tuple[TracedLine, DrawnShape]]:
    """The subpaths of the elements, each closed."""
    for element in drawn:
        if not all(abs(each) <= _MOST_GROWN for each in element.lie.numbers()):
            raise ShapeError("svg-too-wide", shape=shape, most=_MOST_ACROSS)
        subpaths = _READERS[element.kind](element.attributes)
        if subpaths is None:
            raise ShapeError("svg-attributes", shape=shape, element=element.kind)
        for each in subpaths:
            if not each.closed:
                first, last = element.lie.apply_all((each.start, each.end))
                if dist(first, last) > _CLOSE:
                    raise ShapeError("svg-open", shape=shape, gap=dist(first, last))
            yield each, element


def _ring(subpath: TracedLine, element: DrawnShape) -> list[Point]:
    """A subpath flattened, in mm, none of its points twice."""
    at = element.lie.apply(subpath.start)
    ring = [at]
    for bit in subpath.bits:
        points = element.lie.apply_all(bit)
        ring += points if len(points) == 1 else _flattened(at, points)
        at = points[-1]
        if len(ring) > _MOST_RAW:
            break  # which is told
    kept = [ring[0]]
    kept += [point for before, point in pairwise(ring) if dist(before, point) > 1e-6]
    while len(kept) > 1 and dist(kept[0], kept[-1]) <= _CLOSE:
        kept.pop()
    return kept


def _flattened(start: Point, cubic: Sequence[Point]) -> list[Point]:
    """Points on a cubic after its start: with n even steps it leaves its chords by M/(8n²) at the most, where
    M bounds the second derivative, 6 times the larger second difference of its points."""
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = start, *cubic
    bend = 6 * max(hypot(x0 - 2 * x1 + x2, y0 - 2 * y1 + y2), hypot(x1 - 2 * x2 + x3, y1 - 2 * y2 + y3))
    count = max(1, min(ceil(sqrt(bend / (8 * _FLAT))), _MOST_RAW))
    found = []
    for k in range(1, count):
        t = k / count
        a, b, c, d = (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3
        found.append((a * x0 + b * x1 + c * x2 + d * x3, a * y0 + b * y1 + c * y2 + d * y3))
    return [*found, (x3, y3)]


def _fewer(ring: Sequence[Point]) -> list[Point]:
    """The ring without points that lie on the straight between others, as near as `_LEFT_OUT`: between two
    that stay the farthest off is kept as long as it is farther."""
    far = max(range(len(ring)), key=lambda k: dist(ring[0], ring[k]))
    closed, kept = [*ring, ring[0]], {0, far}
    spans = [(0, far), (far, len(ring))]
    while spans and len(kept) <= MOST_POINTS:  # more are refused
        first, last = spans.pop()
        line = (closed[first], closed[last])
        offs = [(point_to_line(closed[k], line), k) for k in range(first + 1, last)]
        off, k = max(offs, default=(0.0, 0))
        if off > _LEFT_OUT:
            kept.add(k)
            spans += [(first, k), (k, last)]
    return [ring[k] for k in sorted(kept)]


_Attributes = Mapping[str, str]


def _path(attributes: _Attributes) -> list[TracedLine] | None:
    found = subpaths_of(attributes.get("d", ""))
    return None if found is None else [each for each in found if each.bits]


def _polygon(attributes: _Attributes, *, closed: bool = True) -> list[TracedLine] | None:
    flat = numbers(attributes.get("points", ""))
    if not flat or len(flat) % 2:
        return None
    first, *others = zip(flat[::2], flat[1::2], strict=True)
    return [TracedLine(first, [(each,) for each in others], closed)]


def _lengths(attributes: _Attributes, needed: Sequence[str], others: Sequence[str]) -> list[float] | None:
    """Lengths by their attributes, 0 where one that may be left out is."""
    found = [user_length(attributes.get(key, "" if key in needed else "0")) for key in (*needed, *others)]
    known = [each for each in found if each is not None]
    return known if len(known) == len(found) and all(each > 0 for each in known[: len(needed)]) else None


def _rect(attributes: _Attributes) -> list[TracedLine] | None:
    """One radius stands for both, none is larger than half of its side (9.2)."""
    radii = [attributes.get(key) for key in ("rx", "ry")]
    rx, ry = radii[0] or radii[1] or "0", radii[1] or radii[0] or "0"
    sizes = _lengths({**attributes, "rx": rx, "ry": ry}, ("width", "height"), ("x", "y", "rx", "ry"))
    if sizes is None or min(sizes[4:]) < 0:
        return None
    wide, high, x, y, rx_, ry_ = sizes
    rx_, ry_ = min(rx_, wide / 2), min(ry_, high / 2)
    if not rx_ or not ry_:
        return [
            TracedLine((x, y), [((x + wide, y),), ((x + wide, y + high),), ((x, y + high),)], closed=True)
        ]
    right, low = x + wide, y + high
    straight = [(right - rx_, y), (right, low - ry_), (x + rx_, low), (x, y + ry_)]
    turned = [(right, y + ry_), (right - rx_, low), (x, low - ry_), (x + rx_, y)]
    found = TracedLine((x + rx_, y), closed=True)
    for line, corner in zip(straight, turned, strict=True):
        found.bits += [(line,), *arc(line, [rx_, ry_, 0, 0, 1], corner)]
    return [found]


def _ellipse(attributes: _Attributes) -> list[TracedLine] | None:
    sizes = _lengths(attributes, ("rx", "ry"), ("cx", "cy"))
    if sizes is None:
        return None
    rx, ry, x, y = sizes
    left, right = (x - rx, y), (x + rx, y)
    halves = [*arc(right, [rx, ry, 0, 0, 1], left), *arc(left, [rx, ry, 0, 0, 1], right)]
    return [TracedLine(right, halves, closed=True)]


_READERS = {
    "path": _path,
    "polygon": _polygon,
    "polyline": lambda attributes: _polygon(attributes, closed=False),
    "rect": _rect,
    "circle": lambda attributes: _ellipse(
        {**attributes, "rx": attributes.get("r", ""), "ry": attributes.get("r", "")}
    ),
    "ellipse": _ellipse,
}
