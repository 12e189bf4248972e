"""Template pages: one for each sheet, full scale.

In: the products, the fonts. Out: pages.

Words: what is *told* on a sheet is all that its texts are made from, and so what they are kept by.

All lines of a sheet are drawn first; then its texts look for room, window by window: what must be told
first, the ones with fewest places to go before the others, and last what may be left out.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import msgspec

from handkit.draw.layout.page_frame import Frame, scale_bars
from handkit.draw.model.fonts import Fonts
from handkit.draw.model.free_space import CELL, FreeSpace, LabelRegion, take_groups
from handkit.draw.model.marks import Group, Mark
from handkit.draw.model.view import View
from handkit.draw.templates.break_ink import break_groups, break_text_marks
from handkit.draw.templates.extra_hole import extra_mark, extra_text_marks
from handkit.draw.templates.grain import grain_mark
from handkit.draw.templates.hole_ink import hole_mark
from handkit.draw.templates.hole_text import last_marks, number_marks, start_marks
from handkit.draw.templates.join_ink import beyond, join_groups, keeps, kept_part
from handkit.draw.templates.join_picture import join_picture
from handkit.draw.templates.opening_ink import opening_marks
from handkit.draw.templates.piece_label import label_mark
from handkit.draw.templates.piece_text import (
    item_marks,
    join_name_marks,
    letter_marks,
    opening_text_marks,
    skive_marks,
    top_marks,
)
from handkit.draw.templates.shown_window import ShownWindow, shown_windows
from handkit.draw.templates.tape_text import tape_marks
from handkit.draw.templates.window_ink import line_groups, tops_of
from handkit.draw.words.label_words import LabelWords, label_words
from handkit.draw.words.names import Codes
from handkit.geometry.box import Box, box_of
from handkit.geometry.path import Path
from handkit.geometry.raster import Raster
from handkit.ink import Tag
from handkit.kept.kept import NOTHING, KeptOf
from handkit.punch.punched import Punched
from handkit.sheets.laid import Sheet, Sheets
from handkit.stitch.plan import StitchPlan
from handkit.wording.figures import Units

# What must never be written over; thin lines may be where there is no other room.
HARD = (Tag.OUTLINE, Tag.HOLE, Tag.CENTRE, Tag.OPENING, Tag.MARK, Tag.CUT, Tag.BREAK)

# How far from a window other pieces are looked for that a text could be taken for, in mm.
NEIGHBOUR = 30.0


class WindowDrawing(msgspec.Struct, frozen=True):
    """What a window shows, as ink."""

    shown: ShownWindow
    groups: tuple[Group, ...]

    @property
    def view(self) -> View:
        """The piece as the window shows it."""
        return self.shown.view


class WindowTold(msgspec.Struct, frozen=True):
    """What is told in a window beside what it shows: the label, and what lies on its piece."""

    label: LabelWords
    tops: tuple[tuple[str, Path], ...]


class SheetTold(msgspec.Struct, frozen=True):
    """All that the texts of a sheet are made from; of `sheets` what its own drawings are parted into."""

    frame: Frame
    drawn: tuple[WindowDrawing, ...]
    told: tuple[WindowTold, ...]
    sheets: Sheets
    codes: Codes
    units: Units


def template_groups(  # noqa: PLR0913 - the products
    sheet: Sheet,
    *,
    punched: Punched,
    plan: StitchPlan,
    sheets: Sheets,
    codes: Codes,
    fonts: Fonts,
    kept: KeptOf = NOTHING,
) -> tuple[Group, ...]:
    """Everything of one sheet but its head line; its texts, for which room is looked for at length, are
    `kept`."""
    frame = Frame(sheets.paper, sheets.edge, sheets.margin, punched.project.units)
    shown = tuple(
        WindowDrawing(one, _ink(one, punched)) for one in shown_windows(sheet, punched, plan, sheets, codes)
    )
    told = SheetTold(
        frame,
        shown,
        tuple(_told(one.shown, punched, codes) for one in shown),
        _of_drawings(sheets, sheet),
        codes,
        punched.project.units,
    )
    ink = tuple(group for window in shown for group in window.groups)
    text = kept.of_these("texts of a sheet", told, lambda: _all_texts(told, fonts))
    return (Group(scale_bars(frame, fonts)), *ink, *text)


def _told(shown: ShownWindow, punched: Punched, codes: Codes) -> WindowTold:
    label = label_words(shown.view, punched, codes, taped=bool(shown.joins))
    tops = tops_of(punched, shown.view.piece)
    return WindowTold(label, tuple((other.name, outline) for other, outline in tops))


def _of_drawings(sheets: Sheets, sheet: Sheet) -> Sheets:
    """The sheets with no other windows and joins than those of the drawings that a sheet has a part of."""
    here = {(window.piece, window.copy) for window in sheet.windows}
    return Sheets(
        sheets.paper,
        sheets.edge,
        sheets.margin,
        sheets.overlap,
        tuple(
            Sheet(number, windows)
            for number, windows in (
                (each.number, tuple(one for one in each.windows if (one.piece, one.copy) in here))
                for each in sheets.sheets
            )
            if windows
        ),
        tuple(join for join in sheets.joins if (join.piece, join.copy) in here),
        0,
    )


def _all_texts(told: SheetTold, fonts: Fonts) -> tuple[Group, ...]:
    """The texts of a sheet's windows, one window after the other."""
    spaces = free_spaces(told.drawn, told.frame, fonts)
    windows = zip(told.drawn, told.told, spaces, strict=True)
    return tuple(group for one, words, space in windows for group in _texts(one.shown, words, space, told))


