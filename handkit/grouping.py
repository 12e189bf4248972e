"""Grouping: things under what they have in common.

In: things in order, and what each is grouped by. Out: groups, in the order in which they begin.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable
from typing import TypeVar

T = TypeVar("T")
K = TypeVar("K", bound=Hashable)


def grouped(things: Iterable[T], by: Callable[[T], K]) -> dict[K, list[T]]:
    """Each group in the order of its things.

    >>> grouped([3, 8, 1, 6], by=lambda number: "even" if number % 2 == 0 else "odd")
    {'odd': [3, 1], 'even': [8, 6]}
    """
    groups: dict[K, list[T]] = {}
    for thing in things:
        groups.setdefault(by(thing), []).append(thing)
    return groups
