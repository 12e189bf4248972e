"""Shapes: marks as the manifest lists them.

In: marks, and the map that leads from where they are drawn to the frame they are listed in. Out:
`ListedMark`s of lines and arcs.

A cubic of a drawing is an arc or is refused: its first handle gives the direction in which the arc sets
out, and that with its ends gives the arc (`path_ops.py` draws no other cubics).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import tan

from handkit.draw.model.marks import Group, Ink, Mark, settled
from handkit.draw.model.path_ops import PathOps
from handkit.geometry.affine import Affine, Point
from handkit.geometry.segment import Segment
from handkit.geometry.straight import angle_between, distance
from handkit.ink import Tag
from handkit.manifest.listed import OF_WINDOW, ListedLine, ListedMark, Says, listed_segments
from handkit.tolerances import SAME_POINT

# The map that leads nothing elsewhere.
AS_DRAWN = Affine()

# Arcs about one centre are one arc, up to half a circle.
MOST_BULGE = 1.0 + 1e-9


def mark_shape(mark: Mark, by: Affine = AS_DRAWN) -> ListedMark:
    """A mark without its words, led by a map."""
    inks = [part for part in mark.parts if isinstance(part, Ink)]
    lines = tuple(line for ink in inks if ink.stroke is not None for line in listed_lines(ink.path, by))
    fills = tuple(line for ink in inks if ink.stroke is None for line in listed_lines(ink.path, by))
    return ListedMark(mark.tag.value, says(mark), lines, fills)


def says(mark: Mark) -> Says:
    """What a mark's tag says beside piece, window and copy; numbers as the file has them."""
    return {
        name: value if isinstance(value, str) else _number(value)
        for name, value in mark.properties
        if name not in OF_WINDOW
    }


def marks_of(groups: Iterable[Group], tags: frozenset[Tag]) -> Iterator[Mark]:
    """All marks of some tags, in drawing order."""
    for group in groups:
        for mark in settled(group).marks:
            if mark.tag in tags:
                yield mark


def listed_lines(path: PathOps, by: Affine) -> Iterator[ListedLine]:
    """The subpaths of a drawing, led by a map."""
    for segments, closed in _subpaths(path if by == AS_DRAWN else path.moved(by)):
        yield listed_segments(list(_merged(segments)) if len(segments) > 1 else segments, closed=closed)


def _subpaths(path: PathOps) -> Iterator[tuple[list[Segment], bool]]:
    """The segments of each subpath, and whether it is closed."""
    segments: list[Segment] = []
    here: Point = (0.0, 0.0)
    for operator, numbers in path.each():
        if operator == "h":
            if distance(here, segments[0].start) > SAME_POINT:
                segments.append(Segment(here, segments[0].start))
            yield segments, True
            segments = []
            continue
        end = (numbers[-2], numbers[-1])
        if operator == "m":
            if segments:
                yield segments, False
            segments = []
        elif operator == "l":
            segments.append(Segment(here, end))
        else:
            segments.append(_arc(here, (numbers[0], numbers[1]), end))
        here = end
    if segments:
        yield segments, False


def _arc(start: Point, handle: Point, end: Point) -> Segment:
    """The arc from start to end that sets out towards the handle: by half its sweep off its chord, of
    which the bulge is the tangent's half-angle.

    >>> round(_arc((1.0, 0.0), (1.0, 0.55), (0.0, 1.0)).radius, 9)
    1.0
    """
    off = angle_between((end[0] - start[0], end[1] - start[1]), (handle[0] - start[0], handle[1] - start[1]))
    return Segment(start, end, tan(-off / 2))


def _merged(segments: Iterable[Segment]) -> Iterator[Segment]:
    """Arcs that go on about one centre as one, up to half a circle: as they were before they were drawn."""
    last: Segment | None = None
    for segment in segments:
        one = _one(last, segment) if last is not None else None
        if last is not None and one is None:
            yield last
        last = one or segment
    if last is not None:
        yield last


def _one(before: Segment, after: Segment) -> Segment | None:
    if before.bulge * after.bulge <= 0 or distance(before.centre, after.centre) > 10 * SAME_POINT:
        return None
    bulge = tan((before.sweep + after.sweep) / 4)
    return Segment(before.start, after.end, bulge) if 0 < abs(bulge) <= MOST_BULGE else None


def _number(value: float | tuple[int, ...]) -> float | tuple[float, ...]:
    return tuple(map(float, value)) if isinstance(value, tuple) else round(float(value), 4)
