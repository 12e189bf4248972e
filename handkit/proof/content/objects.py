"""Objects: what all reading of a PDF's objects shares: how a parser is listened to, numbers, boxes.

In: objects of pypdf's, which parses and no more: it is told to be strict, and what it mends all the same,
with a word to its log, is refused too. Whatever it raises on a broken file becomes ProofError. What a file
may ask for is counted by one `Allowance` for each kind of work.
"""

from __future__ import annotations

import logging
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any, TypeGuard

import msgspec
from pypdf.errors import DependencyError, FileNotDecryptedError

from handkit.errors import ProofError

# No drawing has a number like this.
MOST_NUMBER = 1e12

ENCRYPTED = "found an encrypted file; allowed: a PDF that opens without a password"
BROKEN = "found a broken file: it can't be read as a PDF"

# What pypdf says of any file written for the web, whose first table of objects begins within the others
# (ISO 32000-1, annex F). Where such a table is wrong, it raises.
SOUND = "Xref table not zero-indexed"


class Allowance(msgspec.Struct):
    """What a file may still ask for: one for all of it, spent as it goes; `refusal` is what more of it is."""

    left: int
    refusal: str = ""

    def take(self, count: int) -> bool:
        """Whether there are so many left, which are then gone."""
        self.left -= count
        return self.left >= 0

    def spend(self, count: int = 1) -> None:
        """Take some. Raises ProofError when there are none left."""
        if not self.take(count):
            raise ProofError(self.refusal)


@contextmanager
def parsing() -> Iterator[None]:
    """Whatever a parser meets in a broken file, it raises or logs: to the maker it is a broken file."""
    try:
        with _listening() as heard:
            yield
    except ProofError:
        raise
    except (FileNotDecryptedError, DependencyError) as error:
        raise ProofError(ENCRYPTED) from error
    except Exception as error:
        raise ProofError(BROKEN) from error
    if heard:
        raise ProofError(BROKEN)


@contextmanager
def _listening() -> Iterator[list[str]]:
    """What pypdf logs meanwhile; a handler that is there keeps it from being printed."""
    heard: list[str] = []
    ear = logging.Handler(logging.WARNING)
    ear.addFilter(lambda record: _note(record, heard))
    logger = logging.getLogger("pypdf")
    logger.addHandler(ear)
    try:
        yield heard
    finally:
        logger.removeHandler(ear)


def _note(record: logging.LogRecord, heard: list[str]) -> bool:
    message = record.getMessage()
    if not message.startswith(SOUND):
        heard.append(message)
    return False


def is_number(value: Any) -> TypeGuard[float]:
    """Whether it is a number a drawing can have: no text, nothing infinite, nothing astronomic.

    >>> is_number(3), is_number(float("nan")), is_number(10**400), is_number("3")
    (True, False, False, False)
    """
    return isinstance(value, (int, float)) and abs(value) < MOST_NUMBER


def direct(value: Any) -> Any:
    """What a reference stands for."""
    return value.get_object() if hasattr(value, "get_object") else value


def rectangle(value: Any, of: str, key: str) -> tuple[float, float, float, float]:
    """A rectangle as (left, bottom, right, top). Raises ProofError."""
    sides = [direct(side) for side in direct(value) or ()]
    if len(sides) != 4 or not all(map(is_number, sides)):
        raise ProofError(f"found {of} whose {key} is not four numbers")
    (left, right), (bottom, top) = sorted(map(float, sides[::2])), sorted(map(float, sides[1::2]))
    return left, bottom, right, top
