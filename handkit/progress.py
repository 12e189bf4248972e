"""Progress: a line on a terminal that says what is being worked on, once it takes over a second.

In: what is being done, as it begins. Out: a line on the error stream, and at the end nothing: it is
wiped, whatever ended the work. Where the stream is no terminal nothing is ever written.
"""

from __future__ import annotations

import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from typing import TextIO

from handkit.wording.quoting import escaped

# What is called with a few words as a piece of work begins.
OnProgress = Callable[[str], None]

# Seconds before the first word, and between one and the next.
AFTER = 1.0
EVERY = 0.5


def no_progress(_: str) -> None:
    """Show nothing."""


@contextmanager
def progress(
    stream: TextIO | None = None, *, after: float = AFTER, every: float = EVERY
) -> Iterator[OnProgress]:
    """What to call as each piece of work begins, while the work goes on."""
    out = sys.stderr if stream is None else stream
    if not out.isatty():
        yield no_progress
        return
    line = _Line(out)
    over = threading.Event()
    clock = threading.Thread(target=line.keep, args=(over, after, every), daemon=True)
    clock.start()
    try:
        yield line.begin
    finally:
        over.set()
        clock.join()
        line.wipe()


class _Line:
    """The line, and how much of it is to be wiped. One thread says what is begun, another shows it."""

    def __init__(self, out: TextIO) -> None:
        self.out = out
        self.words = ""
        self.shown = 0
        self.begun = time.monotonic()

    def begin(self, words: str) -> None:
        """What is worked on now."""
        self.words = escaped(words)

    def keep(self, over: threading.Event, after: float, every: float) -> None:
        """Show the words again and again until all is over."""
        wait = after
        while not over.wait(wait):
            wait = every
            if self.words:
                self.show(f"{self.words} … {time.monotonic() - self.begun:.0f} s")

    def show(self, text: str) -> None:
        """Over what stood there."""
        with suppress(OSError, ValueError):  # a terminal that has gone, or lacks a letter, misses nothing
            self.out.write(f"\r{text.ljust(self.shown)}\r")
            self.out.flush()
            self.shown = len(text)

    def wipe(self) -> None:
        """Leave an empty line, the cursor at its start."""
        if self.shown:
            self.show("")
