"""Clearance: what an opening needs round it: to the edge, to other openings, to stitch holes.

In: openings with their places, and the stitch holes by piece. Out: findings, one for each opening,
piece and kind, naming the worst. All mm, from an opening's centre (a slot's middle line).

How much room each kind needs stands in `kinds/openings.py`. Less is a warning; where less than 1 mm
of leather is left it is an error.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

import msgspec

from handkit.draft.pattern import Pattern, PatternOpening, PatternPiece, PlacedOpening
from handkit.findings import Finding, finding
from handkit.geometry.capsule import Capsule
from handkit.geometry.region import Region, region_of
from handkit.geometry.straight import foot_on
from handkit.grouping import grouped
from handkit.kinds.openings import Clearance
from handkit.punch.checks.nearness import near_pairs, nearest_of
from handkit.punch.checks.seam_holes import SeamHole
from handkit.punch.spacing.measured import MeasuredSegment, measured
from handkit.read.project import Opening
from handkit.tolerances import COINCIDE, SAME_POINT
from handkit.units import without_noise

# Less leather than this between two rims, or rim and edge, does not hold.
LEATHER_LEAST = 1.0


class _Keys(msgspec.Struct, frozen=True):
    """The rows that tell of too little room, of too little leather, of the same place."""

    room: str
    leather: str
    same_place: str


# Of a place that is wrong in several ways, these are told first.
_FIRST = {"opening-outside": 0, "opening-at-edge": 1}

_AT_EDGE = _Keys("opening-at-edge", "opening-at-edge/leather", "opening-at-edge/same-place")
_APART = _Keys("openings-too-close", "openings-too-close/leather", "openings-too-close/same-place")
_AT_STITCHES = _Keys(
    "opening-near-stitches", "opening-near-stitches/leather", "opening-near-stitches/same-place"
)


class _OpeningHole(msgspec.Struct, frozen=True):
    """One opening on one piece, with its true shape and the room it needs."""

    of: PatternOpening
    place: PlacedOpening
    shape: Capsule
    room: Clearance

    @property
    def text(self) -> str:
        """As it is named to the maker."""
        return self.of.label(self.place.number)


class _Tight(msgspec.Struct, frozen=True):
    """An opening that lacks room: what it is near to, how near, and what it needs."""

    hole: _OpeningHole
    other: _OpeningHole | SeamHole | None  # None is the edge
    apart: float
    allowed: float
    leather: float

    def told(self, piece: PatternPiece, count: int) -> dict[str, object]:
        """What a finding says of it, the worst of `count`."""
        return {
            "opening": self.hole.text,
            "other": self.other.text if self.other else "the edge",
            "piece": piece.name,
            "count": count,
            "least": self.allowed,
        }


def opening_findings(pattern: Pattern, stitches: Mapping[str, Sequence[SeamHole]]) -> tuple[Finding, ...]:
    """What the openings of all pieces have to tell."""
    placed = grouped(
        (
            _OpeningHole(opening, place, shape_of(opening.opening, place), opening.opening.clearance)
            for opening in pattern.openings
            for place in opening.places
        ),
        by=lambda hole: hole.place.piece,
    )
    told = [
        found
        for piece in pattern.pieces
        if piece.name in placed
        for found in _of_piece(piece, placed[piece.name], stitches.get(piece.name, ()))
    ]
    told += [found for opening in pattern.openings for found in _at_mouths(pattern, opening)]
    return tuple(sorted(told, key=lambda found: _FIRST.get(found.code, len(_FIRST))))


def _one_place(hole: _OpeningHole, *others: _OpeningHole) -> Callable[[Finding], Finding]:
    """A place that is wrong in several ways, or on several pieces, is told once."""
    own, *rest = (f"{each.of.source.path}: place" for each in (hole, *others))
    return lambda told: told.once(own).following(*rest)


def _at_mouths(pattern: Pattern, opening: PatternOpening) -> Iterator[Finding]:
    """Places beside a piece that others of the opening lie on, whose rim comes too near to its edge."""
    first, least = opening.places[0].piece, opening.opening.diameter / 2 + LEATHER_LEAST
    for name in dict.fromkeys(place.piece for place in opening.places):
        on_it = {place.number for place in opening.places if place.piece == name}
        lie = pattern.carry(first, name) if len(on_it) < opening.count else None
        if lie is None:
            continue
        outline = pattern.piece(name).outline
        region, segments = region_of(outline), measured(outline)
        beside = [place for place in opening.places if place.piece == first and place.number not in on_it]
        near = []
        for place in beside:
            shape = shape_of(opening.opening, place)
            moved = Capsule(lie.apply(shape.start), lie.apply(shape.end), shape.radius)
            over = region.contains(moved.start) or region.contains(moved.end)
            near.append((0.0 if over else without_noise(_to_edge(segments, moved)), place.number))
        near = [(apart, number) for apart, number in near if apart < least - SAME_POINT]
        if near:
            apart, number = min(near)
            told: dict[str, object] = {"piece": name, "count": len(near), "least": least, "apart": apart}
            where = opening.source.at("at")
            found = finding("opening-at-mouth", where, opening=opening.label(number), **told)
            yield found.at_holes(opening.name, [number for _, number in near])


def _of_piece(
    piece: PatternPiece, holes: Sequence[_OpeningHole], stitches: Sequence[SeamHole]
) -> Iterator[Finding]:
    """What the openings of one piece have to tell."""
    region = region_of(piece.outline)
    parted = grouped(holes, by=lambda hole: _inside(region, hole.shape))
    for group in grouped(parted.get(False, ()), by=lambda hole: hole.of.name).values():
        first, where = group[0], group[0].of.source.at("at")
        told = finding("opening-outside", where, opening=first.text, piece=piece.name, count=len(group))
        told = told.at_holes(first.of.name, [hole.place.number for hole in group], piece.name)
        yield _one_place(first)(told)
    yield from _told(_AT_EDGE, piece, _near_edge(piece, parted.get(True, ())))
    yield from _told(_APART, piece, _near_others(holes))
    yield from _told(_AT_STITCHES, piece, _near_stitches(holes, stitches))


def shape_of(opening: Opening, place: PlacedOpening) -> Capsule:
    """An opening's true shape on a piece; a slot's ends are round."""
    half, radius = opening.half_straight, opening.diameter / 2
    return Capsule.about(place.at, half=half, degrees=place.degrees, radius=radius)


def _inside(region: Region, shape: Capsule) -> bool:
    """Whether a shape's middle line lies inside all the way; a slot may have a notch under its middle."""
    return region.contains(shape.start) if shape.is_round else region.covers(shape.line)


