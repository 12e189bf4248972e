"""`handkit sample`: a sample project, to print and to change.

In: its name. Out: its files in a folder of their own, or the names of all.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from handkit.commands.common.ending import reporting_errors
from handkit.commands.common.options import FILE
from handkit.commands.common.output import write_output
from handkit.interrupts import clearing_up
from handkit.wording.quoting import escaped

if TYPE_CHECKING:
    from pathlib import Path


@click.command()
@click.argument("name", required=False)
@click.option("-o", "--output", **FILE, metavar="FOLDER", help="Default: NAME, here.")
def sample(name: str | None, output: Path | None) -> None:
    """Put a sample project here, to print and to change; without NAME, list them."""
    from pathlib import Path

    from handkit.commands.common.sample_files import SAMPLES, copy_sample, sample_names

    with reporting_errors():
        if name is None:
            wide = max(map(len, sample_names()))
            rows = [
                f"{name:<{wide}}  {line.pages:>2} pages  {line.teaches}" for name, line in SAMPLES.items()
            ]
            write_output("".join(f"{row}\n" for row in rows))
        else:
            with clearing_up():
                written = copy_sample(name, output or Path(name))
            write_output("".join(f"{escaped(str(path))}\n" for path in written))
