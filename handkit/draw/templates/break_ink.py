r"""Break ink: the lines between which a straight part of a piece is left out, and how much it is.

In: a view, the sheets, the window's free space. Out: groups and marks.

    ───────────┐ ←  A break line is narrow, with a zigzag, and goes a little beyond the outline
      449 mm   /\   (ISO 128). Beside it stands what a rule must measure from it to its fellow at
      between    /  the other end, and where that is.
    ───────────┘
"""

from __future__ import annotations

import msgspec

from handkit.draw.model import tags
from handkit.draw.model.free_space import FreeSpace, LabelRegion
from handkit.draw.model.label_search import PlacedLabel, first_free, free_places
from handkit.draw.model.lettering import TextBlock, TextLine, text_block
from handkit.draw.model.marks import Group, Ink, Mark, Words
from handkit.draw.model.path_ops import polyline_ops
from handkit.draw.model.view import View, sheet_of
from handkit.geometry.affine import Point
from handkit.geometry.box import Box, box_of
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


class ShownBreak(msgspec.Struct, frozen=True):
    """A break line on the sheet: `number` of the break, `ends` of what this window shows of the
    line, `inward` the direction to the portion that is drawn, `others` the windows at the other end."""

    number: int
    length: float
    ends: tuple[Point, Point]
    whole: tuple[bool, bool]  # whether the line itself ends there, or goes on in another window
    inward: Point
    others: tuple[int, ...]


def breaks_of(view: View, sheets: Sheets) -> tuple[ShownBreak, ...]:
    """The break lines that a window has part in."""
    window = view.window
    own = [one for one in sheets.breaks if (one.piece, one.copy) == (window.piece, window.copy)]
    return tuple(
        _shown(view, one, number, line)
        for number, one in enumerate(own, start=1)
        for line in (0, 1)
        if window.number in one.windows[line]
    )


def _shown(view: View, one: Break, number: int, line: int) -> ShownBreak:
    a, b = view.to_sheet.apply_all(one.lines[line])
    other = view.to_sheet.apply(one.lines[1 - line][0])
    length, (ux, uy) = distance(a, b), unit(a, b)
    along = [
        (x - a[0]) * ux + (y - a[1]) * uy
        for x, y in view.rim
        if abs((x - a[0]) * uy - (y - a[1]) * ux) <= ON_BREAK_LINE
    ]
    low, high = max(0.0, min(along)), min(length, max(along))
    return ShownBreak(
        number=number,
        length=one.length,
        ends=((a[0] + ux * low, a[1] + uy * low), (a[0] + ux * high, a[1] + uy * high)),
        whole=(low <= ON_BREAK_LINE, high >= length - ON_BREAK_LINE),
        inward=unit(other, a),
        others=one.windows[1 - line],
    )


def break_groups(view: View, breaks: tuple[ShownBreak, ...]) -> tuple[Group, ...]:
    """The lines, whole: what goes beyond the outline lies outside the window's clip."""
    return tuple(Group((_mark(view, one),)) for one in breaks)


def _mark(view: View, one: ShownBreak) -> Mark:
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
    view: View, breaks: tuple[ShownBreak, ...], sheets: Sheets, space: FreeSpace
) -> tuple[Mark, ...]:
    """What is to be measured, beside each line; all of it in the piece where there is room, else the
    length alone, else on bare paper beside it."""
    return view.label(part for one in breaks for part in _words(view, one, sheets, space))


def _words(view: View, one: ShownBreak, sheets: Sheets, space: FreeSpace) -> tuple[Words, ...]:
    length = TextLine(f"{view.piece.source.units.text(one.length)} between these lines", bold=True)
    other = one.others[0]
    place = TextLine(f"other line: portion {other}, sheet {sheet_of(sheets, view.window, other)}")
    for lines in ((length, place), (length,)):
        level = [text_block(lines, width, space.fonts) for width in WIDTHS]
        forms = [form for block in level for form in (block, block.turned())]
        for region in (LabelRegion.INSIDE, LabelRegion.OUTSIDE, LabelRegion.OVER_LINES):
            for depth in DEPTHS:
                for form in forms:
                    found = _found(one, form, depth, space, region)
                    if found:
                        return form.words_at(found.place)
    return ()


def _found(
    one: ShownBreak, form: TextBlock, depth: float, space: FreeSpace, region: LabelRegion
) -> PlacedLabel | None:
    """A free place within a depth of the line; on bare paper one that is plainly this line's."""
    (ax, ay), (bx, by) = one.ends
    middle = ((ax + bx) / 2, (ay + by) / 2)
    outside = region is LabelRegion.OUTSIDE

    def lead(box: Box) -> tuple[Ink, ...] | None:
        return () if not outside or space.is_own(box.middle, middle) else None

    dx, dy = one.inward[0] * depth, one.inward[1] * depth
    area = box_of((*one.ends, (ax + dx, ay + dy), (bx + dx, by + dy))).grown(BESIDE if outside else 0.0)
    places = free_places(space, area, form.width, form.height, region, step=1.0)
    return first_free(space, form, places, region, lead=lead)
