"""On the sheet: windows with their placements become sheets with windows and labels.

In: pieces in windows, their joins, where each window has come to lie. Out: `laid.Sheet`s, numbered
from 1. Sheets, and the windows on each, go by the order of the pieces. All mm.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from handkit.geometry.affine import Affine, Point
from handkit.geometry.box import Box
from handkit.geometry.polygon import cut_off
from handkit.geometry.straight import Straight
from handkit.kept.kept import KeptOf
from handkit.sheets.cut.cut import Cut
from handkit.sheets.labels.labels import Label, LaidWindow, labels_on
from handkit.sheets.laid import Join, Sheet, Window
from handkit.sheets.nest.fewest import WindowPlacement
from handkit.sheets.shape import Shape
from handkit.tolerances import SAME_POINT


class CutPiece(msgspec.Struct, frozen=True):
    """A shape or a part of one, which of its `copies` from 1, and how it is cut into windows: so many
    of the shape's `count` come before them, and none of them goes beyond the lines
    `sides`: it lies left of each."""

    shape: Shape
    copy: int
    copies: int
    cut: Cut
    before: int
    count: int
    sides: tuple[Straight, ...] = ()


class PlacedWindow(msgspec.Struct, frozen=True):
    """One window and where it lies: `piece` and `index` count from 0 and order windows and sheets."""

    piece: int
    index: int
    placement: WindowPlacement


def sheets_of(
    pieces: Sequence[CutPiece],
    joins: Sequence[Sequence[Join]],
    windows: Sequence[PlacedWindow],
    printable: Box,
    kept: KeptOf,
) -> tuple[Sheet, ...]:
    """All windows by sheets; `windows` in the order of pieces and windows."""
    pages: dict[int, list[PlacedWindow]] = {}
    for one in windows:
        pages.setdefault(one.placement.page, []).append(one)
    return tuple(
        _sheet(number, laid, pieces, joins, printable, kept)
        for number, laid in enumerate(pages.values(), start=1)
    )


def _sheet(  # noqa: PLR0913, PLR0917 - all that is on it
    number: int,
    laid: Sequence[PlacedWindow],
    pieces: Sequence[CutPiece],
    joins: Sequence[Sequence[Join]],
    printable: Box,
    kept: KeptOf,
) -> Sheet:
    shown = [_laid_window(pieces[one.piece], joins[one.piece], one, printable) for one in laid]
    labels = kept.of_these("labels", (shown, printable), lambda: labels_on(shown, printable))
    windows = (
        _window(pieces[one.piece], one, window, label)
        for one, window, label in zip(laid, shown, labels, strict=True)
    )
    return Sheet(number, tuple(windows))


def _laid_window(piece: CutPiece, joins: Sequence[Join], one: PlacedWindow, printable: Box) -> LaidWindow:
    onto = Affine.shift(printable.left, printable.bottom) @ one.placement.onto
    return LaidWindow(
        shape=piece.shape,
        placed=onto @ piece.cut.base,
        content=onto.apply_all(piece.cut.contents[one.index].corners),
        drawn=tuple(onto.apply_all(ring) for ring in piece.cut.drawn[one.index].region.rings()),
        joins=tuple(join for join in joins if piece.before + one.index + 1 in join.windows),
    )


def _window(piece: CutPiece, one: PlacedWindow, shown: LaidWindow, label: Label) -> Window:
    return Window(
        piece=piece.shape.name,
        number=piece.before + one.index + 1,
        count=piece.count,
        polygon=_polygon(piece, one, shown),
        placed=shown.placed,
        label=label.area,
        label_inside=label.inside,
        copy=piece.copy,
        copies=piece.copies,
    )


def _polygon(piece: CutPiece, one: PlacedWindow, shown: LaidWindow) -> tuple[Point, ...]:
    """A window's box in the piece's frame, without the corners of the sheet in which nothing is
    drawn: so it stays on the page however it lies; and without what lies beyond a break line."""
    onto = shown.placed @ piece.cut.base.inverse()
    corners = onto.apply_all(piece.cut.windows[one.index].corners)
    for side in shown.box.grown(SAME_POINT).sides:
        corners = cut_off(corners, side)
    ring = shown.placed.inverse().apply_all(corners)
    for side in piece.sides:
        ring = cut_off(ring, side)
    return ring
