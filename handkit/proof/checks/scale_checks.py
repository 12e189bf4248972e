"""Scale checks: that squares and bars are as long on paper as they claim.

In: the marks of all pages. Out: checks `test-square` and `scale-bar`, measured on the lines'
middles. Each square is measured across and down, since a printer scales the two ways unlike.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import dist

from handkit.ink import TEST_SQUARE_SIDE, Tag
from handkit.proof.checks.checking import WITHIN, check, place_of, together
from handkit.proof.content.marks import MeasuredMark
from handkit.proof.content.paths import bounds
from handkit.proof.proof import Check


def square_checks(marks: Sequence[MeasuredMark]) -> tuple[Check, ...]:
    """Every square against its side; one of them is the test square of 50 mm, or the file fails."""
    squares = [mark for mark in marks if mark.tag is Tag.SQUARE]
    checks = [one for mark in squares for one in _square(mark)]
    if not any(_side(mark) == TEST_SQUARE_SIDE for mark in squares):
        checks.append(check("test-square/none", side=TEST_SQUARE_SIDE))
    return tuple(checks)


def bar_checks(marks: Sequence[MeasuredMark]) -> tuple[Check, ...]:
    """Every bar against the length it claims; there is one across and one down, or the file fails."""
    bars = [mark for mark in marks if mark.tag is Tag.BAR]
    each = [_bar(mark) for mark in bars]
    ways = {_way(line.points) for mark in bars for line in mark.lines}
    for way in ("across", "down"):
        if way not in ways:
            each.append(check("scale-bar/none", way=way))
    return together(check("scale-bar", True, bars=len(bars)), each)


def _square(mark: MeasuredMark) -> Iterable[Check]:
    side, page = _side(mark), mark.page
    if side is None:
        yield check("test-square/no-claim", page=page, at=place_of(mark))
    elif not _is_square(mark):
        yield check("test-square/shape", page=page, at=place_of(mark))
    else:
        left, bottom, right, top = bounds(mark.subpaths[0].points)
        for way, length in (("across", right - left), ("down", top - bottom)):
            told = {"page": page, "way": way, "length": length, "wanted": side}
            if abs(length - side) <= WITHIN:
                yield check("test-square", True, **told)
            else:
                yield check("test-square/length", at=place_of(mark), **told)


def _is_square(mark: MeasuredMark) -> bool:
    """Whether it is one stroked, closed, straight subpath with its corners in its bounds' corners."""
    if len(mark.subpaths) != 1 or not mark.painted[0].stroked:
        return False
    (path,) = mark.subpaths
    left, bottom, right, top = bounds(path.points)
    corners = [(left, bottom), (right, bottom), (right, top), (left, top)]
    reached = [next((i for i, c in enumerate(corners) if dist(c, p) <= WITHIN), -1) for p in path.points[:4]]
    start = reached[0]
    rounds = ([(start + i) % 4 for i in range(4)], [(start - i) % 4 for i in range(4)])
    straight = len(path.segments) == 4 and all(len(segment) == 2 for segment in path.segments)
    return straight and path.length <= WITHIN and start >= 0 and reached in rounds


def _bar(mark: MeasuredMark) -> Check:
    claimed, at = mark.number("Length"), place_of(mark)
    lines = mark.lines
    if claimed is None or claimed <= 0:
        return check("scale-bar/no-claim", page=mark.page, at=at)
    if len(lines) != 1 or len(mark.subpaths) != 1:
        return check("scale-bar/line", page=mark.page, lines=len(mark.subpaths), at=at)
    way, length = _way(lines[0].points), lines[0].length
    passed = abs(length - claimed) <= WITHIN
    told = {"page": mark.page, "way": way, "length": length, "wanted": claimed}
    return check("scale-bar/length", passed, at=at, **told)


def _way(points: Sequence[tuple[float, float]]) -> str:
    """Across, down, or aslant where it is neither."""
    (x0, y0), (x1, y1) = points[0], points[-1]
    if abs(y1 - y0) <= WITHIN:
        return "across"
    return "down" if abs(x1 - x0) <= WITHIN else "aslant"


def _side(mark: MeasuredMark) -> float | None:
    side = mark.number("Side")
    return side if side is not None and side > 0 else None
