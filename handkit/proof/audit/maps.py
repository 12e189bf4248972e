"""Maps: by which map all of some marks lie beside where they should, and how that is told.

In: pairs of points: where each should be, where it is. Out: an `Affine` that takes most of them there; what
it does, as phrases.

A program that scales, turns, leans, mirrors or moves a page does it by one affine map. The plainest kind of
map that explains as many pairs as any is the one: a shift, then one that keeps angles, turned over or not,
then any (least squares; pairs that lie far off are left out, and it is asked again).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from math import atan2, degrees, dist, hypot, pi
from statistics import median

import msgspec

from handkit.geometry.affine import Affine, Point
from handkit.geometry.segment import Segment
from handkit.messages.placeholders import Phrase
from handkit.messages.unseen import MAPPED
from handkit.proof.content.paths import PathSegment
from handkit.tolerances import AS_LISTED

# Where a point should be, and where it is.
Pair = tuple[Point, Point]

# How often those that lie far off are left out.
ROUNDS = 12

# Of all pairs, the share that a map must explain, and of what another explains, what a plainer one must.
MOST, NEARLY = 0.5, 0.98

# Points spread by so little of their length across it lie on a line.
FLAT = 1e-5


def pairs_of(expected: Sequence[Segment], drawn: Sequence[PathSegment]) -> list[Pair]:
    """The ends of rows of segments that should be drawn, with those that are; of rows with as many segments
    all joints, of circles, which begin anywhere, their centres. Nothing where there are not as many rows."""
    wanted = _rows([(one.start, one.end, bool(one.bulge)) for one in expected])
    found = _rows([(one[0], one[-1], len(one) > 2) for one in drawn])
    if len(wanted) != len(found):
        return []
    pairs: list[Pair] = []
    for here, there in zip(wanted, found, strict=True):
        if here.round and there.round:
            pairs.append((_middle(here.points[1:]), _middle(there.points[1:])))
        elif len(here.points) == len(there.points):
            pairs += zip(here.points, there.points, strict=True)
        else:
            pairs += ((here.points[k], there.points[k]) for k in (0, -1))
    return pairs


def map_of(pairs: Sequence[Pair]) -> Affine | None:
    """The plainest map that takes most first points to their second ones; None where there is none."""
    if not pairs:
        return None
    found = [(by, _explained(by, pairs)) for fit in _FITS if (by := _settled(fit, pairs)) is not None]
    most = max(count for _, count in found)
    if most < MOST * len(pairs):
        return None
    return next(by for by, count in found if count >= NEARLY * most)


class _Row(msgspec.Struct):
    """Points one after another, and whether all between them is curved."""

    points: list[Point]
    curved: bool

    @property
    def round(self) -> bool:
        """Whether it is a circle, as far as a kit draws any."""
        return self.curved and dist(self.points[0], self.points[-1]) <= AS_LISTED


def _rows(ends: Iterable[tuple[Point, Point, bool]]) -> list[_Row]:
    """Segments by their ends and whether they are curved, a row until what follows begins elsewhere."""
    rows: list[_Row] = []
    for start, end, curved in ends:
        if rows and dist(rows[-1].points[-1], start) <= AS_LISTED:
            rows[-1].points.append(end)
            rows[-1].curved &= curved
        else:
            rows.append(_Row([start, end], curved))
    return rows


def _settled(fit: Callable[[Sequence[Pair]], Affine | None], pairs: Sequence[Pair]) -> Affine | None:
    """A map fitted to the pairs that it explains best."""
    kept: Sequence[Pair] = pairs
    by = fit(kept)
    for _ in range(ROUNDS):
        if by is None:
            return None
        offs = [_off(by, pair) for pair in pairs]
        limit = max(AS_LISTED, median(offs))
        chosen = [pair for pair, off in zip(pairs, offs, strict=True) if off <= limit]
        if len(chosen) == len(kept) and limit <= AS_LISTED:
            return by
        kept = chosen
        by = fit(kept)
    return by


def _off(by: Affine, pair: Pair) -> float:
    return dist(by.apply(pair[0]), pair[1])


def _explained(by: Affine, pairs: Iterable[Pair]) -> int:
    return sum(_off(by, pair) <= AS_LISTED for pair in pairs)


def _middle(points: Sequence[Point]) -> Point:
    return sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points)


def _middles(pairs: Sequence[Pair]) -> tuple[Point, Point]:
    return _middle([here for here, _ in pairs]), _middle([there for _, there in pairs])


def _about(linear: Affine, pairs: Sequence[Pair]) -> Affine:
    """The map with this linear part that takes the middle of first points to that of second ones."""
    (x, y), (u, v) = _middles(pairs)
    return Affine.shift(u, v) @ linear @ Affine.shift(-x, -y)


def _shift(pairs: Sequence[Pair]) -> Affine | None:
    return _about(Affine(), pairs)


def _keeping_angles(pairs: Sequence[Pair], *, over: bool) -> Affine | None:
    """Points as complex numbers: the least squares of w = a·z, or of w = a·z̄ turned over."""
    (x, y), (u, v) = _middles(pairs)
    above, below = 0j, 0.0
    for (px, py), (qx, qy) in pairs:
        z, w = complex(px - x, (y - py) if over else py - y), complex(qx - u, qy - v)
        above += w * z.conjugate()
        below += abs(z) ** 2
    if below < AS_LISTED:
        return None
    a = above / below
    turned = Affine(a.real, a.imag, -a.imag, a.real)
    return _about(turned @ Affine(d=-1.0) if over else turned, pairs)


def _any(pairs: Sequence[Pair]) -> Affine | None:
    """Least squares of any linear map; None where first points lie on a line."""
    (x, y), (u, v) = _middles(pairs)
    xx = xy = yy = ux = uy = vx = vy = 0.0
    for (px, py), (qx, qy) in pairs:
        dx, dy, du, dv = px - x, py - y, qx - u, qy - v
        xx, xy, yy = xx + dx * dx, xy + dx * dy, yy + dy * dy
        ux, uy, vx, vy = ux + du * dx, uy + du * dy, vx + dv * dx, vy + dv * dy
    below = xx * yy - xy * xy
    if below <= FLAT * (xx + yy) ** 2:
        return None
    across = ((ux * yy - uy * xy) / below, (vx * yy - vy * xy) / below)
    up = ((uy * xx - ux * xy) / below, (vy * xx - vx * xy) / below)
    return _about(Affine(*across, *up), pairs)


_FITS: tuple[Callable[[Sequence[Pair]], Affine | None], ...] = (
    _shift,
    lambda pairs: _keeping_angles(pairs, over=False),
    lambda pairs: _keeping_angles(pairs, over=True),
    _any,
)


def told_map(by: Affine, middle: Point, reach: float) -> tuple[Phrase, ...]:
    """What a map does to what lies about a middle, as far as shows at its reach.

    >>> [one.told() for one in told_map(Affine(1.03, d=1.03), (100, 150), 150)]
    ['1.030 times as large', 'its middle 3.00 mm to the right, 4.50 mm up']
    >>> [one.told() for one in told_map(Affine(a=-1, e=210), (105, 150), 150)]
    ['mirrored']
    """
    ways = tuple(_ways(by, middle))
    moved = (Phrase(MAPPED["moved"], {"ways": ways}),) if ways else ()
    return (*_turns(by, AS_LISTED / max(reach, 1.0)), *moved)


def _turns(by: Affine, shows: float) -> Iterator[Phrase]:
    """What the linear part does, as far as it shows: one matrix is a turn, a lean to the right of what stands
    upright, and shares across and down, of what may be mirrored first."""
    over = by.determinant < 0
    linear = by @ Affine.mirror() if over else by
    across, turn = hypot(linear.a, linear.b), atan2(linear.b, linear.a)
    turn += 2 * pi * (turn < shows - pi)  # half a turn goes to the left
    x, down = Affine.turn(-degrees(turn)).apply_direction((linear.c, linear.d))
    if over:
        yield Phrase(MAPPED["mirrored"])
    if abs(across - down) > shows:
        yield Phrase(MAPPED["stretched"], {"across": across, "down": down})
    elif abs(across - 1) > shows:
        yield Phrase(MAPPED["scaled"], {"by": across})
    lean = atan2(x, down)
    for name, angle in (("turned-left", turn), ("turned-right", -turn)):
        if angle > shows:
            yield Phrase(MAPPED[name], {"by": degrees(angle)})
    for name, angle in (("leaning-right", lean), ("leaning-left", -lean)):
        if angle > shows:
            yield Phrase(MAPPED[name], {"by": degrees(angle)})


def _ways(by: Affine, middle: Point) -> Iterator[Phrase]:
    """How far a middle is moved, as far as it shows."""
    (x, y), (u, v) = middle, by.apply(middle)
    for name, off in (("right", u - x), ("left", x - u), ("up", v - y), ("down", y - v)):
        if off > AS_LISTED / 2:
            yield Phrase(MAPPED[name], {"by": off})
