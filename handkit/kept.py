"""Kept: what long work gave, for the next run of a command that is run again and again.

In: what a piece of work is made from, and the work. Out: its product; that of the run before where it was
made from the same. The same is what compares equal: records are frozen, so that nobody has changed one since.
A run that is the only one keeps its own products to its end, and no more.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

T = TypeVar("T")


class Kept:
    """Products with what they were made from: of this run, and of the one before."""

    def __init__(self) -> None:
        self._now: list[tuple[Any, Any]] = []
        self._before: list[tuple[Any, Any]] = []

    def next_run(self) -> None:
        """A run begins; what the last one did not need is let go."""
        self._before, self._now = self._now, []

    def of(self, made_from: Any, work: Callable[[], T]) -> T:
        """What the work gives.

        >>> kept = Kept()
        >>> kept.of((40, 30), lambda: "laid out"), kept.of((40, 30), lambda: "laid out anew")
        ('laid out', 'laid out')
        """
        for known in (*self._now, *self._before):
            if known[0] == made_from:
                break
        else:
            known = (made_from, work())
        if all(known is not each for each in self._now):
            self._now.append(known)
        product: T = known[1]
        return product
