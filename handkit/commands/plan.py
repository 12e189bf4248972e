"""`handkit plan`: the order of work.

In: a project file. Out: the plan for people, for a browser at the bench, for programs or a spreadsheet.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from handkit.commands.common.ending import reporting_errors
from handkit.commands.common.options import OUTPUT, PROJECT, other_hand, refuse_unknown, terminal_width
from handkit.commands.common.output import (
    refuse_overwriting,
    write_done,
    write_files,
    write_findings,
    write_output,
)

if TYPE_CHECKING:
    from pathlib import Path

    from handkit.read.file.load import Given


@click.command()
@click.argument("project", **PROJECT)
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
    project: Given,
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
