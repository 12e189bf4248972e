"""Sheet map: small pictures of all template sheets, each with its number and what is on it.

In: the products, the fonts, a width. Out: blocks, a row of pictures each.
"""

from __future__ import annotations

from collections import Counter

import msgspec

from handkit.draft.pattern import Pattern
from handkit.draw.layout.flow import Block, TextCell, beside, paragraph, row, stacked
from handkit.draw.model.fonts import Fonts
from handkit.draw.model.lettering import HEAD
from handkit.draw.model.marks import Group, Ink, Mark, shifted
from handkit.draw.model.path_ops import box_ops, path_ops, polyline_ops
from handkit.draw.words.names import count_of, figure
from handkit.geometry.affine import Affine
from handkit.ink import HAIR, Stroke, Tag
from handkit.kinds.pages import Windows
from handkit.sheets.laid import Sheet, Sheets, Window

PICTURE = 20.0
APART = 4.0
PIECE = Stroke(0.25)
LIST_COLUMN = 85.0


def sheet_map(pattern: Pattern, sheets: Sheets, fonts: Fonts, width: float) -> tuple[Block, ...]:
    """All pictures in rows as wide as the column, then what is on each sheet, beside a short row;
    on one page where they have room there."""
    across = max(1, int((width + APART) // (PICTURE + APART)))
    entries = [_entry(pattern, sheets, sheet, fonts) for sheet in sheets.sheets]
    rows = [entries[k : k + across] for k in range(0, len(entries), across)]
    head = paragraph("All sheets", width, fonts, size=HEAD, bold=True, kept=True, space=0.5)
    pictures, used = [_side_by_side(some) for some in rows], len(entries) * (PICTURE + APART)
    if used + LIST_COLUMN <= width:
        lists = stacked(_lists(sheets, fonts, width - used))
        return (*head, beside(pictures[0], lists, offset=used))
    body = (*pictures, *_lists(sheets, fonts, width))
    return (*head, *(msgspec.structs.replace(block, kept=True) for block in body[:-1]), body[-1])


def joining_words(sheets: Sheets) -> tuple[str, ...]:
    """How many joins there are, piece by piece where several have some, and what is to be measured."""
    joins = Counter(join.piece for join in sheets.joins)
    each = ", ".join(f"{piece} {count}" for piece, count in joins.items())
    first = "Sheets are taped, then cut: " if sheets.layout.windows is Windows.ONE_A_SHEET else ""
    left = "; ".join(f"{one.piece}, {figure(one.length)} mm" for one in sheets.breaks if one.copy == 1)
    found = (
        (each, f"{first}{count_of(joins.total(), 'join')} ({each})"),
        (left, f"Straight on between break lines, to be measured: {left}"),
    )
    return tuple(text for needed, text in found if needed)


def _lists(sheets: Sheets, fonts: Fonts, width: float) -> tuple[Block, ...]:
    """Sheet by sheet its pieces, in as many columns as have room; then what is to be joined."""
    columns = max(1, int(width // LIST_COLUMN))
    wide = width / columns
    entries = [
        row(
            [TextCell(f"{sheet.number}", 0, 7, bold=True), TextCell(_names(sheet), 7, wide - 10)],
            fonts,
            space=0.4,
        )
        for sheet in sheets.sheets
    ]
    per = -(-len(entries) // columns)
    blocks = []
    for k in range(per):
        block = entries[k]
        for index, other in enumerate(entries[k + per :: per], start=1):
            block = beside(block, other, offset=index * wide)
        blocks.append(block)
    words = (block for text in joining_words(sheets) for block in paragraph(text, width, fonts, space=0.4))
    return (*blocks, *words)


def _names(sheet: Sheet) -> str:
    return ", ".join(window_name(window) for window in sheet.windows)


def window_name(window: Window) -> str:
    """A piece, which drawing of it where each is drawn, and which part where it has several."""
    name = window.piece if window.copies == 1 else f"{window.piece} ({window.copy} of {window.copies})"
    return name if window.count == 1 else f"{name} {window.number}/{window.count}"


def _side_by_side(entries: list[Block]) -> Block:
    groups = [
        shifted(group, k * (PICTURE + APART), 0) for k, entry in enumerate(entries) for group in entry.groups
    ]
    return Block(max(entry.height for entry in entries) + 1.5, tuple(groups))


def _entry(pattern: Pattern, sheets: Sheets, sheet: Sheet, fonts: Fonts) -> Block:
    """The picture under its number."""
    scale = PICTURE / sheets.paper.width
    height = sheets.paper.height * scale
    by = Affine(scale, 0, 0, scale, 0, -height)
    frame = Group((Mark(Tag.PAGE, (), (Ink(box_ops(0, -height, PICTURE, 0), HAIR),)),))
    windows = [_window(pattern, window, by) for window in sheet.windows]
    number = paragraph(f"Sheet {sheet.number}", PICTURE, fonts, bold=True, space=0.3)
    return stacked([*number, Block(height + 0.8, (frame, *windows))])


def _window(pattern: Pattern, window: Window, by: Affine) -> Group:
    """The piece's outline, only as far as the window goes."""
    placed = by @ window.placed
    outline = Ink(path_ops(pattern.piece(window.piece).cut_outline.moved(placed)), PIECE)
    if window.count == 1:
        return Group((Mark(Tag.PAGE, (), (outline,)),))
    rim = polyline_ops(placed.apply_all(window.polygon), closed=True)
    return Group((Mark(Tag.PAGE, (), (outline, Ink(rim, Stroke(0.13, (0.8, 0.8))))),), (rim,))
