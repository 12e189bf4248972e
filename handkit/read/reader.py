"""Step 1, read: one project file in, `Project` out, everything checked, in mm.

The order of the reading: the file becomes plain values (`file/load.py`); each table an entry whose
keys are checked (`entries/entry.py`, by the table in `schema/keys.py`); parts are written out as
the tables they stand for (`parts/expansion.py`); each entry becomes a record of the project. All
errors are collected and reported together at the end. Nothing in the file is executed or fetched,
and no file is opened outside its folder: a font, and a file of things (`entries/things.py`).
"""

from __future__ import annotations

import pathlib
from collections.abc import Collection, Iterable

from handkit.errors import refuse_errors
from handkit.findings import first_causes, has_errors, in_order
from handkit.paper import Layout, default_paper
from handkit.read.checks.sound import sound_part
from handkit.read.checks.unit import check_unit
from handkit.read.checks.whole_file import check_names, check_unused_lines
from handkit.read.entries.entry import Entry, check_missing
from handkit.read.entries.fittings import read_fittings, seams_named
from handkit.read.entries.items import read_items
from handkit.read.entries.openings import read_openings
from handkit.read.entries.parts import check_covers, check_items, read_parts
from handkit.read.entries.pieces import read_pieces
from handkit.read.entries.seams import check_order, read_seams, read_stitching
from handkit.read.entries.tables import check_shapes, copies_in, table, tables, top_of
from handkit.read.entries.things import carried
from handkit.read.file.load import Given, file_text
from handkit.read.file.project_file import ProjectFile
from handkit.read.parts.expansion import Expansion, expanded, lettered
from handkit.read.parts.linings import with_linings
from handkit.read.parts.part_kinds import KINDS
from handkit.read.project import Item, PageOptions, Part, Piece, Project, Seam


def read_project(path: Given) -> Project:
    """The project in a file, or in a text that lies in none.

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
    return _project(top_of("project", text, file=file, folder=folder), name=pathlib.PurePath(file).stem)


def _project(top: Entry, *, name: str) -> Project:
    file = top.location.file
    check_unit(top)
    material, stitching = table(top, "material"), table(top, "stitching")
    material.get("kind")
    read_stitching(stitching)  # for its faults, should there be no seam to find them
    parts = read_parts(tables(top, "part"))
    items = _items(top)
    check_items(tuple(parts.values()), items, file)
    _check_pieces(top, parts.values())
    expansion = expanded(parts, items, copies_in(top.table.get("piece")), file)
    piece_entries = tables(top, "piece", expansion.pieces, common=material)
    pieces = read_pieces(piece_entries, expansion.lines)
    by_name = check_covers(parts.values(), first_by_name(pieces), file)
    seam_entries = tables(top, "seam", lettered(expansion.seams, by_name), common=stitching)
    opening_entries = tables(top, "opening", expansion.openings)
    fitting_entries = tables(top, "fitting", expansion.fittings)
    check_shapes([*piece_entries, *seam_entries, *opening_entries, *fitting_entries])
    taped = seams_named(top.table.get("fitting"), expansion.fittings.values())
    sewn = read_seams(seam_entries, by_name, taped)
    pierced = read_openings(opening_entries, by_name)
    seams, openings = with_linings(sewn, pierced, expansion, tuple(copies_in(top.table.get("seam"))), file)
    check_names([*seam_entries, *opening_entries], "name-taken/work")
    fittings = read_fittings(fitting_entries, by_name, seams, openings)
    works = [*(seam.name for seam in seams), *(opening.name for opening in openings)]
    check_order(seam_entries, [name for name in works if name])
    check_unused_lines(pieces, seams, file)
    project = Project(
        source=top.source(),
        name=name,
        title=top.get("title") if top.has("title") else name,
        pieces=pieces,
        seams=seams,
        openings=openings,
        page=_page(table(top, "page")),
        copies=table(top, "make").get("copies"),
        yield_share=1 - material.get("waste") / 100,
        findings=in_order(first_causes(file.findings)),
        items=items,
        parts=tuple(parts.values()),
        fittings=fittings,
        thicknesses=tuple(file.thicknesses.items()),
    )
    _refuse_faulty(project, expansion, zip(sewn, seam_entries, strict=True), file)
    return project


def _items(top: Entry) -> tuple[Item, ...]:
    """What the project carries; of things that nothing holds only the faults are told."""
    held, spare = carried(top)
    parts = tuple(copies_in(top.table.get("part")))
    read_items(spare, parts)
    return read_items(held, parts)


def _check_pieces(top: Entry, parts: Collection[Part]) -> None:
    """Report that there is nothing to cut: no piece, and no part that stands by itself; one that can't be
    read may be such a part."""
    listed = top.table.get("part", [])
    faulty = isinstance(listed, list) and len(parts) < len(listed)
    if not faulty and not any(KINDS[part.kind].stands_alone for part in parts):
        check_missing(top, ("piece",))


def _refuse_faulty(
    project: Project, expansion: Expansion, seams: Iterable[tuple[Seam, Entry]], file: ProjectFile
) -> None:
    """Raise ProjectError where any error was reported, with what is sound all the same; a seam that lost a
    layer of a faulty piece is not."""
    if has_errors(file.findings):
        runs = [(seam, entry.table.get("runs")) for seam, entry in seams]
        lacking = [
            seam.name for seam, some in runs if isinstance(some, list) and len(seam.layers) < len(some)
        ]
        refuse_errors(file.findings, sound_part(project, expansion, lacking=lacking))


def _page(entry: Entry) -> PageOptions:
    """The page as written. Whether edge, margin and overlap fit together is checked where sheets are laid
    out: the command line may still override them.
    """
    paper = entry.get("paper") or default_paper()
    return entry.record(PageOptions, source=entry.source(), paper=paper, layout=entry.record(Layout))


def first_by_name(pieces: Iterable[Piece]) -> dict[str, Piece]:
    """Pieces by name in the file's order; of two with one name, which is reported elsewhere, the first."""
    by_name: dict[str, Piece] = {}
    for piece in pieces:
        if piece.name:
            by_name.setdefault(piece.name, piece)
    return by_name
