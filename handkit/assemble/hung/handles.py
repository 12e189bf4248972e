"""Handles: strips that are sewn down at both their ends and hang free between them.

In: what is punched, a piece that does not lie flat. Out: its outline in plan and the way there of its first
end; nothing of a piece that is held otherwise.

      ╭─────╮        Where each end lies its holes tell: by a row that turns, and so does not only hold an
      │     │        edge. Between both, as much leather as the piece has goes straight on to the edge of
    ══╪═════╪══      what it is sewn to, and over in an arc; where that is more than half a circle is long,
     ┌┴┐   ┌┴┐       it goes further straight on. Ends in one line are joined by that line.
     └─┘   └─┘

How far it holds: it is drawn as it stands up over its panel; in use it turns and falls.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import ceil, pi

import msgspec

from handkit.draft.pattern import PatternPiece
from handkit.geometry.affine import Affine, Point
from handkit.geometry.box import Box
from handkit.geometry.nearest import nearest_move
from handkit.geometry.path import Path, polyline
from handkit.geometry.polygon import hull, signed_area
from handkit.geometry.region import areas_of, region_of
from handkit.geometry.segment import Segment
from handkit.geometry.straight import distance, unit
from handkit.punch.punched import Punched, PunchedSeam
from handkit.tolerances import SAGITTA, SAME_POINT

# Holes that come no nearer to their mates than this are no end that lies flat, mm; a row that takes in less
# does not turn, mm²; two ways are one, or opposite, whose cosine is within this of it.
OFF, TURNS, ALIKE = 0.5, 4.0, 0.02

# A way farther than any panel is long, mm; how long the steps are that an outline is bent by.
FAR, STEP = 1e4, 2.0


class _End(msgspec.Struct, frozen=True):
    """One end: its holes on the strip, the way from there to the plan, and what it is sewn to."""

    holes: tuple[Point, ...]
    lie: Affine
    onto: str

    @property
    def middle(self) -> Point:
        """Of its holes, on the strip."""
        xs, ys = zip(*self.holes, strict=True)
        return Box(min(xs), min(ys), max(xs), max(ys)).middle


class _Along(msgspec.Struct, frozen=True):
    """The strip's frame: along from its first end's middle to its last one's, and to the left."""

    start: Point
    way: Point

    def of(self, at: Point) -> Point:
        """How far along a place is, and how far to the left."""
        x, y = at[0] - self.start[0], at[1] - self.start[1]
        return x * self.way[0] + y * self.way[1], y * self.way[0] - x * self.way[1]

    def at(self, along: float) -> Point:
        """A place on the middle."""
        return self.start[0] + along * self.way[0], self.start[1] + along * self.way[1]


def handle_in_plan(punched: Punched, piece: PatternPiece) -> tuple[Path, Affine] | None:
    """The outline of a handle in its base's plan, and the way there from the strip as far as its first end
    lies; None of what is no handle."""
    ends = list(_ends(punched, piece))
    if len(ends) != 2:
        return None
    first, last = ends
    frame = _Along(first.middle, unit(first.middle, last.middle))
    start = max(frame.of(at)[0] for at in first.holes)
    end = min(frame.of(at)[0] for at in last.holes)
    if start >= end or first.lie.turns_over is not last.lie.turns_over:
        return None
    ways = [each.lie.apply_direction(frame.way) for each in ends]
    places = (first.lie.apply(frame.at(start)), last.lie.apply(frame.at(end)))
    outline, _ = punched.pattern.in_plan(first.onto)
    middle = _middle(places, (ways[0], ways[1]), end - start, outline)
    if middle is None:
        return None
    left = -1.0 if first.lie.turns_over else 1.0
    ring: list[Point] = []
    for at in _in_steps(piece.outline):
        along, off = frame.of(at)
        if start < along < end:
            share = (along - start) / (end - start) * middle.length
            (x, y), (u, v) = middle.point_at(share), middle.direction_at(share)
            ring.append((x - v * off * left, y + u * off * left))
        else:
            ring.append((first if along <= start else last).lie.apply(at))
    return _simple(ring), first.lie


