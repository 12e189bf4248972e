"""The road: eight steps in order, and the library's front door.

In: the path of a project file, or its text. Out: the product of a step, or a finished kit.

                          ┌→ assemble ─┐
    read → draft → punch ─┼→ stitch ───┼→ draw         proof reads the drawn file, and nothing else
                          └→ sheets ───┘

Each step is imported when it is called, so that a command pays for its own road only.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import msgspec

from handkit import __version__
from handkit.counting import OnProgress, no_progress
from handkit.errors import ProjectError, refuse_errors
from handkit.findings import EVERYTHING, Finding, Where, finding, first_causes, in_order
from handkit.kept.kept import NOTHING, Kept, KeptOf
from handkit.kept.lines_apart import Lines, lines_apart
from handkit.manifest.listed import Manifest, Origin
from handkit.messages.message import Severity
from handkit.overrides import AS_WRITTEN, PageOverrides, page_with, read_overrides, written

if TYPE_CHECKING:
    from handkit.assemble.article import Article
    from handkit.proof.proof import Proof
    from handkit.punch.punched import Punched
    from handkit.read.file.load import Given
    from handkit.read.project import Project
    from handkit.sheets.laid import Sheets
    from handkit.stitch.plan import StitchPlan


class Made(msgspec.Struct, frozen=True):
    """A project taken as far as paper: everything but the ink."""

    punched: Punched
    article: Article
    plan: StitchPlan
    sheets: Sheets
    findings: tuple[Finding, ...]
    kept: KeptOf = NOTHING

    def titled(self, title: str) -> Made:
        """The same with a title, of which no step before drawing knows."""
        punched = self.punched.titled(title)
        article = msgspec.structs.replace(self.article, punched=punched)
        return msgspec.structs.replace(self, punched=punched, article=article)


class Kit(msgspec.Struct, frozen=True):
    """A finished kit: the PDF's bytes, its pages, and the report as JSON text."""

    pdf: bytes
    pages: int
    report: str
    made: Made


def punched_of(
    project_file: Given, overrides: PageOverrides = AS_WRITTEN, *, on_progress: OnProgress = no_progress
) -> Punched:
    """Read, draft and punch. Raises ProjectError with every finding of the step that stopped, and with those
    errors of punching that have nothing to do with one of drafting."""
    from handkit.read.reader import read_project

    on_progress("reading")
    project = read_project(project_file)
    with _doubted(project):
        return punched_from(project, overrides, on_progress=on_progress)


@contextmanager
def _doubted(project: Project) -> Iterator[None]:
    """Where reading doubts all of the file, raise that in place of errors, which come of it."""
    try:
        yield
    except ProjectError as refused:
        if not any(EVERYTHING in each.spoils for each in project.findings):
            raise
        raise ProjectError(first_causes((*project.findings, *refused.findings)), refused.reached) from None


def punched_from(
    project: Project,
    overrides: PageOverrides = AS_WRITTEN,
    *,
    on_progress: OnProgress = no_progress,
    kept: KeptOf = NOTHING,
) -> Punched:
    """Draft and punch a project that is read. What is drafted otherwise than the file has it tells what is
    found of it as the file has it, where its points and sides are the maker's."""
    from handkit.punch.trial import tried

    own = _punched(project, on_progress, kept)
    other = otherwise(project, overrides)
    if other is project:
        return own
    if other.trial is None:
        return _punched(other, on_progress, kept).instead_of(own)
    try:
        return tried(_punched(other, on_progress, kept), own)
    except ProjectError as refused:
        told = finding("trial-unfit", project.source.at(), stock=other.trial)
        raise ProjectError((*refused.findings, told), refused.reached) from None


def otherwise(project: Project, overrides: PageOverrides) -> Project:
    """The project as it is asked for; itself where that is as the file has it."""
    from handkit.draft.trial_stock import of_stock

    if overrides.mirrored:
        project = msgspec.structs.replace(project, mirrored=not project.mirrored)
    return project if overrides.trial is None else of_stock(project, overrides.trial)


def _punched(project: Project, on_progress: OnProgress, kept: KeptOf) -> Punched:
    from handkit.draft.drafter import draft
    from handkit.punch.puncher import punch

    on_progress("drafting")
    try:
        pattern = draft(project, kept)
    except ProjectError as refused:
        raise _with_those_of_punching(refused) from None
    on_progress("punching")
    return punch(pattern, on_progress=on_progress)


def _with_those_of_punching(refused: ProjectError) -> ProjectError:
    """The errors of drafting together with those that punching finds in what they leave untouched."""
    from handkit.draft.pattern import Pattern
    from handkit.draft.untouched import untouched
    from handkit.punch.puncher import punch

    if not isinstance(reached := refused.reached, Pattern):
        return refused
    try:
        punch(untouched(reached, refused.findings))
    except ProjectError as later:
        errors = (each for each in later.findings if each.severity is Severity.ERROR)
        return ProjectError((*refused.findings, *errors), reached)
    return refused


def article_of(punched: Punched) -> Article:
    """The article put together: where everything lies, and what is in the way of what; told of it as the file
    has it."""
    from handkit.assemble.assembler import assemble

    own = assemble(punched.own) if punched.own is not None else None
    article = assemble(punched)
    return article if own is None else msgspec.structs.replace(article, findings=own.findings)


