"""Sections: what a cut through a room or a folded piece shows.

In: the article. Out: `ArticleSection`s, true to measure: closed shapes in (s, z), mm. Across a room s runs
from left to right as its part is drawn, z from the base's face towards the cover; along it s runs from the
foot to the mouth. Of a folded piece see `folded_section.py`.

How far it holds: a cover's middle is taken to follow its inside at half its thickness; what lies on the
cover, and behind the base, is left out, but for handles. Steps are cut along alone, each taut over what it
holds and over the step behind it.
"""

from __future__ import annotations

from collections.abc import Sequence
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
from handkit.assemble.folded_section import folded_sections
from handkit.assemble.hung.cut import cut_handles
from handkit.draft.pattern import Pattern, PatternPiece, Room
from handkit.geometry.affine import Affine, Point
from handkit.geometry.laid.heights import Span
from handkit.geometry.path import Path, polyline
from handkit.geometry.polygon import hull
from handkit.geometry.region import region_of
from handkit.geometry.straight import Straight, distance
from handkit.grouping import grouped
from handkit.read.project import Side

# How much of the base is shown beside what stands on it.
BESIDE = 12.0

# How far what hangs is looked for beyond that.
HANGS = 1e3

# A corner's mitre is cut off where it would stand out by more than this many thicknesses.
LONGEST_MITRE = 2.0


def sections_of(article: Article) -> tuple[ArticleSection, ...]:
    """Of each room one across and one along, then of each piece that is folded with an angle."""
    found: list[ArticleSection] = []
    pattern = article.punched.pattern
    for figure in article.figures:
        stepped = {part: [_steps(figure, bodies)] for part, bodies in _stepped(figure, pattern).items()}
        for body in figure.bodies:
            if body.room is not None and body.room.part in stepped:
                found += stepped.pop(body.room.part)
            elif body.room is not None and not _is_step(body.room, pattern):
                things = [thing for thing in figure.things if thing.room is body.room]
                across = (
                    [_across(figure, body, body.room, things)] if body.room.items or body.room.passes else []
                )
                found += [*across, _along(figure, body, body.room, things)]
    bodies = [(figure, body) for figure in article.figures for body in figure.bodies]
    return (*found, *(each for figure, body in bodies for each in folded_sections(pattern, figure, body)))


def _is_step(room: Room, pattern: Pattern) -> bool:
    """Whether a room stands over another one of its part, or has one that stands over it."""
    own = {each.cover: each for each in pattern.rooms if each.part == room.part}
    return room.base in own or any(each.base == room.cover for each in own.values())


def _stepped(figure: Figure, pattern: Pattern) -> dict[str, list[Body]]:
    """By part, the covers of rooms that stand over one another, from the base outwards."""
    covers = [body for body in figure.bodies if body.room is not None and _is_step(body.room, pattern)]
    outwards = sorted(covers, key=lambda body: abs(body.level))
    return grouped(outwards, by=lambda body: "" if body.room is None else body.room.part)


def _steps(figure: Figure, covers: Sequence[Body]) -> ArticleSection:
    """All steps of a part, cut along."""
    first, room = covers[0], covers[0].room
    assert room is not None  # as `_stepped` has it
    left, _, right, _ = room.place.bounds()
    back, plates, shown = first.lie.inverse(), list[Plate](), list[SectionThing]()
    under: tuple[Point, ...] = ()  # the outside of the step behind
    spans: list[float] = []
    for body in covers:
        things = [thing for thing in figure.things if thing.room.cover == body.name]
        over: list[Point] = []
        for thing in things:
            _, low, _, high = thing.outline.moved(back).bounds()
            face = max(_height_at(under, y) for y in (low, high, *(y for y, _ in under if low < y < high)))
            top = face + thing.high - thing.low
            corners = ((low, face), (high, face), (high, top), (low, top))
            shown.append(SectionThing(thing.item, polyline(corners, closed=True)))
            over += [(low, top), (high, top)]
            spans += [low, high]
        inside = _step_inside(body, back, under, over)
        plates.append(_sheet(body.piece, inside, _away(body)))
        under = offset_line(inside, body.thickness)
        spans += [inside[0][0], inside[-1][0]]
    span = _span_along(figure, room, (left + right) / 2, min(spans), max(spans))
    _, base = _under(figure, first, room, span)
    return ArticleSection(room.part, True, (*base, *plates), tuple(shown))


