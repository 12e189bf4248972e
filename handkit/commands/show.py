"""`handkit show`: the article put together, in pictures, before anything is printed.

In: a project file, with errors or without. Out: a picture file.
"""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

import click

from handkit.commands.common.ending import FAULTY, fail, reporting_errors, write_refusal
from handkit.commands.common.options import PROJECT, other_hand, picture_form, picture_options
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
    from handkit.kinds.pages import Pictured
    from handkit.read.file.load import Given


@click.command()
@click.argument("project", **PROJECT)
@watch_option
@picture_options
@other_hand
def show(
    project: Given, output: Path | None, form: Pictured | None, kept: Kept, *, mirrored: bool | None
) -> None:
    """Draw the finished article: front, back, layer by layer, and sections.

    A project with errors is drawn as far as it goes, with the faults marked.
    """
    from handkit.commands.common import shown as pictures
    from handkit.errors import ProjectError
    from handkit.findings import has_errors
    from handkit.overrides import PageOverrides

    output = output or project.parent / f"{project.stem}-article.pdf"
    form = picture_form(output, form)
    with reporting_errors():
        refuse_overwriting(project, output)
        refuse_terminal(output)
        try:
            with progress() as on_progress:
                asked = PageOverrides(mirrored=mirrored)
                shown = pictures.show(project, form, asked, on_progress=on_progress, kept=kept)
        except ProjectError as refused:
            write_refusal(refused.findings)
            fail(f"{project} can't be drawn until the errors above are mended")
        write_files({output: shown.data})
        write_findings(shown.findings)
        far = ", as far as it goes" if has_errors(shown.findings) else ""
        write_done(f"{output}: the article put together{far}", [output])
    if far:
        sys.exit(FAULTY)
