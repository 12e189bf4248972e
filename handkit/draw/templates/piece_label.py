"""Piece label: name, quantity, thickness, which side, what to do: the words that a template needs.

In: a view, its words, the window's free space. Out: a mark.

The layout keeps an area free for it. The label takes the fullest form that has room there or
elsewhere in the piece: all lines, then fewer, then few words, level or upright; then on bare paper beside
it. What a piece can't be cut rightly without is in all of them (see `label_words.py`).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import msgspec

from handkit.draw.model.fonts import LEAST_SIZE, Fonts
from handkit.draw.model.free_space import FreeSpace, LabelRegion
from handkit.draw.model.label_search import Lead, first_free, free_places
from handkit.draw.model.lettering import TextBlock, TextLine, text_block
from handkit.draw.model.marks import Ink, Mark, Words
from handkit.draw.model.view import View
from handkit.draw.words.label_words import NAME_SIZE, LabelWords
from handkit.geometry.affine import Point
from handkit.geometry.box import Box, box_of
from handkit.geometry.polygon import nearest_on
from handkit.geometry.straight import unit

# Widths a label is tried at, and how far from a window it may look for bare paper, in mm.
WIDE = (120.0, 90.0, 70.0, 55.0, 42.0)
NARROW = (32.0, 24.0, 16.0)
NARROWEST = 11.0
NEARBY = 24.0
FARTHER = (35.0, 70.0)

# How far the line from a label on bare paper reaches into its piece.
LEADER_IN = 1.2


class Area(msgspec.Struct, frozen=True):
    """Where a label may look for room."""

    box: Box
    region: LabelRegion = LabelRegion.INSIDE
    led: bool = True  # outside: only with a leader to the piece
    anywhere: bool = False  # outside: however far from the piece


# Lines, the widths they may break to, and where to look for room.
Attempt = tuple[tuple[TextLine, ...], tuple[float, ...], tuple[Area, ...]]


def label_mark(view: View, words: LabelWords, space: FreeSpace) -> tuple[Mark, ...]:
    """The label where it has room; where only a name has, a note elsewhere on the sheet says the
    rest; nothing where there is no room at all, which a test of layouts looks for."""
    attempts = tuple(_attempts(view, words))
    label = _placed(attempts, space, parting=False) or _placed(attempts, space)
    if label:
        return view.label(label)
    anywhere = Area(space.room, LabelRegion.OUTSIDE, led=False, anywhere=True)
    name = _placed(_bare(view, words), space)
    return view.label((*name, *(_placed([((words.note,), WIDE, (anywhere,))], space) if name else ())))


def _placed(
    attempts: Iterable[Attempt], space: FreeSpace, *, parting: bool = True
) -> tuple[Ink | Words, ...]:
    """The first attempt that has room: the free place nearest to an area's middle."""
    for lines, widths, areas in attempts:
        for form in _forms(lines, widths, space.fonts, parting=parting):
            for area in areas:
                for block in (form, form.turned()):
                    places = _places(space, area, block)
                    found = first_free(space, block, places, area.region, lead=_lead(space, area))
                    if found is not None:
                        return (*found.leader, *block.words_at(found.place))
    return ()


def _places(space: FreeSpace, area: Area, block: TextBlock) -> Iterable[Point]:
    """Lower left corners for a block, the nearest to the area's middle first. In the piece the first will do;
    on bare paper its leader may refuse it."""
    if area.region is LabelRegion.OUTSIDE:
        return free_places(space, area.box, block.width, block.height, area.region)
    found = space.nearest(area.box, block.width, block.height, area.region)
    return () if found is None else ((found.left, found.bottom),)


def _lead(space: FreeSpace, area: Area) -> Lead:
    """On bare paper a label has a leader to its piece, or is plainly about that if it may be."""

    def lead(box: Box) -> tuple[Ink, ...] | None:
        if area.region is not LabelRegion.OUTSIDE or area.anywhere:
            return ()
        place = _within(box, space.ring)
        plain = () if not area.led and space.is_own(box.middle, place) else None
        return space.leader(box, place) or plain

    return lead


def _attempts(view: View, words: LabelWords) -> Iterator[Attempt]:
    """What to try, how wide and where: all lines in the piece, fewer, the needed ones, in short, in single
    words; then bare paper near it, and farther; then over thin lines. What is needed is in each of them."""
    inside, near, over = _areas(view)
    lines, needed, any_width = words.lines, words.lines[: words.needed], (*WIDE, *NARROW)
    for count in sorted({len(lines), min(len(lines), 5), min(len(lines), 4)}, reverse=True):
        yield lines[:count], WIDE, inside
    yield needed, WIDE, inside
    yield words.short, any_width, inside
    yield words.shortest, any_width, inside
    yield lines, WIDE, near
    yield needed, any_width, near
    yield words.short, any_width, near
    far = tuple(Area(box_of(view.rim).grown(reach), LabelRegion.OUTSIDE) for reach in FARTHER)
    yield words.short, any_width, far
    yield words.short, any_width, over
    yield words.shortest, (*any_width, NARROWEST), (*inside, *over, *near, *far)


def _bare(view: View, words: LabelWords) -> Iterator[Attempt]:
    """The bare name, with its portion where it has several."""
    inside, near, over = _areas(view)
    areas = (*inside, *(msgspec.structs.replace(area, led=False) for area in near), *over)
    for line in words.bare:
        yield (line,), (*WIDE, *NARROW), areas


def _areas(view: View) -> tuple[tuple[Area, ...], tuple[Area, ...], tuple[Area, ...]]:
    """Inside the piece, the layout's area first; on bare paper; over thin lines."""
    kept, bounds = view.window.label, box_of(view.rim)
    inside: tuple[Area, ...] = (Area(bounds),)
    near: tuple[Area, ...] = (Area(bounds.grown(NEARBY), LabelRegion.OUTSIDE),)
    if kept is not None:
        if view.window.label_inside:
            inside = (Area(kept), *inside)
        else:
            near = (Area(kept, LabelRegion.OUTSIDE), *near)
    return inside, near, (Area(bounds, LabelRegion.OVER_LINES),)


def _forms(
    lines: tuple[TextLine, ...], widths: Sequence[float], fonts: Fonts, *, parting: bool
) -> Iterator[TextBlock]:
    """Lines at several widths, each breaking once; then with a smaller name. The name's words are
    parted only where that is asked for."""
    seen: set[tuple[TextLine, ...]] = set()
    for size in (NAME_SIZE, LEAST_SIZE):
        for width in widths:
            head = msgspec.structs.replace(lines[0], size=min(size, lines[0].size))
            laid = text_block((head, *lines[1:]), width, fonts)
            whole = all(fonts.width(word, head.size, bold=True) <= width for word in head.text.split())
            if (whole or parting) and laid.width <= width and laid.lines not in seen:
                seen.add(laid.lines)
                yield laid


def _within(box: Box, ring: Sequence[Point]) -> Point:
    """A place a little inside the outline, where the line from a label ends."""
    edge = nearest_on(box.middle, ring)
    ux, uy = unit(box.nearest(edge), edge) if box.nearest(edge) != edge else (0.0, 0.0)
    return (edge[0] + ux * LEADER_IN, edge[1] + uy * LEADER_IN)
