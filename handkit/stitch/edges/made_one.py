"""Made one: the edges of leather that layers have in common once they are joined.

In: the pattern, a piece's edge, tasks in working order. Out: each part of it that is made one, with which
pieces, and after which task.

Both edges are asked by one rule, so that it holds for the base as for what lies on it: a place of the edge
is *flush* where a seam runs beside it (`beside.py`), or glue holds it, and an edge of the mate lies within
`FLUSH`. Where the two do not lie flat together (a gusset) the seam's lines are asked: both run along edges. A
piece that is folded on itself and sewn is its own mate; one whose ends are lapped, with no fold between, is
not. Cloth is not sanded: what is flush with it stays single. What lies on the *face* of another layer of that
task, or of what is joined to one of its layers before, and which goes on beyond it there, is made one with
none: nobody sands down to a face, so it is finished before it is sewn on.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from functools import cached_property
from itertools import groupby
from math import ceil

import msgspec

from handkit.draft.pattern import Pattern, PatternPiece
from handkit.geometry.affine import Affine, Point
from handkit.geometry.path import Path
from handkit.geometry.region import region_of
from handkit.geometry.straight import distance, unit
from handkit.stitch.edges.beside import beside
from handkit.stitch.order.edges import FLUSH, OutlineEdge
from handkit.stitch.order.tasks import Task, TaskKind
from handkit.tolerances import EDGE_SLACK, SAME_POINT

# An edge is looked at every so many mm, at five places at least; where it ceases to be flush is found as near
# as the last of these.
LOOK = 4.0
LEAST_LOOKS = 5
NEAR_ENOUGH = 0.05

# What is left beside a part that is made one is finished with it where it is no longer than this, mm (common
# practice, no source).
LEAST_REST = 15.0

# So far beyond an edge there is the face of what it lies on, mm: further than both could be flush.
BEYOND = 2.0


class MadeOne(msgspec.Struct, frozen=True):
    """A part of an edge, as distances along it: with which pieces it is made one, after which task."""

    low: float
    high: float
    pieces: tuple[str, ...]
    after: Task


class _Flush(msgspec.Struct, frozen=True):
    """From where to where an edge is made one with a mate's by one task."""

    low: float
    high: float
    mate: str
    task: Task


class _Looked(msgspec.Struct, frozen=True, dict=True, eq=False):
    """An edge of a piece."""

    piece: PatternPiece
    edge: OutlineEdge

    def at(self, along: float) -> Point:
        """The place at a distance along the edge."""
        return self.piece.outline.point_at(self.edge.low + along)

    @cached_property
    def known(self) -> dict[Point, bool]:
        """Whether holes are of the edge, of those that were asked for."""
        return {}

    @cached_property
    def path(self) -> Path:
        """The edge by itself."""
        outline, low, span = self.piece.outline, self.edge.low, self.edge.span
        return outline if span >= outline.length - SAME_POINT else outline.between(low, low + span)

    @cached_property
    def parts(self) -> tuple[Path, Path] | None:
        """The edge and the rest of the outline; None where it is all of it."""
        outline, end = self.piece.outline, self.edge.low + self.edge.span
        if self.edge.span >= outline.length - SAME_POINT:
            return None
        rest = outline.between(end, self.edge.low + outline.length)
        return self.path, rest


def made_one(
    pattern: Pattern, piece: PatternPiece, edge: OutlineEdge, tasks: Sequence[Task]
) -> tuple[MadeOne, ...]:
    """The parts of one edge that are made one with others, in order; what lies between them stays single."""
    looked = _Looked(piece, edge)
    found = [
        each
        for task in tasks
        if task.kind is not TaskKind.OPENING and piece.name in task.pieces
        for grounds in [_joined_by_then(task, tasks)]
        for mate in map(pattern.piece, dict.fromkeys(task.pieces))
        if mate.traits.is_leather
        for each in _flush(pattern, looked, mate, task)
        if not _on_face(pattern, looked, grounds, (each.low, each.high))
    ]
    turn = {task: index for index, task in enumerate(tasks)}
    parts = []
    for low, high in _joined([(each.low, each.high) for each in found], edge.span):
        own = [each for each in found if each.low < high and each.high > low]
        mates = {each.mate for each in own}
        listed = tuple(each.name for each in pattern.pieces if each.name in mates)
        parts.append(
            MadeOne(low, high, listed, max((each.task for each in own), key=lambda task: turn[task]))
        )
    return tuple(parts)


