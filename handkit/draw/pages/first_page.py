"""First sheet: what was found, print check, how to read the sheets, the map of all sheets, cautions.

In: the products, the findings, the page's frame, the typesetter. Out: the groups of one page, or of more
where the paper is small, or the sheets or findings are many.
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.draft.pattern import Pattern
from handkit.draw.layout.flow import Block, gap, on_fresh_page, side_by_side, stacked
from handkit.draw.layout.page_frame import Frame, corrected_words, scale_bars
from handkit.draw.layout.typesetter import Typesetter
from handkit.draw.model.lettering import BODY
from handkit.draw.model.marks import Group
from handkit.draw.pages.legend import legend
from handkit.draw.pages.print_check import print_check
from handkit.draw.pages.sheet_map import sheet_map
from handkit.draw.words.cautions import CLOSING, cautions
from handkit.findings import Finding, in_order
from handkit.kinds.materials import Family
from handkit.messages.message import Severity
from handkit.sheets.laid import Sheets
from handkit.wording.figures import counted
from handkit.wording.quoting import words

# So many findings are told on paper; of more, how many there are.
MOST_TOLD = 8

# How far in a finding's words begin, beside the word for its weight, in mm.
WEIGHT_KEY = 18.0


def first_pages(  # noqa: PLR0913 - the products, and what else the sheet tells
    pattern: Pattern,
    sheets: Sheets,
    frame: Frame,
    setter: Typesetter,
    *,
    then: Sequence[str],
    findings: Sequence[Finding] = (),
    otherwise: Sequence[Block] = (),
) -> tuple[tuple[Group, ...], ...]:
    """Groups of each page; the scale bars stand on the first. `then` are the titles of the kit's parts after
    the template sheets, `otherwise` tells what it is drafted for. Where one page is too small for all, how to
    read the sheets begins the second, so that no few lines alone stand there.
    """
    check = (
        *_title(pattern, sheets, setter, then),
        *otherwise,
        *_corrected(sheets, setter),
        *_found(findings, setter),
        *print_check(frame, setter, pattern.families),
    )
    reading = (
        *legend(pattern, sheets, setter),
        gap(1.5),
        *_cautions(setter, pattern.families),
        gap(1.5),
        *sheet_map(pattern, sheets, setter),
    )
    ways = [frame.poured((*check, gap(2.5), *reading)), frame.poured((*check, *on_fresh_page(reading)))]
    first, *others = ways[len(ways[0]) > 1 and len(ways[1]) <= len(ways[0])]
    return ((*first, Group(scale_bars(frame, setter.fonts))), *others)


def _title(pattern: Pattern, sheets: Sheets, setter: Typesetter, then: Sequence[str]) -> tuple[Block, ...]:
    project = pattern.project
    copies = "" if project.copies == 1 else f", for {project.copies} made alike"
    facts = f"{counted(len(pattern.pieces), 'piece')}{copies}, {_drawn(pattern, sheets)}" + (
        f"; then {words(map(str.lower, then), last='and')}." if then else "."
    )
    return (*setter.title(project.title, kept=False), *setter.text(facts, space=1.5))


def _drawn(pattern: Pattern, sheets: Sheets) -> str:
    """On how many sheets the pieces are drawn, and how many are given by their measures."""
    measured, tiled = len(sheets.measured), len(pattern.pieces) - len(sheets.measured)
    full = f"full scale on {counted(len(sheets.sheets), 'template sheet')} of {sheets.paper.name}"
    if not measured:
        return full
    pages = f"{measured} by measures on {counted(measured, 'page')}, which are not full scale"
    return f"{tiled} {full}, {pages}" if tiled else pages


def _corrected(sheets: Sheets, setter: Typesetter) -> tuple[Block, ...]:
    """That this kit is for one printer; nothing of one that is for any."""
    if sheets.correction is None:
        return ()
    told = f"{corrected_words(sheets.correction)} Printed there as it was tested, all measures as it says."
    return (*setter.heading("For one printer alone"), *setter.text(told, space=1.5))


def worth_telling(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """What a maker should know before anything is printed: warnings, then notes that ask for something to be
    done. A note that only says how a thing is stays on the terminal."""
    return tuple(each for each in in_order(findings) if each.severity is Severity.WARNING or each.remedy)


def _found(findings: Sequence[Finding], setter: Typesetter) -> tuple[Block, ...]:
    """The findings in words, each with its line in the project file; nothing where there are none."""
    told = worth_telling(findings)
    if not told:
        return ()
    lines = [
        block
        for each in told[:MOST_TOLD]
        for block in setter.keyed(each.severity.value, _line(each), size=BODY, indent=WEIGHT_KEY)
    ]
    more = len(told) - MOST_TOLD
    rest = f"{counted(more, 'finding')} more: handkit check tells all."
    return (*setter.heading("Before you print"), *lines, *setter.text(rest) * (more > 0), gap(1.5))


def _line(each: Finding) -> str:
    return each.words + (f" (line {each.where.line})" if each.where.line else "")


def _cautions(setter: Typesetter, families: Sequence[Family]) -> tuple[Block, ...]:
    """Two columns where there is room."""
    head, texts = setter.heading("Take care"), (*cautions(families), CLOSING)
    if setter.width < 120:
        return (*head, *setter.texts(texts, space=0.4))
    half, narrow = (len(texts) + 1) // 2, setter.narrowed(setter.width / 2 - 3)
    columns = [stacked(narrow.texts(some, space=0.4)) for some in (texts[:half], texts[half:])]
    return (*head, side_by_side(columns, apart=setter.width / 2 + 1))
