"""Reference: the keys of the project file as a page for makers.

In: the table of keys; a word to look for. Out: plain text for a terminal, a key with its example a paragraph;
or Markdown, a table for each schema. The same table checks the file, so neither can say anything else.
"""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import wrap

from handkit.read.parts.part_kinds import KINDS
from handkit.read.parts.promises import KindRow
from handkit.read.project import PartKind
from handkit.read.schema.examples import example
from handkit.read.schema.keys import STITCHING_KEYS, TABLES
from handkit.read.schema.rules import Key, Kind, TableSchema
from handkit.wording.quoting import words


def reference_markdown() -> str:
    """The reference of every key: what may be written, what it is when left out, what it is for.

    >>> print(reference_markdown().splitlines()[2])
    ## at the top
    """
    lead = (
        'Lengths are numbers in the file\'s `unit`, or text with its own: `"3.5 mm"`, `"2 1/4 in"`, '
        '`"6 oz"` (thickness only). A number in quotes is read as without them; in a file in inches a '
        'fraction needs no unit: `"2 1/4"`. Angles are degrees, counter-clockwise.'
    )
    return "\n\n".join([lead, *(_table_markdown(schema) for schema in TABLES.values())]) + "\n"


def reference_text(word: str = "", width: int = 100) -> str:
    """The keys in which a word occurs, all without one: in its name, its table, what it takes or is for. Of
    a part's key the kinds that have it. "" where there is none.

    >>> print(reference_text("spool", 78))
    [stitching] spool = "25 m"
        how much thread a spool holds: a number of metres from 1 to 10000, or text
        with its unit such as "25 m"; left out: not looked at.
    <BLANKLINE>
    """
    told = ["\n".join(_paragraph(schema, key, width)) for schema, key in _found(word.lower())]
    return "\n\n".join(told) + "\n" * bool(told)


def _found(word: str) -> Iterator[tuple[TableSchema, Key]]:
    """The keys that a word is about; where some are called so, these alone, and those of the
    kind of part that is."""
    known = [
        (schema, key)
        for schema in TABLES.values()
        for key in schema.keys.values()
        if schema.name != "seam" or key.name not in STITCHING_KEYS  # which stand once
    ]
    named = [(schema, key) for schema, key in known if word in (key.name, schema.name)]
    if named:  # a kind of part may be called as a key is: "flap"
        named = [each for each in known if each in named or word in _kinds_with(*each)]
    for schema, key in named or known:
        told = f"{key.name} {schema.header} {key.allowed} {key.why} {' '.join(_kinds_with(schema, key))}"
        if word in told.lower():
            yield schema, key


def _kinds_with(schema: TableSchema, key: Key) -> list[str]:
    if schema.name != "part":
        return []
    return [kind.value for kind, row in KINDS.items() if key.name in (*row.needs, *row.keys)]


def _with_words(kind: str, key: Key) -> str:
    """A kind of part, with the words that it alone takes."""
    own = KINDS[PartKind(kind)].words.get(key.name)
    return f"{kind} ({words(own)})" if own else kind


def _paragraph(schema: TableSchema, key: Key, width: int) -> list[str]:
    header = "" if schema.header.startswith(("at ", key.name)) else f"{schema.header} "
    left_out = "required" if key.required else f"left out: {_left_out(key)}"
    kinds = [_with_words(kind, key) for kind in _kinds_with(schema, key)]
    of = f" Of {', '.join(kinds)}." if kinds else ""
    text = f"{key.why}: {key.allowed}; {left_out}.{of}"
    indent = "    "
    told = wrap(text, width, initial_indent=indent, subsequent_indent=indent, break_on_hyphens=False)
    return [f"{header}{example(key)}", *told]


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
        f"| {kind.value} | {row.why} | {', '.join(_with_choices(row))} | {row.drafts} |"
        for kind, row in KINDS.items()
    ]
    return [
        "| kind | what for | keys beside name and kind | a part called P drafts |",
        "|---|---|---|---|",
        *rows,
    ]


def _with_choices(row: KindRow) -> list[str]:
    """The keys of a kind, each with the words that it alone takes."""
    keys = (*row.needs, *row.keys)
    return [f"{key} ({words(row.words[key])})" if key in row.words else key for key in keys]


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
