"""Reference: the keys of the project file as a page for makers.

In: the table of keys. Out: Markdown, a table for each schema. The
same table checks the file, so the page can't say anything else.
"""

from __future__ import annotations

from handkit.read.parts.part_kinds import KINDS
from handkit.read.schema.keys import STITCHING_KEYS, TABLES
from handkit.read.schema.rules import Key, Kind, TableSchema


def reference_markdown() -> str:
    """The reference of every key: what may be written, what it is when left out, what it is for.

    >>> print(reference_markdown().splitlines()[2])
    ## at the top
    """
    lead = (
        'Lengths are numbers in the file\'s `unit`, or text with its own: `"3.5 mm"`, `"2 1/4 in"`, '
        '`"6 oz"` (thickness only). Angles are degrees, counter-clockwise.'
    )
    return "\n\n".join([lead, *(_table_markdown(schema) for schema in TABLES.values())]) + "\n"


def _table_markdown(schema: TableSchema) -> str:
    title = schema.header if schema.header.startswith("at ") else f"`{schema.header}`"
    taken = STITCHING_KEYS if schema.name == "seam" else ()
    kinds = ("", *_kinds()) if schema.name == "part" else ()
    rows = [
        _row(key, "as [stitching]" if key.name in taken else _left_out(key)) for key in schema.keys.values()
    ]
    head = ["| key | value | left out | what for |", "|---|---|---|---|"]
    return "\n".join([f"## {title}", "", schema.why, "", *head, *rows, *kinds])


def _kinds() -> list[str]:
    """The kinds of parts: what each is for, its keys, what it drafts."""
    rows = [
        f"| {kind.value} | {row.why} | {', '.join((*row.needs, *row.keys))} | {row.drafts} |"
        for kind, row in KINDS.items()
    ]
    return [
        "| kind | what for | keys beside name and kind | a part called P drafts |",
        "|---|---|---|---|",
        *rows,
    ]


def _row(key: Key, left_out: str) -> str:
    cells = (f"`{key.name}`", key.allowed, left_out, key.why)
    return "| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |"


def _left_out(key: Key) -> str:
    """What it means to leave the key out."""
    if key.required:
        return "required"
    if key.unless:
        return key.unless
    match key.default:
        case None | "":
            return "none"
        case bool():
            return "true" if key.default else "false"
        case str():
            return key.default
        case _:
            return f"{key.default:g}" + (" mm" if key.kind is Kind.LENGTH else "")
