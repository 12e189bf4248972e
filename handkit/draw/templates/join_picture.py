"""Join picture: a small map of how a piece's portions go together, once on each sheet that has some of them.

In: a view, all windows of its piece. Out: groups, where a map has room.

A map is grey and has no outline, so that nobody takes it for something to cut: this sheet's portions are
darker, thin dashes are the joins, and words under it say so. It stands on bare paper, with the piece's name;
only where none is free it stands inside the piece, clear of all that is drawn there.
"""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from handkit.draw.model.fonts import LEAST_SIZE
from handkit.draw.model.free_space import FreeSpace, LabelRegion
from handkit.draw.model.label_search import Blank, first_free, free_places
from handkit.draw.model.lettering import TextBlock, TextLine, text_block
from handkit.draw.model.marks import Group, Ink, Mark, Words
from handkit.draw.model.path_ops import PathOps, path_ops, polyline_ops
from handkit.draw.model.view import View, sheet_of, windows_of
from handkit.geometry.affine import Affine, Point
from handkit.geometry.box import Box, box_of
from handkit.ink import STROKES, Tag
from handkit.sheets.laid import Sheets, Window

# The longer side of a map, the widest that its words are, and the free paper round both, in mm.
SIDES = (30.0, 24.0, 18.0)
WORDS_WIDTH = 34.0
CLEAR = 2.0

# How far beside the window bare paper is looked for before all of the sheet is.
NEAR = 45.0

# Greys of the other portions and of this sheet's.
OTHERS, THIS = 0.9, 0.72

WARNING = "map: don't cut"


class _Map(msgspec.Struct, frozen=True):
    """A map at a scale: `turned` leads from the piece's frame to its own, whose lower left is the origin."""

    turned: Affine
    width: float
    height: float
    words: TextBlock

    @property
    def room(self) -> Blank:
        """What it takes with its words below it and free paper about it."""
        wide = max(self.width, self.words.width)
        return Blank(wide + 2 * CLEAR, self.height + self.words.height + 1 + 2 * CLEAR)


def join_picture(view: View, sheets: Sheets, space: FreeSpace) -> tuple[Group, ...]:
    """The piece with all its portions, this sheet's darker, with the first of these; nothing where there is
    no room."""
    if view.window.count == 1 or view.window != _shown_here(view, sheets)[0]:
        return ()
    for area, region in _areas(view, space):
        for small in _maps(view, space, named=region is LabelRegion.OUTSIDE):
            places = free_places(space, area, small.room.width, small.room.height, region, step=4.0)
            found = first_free(space, small.room, places, region)
            if found:
                return _drawn(view, sheets, small, (found.box.left + CLEAR, found.box.bottom + CLEAR), space)
    return ()


def _areas(view: View, space: FreeSpace) -> Iterator[tuple[Box, LabelRegion]]:
    """Where a map is looked for: on bare paper near the window, on the sheet, in the piece."""
    rim = box_of(view.rim)
    yield rim.grown(NEAR), LabelRegion.OUTSIDE
    yield space.room, LabelRegion.OUTSIDE
    yield rim, LabelRegion.INSIDE


def _maps(view: View, space: FreeSpace, *, named: bool) -> Iterator[_Map]:
    """The map as this window lies, the largest first; with the piece's name where it stands beside it."""
    turned = msgspec.structs.replace(view.to_sheet, e=0.0, f=0.0)
    left, bottom, right, top = view.piece.cut_outline.moved(turned).bounds()
    lines = (*(TextLine(view.piece.name, bold=True),) * named, TextLine(WARNING))
    words = text_block(lines, WORDS_WIDTH, space.fonts)
    for side in SIDES:
        scale = side / max(right - left, top - bottom)
        width, height = (right - left) * scale, (top - bottom) * scale
        if min(width, height) >= LEAST_SIZE:
            by = Affine(scale, 0, 0, scale, -left * scale, -bottom * scale) @ turned
            yield _Map(by, width, height, words)


def _drawn(view: View, sheets: Sheets, small: _Map, corner: Point, space: FreeSpace) -> tuple[Group, ...]:
    """Both greys, the joins, each portion's number where it has room there, and the words."""
    x, y = corner
    by = Affine.shift(x, y + small.words.height + 1) @ small.turned
    outline = path_ops(view.piece.cut_outline.moved(by))
    rims = (polyline_ops(by.apply_all(one.polygon), closed=True) for one in _shown_here(view, sheets))
    drawing = (view.piece.name, view.window.copy)
    joins = (
        Ink(polyline_ops(by.apply_all(join.cut_line)), STROKES[Tag.MAP])
        for join in sheets.joins
        if (join.piece, join.copy) == drawing
    )
    words = (*_numbers(view, sheets, by, space), *small.words.words_at(corner))
    layers: tuple[tuple[tuple[PathOps, ...], tuple[Ink | Words, ...]], ...] = (
        ((), (Ink(outline, fill=OTHERS),)),
        *(((rim,), (Ink(outline, fill=THIS),)) for rim in rims),
        ((outline,), tuple(joins)),
        ((), words),
    )
    return tuple(Group((Mark(Tag.MAP, view.properties, parts),), clips) for clips, parts in layers)


def _shown_here(view: View, sheets: Sheets) -> tuple[Window, ...]:
    """The windows of this drawing that share its sheet, by number."""
    sheet = sheet_of(sheets, view.window, view.window.number)
    return tuple(one for one in windows_of(sheets, view.window) if sheet_of(sheets, one, one.number) == sheet)


def _numbers(view: View, sheets: Sheets, by: Affine, space: FreeSpace) -> Iterator[Words]:
    here = _shown_here(view, sheets)
    for window in windows_of(sheets, view.window):
        number = TextLine(str(window.number), bold=window in here)
        label, rim = number.measured(space.fonts), box_of(by.apply_all(window.polygon))
        if label.box_at(rim.middle).grown(0.3).inside(rim):
            yield from label.words_at(rim.middle)
