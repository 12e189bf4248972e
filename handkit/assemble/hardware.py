"""Hardware in one place: caps, fittings and thread that touch where no leather is between.

In: one figure. Out: a `Clash` for each two. What stands on one face of one piece is told by its holes, where
it is punched, and what one fold goes round belongs together.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence

import msgspec

from handkit.assemble.article import Cap, Clash, Figure, Owner, PlacedFitting
from handkit.assemble.overlap import LEAST, Parting, of_points, of_regions, parted
from handkit.assemble.sight import Pair, clash_of
from handkit.draft.pattern import Pattern
from handkit.geometry.affine import Point
from handkit.geometry.box import Box
from handkit.geometry.laid.heights import Heights
from handkit.geometry.region import region_of
from handkit.geometry.straight import distance
from handkit.kinds.fittings import FittingKind


def clashes_of_hardware(pattern: Pattern, figure: Figure, heights: Heights) -> Iterator[Clash]:
    """Of a figure's caps, then of its fittings."""
    yield from _of_caps(pattern, figure, heights)
    for index, fitting in enumerate(figure.fittings):
        told: set[str] = set()
        met = (
            *_with_caps(figure, heights, fitting),
            *_with_rows(figure, heights, fitting),
            *_with_others(figure, heights, fitting, figure.fittings[index + 1 :]),
        )
        for other, owner, parting, high in met:
            if parting.deep > LEAST and other not in told:
                told.add(other)
                pair = Pair(fitting.fitting.name, other, owner)
                yield clash_of(figure, "clash/fitting", pair, (parting, high))


class _Face(msgspec.Struct, frozen=True):
    """The face of a piece that something stands out of, and where; a keeper goes `around` its piece."""

    on: str
    to_eye: bool
    at: Point
    around: bool = False


_Found = tuple[str, Owner, Parting, float]


def _with_caps(figure: Figure, heights: Heights, fitting: PlacedFitting) -> Iterator[_Found]:
    """Caps; those through the piece that a fold bends are told where it is punched."""
    area = region_of(fitting.outline)
    for cap in figure.caps:
        high = _common(fitting, cap.low, cap.high)
        if high <= LEAST or (fitting.fitting.fold and fitting.on in cap.pieces):
            continue
        parting = of_points(area, (cap.at,), cap.radius)
        if parting is not None:
            other = _Face(cap.on, cap.to_eye, parting.at)
            if not _leather_between(figure, heights, _face_of(fitting, parting), other):
                yield f'a cap of "{cap.opening}"', ("opening", cap.opening), parting, high


def _with_rows(figure: Figure, heights: Heights, fitting: PlacedFitting) -> Iterator[_Found]:
    """Thread of seams through other pieces: those through its own are told where it is punched."""
    area = region_of(fitting.outline)
    for row in figure.rows:
        if fitting.on in row.pieces:
            continue
        for places, to_eye, on in ((row.front, True, row.pieces[-1]), (row.back, False, row.pieces[0])):
            parting = of_points(area, [(x, y) for x, y, _ in places], row.thread / 2)
            if parting is None:
                continue
            face = sum(z for *_, z in places) / len(places)
            ends = (face, face + row.thread) if to_eye else (face - row.thread, face)
            high, thread = _common(fitting, *ends), _Face(on, to_eye, parting.at)
            if high > LEAST and not _leather_between(figure, heights, _face_of(fitting, parting), thread):
                yield f'the thread of "{row.seam}"', ("seam", row.seam), parting, high


def _with_others(
    figure: Figure, heights: Heights, fitting: PlacedFitting, others: Sequence[PlacedFitting]
) -> Iterator[_Found]:
    """Other fittings, but those of one fold, and those of one name: they are checked where they are read."""
    area = region_of(fitting.outline)
    for other in others:
        high = _common(fitting, other.low, other.high)
        one_fold = fitting.fitting.fold and fitting.fitting.fold == other.fitting.fold
        if high <= LEAST or fitting.fitting is other.fitting or (one_fold and fitting.on == other.on):
            continue
        parting = of_regions(area, region_of(other.outline))
        if parting is not None:
            faces = _face_of(fitting, parting), _face_of(other, parting)
            if not _leather_between(figure, heights, *faces):
                yield other.words, other.owner, parting, high


def _common(fitting: PlacedFitting, low: float, high: float) -> float:
    """How much of its height a fitting has in common with something."""
    return min(fitting.high, high) - max(fitting.low, low)


def _of_caps(pattern: Pattern, figure: Figure, heights: Heights) -> Iterator[Clash]:
    """Caps that touch where no leather is between; those on one face of one piece are told by their holes,
    and a snap's halves are meant to."""
    mates = {(each.name, each.opening.mate) for each in pattern.openings}
    for cap, others in _within_reach(figure.caps):
        for other in others:
            deep = cap.radius + other.radius - distance(cap.at, other.at)
            high = min(cap.high, other.high) - max(cap.low, other.low)
            if deep <= LEAST or high <= LEAST or set(cap.pieces) & set(other.pieces):
                continue
            if (cap.opening, other.opening) in mates:
                continue
            if not _leather_between(figure, heights, _face(cap), _face(other)):
                box, beside = (
                    Box(x - r, y - r, x + r, y + r)
                    for (x, y), r in ((cap.at, cap.radius), (other.at, other.radius))
                )
                owner = ("opening", other.opening)
                pair = Pair(cap.opening, f'a cap of "{other.opening}"', owner)
                parting = msgspec.structs.replace(parted(box, beside), deep=deep)
                yield clash_of(figure, "clash/caps", pair, (parting, high))


def _within_reach(caps: Sequence[Cap]) -> Iterator[tuple[Cap, list[Cap]]]:
    """Each with those after it that are near enough from left to right to touch it."""
    order = sorted(range(len(caps)), key=lambda k: caps[k].at[0])
    lefts = [caps[k].at[0] for k in order]
    widest = max((cap.radius for cap in caps), default=0.0)
    for index, cap in enumerate(caps):
        x, reach = cap.at[0], cap.radius + widest
        near = order[bisect_left(lefts, x - reach) : bisect_right(lefts, x + reach)]
        yield cap, [caps[k] for k in sorted(near) if k > index]


def _face_of(fitting: PlacedFitting, parting: Parting) -> _Face:
    """Where a fitting meets something."""
    around = fitting.fitting.kind is FittingKind.KEEPER
    return _Face(fitting.on, fitting.to_eye, parting.at, around)


def _face(cap: Cap) -> _Face:
    return _Face(cap.on, cap.to_eye, cap.at)


def _leather_between(figure: Figure, heights: Heights, one: _Face, two: _Face) -> bool:
    """Whether a piece parts what stands out of two faces where they meet: one that lies over the lower of
    them and under the upper."""
    lower, upper = sorted((one, two), key=lambda face: figure.body(face.on).level)
    low, high = figure.body(lower.on).level, figure.body(upper.on).level
    for body in figure.bodies:
        over = low < body.level if lower.to_eye or lower.around else low <= body.level
        under = body.level <= high if upper.to_eye and not upper.around else body.level < high
        if over and under and heights.covers(body.name, lower.at) and heights.covers(body.name, upper.at):
            return True
    return False
