"""Step 1, read: one project file in, `Project` out, everything checked, in mm.

The order of the reading: the file becomes plain values (`load`), each table an entry whose keys
are checked (`entry`, by the table in `keys`), each entry a part of the project (`pieces`, `seams`,
`openings`, `page`). Faults are gathered on the way and told in one go at the end. Nothing in the
file is executed or fetched, and no file is opened outside its folder.
"""

from __future__ import annotations

import pathlib
from collections.abc import Sequence

from handkit.errors import ProjectError, refuse_errors
from handkit.quoting import shown
from handkit.read.checks.whole import first_by_name, tell_names, tell_unused_lines
from handkit.read.entries.entry import Entry, entry_of
from handkit.read.entries.openings import read_openings
from handkit.read.entries.page import read_page
from handkit.read.entries.pieces import read_pieces
from handkit.read.entries.seams import read_seams, tell_order
from handkit.read.entries.stitching import read_stitching
from handkit.read.entries.tables import table, tables
from handkit.read.file.load import Loaded, file_text, loaded
from handkit.read.parts.holding import read_items, read_parts, tell_holding
from handkit.read.parts.promised import (
    Promised,
    copies_in,
    given_openings,
    given_pieces,
    given_seams,
    joined,
    names_in,
    promised_by,
    tell_bases,
    tell_clashes,
    tell_shapes,
)
from handkit.read.project import Item, Material, Opening, Part, Project, Seam
from handkit.read.schema.keys import FORMAT, SECTIONS
from handkit.read.values.lengths import unit_meant
from handkit.read.values.spot import Fault, Reading, Spot
from handkit.read.values.values import read_choice
from handkit.units import LENGTH_UNITS


def read_project(path: pathlib.Path) -> Project:
    """The project in a file.

    Raises FileError where the file can't be opened, ProjectError with all its faults where it has
    any.
    """
    return read_project_text(file_text(path, file=str(path)), file=str(path), folder=path.parent)


def read_project_text(text: str, *, file: str, folder: pathlib.Path) -> Project:
    """The project in a text. `file` is the name findings show, `folder` where its font would lie.

    Raises ProjectError with all its faults where it has any.

    >>> text = 'format = 1\\n[[piece]]\\nname = "tab"\\nrectangle = [40, "1/2 in"]\\nthickness = 2'
    >>> project = read_project_text(text, file="tab.toml", folder=pathlib.Path())
    >>> project.name, project.pieces[0].corners[2].at
    ('tab', (40.0, 12.7))
    """
    source = loaded(text, file=file)
    reading = Reading(file, folder, _unit(source), source.lines)
    top = entry_of("project", source.values, Spot(reading))
    if top is None or not _is_our_format(top):
        raise ProjectError(reading.findings)
    return _project(top, name=pathlib.PurePath(file).stem)


def _unit(source: Loaded) -> str:
    """The file's unit, "" where it is faulty; that is told with the other keys."""
    unit = source.values.get("unit", SECTIONS["project"].keys["unit"].default)
    return unit if isinstance(unit, str) and unit in LENGTH_UNITS else ""


def _is_our_format(top: Entry) -> bool:
    """Whether the file's other keys can be read. A missing format is told with their faults."""
    if not top.has("format"):
        return True
    value = top.value("format")
    if value == FORMAT and isinstance(value, int) and not isinstance(value, bool):
        return True
    top.spot.reading.findings.clear()  # what they say of another format's keys would mislead
    remedy = f"write format = {FORMAT}, or take the handkit that the file was written for"
    top.at("format").refuse(Fault("format-unknown", shown(value), str(FORMAT), remedy))
    return False


def _project(top: Entry, *, name: str) -> Project:
    unit = top.value("unit")
    meant = unit_meant(unit, tuple(LENGTH_UNITS)) if isinstance(unit, str) else ""
    read_choice(unit, top.at("unit"), top.rule("unit"), meant=meant)
    material, stitching = table(top, "material"), table(top, "stitching")
    material.choice("kind", Material)
    read_stitching(stitching, stitching)  # for its faults, should there be no seam to find them
    items, parts, promised = _promised(top)
    given = given_pieces(promised, names_in(top.table.get("piece")))
    piece_entries = tables(top, "piece", given)
    pieces = read_pieces(piece_entries, material, promised)
    by_name = first_by_name(pieces)
    seams_given, openings_given = given_seams(promised, by_name), given_openings(promised, by_name)
    seam_entries, opening_entries = tables(top, "seam", seams_given), tables(top, "opening", openings_given)
    for entries, known in (
        (piece_entries, given),
        (seam_entries, seams_given),
        (opening_entries, openings_given),
    ):
        tell_shapes(entries, known)
    seams = joined(read_seams(seam_entries, stitching, by_name), promised, top.spot.reading)
    openings = read_openings(opening_entries, by_name)
    tell_names([*seam_entries, *opening_entries])
    tell_order(seam_entries, _work_names(seams, openings))
    tell_unused_lines(pieces, seams, top.spot.reading)
    page, copies = read_page(table(top, "page")), table(top, "make").count("copies")
    title, waste = top.text("title") if top.has("title") else name, material.number("waste")
    return Project(
        source=top.source(),
        name=name,
        title=title,
        pieces=pieces,
        seams=seams,
        openings=openings,
        page=page,
        copies=copies,
        yield_share=1 - waste / 100,
        findings=refuse_errors(top.spot.reading.findings),
        items=items,
        parts=parts,
    )


def _promised(top: Entry) -> tuple[tuple[Item, ...], tuple[Part, ...], Promised]:
    """The items, the parts, and what the parts promise to draft."""
    entries, own = tables(top, "part"), names_in(top.table.get("piece"))
    parts = read_parts(entries)
    items = read_items(tables(top, "item"), names_in(top.table.get("part")))
    tell_holding(parts, items, top.spot)
    paths = {entry.name() or "": entry.spot.path for entry in entries}
    promised = promised_by(parts, items, paths, copies_in(top.table.get("piece")))
    tell_bases(promised, own, top.spot.reading)
    tell_clashes(promised, top.spot.reading)
    return items, parts, promised


def _work_names(seams: Sequence[Seam], openings: Sequence[Opening]) -> list[str]:
    """What may be done after, or before, something else."""
    names = [seam.name for seam in seams] + [opening.name for opening in openings]
    return [name for name in names if name]
