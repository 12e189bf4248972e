"""Piece text: corner letters, openings' names, what lies on top or is carried, the names of joins.

In: a view, the products, the window's free space. Out: marks.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product

from handkit.draw.model.fonts import CAPITAL, LEAST_SIZE
from handkit.draw.model.free_space import PLAINLY, FreeSpace, LabelRegion
from handkit.draw.model.label_search import circles, first_free, led, put, spots
from handkit.draw.model.lettering import TextLine
from handkit.draw.model.marks import Ink, Mark, Words
from handkit.draw.model.view import View, sheet_of
from handkit.draw.templates.join_ink import inward, keeps
from handkit.draw.templates.opening_ink import ShownOpening
from handkit.draw.templates.window_ink import skive_limits
from handkit.geometry.affine import Point
from handkit.geometry.box import Box
from handkit.geometry.path import Path
from handkit.geometry.straight import distance, unit
from handkit.grouping import grouped
from handkit.sheets.laid import Join, Sheets
from handkit.wording.figures import Units

# Corner letters look for room at these distances from their corner, in mm: near in the piece, then
# at the three nearest outside it, then further in.
LETTER_NEAR = (2.6, 3.2, 4.0, 5.0, 6.5, 8.0)
LETTER_FAR = (10.0, 13.0, 17.0, 21.0, 26.0)

# The last bit of a line to a corner may touch the cut line, in mm.
LETTER_END = 1.2

# So far before its corner a letter's line may stop, where a hole is in its way, in mm.
LETTER_STOPS = 7.0

# How far from its rule line a join's name stands, in mm, and at how many places along it is tried.
RULE_NAME_OFF = 3.1
RULE_NAME_PLACES = 50

# How far beside an opening its name may stand without a line, and how far with one, in mm.
FURTHEST = 7.0
LED_REACHES = (4.5, 6.0, 7.5, 9.0, 10.5, 12.5, 14.5, 18.0, 22.0)
LED_DIRECTIONS = 32

Parts = tuple[Ink | Words, ...]


def letter_marks(view: View, joins: Sequence[Join], space: FreeSpace) -> tuple[Mark, ...]:
    """Corner letters, as near to their corners as they find room."""
    corners = ((letter.name, view.to_sheet.apply(letter.at), letter.at) for letter in view.piece.letters)
    return view.label(
        part
        for name, corner, own in corners
        if view.holds(own) and keeps(view, joins, corner)
        for part in _letter(name, corner, space)
    )


def _letter(name: str, corner: Point, space: FreeSpace) -> Parts:
    """In the piece near its corner; else outside, where it can be no neighbour's; else near and over
    thin lines; else further in with a leader to its corner, at last without."""
    near = tuple(circles(corner, LETTER_NEAR))
    plain = (at for at in circles(corner, LETTER_NEAR[:3]) if space.is_own(at, corner))
    return (
        put(space, name, near, bold=True)
        or put(space, name, plain, LabelRegion.OUTSIDE, bold=True)
        or put(space, name, near, LabelRegion.OVER_LINES, bold=True)
        or led(space, name, corner, end=LETTER_END, bold=True)
        or led(space, name, corner, end=LETTER_END, bold=True, stops=LETTER_STOPS)
        or led(space, name, corner, end=LETTER_END, bold=True, region=LabelRegion.OUTSIDE)
        or put(space, name, circles(corner, LETTER_FAR), bold=True)
    )


def opening_text_marks(view: View, openings: Sequence[ShownOpening], space: FreeSpace) -> tuple[Mark, ...]:
    """At the first and the last of each opening its short name, number and size."""
    parts: list[Ink | Words] = []
    numbers = {
        code: [each.place.number for each in same]
        for code, same in grouped(openings, by=lambda each: each.code).items()
    }
    for opening in openings:
        same = numbers[opening.code]
        if opening.place.number in (same[0], same[-1]):
            number = f"·{opening.place.number}" if len(same) > 1 else ""
            parts.extend(_opening_text(opening, f"{opening.code}{number}", openings, space))
    return view.label(parts)


def _opening_text(
    opening: ShownOpening, name: str, openings: Sequence[ShownOpening], space: FreeSpace
) -> Parts:
    """Name and size beside the opening, the name alone where there is no more room; outside the
    piece with a leader to the opening."""
    others = [other for other in openings if other is not opening]
    for text in (f"{name} {_size(opening)}", name):
        found = put(space, text, _plainly(opening, others, text, space))
        if found:
            return found
    line = TextLine(name).measured(space.fonts)
    rim = max(opening.opening.length, opening.opening.cap) / 2
    reaches = [rim + reach for reach in LED_REACHES]
    for centre in circles(opening.at, reaches, directions=LED_DIRECTIONS):
        for region in (LabelRegion.INSIDE, LabelRegion.OUTSIDE):
            placed = first_free(
                space,
                line,
                (centre,),
                region,
                lead=lambda box: space.leader(box, _rim_point(opening, box)),
            )
            if placed:
                return (*line.words_at(centre), *placed.leader)
    return ()


def _rim_point(opening: ShownOpening, box: Box) -> Point:
    """The point of what an opening covers that is nearest to a box."""
    (x, y), (ax, ay) = opening.at, opening.along
    rim = max(opening.opening.diameter, opening.opening.cap) / 2
    reach = max(0.0, (opening.opening.length - opening.opening.diameter) / 2)
    nx, ny = box.nearest(opening.at)
    along = min(max((nx - x) * ax + (ny - y) * ay, -reach), reach)
    x, y = x + ax * along, y + ay * along
    near = box.nearest((x, y))
    if near == (x, y):  # the box lies over its middle
        return near
    ux, uy = unit((x, y), near)
    return (x + ux * rim, y + uy * rim)


def _plainly(
    opening: ShownOpening, others: Sequence[ShownOpening], text: str, space: FreeSpace
) -> Iterator[Point]:
    """Centres at which a text is plainly nearer to its opening than to any other."""
    width, height = space.fonts.width(text, LEAST_SIZE), CAPITAL * LEAST_SIZE
    most = 2 * (opening.opening.length + opening.opening.cap + width + height + FURTHEST) + PLAINLY
    here = Box(*opening.at, *opening.at)
    others = [other for other in others if not _is_beyond(here, other, most)]  # of most all is said by this
    for x, y in _round(opening, width):
        box = Box(x - width / 2, y - height / 2, x + width / 2, y + height / 2)
        off = _off(box, opening) + PLAINLY
        if all(_is_beyond(box, other, off) or _off(box, other) >= off for other in others):
            yield (x, y)


def _is_beyond(box: Box, opening: ShownOpening, off: float) -> bool:
    """Whether an opening is surely farther off than that: most are, and this is soon found."""
    (x, y), shape = opening.at, opening.opening
    reach = off + max(shape.length, shape.diameter, shape.cap)
    return x > box.right + reach or x < box.left - reach or y > box.top + reach or y < box.bottom - reach


def _off(box: Box, opening: ShownOpening) -> float:
    """How far a box is from what an opening covers."""
    place = _rim_point(opening, box)
    return distance(place, box.nearest(place))


def top_marks(view: View, tops: Sequence[tuple[str, Path]], space: FreeSpace) -> tuple[Mark, ...]:
    """The names of what lies on the piece, inside their outlines where there is room."""
    return view.label(
        words for name, outline in tops for words in put(space, f"({name})", _within(outline, view))
    )


def item_marks(view: View, space: FreeSpace) -> tuple[Mark, ...]:
    """The names of things carried or put on there, inside their outlines where there is room, level or
    upright, or beside them where they may."""
    return view.label(
        words
        for item in view.piece.items
        for text, places in ((f"({item.item})", tuple(_within(item.path, view))),)
        for words in put(space, text, places)
        or put(space, text, places, upright=True)
        or put(space, text, _beside(item.path, view) if item.beside else ())
    )


def skive_marks(view: View, units: Units, space: FreeSpace) -> tuple[Mark, ...]:
    """At each skive's limit, how thin the edge gets."""
    words: list[Words] = []
    for skive in view.piece.skives:
        text = f"skive to {units.thickness(skive.to)}"
        half = space.fonts.width(text, LEAST_SIZE) / 2
        shifts = [
            shift
            for off in (2.6, 4.0)
            for shift in ((0.0, off), (0.0, -off), (half + off, 0.0), (-half - off, 0.0))
        ]
        limits = (
            view.to_sheet.apply(limit.point_at(limit.length * share))
            for limit in skive_limits(view.piece, skive)
            for share in (0.5, 0.3, 0.7, 0.2, 0.8)
        )
        words.extend(put(space, text, ((x + dx, y + dy) for x, y in limits for dx, dy in shifts)))
    return view.label(words)


