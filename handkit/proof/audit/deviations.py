"""Deviations: how what a page draws under a name differs from what is listed.

In: expected and drawn marks of a page. Out: `Deviation`s, one a name.

Where all of a page, or of a window, is off alike, that is one deviation: a program has scaled or moved it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from enum import StrEnum
from math import dist

import msgspec

from handkit.geometry.affine import Point
from handkit.proof.audit.expected import ExpectedMark, MarkName
from handkit.proof.audit.matching import Agreement, matched, off_by
from handkit.proof.content.marks import MeasuredMark
from handkit.proof.content.objects import Allowance
from handkit.proof.content.paths import PathSegment, middle
from handkit.tolerances import AS_LISTED


class DeviationKind(StrEnum):
    """What is wrong, by the row of the table of wordings that tells it."""

    MISSING = "drawing/missing"
    PART = "drawing/part"
    MOVED = "drawing/moved"
    TWICE = "drawing/twice"
    ADDED = "drawing/added"
    SHIFTED = "drawing/shifted"  # all of a page or a window


class Deviation(msgspec.Struct, frozen=True):
    """One thing that is wrong: how much of a line is missing, or how far it is off, mm; where on the page.
    Of all of a page or window `scale` is how many times as large it is, across and down."""

    kind: DeviationKind
    name: MarkName
    at: Point
    size: float = 0.0
    scale: Point = (1.0, 1.0)


# All segments of some marks: those stroked, those filled.
Drawn = tuple[list[PathSegment], list[PathSegment]]


def page_deviations(
    expected: Mapping[MarkName, ExpectedMark],
    drawn: Mapping[MarkName, Sequence[MeasuredMark]],
    looks: Allowance,
) -> tuple[Deviation, ...]:
    """All that is wrong on a page, what is off as a whole first; `looks` are those that may be taken."""
    deviations: list[Deviation] = []
    moved: dict[MarkName, Deviation] = {}
    for name, one in expected.items():
        deviation = _fault(name, one, drawn.get(name, ()), looks)
        if deviation is not None and deviation.kind is DeviationKind.MOVED:
            moved[name] = deviation
        elif deviation is not None:
            deviations.append(deviation)
    for name, marks in drawn.items():
        if name not in expected:
            deviations.extend(_added(name, marks))
    return (*_moved(moved, expected, drawn), *deviations)


def _fault(
    name: MarkName, expected: ExpectedMark, marks: Sequence[MeasuredMark], looks: Allowance
) -> Deviation | None:
    strokes, fills = _segments(marks)
    if not marks:
        wanted = [expected.lines[k] for k in sorted(expected.musts)] or expected.fills
        return Deviation(DeviationKind.MISSING, name, wanted[0].start) if wanted else None
    lines, areas = matched(expected.lines, strokes, looks), matched(expected.fills, fills, looks)
    missing = [expected.lines[k] for k in lines.missing if k in expected.musts]
    missing += [expected.fills[k] for k in areas.missing]
    strange = (*lines.strange, *areas.strange)
    if strange:
        kind = DeviationKind.MOVED if missing else DeviationKind.ADDED
        known = (*expected.lines, *expected.fills)
        ends = strange[: 20 if looks.take(40_000) else 1]
        return Deviation(kind, name, strange[0][0], off_by(ends, known[:2000]))
    if missing:
        return Deviation(DeviationKind.PART, name, missing[0].start, sum(one.length for one in missing))
    return _twice(name, expected, marks, lines, areas)


def _twice(
    name: MarkName, expected: ExpectedMark, marks: Sequence[MeasuredMark], lines: Agreement, areas: Agreement
) -> Deviation | None:
    again = (*lines.again, *areas.again)
    if again:
        return Deviation(DeviationKind.TWICE, name, again[0][0])
    if len(marks) > expected.count:
        return Deviation(DeviationKind.TWICE, name, (0.0, 0.0))
    return None


def _added(name: MarkName, marks: Iterable[MeasuredMark]) -> Iterator[Deviation]:
    strokes, fills = _segments(marks)
    for segment in (*strokes, *fills)[:1]:
        yield Deviation(DeviationKind.ADDED, name, segment[0])


def _moved(
    moved: Mapping[MarkName, Deviation],
    expected: Mapping[MarkName, ExpectedMark],
    drawn: Mapping[MarkName, Sequence[MeasuredMark]],
) -> Iterator[Deviation]:
    """What is moved: a page or a window that is off as a whole as one, all else one by one."""
    told: set[MarkName] = set()
    groups: dict[MarkName, list[MarkName]] = {MarkName(""): list(expected)}
    for name in expected:
        if name.piece:
            groups.setdefault(_window(name), []).append(name)
    for group, names in groups.items():
        rest = [name for name in names if name in moved and name not in told]
        if len(rest) < 2 or 2 * len(rest) < len(names):
            continue
        pairs = [(_middle_expected(expected[name]), _middle_drawn(drawn[name])) for name in rest]
        scale = _scale(pairs)
        if scale is None:
            continue
        told.update(rest)
        farthest = max((dist(a, b), b) for a, b in pairs)
        yield Deviation(DeviationKind.SHIFTED, group, farthest[1], farthest[0], scale)
    yield from (deviation for name, deviation in moved.items() if name not in told)


def _window(name: MarkName) -> MarkName:
    return MarkName("", name.piece, name.window, name.copy)


def _scale(pairs: Sequence[tuple[Point, Point]]) -> Point | None:
    """By how much second points are spread wider than first ones, across and down; None where they are not
    all where one scale and one shift would have them."""
    found = []
    for axis in (0, 1):
        here, there = [a[axis] for a, _ in pairs], [b[axis] for _, b in pairs]
        low, high = here.index(min(here)), here.index(max(here))
        spread = here[high] - here[low]
        scale = (there[high] - there[low]) / spread if spread > 1.0 else 1.0
        shift = there[low] - scale * here[low]
        if any(abs(scale * a + shift - b) > 5 * AS_LISTED for a, b in zip(here, there, strict=True)):
            return None
        found.append(scale)
    return found[0], found[1]


def _middle_expected(mark: ExpectedMark) -> Point:
    segments = mark.lines or mark.fills
    return middle([point for one in segments for point in (one.start, one.end)])


def _middle_drawn(marks: Sequence[MeasuredMark]) -> Point:
    strokes, fills = _segments(marks)
    return middle([point for one in strokes or fills for point in (one[0], one[-1])])


def _segments(marks: Iterable[MeasuredMark]) -> Drawn:
    strokes: list[PathSegment] = []
    fills: list[PathSegment] = []
    for mark in marks:
        for painted in mark.painted:
            kind = strokes if painted.stroked else fills
            for subpath in painted.subpaths:
                kind.extend(subpath.segments)
    return strokes, fills
