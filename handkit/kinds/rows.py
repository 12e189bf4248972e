"""Tables with one row a kind.

In: the kinds, an enum, and a row for each. Out: a table that can't be changed; a kind without a row
is told when the table is made, at import, and not when the first project has one.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType
from typing import TypeVar

K = TypeVar("K", bound=StrEnum)
R = TypeVar("R")


def table(kinds: type[K], rows: Mapping[K, R]) -> Mapping[K, R]:
    """The rows in the order of the kinds. Raises ValueError where a kind has none.

    >>> Way = StrEnum("Way", "LEFT RIGHT BOTH")
    >>> table(Way, {Way.LEFT: 1})
    Traceback (most recent call last):
    ValueError: no row for right, both of Way
    """
    missing = [kind.value for kind in kinds if kind not in rows]
    if missing:
        raise ValueError(f"no row for {', '.join(missing)} of {kinds.__name__}")
    return MappingProxyType({kind: rows[kind] for kind in kinds})
