"""Trace, the work behind it: photos to the files that are written of them.

In: names of photos, the mat, what is stated of them and told of each thing. Out: pictures, outlines, files.
Part of the front door; it loads the photo's library, which is an extra.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import cast

import msgspec

from handkit import __version__
from handkit.commands.common.measured import Stated, Told
from handkit.counting import OnProgress
from handkit.draw.model.fonts import shipped_fonts
from handkit.draw.model.png import marked
from handkit.draw.traced.by_hand_svg import by_hand_svg
from handkit.draw.traced.outline_pages import outlines_pdf
from handkit.errors import FileError, PhotoError
from handkit.findings import Finding
from handkit.manifest.listed import Origin
from handkit.paper import Paper
from handkit.photo.mat import Mat
from handkit.photo.numbered import cut_out, numbered
from handkit.photo.picture import MOST_BYTES
from handkit.photo.traced import Found, NamedThing
from handkit.photo.tracer import find, outline
from handkit.printers.correction import Printer
from handkit.read.schema.keys import TABLES
from handkit.read.written.things_text import WrittenThing, things_text
from handkit.sheets.laid import Sheets
from handkit.sheets.outlines import lay_out_outlines
from handkit.wording.figures import UNITS, Units
from handkit.wording.quoting import escaped

TITLE = "Things traced"


class Shot(msgspec.Struct, frozen=True):
    """A photo with what was found; numbers go on from one photo to the next."""

    path: Path
    found: Found

    @property
    def picture(self) -> bytes:
        """The sheet straightened, its things numbered, as PNG."""
        return marked(numbered(self.found))


class Outlined(msgspec.Struct, frozen=True):
    """All things at true size, and what is told of them."""

    things: tuple[NamedThing, ...]
    findings: tuple[Finding, ...]


def shots_of(
    photos: Sequence[Path],
    mat: Mat,
    stated: Stated,
    on_progress: OnProgress,
) -> tuple[Shot, ...]:
    """What lies on the mat in each photo. Raises PhotoError where one does not do, with its `Shot` where
    things were found on it, FileError where it can't be read."""
    shots: list[Shot] = []
    for path, count in zip(photos, stated.counts, strict=True):
        on_progress(f"looking at {path}")
        first = 1 + sum(stated.counts[: len(shots)])
        try:
            found = find(_bytes_of(path), mat, bars=stated.bars, count=count, name=str(path), first=first)
        except PhotoError as refused:
            shown = Shot(path, refused.reached) if isinstance(refused.reached, Found) else None
            raise PhotoError(refused.findings, shown) from None
        shots.append(Shot(path, found))
    return tuple(shots)


def _bytes_of(path: Path) -> bytes:
    """No more of a file than is looked at, and a byte, which makes it too large."""
    try:
        with path.open("rb") as stream:
            return stream.read(MOST_BYTES + 1)
    except (OSError, ValueError) as reason:  # ValueError: a null character in the path
        raise FileError(f"can't read {path}: {getattr(reason, 'strerror', None) or reason}") from None


def outlined(shots: Sequence[Shot], told: Mapping[int, Told], on_progress: OnProgress) -> Outlined:
    """The things at true size, by number. Raises PhotoError where one is thicker than its photo allows."""
    things: list[NamedThing] = []
    findings: list[Finding] = []
    for shot in shots:
        on_progress(f"tracing {shot.path}")
        thick = {blob.number: told[blob.number].thick for blob in shot.found.blobs}
        traced = outline(shot.found, thick, name=str(shot.path))
        findings += (*shot.found.advice, *traced.advice)
        things += (
            NamedThing(
                thing.number,
                told[thing.number].name,
                escaped(shot.path.name),
                traced.view.residual,
                thing,
                cut_out(shot.found, thing),
            )
            for thing in traced.things
        )
    return Outlined(tuple(things), tuple(dict.fromkeys(findings)))


def sheets_of(things: Sequence[NamedThing], paper: Paper, printer: Printer | None) -> Sheets:
    """The outlines on sheets of this paper. Raises ProjectError where it leaves no room."""
    page = TABLES["page"].keys
    return lay_out_outlines(
        {each.name: each.thing.outline for each in things},
        paper=paper,
        edge=cast(float, page["edge"].default),
        margin=cast(float, page["margin"].default),
        printer=printer,
    )


def written(
    things: Sequence[NamedThing], sheets: Sheets, drawing: str, stated: Stated
) -> tuple[bytes, bytes, bytes]:
    """The file of things, the drawing of this name to mend them in, and the PDF to lay them on."""
    units, drawing = UNITS[stated.unit], escaped(drawing)
    told = (
        f"Things traced from photos by handkit {__version__}; bars of the mat "
        f"{units.marked.several(stated.bars)}.",
        "How near outlines are was tested on simulated photos: lay each thing on its 1:1 print first.",
        f"To mend an outline, draw it anew in {drawing} and name it in place of the points: outline = "
        f'"{drawing}#{things[0].id}"',
        'A thing stands up on the left end of its outline; on the other with up = "left" beside it.',
    )
    text = things_text([_written(each, units) for each in things], told, stated.unit)
    pages = outlines_pdf(things, sheets, shipped_fonts(), units, origin=Origin(__version__))
    return text.encode(), by_hand_svg(things, TITLE).encode(), pages


def _written(each: NamedThing, units: Units) -> WrittenThing:
    """A thing as the file has it, with what was measured of it over it."""
    thing = each.thing
    size = units.size(round(thing.length, 1), round(thing.width, 1))
    sure = f"within {units.read.text(units.read.no_less(thing.uncertainty))} (95 %)"
    marks = f"marks of the mat within {units.fine.text(each.residual)}"
    told = (f"{each.number}: {size}, {sure}; {each.photo}, {marks}",)
    return WrittenThing(each.name, thing.thick.mm, thing.uncertainty, thing.outline, told)
