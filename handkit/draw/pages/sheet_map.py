"""Sheet map: small pictures of all template sheets, each with its number and what is on it.

In: the products, the typesetter. Out: blocks, a row of pictures each.
"""

from __future__ import annotations

from collections import Counter

from handkit.draft.pattern import Pattern
from handkit.draw.layout.flow import Block, beside, kept_together, side_by_side, stacked
from handkit.draw.layout.typesetter import TextCell, Typesetter
from handkit.draw.model.marks import Group, Ink, page_group
from handkit.draw.model.path_ops import box_ops, path_ops, polyline_ops
from handkit.geometry.affine import Affine
from handkit.ink import HAIR, Stroke
from handkit.kinds.pages import Windows
from handkit.sheets.laid import Sheet, Sheets, Window
from handkit.wording.figures import Units, counted

PICTURE = 20.0
APART = 4.0
PIECE = Stroke(0.25)
LIST_COLUMN = 85.0


def sheet_map(pattern: Pattern, sheets: Sheets, setter: Typesetter) -> tuple[Block, ...]:
    """All pictures in rows as wide as the column, then what is on each sheet, beside a short row;
    on one page where they have room there."""
    if not sheets.sheets:
        return (
            *setter.heading("All sheets"),
            *setter.texts(joining_words(sheets, pattern.project.units), space=0.4),
        )
    across = max(1, int((setter.width + APART) // (PICTURE + APART)))
    entries = [_entry(pattern, sheets, sheet, setter.narrowed(PICTURE)) for sheet in sheets.sheets]
    head, used = setter.heading("All sheets"), len(entries) * (PICTURE + APART)
    pictures = [
        side_by_side(entries[k : k + across], apart=PICTURE + APART) for k in range(0, len(entries), across)
    ]
    if used + LIST_COLUMN <= setter.width:
        lists = stacked(_lists(sheets, pattern.project.units, setter.narrowed(setter.width - used)))
        return (*head, beside(pictures[0], lists, offset=used))
    return (*head, *kept_together((*pictures, *_lists(sheets, pattern.project.units, setter))))


def joining_words(sheets: Sheets, units: Units) -> tuple[str, ...]:
    """How many joins there are, piece by piece where several have some, and what is to be measured."""
    joins = Counter(join.piece for join in sheets.joins)
    each = ", ".join(f"{piece} {count}" for piece, count in joins.items())
    first = "Sheets are taped, then cut: " if sheets.layout.windows is Windows.ONE_A_SHEET else ""
    left = "; ".join(f"{one.piece}, {units.text(one.length)}" for one in sheets.breaks if one.copy == 1)
    measured = ", ".join(one.piece for one in sheets.measured)
    found = (
        (each, f"{first}{counted(joins.total(), 'join')} ({each})"),
        (left, f"Straight on between break lines, to be measured: {left}"),
        (measured, f"On no sheet, to be marked out by its measures: {measured}"),
    )
    return tuple(text for needed, text in found if needed)


def _lists(sheets: Sheets, units: Units, setter: Typesetter) -> tuple[Block, ...]:
    """Sheet by sheet its pieces, in as many columns as have room; then what is to be joined."""
    columns = max(1, int(setter.width // LIST_COLUMN))
    wide = setter.width / columns
    entries = [
        setter.row(
            [TextCell(f"{sheet.number}", 0, 7, bold=True), TextCell(_names(sheet), 7, wide - 10)], space=0.4
        )
        for sheet in sheets.sheets
    ]
    per = -(-len(entries) // columns)
    blocks = [side_by_side(entries[k::per], apart=wide) for k in range(per)]
    return (*blocks, *setter.texts(joining_words(sheets, units), space=0.4))


def _names(sheet: Sheet) -> str:
    return ", ".join(window_name(window) for window in sheet.windows)


def window_name(window: Window) -> str:
    """A piece, which drawing of it where each is drawn, and which portion where it has several."""
    name = window.piece if window.copies == 1 else f"{window.piece} ({window.copy} of {window.copies})"
    return name if window.count == 1 else f"{name} {window.number}/{window.count}"


def _entry(pattern: Pattern, sheets: Sheets, sheet: Sheet, setter: Typesetter) -> Block:
    """The picture under its number."""
    scale = PICTURE / sheets.paper.width
    height = sheets.paper.height * scale
    by = Affine(scale, 0, 0, scale, 0, -height)
    frame = page_group(Ink(box_ops(0, -height, PICTURE, 0), HAIR))
    windows = [_window(pattern, window, by) for window in sheet.windows]
    number = setter.text(f"Sheet {sheet.number}", bold=True, space=0.3)
    return stacked([*number, Block(height + 0.8 + 1.5, (frame, *windows))])


def _window(pattern: Pattern, window: Window, by: Affine) -> Group:
    """The piece's outline, only as far as the window goes."""
    placed = by @ window.placed
    outline = Ink(path_ops(pattern.piece(window.piece).cut_outline.moved(placed)), PIECE)
    if window.count == 1:
        return page_group(outline)
    rim = polyline_ops(placed.apply_all(window.polygon), closed=True)
    return page_group(outline, Ink(rim, Stroke(0.13, (0.8, 0.8))), clips=(rim,))
