"""The road: eight steps in order, and the library's front door.

In: the path of a project file. Out: the product of a step, or a finished kit.

                          ┌→ assemble ─┐
    read → draft → punch ─┼→ stitch ───┼→ draw         proof reads the drawn file, and nothing else
                          └→ sheets ───┘

Each step is imported when it is called, so that a command pays for its own road only.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

import msgspec

from handkit import __version__
from handkit.errors import FileError, PaperError, ProjectError, ProofError, refuse_errors
from handkit.findings import Finding, has_errors, in_order
from handkit.kinds.pages import Drawn, Pictured, Straights, Windows
from handkit.manifest.listed import Origin
from handkit.messages.message import Severity
from handkit.paper import Layout, Paper, paper_named
from handkit.printers.correction import Printer
from handkit.progress import OnProgress, no_progress

if TYPE_CHECKING:
    from handkit.assemble.article import Article
    from handkit.proof.proof import Proof
    from handkit.punch.punched import Punched
    from handkit.read.project import PageOptions, Project
    from handkit.sheets.laid import Sheets
    from handkit.stitch.plan import StitchPlan


class PageOverrides(msgspec.Struct, frozen=True):
    """What of the page is set in place of what the file says; None leaves the file's word."""

    paper: Paper | None = None
    edge: float | None = None
    margin: float | None = None
    overlap: float | None = None
    windows: Windows | None = None
    draw: Drawn | None = None
    straights: Straights | None = None
    measured: bool | None = None
    tries: int | None = None
    printer: Printer | None = None  # that all is drawn for


AS_WRITTEN = PageOverrides()


class Made(msgspec.Struct, frozen=True):
    """A project taken as far as paper: everything but the ink."""

    punched: Punched
    article: Article
    plan: StitchPlan
    sheets: Sheets
    findings: tuple[Finding, ...]


class Kit(msgspec.Struct, frozen=True):
    """A finished kit: the PDF's bytes, its pages, and the report as JSON text."""

    pdf: bytes
    pages: int
    report: str
    made: Made


def punched_of(project_file: Path, *, on_progress: OnProgress = no_progress) -> Punched:
    """Read, draft and punch. Raises ProjectError with every finding of the step that stopped, and with those
    errors of punching that have nothing to do with one of drafting."""
    from handkit.read.reader import read_project

    on_progress("reading")
    return punched_from(read_project(project_file), on_progress=on_progress)


def punched_from(project: Project, *, on_progress: OnProgress = no_progress) -> Punched:
    """Draft and punch a project that is read."""
    from handkit.draft.drafter import draft
    from handkit.punch.puncher import punch

    on_progress("drafting")
    try:
        pattern = draft(project)
    except ProjectError as refused:
        raise _with_those_of_punching(refused) from None
    on_progress("punching")
    return punch(pattern)


def _with_those_of_punching(refused: ProjectError) -> ProjectError:
    """The errors of drafting together with those that punching finds in what they leave untouched."""
    from handkit.draft.pattern import Pattern
    from handkit.draft.untouched import untouched
    from handkit.punch.puncher import punch

    reached = refused.reached
    if not isinstance(reached, Pattern):
        return refused
    try:
        punch(untouched(reached, refused.findings))
    except ProjectError as later:
        errors = (each for each in later.findings if each.severity is Severity.ERROR)
        return ProjectError((*refused.findings, *errors), reached)
    return refused


def article_of(punched: Punched) -> Article:
    """The article put together: where everything lies, and what is in the way of what."""
    from handkit.assemble.assembler import assemble

    return assemble(punched)


def plan_of(punched: Punched) -> StitchPlan:
    """Stitch: order, needles' way, thread, lists."""
    from handkit.stitch.planner import plan

    return plan(punched)


def sheets_of(punched: Punched, overrides: PageOverrides = AS_WRITTEN) -> Sheets:
    """What lies where on which sheet."""
    from handkit.sheets.layout import lay_out

    page = _overridden(punched.project.page, overrides)
    return lay_out(
        punched,
        paper=page.paper,
        edge=page.edge,
        margin=page.margin,
        overlap=page.overlap,
        layout=page.layout,
        printer=overrides.printer,
    )


def made_of(
    project_file: Path, overrides: PageOverrides = AS_WRITTEN, *, on_progress: OnProgress = no_progress
) -> Made:
    """All that is decided before drawing; raises ProjectError where anything stops the work. `on_progress`
    is called with what is begun."""
    from handkit.draw.model.fonts import missing_glyphs

    punched = punched_of(project_file, on_progress=on_progress)
    on_progress("planning the work")
    article = article_of(punched)
    punched = article.punched
    plan = plan_of(punched)
    on_progress("laying out sheets")
    sheets = sheets_of(punched, overrides)
    project = punched.project
    found = (project, punched.pattern, punched, article, plan, sheets)
    findings = [finding for product in found for finding in product.findings]
    return Made(punched, article, plan, sheets, refuse_errors([*findings, *missing_glyphs(project)]))


