"""Files: written whole or not at all, and read with a plain word where they can't be.

In: a path and bytes. Out: a file that is finished; an existing one is replaced only then.
"""

from __future__ import annotations

import os
import tempfile
from collections.abc import Mapping
from pathlib import Path

from handkit.errors import FileError


def write_whole(files: Mapping[Path, bytes]) -> None:
    """Write several files, each replaced only once all of them lie finished beside their places.

    Raises FileError; whatever stood there before then stands there still.
    """
    finished: list[tuple[Path, Path]] = []
    try:
        for path, data in files.items():
            finished.append((_write_beside(path, data), path))
        for draft, path in finished:
            draft.replace(path)
    except OSError as reason:
        raise FileError(f"can't write {reason.filename or ''}: {reason.strerror}") from reason
    finally:
        for draft, _ in finished:
            draft.unlink(missing_ok=True)


def _write_beside(path: Path, data: bytes) -> Path:
    """A finished file with this content in the same folder, under a name of its own."""
    if path.is_dir():
        raise FileError(f"can't write {path}: it is a folder")
    if not path.parent.is_dir():
        raise FileError(f"can't write {path}: there is no folder {path.parent}")
    handle, name = tempfile.mkstemp(prefix=f".{path.name}.", dir=path.parent)
    draft = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
        draft.chmod(_usual_mode())
    except BaseException:
        draft.unlink(missing_ok=True)
        raise
    return draft


def _usual_mode() -> int:
    """The mode a new file gets here; mkstemp's own is for its owner's eyes only."""
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask
