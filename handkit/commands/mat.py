"""`handkit mat`: the sheet that things are laid on for a photo.

In: words of the command line. Out: a page to print.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from handkit.commands.common.ending import reporting_errors
from handkit.commands.common.options import OUTPUT, PAPER, mat_paper, printer_named
from handkit.commands.common.output import refuse_overwriting, refuse_terminal, write_done, write_files

if TYPE_CHECKING:
    from pathlib import Path

    from handkit.paper import Paper


@click.command()
@click.option("-o", "--output", **OUTPUT, metavar="MAT.pdf", help="Default: mat.pdf, here.")
@click.option("--paper", **PAPER | {"type": mat_paper})
@click.option("--printer", "name", metavar="NAME", help="Correct for a printer that was measured.")
def mat(output: Path | None, paper: Paper, name: str | None) -> None:
    """Print the mat that things are photographed on, to be traced."""
    from pathlib import Path

    from handkit import __version__
    from handkit.draw.model.fonts import shipped_fonts
    from handkit.draw.pages.mat_page import mat_pdf
    from handkit.manifest.listed import Origin

    output = output or Path("mat.pdf")
    with reporting_errors():
        refuse_overwriting(None, output)
        refuse_terminal(output)
        correction = printer_named(name, "--printer").needed if name is not None else None
        data = mat_pdf(paper, shipped_fonts(), correction, origin=Origin(__version__))
        write_files({output: data})
        told = "print its last page at 100 % on blue or green paper, then measure both bars"
        write_done(f"{output}: the mat for {paper.name}; {told}", [output])
