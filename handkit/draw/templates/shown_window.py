"""Shown window: what a window of a sheet shows of its piece, before it is ink.

In: the products, a sheet. Out: `ShownWindow`s: the holes, openings, joins and breaks that are drawn there.
"""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from handkit.draw.model.view import View, view_of
from handkit.draw.templates.break_ink import ShownBreak, breaks_of
from handkit.draw.templates.extra_hole import ExtraHole, extra_holes, shown_extras
from handkit.draw.templates.hole_ink import ShownHole, shown_holes, tick_reach
from handkit.draw.templates.join_ink import is_whole, joins_of
from handkit.draw.templates.opening_ink import ShownOpening, shown_openings
from handkit.draw.words.names import Codes
from handkit.punch.punched import Punched
from handkit.sheets.laid import Join, Sheet, Sheets
from handkit.stitch.plan import StitchPlan


class ShownWindow(msgspec.Struct, frozen=True):
    """All that one window shows beside its piece's lines."""

    view: View
    holes: tuple[ShownHole, ...]
    openings: tuple[ShownOpening, ...]
    extras: tuple[ExtraHole, ...]
    joins: tuple[Join, ...]
    breaks: tuple[ShownBreak, ...]


def shown_windows(
    sheet: Sheet, punched: Punched, plan: StitchPlan, sheets: Sheets, codes: Codes
) -> Iterator[ShownWindow]:
    """The windows of a sheet, in its order."""
    extras = extra_holes(plan, codes)
    for window in sheet.windows:
        view = view_of(punched.pattern, window)
        joins = joins_of(view, sheets)
        yield ShownWindow(
            view,
            tuple(
                hole
                for hole in shown_holes(view, punched, codes)
                if is_whole(view, joins, hole.at, tick_reach(hole))
            ),
            shown_openings(view, punched, codes),
            shown_extras(view, extras),
            joins,
            breaks_of(view, sheets),
        )
