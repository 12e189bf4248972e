"""Deviations: how what a page draws under a name differs from what is listed.

In: expected and drawn marks of a page. Out: `Deviation`s, one a name.

Where all of a page, or of a window, is off alike, that is one deviation: a program has scaled or moved it.
What is left of its marks' faults once that is taken out of the drawing is told beside it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from enum import StrEnum
from math import dist, hypot

import msgspec

from handkit.geometry.affine import Affine, Point
from handkit.geometry.segment import Segment
from handkit.messages.placeholders import Phrase
from handkit.proof.audit.expected import ExpectedMark, MarkName
from handkit.proof.audit.maps import Pair, map_of, pairs_of, told_map
from handkit.proof.audit.matching import Agreement, matched, off_by
from handkit.proof.content.marks import MeasuredMark
from handkit.proof.content.objects import Allowance
from handkit.proof.content.paths import PathSegment, bounds, middle


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
    Of all of a page or window `how` is what was done to it."""

    kind: DeviationKind
    name: MarkName
    at: Point
    size: float = 0.0
    how: tuple[Phrase, ...] = ()


# All segments of some marks: those stroked, those filled.
Drawn = tuple[list[PathSegment], list[PathSegment]]

NO_INK: Drawn = ([], [])

# Of so many strange segments it is measured how far they are from so many of those expected.
MOST_STRANGE, MOST_KNOWN = 20, 2000

# All that is expected of a page, and what it draws under the same names.
Expected = Mapping[MarkName, ExpectedMark]


def page_deviations(
    expected: Expected, drawn: Mapping[MarkName, Sequence[MeasuredMark]], looks: Allowance
) -> tuple[Deviation, ...]:
    """All that is wrong on a page, what is off as a whole first; `looks` are those that may be taken."""
    ink = {name: _segments(marks) for name, marks in drawn.items()}

    def fault(name: MarkName, by: Affine | None = None) -> Deviation | None:
        """What is wrong under a name, once what is drawn is led through a map."""
        found = ink.get(name, NO_INK)
        there = (_led(found[0], by), _led(found[1], by)) if by else found
        return _fault(name, expected[name], len(drawn.get(name, ())), there, looks)

    faults = {name: found for name in expected if (found := fault(name)) is not None}
    wholes: list[Deviation] = []
    for group, names in _groups(expected).items():
        off = [name for name in names if name in faults and name in drawn]
        by = _map_of(off, expected, ink)
        if by is None or not by.determinant:
            continue
        left = {name: fault(name, by.inverse()) for name in off}
        explained = [name for name in off if left[name] is None]
        if _is_whole(group, names, explained):
            wholes.append(_whole(group, by, explained, expected))
            faults = {name: one for name, one in faults.items() if name not in explained}
            faults |= {name: _brought(one, by) for name, one in left.items() if one is not None}
    added = [each for name in drawn if name not in expected for each in _added(name, ink[name])]
    return (*wholes, *faults.values(), *added)


def _fault(
    name: MarkName, expected: ExpectedMark, count: int, drawn: Drawn, looks: Allowance
) -> Deviation | None:
    strokes, fills = drawn
    if not count:
        wanted = [expected.lines[k] for k in sorted(expected.musts)] or expected.fills
        return Deviation(DeviationKind.MISSING, name, wanted[0].start) if wanted else None
    lines, areas = matched(expected.lines, strokes, looks), matched(expected.fills, fills, looks)
    missing = [expected.lines[k] for k in lines.missing if k in expected.musts]
    missing += [expected.fills[k] for k in areas.missing]
    strange = (*lines.strange, *areas.strange)
    if strange:
        kind = DeviationKind.MOVED if missing else DeviationKind.ADDED
        known = (*expected.lines, *expected.fills)[:MOST_KNOWN]
        ends = strange[:MOST_STRANGE]
        looked = ends if looks.take(len(ends) * len(known)) else ends[:1]
        return Deviation(kind, name, ends[0][0], off_by(looked, known))
    if missing:
        return Deviation(DeviationKind.PART, name, missing[0].start, sum(one.length for one in missing))
    return _twice(name, expected, count, lines, areas)


def _twice(
    name: MarkName, expected: ExpectedMark, count: int, lines: Agreement, areas: Agreement
) -> Deviation | None:
    again = (*lines.again, *areas.again)
    if again:
        return Deviation(DeviationKind.TWICE, name, again[0][0])
    if count > expected.count:
        return Deviation(DeviationKind.TWICE, name, (0.0, 0.0))
    return None


def _added(name: MarkName, drawn: Drawn) -> Iterator[Deviation]:
    strokes, fills = drawn
    for segment in (*strokes, *fills)[:1]:
        yield Deviation(DeviationKind.ADDED, name, segment[0])


def _groups(expected: Expected) -> dict[MarkName, list[MarkName]]:
    """What may be off as a whole: all of the page, then each of its windows."""
    groups: dict[MarkName, list[MarkName]] = {MarkName(""): list(expected)}
    for name in expected:
        if name.piece:
            groups.setdefault(_window(name), []).append(name)
    return groups


def _window(name: MarkName) -> MarkName:
    return MarkName("", name.piece, name.window, name.copy)


def _map_of(names: Sequence[MarkName], expected: Expected, ink: Mapping[MarkName, Drawn]) -> Affine | None:
    """By which map most of these marks lie elsewhere."""
    if len(names) < 2:
        return None
    pairs: list[Pair] = []
    for name in names:
        pairs += pairs_of(expected[name].lines, ink[name][0])
        pairs += pairs_of(expected[name].fills, ink[name][1])
    return map_of(pairs)


def _is_whole(group: MarkName, names: Sequence[MarkName], explained: Sequence[MarkName]) -> bool:
    """Whether a map that explains these is one of all of the group: of at least half of it; of a page of at
    least half of each of its windows, and where there is one window, of anything besides."""
    if len(explained) < 2 or 2 * len(explained) < len(names):
        return False
    if group.piece:
        return True
    windows, those = Counter(map(_window, names)), Counter(map(_window, explained))
    if len(windows) <= 2 and not all(those[window] for window in windows):
        return False
    return all(2 * those[window] >= count for window, count in windows.items() if window.piece)


def _whole(group: MarkName, by: Affine, names: Iterable[MarkName], expected: Expected) -> Deviation:
    ends = [end for name in names for one in _all_of(expected[name]) for end in (one.start, one.end)]
    left, bottom, right, top = bounds(ends)
    off, at = max((dist(by.apply(end), end), by.apply(end)) for end in ends)
    how = told_map(by, middle(ends), hypot(right - left, top - bottom) / 2)
    return Deviation(DeviationKind.SHIFTED, group, at, off, how)


def _all_of(mark: ExpectedMark) -> tuple[Segment, ...]:
    return (*mark.lines, *mark.fills)


def _brought(one: Deviation, by: Affine) -> Deviation:
    """What is wrong beside a map that all else went through, where it lies on paper."""
    return msgspec.structs.replace(one, at=by.apply(one.at))


def _led(segments: Iterable[PathSegment], by: Affine) -> list[PathSegment]:
    return [by.apply_all(segment) for segment in segments]


def _segments(marks: Iterable[MeasuredMark]) -> Drawn:
    strokes: list[PathSegment] = []
    fills: list[PathSegment] = []
    for mark in marks:
        for painted in mark.painted:
            kind = strokes if painted.stroked else fills
            for subpath in painted.subpaths:
                kind.extend(subpath.segments)
    return strokes, fills
