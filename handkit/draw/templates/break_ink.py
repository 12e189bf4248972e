r"""Break ink: the lines between which a straight part of a piece is left out, and how much it is.

In: a view, the sheets, the window's site. Out: groups and marks.

    ───────────┐ ←  A break line is narrow, with a zigzag, and goes a little beyond the outline
      449 mm   /\   (ISO 128). Beside it stands what a rule must measure from it to its fellow at
      between    /  the other end, and where that is.
    ───────────┘
"""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from handkit.draw.model import tags
from handkit.draw.model.ground import spots
from handkit.draw.model.marks import Group, Ink, Mark, Words
from handkit.draw.model.path_ops import polyline_ops
from handkit.draw.model.placing import Site, bounds_of
from handkit.draw.model.view import View
from handkit.draw.templates.piece_label import Laid, Line, broken, words_of
from handkit.draw.templates.piece_text import sheet_of
from handkit.draw.words.names import figure
from handkit.geometry.affine import Point
from handkit.geometry.box import Box
from handkit.geometry.straight import distance, unit
from handkit.ink import BREAK_DEPTH, BREAK_OVER, STROKES, Tag
from handkit.sheets.laid import Break, Sheets
from handkit.tolerances import ON_BREAK_LINE

# The zigzag's width along the line, from where it leaves the line to where it comes back.
ZIGZAG = 3.0

# Widths the words are broken to, and how far from the line they look for room, in mm.
WIDTHS = (60.0, 34.0, 24.0)
DEPTHS = (15.0, 30.0, 60.0)
BESIDE = 12.0


class SeenBreak(msgspec.Struct, frozen=True):
    """A break line on the sheet: `number` of the break, `ends` of what this window shows of the
    line, `inward` the direction to the part that is drawn, `others` the windows at the other end."""

    number: int
    length: float
    ends: tuple[Point, Point]
    whole: tuple[bool, bool]  # whether the line itself ends there, or goes on in another window
    inward: Point
    others: tuple[int, ...]


def breaks_of(view: View, sheets: Sheets) -> tuple[SeenBreak, ...]:
    """The break lines that a window has part in."""
    window = view.window
    own = [one for one in sheets.breaks if (one.piece, one.copy) == (window.piece, window.copy)]
    return tuple(
        _seen(view, one, number, line)
        for number, one in enumerate(own, start=1)
        for line in (0, 1)
        if window.number in one.windows[line]
    )


def _seen(view: View, one: Break, number: int, line: int) -> SeenBreak:
    a, b = view.to_sheet.apply_all(one.lines[line])
    other = view.to_sheet.apply(one.lines[1 - line][0])
    length, (ux, uy) = distance(a, b), unit(a, b)
    along = [
        (x - a[0]) * ux + (y - a[1]) * uy
        for x, y in view.rim
        if abs((x - a[0]) * uy - (y - a[1]) * ux) <= ON_BREAK_LINE
    ]
    low, high = max(0.0, min(along)), min(length, max(along))
    return SeenBreak(
        number=number,
        length=one.length,
        ends=((a[0] + ux * low, a[1] + uy * low), (a[0] + ux * high, a[1] + uy * high)),
        whole=(low <= ON_BREAK_LINE, high >= length - ON_BREAK_LINE),
        inward=unit(other, a),
        others=one.windows[1 - line],
    )


def break_groups(view: View, breaks: tuple[SeenBreak, ...]) -> tuple[Group, ...]:
    """The lines, whole: what goes beyond the outline lies outside the window's clip."""
    return tuple(Group((_mark(view, one),)) for one in breaks)


def _mark(view: View, one: SeenBreak) -> Mark:
    a, b = one.ends
    (ux, uy), (nx, ny) = unit(a, b), one.inward
    over = [BREAK_OVER if whole else 0.0 for whole in one.whole]
    middle = distance(a, b) / 2
    places = (
        (-over[0], 0.0),
        (middle - ZIGZAG / 2, 0.0),
        (middle - ZIGZAG / 4, BREAK_DEPTH),
        (middle + ZIGZAG / 4, -BREAK_DEPTH),
        (middle + ZIGZAG / 2, 0.0),
        (2 * middle + over[1], 0.0),
    )
    points = [(a[0] + ux * s + nx * t, a[1] + uy * s + ny * t) for s, t in places]
    ink = Ink(polyline_ops(points), STROKES[Tag.BREAK])
    return Mark(Tag.BREAK, tags.break_line(view.properties, one.number, one.length), (ink,))


def break_text_marks(
    view: View, breaks: tuple[SeenBreak, ...], sheets: Sheets, site: Site
) -> tuple[Mark, ...]:
    """What is to be measured, beside each line; all of it in the piece where there is room, else the
    length alone, else on bare paper beside it."""
    words = [part for one in breaks for part in _words(view, one, sheets, site)]
    return (Mark(Tag.LABEL, view.properties, tuple(words)),) if words else ()


def _words(view: View, one: SeenBreak, sheets: Sheets, site: Site) -> tuple[Words, ...]:
    length = Line(f"{figure(one.length)} mm between these lines", bold=True)
    other = one.others[0]
    place = Line(f"other line: part {other}, sheet {sheet_of(sheets, view.window, other)}")
    for lines in ((length, place), (length,)):
        forms = [broken(lines, width, site.fonts) for width in WIDTHS]
        for outside, over_lines in ((False, False), (True, False), (False, True)):
            for depth in DEPTHS:
                found = _room(one, forms, depth, site, outside=outside, over_lines=over_lines)
                if found:
                    box, laid, upright = found
                    site.take(box)
                    return words_of(laid, box, upright=upright)
    return ()


def _room(  # noqa: PLR0913 - what to look for, where, and how strictly
    one: SeenBreak, forms: list[Laid], depth: float, site: Site, *, outside: bool, over_lines: bool
) -> tuple[Box, Laid, bool] | None:
    """A free box within a depth of the line, for the widest form that has one."""
    area = _strip(one, depth, BESIDE if outside else 0.0)
    middle = ((one.ends[0][0] + one.ends[1][0]) / 2, (one.ends[0][1] + one.ends[1][1]) / 2)
    for laid in forms:
        for upright in (False, True):
            width, height = (laid.height, laid.width) if upright else (laid.width, laid.height)
            for box in spots(area, width, height, step=1.0):
                centre = ((box.left + box.right) / 2, (box.bottom + box.top) / 2)
                plain = not outside or site.own(centre, middle)
                if plain and site.free(box, outside=outside, over_lines=over_lines):
                    return box, laid, upright
    return None


def _strip(one: SeenBreak, depth: float, beside: float) -> Box:
    """The box round all that is no further from the line than `depth`, into the part."""
    nx, ny = one.inward
    return bounds_of(_corners(one, nx * depth, ny * depth)).grown(beside)


def _corners(one: SeenBreak, dx: float, dy: float) -> Iterator[Point]:
    for x, y in one.ends:
        yield (x, y)
        yield (x + dx, y + dy)
