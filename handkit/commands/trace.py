"""`handkit trace`: photos of things on the mat to their outlines at true size.

In: photos, what the mat's bars measure, how many things lie there; how thick each is and what it is called,
asked for where it is not given. Out: a file of things for projects; beside it pictures, a drawing to mend the
outlines in, a print to lay the things on.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial
from typing import TYPE_CHECKING, NamedTuple, TypeVar, cast

import click

from handkit.commands.common.asking import typed_line
from handkit.commands.common.ending import reporting_errors
from handkit.commands.common.options import OUTPUT, PAPER, mat_paper, printer_named
from handkit.commands.common.output import (
    refuse_existing,
    refuse_strange,
    write_beside,
    write_done,
    write_files,
    write_findings,
)
from handkit.units import LENGTH_UNITS

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path
    from types import ModuleType

    from handkit.commands.common.measured import Stated, Told
    from handkit.commands.common.tracing import Shot
    from handkit.paper import Paper

Value = TypeVar("Value")

MISSING = "can't read photos: the library for that isn't installed; pip install 'handkit[photo]'"
NOBODY = "found no answer; where nobody is there to be asked, give --thickness"
ASKING = (
    'How thick is each as it lies there? Plain numbers are {unit}; of what is round, as a pen, "8 round". '
    "Then a name, or Enter."
)


class Files(NamedTuple):
    """What is written."""

    things: Path
    drawing: Path
    pages: Path
    pictures: tuple[Path, ...]


@click.command()
@click.argument("photos", nargs=-1, required=True, metavar="PHOTO...")
@click.option("--bars", required=True, metavar="ACROSS,UP", help="What both bars of the mat measure.")
@click.option("--count", required=True, metavar="N", help="Things on the mat; N,N of two photos, and so on.")
@click.option("--mat", **PAPER | {"type": mat_paper, "help": "The paper of the mat."})
@click.option("--thickness", metavar="T,...", help='Of all things by number: 12,"8 round",3; else asked for.')
@click.option("--names", metavar="NAME,...", help="Of all things by number; else asked for with thickness.")
@click.option(
    "--unit", type=click.Choice(list(LENGTH_UNITS)), default="mm", show_default=True, help="Of plain numbers."
)
@click.option("--paper", **PAPER | {"help": "To print the outlines on, full scale."})
@click.option("--printer", metavar="NAME", help="Correct that print for a printer that was measured.")
@click.option("-o", "--output", **OUTPUT, metavar="THINGS.toml", help="Default: things.toml, here.")
def trace(  # noqa: PLR0913, PLR0917 - the options
    photos: tuple[str, ...],
    bars: str,
    count: str,
    mat: Paper,
    thickness: str | None,
    names: str | None,
    unit: str,
    paper: Paper,
    printer: str | None,
    output: Path | None,
) -> None:
    """Trace things photographed on the mat: a file of them for a project, and a print to lay them on.

    What `handkit mat` prints tells how the photo is taken. A picture with all things numbered is written
    first; then how thick each one is, and its name, are asked for.
    """
    from pathlib import Path

    from handkit.photo.mat import mat_of
    from handkit.progress import progress
    from handkit.wording.figures import UNITS

    stated = _stated(len(photos), bars, count, thickness, names, unit)
    files = _files(output or Path("things.toml"), len(photos))
    chosen = None if printer is None else printer_named(printer, "--printer")
    with reporting_errors():
        tracing = _tracing()
        _refuse_overwriting(files, photos)
        with _shown_where_refused(photos, files), progress() as on_progress:
            shots = tracing.shots_of(
                [Path(name) for name in photos], mat_of(mat.width, mat.height), stated, on_progress
            )
        write_files(dict(zip(files.pictures, [shot.picture for shot in shots], strict=True)))
        told = _told(stated, files.pictures)
        with progress() as on_progress:
            traced = tracing.outlined(shots, told, on_progress)
            sheets = tracing.sheets_of(traced.things, paper, chosen)
            data = tracing.written(traced.things, sheets, files.drawing.name, stated)
        write_files(dict(zip(files[:3], data, strict=True)))
        write_findings((*traced.findings, *sheets.findings))
        most = max(each.thing.uncertainty for each in traced.things)
        _write_done(files, len(traced.things), UNITS[unit].read.text(UNITS[unit].read.no_less(most)))


@contextmanager
def _shown_where_refused(photos: Sequence[str], files: Files) -> Iterator[None]:
    """Where a photo is refused, write the picture of what was found on it, so that a maker sees what was
    counted."""
    from pathlib import Path

    from handkit.errors import PhotoError

    try:
        yield
    except PhotoError as refused:
        shot = cast("Shot | None", refused.reached)
        if shot is not None and shot.found.blobs:
            picture = files.pictures[[Path(name) for name in photos].index(shot.path)]
            write_files({picture: shot.picture})
            write_beside(f"{picture}: what was found in {shot.path}, with numbers")
        raise


def _stated(  # noqa: PLR0913, PLR0917 - the options
    photos: int, bars: str, count: str, thickness: str | None, names: str | None, unit: str
) -> Stated:
    """What the options say. Raises click.BadParameter."""
    from handkit.commands.common.measured import Stated, counts_in, names_in, rule_lengths, thicks_in

    with _about("--bars"):
        across, up = rule_lengths(bars, 2, unit)
    with _about("--count"):
        counts = counts_in(count, photos)
    with _about("--thickness"):
        thick = None if thickness is None else thicks_in(thickness, sum(counts), unit)
    with _about("--names"):
        called = None if names is None else names_in(names, sum(counts))
    return Stated((across, up), counts, thick, called, unit)


def _files(output: Path, photos: int) -> Files:
    """What is written: all beside the file of things. Raises click.BadParameter."""
    if output.suffix.lower() != ".toml":
        raise click.BadParameter(
            f"found {str(output)!r}; allowed: a name that ends in .toml", param_hint="-o"
        )
    numbers = [""] if photos == 1 else [f"-{k}" for k in range(1, photos + 1)]
    pictures = tuple(output.with_name(f"{output.stem}{number}.png") for number in numbers)
    return Files(output, output.with_suffix(".svg"), output.with_suffix(".pdf"), pictures)


def _refuse_overwriting(files: Files, photos: Sequence[str]) -> None:
    """Raise FileError where something written would replace a photo, or what a maker may have changed."""
    from handkit.errors import FileError

    taken = {os.path.realpath(photo) for photo in photos}
    for path in (*files[:3], *files.pictures):
        if os.path.realpath(path) in taken:
            raise FileError(f"can't write {path}: it is one of the photos; name another file")
    for path in (files.things, files.drawing):
        refuse_existing(path)
    refuse_strange((files.pages, *files.pictures))


def _tracing() -> ModuleType:
    """The work behind it. Raises FileError where the photos' library is not there."""
    from handkit.errors import FileError

    try:
        from handkit.commands.common import tracing
    except ModuleNotFoundError as missing:
        if missing.name != "cv2":
            raise
        raise FileError(MISSING) from None
    return tracing


