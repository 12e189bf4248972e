"""Sound: whether a list is one that a kit can have, so that it can be measured by.

In: a `Manifest` as it was decoded. Out: nothing, or ProofError with what is wrong.

Whoever wrote it: after this no arithmetic on it divides by nothing or leaves the numbers there are, and each
mark has a name that a reader knows. How much it asks to be compared is counted where that is done.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import hypot

from handkit.errors import ProofError
from handkit.manifest.listed import ListedLine, ListedMark, ListedPage, ListedWindow, Manifest
from handkit.wording.mark_names import MARK_NAMES

# Ten times as far as anything of a project may lie, in mm.
MOST_MM = 100_000.0

# The longest arc, in mm, and the bulges of a flat one, as it is rounded, and of one that is nearly a circle.
MOST_ARC = 1_000_000.0
LEAST_BULGE, MOST_BULGE = 1e-9, 1e6

# What rounding leaves of a map that turns and shifts.
ROUNDED = 1e-6

MOST_PAGES = 2_000

_TAGS = frozenset(tag.value for tag in MARK_NAMES)


def refuse_unsound(found: Manifest) -> None:
    """Raise ProofError where it is none that a kit has."""
    if found.correction is not None and found.correction.faults():
        raise ProofError(f"corrected by more than handkit corrects: {found.correction.faults()[0]}")
    if len(found.pages) > MOST_PAGES:
        raise ProofError(f"more than {MOST_PAGES} pages")
    _refuse_far(found.paper)
    shapes = {piece.name: len(piece.shapes) for piece in found.pieces}
    if len(shapes) < len(found.pieces):
        raise ProofError("two pieces of one name")
    for page in found.pages:
        _refuse_loose(page, shapes)
        _refuse_broken(page.shapes)
    for piece in found.pieces:
        _refuse_broken(piece.shapes)


def _refuse_loose(page: ListedPage, shapes: dict[str, int]) -> None:
    """Refuse windows that show what isn't there, in no place, or the same twice."""
    names = {(window.piece, window.number, window.copy) for window in page.windows}
    if len(names) < len(page.windows):
        raise ProofError("a window twice on a page")
    for window in page.windows:
        known = shapes.get(window.piece)
        if known is None:
            raise ProofError("a window of a piece that it hasn't")
        before = -1
        for first, last in window.shows:
            if not before < first <= last < known:
                raise ProofError("a window of shapes that its piece hasn't")
            before = last
        _refuse_misplaced(window)
        _refuse_broken(window.own)


def _refuse_misplaced(window: ListedWindow) -> None:
    if len(window.rim) % 2 or len(window.rim) < 6:
        raise ProofError("a window without a rim")
    _refuse_far((*window.rim, *window.placed))
    a, b, c, d = window.placed[:4]
    if max(abs(hypot(a, b) - 1), abs(hypot(c, d) - 1), abs(a * c + b * d)) > ROUNDED:
        raise ProofError("a window that is not placed at full size")


def _refuse_broken(shapes: Iterable[ListedMark]) -> None:
    for shape in shapes:
        if shape.tag not in _TAGS:
            raise ProofError("a mark that this handkit doesn't know")
        for line in (*shape.lines, *shape.fills):
            _refuse_line(line)


def _refuse_line(line: ListedLine) -> None:
    count = len(line.points) // 2 - (not line.closed)
    if len(line.points) % 2 or count < 1 or len(line.bulges) not in (0, count):
        raise ProofError("a line that is none")
    _refuse_far(line.points)
    if any(line.bulges):
        sound = all(bulge == 0 or LEAST_BULGE <= abs(bulge) <= MOST_BULGE for bulge in line.bulges)
        if not sound or any(segment.length > MOST_ARC for segment in line.segments()):
            raise ProofError("an arc that is none")


def _refuse_far(numbers: Iterable[float]) -> None:
    if not all(-MOST_MM <= number <= MOST_MM for number in numbers):
        raise ProofError("a place on no paper")
