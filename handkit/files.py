"""Files: written whole or not at all, and read with a plain word where they can't be.

In: a path and bytes. Out: a file that is finished; an existing one is replaced only then.

A *draft* is a file being written, beside the place where it will stand; a *leftover* one whose writer was
killed. A draft's writer keeps it locked, so that nobody takes it for a leftover.
"""

from __future__ import annotations

import os
import stat
import sys
from collections.abc import Iterator, Mapping
from contextlib import ExitStack, contextmanager, suppress
from errno import EBADF
from pathlib import Path
from secrets import token_hex

from handkit.errors import FileError

# What `-` stands for, and what may be named itself.
STANDARD_OUTPUT = Path("/dev/stdout")

# How a draft is called: not as anybody would call a file of theirs.
_DRAFT_ENDING = ".unfinished"
_MARK = 4  # bytes of its own in each draft's name
# How what handkit writes begins, or begins with its mark in it.
_OUR_MARK = b"handkit"
_MARKED = (b"%PDF-", b"<?xml ", b"<!doctype html>", b"\x89PNG")
_OUR_BEGINNINGS = (b'{"format": 1', b"order,seam,stitch,")
_LOOKED_AT = 1 << 20  # bytes at either end

_LONGEST_STEM = 50  # letters, so that a name of any length leaves room for the rest


def write_whole(files: Mapping[Path, bytes]) -> None:
    """Write several files, each replaced only once all of them lie finished beside their places.

    A link stays, and what it leads to is replaced. What is no file (a device, a pipe) is written to.
    Raises FileError; whatever stood there before then stands there still.
    """
    places = {path: place for path in files if (place := place_to_write(path))}
    for place in places.values():
        _clear_leftovers(place)
    drafts = {
        path: place.with_name(_stem(place) + token_hex(_MARK) + _DRAFT_ENDING)
        for path, place in places.items()
    }
    try:
        with ExitStack() as held:
            for path, draft in drafts.items():
                with _told(path):
                    _write_draft(held, draft, files[path])
            for path in (path for path in files if path not in places):
                with _told(path):
                    _write_to(path, files[path])
            if not hasattr(os, "lockf"):  # Windows moves no file that is open
                held.close()
            for path, draft in drafts.items():
                with _told(path):
                    draft.replace(places[path])
    finally:
        for draft in drafts.values():
            with suppress(OSError):
                draft.unlink()


def is_standard_output(path: Path) -> bool:
    """Whether a path leads to where the command's output goes."""
    if path == STANDARD_OUTPUT:
        return True
    try:
        return os.path.samestat(path.stat(), os.fstat(1))
    except OSError:
        return False


@contextmanager
def _told(path: Path) -> Iterator[None]:
    """Turn what the system has against writing a file into FileError."""
    try:
        yield
    except OSError as reason:
        if isinstance(reason, BrokenPipeError) and is_standard_output(path):
            raise  # who read the output has gone, which is no fault
        raise FileError(f"can't write {path}: {reason.strerror}") from reason


def is_ours(path: Path) -> bool:
    """Whether what stands there may be written over: nothing, no file at all, or what handkit wrote, as its
    beginning or a mark in it tells. What can't be read is not; where nothing can stand, writing tells.

    >>> is_ours(Path("/dev/null")), is_ours(Path("no such file")), is_ours(Path(__file__))
    (True, True, False)
    """
    try:
        status = path.stat()
    except (OSError, ValueError):
        return True
    if not stat.S_ISREG(status.st_mode) or status.st_size == 0:
        return True
    try:
        with path.open("rb") as stream:
            head = stream.read(_LOOKED_AT)
            stream.seek(max(0, status.st_size - _LOOKED_AT))
            tail = stream.read(_LOOKED_AT)
    except OSError:
        return False
    marked = head.startswith(_MARKED) and _OUR_MARK in head + tail
    return marked or head.startswith(_OUR_BEGINNINGS)


def place_to_write(path: Path) -> Path | None:
    """Where a file will stand, behind all links; None for what is no file.

    Raises FileError where none can stand."""
    with _told(path):
        if is_standard_output(path):
            return None
        place = Path(os.path.realpath(path)) if path.is_symlink() else path
        if not place.parent.is_dir():
            raise FileError(f"can't write {path}: there is no folder {place.parent}")
        try:
            mode = path.stat().st_mode
        except FileNotFoundError:
            return place
    if stat.S_ISDIR(mode):
        raise FileError(f"can't write {path}: it is a folder")
    return place if stat.S_ISREG(mode) else None


def _stem(place: Path) -> str:
    return f".{place.name[:_LONGEST_STEM]}."


def _clear_leftovers(place: Path) -> None:
    """Remove the drafts for this place that nobody is writing. What can't be removed is left."""
    stem = _stem(place)
    length = len(stem) + 2 * _MARK + len(_DRAFT_ENDING)
    with suppress(OSError):
        for draft in place.parent.iterdir():
            name = draft.name
            named = len(name) == length and name.startswith(stem) and name.endswith(_DRAFT_ENDING)
            if named and stat.S_ISREG(draft.lstat().st_mode):
                with suppress(OSError), draft.open("ab") as file:
                    _hold(file.fileno())
                    draft.unlink()


def _write_draft(held: ExitStack, draft: Path, data: bytes) -> None:
    """A file with this content, locked until `held` ends."""
    file = held.enter_context(draft.open("xb", buffering=0))
    with suppress(OSError):  # a file system without locks
        _hold(file.fileno())
    rest = memoryview(data)
    while rest:
        rest = rest[file.write(rest) :]
    os.fsync(file.fileno())  # else a power cut may leave the name without its content


def _hold(handle: int) -> None:
    """Lock a file for this process. Raises OSError where another holds it."""
    if hasattr(os, "lockf"):  # on Windows a file that is open can't be removed: no lock is needed
        os.lockf(handle, os.F_TLOCK, 0)


def _write_to(path: Path, data: bytes) -> None:
    """To a device, a pipe or the standard output, which stay what they are."""
    if is_standard_output(path):
        if sys.stdout is None:  # it was closed before the start
            raise OSError(EBADF, os.strerror(EBADF))
        sys.stdout.buffer.write(data)
        sys.stdout.buffer.flush()
    else:
        with path.open("wb") as stream:
            stream.write(data)
