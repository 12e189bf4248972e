"""`handkit draft`: a project written out by hand, to be changed piece by piece.

In: a project file. Out: another one without parts. A file that is there is replaced by force alone, for it
may have been changed since.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from handkit.commands.common.ending import reporting_errors
from handkit.commands.common.options import OUTPUT, PROJECT
from handkit.commands.common.output import refuse_existing, write_done, write_files, write_findings

if TYPE_CHECKING:
    from pathlib import Path

    from handkit.read.file.load import Given


@click.command()
@click.argument("project", **PROJECT)
@click.option(
    "-o", "--output", **OUTPUT, metavar="FULL.toml", help="Default: PROJECT-by-hand.toml beside it."
)
def draft(project: Given, output: Path | None) -> None:
    """Write the project out by hand: what its parts draft as plain pieces, lines, seams, openings."""
    from handkit.commands.common.by_hand import by_hand

    output = output or project.parent / f"{project.stem}-by-hand.toml"
    with reporting_errors():
        refuse_existing(output)
        written = by_hand(project, output.parent)
        write_files({output: written.text.encode()})
        write_findings(written.findings)
        write_done(f"{output}: {project.name} by hand", [output])
