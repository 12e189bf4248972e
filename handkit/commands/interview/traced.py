"""Traced: the things of a file that a photo was traced into, in place of sizes that are asked for.

In: the path of a file of things. Out: its things with their extents in mm; their outlines stay in the file,
which the project names.
"""

from __future__ import annotations

from pathlib import Path

from handkit.commands.interview.typed import Typed
from handkit.commands.interview.wanted import ToldThing
from handkit.errors import FileError, ProjectError
from handkit.findings import has_errors
from handkit.read.entries.items import read_items
from handkit.read.entries.tables import tables, top_of
from handkit.read.file.load import file_text


def traced_things(path: Path) -> tuple[ToldThing, ...]:
    """The things of a file. Raises FileError where it can't be read or has none, ProjectError with all that
    is wrong with it."""
    top = top_of("things", file_text(path, file=str(path)), file=str(path), folder=path.parent)
    items = read_items(tables(top, "item"), ())
    if has_errors(top.location.file.findings):
        raise ProjectError(top.location.file.findings)
    if not items:
        raise FileError(f"{path}: there is no [[item]] in it; name a file that handkit trace has written")
    return tuple(
        ToldThing(
            item.name,
            _measured(item.width),
            None if item.diameter is not None else _measured(item.thickness),
            _measured(item.length),
            traced=True,
            cutting="bare" if item.bares_edge else item.cutting or "",
            handle=(None, None)
            if item.handle is None
            else (_measured(item.handle[1]), _measured(item.handle[2])),
            blade=None if item.blade is None else _measured(item.blade),
        )
        for item in items
    )


def _measured(length: float) -> Typed:
    return Typed(length, "", "")
