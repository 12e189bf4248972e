"""Kinds: how each hand stitch lays its thread, and what every move of it takes.

In: the walk, and each hole's places on both faces, stack and distances to the edge. Out: moves, and
what lies at the start. All mm; M moves of pitch p through a stack T, all alike, take:

    saddle   two needles, one thread    T + 2 M (p + T)
    running  one needle, there and      2 M (p + T) for a row of M stitches: the first strand of a
             back                       stitch lies on one face, the second on the other; both ends
                                        come out on the back, so the first hole of an open row is
                                        passed once less than where the needle ended on the front
    box      two needles, through a     D + 2 M (p + D), D = √(a² + b²): the hole goes straight from
             mitred corner              one outer face to the other, a and b in from their edge
    cross    two needles, over two      w + T + M (2 √(w² + p²) + 2 w + 2 T), T of both pieces together,
             edges side by side         w across from hole to hole: two strands cross on the front, and
                                        at each hole both go straight across behind
    whip     one needle, over the edge  T + M (T + √((a + T + b)² + p²)): the band round the edge,
                                        laid out flat, with one pitch's slant

Derived by hand from the shapes; no source. A rectangle is the longest shape a stitch can take, so
the sums are safe. Moves are written to a thousandth so that they add up to the true sum, however many
there are: what rounding takes from one strand it gives to the next.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from itertools import pairwise
from math import hypot

import msgspec

from handkit.geometry.affine import Point
from handkit.geometry.straight import distance
from handkit.kinds.rows import table
from handkit.kinds.stitches import STITCHES, StitchKind
from handkit.stitch.plan import DECIMALS, Move, SeamSide
from handkit.stitch.sewing.walk import most_back, walk

SitePoints = tuple[Point | None, ...]


class HoleSites(msgspec.Struct, frozen=True):
    """Every hole of a seam, by number less 1: places on both faces, stack, distances to the edge.

    `front` and `back` are rows of places, the nearest to that side first; a layer that goes part of the
    way has none where it has no hole, the last row has all. A strand lies on the first row that has
    both of its holes. (Over the edge of a layer t thick it is √(p² + t²) − p longer at most, 0.16 mm
    at a pitch of 3 and 1 mm thick: within what the rectangle is too long.)
    """

    front: tuple[SitePoints, ...]
    back: tuple[SitePoints, ...]
    stacks: tuple[float, ...]
    front_edge: tuple[float, ...]
    back_edge: tuple[float, ...]
    joint: float | None = None  # from the last hole to the first where a tube's joint lies between


class StitchMoves(msgspec.Struct, frozen=True):
    """Moves, and by place of the walk: what the first strand passes, and lies across behind."""

    moves: tuple[Move, ...]
    stacks: tuple[float, ...]
    strands: tuple[float, ...]


class ThreadLay(msgspec.Struct, frozen=True):
    """How one kind lays its thread: each move, and what the first strand passes and lies across at a hole.

    `move` takes the holes it leaves and reaches, its index and the count of moves; `first` the place
    in the walk, and tells the side from which the needle that goes first, or alone, comes there.
    """

    move: Callable[[HoleSites, int, int, int, int], Move]
    passage: Callable[[HoleSites, int], float]
    across: Callable[[HoleSites, int], float]
    first: Callable[[int], SeamSide]


def way_of(kind: StitchKind, count: int, *, closed: bool, back: int, start_back: int) -> tuple[int, ...]:
    """The holes in the order they are reached; a stitch of two rounds goes there, back, and on.

    >>> way_of(StitchKind.RUNNING, 4, closed=False, back=1, start_back=0)
    (1, 2, 3, 4, 3, 2, 1, 2)
    >>> way_of(StitchKind.RUNNING, 3, closed=True, back=0, start_back=0)
    (1, 2, 3, 1, 3, 2, 1)
    """
    if STITCHES[kind].rounds == 1 or count == 1:
        return walk(count, closed=closed, back=back, start_back=start_back)
    there = walk(count, closed=closed, back=0, start_back=start_back)
    again = (*range(count, 0, -1),) if closed else (*range(count - 1, 0, -1),)
    return (*there, *again, *range(2, min(back, most_back(count)) + 2))


def laid(kind: StitchKind, way: Sequence[int], sites: HoleSites) -> StitchMoves:
    """The moves of a walk, sewn in one kind of stitch."""
    row, pairs = THREAD_LAYS[kind], list(pairwise(way))
    return StitchMoves(
        to_a_thousandth(row.move(sites, a, b, index, len(pairs)) for index, (a, b) in enumerate(pairs)),
        tuple(round(row.passage(sites, hole), DECIMALS) for hole in way),
        tuple(round(row.across(sites, hole), DECIMALS) for hole in way),
    )


def to_a_thousandth(moves: Iterable[Move]) -> tuple[Move, ...]:
    """Moves whose strands are rounded so that all up to any place are right to half a thousandth.

    >>> [move.front for move in to_a_thousandth([Move(1, 2, 0.0004, 0.0004, 1)] * 3)]
    [0.0, 0.0, 0.0]
    >>> [move.back for move in to_a_thousandth([Move(1, 2, 0.0004, 0.0004, 1)] * 3)]
    [0.001, 0.001, 0.0]
    """
    exact = written = 0.0
    found = []
    for move in moves:
        rounded = []
        stack = round(move.stack, DECIMALS)
        exact, written = exact + move.passes * move.stack, written + move.passes * stack
        for strand in (move.front, move.back, move.over):
            exact += strand
            rounded.append(round(exact - written, DECIMALS) if strand else 0.0)
            written = round(written + rounded[-1], DECIMALS)
        front, back, over = rounded
        found.append(msgspec.structs.replace(move, front=front, back=back, over=over, stack=stack))
    return tuple(found)


def first_face(kind: StitchKind, place: int) -> SeamSide:
    """The side from which the needle that goes first, or alone, comes at a place of the walk.

    >>> [str(first_face(StitchKind.RUNNING, place)) for place in range(3)]
    ['back', 'front', 'back']
    """
    return THREAD_LAYS[kind].first(place)


def _saddle(sites: HoleSites, a: int, b: int, _: int, __: int) -> Move:
    return Move(a, b, _step(sites, sites.front, a, b), _step(sites, sites.back, a, b), _stack(sites, b))


def _box(sites: HoleSites, a: int, b: int, _: int, __: int) -> Move:
    return Move(
        a, b, _step(sites, sites.front, a, b), _step(sites, sites.back, a, b), _through_corner(sites, b)
    )


def _running(sites: HoleSites, a: int, b: int, index: int, count: int) -> Move:
    """One strand, on the front at first; the last one goes through only where that is to the back."""
    front = _by_turns(index) is SeamSide.BACK
    step = _step(sites, sites.front if front else sites.back, a, b)
    passes = count % 2 if index == count - 1 else 1
    return Move(a, b, step if front else 0.0, 0.0 if front else step, _stack(sites, b), passes)


def _cross(sites: HoleSites, a: int, b: int, _: int, __: int) -> Move:
    """Both needles across and on, down, straight across behind, and up."""
    wide = (_across(sites, a) + _across(sites, b)) / 2
    slanting = 2 * hypot(wide, _mean_step(sites, a, b))
    behind = 2 * _across(sites, b)
    return Move(a, b, slanting, behind, _stack(sites, b))


def _whip(sites: HoleSites, a: int, b: int, _: int, __: int) -> Move:
    band = (_band(sites, a) + _band(sites, b)) / 2
    over = hypot(band, _mean_step(sites, a, b))
    return Move(a, b, 0.0, 0.0, _stack(sites, b), passes=1, over=over)


def _stack(sites: HoleSites, hole: int) -> float:
    return sites.stacks[hole - 1]


def _through_corner(sites: HoleSites, hole: int) -> float:
    return hypot(sites.front_edge[hole - 1], sites.back_edge[hole - 1])


def _across(sites: HoleSites, hole: int) -> float:
    return sites.front_edge[hole - 1] + sites.back_edge[hole - 1]


def _nothing(_: HoleSites, __: int) -> float:
    return 0.0


def _from_front(_: int) -> SeamSide:
    return SeamSide.FRONT


def _from_behind_once(place: int) -> SeamSide:
    return SeamSide.FRONT if place else SeamSide.BACK


def _by_turns(place: int) -> SeamSide:
    """From behind at the start, and then from either side in turn."""
    return SeamSide.FRONT if place % 2 else SeamSide.BACK


def _band(sites: HoleSites, hole: int) -> float:
    return _across(sites, hole) + _stack(sites, hole)


def _mean_step(sites: HoleSites, a: int, b: int) -> float:
    return (_step(sites, sites.front, a, b) + _step(sites, sites.back, a, b)) / 2


def _step(sites: HoleSites, rows: Sequence[SitePoints], a: int, b: int) -> float:
    if sites.joint is not None and {a, b} == {1, len(sites.stacks)}:
        return sites.joint
    for row in rows:
        start, end = row[a - 1], row[b - 1]
        if start is not None and end is not None:
            return distance(start, end)
    raise ValueError("the last row has every hole")


THREAD_LAYS = table(
    StitchKind,
    {
        StitchKind.SADDLE: ThreadLay(_saddle, _stack, _nothing, _from_front),
        StitchKind.RUNNING: ThreadLay(_running, _stack, _nothing, _by_turns),
        StitchKind.BOX: ThreadLay(_box, _through_corner, _nothing, _from_front),
        StitchKind.CROSS: ThreadLay(_cross, _stack, _across, _from_behind_once),
        StitchKind.WHIP: ThreadLay(_whip, _stack, _nothing, _from_front),
    },
)
