"""View: one piece as one window of one sheet shows it.

In: a window and the products before. Out: what of the piece lies in the window, in the sheet's
frame, mm.

A piece of several windows is drawn sheet by sheet: each has only what touches its window, under a
clip to the window. A hole is in the file only where its place lies in the window (in the overlap
of a join it is in both windows), so that what a sheet holds is what the sheet shows, and a reader
of the file counts no hole that is not on paper. Lines and arcs that touch the window are drawn
whole, the clip ends them: they stay true lines and arcs.
"""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from handkit.draft.pattern import Pattern, PatternPiece
from handkit.draw.model.marks import Ink, Mark, Properties, Words
from handkit.draw.model.path_ops import PathOps, joined, polyline_ops, segment_ops
from handkit.draw.model.tags import window as window_properties
from handkit.geometry.affine import Affine, Point
from handkit.geometry.path import Path
from handkit.geometry.polygon import clipped, grown, inside, touching
from handkit.ink import WIDE, Tag
from handkit.sheets.laid import Sheets, Window

# The clip lets half the widest pen through beside a window's rim, and a little more.
CLIP_SLACK = WIDE.width / 2 + 0.1

# How coarsely a drawing may be flattened where only text looks at it.
COARSE = 0.1


class View(msgspec.Struct, frozen=True):
    """A piece in a window; `rim` is the window's polygon on the sheet."""

    piece: PatternPiece
    window: Window
    rim: tuple[Point, ...]

    @property
    def to_sheet(self) -> Affine:
        """From the piece's frame to the sheet's."""
        return self.window.placed

    @property
    def properties(self) -> Properties:
        """What tags say of anything drawn here."""
        return window_properties(self.piece.name, self.window.number, copy=self.window.copy)

    def holds(self, place: Point) -> bool:
        """Whether a place of the piece lies in the window."""
        return inside(place, self.window.polygon)

    def clips(self) -> tuple[PathOps, ...]:
        """What the window shows no more than; a piece in one window is all there and needs none."""
        if self.window.count == 1:
            return ()
        return (polyline_ops(grown(self.rim, CLIP_SLACK), closed=True),)

    def shown(self, path: Path) -> PathOps:
        """What of a path touches the window, on the sheet; no operators where nothing does."""
        runs = touching(path, self.window.polygon, within=CLIP_SLACK) if self.window.count > 1 else (path,)
        return joined(segment_ops(run.moved(self.to_sheet).segments, closed=run.closed) for run in runs)

    def label(self, parts: Iterable[Ink | Words]) -> tuple[Mark, ...]:
        """Texts about the window, with their leaders and arrows; no mark where there are none."""
        found = tuple(parts)
        return (Mark(Tag.LABEL, self.properties, found),) if found else ()

    def ring(self) -> tuple[Point, ...]:
        """The cut outline on the sheet, coarsely flattened: for text to keep inside."""
        return self.to_sheet.apply_all(self.piece.cut_outline.flattened(sagitta=COARSE))

    def part(self) -> tuple[Point, ...]:
        """What the window shows of the cut outline, as a ring on the sheet, coarsely."""
        return self.ring() if self.window.count == 1 else clipped(self.ring(), self.rim) or self.rim


def view_of(pattern: Pattern, window: Window) -> View:
    """The view of a window."""
    return View(pattern.piece(window.piece), window, window.placed.apply_all(window.polygon))


def windows_of(sheets: Sheets, one: Window) -> tuple[Window, ...]:
    """All windows of one drawing of a piece by number, given one of them."""
    found = (
        window
        for sheet in sheets.sheets
        for window in sheet.windows
        if (window.piece, window.copy) == (one.piece, one.copy)
    )
    return tuple(sorted(found, key=lambda window: window.number))


def sheet_of(sheets: Sheets, one: Window, number: int) -> int:
    """The sheet that another window of the same drawing is on. Raises KeyError."""
    wanted = (one.piece, one.copy, number)
    for sheet in sheets.sheets:
        if any((window.piece, window.copy, window.number) == wanted for window in sheet.windows):
            return sheet.number
    raise KeyError(wanted)
