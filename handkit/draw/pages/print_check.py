"""Print check: the test squares, what to set before printing, what wrong measures mean.

In: the page's frame, the typesetter. Out: blocks for the first sheet.

A page that was fitted is known by its ratio (`printers/fits.py`). The table gives the ratios that a maker is
likely to meet, as what the squares and bars would read.
"""

from __future__ import annotations

from collections.abc import Sequence
from operator import attrgetter

import msgspec

from handkit.draw.layout.flow import Block, beside, gap, stacked
from handkit.draw.layout.page_frame import Frame
from handkit.draw.layout.typesetter import Typesetter
from handkit.draw.model import tags
from handkit.draw.model.fonts import Fonts
from handkit.draw.model.lettering import centred
from handkit.draw.model.marks import Group, Ink, Mark
from handkit.draw.model.path_ops import box_ops
from handkit.draw.words.listing import Column, figures, rows_of
from handkit.ink import STROKES, TEST_SQUARE_SIDE, Tag
from handkit.kinds.materials import Family
from handkit.kinds.pages import PAPER_SIZES
from handkit.paper import Paper, paper_named
from handkit.printers.fits import HONEST, fit_share
from handkit.units import MM_PER_INCH
from handkit.wording.figures import METRIC, Units, plain

INCH_SQUARE_SIDE = 2 * MM_PER_INCH

# Which square the table of readings is about, by the unit that lengths are told in.
READ = {"mm": ("square", TEST_SQUARE_SIDE), "in": ("2 in square", INCH_SQUARE_SIDE)}

# Margins that printers keep: common inkjets, many lasers, and what is left by cautious settings.
PRINTER_MARGINS = (3.0, MM_PER_INCH / 6, MM_PER_INCH / 4)
INCH_MARGINS = {MM_PER_INCH / 6: "1/6 in", MM_PER_INCH / 4: "1/4 in"}  # as printers' manuals name them

ADVICE = (
    "As in this table: it was fitted. Print again.",
    f"Out by at most {plain(100 * HONEST, 1)} %: the printer's own error. Alike both ways, it makes the work "
    "larger or smaller; else what lies turned on the paper doesn't meet the rest: don't cut.",
    "Either is mended: handkit printer test prints a page to measure the printer by.",
    "Anything else: go through the settings again.",
)


class PageFit(msgspec.Struct, frozen=True):
    """A way in which a page is shrunk or stretched, and by how much."""

    what: str
    ratio: float


def print_check(frame: Frame, setter: Typesetter, families: Sequence[Family]) -> tuple[Block, ...]:
    """Squares with the settings beside them where there is room; then what readings mean."""
    squares, side = _squares(setter, frame.units), 2 * TEST_SQUARE_SIDE + 10
    if setter.width - side >= 60:
        words = stacked(_settings(frame, setter.narrowed(setter.width - side), families))
        top: tuple[Block, ...] = (beside(squares[0], words, offset=side),)
    else:
        top = (*squares, *_settings(frame, setter, families))
    return (*top, gap(2), *_readings(frame, setter))


def page_fits(paper: Paper, units: Units = METRIC) -> tuple[PageFit, ...]:
    """The likely ways for a page of this paper, on the same paper and on the one it is mistaken for.

    >>> from handkit.paper import paper_named
    >>> [round(fit.ratio, 4) for fit in page_fits(paper_named("A4"))][:2]  # by hand: 204/210, 201.53/210
    [0.9714, 0.9597]
    """
    names = {margin: INCH_MARGINS.get(margin) or units.text(margin) for margin in PRINTER_MARGINS}
    same = tuple(
        PageFit(f"fitted, {name} margins", fit_share(paper, paper, margin)) for margin, name in names.items()
    )
    if paper.name not in PAPER_SIZES:
        return same
    other = paper_named(PAPER_SIZES[paper.name].mistaken)
    margin = PRINTER_MARGINS[1]
    return (
        *same,
        PageFit(f"{other.name}, no margins", fit_share(paper, other, 0.0)),
        PageFit(f"{other.name}, {names[margin]} margins", fit_share(paper, other, margin)),
    )


def _squares(setter: Typesetter, units: Units) -> tuple[Block, ...]:
    """Both squares side by side, or each a block of its own where the paper is narrow."""
    apart = 5.0
    level = setter.width >= TEST_SQUARE_SIDE + INCH_SQUARE_SIDE + apart
    left = TEST_SQUARE_SIDE + apart if level else 0.3
    first = square_block(0.3, TEST_SQUARE_SIDE, units.tool(TEST_SQUARE_SIDE), setter.fonts)
    second = square_block(left, INCH_SQUARE_SIDE, "2 in", setter.fonts)
    return (beside(first, second, offset=0.0),) if level else (first, gap(2), second)


def square_block(left: float, side: float, name: str, fonts: Fonts) -> Block:
    """A square to be measured, its left side so far in."""
    top = 0.3
    ink = Ink(box_ops(left, -top - side, left + side, -top), STROKES[Tag.SQUARE])
    words = centred(f"{name} square", (left + side / 2, -top - side / 2), fonts, bold=True)
    marks = (Mark(Tag.SQUARE, tags.square(side), (ink,)), Mark(Tag.LABEL, (), (words,)))
    return Block(side + 1, (Group(marks),))


def _settings(frame: Frame, setter: Typesetter, families: Sequence[Family]) -> tuple[Block, ...]:
    paper = frame.paper
    units = frame.units
    size = f"{units.rough.across(paper.width, paper.height)} {units.unit}"
    name = size if "x" in paper.name else f"{paper.name}, {size}"
    stuff = families[0] if len(families) == 1 else "piece"
    across, down = units.text(frame.bar_across), units.text(frame.bar_down)
    lines = (
        f"Paper {name}, one page on each sheet, at 100 %: as large as it is drawn.",
        "Look through all settings for what makes a page fit its paper, changes its size, turns it or "
        "spreads it over several sheets, and switch it off.",
        f"Then take a steel rule, before any {stuff} is cut: the squares both ways, and on every "
        f"sheet the bars, {across} across at its foot, {down} up its left side.",
    )
    return (*setter.heading("Print at full size", kept=False), *setter.texts(lines))


def _readings(frame: Frame, setter: Typesetter) -> tuple[Block, ...]:
    """The table of ratios, and what each reading means beside or below it."""
    head, width = setter.heading(f"If they measure wrong ({frame.units.unit})"), setter.width
    if width < 150:
        return (*head, *_table(frame, setter), gap(1), *setter.texts(ADVICE))
    left = width * 0.53
    table = stacked(_table(frame, setter.narrowed(left)))
    advice = stacked(setter.narrowed(width - left - 6).texts(ADVICE))
    return (*head, beside(table, advice, offset=left + 6))


def _table(frame: Frame, setter: Typesetter) -> tuple[Block, ...]:
    fits = (PageFit("as it should be", 1.0), *page_fits(frame.paper, frame.units))
    told, (square, side) = frame.units.read.number, READ[frame.units.unit]
    columns = (
        Column("printed", 5, attrgetter("what")),
        figures("%", 1.4, lambda fit: METRIC.sizes.number(100 * fit.ratio)),
        figures(square, 1.85, lambda fit: told(side * fit.ratio)),
        figures("across", 1.75, lambda fit: told(frame.bar_across * fit.ratio)),
        figures("up", 1.5, lambda fit: told(frame.bar_down * fit.ratio)),
    )
    return setter.table(columns, rows_of(columns, fits), space=0.2)
