"""Progress: a line on a terminal that says what is being worked on, once it takes over a second.

In: what is being done, as it begins, and at what of how much. Out: a line on the error stream, and at the
end nothing: it is wiped, whatever ended the work. Where the stream is no terminal nothing is ever written.
"""

from __future__ import annotations

import os
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from typing import TextIO

from handkit.counting import OnProgress, no_progress
from handkit.interrupts import COLUMNS
from handkit.wording.quoting import escaped

# Seconds before the first word, and between one and the next.
AFTER = 1.0
EVERY = 0.5


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
        self.words = words

    def keep(self, over: threading.Event, after: float, every: float) -> None:
        """Show the words again and again until all is over."""
        wait = after
        while not over.wait(wait):
            wait = every
            if self.words:
                self.show(_in_columns(self.words, time.monotonic() - self.begun, _columns_of(self.out)))

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


def _in_columns(words: str, seconds: float, columns: int) -> str:
    """The words and how long it has taken so far, on one line of a terminal: the words cut where need be.

    >>> _in_columns("laying out sheets", 4.2, 22)
    'laying out shee… … 4 s'
    """
    words, taken = escaped(words), f" … {seconds:.0f} s"
    room = max(columns - len(taken), 1)
    return f"{words if len(words) <= room else words[: room - 1] + '…'}{taken}"


def _columns_of(out: TextIO) -> int:
    """What of a line may be written on without going on to the next."""
    with suppress(OSError, ValueError):
        columns = os.get_terminal_size(out.fileno()).columns
        return min(columns - 1, COLUMNS) if columns else COLUMNS
    return COLUMNS
