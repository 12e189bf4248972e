"""Sample files: the projects that come with handkit, to print, read and change.

In: a sample's name. Out: a copy of its folder. In the checkout they lie in `samples/`; the wheel
carries that folder as the package `handkit.samples` (pyproject.toml).
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path
from types import MappingProxyType

import msgspec

import handkit
from handkit.errors import FileError
from handkit.files import write_whole
from handkit.findings import nearest


class SampleLine(msgspec.Struct, frozen=True):
    """What is told of a sample in the list: what it teaches, and the pages of its kit."""

    teaches: str
    pages: int


SAMPLES: Mapping[str, SampleLine] = MappingProxyType(
    {
        "bindery_roll": SampleLine("a canvas roll from its tools alone: hems, a flap, a tie", 11),
        "chest_panel": SampleLine("where pockets lie is left to handkit: an arranged base", 12),
        "key_fobs": SampleLine("a dozen of one thing: copies, a fold round a ring", 7),
        "market_bag": SampleLine("a bag from what goes in: gusset, zip, handles", 12),
        "orchard_pouch": SampleLine("a pouch for the belt: bowed pocket, holder, sheath, flap, loops", 13),
        "pruning_sheath": SampleLine("a sheath from a measured blade: welt, handle strap, belt loop", 8),
        "sketching_case": SampleLine("a case that closes over a boxed pocket: folds, slots, a strap", 12),
        "strap": SampleLine("a buckled strap from the girths that it closes round", 7),
        "wallet": SampleLine("a wallet for cards: a fold cover with stepped pockets", 8),
    }
)


def samples_folder() -> Path:
    """Where the samples lie: inside the installed package, or beside it in the checkout."""
    inside = Path(handkit.__file__).with_name("samples")
    return inside if inside.is_dir() else inside.parent.with_name("samples")


def sample_names() -> tuple[str, ...]:
    """All samples, sorted."""
    return tuple(sorted(entry.name for entry in samples_folder().iterdir() if holds_project(entry)))


def holds_project(folder: Path) -> bool:
    """Whether a folder holds a project file."""
    return folder.is_dir() and any(folder.glob("*.toml"))


def copy_sample(name: str, folder: Path) -> tuple[Path, ...]:
    """Copy a sample's files into a new folder; the paths written.

    Raises FileError where there is no such sample, or something stands in its place.
    """
    names = sample_names()
    if name not in names:
        near = nearest(name, names)
        hint = f"; did you mean {near}?" if near else ""
        raise FileError(f"found sample {name!r}; allowed: {', '.join(names)}{hint}")
    contents = {
        folder / entry.name: entry.read_bytes()
        for entry in sorted((samples_folder() / name).iterdir())
        if entry.suffix == ".toml"
    }
    with _new_folder(folder):
        write_whole(contents)
    return tuple(contents)


@contextmanager
def _new_folder(folder: Path) -> Iterator[None]:
    """Make a folder to fill, and those it lies in; where that fails half way, none of them is left."""
    new = [each for each in (folder, *folder.parents) if not os.path.lexists(each)]
    made = False
    try:
        folder.mkdir(parents=True)
        made = True
        yield
    except BaseException as reason:
        if made:
            shutil.rmtree(folder, ignore_errors=True)
        for each in new:
            with suppress(OSError):  # another has put something there
                each.rmdir()
        if isinstance(reason, FileExistsError):
            raise FileError(f"can't write {folder}: it is there already; name another with -o") from None
        if isinstance(reason, OSError):
            raise FileError(f"can't write {folder}: {reason.strerror}") from reason
        raise