def _told(stated: Stated, pictures: Sequence[Path]) -> dict[int, Told]:
    """What is said of each thing, by number: asked for, where its thickness is not given."""
    from handkit.commands.common.measured import Told, name_in, thick_in
    from handkit.photo.traced import usual_name

    asking, thick, names = stated.thick is None, [*(stated.thick or ())], [*(stated.names or ())]
    numbers = range(1, sum(stated.counts) + 1)
    if asking:
        write_beside(f"{', '.join(map(str, pictures))}: the things with their numbers")
        write_beside(ASKING.format(unit=stated.unit))
    for number in numbers:
        usual = usual_name(number)
        if asking:
            thick.append(_asked(f"{number}, thickness: ", partial(thick_in, unit=stated.unit)))
        if stated.names is None:
            name = partial(name_in, taken=names, usual=usual)
            names.append(_asked(f"{number}, name [{usual}]: ", name) if asking else usual)
    return {number: Told(thick[number - 1], names[number - 1]) for number in numbers}


def _asked(question: str, read: Callable[[str], Value]) -> Value:
    """An answer that does; what is wrong with others is told, and the question asked again. Raises
    click.UsageError where nobody answers."""
    while True:
        line = typed_line(question)
        if line is None:
            raise click.UsageError(NOBODY)
        try:
            return read(line)
        except click.BadParameter as wrong:
            write_beside(wrong.message)


@contextmanager
def _about(option: str) -> Iterator[None]:
    """Say which option wrong use is about."""
    try:
        yield
    except click.BadParameter as wrong:
        wrong.param_hint = option
        raise


def _write_done(files: Files, count: int, most: str) -> None:
    """What was written, and what is done with it."""
    from handkit.wording.figures import counted

    for path in files.pictures:
        write_done(f"{path}: the things with their numbers", [path])
    write_done(f"{files.drawing}: the outlines over their pictures, to mend them by hand", [files.drawing])
    write_done(f"{files.pages}: print at 100 %, and lay the things on it before you cut", [files.pages])
    told = f"{counted(count, 'thing')}, each within {most} or less; a project takes them by its key items"
    write_done(f"{files.things}: {told}", [files.things])