def _simple(ring: Sequence[Point]) -> Path:
    """A bent strip's outline without the loop that its inner edge makes where it turns sharply."""
    return polyline(max(areas_of([ring]).rings(), key=lambda each: abs(signed_area(each))), closed=True)


def _ends(punched: Punched, piece: PatternPiece) -> Iterator[_End]:
    """The rows that hold the piece flat on another in its base's plan, each by itself."""
    for seam in punched.seams:
        own = [layer for layer in seam.layers if layer.piece == piece.name]
        if len(own) == 1:
            yield from _held(punched, piece, seam)


def _held(punched: Punched, piece: PatternPiece, seam: PunchedSeam) -> Iterator[_End]:
    """One row's, by the first of its mates that it lies flat on."""
    own = next(layer for layer in seam.layers if layer.piece == piece.name)
    for mate in seam.layers:
        other = punched.pattern.piece(mate.piece)
        pairs = [(hole.at, there.at) for hole in own.holes if (there := mate.hole(hole.number)) is not None]
        if other is piece or other.base != piece.base or len(pairs) < 3:
            continue
        _, to_plan = punched.pattern.in_plan(mate.piece)
        holes, places = [at for at, _ in pairs], to_plan.apply_all([there for _, there in pairs])
        if abs(signed_area(hull(holes))) < TURNS:
            continue
        for over in (False, True):
            lie = nearest_move(holes, places, over=over)
            if max(distance(lie.apply(a), b) for a, b in zip(holes, places, strict=True)) <= OFF:
                yield _End(tuple(holes), lie, mate.piece)
                return


def _middle(places: tuple[Point, Point], ways: tuple[Point, Point], long: float, onto: Path) -> Path | None:
    """The way of the middle between both ends, in plan; None where how it goes is not known."""
    (start, end), (away, back) = places, ways
    apart = distance(start, end)
    if apart < SAME_POINT:
        return None
    chord = unit(start, end)
    if min(_cos(away, chord), _cos(back, chord)) > 1 - ALIKE:
        return polyline((start, end)) if apart <= long + OFF else None
    if _cos(away, back) > -1 + ALIKE or abs(_cos(away, chord)) > ALIKE:
        return None
    stretches = region_of(onto).along(start, (start[0] + away[0] * FAR, start[1] + away[1] * FAR))
    straight = max((to for _, to in stretches[:1]), default=0.0)
    over = long - 2 * straight
    straight += max(0.0, (over - pi * apart / 2) / 2)
    if over < apart:
        return None
    a, b = ((x + away[0] * straight, y + away[1] * straight) for x, y in places)
    side = -1.0 if chord[0] * away[1] - chord[1] * away[0] > 0 else 1.0
    arc = Segment(a, b, side * _bulge(apart, min(over, pi * apart / 2)))
    return Path((Segment(start, a), arc, Segment(b, end)))


def _bulge(chord: float, long: float) -> float:
    """Of an arc that is so long over a chord, half a circle at most, by halving."""
    low, high = 0.0, 1.0
    for _ in range(50):
        middle = (low + high) / 2
        short = Segment((0.0, 0.0), (chord, 0.0), middle).length < long
        low, high = (middle, high) if short else (low, middle)
    return high


def _cos(one: Point, other: Point) -> float:
    return one[0] * other[0] + one[1] * other[1]


def _in_steps(outline: Path) -> Iterator[Point]:
    """An outline's corners with places between them."""
    corners: Sequence[Point] = outline.flattened(sagitta=SAGITTA)
    for (x0, y0), (x1, y1) in pairwise([*corners, corners[0]]):
        count = max(1, ceil(distance((x0, y0), (x1, y1)) / STEP))
        for k in range(count):
            yield x0 + (x1 - x0) * k / count, y0 + (y1 - y0) * k / count