def join_name_marks(view: View, joins: Sequence[Join], sheets: Sheets, space: FreeSpace) -> tuple[Mark, ...]:
    """At each join its name, along the trim line, and the sheet on which the other window is; and
    along its rule line, which goes far into both portions."""
    words: list[Words] = []
    for join in joins:
        other = join.windows[0] if join.windows[1] == view.window.number else join.windows[1]
        name = f"join {join.windows[0]}–{join.windows[1]}"
        full = f"{name}: other portion on sheet {sheet_of(sheets, view.window, other)}"
        words.extend(
            _join_name(view, join, space, full)
            or _join_name(view, join, space, name)
            or _join_name(view, join, space, name, LabelRegion.OUTSIDE)
        )
        words.extend(_rule_name(view, join, space))
    return view.label(words)


def _join_name(
    view: View, join: Join, space: FreeSpace, text: str, region: LabelRegion = LabelRegion.INSIDE
) -> tuple[Words, ...]:
    """Along the trim line where that is nearer to upright than to level, else level."""
    a, b = view.to_sheet.apply_all(join.cut_line)
    upright = abs(b[1] - a[1]) > abs(b[0] - a[0])
    return put(space, text, _along_join(view, join), region, bold=True, upright=upright)


def _rule_name(view: View, join: Join, space: FreeSpace) -> tuple[Words, ...]:
    """A rule line's name beside it, on the side this window keeps, from its far end inwards."""
    a, b = view.to_sheet.apply_all(join.rule_line)
    nx, ny = inward(view, join)
    far = a if (a[0] - b[0]) * nx + (a[1] - b[1]) * ny > 0 else b
    text, upright = f"rule {join.windows[0]}–{join.windows[1]}", abs(ny) > abs(nx)
    half = space.fonts.width(text, LEAST_SIZE) / 2
    centres = (
        (far[0] - nx * back - ny * off, far[1] - ny * back + nx * off)
        for back in (half + 1 + 5 * k for k in range(RULE_NAME_PLACES))
        for off in (RULE_NAME_OFF, -RULE_NAME_OFF)
    )
    return put(space, text, centres, upright=upright)