def _ink(shown: ShownWindow, punched: Punched) -> tuple[Group, ...]:
    view = shown.view
    marks = (
        *(mark for opening in shown.openings for mark in opening_marks(view, opening)),
        *(extra_mark(view, extra) for extra in shown.extras),
    )
    return (
        *line_groups(view, punched),
        Group(marks, view.clips()),
        Group(tuple(hole_mark(view, hole) for hole in shown.holes)),
        *join_groups(view, shown.joins),
        *break_groups(view, shown.breaks),
    )


def free_spaces(shown: Sequence[WindowDrawing], frame: Frame, fonts: Fonts) -> tuple[FreeSpace, ...]:
    """Where each window's texts may go: the sheet with all its ink taken, and the inside of the
    window's part of its piece, up to its trim lines."""
    room = Box(
        frame.margin, frame.margin, frame.paper.width - frame.margin, frame.paper.height - frame.margin
    )
    area = Box(0.0, 0.0, room.right, room.top)
    hard, pieces = Raster(area, cell=CELL), Raster(area, cell=CELL)
    for window in shown:
        take_groups(hard, _groups(window, hard=True))
    busy = hard.copy()
    rings = [window.view.part() for window in shown]
    insides = []
    for window in shown:
        take_groups(busy, _groups(window, hard=False))
        within = hard.inside(window.view.ring())
        if window.view.window.count > 1:
            within = [a & b for a, b in zip(within, hard.inside(window.view.rim), strict=True)]
        pieces.take_cells(within)
        insides.append(within)
    spaces = []
    for k, (window, within) in enumerate(zip(shown, insides, strict=True)):
        view, inner = window.view, Raster(area, cell=CELL)
        inner.take_all_but(within)
        for join in window.shown.joins:
            inner.take_cells(inner.inside(beyond(view, join)))
        near = box_of(view.rim).grown(NEIGHBOUR)
        others = tuple(ring for ring in (*rings[:k], *rings[k + 1 :]) if near.meets(box_of(ring)))
        regions = {
            LabelRegion.INSIDE: (busy, inner),
            LabelRegion.OUTSIDE: (busy, pieces),
            LabelRegion.OVER_LINES: (hard, inner),
        }
        spaces.append(
            FreeSpace(room, busy, hard, regions, fonts, kept_part(view, window.shown.joins), others)
        )
    return tuple(spaces)


def _groups(window: WindowDrawing, *, hard: bool) -> Iterator[Group]:
    """A window's groups with only such marks as must never be written over, or with only the others."""
    for group in window.groups:
        marks = tuple(mark for mark in group.marks if (mark.tag in HARD) == hard)
        if marks:
            yield Group(marks, group.clips)


def _texts(window: ShownWindow, told: WindowTold, space: FreeSpace, sheet: SheetTold) -> tuple[Group, ...]:
    view, joins, sheets = window.view, window.joins, sheet.sheets
    holes = tuple(hole for hole in window.holes if keeps(view, joins, hole.at))
    openings = tuple(opening for opening in window.openings if keeps(view, joins, opening.at))
    marks: tuple[Mark, ...] = (
        *letter_marks(view, joins, space),
        *start_marks(view, holes, space),
        *last_marks(view, holes, space),
        *opening_text_marks(view, openings, space),
        *label_mark(view, told.label, space),
        *number_marks(view, holes, space),
        *join_name_marks(view, joins, sheets, space),
        *break_text_marks(view, window.breaks, sheets, space),
        *extra_text_marks(view, window.extras, space),
        *skive_marks(view, sheet.units, space),
        *tape_marks(view, sheet.codes, space),
        *item_marks(view, space),
        *top_marks(view, told.tops, space),
        *grain_mark(view, space),
    )
    return (Group(marks), *join_picture(view, sheets, space))