def make(
    project_file: Path, overrides: PageOverrides = AS_WRITTEN, *, on_progress: OnProgress = no_progress
) -> Kit:
    """The whole road: a kit to print."""
    from handkit.draw.export.report_json import report_json
    from handkit.draw.kit_pdf import kit_pdf

    made = made_of(project_file, overrides, on_progress=on_progress)
    on_progress("drawing")
    origin = Origin(__version__, _written(overrides))
    drawn = kit_pdf(made.punched, made.plan, made.sheets, made.article, made.findings, origin=origin)
    report = report_json(punched=made.punched, sheets=made.sheets, pages=drawn.pages, findings=made.findings)
    return Kit(drawn.data, drawn.pages, report, made)


class Shown(msgspec.Struct, frozen=True):
    """Pictures of the article as the bytes of a file, and what there is to tell."""

    data: bytes
    findings: tuple[Finding, ...]


def show(
    project_file: Path, form: Pictured = Pictured.PDF, *, on_progress: OnProgress = no_progress
) -> Shown:
    """Pictures of the article put together, with errors as far as it goes.

    Raises ProjectError where nothing can be drawn, FileError where PNG can't be made here.
    """
    from handkit.assemble.section import sections_of
    from handkit.draw.article.files import article_pdf, article_svg

    article, findings = reached_article(project_file, on_progress=on_progress)
    on_progress("drawing")
    sections = sections_of(article)
    if form is Pictured.SVG:
        return Shown(article_svg(article, sections, findings).encode(), findings)
    pdf = article_pdf(article, sections, findings)
    return Shown(_png(pdf) if form is Pictured.PNG else pdf, findings)


def reached_article(
    project_file: Path, *, on_progress: OnProgress = no_progress
) -> tuple[Article, tuple[Finding, ...]]:
    """The article as far as it goes, and what there is to tell: up to the first step with an error, for
    what later ones would find may follow from it. Raises ProjectError where nothing can be drawn."""
    from handkit.assemble.assembler import assemble
    from handkit.draft.drafter import draft
    from handkit.punch.puncher import punch
    from handkit.read.reader import read_project

    on_progress("reading")
    product, told = _as_far_as_it_goes(read_project, project_file)
    on_progress("putting together")
    for step in (draft, punch, assemble):
        product, found = _as_far_as_it_goes(step, product)
        told += () if has_errors(told) else found
    on_progress("planning the work")
    for planned in (plan_of, sheets_of):
        told += () if has_errors(told) else _told_by(planned, product.punched)
    return product, in_order(told)


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


def _png(pdf: bytes) -> bytes:
    """All pages as one picture, by a renderer that is an extra. Raises FileError without it."""
    try:
        from handkit.draw.export.pages_png import pages_png
    except ImportError:
        raise FileError(
            "can't draw PNG: its renderer isn't installed; pip install 'handkit[png]', or name a .pdf or .svg"
        ) from None
    return pages_png(pdf)


def refusal_report(findings: tuple[Finding, ...]) -> str:
    """The report of a project that can't be made: its findings alone."""
    from handkit.draw.export.report_json import report_json

    return report_json(punched=None, sheets=None, pages=0, findings=in_order(findings))


def proof_of(kit_file: Path) -> Proof:
    """Read a kit's file back and measure it. Raises ProofError or FileError."""
    from handkit.proof.prover import prove

    return prove(kit_file)


def _written(overrides: PageOverrides) -> dict[str, str | float | bool]:
    """What is set in place of what the file says, as a kit's manifest has it; `_read` is the way back."""
    given = {name: value for name, value in msgspec.to_builtins(overrides).items() if value is not None}
    paper = {"paper": overrides.paper.name} if overrides.paper else {}
    printer = {"printer": msgspec.json.encode(overrides.printer).decode()} if overrides.printer else {}
    return given | paper | printer


def _read(options: dict[str, str | float | bool]) -> PageOverrides:
    """Raises ProofError for what no kit has."""
    try:
        paper = {"paper": paper_named(str(options["paper"]))} if "paper" in options else {}
        printer = {"printer": msgspec.json.decode(str(options["printer"]))} if "printer" in options else {}
        return msgspec.convert(options | paper | printer, PageOverrides, strict=True)
    except (msgspec.MsgspecError, PaperError) as error:
        raise ProofError("found a list of what it shows with options that handkit doesn't have") from error


def _overridden(page: PageOptions, overrides: PageOverrides) -> PageOptions:
    """The page of the file, with what is set in its stead."""

    def chosen(of: PageOptions | Layout, *names: str) -> dict[str, Any]:
        given = {name: getattr(overrides, name) for name in names}
        return {name: getattr(of, name) if value is None else value for name, value in given.items()}

    layout = Layout(**chosen(page.layout, *Layout.__struct_fields__))
    ends = chosen(page, "paper", "edge", "margin", "overlap")
    return msgspec.structs.replace(page, layout=layout, **ends)
