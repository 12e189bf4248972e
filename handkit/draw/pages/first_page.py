"""First sheet: print check, how to read the sheets, the map of all sheets, cautions.

In: the products, the fonts. Out: the groups of one page, or of more where the paper is small or
the sheets are many.
"""

from __future__ import annotations

from handkit.draft.pattern import Pattern
from handkit.draw.layout.flow import Block, gap, paragraph, poured
from handkit.draw.layout.page_frame import Frame, scale_bars
from handkit.draw.model.fonts import Fonts
from handkit.draw.model.lettering import TITLE
from handkit.draw.model.marks import Group
from handkit.draw.pages.legend import legend
from handkit.draw.pages.print_check import print_check
from handkit.draw.pages.sheet_map import sheet_map
from handkit.draw.words.cautions import cautions
from handkit.draw.words.names import count_of
from handkit.sheets.laid import Sheets


def first_pages(
    pattern: Pattern, sheets: Sheets, frame: Frame, fonts: Fonts
) -> tuple[tuple[Group, ...], ...]:
    """Groups of each page; the scale bars stand on the first."""
    width = frame.width
    blocks: tuple[Block, ...] = (
        *_title(pattern, sheets, fonts, width),
        *print_check(frame, fonts),
        gap(2.5),
        *legend(pattern, sheets, fonts, width),
        gap(1.5),
        *cautions(fonts, width),
        gap(1.5),
        *sheet_map(pattern, sheets, fonts, width),
    )
    pages = poured(blocks, left=frame.margin, top=frame.paper.height - frame.margin, height=frame.height)
    return ((*pages[0], Group(scale_bars(frame, fonts))), *pages[1:])


def _title(pattern: Pattern, sheets: Sheets, fonts: Fonts, width: float) -> tuple[Block, ...]:
    project = pattern.project
    copies = "" if project.copies == 1 else f", for {project.copies} made alike"
    facts = (
        f"{count_of(len(pattern.pieces), 'piece')}{copies}, full scale on "
        f"{count_of(len(sheets.sheets), 'template sheet')} of {sheets.paper.name}; then cut list, "
        "stitching plan and finishing."
    )
    return (
        *paragraph(project.title, width, fonts, size=TITLE, bold=True, space=0.5),
        *paragraph(facts, width, fonts, space=1.5),
    )
