"""Shown: pictures of a project's article, whether or not it can be made.

In: the path of a project file. Out: the bytes of a picture file, and what there is to tell. Part of the front
door: each step is imported when it is called.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING, Any

import msgspec

from handkit.counting import OnProgress, no_progress
from handkit.errors import FileError, ProjectError
from handkit.findings import Finding, has_errors, in_order
from handkit.kept.kept import NOTHING, Kept, KeptOf
from handkit.kinds.pages import Pictured
from handkit.kit import otherwise, plan_of, shape_of, sheets_of
from handkit.overrides import AS_WRITTEN, PageOverrides

if TYPE_CHECKING:
    from handkit.assemble.article import Article
    from handkit.punch.punched import Punched
    from handkit.read.file.load import Given
    from handkit.read.project import Project
    from handkit.sheets.laid import Sheets
    from handkit.stitch.plan import StitchPlan


class Shown(msgspec.Struct, frozen=True):
    """Pictures of the article as the bytes of a file, and what there is to tell."""

    data: bytes
    findings: tuple[Finding, ...]


def show(
    project_file: Given,
    form: Pictured = Pictured.PDF,
    overrides: PageOverrides = AS_WRITTEN,
    *,
    on_progress: OnProgress = no_progress,
    kept: Kept | None = None,
) -> Shown:
    """Pictures of the article put together, with errors as far as it goes.

    Raises ProjectError where nothing can be drawn, FileError where PNG can't be made here.
    """
    from handkit.assemble.section import sections_of
    from handkit.draw.article.files import article_pdf, article_svg

    reached, findings = reached_article(project_file, overrides, on_progress=on_progress, kept=kept)
    on_progress("drawing")
    article, drawn = reached.article, reached.kept
    sections = drawn.of("sections", lambda: sections_of(article))
    if form is Pictured.SVG:
        return Shown(article_svg(article, sections, findings, kept=drawn).encode(), findings)
    pdf = article_pdf(article, sections, findings, kept=drawn)
    return Shown(png_of(pdf) if form is Pictured.PNG else pdf, findings)


class Reached(msgspec.Struct, frozen=True):
    """An article as far as it goes, what the steps up to it told, and what is kept of it."""

    article: Article
    told: tuple[Finding, ...]
    kept: KeptOf = NOTHING


def reached_article(
    project_file: Given,
    overrides: PageOverrides = AS_WRITTEN,
    *,
    on_progress: OnProgress = no_progress,
    kept: Kept | None = None,
) -> tuple[Reached, tuple[Finding, ...]]:
    """The article as far as it goes, and what there is to tell of it as the file has it: up to the first step
    with an error, for what later ones would find may follow from it. Raises ProjectError where nothing can be
    drawn."""
    from handkit.read.reader import read_project

    on_progress("reading")
    project, told = _as_far_as_it_goes(read_project, project_file)
    faulty = has_errors(told)
    if kept is None:
        reached = _reached(project, overrides, on_progress, kept, faulty=faulty)
        return reached, in_order((*told, *reached.told))
    shape, lines = shape_of(project, kept)
    made_from = (shape, overrides, faulty)
    work = partial(_reached, shape, overrides, on_progress, kept, faulty=faulty)
    try:
        reached = kept.of("reached", made_from, work)
    except ProjectError as refused:
        raise ProjectError(lines.told(refused.findings), refused.reached) from None
    punched = reached.article.punched.titled(project.title)
    article = msgspec.structs.replace(reached.article, punched=punched)
    own = project.page.font is None  # a font is a file that may change by itself
    drawn = KeptOf(kept, made_from) if own else NOTHING
    return Reached(article, reached.told, drawn), in_order((*told, *lines.told(reached.told)))


def _reached(
    project: Project, overrides: PageOverrides, on_progress: OnProgress, kept: Kept | None, *, faulty: bool
) -> Reached:
    """The article of a project that is read; of a `faulty` one nothing more is told."""
    on_progress("putting together")
    article, found = _put_together(project)
    told = () if faulty else found
    on_progress("planning the work")
    for planned in (plan_of, partial(sheets_of, kept=kept)):
        told += () if faulty or has_errors(told) else _told_by(planned, article.punched)
    other = otherwise(project, overrides)
    return Reached(article if other is project else _put_together(other)[0], told)


def _put_together(project: Project) -> tuple[Article, tuple[Finding, ...]]:
    """The article of a project as far as it goes, and what is told up to the first step with an error."""
    from handkit.assemble.assembler import assemble
    from handkit.draft.drafter import draft
    from handkit.punch.puncher import punch

    told: tuple[Finding, ...] = ()
    product: Any = project
    for step in (draft, punch, assemble):
        product, found = _as_far_as_it_goes(step, product)
        told += () if has_errors(told) else found
    return product, told


def _told_by(step: Callable[[Punched], StitchPlan | Sheets], punched: Punched) -> tuple[Finding, ...]:
    """What a step has to tell, of which no picture is drawn."""
    try:
        return step(punched).findings
    except ProjectError as refused:
        return refused.findings


def _as_far_as_it_goes(step: Callable[[Any], Any], product: Any) -> tuple[Any, tuple[Finding, ...]]:
    """What a step makes, or could make, and its findings. Raises ProjectError where it could make nothing."""
    try:
        made = step(product)
    except ProjectError as refused:
        if refused.reached is None:
            raise
        return refused.reached, refused.findings
    return made, made.findings


def png_of(pdf: bytes) -> bytes:
    """All pages as one picture, by a renderer that is an extra. Raises FileError without it."""
    try:
        from handkit.draw.export.pages_png import pages_png
    except ImportError:
        raise FileError(
            "can't draw PNG: its renderer isn't installed; pip install 'handkit[png]', or name a .pdf or .svg"
        ) from None
    return pages_png(pdf)