def _step_inside(body: Body, back: Affine, under: Sequence[Point], over: Sequence[Point]) -> list[Point]:
    """A step's inside: flat on the base from its lower edge to its foot's row, then taut."""
    assert body.room is not None  # it is the cover of a step
    _, off = back.apply(body.lie.apply((0.0, 0.0)))
    row, mouth = (each.at + off for each in (body.room.profiles[0], body.room.profiles[-1]))
    touched = [(y, z) for y, z in under if row < y < mouth] + [(mouth, _height_at(under, mouth))]
    touched += [(min(max(y, row), mouth), z) for y, z in over]
    taut = (at for at in hull([(row, 0.0), (mouth, 0.0), *touched]) if at[0] > row and at[1] > 0)
    return [(body.outline.moved(back).bounds()[1], 0.0), (row, 0.0), *sorted(taut)]


def _height_at(line: Sequence[Point], at: float) -> float:
    """Of a line that goes to the right; 0 beside it."""
    for (x0, z0), (x1, z1) in pairwise(line):
        if x0 <= at <= x1 and x1 > x0:
            return z0 + (z1 - z0) * (at - x0) / (x1 - x0)
    return 0.0


def _across(figure: Figure, cover: Body, room: Room, things: Sequence[Thing]) -> ArticleSection:
    """At the mouth, where the room is widest."""
    left, low, right, top = room.place.bounds()
    ends = ((left - BESIDE, (low + top) / 2), (right + BESIDE, (low + top) / 2))
    span = _base_span(figure, room, ends, ends[0][0], (left + right) / 2)
    floor, plates = _under(figure, cover, room, span)
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
    middle, half = (left + right) / 2, _passing_width(figure, room) / 2
    plates += _passing(figure, room, (middle - half, middle + half), floor)
    plates.append(_sheet(cover.piece, inside, _away(cover)))
    mouth = ((left, room.profiles[-1].at), (right, room.profiles[-1].at))
    plates += cut_handles(figure, room, mouth, left, plates)
    held = {each.item: each.section for each in room.items}
    shown = tuple(SectionThing(each.item, held[each.item].moved(Affine.shift(0.0, floor))) for each in things)
    return ArticleSection(room.part, False, tuple(plates), shown)


def _along(figure: Figure, cover: Body, room: Room, things: Sequence[Thing]) -> ArticleSection:
    """Through the middle of the widest item; of a room that holds none through its own."""
    widest = max(room.items, key=lambda each: _width(each.outline), default=None)
    left, start, right, end = (widest.outline if widest else room.place).bounds()
    span = _span_along(figure, room, (left + right) / 2, start, end)
    floor, plates = _under(figure, cover, room, span)
    plates += _passing(figure, room, span, floor)
    if room.wall is not None:
        strip, shape = room.wall
        low = room.place.bounds()[1]
        plates.append(_wall(figure.body(strip).piece, shape.moved(Affine.shift(low, 0.0))))
    if widest is None:
        inside = [(profile.at, profile.height((left + right) / 2)) for profile in room.profiles]
    else:
        inside = _lengthwise(room, (left + right) / 2, (start, end), floor + widest.thickness)
    plates.append(_sheet(cover.piece, inside, _away(cover)))
    middle = (left + right) / 2
    reach = ((middle, span[0] - HANGS), (middle, span[1] + HANGS))
    plates += cut_handles(figure, room, reach, reach[0][1], plates)
    found = []
    for thing in things:
        if widest is not None and thing.item == widest.item:
            top = floor + thing.high - thing.low
            corners = ((start, floor), (end, floor), (end, top), (start, top))
            found.append(SectionThing(thing.item, polyline(corners, closed=True)))
    return ArticleSection(room.part, True, tuple(plates), tuple(found))


def _passing(figure: Figure, room: Room, span: Span, floor: float) -> list[Plate]:
    """The strap that is put through a loop, as it lies on what is under that."""
    own = [body for body in figure.bodies if body.name == room.passes]
    return [_flat(body.piece, span, floor, body.piece.shows) for body in own]


def _passing_width(figure: Figure, room: Room) -> float:
    """How wide that strap is, 0 where there is none."""
    own = [body.piece.outline.bounds() for body in figure.bodies if body.name == room.passes]
    return own[0][2] - own[0][0] if own else 0.0


def _span_along(figure: Figure, room: Room, middle: float, start: float, end: float) -> Span:
    """What is shown of the base along a room: so far past room and item as it reaches."""
    _, low, _, top = room.place.bounds()
    first, last = min(low, start) - BESIDE, max(top, end) + BESIDE
    return _base_span(figure, room, ((middle, first), (middle, last)), first, (low + top) / 2)


def _base_span(figure: Figure, room: Room, ends: Straight, start: float, own: float) -> Span:
    """From where to where there is base on a line, whose first end counts as `start`: round `own` on it, or
    all the way."""
    spans = region_of(figure.body(room.base).piece.outline).along(*room.lie.apply_all(ends))
    all_ = (0.0, distance(*ends))
    from_, to = next((span for span in spans if span[0] <= own - start <= span[1]), all_)
    return (start + from_, start + to)


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
