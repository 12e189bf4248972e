"""`handkit keys`: every key of the project file.

In: nothing. Out: the page of keys.
"""

from __future__ import annotations

import click

from handkit.commands.common.ending import reporting_errors
from handkit.commands.common.output import write_output


@click.command()
def keys() -> None:
    """Print every key of the project file, with what it takes."""
    from handkit.read.schema.reference import reference_markdown

    with reporting_errors():
        write_output(reference_markdown())
