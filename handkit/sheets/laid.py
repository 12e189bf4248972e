"""The product of step 5: what lies where on which sheet of paper.

All mm. A sheet's frame has its origin at the lower left of the paper, y up. `placed` leads from a
piece's frame to the sheet's; where the template is laid on the flesh side it turns over.

Words: a *window* is the part of a piece drawn together at one place of a sheet; a *join* is where
two windows of one piece overlap and are glued; a *registration mark* stands at one place of the
drawing in both windows of a join; the *rule line* runs through both, for a steel rule; a *break*
is a straight part left out, between two break lines. A piece that is *measured* is on no sheet: it is
marked out by numbers, *across* from its zero line and *up* from its base line.
"""

from __future__ import annotations

from enum import StrEnum

import msgspec

from handkit.findings import Finding
from handkit.geometry.affine import Affine, Point
from handkit.geometry.box import Box
from handkit.geometry.path import Path
from handkit.geometry.straight import distance
from handkit.paper import AS_USUAL, Layout, Paper
from handkit.printers.correction import Correction


class Window(msgspec.Struct, frozen=True):
    """Part of a piece on a sheet. `number` counts a piece's windows from 1.

    `polygon` bounds, in the piece's frame, what is drawn here; `label` is an area of the sheet
    kept free for the piece's name and facts, higher than wide where its text is to be turned by a
    quarter; `None` where only a short name beside it has room.
    """

    piece: str
    number: int
    count: int  # windows of this piece
    polygon: tuple[Point, ...]
    placed: Affine
    label: Box | None
    label_inside: bool  # the label's area lies inside the piece
    copy: int = 1  # which drawing of the piece
    copies: int = 1  # drawings of it: as many as are cut, where each is drawn


class Sheet(msgspec.Struct, frozen=True):
    """One page of templates."""

    number: int
    windows: tuple[Window, ...]


class Join(msgspec.Struct, frozen=True):
    """Where two windows meet, all in the piece's frame.

    `windows` are two window numbers, the lower first; both are trimmed (or one is laid under) at
    `cut_line`, the middle of the overlap; the first window's sheet lies on top.
    """

    piece: str
    windows: tuple[int, int]
    cut_line: tuple[Point, Point]
    marks: tuple[Point, ...]
    rule_line: tuple[Point, Point]
    copy: int = 1  # whose windows these are


class Break(msgspec.Struct, frozen=True):
    """A straight part of a piece that is left out, all in the piece's frame.

    The piece is drawn up to the first of `lines` and from the second on; between them are `length`
    mm, a whole number. `windows` show the first line, and the second.
    """

    piece: str
    lines: tuple[tuple[Point, Point], tuple[Point, Point]]
    length: float
    windows: tuple[tuple[int, ...], tuple[int, ...]]
    copy: int = 1


class MarkedCorner(msgspec.Struct, frozen=True):
    """Where two straight lines meet, which a round of a `radius` may then join; 0 leaves it sharp.

    `letter` is the piece's own, "" where it has none there.
    """

    at: Point
    radius: float = 0.0
    letter: str = ""


class LineKind(StrEnum):
    """What a line of a measured piece is."""

    CUT = "cut"
    FINISHED = "finished edge"
    TRIM = "trim line"
    HEM = "hem fold"
    FOLD = "fold"
    SKIVE = "skived edge"
    MEET = "meeting mark"
    NOTCH = "notch"


class MarkedLine(msgspec.Struct, frozen=True):
    """A line by its corners; `path` is the same with its rounds."""

    kind: LineKind
    name: str  # of a fold; of a skive its widths
    corners: tuple[MarkedCorner, ...]
    path: Path


class MarkedRow(msgspec.Struct, frozen=True):
    """Stitch holes or openings that stand evenly on a straight line, or a lone one, first and last.

    Numbers go up by one from `first` to `last`. `degrees` is a slit's direction, or a slot's length, against
    the base line; None of what is round.
    """

    name: str  # of the seam or the opening
    run: int  # the layer's place in the seam, from 1; 0 of an opening
    first: int
    last: int
    start: Point
    end: Point
    degrees: float | None = None

    @property
    def steps(self) -> int:
        """From the first to the last."""
        return self.last - self.first

    @property
    def length(self) -> float:
        """Straight from the first to the last."""
        return distance(self.start, self.end)

    def places(self) -> tuple[Point, ...]:
        """All its holes, in order."""
        (x0, y0), (x1, y1) = self.start, self.end
        shares = [k / self.steps for k in range(self.steps + 1)] if self.steps else [0.0]
        return tuple((x0 + (x1 - x0) * share, y0 + (y1 - y0) * share) for share in shares)


class MeasuredPiece(msgspec.Struct, frozen=True):
    """A piece by its measures, as its drawing lies: all places count from the zero line across and from the
    base line up, and none is negative. `lie` leads there from the piece's frame.
    """

    piece: str
    lie: Affine
    width: float
    height: float
    lines: tuple[MarkedLine, ...]  # the cut first
    rows: tuple[MarkedRow, ...]

    @property
    def cut(self) -> MarkedLine:
        """Where the knife goes."""
        return self.lines[0]


class Sheets(msgspec.Struct, frozen=True):
    """All template sheets, and what is given by its measures. Every page has the paper's own orientation."""

    paper: Paper
    edge: float  # nothing is printed nearer to the sheet's edge
    margin: float  # where drawing begins
    overlap: float
    sheets: tuple[Sheet, ...]
    joins: tuple[Join, ...]
    joins_through_holes: int
    findings: tuple[Finding, ...] = ()
    breaks: tuple[Break, ...] = ()
    layout: Layout = AS_USUAL
    measured: tuple[MeasuredPiece, ...] = ()
    correction: Correction | None = None  # for the one printer that they are true on
