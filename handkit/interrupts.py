"""Interrupts: Ctrl-C ends the command with one line, and with nothing left that was begun.

In: the signal. Out: exit code 130, as shells count it. Mostly the process ends then and there: an exception
may be raised amid an import or a library's own code, where it is lost or turned into another. While files
are written it ends by an exception all the same, which clears them away.
"""

from __future__ import annotations

import os
import signal
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from types import FrameType
from typing import NoReturn

INTERRUPTED = 128 + signal.SIGINT
COLUMNS = 79  # of a line of progress that may stand there, at the most


def listen() -> None:
    """Take over Python's own way, if whoever started the command has not set another."""
    if signal.getsignal(signal.SIGINT) is signal.default_int_handler:
        signal.signal(signal.SIGINT, _end)


@contextmanager
def clearing_up() -> Iterator[None]:
    """Meanwhile an interrupt raises SystemExit with that code."""
    if signal.getsignal(signal.SIGINT) is not _end:
        yield
        return
    signal.signal(signal.SIGINT, _raise)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, _end)


def tell_interrupted() -> None:
    """The one line, over that of the progress on a terminal."""
    with suppress(OSError):
        line = f"\r{'interrupted'.ljust(COLUMNS)}\n" if os.isatty(2) else "interrupted\n"
        os.write(2, line.encode())


def _end(_number: int, _frame: FrameType | None) -> NoReturn:
    tell_interrupted()
    os._exit(INTERRUPTED)


def _raise(_number: int, _frame: FrameType | None) -> NoReturn:
    raise SystemExit(INTERRUPTED)