def _near_edge(piece: PatternPiece, holes: Sequence[_OpeningHole]) -> Iterator[_Tight]:
    """Openings inside an outline too near to it."""
    segments = measured(piece.outline)
    for hole in holes:
        apart = _to_edge(segments, hole.shape)
        if apart < hole.room.edge - SAME_POINT:
            yield _Tight(hole, None, apart, hole.room.edge, apart - hole.shape.radius)


def _to_edge(segments: Sequence[MeasuredSegment], shape: Capsule) -> float:
    """Least distance from a shape's middle line inside an outline to the outline.

    It lies at an end of the line, beside an end of a segment, or where the line passes an arc's centre.
    """
    points = [shape.start, shape.end]
    if not shape.is_round:
        for segment in segments:
            points.append(foot_on((segment.x, segment.y), shape.line))
            if segment.curvature:
                points.append(foot_on(segment.centre, shape.line))
    return min(near[0] for near in (nearest_of(iter(segments), point) for point in points) if near)


def _near_others(holes: Sequence[_OpeningHole]) -> Iterator[_Tight]:
    """Two openings of one piece; unlike kinds share what each needs to its like."""
    reach = max(hole.room.apart + hole.of.opening.length for hole in holes)
    for i, j, _ in near_pairs([hole.place.at for hole in holes], within=reach):
        first, second = holes[i], holes[j]
        apart = first.shape.middle_distance(second.shape)
        allowed = (first.room.apart + second.room.apart) / 2
        if apart < allowed - SAME_POINT:
            yield _Tight(second, first, apart, allowed, first.shape.gap(second.shape))


def _near_stitches(holes: Sequence[_OpeningHole], stitches: Sequence[SeamHole]) -> Iterator[_Tight]:
    """Openings beside stitch holes: from the middle of one to the middle of the other."""
    across = sorted(stitches, key=lambda stitch: stitch.at[0])
    for hole in holes:
        reach = hole.room.stitch + hole.of.opening.length
        x = hole.place.at[0]
        low = bisect_left(across, x - reach, key=lambda stitch: stitch.at[0])
        high = bisect_right(across, x + reach, key=lambda stitch: stitch.at[0])
        for stitch in across[low:high]:
            apart = hole.shape.middle_distance(Capsule(stitch.at, stitch.at))
            if apart < hole.room.stitch - SAME_POINT:
                yield _Tight(hole, stitch, apart, hole.room.stitch, hole.shape.gap(stitch.shape))


def _told(keys: _Keys, piece: PatternPiece, tight: Iterable[_Tight]) -> Iterator[Finding]:
    """One finding for each opening and severity, naming the one that lacks most."""
    groups = grouped(tight, by=lambda one: (one.hole.of.name, one.leather < LEATHER_LEAST - SAME_POINT))
    for (_, weak), group in groups.items():
        worst = max(group, key=lambda one: without_noise(one.allowed - one.apart))
        where, told = worst.hole.of.source.at("at"), worst.told(piece, len(group))
        once = _one_place(worst.hole, *((worst.other,) if isinstance(worst.other, _OpeningHole) else ()))
        if worst.apart <= COINCIDE:
            found = finding(keys.same_place, where, **told)
        else:
            found = finding(keys.leather if weak else keys.room, where, **told, apart=worst.apart)
        numbers = dict.fromkeys(one.hole.place.number for one in group)
        yield once(found.at_holes(worst.hole.of.name, numbers, piece.name))
