"""Printer file: where the profiles of printers lie, read and written whole.

In: names and printers. Out: the printers that are known; a file that is finished, with what it held before.
It is `printers.toml` in the user's configuration folder for handkit, or what HANDKIT_PRINTERS names.
"""

from __future__ import annotations

import os
from collections.abc import Iterable
from pathlib import Path

import click

from handkit.errors import FileError
from handkit.files import write_whole
from handkit.printers.correction import Printer
from handkit.printers.profiles import damaged, profiles_of, profiles_text

NAMED_BY = "HANDKIT_PRINTERS"
_NAME = "printers.toml"
_MOST_BYTES = 1 << 20


def printers_path() -> Path:
    """Where the file lies, or will lie."""
    named = os.environ.get(NAMED_BY)
    return Path(named) if named else Path(click.get_app_dir("handkit")) / _NAME


def known_printers() -> tuple[Printer, ...]:
    """All printers by name; none where there is no file. Raises PrinterError where it is damaged, FileError
    where it can't be read."""
    path = printers_path()
    try:
        with path.open("rb") as stream:
            data = stream.read(_MOST_BYTES + 1)
        text = data.decode("utf-8") if len(data) <= _MOST_BYTES else None
    except FileNotFoundError:
        return ()
    except UnicodeDecodeError:
        raise damaged(str(path), "bytes that are no UTF-8") from None
    except (OSError, ValueError) as reason:  # ValueError: a null character in the path
        raise FileError(f"can't read {path}: {getattr(reason, 'strerror', None) or reason}") from None
    if text is None:
        raise damaged(str(path), f"more than {_MOST_BYTES} bytes")
    return profiles_of(text, file=str(path))


def keep_printers(printers: Iterable[Printer]) -> Path:
    """Write the file with these and no others; where it lies. Raises FileError."""
    path = printers_path()
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as reason:
        raise FileError(f"can't write {path}: {reason.strerror}") from None
    write_whole({path: profiles_text(tuple(printers)).encode()})
    return path
