"""Printer page: the test page to be printed and measured, so that a printer's error can be corrected.

In: the test page's measures, the fonts, the printer that the page is corrected for. Out: pages. The bars, the
box's crosses and the steps stand on the first; what to do with them stands between, or overleaf where the
paper is small.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import hypot

from handkit.draw.layout.flow import Block, gap, stacked
from handkit.draw.layout.page_frame import Frame, corrected_words
from handkit.draw.layout.typesetter import Typesetter
from handkit.draw.listed.listing import plain_manifest
from handkit.draw.model import tags
from handkit.draw.model.fonts import LEAST_SIZE, Fonts
from handkit.draw.model.lettering import centred
from handkit.draw.model.marks import Group, Ink, Mark, Page, Words, settled, shifted
from handkit.draw.model.path_ops import PathOps, cross_ops, joined, line_ops
from handkit.draw.pages.print_check import square_block
from handkit.draw.pdf.pdf_file import pdf_bytes
from handkit.geometry.affine import Point
from handkit.ink import STROKES, TEST_SQUARE_SIDE, Stroke, Tag
from handkit.manifest.listed import UNTOLD, Origin
from handkit.paper import Paper
from handkit.printers.correction import Correction
from handkit.printers.page import INSET, LINE, MOST_STEPS, STEP_APART, PrinterPage
from handkit.wording.figures import INCHES, METRIC

TITLE = "Printer test page"

FINE = Stroke(0.18)
END = 3.0  # the ticks at a bar's ends and the arms of crosses, to either side
STUB = 24.0  # of a diagonal, at its ends, to lay a rule along
STEP = 3.0  # length of a step's line
NUMBERS = MOST_STEPS + 2.5  # how far in the steps' numbers have their middle

# Room for words on the first page: so far from the paper's edges, clear of the crosses and stubs.
LEFT, RIGHT, FOOT, HEAD = LINE + 22.0, LINE + 5.0, LINE + 22.0, LINE + 5.0
LEAST_WIDTH = 70.0


def printer_pdf(
    paper: Paper, fonts: Fonts, correction: Correction | None = None, *, origin: Origin = UNTOLD
) -> bytes:
    """The file of the test page for this paper, as it is or corrected."""
    page = PrinterPage(paper)
    setter = Typesetter(fonts, paper.width - LEFT - RIGHT)
    figure = _figure(page, fonts)
    block = stacked(_words(page, setter, correction)) if setter.width >= LEAST_WIDTH else None
    if block is not None and block.height <= paper.height - FOOT - HEAD:
        words = tuple(settled(shifted(group, LEFT, paper.height - HEAD)) for group in block.groups)
        bodies: tuple[tuple[Group, ...], ...] = ((*figure, *words),)
    else:
        frame = Frame(paper, 0.0, INSET)
        bodies = (
            figure,
            *frame.poured(_words(page, Typesetter(fonts, frame.width, frame.height), correction)),
        )
    labels = [TITLE] if len(bodies) == 1 else [f"{TITLE} {k}" for k in range(1, len(bodies) + 1)]
    pages = [Page(label, ((0, label),), body) for label, body in zip(labels, bodies, strict=True)]
    manifest = plain_manifest(pages, TITLE, paper, origin, correction)
    return pdf_bytes(pages, paper=paper, title=TITLE, fonts=fonts, manifest=manifest)


def _figure(page: PrinterPage, fonts: Fonts) -> tuple[Group, ...]:
    """All that is measured."""
    marks = (*_bars(page, fonts), *_box(page, fonts), *_steps(page, fonts))
    return (Group(tuple(marks)),)


def _bars(page: PrinterPage, fonts: Fonts) -> Iterator[Mark]:
    ends = ((INSET, LINE), (INSET + page.across, LINE)), ((LINE, INSET), (LINE, INSET + page.down))
    for (start, end), length, tick in zip(ends, (page.across, page.down), ((0, END), (END, 0)), strict=True):
        ticks = joined(cross_ops(at, tick) for at in (start, end))
        yield Mark(Tag.BAR, tags.bar(length), (Ink(line_ops(start, end), STROKES[Tag.BAR]),))
        yield Mark(Tag.BAR_TICK, (), (Ink(ticks, STROKES[Tag.BAR_TICK]),))
    names = _name("across", page.across), _name("down", page.down)
    at = (INSET + page.across - 30, LINE - 4)
    upright = Words(names[1], (LINE - 2.5, LINE + page.box[1] - 56), LEAST_SIZE, degrees=90.0)
    yield Mark(Tag.LABEL, (), (centred(names[0], at, fonts), upright))


def _name(what: str, length: float) -> str:
    return f"{what}: {_both(length)}"


def _both(length: float) -> str:
    """In mm and in inches: this page is for a rule of either kind."""
    return f"{METRIC.marked.text(length)} ({INCHES.marked.text(length)})"


def _box(page: PrinterPage, fonts: Fonts) -> Iterator[Mark]:
    """Crosses at the corners, the ends of the diagonals, and their letters."""
    crosses = joined(cross_ops(at, (END, 0), (0, END)) for at in page.corners)
    width, height = page.box
    way = STUB / hypot(width, height)
    stubs, letters = [], []
    for (x, y), name, (right, up) in zip(
        page.corners, "ABAB", ((1, 1), (-1, 1), (-1, -1), (1, -1)), strict=True
    ):
        tip = (x + right * way * width, y + up * way * height)
        stubs.append(line_ops((x, y), tip))
        letters.append(centred(name, (tip[0] + right * 2.5, tip[1] + up * 2.5), fonts, bold=True))
    yield Mark(Tag.PAGE, (), (Ink(joined([crosses, *stubs]), FINE), *letters))


def _steps(page: PrinterPage, fonts: Fonts) -> Iterator[Mark]:
    """On all four sides, each numbered line of a side with its way to its number, farther in."""
    wide, high = page.paper.width, page.paper.height
    sides: tuple[tuple[float, Callable[[float, float], Point]], ...] = (
        (high, lambda along, depth: (depth, along)),
        (high, lambda along, depth: (wide - depth, along)),
        (wide, lambda along, depth: (along, high - depth)),
        (wide, lambda along, depth: (along, depth)),
    )
    for side, at in sides:
        last = page.steps(side)
        lines: list[PathOps] = []
        numbers: list[Words] = []
        for k in range(last + 1):
            along = side / 2 + (k - last / 2) * STEP_APART
            ends: tuple[Point, Point] = (at(along - STEP / 2, k), at(along + STEP / 2, k))
            lines += line_ops(*ends), line_ops(at(along, k), at(along, NUMBERS - 2))
            numbers.append(centred(str(k), at(along, NUMBERS), fonts, size=2.8))
        yield Mark(Tag.PAGE, (), (Ink(joined(lines), FINE), *numbers))


def _words(page: PrinterPage, setter: Typesetter, correction: Correction | None) -> tuple[Block, ...]:
    """What to do, and the square that a corrected page is checked by."""
    paper, side = page.paper, TEST_SQUARE_SIDE
    name = paper.name if "x" not in paper.name else "paper"
    size = f"{METRIC.rough.across(paper.width, paper.height)} mm"
    lines = (
        corrected_words(correction) if correction else "Nothing on this page is corrected.",
        f"1. Print at 100 % on {name} ({size}), with all that fits, shrinks, enlarges or lays out a page "
        "switched off.",
        "2. With a steel rule measure, from the middle of a line to the middle of a line, to a quarter of a "
        "mm or 1/64 in:",
        *_to_measure(page),
        *(_AGREED if correction else _then(paper)),
    )
    square = square_block(0.3, side, METRIC.text(side), setter.fonts)
    return (*setter.title(TITLE), *setter.texts(lines, space=1.4), gap(3), square)


def _to_measure(page: PrinterPage) -> Iterator[str]:
    """What a rule is laid on, with what is drawn and room for what is read."""
    diagonal = hypot(*page.box)
    lengths = {
        "across, from tick to tick": page.across,
        "down, from tick to tick": page.down,
        "diagonal A, from cross to cross": diagonal,
        "diagonal B, from cross to cross": diagonal,
    }
    for what, length in lengths.items():
        yield f"{what}: {_both(length)}  ________"


_AGREED = (
    "3. As far as a rule can tell all measures as it says here, and the square 50 mm both ways. If not, "
    "measure the printer anew, by a page that is not corrected: handkit printer test prints it. Nothing "
    "that is read of this page is for handkit.",
)


def _then(paper: Paper) -> tuple[str, ...]:
    """What becomes of the readings."""
    return (
        "3. At each side find the lowest number whose short line is printed: left ____, right ____, "
        "top ____, bottom ____. So many mm the printer leaves white.",
        "4. Give them to handkit, mm as plain numbers with a point, or lengths with their unit:",
        f"handkit printer measured NAME --paper {paper.name} --across … --down … --diagonals …,… "
        "--edges …,…,…,…",
        "5. handkit printer test --printer NAME prints this page corrected, to see that it holds.",
    )
