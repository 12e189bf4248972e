"""First sheet: print check, how to read the sheets, the map of all sheets, cautions.

In: the products, the page's frame, the typesetter. Out: the groups of one page, or of more where the
paper is small or the sheets are many.
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.draft.pattern import Pattern
from handkit.draw.layout.flow import Block, gap, side_by_side, stacked
from handkit.draw.layout.page_frame import Frame, scale_bars
from handkit.draw.layout.typesetter import Typesetter
from handkit.draw.model.marks import Group
from handkit.draw.pages.legend import legend
from handkit.draw.pages.print_check import print_check
from handkit.draw.pages.sheet_map import sheet_map
from handkit.draw.words.cautions import CLOSING, cautions
from handkit.kinds.materials import Family
from handkit.sheets.laid import Sheets
from handkit.wording.figures import counted
from handkit.wording.quoting import words


def first_pages(
    pattern: Pattern, sheets: Sheets, frame: Frame, setter: Typesetter, *, then: Sequence[str]
) -> tuple[tuple[Group, ...], ...]:
    """Groups of each page; the scale bars stand on the first. `then` are the titles of the kit's parts after
    the template sheets."""
    blocks: tuple[Block, ...] = (
        *_title(pattern, sheets, setter, then),
        *print_check(frame, setter, pattern.families),
        gap(2.5),
        *legend(pattern, sheets, setter),
        gap(1.5),
        *_cautions(setter, pattern.families),
        gap(1.5),
        *sheet_map(pattern, sheets, setter),
    )
    first, *others = frame.poured(blocks)
    return ((*first, Group(scale_bars(frame, setter.fonts))), *others)


def _title(pattern: Pattern, sheets: Sheets, setter: Typesetter, then: Sequence[str]) -> tuple[Block, ...]:
    project = pattern.project
    copies = "" if project.copies == 1 else f", for {project.copies} made alike"
    facts = (
        f"{counted(len(pattern.pieces), 'piece')}{copies}, full scale on "
        f"{counted(len(sheets.sheets), 'template sheet')} of {sheets.paper.name}; then "
        f"{words(map(str.lower, then), last='and')}."
    )
    return (*setter.title(project.title, kept=False), *setter.text(facts, space=1.5))


def _cautions(setter: Typesetter, families: Sequence[Family]) -> tuple[Block, ...]:
    """Two columns where there is room."""
    head, texts = setter.heading("Take care"), (*cautions(families), CLOSING)
    if setter.width < 120:
        return (*head, *setter.texts(texts, space=0.4))
    half, narrow = (len(texts) + 1) // 2, setter.narrowed(setter.width / 2 - 3)
    columns = [stacked(narrow.texts(some, space=0.4)) for some in (texts[:half], texts[half:])]
    return (*head, side_by_side(columns, apart=setter.width / 2 + 1))
