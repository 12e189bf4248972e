"""Template pages: one for each sheet, full scale.

In: the products, the fonts. Out: pages.

All lines of a sheet are drawn first; then its texts look for room, window by window, the ones
with fewest places to go first.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from handkit.draw.layout.page_frame import Frame, scale_bars
from handkit.draw.model.fonts import Fonts
from handkit.draw.model.ground import Ground
from handkit.draw.model.marks import Group, Mark
from handkit.draw.model.placing import Grounds, Site, site_of, take_groups
from handkit.draw.model.view import View, view_of
from handkit.draw.templates.break_ink import SeenBreak, break_groups, break_text_marks, breaks_of
from handkit.draw.templates.grain import grain_mark
from handkit.draw.templates.hole_ink import Seen, hole_mark, seen_holes, tick_reach
from handkit.draw.templates.hole_text import number_marks, start_marks
from handkit.draw.templates.join_ink import is_whole, join_groups, joins_of, keeps
from handkit.draw.templates.join_picture import join_picture
from handkit.draw.templates.mouth_ink import Extra, extra_holes, extra_mark, extra_text_marks, seen_extras
from handkit.draw.templates.opening_ink import SeenOpening, opening_marks, seen_openings
from handkit.draw.templates.piece_label import label_mark
from handkit.draw.templates.piece_text import (
    item_marks,
    join_name_marks,
    letter_marks,
    opening_text_marks,
    skive_marks,
    top_marks,
)
from handkit.draw.templates.window_ink import line_groups
from handkit.draw.words.names import Codes
from handkit.geometry.box import Box
from handkit.ink import Tag
from handkit.punch.punched import Punched
from handkit.sheets.laid import Join, Sheet, Sheets
from handkit.stitch.plan import StitchPlan

# What must never be written over; thin lines may be where there is no other room.
HARD = (Tag.OUTLINE, Tag.HOLE, Tag.CENTRE, Tag.OPENING, Tag.MARK, Tag.CUT, Tag.BREAK)


class Shown(msgspec.Struct, frozen=True):
    """All that one window draws, with what its texts are about."""

    view: View
    holes: tuple[Seen, ...]
    openings: tuple[SeenOpening, ...]
    extras: tuple[Extra, ...]
    joins: tuple[Join, ...]
    breaks: tuple[SeenBreak, ...]
    groups: tuple[Group, ...]


def template_groups(  # noqa: PLR0913 - the products
    sheet: Sheet, *, punched: Punched, plan: StitchPlan, sheets: Sheets, codes: Codes, fonts: Fonts
) -> tuple[Group, ...]:
    """Everything of one sheet but its head line."""
    frame = Frame(sheets.paper, sheets.edge, sheets.margin)
    extras = extra_holes(plan, codes)
    views = [view_of(punched.pattern, window) for window in sheet.windows]
    shown = tuple(_shown(view, punched, sheets, codes, seen_extras(view, extras)) for view in views)
    ink = tuple(group for window in shown for group in window.groups)
    sites = _sites(shown, frame, fonts)
    text: list[Group] = []
    for window, site in zip(shown, sites, strict=True):
        text.extend(_texts(window, site, punched=punched, sheets=sheets, codes=codes))
    return (Group(scale_bars(frame, fonts)), *ink, *text)


def _shown(view: View, punched: Punched, sheets: Sheets, codes: Codes, extras: tuple[Extra, ...]) -> Shown:
    joins, breaks = joins_of(view, sheets), breaks_of(view, sheets)
    holes = tuple(
        hole for hole in seen_holes(view, punched, codes) if is_whole(view, joins, hole.at, tick_reach(hole))
    )
    openings = seen_openings(view, punched, codes)
    marks = (
        *(mark for opening in openings for mark in opening_marks(view, opening)),
        *(extra_mark(view, extra) for extra in extras),
    )
    groups = (
        *line_groups(view, punched),
        Group(marks, view.clips()),
        Group(tuple(hole_mark(view, hole) for hole in holes)),
        *join_groups(view, joins),
        *break_groups(view, breaks),
    )
    return Shown(view, holes, openings, extras, joins, breaks, groups)


def _sites(shown: Sequence[Shown], frame: Frame, fonts: Fonts) -> tuple[Site, ...]:
    """The sheet's grounds, with all ink taken, and each window's own."""
    room = Box(
        frame.margin, frame.margin, frame.paper.width - frame.margin, frame.paper.height - frame.margin
    )
    sheet = Grounds(busy=Ground(room), hard=Ground(room), outer=Ground(room))
    for window in shown:
        take_groups(sheet.busy, window.groups)
        take_groups(sheet.hard, _only(window.groups, HARD))
        sheet.outer.take_inside(window.view.ring(), window.view.rim)
    rings = [window.view.part() for window in shown]
    return tuple(
        site_of(window.view, window.joins, sheet, fonts, others=(*rings[:k], *rings[k + 1 :]))
        for k, window in enumerate(shown)
    )


def _only(groups: Sequence[Group], tags: Sequence[Tag]) -> tuple[Group, ...]:
    return tuple(Group(tuple(mark for mark in group.marks if mark.tag in tags)) for group in groups)


def _texts(window: Shown, site: Site, *, punched: Punched, sheets: Sheets, codes: Codes) -> tuple[Group, ...]:
    view, joins = window.view, window.joins
    holes = tuple(hole for hole in window.holes if keeps(view, joins, hole.at))
    openings = tuple(opening for opening in window.openings if keeps(view, joins, opening.at))
    marks: tuple[Mark, ...] = (
        *start_marks(view, holes, site),
        *number_marks(view, holes, site),
        *letter_marks(view, joins, site),
        *label_mark(view, punched, codes, site, taped=bool(joins)),
        *join_name_marks(view, joins, sheets, site),
        *break_text_marks(view, window.breaks, sheets, site),
        *opening_text_marks(view, openings, site),
        *extra_text_marks(view, window.extras, site),
        *skive_marks(view, site),
        *item_marks(view, site),
        *top_marks(view, punched, site),
        *grain_mark(view, site),
    )
    return (Group(marks), *join_picture(view, sheets, site))
