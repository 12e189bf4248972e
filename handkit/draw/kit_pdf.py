"""The kit: first sheet, finished article, template sheets, lists, order of work, as one PDF.

In: what was punched, put together, planned and laid out. Out: `KitFile`: bytes that are the same on every run
and machine with the same versions, and the number of pages.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import partial

import msgspec

from handkit.assemble.article import Article
from handkit.counting import OnProgress, counted, no_progress
from handkit.draw.article.pages import kit_blocks
from handkit.draw.layout.page_frame import Frame, head_line
from handkit.draw.layout.typesetter import Typesetter
from handkit.draw.listed.listing import kit_manifest
from handkit.draw.measured.measured_pages import measured_pages
from handkit.draw.model.fonts import Fonts, load_fonts
from handkit.draw.model.marks import Group, Page, words_of
from handkit.draw.pages.document_blocks import OVER, part_blocks
from handkit.draw.pages.first_page import first_pages
from handkit.draw.pages.otherwise_blocks import otherwise_blocks
from handkit.draw.pages.sheet_map import window_name
from handkit.draw.pdf.pdf_file import pdf_bytes
from handkit.draw.templates.template_pages import template_groups
from handkit.draw.words.document import Heading, PlanDocument
from handkit.draw.words.headed import headed_title
from handkit.draw.words.names import KitPlan, kit_plan
from handkit.draw.words.plan_document import plan_document
from handkit.findings import Finding
from handkit.kept.kept import NOTHING, KeptOf
from handkit.manifest.listed import UNTOLD, Origin
from handkit.punch.punched import Punched
from handkit.sheets.laid import Sheets
from handkit.stitch.plan import StitchPlan


class KitFile(msgspec.Struct, frozen=True):
    """A finished file."""

    data: bytes
    pages: int


def kit_pdf(  # noqa: PLR0913 - the products
    punched: Punched,
    plan: StitchPlan,
    sheets: Sheets,
    article: Article | None = None,
    findings: Sequence[Finding] = (),
    *,
    origin: Origin = UNTOLD,
    on_progress: OnProgress = no_progress,
    kept: KeptOf = NOTHING,
) -> KitFile:
    """Draw the whole kit; `findings` are what the first sheet tells before anything is printed. The kit says
    of itself in its manifest where it comes from. `kept` is what was drawn of the same products before, but
    for their title and their findings.

    Raises ProjectError where the project's font can't be used or a text can't be written whole.
    """
    project = punched.project
    fonts = load_fonts(project)
    pages = kit_pages(
        punched,
        plan,
        sheets,
        fonts,
        article=article,
        findings=findings,
        on_progress=on_progress,
        kept=kept,
    )
    on_progress(f"drawing: the file of {len(pages)} pages")
    data = pdf_bytes(
        pages,
        paper=sheets.paper,
        title=project.title,
        fonts=fonts,
        manifest=kit_manifest(kit_plan(punched, plan), sheets, pages, origin, kept),
        kept=kept,
    )
    return KitFile(data, len(pages))


class _Source(msgspec.Struct, frozen=True):
    """What pages are drawn from."""

    kit: KitPlan
    document: PlanDocument
    sheets: Sheets
    frame: Frame
    setter: Typesetter
    article: Article | None
    findings: Sequence[Finding]
    on_progress: OnProgress
    kept: KeptOf


class _Part(msgspec.Struct, frozen=True):
    """A part of the kit and how its pages are drawn."""

    title: str
    pages: Callable[[_Source], Iterator[Page]]


def kit_pages(  # noqa: PLR0913 - the products
    punched: Punched,
    plan: StitchPlan,
    sheets: Sheets,
    fonts: Fonts,
    *,
    article: Article | None = None,
    findings: Sequence[Finding] = (),
    on_progress: OnProgress = no_progress,
    kept: KeptOf = NOTHING,
) -> tuple[Page, ...]:
    """All pages as data, each with its head line; without an article there is no page of it."""
    frame = Frame(sheets.paper, sheets.edge, sheets.margin, punched.project.units)
    setter = Typesetter(fonts, frame.width, frame.height)
    kit = kit_plan(punched, plan)
    document = kept.of("document", lambda: plan_document(kit))
    source = _Source(kit, document, sheets, frame, setter, article, findings, on_progress, kept)
    bare: list[Page] = []
    for part in PARTS:
        on_progress(f"drawing: {part.title[0].lower()}{part.title[1:]}")
        bare += part.pages(source)
    title = headed_title(punched.project)
    places = (f"{page.label} · page {k} of {len(bare)}" for k, page in enumerate(bare, start=1))
    heads = (
        Group((head_line(frame, fonts, title=title, place=place, correction=sheets.correction),))
        for place in places
    )
    return tuple(
        msgspec.structs.replace(page, groups=(head, *page.groups))
        for page, head in zip(bare, heads, strict=True)
    )


def _first(source: _Source) -> Iterator[Page]:
    pattern = source.kit.punched.pattern
    measured = [MEASURED] * bool(source.sheets.measured)
    chapters = source.document.chapters if source.kit.punched.trial is None else ()
    then = [*measured, *(chapter.title for chapter in chapters)]
    groups = first_pages(
        pattern,
        source.sheets,
        source.frame,
        source.setter,
        then=then,
        findings=source.findings,
        otherwise=otherwise_blocks(source.kit.punched, source.setter),
    )
    return _pages("First sheet", groups)


def _article(source: _Source) -> Iterator[Page]:
    article, setter = source.article, source.setter
    if article is not None:
        blocks = source.kept.of("article", lambda: kit_blocks(article, setter, source.kept))
        yield from _pages("Finished article", source.frame.poured(blocks) if blocks else ())


def _templates(source: _Source) -> Iterator[Page]:
    kit, sheets = source.kit, source.sheets
    for sheet in counted(sheets.sheets, source.on_progress, "drawing: template sheet"):
        names = ", ".join(window_name(window) for window in sheet.windows)
        part = ((0, "Template sheets"),) if sheet is sheets.sheets[0] else ()
        draw = partial(
            template_groups,
            sheet,
            punched=kit.punched,
            plan=kit.plan,
            sheets=sheets,
            codes=kit.codes,
            fonts=source.setter.fonts,
            kept=source.kept,
        )
        groups = source.kept.of("template sheet", draw, sheet.number)
        bookmarks = (*part, (1, f"Sheet {sheet.number}: {names}"))
        yield Page(f"Sheet {sheet.number} of {len(sheets.sheets)}", bookmarks, groups, sheet.number)


def _measured(source: _Source) -> Iterator[Page]:
    kit, sheets, frame, setter = source.kit, source.sheets, source.frame, source.setter
    drawn = source.kept.of("measured", lambda: tuple(measured_pages(kit, sheets, frame, setter)))
    for piece, bodies in drawn:
        part = ((0, MEASURED),) if piece == source.sheets.measured[0].piece else ()
        for k, body in enumerate(bodies):
            bookmarks = () if k else (*part, (1, f"By its measures: {piece}"))
            yield Page(f"Measured drawing: {piece}", bookmarks, body)


def _plan(source: _Source) -> Iterator[Page]:
    """The plan's document; each of its headings has a bookmark. A trial has none: it is neither sewn nor
    bought for."""
    if source.kit.punched.trial is not None:
        return
    parts = [part for chapter in source.document.chapters for part in chapter.parts]
    heads = {part.text for part in parts if isinstance(part, Heading)}
    kit, setter = source.kit, source.setter
    blocks = source.kept.of("plan", lambda: part_blocks(kit, parts, setter, source.kept))
    for page in _pages("Plan", source.frame.poured(blocks)):
        found = (words.text for words in words_of((page,)) if words.size == OVER and words.text in heads)
        yield msgspec.structs.replace(page, bookmarks=(*page.bookmarks, *((1, text) for text in found)))


def _pages(title: str, bodies: Sequence[tuple[Group, ...]]) -> Iterator[Page]:
    """Pages of one part: numbered where they are several, its bookmark on the first."""
    for k, body in enumerate(bodies, start=1):
        label = title if len(bodies) == 1 else f"{title} {k}"
        yield Page(label, ((0, title),) if k == 1 else (), body)


MEASURED = "Measured drawings"

# The kit's pages in order. A new part is a row; the first sheet says which follow the template sheets.
PARTS = (
    _Part("First sheet", _first),
    _Part("Finished article", _article),
    _Part("Template sheets", _templates),
    _Part(MEASURED, _measured),
    _Part("Plan", _plan),
)
