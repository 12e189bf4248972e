"""Files: written whole or not at all, and read with a plain word where they can't be.

In: a path and bytes. Out: a file that is finished; an existing one is replaced only then.
"""

from __future__ import annotations

import os
import stat
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

from handkit.errors import FileError


def write_whole(files: Mapping[Path, bytes]) -> None:
    """Write several files, each replaced only once all of them lie finished beside their places.

    Raises FileError; whatever stood there before then stands there still.
    """
    finished: list[tuple[Path, Path]] = []
    try:
        for path, data in files.items():
            with _told(path):
                finished.append((_write_beside(path, data), path))
        for draft, path in finished:
            with _told(path):
                draft.replace(path)
    finally:
        for draft, _ in finished:
            draft.unlink(missing_ok=True)


@contextmanager
def _told(path: Path) -> Iterator[None]:
    """Turn what the system has against writing a file into FileError."""
    try:
        yield
    except OSError as reason:
        raise FileError(f"can't write {path}: {reason.strerror}") from reason


def _write_beside(path: Path, data: bytes) -> Path:
    """A finished file with this content in the same folder, under a name of its own."""
    _refuse_place(path)
    handle, name = tempfile.mkstemp(prefix=f".{path.name}.", dir=path.parent)
    draft = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(handle)  # else a power cut may leave the name without its content
        draft.chmod(_usual_mode())
    except BaseException:
        draft.unlink(missing_ok=True)
        raise
    return draft


def _refuse_place(path: Path) -> None:
    """Raise FileError where no file can be put: what is replaced must be a file.

    (A device or a pipe in its place would not be written to, but be gone.)
    """
    if not path.parent.is_dir():
        raise FileError(f"can't write {path}: there is no folder {path.parent}")
    try:
        mode = path.lstat().st_mode
    except FileNotFoundError:
        return
    if stat.S_ISLNK(mode) and path.exists():
        mode = path.stat().st_mode
    if stat.S_ISDIR(mode):
        raise FileError(f"can't write {path}: it is a folder")
    if not (stat.S_ISREG(mode) or stat.S_ISLNK(mode)):
        raise FileError(f"can't write {path}: it is no ordinary file")


def _usual_mode() -> int:
    """The mode a new file gets here; mkstemp's own is for its owner's eyes only."""
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask
