"""Cut: what a section shows of what hangs: handles, straps that go round, ties.

In: a figure, the line of a cut, what the section has by then. Out: closed shapes as sections have them.

A handle lies on the far side of what it hangs on, and goes straight on beyond it. A strap and a tie lie on
what comes out furthest where they go round; under the piece of its slots a strap lies on that one's inside.

How far it holds: what is under a strap or a tie is drawn as if they took no room, and neither sags.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise

from handkit.assemble.article import (
    BodyKind,
    Figure,
    Plate,
    SectionThing,
)
from handkit.draft.pattern import Pattern, Room
from handkit.geometry.affine import Point
from handkit.geometry.laid.heights import Span
from handkit.geometry.path import Path, polyline
from handkit.geometry.region import region_of
from handkit.geometry.straight import Straight, unit

# Farther than any section is high.
FAR = 1e4

# From a place of the plan and its height, z once all is folded, to a section.
Seen = Callable[[Point, float], Point]


def cut_handles(
    figure: Figure, room: Room, line: Straight, first: float, plates: Sequence[Plate]
) -> Iterator[Plate]:
    """The handles on a room's base and cover, on a line of the room's frame whose first end is `first` along
    the section."""
    ends = (figure.body(room.base).lie @ room.lie).apply_all(line)
    for body in figure.bodies:
        on = next((plate for plate in plates if plate.piece == body.on), None)
        if body.kind is not BodyKind.HANGING or on is None or body.on not in (room.base, room.cover):
            continue
        line_of = on.upper if body.on == room.cover else _far_side(on)
        out = 1.0 if body.on == room.cover else -1.0
        face = sorted((*(each.start for each in line_of.segments), line_of.end))
        for start, end in region_of(body.outline).along(*ends):
            inner = _between(face, first + start, first + end)
            outer = [(s, z + out * body.thickness) for s, z in inner]
            ring = polyline((*inner, *reversed(outer)), closed=True)
            yield Plate(body.name, ring, polyline(outer), body.piece.shows)


def _far_side(plate: Plate) -> Path:
    """The line of a flat plate that looks away from what its upper one looks at."""
    upper = {*(each.start for each in plate.upper.segments), plate.upper.end}
    return polyline([each.start for each in plate.outline.segments if each.start not in upper])


def _between(line: Sequence[Point], start: float, end: float) -> list[Point]:
    """A part of a line that goes to the right, level beyond its ends."""
    inner = [at for at in line if start < at[0] < end]
    return [(start, _height(line, start)), *inner, (end, _height(line, end))]


def _height(line: Sequence[Point], at: float) -> float:
    if at <= line[0][0]:
        return line[0][1]
    for (x0, z0), (x1, z1) in pairwise(line):
        if x0 < at <= x1:
            return z0 + (z1 - z0) * (at - x0) / (x1 - x0)
    return line[-1][1]


def cut_straps(
    pattern: Pattern, figure: Figure, line: Straight, seen: Seen, shapes: Sequence[tuple[str, Path]]
) -> Iterator[Plate]:
    """The straps that go round a figure, on a line of its plan once it is shut; `shapes` are what else is
    cut, and of which piece."""
    for strap in figure.straps:
        piece = pattern.piece(strap.piece)
        up = 1.0 if strap.on_face else -1.0
        ways = ((strap.over, up, ""), (strap.under, up, strap.through), ((strap.behind,), -up, ""))
        for paths, out, under in ways:
            for span in (span for path in paths for span in _spans(path, line, seen)):
                ring = _lying(shapes, span, out, piece.thickness, under=under)
                if ring is not None:
                    far = polyline([segment.start for segment in ring.segments[2:]])
                    yield Plate(strap.piece, ring, far, piece.shows)


def cut_ties(
    figure: Figure, line: Straight, seen: Seen, shapes: Sequence[tuple[str, Path]]
) -> Iterator[SectionThing]:
    """The same of ties, on both faces."""
    for tie in figure.ties:
        thick = tie.fitting.thickness or tie.fitting.diameter or 0.0
        for span in _spans(tie.outline, line, seen):
            ring = _lying(shapes, span, 1.0 if tie.to_eye else -1.0, thick)
            if ring is not None:
                yield SectionThing(tie.fitting.name, ring)


def _spans(path: Path, line: Straight, seen: Seen) -> Iterator[Span]:
    """Where a line of the plan cuts an outline, along the section."""
    (x, y), (ux, uy) = line[0], unit(*line)
    for span in region_of(path).along(*line):
        start, end = sorted(seen((x + ux * at, y + uy * at), 0.0)[0] for at in span)
        yield start, end


def _lying(
    shapes: Sequence[tuple[str, Path]], span: Span, out: float, thick: float, *, under: str = ""
) -> Path | None:
    """What lies on the outermost of what is cut there, or on the inside of one piece; None where nothing is
    cut."""
    start, end = span
    middle = (start + end) / 2
    found = [
        z - FAR
        for piece, path in shapes
        if under in ("", piece)
        for spans in [region_of(path).along((middle, -FAR), (middle, FAR))]
        for ends in spans[-1:] * (out > 0) + spans[:1] * (out < 0)
        for z in ends
    ]
    if not found:
        return None
    outermost = max(found) if out > 0 else min(found)
    innermost = min(found) if out > 0 else max(found)
    face, way = (innermost, -out) if under else (outermost, out)
    far = face + way * thick
    return polyline(((start, face), (end, face), (end, far), (start, far)), closed=True)
