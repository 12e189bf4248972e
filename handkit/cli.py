"""The command line: click and nothing else. Exit codes: `commands/ending.py`.

All but click is imported when a command runs, so that each pays for its own road only, and `--help` for none.
"""

from __future__ import annotations

import atexit
import gc
import sys
from io import TextIOWrapper
from typing import TYPE_CHECKING, Any

import click

from handkit import __version__
from handkit.commands.arrange import arrange
from handkit.commands.draft import draft
from handkit.commands.ending import reporting_errors
from handkit.commands.options import (
    FILE,
    OUTPUT,
    other_hand,
    page_options,
    page_overrides,
    refuse_unknown,
    terminal_width,
    text_or_json,
    trial_option,
)
from handkit.commands.output import (
    Commands,
    refuse_overwriting,
    refuse_terminal,
    write_done,
    write_files,
    write_findings,
    write_output,
)
from handkit.commands.printer import printer
from handkit.commands.show import show
from handkit.interrupts import clearing_up
from handkit.wording.quoting import escaped

if TYPE_CHECKING:
    from pathlib import Path


# A command makes much and drops little, in no circles: looking for these at Python's usual pace costs
# it a twentieth of its time.
GARBAGE = (100_000, 20, 20)


@click.group(cls=Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="handkit")
def main() -> None:
    """Patterns for leather and cloth worked by hand.

    One project file in; full-scale templates with every stitch hole, and a plan with the order of
    work and the thread to cut, out. Start with: handkit sample orchard_pouch
    """
    gc.set_threshold(*GARBAGE)
    atexit.register(gc.freeze)  # no last look for garbage: the process gives all back at once
    if isinstance(sys.stdout, TextIOWrapper):  # a terminal that lacks a letter shows its number
        sys.stdout.reconfigure(errors="backslashreplace")


@main.command()
@click.argument("project", **FILE)
@click.option("-o", "--output", **OUTPUT, metavar="KIT.pdf", help="Default: beside it; - for a pipe.")
@click.option("--report", **OUTPUT, metavar="REPORT.json", help="Sheets, joins and findings as JSON.")
@page_options
@other_hand
@trial_option
def make(project: Path, output: Path | None, report: Path | None, **page: Any) -> None:
    """Print the kit: templates, lists and plan in one PDF."""
    from handkit import kit
    from handkit.progress import progress

    output = output or project.parent / f"{project.stem}-kit.pdf"
    with reporting_errors(report):
        refuse_overwriting(project, output, report)
        refuse_terminal(output)
        with progress() as on_progress:
            made = kit.make(project, page_overrides(**page), on_progress=on_progress)
        files = {output: made.pdf}
        if report:
            files[report] = made.report.encode()
        write_files(files)
        write_findings(made.made.findings)
        sheets = made.made.sheets
        templates = f"{len(sheets.sheets)} of them templates on {sheets.paper.name}"
        measured = f", {len(sheets.measured)} by measures" if sheets.measured else ""
        corrected = f" for the printer {sheets.correction.name} alone" if sheets.correction else ""
        print_it = f"print at 100 %{corrected}, then measure the square on page 1"
        write_done(f"{output}: {made.pages} pages, {templates}{measured}; {print_it}", files)


@main.command()
@click.argument("project", **FILE)
@text_or_json
@page_options
@other_hand
def check(project: Path, form: str, **page: Any) -> None:
    """Tell what is wrong or worth knowing, and how much room each item has; write nothing."""
    from handkit import kit
    from handkit.draw.export.check_text import check_text
    from handkit.draw.export.report_json import check_json
    from handkit.errors import ProjectError
    from handkit.findings import has_errors
    from handkit.progress import progress
    from handkit.wording.figures import METRIC

    with reporting_errors():
        try:
            with progress() as on_progress:
                made = kit.made_of(project, page_overrides(**page), on_progress=on_progress)
            findings, fits, sheets = made.findings, made.punched.pattern.item_fits, len(made.sheets.sheets)
            measured = len(made.sheets.measured)
            units = made.punched.project.units
        except ProjectError as refused:
            findings, fits, sheets, measured, units = refused.findings, (), None, 0, METRIC
        if form == "json":
            write_output(check_json(findings, fits))
        else:
            told = check_text(findings, fits, sheets, measured=measured, units=units, width=terminal_width())
            write_output(told)
    if has_errors(findings):
        sys.exit(1)


