"""Sections: what a cut through a room or a folded piece shows.

In: the article. Out: `ArticleSection`s, true to measure: closed shapes in (s, z), mm. Across a room s runs
from left to right as its part is drawn, z from the base's face towards the cover; along it s runs from the
foot to the mouth. Of a folded piece s runs over its folds, z towards the eye that sees the side that shows.

How far it holds: a cover's middle is taken to follow its inside at half its thickness; what lies on the
cover, and behind the base, is left out.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import hypot

from handkit.assemble.article import (
    Article,
    ArticleSection,
    Body,
    BodyKind,
    Figure,
    Plate,
    SectionThing,
    Thing,
)
from handkit.draft.pattern import PatternFold, PatternPiece, Room
from handkit.geometry.affine import Affine, Point
from handkit.geometry.laid.heights import Span
from handkit.geometry.path import Path, polyline
from handkit.geometry.polygon import hull
from handkit.geometry.region import region_of
from handkit.read.project import Side
from handkit.tolerances import SAGITTA

# How much of the base is shown beside what stands on it.
BESIDE = 12.0

# A corner's mitre is cut off where it would stand out by more than this many thicknesses.
LONGEST_MITRE = 2.0

# Farther than any piece reaches.
FAR = 1e4

# Into how many lines the bent zone of a fold is parted, and how far apart places of the rest are, mm.
BENT_LINES, STEP = 24, 4.0


def sections_of(article: Article) -> tuple[ArticleSection, ...]:
    """Of each room one across and one along, then of each piece that is folded with an angle."""
    found: list[ArticleSection] = []
    for figure in article.figures:
        for body in figure.bodies:
            if body.room is not None:
                things = [thing for thing in figure.things if thing.room is body.room]
                across = [_across(figure, body, body.room, things)] if body.room.items else []
                found += [*across, _along(figure, body, body.room, things)]
    bodies = [(figure, body) for figure in article.figures for body in figure.bodies]
    return (*found, *(section for figure, body in bodies for section in _folded(figure, body)))


def _across(figure: Figure, cover: Body, room: Room, things: Sequence[Thing]) -> ArticleSection:
    """At the mouth, where the room is widest."""
    left, _, right, _ = room.place.bounds()
    floor, plates = _under(figure, cover, room, (left - BESIDE, right + BESIDE))
    inside = [*room.profiles[-1].inside]
    if room.wall is not None:
        strip, shape = room.wall
        depth = max(z for _, z in inside)
        piece = figure.body(strip).piece
        plates += [
            _wall(piece, shape.moved(Affine.shift(left, 0.0))),
            _wall(piece, shape.moved(Affine(a=-1.0, e=right))),
        ]
        inside = [(left, depth), (right, depth)]
    else:
        inside = [(left, 0.0), *inside, (right, 0.0)]
    plates.append(_sheet(cover.piece, inside, _away(cover)))
    held = {each.item: each.section for each in room.items}
    shown = tuple(SectionThing(each.item, held[each.item].moved(Affine.shift(0.0, floor))) for each in things)
    return ArticleSection(room.part, False, tuple(plates), shown)


def _along(figure: Figure, cover: Body, room: Room, things: Sequence[Thing]) -> ArticleSection:
    """Through the middle of the widest item; of a room that holds none through its own."""
    widest = max(room.items, key=lambda each: _width(each.outline), default=None)
    left, start, right, end = (widest.outline if widest else room.place).bounds()
    floor, plates = _under(figure, cover, room, _base_span(figure, room, (left + right) / 2, start, end))
    if room.wall is not None:
        strip, shape = room.wall
        low = room.place.bounds()[1]
        plates.append(_wall(figure.body(strip).piece, shape.moved(Affine.shift(low, 0.0))))
    if widest is None:
        inside = [(profile.at, profile.height((left + right) / 2)) for profile in room.profiles]
    else:
        inside = _lengthwise(room, (left + right) / 2, (start, end), floor + widest.thickness)
    plates.append(_sheet(cover.piece, inside, _away(cover)))
    found = []
    for thing in things:
        if widest is not None and thing.item == widest.item:
            top = floor + thing.high - thing.low
            corners = ((start, floor), (end, floor), (end, top), (start, top))
            found.append(SectionThing(thing.item, polyline(corners, closed=True)))
    return ArticleSection(room.part, True, tuple(plates), tuple(found))


def _base_span(figure: Figure, room: Room, middle: float, start: float, end: float) -> Span:
    """What is shown of the base along a room: so far past room and item as it reaches."""
    _, low, _, top = room.place.bounds()
    first, last = min(low, start) - BESIDE, max(top, end) + BESIDE
    base = region_of(figure.body(room.base).piece.outline)
    spans = base.along(*room.lie.apply_all(((middle, first), (middle, last))))
    own = (low + top) / 2 - first
    from_, to = next((span for span in spans if span[0] <= own <= span[1]), (0.0, last - first))
    return (first + from_, first + to)


def _lengthwise(room: Room, middle: float, item: Span, height: float) -> list[Point]:
    """A cover's inside from foot to mouth; what is flat at its foot is pulled up over what fills it."""
    _, low, _, top = room.place.bounds()
    if room.wall is not None:
        depth = max(z for _, z in room.profiles[-1].inside)
        return [(low, depth), (top, depth)]
    line = [(profile.at, profile.height(middle)) for profile in room.profiles]
    line = [(low, line[0][1]), *line, (top, line[-1][1])]
    foot = line[1]
    if foot[1] > 0.0:
        return line
    over = [(max(y, foot[0]), height) for y in item if y < top]
    upper = sorted(point for point in hull([line[0], *line[2:], *over]) if point[1] > 0)
    return [line[0], foot, *upper]


