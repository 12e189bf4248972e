"""Counting: what is worked on is told as it begins, which of how many it is.

In: things in order, whom to tell. Out: the things, one after the other. Who listens is not known here: on a
terminal the line of `progress.py`, else mostly nobody.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import TypeVar

T = TypeVar("T")

# What is called with a few words as a piece of work begins: which step, and after a colon what it is at.
OnProgress = Callable[[str], None]


def no_progress(_: str) -> None:
    """Show nothing."""


def step_of(words: str) -> str:
    """What of such words is the step.

    >>> step_of("punching: seam 3 of 8, rim")
    'punching'
    """
    return words.partition(": ")[0]


def counted(
    things: Sequence[T],
    on_progress: OnProgress,
    doing: str,
    name: Callable[[T], str] | None = None,
) -> Iterator[T]:
    """One thing after the other, telling as each begins which of how many it is, and its name.

    >>> list(counted(["rim", "lid"], print, "punching: seam", str))
    punching: seam 1 of 2, rim
    punching: seam 2 of 2, lid
    ['rim', 'lid']
    """
    for number, thing in enumerate(things, start=1):
        named = f", {name(thing)}" if name else ""
        on_progress(f"{doing} {number} of {len(things)}{named}")
        yield thing
