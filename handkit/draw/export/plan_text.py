"""The plan's document as plain text, for a terminal.

In: the plan and what it was made from, how many columns a line has. Out: text without control codes: the
order of work and a line a seam; the whole of some seams; or the whole document.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from typing import Any

from handkit.draw.export.text_lines import WIDTH, filled, headed, text_table
from handkit.draw.words.document import (
    Heading,
    Illustration,
    Keyed,
    Numbered,
    Paragraph,
    Part,
    PlanDocument,
    Ticked,
)
from handkit.draw.words.listing import Listing
from handkit.draw.words.lists import seam_table
from handkit.draw.words.names import kit_plan
from handkit.draw.words.plan_document import plan_document, sums
from handkit.punch.punched import Punched
from handkit.stitch.plan import StitchPlan

KEY = 10  # columns of a key


def plan_text(
    plan: StitchPlan,
    punched: Punched,
    *,
    seams: Collection[str] = (),
    whole: bool = False,
    width: int | None = None,
) -> str:
    """The order of work in a sentence a step, then a line a seam; with names of `seams` the whole of the
    steps in which these are sewn; the `whole` document. No `width` is that of a file."""
    kit, columns = kit_plan(punched, plan), width or WIDTH
    document = plan_document(kit)
    if seams:
        some = [step for step in _steps(document) if not _names(step).isdisjoint(seams)]
        return _text(_lines(some, columns))
    title = filled(f"{document.title}: plan", columns)
    if whole:
        parts = [part for chapter in document.chapters for part in chapter.parts]
        return _text((*title, *_lines(parts, columns)))
    steps = (line for step in _steps(document) for line in _marked(step, step.brief, columns))
    lines = (
        *title,
        *filled(sums(kit), columns),
        *headed("Order of work"),
        *steps,
        *_listing(seam_table(kit), columns),
        "",
        *filled("One seam whole: --seam NAME; lists, threads and every seam: --all.", columns),
    )
    return _text(lines)


def _names(step: Ticked) -> set[str]:
    """What its seams are called, in the file and on the templates."""
    return {*step.seams, *(walk.code for walk in step.walks)}


def _steps(document: PlanDocument) -> list[Ticked]:
    """The steps of the work; threads to cut are none."""
    return [
        part
        for chapter in document.chapters
        for part in chapter.parts
        if isinstance(part, Ticked) and part.is_work
    ]


def _text(lines: Iterable[str]) -> str:
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _lines(parts: Iterable[Part], width: int) -> Iterator[str]:
    for part in parts:
        yield from LINES[type(part)](part, width)


def _heading(part: Heading, _: int) -> list[str]:
    return headed(part.text)


def _paragraph(part: Paragraph, width: int) -> list[str]:
    return filled(part.text, width)


def _numbered(part: Numbered, width: int) -> Iterator[str]:
    for number, text in enumerate(part.texts, start=1):
        yield from filled(text, width, first=f"{number:3d}  ")


def _keyed(part: Keyed, width: int) -> Iterator[str]:
    for key, text in part.lines:
        yield from filled(text, width, first=f"  {key:{KEY}s} ")


def _listing(part: Listing, width: int) -> list[str]:
    """Nothing where it is empty."""
    if not (part.rows or part.texts):
        return []
    return [
        *headed(part.title),
        *text_table(part.columns, part.rows, width),
        *(line for text in part.texts for line in filled(text, width)),
    ]


def _ticked(part: Ticked, width: int) -> Iterator[str]:
    """A step in full: its marks and title, then all of it under that."""
    if part.title:
        yield from _marked(part, "  ".join(filter(None, (part.title, part.aside))), width)
    else:
        yield from _marked(part, " ".join(part.said), width)
    indent = " " * 8
    for text in part.said * bool(part.title):
        yield from filled(text, width, first=indent)
    for line in part.lines:
        yield from filled(line.text, width, first=f"{indent}{line.key:{KEY}s}")
    notes = (*part.notes, f"Caution: {part.caution}" if part.caution else "")
    for text in notes:
        yield from filled(text, width, first=indent)


def _marked(part: Ticked, text: str, width: int) -> list[str]:
    """A text behind the step's numbers, from the first to the last."""
    first, *others = part.marks
    marks = f"{first}-{others[-1]}" if others else first
    return filled(text, width, first=f"{marks:>7s} ")


def _figure(_: Illustration, __: int) -> list[str]:
    return []


LINES: Mapping[type, Callable[[Any, int], Iterable[str]]] = {
    Heading: _heading,
    Paragraph: _paragraph,
    Numbered: _numbered,
    Keyed: _keyed,
    Listing: _listing,
    Ticked: _ticked,
    Illustration: _figure,
}
