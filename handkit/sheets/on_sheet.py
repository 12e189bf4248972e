"""On the sheet: windows with their spots become sheets with windows and labels.

In: pieces in windows, their joins, where each window has come to lie. Out: `laid.Sheet`s, numbered
from 1. Sheets, and the windows on each, go by the order of the pieces. All mm.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from handkit.geometry.affine import Affine
from handkit.sheets.box import Box, moved
from handkit.sheets.grid import Cut
from handkit.sheets.labels import Label, Shown, labels_on
from handkit.sheets.laid import Join, Sheet, Window
from handkit.sheets.packing import Spot
from handkit.sheets.shape import Shape


@dataclass(frozen=True, slots=True)
class Piece:
    """A shape, which copy of it from 1, and how it is cut into windows."""

    shape: Shape
    copy: int
    cut: Cut


@dataclass(frozen=True, slots=True)
class Spotted:
    """One window and its spot: `piece` and `index` count from 0 and order windows and sheets."""

    piece: int
    index: int
    spot: Spot


def sheets_of(
    pieces: Sequence[Piece], joins: Sequence[Sequence[Join]], spotted: Sequence[Spotted], printable: Box
) -> tuple[Sheet, ...]:
    """All windows by sheets; `spotted` in the order of pieces and windows."""
    pages: dict[int, list[Spotted]] = {}
    for one in spotted:
        pages.setdefault(one.spot.page, []).append(one)
    return tuple(
        _sheet(number, laid, pieces, joins, printable) for number, laid in enumerate(pages.values(), start=1)
    )


def _sheet(
    number: int,
    laid: Sequence[Spotted],
    pieces: Sequence[Piece],
    joins: Sequence[Sequence[Join]],
    printable: Box,
) -> Sheet:
    shown = [_shown(pieces[one.piece], joins[one.piece], one, printable) for one in laid]
    labels = labels_on(shown, printable)
    windows = (
        _window(pieces[one.piece], one, lies.placed, label)
        for one, lies, label in zip(laid, shown, labels, strict=True)
    )
    return Sheet(number, tuple(windows))


def _shown(piece: Piece, joins: Sequence[Join], one: Spotted, printable: Box) -> Shown:
    box = piece.cut.windows[one.index]
    onto = _onto(box, one.spot, printable)
    return Shown(
        shape=piece.shape,
        placed=onto @ piece.cut.base,
        box=moved(box, onto),
        content=moved(piece.cut.contents[one.index], onto),
        split=bool(joins),
        joins=tuple(join for join in joins if one.index + 1 in join.windows),
    )


def _onto(box: Box, spot: Spot, printable: Box) -> Affine:
    """The map from the laid frame onto the sheet for a window's box and its spot."""
    turn = Affine.turn(90.0 if spot.turned else 0.0)
    turned = moved(box, turn)
    x, y = printable.left + spot.left - turned.left, printable.bottom + spot.bottom - turned.bottom
    return Affine.shift(x, y) @ turn


def _window(piece: Piece, one: Spotted, placed: Affine, label: Label) -> Window:
    back = piece.cut.base.inverse()
    return Window(
        piece=piece.shape.name,
        number=one.index + 1,
        count=len(piece.cut.windows),
        polygon=back.apply_all(piece.cut.windows[one.index].corners),
        placed=placed,
        label=label.area,
        label_inside=label.inside,
        copy=piece.copy,
    )
