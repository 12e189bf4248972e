"""The kit: first sheet, template sheets, cut list, stitching plan, finishing, as one PDF file.

In: what was punched, planned and laid out. Out: `KitFile`: bytes that are the same on every run
and machine with the same versions, and the number of pages.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from handkit.draw.layout.flow import Block, gap, on_fresh_page, poured
from handkit.draw.layout.page_frame import Frame, head_line
from handkit.draw.model.fonts import Fonts, load_fonts
from handkit.draw.model.marks import Group, Page
from handkit.draw.pages.cut_list import cut_list
from handkit.draw.pages.first_page import first_pages
from handkit.draw.pages.plan_pages import method_blocks, seam_blocks
from handkit.draw.pages.sheet_map import window_name
from handkit.draw.pages.step_blocks import finishing_blocks, marking_blocks, order_blocks
from handkit.draw.pages.thread_page import thread_blocks
from handkit.draw.pdf.pdf_file import pdf_bytes
from handkit.draw.templates.template_pages import template_groups
from handkit.draw.words.names import Codes, codes_of
from handkit.draw.words.threads import cut_threads
from handkit.punch.punched import Punched
from handkit.sheets.laid import Sheets
from handkit.stitch.plan import StitchPlan


class KitFile(msgspec.Struct, frozen=True):
    """A finished file."""

    data: bytes
    pages: int


def kit_pdf(punched: Punched, plan: StitchPlan, sheets: Sheets) -> KitFile:
    """Draw the whole kit.

    Raises ProjectError where the project's font can't be used or a text can't be written whole.
    """
    project = punched.pattern.project
    fonts = load_fonts(project)
    pages = kit_pages(punched, plan, sheets, fonts)
    return KitFile(pdf_bytes(pages, paper=sheets.paper, title=project.title, fonts=fonts), len(pages))


def kit_pages(punched: Punched, plan: StitchPlan, sheets: Sheets, fonts: Fonts) -> tuple[Page, ...]:
    """All pages as data, each with its head line."""
    codes = codes_of(plan)
    frame = Frame(sheets.paper, sheets.edge, sheets.margin)
    bare = (
        *_first(punched, sheets, frame, fonts),
        *_templates(punched, plan, sheets, codes, fonts),
        *_lists(punched, plan, codes, frame, fonts),
    )
    title = punched.pattern.project.title
    places = (f"{page.label} · page {k} of {len(bare)}" for k, page in enumerate(bare, start=1))
    heads = (Group((head_line(frame, fonts, title=title, place=place),)) for place in places)
    return tuple(
        msgspec.structs.replace(page, groups=(head, *page.groups))
        for page, head in zip(bare, heads, strict=True)
    )


def _first(punched: Punched, sheets: Sheets, frame: Frame, fonts: Fonts) -> tuple[Page, ...]:
    return _pages("First sheet", ((0, "First sheet"),), first_pages(punched.pattern, sheets, frame, fonts))


def _templates(
    punched: Punched, plan: StitchPlan, sheets: Sheets, codes: Codes, fonts: Fonts
) -> tuple[Page, ...]:
    count = len(sheets.sheets)
    pages: list[Page] = []
    for sheet in sheets.sheets:
        names = ", ".join(window_name(window) for window in sheet.windows)
        own = ((1, f"Sheet {sheet.number}: {names}"),)
        marks = ((0, "Template sheets"), *own) if not pages else own
        groups = template_groups(sheet, punched=punched, plan=plan, sheets=sheets, codes=codes, fonts=fonts)
        pages.append(Page(f"Sheet {sheet.number} of {count}", marks, groups))
    return tuple(pages)


def _lists(punched: Punched, plan: StitchPlan, codes: Codes, frame: Frame, fonts: Fonts) -> tuple[Page, ...]:
    """Cut list, plan and finishing; a part without content has no page."""
    width = frame.width
    parts = (
        ("Cut list", cut_list(punched, plan, codes, fonts, width)),
        ("Stitching plan", _plan(punched, plan, codes, frame, fonts)),
        ("Finishing", finishing_blocks(plan, codes, fonts, width)),
    )
    return tuple(
        page
        for title, blocks in parts
        if blocks
        for page in _pages(title, ((0, title),), _poured(blocks, frame))
    )


def _plan(punched: Punched, plan: StitchPlan, codes: Codes, frame: Frame, fonts: Fonts) -> tuple[Block, ...]:
    """Marking, the steps to tick, openings; the page of threads; the stitch, and each seam."""
    width = frame.width
    copies = punched.pattern.project.copies
    threads = cut_threads(plan)
    of_seam = {seam.name: [t for t in threads if t.seam.name == seam.name] for seam in plan.seams}
    seams = [
        block
        for seam in plan.seams
        for block in seam_blocks(
            punched, seam, of_seam[seam.name], codes, fonts, width=width, height=frame.height
        )
    ]
    return (
        *marking_blocks(fonts, width),
        gap(6),
        *order_blocks(plan, codes, fonts, width),
        *thread_blocks(plan, codes, fonts, width=width, height=frame.height, copies=copies),
        *method_blocks(plan, fonts, width),
        *on_fresh_page(seams),
    )


def _poured(blocks: Sequence[Block], frame: Frame) -> tuple[tuple[Group, ...], ...]:
    return poured(blocks, left=frame.margin, top=frame.paper.height - frame.margin, height=frame.height)


def _pages(
    title: str, bookmarks: tuple[tuple[int, str], ...], bodies: Sequence[tuple[Group, ...]]
) -> tuple[Page, ...]:
    """Pages of one part: numbered where they are several, the bookmarks on the first."""
    return tuple(
        Page(title if len(bodies) == 1 else f"{title} {k}", bookmarks if k == 1 else (), body)
        for k, body in enumerate(bodies, start=1)
    )
