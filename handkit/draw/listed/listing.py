"""Listing: the manifest of a kit, from its pages and what their windows draw.

In: the products, the pages, the windows of each template sheet. Out: `Manifest`, still without the digests
of what the pages draw, which are known when the file is written.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Literal

from handkit.draw.listed.shapes import mark_shape, marks_of
from handkit.draw.listed.windows import PieceShapes, listed_window, piece_shapes
from handkit.draw.model.marks import Mark, Page, words_of
from handkit.draw.model.view import View
from handkit.draw.templates.extra_hole import extra_holes
from handkit.draw.templates.shown_window import ShownWindow, shown_windows
from handkit.draw.words.names import KitPlan
from handkit.ink import OF_PAGES, Tag
from handkit.kept.kept import NOTHING, KeptOf
from handkit.manifest.listed import OF_WINDOW, ListedPage, Manifest, Origin
from handkit.paper import Paper
from handkit.printers.correction import Correction
from handkit.sheets.laid import Sheets

# Marks of a window that are its own.
OWN = frozenset({Tag.CUT, Tag.RULE, Tag.MARK, Tag.BREAK, Tag.GRAIN})


def kit_manifest(
    kit: KitPlan, sheets: Sheets, pages: Sequence[Page], origin: Origin, kept: KeptOf = NOTHING
) -> Manifest:
    """All that the pages show; the shapes of pieces are `kept`."""
    shapes = kept.of("shapes", lambda: _shapes(kit, sheets, kept))
    windows = {
        sheet.number: tuple(shown_windows(sheet, kit.punched, kit.plan, sheets, kit.codes))
        for sheet in sheets.sheets
    }
    project = kit.punched.project
    unit: Literal["mm", "in"] = "in" if project.units.unit == "in" else "mm"
    return sheets_manifest(pages, project.title, sheets, windows, shapes, origin=origin, unit=unit)


def _shapes(kit: KitPlan, sheets: Sheets, kept: KeptOf) -> Mapping[str, PieceShapes]:
    """The shapes of each piece that is on a sheet."""
    extras = extra_holes(kit.plan, kit.codes)
    drawn = {window.piece for sheet in sheets.sheets for window in sheet.windows}
    return {
        piece.name: piece_shapes(kit.punched, piece, kit.codes, extras, kept)
        for piece in kit.punched.pattern.pieces
        if piece.name in drawn
    }


def sheets_manifest(  # noqa: PLR0913 - what there is to list
    pages: Sequence[Page],
    title: str,
    sheets: Sheets,
    windows: Mapping[int, tuple[ShownWindow, ...]],
    shapes: Mapping[str, PieceShapes],
    *,
    origin: Origin,
    unit: Literal["mm", "in"] = "mm",
) -> Manifest:
    """The same, given what the windows of each sheet by its number show, and the shapes of each piece."""
    return Manifest(
        origin=origin,
        title=title,
        unit=unit,
        paper=(sheets.paper.width, sheets.paper.height),
        correction=sheets.correction,
        pages=tuple(_page(page, windows.get(page.sheet, ()), shapes) for page in pages),
        pieces=tuple(each.listed() for each in shapes.values()),
    )


def plain_manifest(
    pages: Sequence[Page], title: str, paper: Paper, origin: Origin, correction: Correction | None
) -> Manifest:
    """The same of pages without a piece."""
    listed = tuple(_page(page, (), {}) for page in pages)
    size = (paper.width, paper.height)
    return Manifest(origin=origin, title=title, paper=size, correction=correction, pages=listed)


def _page(page: Page, shown: Sequence[ShownWindow], shapes: Mapping[str, PieceShapes]) -> ListedPage:
    own: dict[tuple[object, ...], list[Mark]] = {}
    for mark in marks_of(page.groups, OWN):
        own.setdefault(tuple(value for name, value in mark.properties if name in OF_WINDOW), []).append(mark)
    windows = tuple(
        listed_window(one, shapes[one.view.piece.name], own.get(_name(one.view), ())) for one in shown
    )
    return ListedPage(
        label=page.label,
        sheet=page.sheet,
        windows=windows,
        shapes=tuple(mark_shape(mark) for mark in marks_of(page.groups, OF_PAGES)),
        texts=tuple(sorted(words.text for words in words_of((page,)))) if windows else (),
        bookmarks=tuple(text for _, text in page.bookmarks),
    )


def _name(view: View) -> tuple[object, ...]:
    return tuple(value for _, value in view.properties)
