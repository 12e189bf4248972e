"""`handkit proof`: a kit's file read back and measured.

In: a kit, with its project or without. Out: what was measured; exit code 1 where it failed.
"""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

import click

from handkit.commands.common.ending import FAULTY, reporting_errors
from handkit.commands.common.options import FILE, PROJECT, text_or_json
from handkit.commands.common.output import write_output
from handkit.commands.common.telling import progress

if TYPE_CHECKING:
    from pathlib import Path

    from handkit.read.file.load import Given


@click.command()
@click.argument("kit_file", **FILE, metavar="KIT.pdf")
@click.argument("project", **PROJECT, required=False)
@text_or_json
def proof(kit_file: Path, project: Given | None, form: str) -> None:
    """Read a kit's file back and measure it, before paper is spent.

    Held to the list of what it shows that a kit carries; with PROJECT, to that drafted anew.
    """
    from handkit import kit
    from handkit.proof.report import proof_json, proof_text

    with reporting_errors():
        with progress() as on_progress:
            measured = kit.proof_of(kit_file, project, on_progress=on_progress)
        write_output((proof_json if form == "json" else proof_text)(measured))
    if not measured.passed:
        sys.exit(FAULTY)
