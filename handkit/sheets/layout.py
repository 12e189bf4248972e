"""Step 5, sheets: what lies where on which sheet of paper.

In: the punched pattern, the paper, edge, margin and overlap in mm. Out: `Sheets`.

The way: look at the page (`page.py`), turn or cut each piece (`search.py`, `grid.py`), pack all
windows onto sheets (`packing.py`), give every join its marks and rule line (`joining.py`) and every
window its label (`labels.py`). Every page has the paper's own orientation.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from handkit.errors import refuse_errors
from handkit.findings import Finding, error, in_order, warning
from handkit.geometry.affine import Affine
from handkit.paper import Paper
from handkit.punch.punched import Punched
from handkit.sheets.box import Box, moved
from handkit.sheets.grid import Cut
from handkit.sheets.joining import count_through, joins_of
from handkit.sheets.labels import Label, Shown, labels_on
from handkit.sheets.laid import Join, Sheet, Sheets, Window
from handkit.sheets.near_miss import near_misses
from handkit.sheets.packing import Size, Spot, pack
from handkit.sheets.page import drawn_size, page_findings
from handkit.sheets.search import cut_for, least_windows
from handkit.sheets.template import Template, templates_of

# Between the ink of two pieces: room for a knife's first cut.
GAP = 2.0

# More sheets than this for one piece are surely not meant; more than that are not worked out.
MANY_WINDOWS = 60
MOST_WINDOWS = 1000


@dataclass(frozen=True, slots=True)
class _Piece:
    """A piece with its windows and joins."""

    template: Template
    cut: Cut
    joins: tuple[Join, ...]


@dataclass(frozen=True, slots=True)
class _Laid:
    """One window and its spot: `piece` and `index` count from 0 and order windows and sheets."""

    piece: int
    index: int
    spot: Spot


def lay_out(punched: Punched, *, paper: Paper, edge: float, margin: float, overlap: float) -> Sheets:
    """Lay every piece's template on sheets, once each, whatever its quantity.

    Raises ProjectError where the page leaves no room, or a piece would take over 1000 windows.
    """
    source = punched.pattern.project.page.source
    refuse_errors(page_findings(source, paper, edge=edge, margin=margin, overlap=overlap))
    page = drawn_size(paper, margin=margin)
    templates = templates_of(punched)
    refuse_errors(_too_big(templates, page, overlap))

    pieces = [_piece(template, page, overlap) for template in templates]
    pages = _pages(pieces, page)
    findings = (
        *_many(pieces),
        *near_misses(
            [(piece.template, piece.cut) for piece in pieces],
            page=page,
            edge=edge,
            margin=margin,
            sheets_saved=lambda wider: len(pages) - _sheets_on(templates, wider, overlap),
        ),
    )
    return Sheets(
        paper=paper,
        edge=edge,
        margin=margin,
        overlap=overlap,
        sheets=tuple(
            _sheet(number, laid, pieces, paper, margin) for number, laid in enumerate(pages, start=1)
        ),
        joins=tuple(join for piece in pieces for join in piece.joins),
        joins_through_holes=sum(count_through(piece.joins, piece.template.voids) for piece in pieces),
        findings=in_order(findings),
    )


def _piece(template: Template, page: Size, overlap: float) -> _Piece:
    cut = cut_for(template, page=page, overlap=overlap)
    return _Piece(template, cut, joins_of(template, cut))


def _pages(pieces: Sequence[_Piece], page: Size) -> list[list[_Laid]]:
    """All windows by sheets; sheets and the windows on each go by the file's order of pieces."""
    windows = [
        (piece, index) for piece, found in enumerate(pieces) for index in range(len(found.cut.windows))
    ]
    spots = _packed([pieces[piece].cut.windows[index] for piece, index in windows], page)
    pages: dict[int, list[_Laid]] = {}
    for (piece, index), spot in zip(windows, spots, strict=True):
        pages.setdefault(spot.page, []).append(_Laid(piece, index, spot))
    return list(pages.values())


def _sheets_on(templates: Sequence[Template], page: Size, overlap: float) -> int:
    """How many sheets it would take on another page."""
    boxes = [box for template in templates for box in cut_for(template, page=page, overlap=overlap).windows]
    return len({spot.page for spot in _packed(boxes, page)})


def _packed(boxes: Sequence[Box], page: Size) -> tuple[Spot, ...]:
    return pack([Size(box.width, box.height) for box in boxes], page=page, gap=GAP)


def _sheet(
    number: int, laid: Sequence[_Laid], pieces: Sequence[_Piece], paper: Paper, margin: float
) -> Sheet:
    shown = [_shown(pieces[one.piece], one, margin) for one in laid]
    labels = labels_on(shown, Box(margin, margin, paper.width - margin, paper.height - margin))
    windows = (
        _window(pieces[one.piece], one, lies.placed, label)
        for one, lies, label in zip(laid, shown, labels, strict=True)
    )
    return Sheet(number, tuple(windows))


def _shown(piece: _Piece, one: _Laid, margin: float) -> Shown:
    box = piece.cut.windows[one.index]
    onto = _onto(box, one.spot, margin)
    return Shown(
        template=piece.template,
        placed=onto @ piece.cut.base,
        box=moved(box, onto),
        content=moved(piece.cut.contents[one.index], onto),
        split=bool(piece.joins),
        joins=tuple(join for join in piece.joins if one.index + 1 in join.windows),
    )


def _onto(box: Box, spot: Spot, margin: float) -> Affine:
    """The map from the laid frame onto the sheet for a window's box and its spot."""
    turn = Affine.turn(90.0 if spot.turned else 0.0)
    turned = moved(box, turn)
    return Affine.shift(margin + spot.left - turned.left, margin + spot.bottom - turned.bottom) @ turn


def _window(piece: _Piece, one: _Laid, placed: Affine, label: Label) -> Window:
    back = piece.cut.base.inverse()
    return Window(
        piece=piece.template.name,
        number=one.index + 1,
        count=len(piece.cut.windows),
        polygon=back.apply_all(piece.cut.windows[one.index].corners),
        placed=placed,
        label=label.area,
        label_inside=label.inside,
    )


def _too_big(templates: Sequence[Template], page: Size, overlap: float) -> Iterator[Finding]:
    for template in templates:
        count = least_windows(template, page=page, overlap=overlap)
        if count > MOST_WINDOWS:
            yield error(
                "piece-too-big",
                template.source.at(),
                found=f"a piece that takes up to {count} windows on this paper",
                allowed=f"at most {MOST_WINDOWS}",
                remedy="check its unit, or take larger paper",
            )


def _many(pieces: Sequence[_Piece]) -> Iterator[Finding]:
    for piece in pieces:
        count = len(piece.cut.windows)
        if count > MANY_WINDOWS:
            yield warning(
                "many-windows",
                piece.template.source.at(),
                found=f"a piece in {count} windows and {len(piece.joins)} joins",
                allowed=f"up to {MANY_WINDOWS} without a word",
                remedy="check its unit, or take larger paper",
            )
