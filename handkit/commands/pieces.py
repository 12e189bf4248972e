"""`handkit pieces`: pieces with their holes, for another program.

In: a project file. Out: JSON or SVG.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from handkit.commands.common.ending import reporting_errors
from handkit.commands.common.options import OUTPUT, PROJECT, other_hand
from handkit.commands.common.output import refuse_overwriting, write_files, write_findings, write_output

if TYPE_CHECKING:
    from pathlib import Path

    from handkit.read.file.load import Given


@click.command()
@click.argument("project", **PROJECT)
@click.option("--format", "form", type=click.Choice(["json", "svg"]), required=True, help="JSON or SVG 1.1.")
@click.option("-o", "--output", **OUTPUT, metavar="FILE", help="Default: the terminal, as -.")
@other_hand
def pieces(project: Given, form: str, output: Path | None, *, mirrored: bool | None) -> None:
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
