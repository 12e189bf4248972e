"""Join picture: how a piece's windows go together, small, on each of its windows.

In: a view, all windows of its piece. Out: a group, where a picture has room.
"""

from __future__ import annotations

import msgspec

from handkit.draw.model.fonts import LEAST_SIZE
from handkit.draw.model.ground import spots
from handkit.draw.model.lettering import centred
from handkit.draw.model.marks import Group, Ink, Mark
from handkit.draw.model.path_ops import path_ops, polyline_ops
from handkit.draw.model.placing import Site, box_of
from handkit.draw.model.view import View
from handkit.geometry.affine import Affine
from handkit.geometry.box import Box
from handkit.ink import HAIR, Stroke, Tag
from handkit.sheets.laid import Sheets, Window

SIDES = (34.0, 26.0, 20.0)
THIS = Stroke(0.5)
OTHER = Stroke(0.13, (1, 1))


def join_picture(view: View, sheets: Sheets, site: Site) -> tuple[Group, ...]:
    """The piece with all its windows, this one's rim wide; nothing where there is no room."""
    if view.window.count == 1:
        return ()
    windows = windows_of(sheets, view.window)
    turned = msgspec.structs.replace(
        view.to_sheet, e=0.0, f=0.0
    )  # as this window lies, so that the picture does too
    left, bottom, right, top = view.piece.cut_outline.moved(turned).bounds()
    for side in SIDES:
        scale = side / max(right - left, top - bottom)
        width, height = (right - left) * scale, (top - bottom) * scale
        if min(width, height) < LEAST_SIZE:
            continue
        for box in spots(_area(view), width + 2, height + 2, step=5.0):
            if site.free(box):
                site.take(box)
                shift = Affine.shift(box.left + 1 - left * scale, box.bottom + 1 - bottom * scale)
                by = shift @ Affine(scale, 0, 0, scale) @ turned
                return (_picture(view, windows, by, site),)
    return ()


def windows_of(sheets: Sheets, one: Window) -> tuple[Window, ...]:
    """All windows of one drawing of a piece by number, given one of them."""
    found = (
        window
        for sheet in sheets.sheets
        for window in sheet.windows
        if (window.piece, window.copy) == (one.piece, one.copy)
    )
    return tuple(sorted(found, key=lambda window: window.number))


def _picture(view: View, windows: tuple[Window, ...], by: Affine, site: Site) -> Group:
    parts: list[Ink] = [Ink(path_ops(view.piece.cut_outline.moved(by)), HAIR)]
    words = []
    for window in windows:
        ring = by.apply_all(window.polygon)
        stroke = THIS if window.number == view.window.number else OTHER
        parts.append(Ink(polyline_ops(ring, closed=True), stroke))
        xs, ys = zip(*ring, strict=True)
        middle = ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
        number = centred(str(window.number), middle, site.fonts, bold=stroke is THIS)
        box = box_of(number, site.fonts)
        if box.grown(0.3).inside(Box(min(xs), min(ys), max(xs), max(ys))):
            words.append(number)
    return Group((Mark(Tag.PAGE, (), (*parts, *words)),))


def _area(view: View) -> Box:
    xs, ys = zip(*view.rim, strict=True)
    return Box(min(xs), min(ys), max(xs), max(ys))
