"""Straights: the middle of a long straight piece, left out of the drawing where nothing is drawn on it.

In: a shape, the page's printable size, mm. Out: `ShapePart`s: a shape for each end that is drawn, with
the break lines between them; the shape itself where it fits a page or has nothing to leave out.

    ┌──────────⌇          ⌇─────────┐    A *gap* lies between two edges that are straight and
    │ ∘   ∘    ⌇          ⌇       ∘  >   parallel, and goes right across the piece: nothing else of
    └──────────⌇          ⌇─────────┘    it lies between the two break lines, however far they are
               <- 612 mm ->              prolonged. So each part lies on one side of each line.

A gap is a whole number of mm long, to be measured with a rule; it keeps clear of corners, curves,
holes, openings, letters and every line that is drawn in the piece or lies on it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from math import floor

import msgspec

from handkit.geometry.affine import Point
from handkit.geometry.polygon import sides, signed_area
from handkit.geometry.straight import Straight, distance
from handkit.ink import BREAK_DEPTH, BREAK_OVER
from handkit.sheets.cut.profile import Span, merged
from handkit.sheets.nest.packing import Size
from handkit.sheets.nest.turns import turn_to_fit
from handkit.sheets.shape import STROKE_ROOM, Shape

# Straight edge that stays beside whatever comes next, to lay a rule along.
KEPT = 25.0

# Less than this is not worth measuring.
LEAST_GAP = 100.0

# Two edges are parallel whose directions differ by less, as a sine: 0.01 mm in a metre.
PARALLEL = 1e-5

Edge = tuple[Point, Point]


class Gap(msgspec.Struct, frozen=True):
    """What is left out. `edges` are the two outline edges it lies between, each as the outline
    goes; `lines` the two break lines, each from the first edge to the second."""

    edges: tuple[Edge, Edge]
    lines: tuple[Edge, Edge]
    length: float


class ShapePart(msgspec.Struct, frozen=True):
    """An end of a piece. `shape` has the piece's name, and room for its break lines; `ends` tell
    the gaps it is cut at, by number, and which of the gap's two lines is its own. What lies left of
    each of the lines `sides` is its own."""

    shape: Shape
    sides: tuple[Straight, ...] = ()
    ends: tuple[tuple[int, int], ...] = ()


class Parted(msgspec.Struct, frozen=True):
    """A shape in parts, and the gaps between them."""

    parts: tuple[ShapePart, ...]
    gaps: tuple[Gap, ...] = ()


def whole(shape: Shape, _: Size) -> Parted:
    """A shape that is drawn as it is, on whatever page."""
    return Parted((ShapePart(shape),))


def shortened(shape: Shape, page: Size) -> Parted:
    """A shape without what can be left out; as it is where it fits a page."""
    if turn_to_fit(shape.base(0).apply_all(shape.coarse_ring), page, room=shape.room) is not None:
        return whole(shape, page)
    widest = min(page.width, page.height) - 2 * (BREAK_OVER + STROKE_ROOM)
    gaps = tuple(_gaps(shape, widest))
    if not gaps:
        return whole(shape, page)
    fine = _rings(shape.ring, gaps)
    coarse = _rings(shape.coarse, gaps) if shape.coarse else [((), ()) for _ in fine]
    return Parted(
        tuple(
            ShapePart(
                msgspec.structs.replace(shape, ring=ring, coarse=rough),
                tuple(_side(gaps[number], line) for number, line in ends),
                ends,
            )
            for (ring, ends), (rough, _) in zip(fine, coarse, strict=True)
        ),
        gaps,
    )


def _side(gap: Gap, line: int) -> Straight:
    """The side of a gap's break line that its part lies on: along the gap's first edge the part is
    before the first line, and after the second."""
    start, end = gap.lines[line]
    before_is_left = _off(gap.edges[0], end) > 0
    return (start, end) if before_is_left == (line == 0) else (end, start)


def _gaps(shape: Shape, widest: float) -> Iterator[Gap]:
    """All gaps, by the first of their edges and along it."""
    edges = [edge for edge in sides(shape.ring) if distance(*edge) >= LEAST_GAP]
    left = 1.0 if signed_area(shape.ring) > 0 else -1.0
    for number, first in enumerate(edges):
        for second in edges[number + 1 :]:
            along = _direction(first)
            width = (_off(first, second[0])) * left
            if _is_opposite(along, _direction(second)) and 0 < width <= widest:
                yield from _between(shape, first, second, max(LEAST_GAP, width))


def _between(shape: Shape, first: Edge, second: Edge, least: float) -> Iterator[Gap]:
    """The gaps between two edges."""
    ux, uy = _direction(first)
    origin = first[0]

    def along(at: Point) -> float:
        return (at[0] - origin[0]) * ux + (at[1] - origin[1]) * uy

    def on_second(place: float) -> Point:
        off = _off(first, second[0])
        return (origin[0] + ux * place - uy * off, origin[1] + uy * place + ux * off)

    start, end = max(0.0, along(second[1])), min(along(first[1]), along(second[0]))
    for low, high in _free((start, end), _taken(shape, (first, second), along)):
        begin = round(low + KEPT, 3)
        length = float(floor(high - KEPT - begin + 1e-6))
        if length < least:
            continue
        lines = [
            ((origin[0] + ux * place, origin[1] + uy * place), on_second(place))
            for place in (begin, begin + length)
        ]
        yield Gap((first, second), (lines[0], lines[1]), length)


def _taken(shape: Shape, between: tuple[Edge, Edge], along: Callable[[Point], float]) -> Iterator[Span]:
    """The stretches in which something happens: of all else that the piece is or has drawn on it."""

    def span(points: Iterable[Point], room: float = 0.0) -> Span:
        places = [along(at) for at in points]
        return (min(places) - room, max(places) + room)

    yield from (span(edge) for edge in sides(shape.ring) if edge not in between)
    yield from (span((keep_out.start, keep_out.end), keep_out.radius) for keep_out in shape.keep_outs)
    yield from (span(line) for line in shape.lines if line)
    yield from (span((at,)) for at in (*shape.letters, *shape.texts))


def _free(within: Span, taken: Iterable[Span]) -> Iterator[Span]:
    """What is left of a stretch.

    >>> list(_free((0, 10), [(-3, 1), (4, 5), (4, 6)]))
    [(1.0, 4.0), (6.0, 10)]
    """
    low, high = within
    for start, end in merged(tuple(taken), 0.0):
        if start > low:
            yield (low, min(start, high))
        low = max(low, end)
        if low >= high:
            return
    yield (low, high)


class _Node(msgspec.Struct, frozen=True):
    """A place of the outline: a corner, or an end of a break line. `leaves` where the way of a part
    leaves the outline here and goes across to `other`, past the line's own room."""

    at: Point
    end: tuple[int, int] | None = None  # gap and line by number
    other: Point = (0.0, 0.0)
    room: tuple[Point, ...] = ()

    @property
    def leaves(self) -> bool:
        """Whether the outline is left here."""
        return bool(self.room)


