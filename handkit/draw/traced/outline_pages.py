"""Outline pages: what was traced, full scale, to lay the things on before a pattern is made of them.

In: the things traced, the sheets that their outlines lie on, the fonts. Out: the file's bytes.

Each outline is drawn as a template's is, in portions where a thing is larger than the paper. The first sheet
has the squares that tell whether the print is true.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import msgspec

from handkit.draft.pattern import PatternPiece
from handkit.draw.layout.flow import Block, gap
from handkit.draw.layout.page_frame import Frame, corrected_words, head_line, scale_bars
from handkit.draw.layout.typesetter import Typesetter
from handkit.draw.listed.listing import sheets_manifest
from handkit.draw.listed.windows import PieceShapes
from handkit.draw.model.fonts import LEAST_SIZE, Fonts
from handkit.draw.model.free_space import FreeSpace
from handkit.draw.model.lettering import TextLine
from handkit.draw.model.marks import Group, Ink, Mark, Page
from handkit.draw.model.view import View
from handkit.draw.pages.print_check import print_check
from handkit.draw.pages.sheet_map import window_name
from handkit.draw.pdf.pdf_file import pdf_bytes
from handkit.draw.templates.join_ink import join_groups, joins_of
from handkit.draw.templates.join_picture import join_picture
from handkit.draw.templates.piece_label import label_mark
from handkit.draw.templates.piece_text import join_name_marks
from handkit.draw.templates.shown_window import ShownWindow
from handkit.draw.templates.template_pages import WindowDrawing, free_spaces
from handkit.draw.words.label_words import NAME_SIZE, LabelWords
from handkit.draw.words.listing import Column, figures, rows_of
from handkit.findings import Source
from handkit.geometry.path import polyline
from handkit.ink import STROKES, Tag
from handkit.kinds.materials import Material
from handkit.manifest.listed import UNTOLD, ListedMark, Origin, listed_line
from handkit.photo.traced import NamedThing, usual_name
from handkit.read.project import Side
from handkit.sheets.laid import Sheet, Sheets, Window
from handkit.wording.figures import Units, counted

TITLE = "Things traced"

# What is done with things larger than the paper.
PORTIONS = (
    "What is larger than the paper comes in portions: trim one on its dashed line, lay its marks on those of "
    "the other, hold a steel rule along the rule line of both, and tape them."
)

# What to do with the sheets, before any leather is cut.
LAYING = (
    "Lay each thing on its outline, as it lay in the photo, and look at it straight from above. Nowhere "
    "should the line come out from under its edge, or be hidden, by more than the figure beside it says.",
    "Where it does, mend the line in the drawing that lies beside this file, or measure the thing and write "
    "its size yourself.",
    "How near outlines are was tested on simulated photos, not on real ones: trust the thing, not the line.",
)


def outlines_pdf(
    things: Sequence[NamedThing],
    sheets: Sheets,
    fonts: Fonts,
    units: Units,
    *,
    origin: Origin = UNTOLD,
) -> bytes:
    """The file: the first sheet, then the outlines; things and windows meet by their names."""
    frame = Frame(sheets.paper, sheets.edge, sheets.margin, units)
    pieces = {thing.name: _piece(thing) for thing in things}
    shown = {sheet.number: tuple(_shown(sheet, sheets, pieces)) for sheet in sheets.sheets}
    told = {thing.name: thing for thing in things}
    bare = [*_first(things, sheets, frame, fonts), *_sheets(shown, told, sheets, frame, fonts)]
    pages = [
        _headed(page, f"page {k} of {len(bare)}", sheets, frame, fonts) for k, page in enumerate(bare, 1)
    ]
    shapes = {name: _shapes(piece) for name, piece in pieces.items()}
    listed = sheets_manifest(pages, TITLE, sheets, shown, shapes, origin=origin)
    manifest = msgspec.structs.replace(listed, unit=units.unit)
    return pdf_bytes(pages, paper=sheets.paper, title=TITLE, fonts=fonts, manifest=manifest)


def _headed(page: Page, place: str, sheets: Sheets, frame: Frame, fonts: Fonts) -> Page:
    head = head_line(frame, fonts, title=TITLE, place=f"{page.label} · {place}", correction=sheets.correction)
    return msgspec.structs.replace(page, groups=(Group((head,)), *page.groups))


def _first(things: Sequence[NamedThing], sheets: Sheets, frame: Frame, fonts: Fonts) -> Iterator[Page]:
    """Whether the print is true, what to do, and all things in a table."""
    setter, units = Typesetter(fonts, frame.width, frame.height), frame.units
    columns = (
        figures("no.", 1.2, lambda thing: str(thing.number)),
        Column("thing", 6, lambda thing: _called(thing, fonts, thing.name)),
        figures(f"length ({units.unit})", 3, lambda thing: units.sizes.number(thing.thing.length)),
        figures("width", 2, lambda thing: units.sizes.number(thing.thing.width)),
        figures("thick", 2, lambda thing: units.sizes.number(thing.thing.thick.mm)),
        figures("±", 1.5, lambda thing: units.read.number(units.read.no_less(thing.thing.uncertainty))),
    )
    told = f"{counted(len(things), 'thing')}, full scale on {counted(len(sheets.sheets), 'sheet')} of "
    blocks: tuple[Block, ...] = (
        *setter.title(TITLE, kept=False),
        *setter.text(f"{told}{sheets.paper.name}.", space=1.5),
        *(setter.text(corrected_words(sheets.correction), space=1.5) if sheets.correction else ()),
        *print_check(frame, setter, ()),
        gap(2.5),
        *setter.heading("Then lay the things on them"),
        *setter.texts((*(PORTIONS,) * bool(sheets.joins), *LAYING)),
        gap(2),
        *setter.table(columns, rows_of(columns, things), space=0.4),
    )
    first, *others = frame.poured(blocks)
    for k, groups in enumerate(((*first, Group(scale_bars(frame, fonts))), *others)):
        yield Page("First sheet" + f" {k + 1}" * bool(k), ((0, "First sheet"),) * (not k), groups)


def _sheets(
    shown: Mapping[int, tuple[ShownWindow, ...]],
    things: Mapping[str, NamedThing],
    sheets: Sheets,
    frame: Frame,
    fonts: Fonts,
) -> Iterator[Page]:
    for sheet in sheets.sheets:
        windows = [WindowDrawing(one, _ink(one)) for one in shown[sheet.number]]
        texts = [
            group
            for window, space in zip(windows, free_spaces(windows, frame, fonts), strict=True)
            for group in _texts(window.shown, things[window.view.piece.name], space, sheets, frame.units)
        ]
        ink = (group for window in windows for group in window.groups)
        names = ", ".join(window_name(window) for window in sheet.windows)
        groups = (Group(scale_bars(frame, fonts)), *ink, *texts)
        label = f"Sheet {sheet.number} of {len(sheets.sheets)}"
        yield Page(label, ((0, f"Sheet {sheet.number}: {names}"),), groups, sheet.number)


def _ink(shown: ShownWindow) -> tuple[Group, ...]:
    view = shown.view
    ink = Ink(view.shown(view.piece.cut_outline), STROKES[Tag.OUTLINE])
    outline = Mark(Tag.OUTLINE, view.properties, (ink,))
    return (Group((outline,), view.clips()), *join_groups(view, shown.joins))


def _texts(
    shown: ShownWindow, thing: NamedThing, space: FreeSpace, sheets: Sheets, units: Units
) -> tuple[Group, ...]:
    view = shown.view
    marks = (
        *label_mark(view, _words(thing, view.window, units, space.fonts), space),
        *join_name_marks(view, shown.joins, sheets, space),
    )
    return (Group(marks), *join_picture(view, sheets, space))


def _words(thing: NamedThing, window: Window, units: Units, fonts: Fonts) -> LabelWords:
    """Its number and name, its size, how near it is."""
    name, size = (
        _called(thing, fonts, thing.told),
        f"{units.sizes.across(thing.thing.length, thing.thing.width)} {units.unit}",
    )
    within, parted = f"± {units.read.text(units.read.no_less(thing.thing.uncertainty))}", window.count > 1
    portion = (TextLine(f"portion {window.number} of {window.count}", bold=True),) * parted
    lines = (TextLine(name, NAME_SIZE, bold=True), TextLine(size), TextLine(within), *portion)
    small = TextLine(name, LEAST_SIZE, bold=True)
    return LabelWords(
        lines,
        needed=len(lines),
        short=(small, *lines[1:]),
        shortest=(small, *portion),
        bare=(small,),
        note=TextLine(f"{name}: {size} {within}"),
    )


def _called(thing: NamedThing, fonts: Fonts, name: str) -> str:
    """What a thing is called, its number where the name has letters that the font has not."""
    return usual_name(thing.number) if fonts.lacking(name) else name


def _shown(sheet: Sheet, sheets: Sheets, pieces: Mapping[str, PatternPiece]) -> Iterator[ShownWindow]:
    for window in sheet.windows:
        view = View(pieces[window.piece], window, window.placed.apply_all(window.polygon))
        yield ShownWindow(view, (), (), (), joins_of(view, sheets), ())


def _shapes(piece: PatternPiece) -> PieceShapes:
    """All that the sheets show of it."""
    path = piece.cut_outline
    shape = ListedMark(Tag.OUTLINE.value, lines=(listed_line(path),))
    return PieceShapes(piece.name, ((Tag.OUTLINE, path),), (shape,), {})


def _piece(thing: NamedThing) -> PatternPiece:
    """A thing as templates draw a piece: nothing but an outline."""
    path = polyline(thing.thing.outline, closed=True)
    return PatternPiece(
        source=Source(),
        name=thing.name,
        outline=path,
        cut_outline=path,
        letters=(),
        lines=(),
        folds=(),
        trims=(),
        skives=(),
        thickness=thing.thing.thick.mm,
        material=Material.FIRM_LEATHER,
        quantity=1,
        mark=Side.GRAIN,
        grain_degrees=90.0,
        note="",
        on=None,
        behind=False,
        flat=True,
        glued=False,
        root=thing.name,
        placed=None,
        level=0,
        depth=0,
    )
