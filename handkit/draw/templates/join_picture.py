"""Join picture: how a piece's windows go together, small, on each of its windows.

In: a view, all windows of its piece. Out: a group, where a picture has room.
"""

from __future__ import annotations

import msgspec

from handkit.draw.model.fonts import LEAST_SIZE
from handkit.draw.model.free_space import FreeSpace
from handkit.draw.model.label_search import Blank, first_free, free_places
from handkit.draw.model.lettering import TextLine
from handkit.draw.model.marks import Group, Ink, Words, page_group
from handkit.draw.model.path_ops import path_ops, polyline_ops
from handkit.draw.model.view import View, windows_of
from handkit.geometry.affine import Affine
from handkit.geometry.box import box_of
from handkit.ink import HAIR, Stroke
from handkit.sheets.laid import Sheets

SIDES = (34.0, 26.0, 20.0)
THIS = Stroke(0.5)
OTHER = Stroke(0.13, (1, 1))


def join_picture(view: View, sheets: Sheets, space: FreeSpace) -> tuple[Group, ...]:
    """The piece with all its windows, this one's rim wide; nothing where there is no room."""
    if view.window.count == 1:
        return ()
    turned = msgspec.structs.replace(view.to_sheet, e=0.0, f=0.0)  # as this window lies
    left, bottom, right, top = view.piece.cut_outline.moved(turned).bounds()
    for side in SIDES:
        scale = side / max(right - left, top - bottom)
        width, height = (right - left) * scale, (top - bottom) * scale
        if min(width, height) < LEAST_SIZE:
            continue
        room = Blank(width + 2, height + 2)
        places = free_places(space, box_of(view.rim), room.width, room.height, step=5.0)
        found = first_free(space, room, places)
        if found:
            shift = Affine.shift(found.box.left + 1 - left * scale, found.box.bottom + 1 - bottom * scale)
            return (_picture(view, sheets, shift @ Affine(scale, 0, 0, scale) @ turned, space),)
    return ()


def _picture(view: View, sheets: Sheets, by: Affine, space: FreeSpace) -> Group:
    """The outline, each window's rim, and its number where it has room there."""
    inks = [Ink(path_ops(view.piece.cut_outline.moved(by)), HAIR)]
    words: list[Words] = []
    for window in windows_of(sheets, view.window):
        ring, this = by.apply_all(window.polygon), window.number == view.window.number
        inks.append(Ink(polyline_ops(ring, closed=True), THIS if this else OTHER))
        number = TextLine(str(window.number), bold=this).measured(space.fonts)
        rim = box_of(ring)
        if number.box_at(rim.middle).grown(0.3).inside(rim):
            words.extend(number.words_at(rim.middle))
    return page_group(*inks, *words)
