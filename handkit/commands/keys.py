"""`handkit keys`: every key of the project file, or those that a word is about.

In: a word, or nothing. Out: the keys for a terminal, as a page, or as a schema for editors.
"""

from __future__ import annotations

import click

from handkit.commands.common.ending import fail, reporting_errors
from handkit.commands.common.options import terminal_width
from handkit.commands.common.output import write_output


@click.command()
@click.argument("word", required=False)
@click.option(
    "--format",
    "form",
    type=click.Choice(["text", "markdown", "json-schema"]),
    default="text",
    help="For a terminal, a page, or an editor that completes and checks.",
)
def keys(word: str | None, form: str) -> None:
    """Tell the keys of the project file: what each takes, when left out, an example.

    With WORD those that it is about: a key, a table such as seam, a kind of part, a material.
    """
    from handkit.findings import nearest
    from handkit.read.schema.json_schema import json_schema
    from handkit.read.schema.keys import TABLES
    from handkit.read.schema.reference import reference_markdown, reference_text

    if word and form != "text":
        raise click.UsageError("WORD is for text: other forms have every key")
    with reporting_errors():
        if form != "text":
            write_output(json_schema() if form == "json-schema" else reference_markdown())
            return
        told = reference_text(word or "", terminal_width() or 100)
        if not told:
            near = nearest(word or "", sorted({key for schema in TABLES.values() for key in schema.keys}))
            fail(f"no key is about {word!r}" + (f"; did you mean {near}?" if near else ""))
        write_output(told)
