"""Listing: a section of a list as data, before it is set on pages.

In: columns, records. Out: the texts of each cell.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

import msgspec

Row = tuple[str, ...]


class Column(msgspec.Struct, frozen=True):
    """A column: its head, its share of a page's width, its text of a record; figures stand to the
    right."""

    head: str
    share: float
    text: Callable[[Any], str] = str
    right: bool = False


class Listing(msgspec.Struct, frozen=True):
    """A headed section: a table, texts below it. One with neither is left out."""

    title: str
    columns: tuple[Column, ...] = ()
    rows: tuple[Row, ...] = ()
    texts: tuple[str, ...] = ()

    def alike(self) -> object:
        """The same for telling whether it is the same: of columns all but what made the rows."""
        heads = [(each.head, each.share, each.right) for each in self.columns]
        return self.title, heads, self.rows, self.texts


def figures(head: str, share: float, text: Callable[[Any], str] = str) -> Column:
    """A column of figures."""
    return Column(head, share, text, right=True)


def rows_of(columns: Iterable[Column], records: Iterable[object]) -> tuple[Row, ...]:
    """The texts of each record."""
    texts = [column.text for column in columns]
    return tuple(tuple(text(record) for text in texts) for record in records)


def listing(
    title: str,
    columns: tuple[Column, ...],
    records: Iterable[object],
    *texts: str,
) -> Listing:
    """A section with a table; nothing of it where there is no record."""
    rows = rows_of(columns, records)
    return Listing(title, columns, rows, texts) if rows else Listing(title)
