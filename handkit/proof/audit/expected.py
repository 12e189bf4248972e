"""Expected: what a page must show, mark by mark, in the page's own frame.

In: a page of the manifest and its pieces. Out: `ExpectedMark`s by name.

A window of a piece in several shows a line as far as its rim; what of a segment lies inside must be drawn,
what only touches the rim may be.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from math import dist, sqrt

import msgspec

from handkit.geometry.affine import Affine, Point
from handkit.geometry.polygon import sides, signed_area
from handkit.geometry.segment import Segment
from handkit.manifest.listed import OF_WINDOW, ListedMark, ListedPage, ListedPiece, ListedWindow
from handkit.messages.placeholders import Phrase
from handkit.proof.content.marks import MeasuredMark, PropertyValue
from handkit.proof.content.objects import Allowance
from handkit.wording.quoting import cut, quoted

# So much of a segment must lie inside a rim before it must be drawn, in mm.
TOUCHES = 0.1

# What tags say in mm.
LENGTHS = frozenset(("Side", "Length", "Diameter"))

# How coarsely an arc is followed where only its passing a rim matters.
COARSE = 0.1

# Sides of rims that straight bits of lines are held to, in a whole file: a few seconds of them, and so many
# for each byte of it: every portion of a large piece with very many corners draws all of its outline.
LEAST_ASKED = 6_000_000
ASKED_PER_BYTE = 4


class MarkName(msgspec.Struct, frozen=True):
    """What tells marks apart: the tag, the piece, window and copy ("", 0, 0 of a page's own), what else is
    said. Marks of one name are taken together."""

    tag: str
    piece: str = ""
    window: int = 0
    copy: int = 0
    says: tuple[tuple[str, PropertyValue], ...] = ()


class ExpectedMark(msgspec.Struct, frozen=True):
    """What is stroked and what is filled under a name, by how many marks; `musts` are the places among the
    lines of those that can't be left out."""

    lines: tuple[Segment, ...]
    musts: frozenset[int]
    fills: tuple[Segment, ...]
    count: int


def asked_of(size: int) -> Allowance:
    """The sides that may be asked for in all of a file of so many bytes."""
    most = LEAST_ASKED + ASKED_PER_BYTE * size
    return Allowance(most, "found a list of what it shows that asks for more than any kit's")


class _Gathered(msgspec.Struct):
    """An expected mark while it grows."""

    lines: list[Segment] = msgspec.field(default_factory=list)
    musts: set[int] = msgspec.field(default_factory=set)
    fills: list[Segment] = msgspec.field(default_factory=list)
    count: int = 0


def expected_marks(
    page: ListedPage, pieces: Mapping[str, ListedPiece], asked: Allowance
) -> dict[MarkName, ExpectedMark]:
    """All that a page must show, in the list's order. Raises ProofError where that is without end."""
    gathered: dict[MarkName, _Gathered] = {}
    for mark in page.shapes:
        asked.spend(_costs(mark, ()))
        _gather(gathered, MarkName(mark.tag, says=_said(mark.says)), mark, Affine(), ())
    for window in page.windows:
        by, rim = Affine(*window.placed), _rim(window)
        for mark in window.shown(pieces[window.piece]):
            asked.spend(_costs(mark, rim))
            name = MarkName(mark.tag, window.piece, window.number, window.copy, _said(mark.says))
            _gather(gathered, name, mark, by, rim)
    return {
        name: ExpectedMark(tuple(one.lines), frozenset(one.musts), tuple(one.fills), one.count)
        for name, one in gathered.items()
    }


def _costs(mark: ListedMark, rim: Sequence[Point]) -> int:
    """How many sides are asked for it, about: of an arc by as many bits as it is followed in."""
    lines = (*mark.lines, *mark.fills)
    bits = sum(len(line.points) for line in lines)
    arcs = (segment for line in lines if any(line.bulges) for segment in line.segments() if segment.bulge)
    bits += sum(int(abs(arc.sweep) * sqrt(arc.radius / COARSE)) for arc in arcs)
    return 1 + bits * (1 + len(rim))


def name_of(mark: MeasuredMark) -> MarkName:
    """The name under which a drawn mark is expected."""
    said = _said({key: value for key, value in mark.properties.items() if key not in OF_WINDOW})
    piece, window = mark.text("Piece"), mark.count("Window")
    if piece is None or window is None:
        return MarkName(mark.tag.value, says=said)
    return MarkName(mark.tag.value, piece, window, mark.count("Copy") or 1, said)


def _said(says: Mapping[str, PropertyValue]) -> tuple[tuple[str, PropertyValue], ...]:
    return tuple(sorted(says.items()))


def _rim(window: ListedWindow) -> tuple[Point, ...]:
    """The window's polygon in the piece's frame, counter-clockwise; () where it shows all of its piece."""
    if window.count == 1:
        return ()
    rim = tuple(zip(window.rim[::2], window.rim[1::2], strict=True))
    return rim if signed_area(rim) > 0 else rim[::-1]


def _gather(
    gathered: dict[MarkName, _Gathered],
    name: MarkName,
    mark: ListedMark,
    by: Affine,
    rim: tuple[Point, ...],
) -> None:
    one = gathered.setdefault(name, _Gathered())
    one.count += 1
    for line in mark.lines:
        for segment in line.segments():
            if not rim or inside_length(segment, rim) > min(TOUCHES, segment.chord / 2):
                one.musts.add(len(one.lines))
            one.lines.append(segment.moved(by))
    one.fills += [segment.moved(by) for line in mark.fills for segment in line.segments()]


def inside_length(segment: Segment, rim: Iterable[Point]) -> float:
    """How much of a segment lies inside a convex polygon that goes counter-clockwise, mm; an arc by its
    chords.

    >>> inside_length(Segment((-1, 1), (9, 1)), ((0, 0), (4, 0), (4, 2), (0, 2)))
    4.0
    """
    edges = tuple(sides(tuple(rim)))
    points = segment.flattened(sagitta=COARSE)
    return sum(_inside(a, b, edges) for a, b in pairwise(points))


def _inside(a: Point, b: Point, edges: Iterable[tuple[Point, Point]]) -> float:
    """The same of a straight line, its length times the share that no edge cuts off (Cyrus and Beck's
    way)."""
    (ax, ay), (bx, by) = a, b
    low, high = 0.0, 1.0
    for (px, py), (qx, qy) in edges:
        ux, uy = qx - px, qy - py
        start, end = ux * (ay - py) - uy * (ax - px), ux * (by - py) - uy * (bx - px)
        if start < 0 and end < 0:
            return 0.0
        if start < 0:
            low = max(low, start / (start - end))
        elif end < 0:
            high = min(high, start / (start - end))
    return max(high - low, 0.0) * dist(a, b)


def drawn_by_name(marks: Iterable[MeasuredMark], tags: frozenset[str]) -> dict[MarkName, list[MeasuredMark]]:
    """The marks of a page that are of these tags, by name, in drawing order."""
    drawn: dict[MarkName, list[MeasuredMark]] = {}
    for mark in marks:
        if mark.tag.value in tags:
            drawn.setdefault(name_of(mark), []).append(mark)
    return drawn


def places(name: MarkName) -> Iterator[Phrase]:
    """What a name says of the place of its mark, for a sentence: its own words, then the piece's."""
    for key, value in name.says:
        word = cut(key.lower())
        if isinstance(value, str):
            yield _words(quoted(value))
        elif isinstance(value, tuple):
            yield _words(cut(f"{word} {'-'.join(f'{number:g}' for number in value)}"))
        elif key in LENGTHS:
            yield Phrase("{word} {size:mm}", {"word": word, "size": value})
        else:
            yield _words(f"{word} {value:g}")
    if name.piece:
        yield _words(f"on {quoted(name.piece)}")


def _words(text: str) -> Phrase:
    return Phrase("{text}", {"text": text})