def _joined(stretches: Iterable[tuple[float, float]], span: float) -> list[tuple[float, float]]:
    """Stretches of an edge as one where they overlap or leave little between them; none that is as
    short as what the end of a row comes to that goes straight up to an edge.

    >>> _joined([(70, 90), (2, 30), (35, 50), (119, 121)], 150)
    [(0.0, 50), (70, 90)]
    >>> _joined([(106, 110)], 150), _joined([(2, 7)], 10)  # 4 mm are such an end; half of a short edge is not
    ([], [(0.0, 10)])
    """
    joined: list[tuple[float, float]] = []
    for low, high in sorted(stretches):
        if joined and low - joined[-1][1] <= LEAST_REST:
            joined[-1] = (joined[-1][0], max(joined[-1][1], high))
        else:
            joined.append((low, high))
    return [
        (0.0 if low <= LEAST_REST else low, span if span - high <= LEAST_REST else high)
        for low, high in joined
        if high - low >= min(2 * LOOK, max(LOOK, span / 2))
    ]


def places_of(piece: PatternPiece, edge: OutlineEdge) -> tuple[Point, ...]:
    """Places along an edge, clear of its ends."""
    count = max(LEAST_LOOKS, ceil(edge.span / LOOK))
    length = piece.outline.length
    return tuple(
        piece.outline.point_at((edge.low + edge.span * (k + 0.5) / count) % length) for k in range(count)
    )


def _flush(pattern: Pattern, looked: _Looked, mate: PatternPiece, task: Task) -> Iterator[_Flush]:
    """Which stretches of an edge are made one with a mate's by one task."""
    piece = looked.piece
    lie = None if piece is mate else pattern.carry(piece.name, mate.name)
    if lie is None:
        meets = _is_folded(task, piece) if piece is mate else task.kind is TaskKind.SEAM
        if not meets or not _along_edges(pattern, task, piece.name, mate.name):
            return
    for low, high in _beside(looked, mate.name, task):
        ends = [(low, high)] if lie is None else _to_its_end(looked, mate, lie, (low, high), _near(task))
        yield from (_Flush(*each, mate.name, task) for each in ends)


def _joined_by_then(task: Task, tasks: Sequence[Task]) -> tuple[str, ...]:
    """The pieces of a task, and what is sewn or glued to one of them before."""
    before = (
        each
        for each in tasks[: tasks.index(task)]
        if each.kind is not TaskKind.OPENING and not set(each.pieces).isdisjoint(task.pieces)
    )
    return tuple(dict.fromkeys(name for each in (task, *before) for name in each.pieces))


def _on_face(pattern: Pattern, looked: _Looked, grounds: Sequence[str], stretch: tuple[float, float]) -> bool:
    """Whether a stretch of an edge lies on one of some pieces that goes on beyond it."""
    middle, outline = sum(stretch) / 2, looked.piece.outline
    dx, dy = unit(looked.at(middle - LOOK / 4), looked.at(middle + LOOK / 4))
    out = 1 if outline.signed_area() > 0 else -1
    x, y = looked.at(middle)
    beyond = (x + dy * out * BEYOND, y - dx * out * BEYOND)
    for name in grounds:
        lie = pattern.carry(looked.piece.name, name) if name != looked.piece.name else None
        if lie is not None and region_of(pattern.piece(name).outline).contains(lie.apply(beyond)):
            return True
    return False


def _to_its_end(
    looked: _Looked, mate: PatternPiece, lie: Affine, sewn: tuple[float, float], near: float
) -> Iterator[tuple[float, float]]:
    """Where a bare edge of a mate lies at a stretch that is sewn, on to that edge's end where it is near."""
    first, last = max(sewn[0] - near, 0.0), min(sewn[1] + near, looked.edge.span)
    for low, high in _ending(looked, mate, lie, first, last):
        begin, end = sewn[0] if low == first else low, sewn[1] if high == last else high
        if begin < end:
            yield begin, end