def _under(figure: Figure, cover: Body, room: Room, span: Span) -> tuple[float, list[Plate]]:
    """The base and what lies flat on it all over the room, and how thick that is: items lie on it."""
    base = figure.body(room.base)
    between = [
        body
        for body in figure.bodies
        if body.kind is BodyKind.FLAT
        and min(base.level, cover.level) < body.level < max(base.level, cover.level)
        and region_of(body.outline).grown(0.5).covers(cover.outline.flattened(sagitta=0.1))
    ]
    away, z, found = cover.level > base.level, 0.0, []
    for body in sorted(between, key=lambda each: each.level * (1 if away else -1)):
        found.append(_flat(body.piece, span, z, _away(body, towards=away)))
        z += body.piece.thickness
    found.append(_flat(base.piece, span, -base.piece.thickness, _away(base, towards=away)))
    return z, found


def _flat(piece: PatternPiece, span: Span, low: float, up: Side) -> Plate:
    (start, end), high = span, low + piece.thickness
    ring = polyline(((start, low), (end, low), (end, high), (start, high)), closed=True)
    return Plate(piece.name, ring, polyline(((start, high), (end, high))), up)


def _sheet(piece: PatternPiece, inside: Sequence[Point], up: Side) -> Plate:
    """A piece that follows its inside, from left to right, with its thickness above it."""
    points = [a for a, b in pairwise(inside) if a != b] + [inside[-1]]
    outer = offset_line(points, piece.thickness)
    ring = polyline((*points, *reversed(outer)), closed=True)
    return Plate(piece.name, ring, polyline(outer), up)


def _wall(piece: PatternPiece, shape: Path) -> Plate:
    return Plate(piece.name, shape, shape, piece.shows)


def offset_line(points: Sequence[Point], by: float) -> tuple[Point, ...]:
    """A line of corners moved to its left, mitred at each; what would stand out too far is cut short.

    >>> offset_line([(0, 0), (4, 0), (4, 3)], 1)
    ((0.0, 1.0), (3.0, 1.0), (3.0, 3.0))
    """
    normals: list[Point] = []
    for (x0, y0), (x1, y1) in pairwise(points):
        length = hypot(x1 - x0, y1 - y0)
        normals.append(((y0 - y1) / length, (x1 - x0) / length))
    found: list[Point] = []
    for (x, y), (ax, ay), (bx, by_) in zip(
        points, [normals[0], *normals], [*normals, normals[-1]], strict=True
    ):
        reach = by / max(1 + ax * bx + ay * by_, 2 / LONGEST_MITRE**2)
        found.append((x + (ax + bx) * reach, y + (ay + by_) * reach))
    return tuple(found)


def _away(body: Body, *, towards: bool | None = None) -> Side:
    """The side that looks away from the base where it is in front of it, or else where it is behind."""
    to_eye = body.level > 0 if towards is None else towards
    return body.up if to_eye else body.up.other