def _size(opening: ShownOpening) -> str:
    number = opening.opening.source.units.number
    if opening.opening.traits.long:
        return f"{number(opening.opening.length)} × {number(opening.opening.diameter)}"
    return f"⌀{number(opening.opening.diameter)}"


def _round(opening: ShownOpening, width: float) -> Iterator[Point]:
    """Centres for a text about an opening: right, left, above, below, then further off."""
    (x, y), (ax, ay) = opening.at, opening.along
    rim, slot = max(opening.opening.diameter, opening.opening.cap) / 2, opening.opening.length / 2
    wide, high = max(rim, abs(ax) * slot), max(rim, abs(ay) * slot)
    for off in (1.2, 2.5, 4.5, FURTHEST):
        side, level = wide + off + width / 2, high + off + 1.5
        yield from ((x + side, y), (x - side, y), (x, y + level), (x, y - level))
        yield from ((x + side / 2, y + level), (x - side / 2, y + level))
        yield from ((x + side / 2, y - level), (x - side / 2, y - level))


def _within(outline: Path, view: View) -> Iterator[Point]:
    """Centres over what shows of an outline, from its middle outwards."""
    left, bottom, right, top = outline.moved(view.to_sheet).bounds()
    return (box.middle for box in spots(Box(left, bottom, right, top), 1.0, 1.0, step=6.0))


def _beside(outline: Path, view: View) -> Iterator[Point]:
    """Centres beside an outline: near the middles of its halves, for a bar's own middle has the slot."""
    left, bottom, right, top = outline.moved(view.to_sheet).bounds()
    wide, high = right - left, top - bottom
    x0, y0 = (left + right) / 2, (bottom + top) / 2
    for off, side, half in product((4.0, 5.5, 7.0, 9.0), (1, -1), (-1, 1)):
        for shift in (0.25 * ((k + 1) // 2) * (1 if k % 2 else -1) for k in range(17)):
            along, away = half * max(wide, high) / 4 + shift, side * (min(wide, high) / 2 + off)
            yield (x0 + along, y0 + away) if wide > high else (x0 + away, y0 + along)


def _along_join(view: View, join: Join) -> Iterator[Point]:
    """Centres beside a trim line, on the side that this window keeps, from its middle outwards."""
    a, b = view.to_sheet.apply_all(join.cut_line)
    ux, uy = unit(a, b)
    nx, ny = inward(view, join)
    length = distance(a, b)
    for off in (3.0, 4.5, 6.0, 9.0, 13.0, 18.0, 24.0):
        for k in range(13):
            shift = (k + 1) // 2 * (1 if k % 2 else -1) * length / 14
            mx, my = (a[0] + b[0]) / 2 + ux * shift, (a[1] + b[1]) / 2 + uy * shift
            yield (mx + nx * off, my + ny * off)