_Ring = tuple[Point, ...]
_Ends = tuple[tuple[int, int], ...]


def _rings(ring: Sequence[Point], gaps: Sequence[Gap]) -> list[tuple[_Ring, _Ends]]:
    """The rings of all parts, from the ring's start on, with the gaps each is cut at."""
    nodes = [node for edge in sides(ring) for node in _nodes(edge, gaps)]
    places = {(node.end, node.at): k for k, node in enumerate(nodes) if node.end}
    found: list[tuple[_Ring, _Ends]] = []
    seen: set[int] = set()
    for begin, first in enumerate(nodes):
        points: list[Point] = []
        ends: list[tuple[int, int]] = []
        k = begin
        while not first.leaves and k not in seen:
            seen.add(k)
            node = nodes[k]
            points.append(node.at)
            if node.leaves and node.end:
                points += node.room
                ends.append(node.end)
                k = places[node.end, node.other]
            else:
                k = (k + 1) % len(nodes)
        if points:
            found.append((tuple(points), tuple(ends)))
    return found


def _nodes(edge: Edge, gaps: Sequence[Gap]) -> Iterator[_Node]:
    """An edge's start and the break lines' ends on it, in the order of the outline. Going along a
    gap's first edge the way leaves at the first line, along its second edge at the second."""
    yield _Node(edge[0])
    found = []
    for number, gap in enumerate(gaps):
        for which in (0, 1):
            for line, places in enumerate(gap.lines):
                if gap.edges[which] == edge:
                    at, other = places[which], places[1 - which]
                    room = _room(at, other, _direction(edge)) if line == which else ()
                    found.append((distance(edge[0], at), _Node(at, (number, line), other, room)))
    yield from (node for _, node in sorted(found, key=lambda one: one[0]))


def _room(at: Point, other: Point, onward: Point) -> tuple[Point, ...]:
    """The way round what a break line takes beyond the piece, from one of its ends to the other."""
    ux, uy = _direction((other, at))
    (over_x, over_y), (deep_x, deep_y) = (ux * BREAK_OVER, uy * BREAK_OVER), onward
    deep_x, deep_y = deep_x * BREAK_DEPTH, deep_y * BREAK_DEPTH
    near, far = (at[0] + over_x, at[1] + over_y), (other[0] - over_x, other[1] - over_y)
    return (near, (near[0] + deep_x, near[1] + deep_y), (far[0] + deep_x, far[1] + deep_y), far)


def _direction(edge: Edge) -> Point:
    length = distance(*edge)
    return ((edge[1][0] - edge[0][0]) / length, (edge[1][1] - edge[0][1]) / length)


def _is_opposite(one: Point, other: Point) -> bool:
    cross = one[0] * other[1] - one[1] * other[0]
    return abs(cross) < PARALLEL and one[0] * other[0] + one[1] * other[1] < 0


def _off(edge: Edge, at: Point) -> float:
    """How far a point lies to the left of an edge."""
    ux, uy = _direction(edge)
    return ux * (at[1] - edge[0][1]) - uy * (at[0] - edge[0][0])