def _width(outline: Path) -> float:
    left, _, right, _ = outline.bounds()
    return right - left


def _folded(figure: Figure, body: Body) -> Iterator[ArticleSection]:
    """One for all folds of a piece that lie side by side; one more for each that lies another way. Of a base
    with the things that are in it once it is shut."""
    piece = body.piece
    left = [fold for fold in piece.folds if fold.bend is not None]
    while left:
        first = left[0]
        alike = [fold for fold in left if _same_way(first, fold)]
        left = [fold for fold in left if fold not in alike]
        plate = _bent_plate(piece, first, alike)
        if plate is not None:
            things = _cut_things(figure, body, first) if piece.name == figure.base else ()
            yield ArticleSection(piece.name, True, (plate,), tuple(things))


def _cut_things(figure: Figure, base: Body, fold: PatternFold) -> Iterator[SectionThing]:
    """What the same cut shows of things that lie along the fold, by their section, or square to it."""
    assert fold.bend is not None
    (wx, wy), (x, y) = fold.bend.way, fold.path.point_at(fold.path.length / 2)
    for thing in figure.things:
        leaf = figure.body(thing.room.base).leaf_at(thing.outline.flattened(sagitta=SAGITTA))
        spans = region_of(thing.outline).along((x + wy * FAR, y - wx * FAR), (x - wy * FAR, y + wx * FAR))
        lies_along = abs(thing.way[0] * wx + thing.way[1] * wy)
        if not spans or 0.01 < lies_along < 0.99:
            continue
        if lies_along > 0.5:  # across it any of its places is as far over the fold as all along it
            section = thing.held.section.flattened(sagitta=SAGITTA)
            places = [(thing.lie.apply((across, 0.0)), z) for across, z in section]
        else:
            ends = [((x - wy * (d - FAR), y + wx * (d - FAR))) for d in (spans[0][0], spans[-1][1])]
            tall = thing.held.thickness
            places = [(ends[0], 0.0), (ends[1], 0.0), (ends[1], tall), (ends[0], tall)]
        ring = []
        for at, z in places:
            px, py, pz = leaf.fold.apply((*at, thing.low + z if thing.in_front else thing.high - z))
            ring.append(((py - y) * wx - (px - x) * wy, pz + base.piece.thickness / 2))
        yield SectionThing(thing.item, polyline(ring, closed=True))


def _same_way(first: PatternFold, second: PatternFold) -> bool:
    assert first.bend is not None and second.bend is not None
    (ax, ay), (bx, by_) = first.bend.way, second.bend.way
    return abs(ax * by_ - ay * bx) < 1e-9


def _bent_plate(piece: PatternPiece, fold: PatternFold, alike: Sequence[PatternFold]) -> Plate | None:
    """A cut square to the folds through the middle of the first, where it is in space."""
    assert fold.bend is not None
    (wx, wy), (x, y) = fold.bend.way, fold.path.point_at(fold.path.length / 2)
    across = (-wy, wx)
    left, low, right, top = piece.outline.bounds()
    reach = hypot(right - left, top - low)
    spans = region_of(piece.outline).along(
        (x - across[0] * reach, y - across[1] * reach), (x + across[0] * reach, y + across[1] * reach)
    )
    if not spans:
        return None
    start, end = min(span[0] for span in spans) - reach, max(span[1] for span in spans) - reach
    stops = {start, end}
    for each in alike:
        assert each.bend is not None
        at = (each.bend.at[0] - x) * across[0] + (each.bend.at[1] - y) * across[1]
        half = each.bend.half
        stops |= {at - half + 2 * half * k / BENT_LINES for k in range(BENT_LINES + 1)}
    ordered = sorted(stop for stop in stops if start <= stop <= end)
    edges: list[list[Point]] = [[], []]
    for stop in ordered:
        place = (x + across[0] * stop, y + across[1] * stop)
        for edge, height in zip(edges, (-piece.thickness / 2, piece.thickness / 2), strict=True):
            px, py, pz = piece.in_space(place, height=height)
            edge.append(((px - x) * across[0] + (py - y) * across[1], pz))
    lower, upper = edges
    ring = polyline((*lower, *reversed(upper)), closed=True)
    return Plate(piece.name, ring, polyline(upper), piece.shows)
