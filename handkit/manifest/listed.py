"""The manifest: what a kit's file should show, carried in the file itself, for the proof to hold it to.

In: nothing. Out: `Manifest` and its parts.

One truth for `draw`, which writes it, and `proof`, which measures what is drawn and compares. It is made
from the products, not from the ink: lines and arcs as they were drafted, in each piece's frame, and for
every window the map that leads from there to the page. All mm, rounded to 0.00001; a page's frame has its
origin at the lower left of the paper, y up.

Words: a *shape* is what one tag of the file draws (see `ink.py`), or several alike; its *lines* are
stroked, its *fills* filled black.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Literal

import msgspec

from handkit.geometry.affine import Affine, Point
from handkit.geometry.path import Path
from handkit.geometry.segment import Segment
from handkit.printers.correction import Correction

FORMAT = 1

DECIMALS = 5

# What a tag says that its window says already.
OF_WINDOW = ("Piece", "Window", "Copy")

# What a tag says beside these.
Says = dict[str, str | float | tuple[float, ...]]


class ListedLine(msgspec.Struct, frozen=True, array_like=True, omit_defaults=True):
    """A path: x and y by turns, a bulge for each of its segments (none where all are straight)."""

    points: tuple[float, ...]
    bulges: tuple[float, ...] = ()
    closed: bool = False

    def segments(self) -> tuple[Segment, ...]:
        """Its lines and arcs in order; a closed one comes back to where it began."""
        points = list(zip(self.points[::2], self.points[1::2], strict=True))
        ends = [*points[1:], points[0]] if self.closed else points[1:]
        bulges = self.bulges or (0.0,) * len(ends)
        return tuple(
            [Segment(a, b, bulge) for a, b, bulge in zip(points, ends, bulges, strict=False) if a != b]
        )


class ListedMark(msgspec.Struct, frozen=True, omit_defaults=True):
    """What stands under one tag: its name, what it says, what is stroked and what is filled."""

    tag: str
    says: Says = {}
    lines: tuple[ListedLine, ...] = ()
    fills: tuple[ListedLine, ...] = ()


class ListedPiece(msgspec.Struct, frozen=True):
    """All that templates show of a piece, in its own frame, whichever window shows it."""

    name: str
    shapes: tuple[ListedMark, ...]


class ListedWindow(msgspec.Struct, frozen=True, omit_defaults=True):
    """A window of a piece: where it lies on the page, and what it shows.

    `placed` are the six numbers of the map from the piece's frame to the page's; `rim` is the window's
    polygon in the piece's frame, x and y by turns; `shows` are the piece's shapes that touch it, as pairs
    of a first place and a last; `own` are shapes of this window alone, in the piece's frame.
    """

    piece: str
    number: int
    count: int
    placed: tuple[float, float, float, float, float, float]
    rim: tuple[float, ...]
    shows: tuple[tuple[int, int], ...]
    own: tuple[ListedMark, ...] = ()
    copy: int = 1

    def shown(self, piece: ListedPiece) -> tuple[ListedMark, ...]:
        """All it shows, in the piece's frame."""
        kept = (shape for first, last in self.shows for shape in piece.shapes[first : last + 1])
        return (*kept, *self.own)


class ListedPage(msgspec.Struct, frozen=True, omit_defaults=True):
    """A page: its label, the digest of what it draws, and what is measured on it: windows, and shapes of
    the page itself in its frame. `texts` are the words that stand on a template sheet, in no order;
    `bookmarks` the titles of those that lead here."""

    label: str
    digest: str = ""
    sheet: int = 0  # of a template sheet its number
    windows: tuple[ListedWindow, ...] = ()
    shapes: tuple[ListedMark, ...] = ()
    texts: tuple[str, ...] = ()
    bookmarks: tuple[str, ...] = ()


class Origin(msgspec.Struct, frozen=True, omit_defaults=True):
    """What made a kit beside its project: handkit's version, and the options of the command that change
    what is drawn, as `kit.py` writes and reads them."""

    made_by: str
    options: dict[str, str | float | bool] = {}


# Of a kit that a program drew without saying.
UNTOLD = Origin("")


class Manifest(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """What a kit should show; `fonts` are the digests of the embedded fonts by their names."""

    format: int = FORMAT
    origin: Origin
    title: str
    paper: tuple[float, float]
    unit: Literal["mm", "in"] = "mm"  # in which people are told of it
    correction: Correction | None = None  # what the pages' drawing went through for a printer
    pages: tuple[ListedPage, ...]
    pieces: tuple[ListedPiece, ...] = ()
    fonts: dict[str, str] = {}


def listed_line(path: Path) -> ListedLine:
    """A path as it is listed.

    >>> listed_line(Path((Segment((0, 0), (4, 0)), Segment((4, 0), (0, 0), 1.0)), closed=True))
    ListedLine(points=(0.0, 0.0, 4.0, 0.0), bulges=(0.0, 1.0), closed=True)
    """
    return listed_segments(path.segments, closed=path.closed)


def listed_segments(segments: Sequence[Segment], *, closed: bool) -> ListedLine:
    """The same of segments that join."""
    starts = [segment.start for segment in segments]
    points = starts if closed else [*starts, segments[-1].end]
    bulges = tuple([round(segment.bulge, 9) for segment in segments])
    return ListedLine(flat(points), bulges if any(bulges) else (), closed)


def flat(points: Iterable[Point]) -> tuple[float, ...]:
    """Points as x and y by turns, rounded."""
    return tuple([round(float(number), DECIMALS) + 0.0 for point in points for number in point])


def listed_map(by: Affine) -> tuple[float, float, float, float, float, float]:
    """A map's numbers, rounded: of a page of 5 m the far corner moves by less than 0.00001 mm."""
    a, b, c, d, e, f = (round(float(number), 9) + 0.0 for number in by.numbers())
    return a, b, c, d, e, f
