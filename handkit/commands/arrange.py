"""`handkit arrange`: ways to lay the parts that the file gives no places; one of them written into a file.

In: a project file. Out: pictures of up to five ways, or a project file with places.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from handkit.commands.common.ending import reporting_errors
from handkit.commands.common.options import OUTPUT, PROJECT, picture_form
from handkit.commands.common.output import (
    refuse_existing,
    refuse_overwriting,
    refuse_terminal,
    write_done,
    write_files,
)
from handkit.commands.common.telling import progress

if TYPE_CHECKING:
    from pathlib import Path

    from handkit.read.file.load import Given


@click.command()
@click.argument("project", **PROJECT)
@click.option(
    "-o",
    "--output",
    **OUTPUT,
    metavar="FILE",
    help="Default: PROJECT-ways.pdf, or with --take PROJECT-arranged.toml, beside it.",
)
@click.option("--take", type=click.IntRange(1), metavar="N", help="Write the places of way N into a file.")
def arrange(project: Given, output: Path | None, take: int | None) -> None:
    """Draw ways to lay the parts that have no places, or write one of them.

    A base with rectangle = "arranged" is as large as its parts need; what has a place keeps it.
    """
    from handkit.commands.common.arrange_ways import pictures_of, ways_of, written_way

    output = output or project.parent / f"{project.stem}-{'ways.pdf' if take is None else 'arranged.toml'}"
    form = picture_form(output) if take is None else None
    with reporting_errors():
        if take is None:
            refuse_overwriting(project, output)
            refuse_terminal(output)
        else:
            refuse_existing(output)
        with progress() as on_progress:
            ways = ways_of(project, on_progress=on_progress)
        if take is not None and take > len(ways):
            raise click.BadParameter(f"found {take}; allowed: 1 to {len(ways)}", param_hint="--take")
        if form is not None:
            write_files({output: pictures_of(ways, form)})
            write_done(f"{output}: ways to arrange it; --take writes one", [output])
            for number, way in enumerate(ways, start=1):
                write_done(f"{number}: {way.told}", [output])
        elif take is not None:
            write_files({output: written_way(project, ways[take - 1]).encode()})
            write_done(f"{output}: {ways[take - 1].told}", [output])
