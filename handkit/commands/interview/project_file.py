"""The project file of an interview: tables of keys, a comment to every line.

In: tables as a file has them, with what is to be said of them. Out: the text. What no comment is given for
says what its key is for, in the words of the table of keys.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import msgspec

from handkit.read.schema.keys import TABLES

_COLUMN = 34  # where comments begin, if the line leaves room


class FileTable(msgspec.Struct, frozen=True):
    """One table: its header in the file, the schema of its keys, each key's value as TOML, words above it."""

    header: str
    schema: str
    values: Mapping[str, str]
    above: str = ""
    comments: Mapping[str, str] = {}


def project_text(lead: Sequence[str], tables: Sequence[FileTable]) -> str:
    """The file: what leads it as comments, then its tables."""
    lines = [f"# {line}" for line in lead]
    for table in tables:
        lines += [
            "",
            *([f"# {table.above}"] if table.above else []),
            *([table.header] if table.header else []),
        ]
        for key, value in table.values.items():
            why = table.comments.get(key) or TABLES[table.schema].keys[key].why
            lines.append(f"{f'{key} = {value}':<{_COLUMN}}  # {why}")
    return "\n".join([*lines, ""])