def _near(task: Task) -> float:
    """How much of an edge is left over at most where a further hole has no room: inset and pitch."""
    return task.reach / 2 + task.pitch


def _ending(
    looked: _Looked, mate: PatternPiece, lie: Affine, low: float, high: float
) -> Iterator[tuple[float, float]]:
    """Where from one distance along an edge to another a bare edge of a mate lies at it: what is flush goes
    on round that one's corner as far as `FLUSH`, which is taken off."""

    def ends(along: float) -> bool:
        return _ends_there(mate, lie.apply(looked.at(along)))

    count = max(LEAST_LOOKS, ceil((high - low) / LOOK))
    places = [low + (high - low) * (k + 0.5) / count for k in range(count)]
    for flush, some in groupby([(along, ends(along)) for along in places], key=lambda one: one[1]):
        if flush:
            own = [along for along, _ in some]
            before, after = own[0] - (high - low) / count, own[-1] + (high - low) / count
            yield (
                low if before < low else _turning(ends, own[0], before) + FLUSH,
                high if after > high else _turning(ends, own[-1], after) - FLUSH,
            )


def _turning(ends: Callable[[float], bool], inside: float, outside: float) -> float:
    """The place between two at which what holds of the first holds no more."""
    while abs(outside - inside) > NEAR_ENOUGH:
        middle = (inside + outside) / 2
        inside, outside = (middle, outside) if ends(middle) else (inside, middle)
    return inside


def _ends_there(mate: PatternPiece, at: Point) -> bool:
    """Whether a bare edge of a piece lies at a place of its frame."""
    turned = any(each.path.comes_within(FLUSH, at) for each in mate.works)
    return not turned and mate.outline.comes_within(FLUSH, at)


def _beside(looked: _Looked, mate: str, task: Task) -> Iterator[tuple[float, float]]:
    """The stretches of an edge beside which a seam has holes of it that go through both, on as far as its
    next hole; all where it is glue."""
    edge = looked.edge
    if task.kind is TaskKind.GLUE:
        yield 0.0, edge.span
        return
    rows = list(task.common(looked.piece.name, (mate,)))
    own = _of_edge(dict.fromkeys(hole for row in rows for hole in row), looked)
    layers = list(task.on(looked.piece.name))
    for row in rows:
        layer = next(points for points in layers if set(row) <= set(points))
        for mine, some in groupby(row, key=lambda hole: hole in own):
            if mine:
                yield beside(
                    looked.path, _with_next(list(some), layer, most=2 * task.pitch), near=_near(task)
                )


def _with_next(row: Sequence[Point], layer: Sequence[Point], *, most: float) -> list[Point]:
    """A row with the holes of its layer before and after it, where these are no farther off than a step."""
    first, last = layer.index(row[0]), layer.index(row[-1])
    before = [hole for hole in layer[max(first - 1, 0) : first] if distance(hole, row[0]) <= most]
    after = [hole for hole in layer[last + 1 : last + 2] if distance(hole, row[-1]) <= most]
    return [*before, *row, *after]


def _of_edge(holes: Collection[Point], looked: _Looked) -> set[Point]:
    """The holes that are nearer to an edge than to all others; one at a corner is of neither."""
    if looked.parts is None:
        return set(holes)
    (own, rest), known = looked.parts, looked.known
    for hole in (hole for hole in holes if hole not in known):
        known[hole] = not rest.comes_within(own.distance_to(hole) + EDGE_SLACK, hole)
    return {hole for hole in holes if known[hole]}


def _along_edges(pattern: Pattern, task: Task, *names: str) -> bool:
    """Whether a seam runs along edges of both pieces."""
    runs = next((seam.runs for seam in pattern.seams if seam.name == task.name), ())
    return all(any(run.piece == name and run.inside for run in runs) for name in names)


def _is_folded(task: Task, piece: PatternPiece) -> bool:
    """Whether a seam goes through two leaves of a piece with a fold between."""
    own = [layer.points for layer in task.layers if layer.piece == piece.name]
    return len(own) > 1 and any(piece.folds_between(*pair) for pair in zip(own[0], own[1], strict=False))
