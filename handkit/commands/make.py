"""`handkit make`: the kit, printed.

In: a project file. Out: one PDF, and a report of it where one is asked for.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from handkit.commands.common.ending import reporting_errors
from handkit.commands.common.options import (
    OUTPUT,
    PROJECT,
    other_hand,
    page_options,
    page_overrides,
    trial_option,
)
from handkit.commands.common.output import (
    refuse_overwriting,
    refuse_terminal,
    write_done,
    write_files,
    write_findings,
)
from handkit.commands.common.telling import progress
from handkit.commands.common.watching import watch_option

if TYPE_CHECKING:
    from pathlib import Path

    from handkit.kept.kept import Kept
    from handkit.read.file.load import Given


@click.command()
@click.argument("project", **PROJECT)
@click.option("-o", "--output", **OUTPUT, metavar="KIT.pdf", help="Default: beside it; - for a pipe.")
@click.option("--report", **OUTPUT, metavar="REPORT.json", help="Sheets, joins and findings as JSON.")
@watch_option
@page_options
@other_hand
@trial_option
def make(project: Given, output: Path | None, report: Path | None, kept: Kept, **page: Any) -> None:
    """Print the kit: templates, lists and plan in one PDF."""
    from handkit import kit

    output = output or project.parent / f"{project.stem}-kit.pdf"
    with reporting_errors(report):
        refuse_overwriting(project, output, report)
        refuse_terminal(output)
        with progress() as on_progress:
            made = kit.make(project, page_overrides(**page), on_progress=on_progress, kept=kept)
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