def plan_of(punched: Punched, *, on_progress: OnProgress = no_progress) -> StitchPlan:
    """Stitch: order, needles' way, thread, lists."""
    from handkit.stitch.planner import plan

    return plan(punched, on_progress=on_progress)


def sheets_of(
    punched: Punched,
    overrides: PageOverrides = AS_WRITTEN,
    *,
    on_progress: OnProgress = no_progress,
    kept: Kept | None = None,
) -> Sheets:
    """What lies where on which sheet."""
    from handkit.sheets.layout import lay_out

    page = page_with(punched.project.page, overrides)
    return lay_out(
        punched,
        paper=page.paper,
        edge=page.edge,
        margin=page.margin,
        overlap=page.overlap,
        layout=page.layout,
        printer=overrides.printer,
        on_progress=on_progress,
        kept=kept,
    )


def made_of(
    project_file: Given,
    overrides: PageOverrides = AS_WRITTEN,
    *,
    on_progress: OnProgress = no_progress,
    kept: Kept | None = None,
) -> Made:
    """All that is decided before drawing; raises ProjectError where anything stops the work. `kept` is what
    long work gave before: then entries know numbers in place of their lines, and findings have these."""
    from handkit.draw.model.fonts import missing_glyphs
    from handkit.read.reader import read_project

    on_progress("reading")
    project = read_project(project_file)
    if kept is None:
        with _doubted(project):
            made = _made(project, overrides, on_progress, Kept())
        found = (*project.findings, *made.findings, *missing_glyphs(project))
        return msgspec.structs.replace(made, findings=refuse_errors(found))
    shape, lines = shape_of(project, kept)
    try:
        made = kept.of("made", (shape, overrides), lambda: _made(shape, overrides, on_progress, kept))
    except ProjectError as refused:
        with _doubted(project):
            raise ProjectError(lines.told(refused.findings), refused.reached) from None
    found = (*project.findings, *lines.told(made.findings), *missing_glyphs(project))
    if project.page.font is None:  # a font is a file that may change by itself
        made = msgspec.structs.replace(made, kept=KeptOf(kept, (shape, overrides)))
    return msgspec.structs.replace(made.titled(project.title), findings=refuse_errors(found))


def shape_of(project: Project, kept: Kept) -> tuple[Project, Lines]:
    """What steps before drawing know of a project: no title, no lines, of its findings those they ask for."""
    asked = (each for each in project.findings if each.code == "seam-of-one-layer")
    known = tuple(each.placed(Where(key=each.where.key)) for each in asked)
    shape = msgspec.structs.replace(project, title="", findings=known)
    return kept.after("lines", lambda last: lines_apart(shape, last[1] if last else Lines()))


def _made(project: Project, overrides: PageOverrides, on_progress: OnProgress, kept: Kept) -> Made:
    """A project that is read, taken as far as paper, with all that the steps after reading found."""
    punched = punched_from(project, overrides, on_progress=on_progress, kept=KeptOf(kept))
    on_progress("putting together")
    article = article_of(punched)
    punched = article.punched
    plan = plan_of(punched, on_progress=on_progress)
    on_progress("laying out sheets")
    sheets = sheets_of(punched, overrides, on_progress=on_progress, kept=kept)
    steps = (punched.pattern, punched, article, plan, sheets)
    return Made(punched, article, plan, sheets, tuple(each for step in steps for each in step.findings))


def make(
    project_file: Given,
    overrides: PageOverrides = AS_WRITTEN,
    *,
    on_progress: OnProgress = no_progress,
    kept: Kept | None = None,
) -> Kit:
    """The whole road: a kit to print."""
    from handkit.draw.export.report_json import report_json
    from handkit.draw.kit_pdf import kit_pdf

    made = made_of(project_file, overrides, on_progress=on_progress, kept=kept)
    on_progress("drawing")
    drawn = kit_pdf(
        made.punched,
        made.plan,
        made.sheets,
        made.article,
        made.findings,
        origin=Origin(__version__, written(overrides)),
        on_progress=on_progress,
        kept=made.kept,
    )
    report = report_json(punched=made.punched, sheets=made.sheets, pages=drawn.pages, findings=made.findings)
    return Kit(drawn.data, drawn.pages, report, made)


def refusal_report(findings: tuple[Finding, ...]) -> str:
    """The report of a project that can't be made: its findings alone."""
    from handkit.draw.export.report_json import report_json

    return report_json(punched=None, sheets=None, pages=0, findings=in_order(findings))


def proof_of(
    kit_file: Path | bytes, project_file: Given | None = None, *, on_progress: OnProgress = no_progress
) -> Proof:
    """Read a kit's file, or its bytes, back and measure it, against its project drafted anew where that is
    given, with the options that the kit was made with. Raises ProofError or FileError, and of a project
    ProjectError."""
    from handkit.proof.prover import Drafted, manifest_in, prove

    def anew(carried: Manifest | None) -> Drafted | None:
        manifest = None
        if project_file is not None:
            overrides = read_overrides(carried.origin.options) if carried else AS_WRITTEN
            manifest = manifest_in(make(project_file, overrides, on_progress=on_progress).pdf)
        on_progress("measuring")
        return Drafted(project_file.name, manifest) if project_file and manifest else None

    return prove(kit_file, anew, on_progress=on_progress)
