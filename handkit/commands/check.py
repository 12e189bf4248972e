"""`handkit check`: what is wrong with a project or worth knowing of it.

In: a project file. Out: findings and the room of each item; no file.
"""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Any

import click

from handkit.commands.common.ending import FAULTY, reporting_errors
from handkit.commands.common.options import (
    PROJECT,
    other_hand,
    page_options,
    page_overrides,
    terminal_width,
    text_or_json,
)
from handkit.commands.common.output import write_findings, write_output
from handkit.commands.common.telling import progress
from handkit.commands.common.watching import watch_option

if TYPE_CHECKING:
    from handkit.kept.kept import Kept
    from handkit.read.file.load import Given


@click.command()
@click.argument("project", **PROJECT)
@text_or_json
@watch_option
@page_options
@other_hand
def check(project: Given, form: str, kept: Kept, **page: Any) -> None:
    """Tell what is wrong or worth knowing, and how much room each item has; write nothing."""
    from handkit import kit
    from handkit.draw.export.check_text import check_text
    from handkit.draw.export.report_json import check_json
    from handkit.errors import ProjectError
    from handkit.findings import has_errors
    from handkit.wording.figures import METRIC

    with reporting_errors():
        try:
            with progress() as on_progress:
                made = kit.made_of(project, page_overrides(**page), on_progress=on_progress, kept=kept)
            findings, fits, sheets = made.findings, made.punched.pattern.item_fits, len(made.sheets.sheets)
            measured = len(made.sheets.measured)
            units = made.punched.project.units
        except ProjectError as refused:
            findings, fits, sheets, measured, units = refused.findings, (), None, 0, METRIC
        if form == "json":
            write_output(check_json(findings, fits))
        else:
            write_findings(findings, beside=False)
            told = check_text(findings, fits, sheets, measured=measured, units=units, width=terminal_width())
            write_output(told)
    if has_errors(findings):
        sys.exit(FAULTY)