@main.command()
@click.argument("project", **FILE)
@click.option(
    "--format",
    "form",
    type=click.Choice(["text", "html", "json", "csv"]),
    default="text",
    help="For people, for a browser at the bench, for programs, or (the thread table) for a spreadsheet.",
)
@click.option(
    "-o", "--output", **OUTPUT, help="Default: the terminal, as -; of html PROJECT-bench.html beside it."
)
@click.option("--seam", "seams", multiple=True, metavar="NAME", help="A seam whole; may be said again.")
@click.option("--all", "whole", is_flag=True, help="Lists, threads, how to stitch, every step whole.")
@other_hand
def plan(  # noqa: PLR0913 - the options
    project: Path,
    form: str,
    output: Path | None,
    seams: tuple[str, ...],
    *,
    whole: bool,
    mirrored: bool | None,
) -> None:
    """Show the order of work, and a line for each seam."""
    from handkit import kit
    from handkit.draw.export.plan_csv import plan_csv
    from handkit.draw.export.plan_json import plan_json
    from handkit.draw.export.plan_text import plan_text
    from handkit.files import STANDARD_OUTPUT
    from handkit.overrides import PageOverrides

    if form != "text" and (seams or whole):
        raise click.UsageError("--seam and --all are for text: other forms have every seam")
    if form == "html":
        output = output or project.parent / f"{project.stem}-bench.html"
    if output == STANDARD_OUTPUT:
        output = None
    with reporting_errors():
        refuse_overwriting(project, output)
        article = kit.article_of(kit.punched_of(project, PageOverrides(mirrored=mirrored)))
        punched = article.punched
        planned = kit.plan_of(punched)
        refuse_unknown(seams, [name for seam in planned.seams for name in (seam.name, f"S{seam.order}")])
        width = None if output else terminal_width()
        if form == "text":
            text = plan_text(planned, punched, seams=seams, whole=whole, width=width)
        elif form == "html":
            from handkit.draw.export.bench_page import bench_page

            text = bench_page(planned, punched)
        else:
            text = {"json": plan_json, "csv": plan_csv}[form](planned, punched)
        write_findings((*punched.pattern.findings, *punched.findings, *article.findings, *planned.findings))
        if output is None:
            write_output(text)
        else:
            write_files({output: text.encode()})
            write_done(f"{output}: the plan", [output])


@main.command()
@click.argument("project", **FILE)
@click.option("--format", "form", type=click.Choice(["json", "svg"]), required=True, help="JSON or SVG 1.1.")
@click.option("-o", "--output", **OUTPUT, metavar="FILE", help="Default: the terminal, as -.")
@other_hand
def pieces(project: Path, form: str, output: Path | None, *, mirrored: bool | None) -> None:
    """Give the pieces with their holes to another program."""
    from handkit import kit
    from handkit.draw.export.pieces_json import pieces_json
    from handkit.draw.export.pieces_svg import pieces_svg
    from handkit.files import STANDARD_OUTPUT
    from handkit.overrides import PageOverrides

    with reporting_errors():
        punched = kit.punched_of(project, PageOverrides(mirrored=mirrored))
        text = (pieces_json if form == "json" else pieces_svg)(punched)
        write_findings((*punched.pattern.findings, *punched.findings))
        if output in (None, STANDARD_OUTPUT):
            write_output(text)
        else:
            refuse_overwriting(project, output)
            write_files({output: text.encode()})


@main.command()
@click.argument("kit_file", **FILE, metavar="KIT.pdf")
@click.argument("project", **FILE, required=False)
@text_or_json
def proof(kit_file: Path, project: Path | None, form: str) -> None:
    """Read a kit's file back and measure it, before paper is spent.

    Held to the list of what it shows that a kit carries; with PROJECT, to that drafted anew.
    """
    from handkit import kit
    from handkit.progress import progress
    from handkit.proof.report import proof_json, proof_text

    with reporting_errors():
        with progress() as on_progress:
            measured = kit.proof_of(kit_file, project, on_progress=on_progress)
        write_output((proof_json if form == "json" else proof_text)(measured))
    if not measured.passed:
        sys.exit(1)


@main.command()
@click.argument("name", required=False)
@click.option("-o", "--output", **FILE, metavar="FOLDER", help="Default: NAME, here.")
def sample(name: str | None, output: Path | None) -> None:
    """Put a sample project here, to print and to change; without NAME, list them."""
    from pathlib import Path

    from handkit.sample_files import copy_sample, sample_names

    with reporting_errors():
        if name is None:
            write_output("".join(f"{each}\n" for each in sample_names()))
        else:
            with clearing_up():
                written = copy_sample(name, output or Path(name))
            write_output("".join(f"{escaped(str(path))}\n" for path in written))


@main.command()
def keys() -> None:
    """Print every key of the project file, with what it takes."""
    from handkit.read.schema.reference import reference_markdown

    with reporting_errors():
        write_output(reference_markdown())


main.add_command(arrange)
main.add_command(draft)
main.add_command(show)
main.add_command(printer)
