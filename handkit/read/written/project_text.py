"""A project's text: a file that says by hand all that a project has, piece by piece.

In: a project as drafted, every part's shapes in it; comments. Out: a project file without a [[part]], its
entries in the order of the lines that they come from. What it says is read back as the same project, but for
what parts know and no key says: the room of each thing, how a cover stands, seams sewn with one thread.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

import msgspec

from handkit.findings import Source
from handkit.kinds.pages import DEFAULT_PAPER
from handkit.read.project import Item, Part, PartKind, Project
from handkit.read.schema.keys import FORMAT
from handkit.read.written.pieces import piece_values, taken_over
from handkit.read.written.rooms import item_values, room_values
from handkit.read.written.toml_text import comment
from handkit.read.written.values import NOTHING, FileForm, Values, written_table
from handkit.read.written.works import (
    common_stitching,
    fitting_values,
    opening_values,
    page_values,
    seam_values,
    usual_stitching,
)
from handkit.wording.figures import Units

# Comments of the file that was read, by the line that they stand above.
Comments = Mapping[int, Sequence[str]]


class _Entry(msgspec.Struct, frozen=True):
    """A table to write, the line that it is put by, whose comments go with it, and what is told of it."""

    line: int
    schema: str
    source: Source
    values: Values = NOTHING
    usual: Values = NOTHING
    told: str = ""


def project_text(
    project: Project, folder: str, comments: Comments | None = None, rooms: Sequence[Part] = ()
) -> str:
    """The file; `folder` is where it will lie, for the path of a font; `rooms` are those in which things stay
    by hand, named after the parts that held them."""
    form = FileForm(project.source.unit, dict(project.thicknesses))
    above = dict(comments or {})
    blocks = [_head(project, above), *_common(project, form, folder)]
    for entry in _entries(project, rooms):
        lines = [*above.pop(entry.source.line, ()), *(comment(entry.told) if entry.told else ())]
        if entry.values:
            lines += [f"[[{entry.schema}]]", *written_table(entry.schema, entry.values, form, entry.usual)]
        blocks.append(lines)
    return "\n\n".join("\n".join(block) for block in blocks if block) + "\n"


def _head(project: Project, above: Comments) -> list[str]:
    """What this file is, the other's own first comment, and what holds for all of it."""
    told = [
        f"Written out by hand from {project.name}.toml: its pieces, lines, seams and openings as they were "
        "drafted, in the place of its parts. Change any of it; nothing here follows from the things carried."
    ]
    kinds = {part.name: part.kind for part in project.parts}
    if any(kinds[item.held_by] not in (PartKind.ROOM, PartKind.SHEATH) for item in project.items):
        told.append(
            "Left out, for only a part knows it: how much room each thing has; how a cover stands over it, "
            "so what is in the way of what and how far a flap must reach; which seams go on with one thread."
        )
    if PartKind.SHEATH in kinds.values():
        told.append("A blade keeps its room between the pieces, so that what it passes is told here, too.")
    own = above.get(0, ())
    values = {"format": FORMAT, "title": project.title, "unit": project.source.unit}
    top = written_table("project", values, FileForm(), {"unit": ""})
    lines = [line for text in told for line in comment(text)]
    return [*lines, *([""] * bool(own)), *own, "", *top]


def _common(project: Project, form: FileForm, folder: str) -> Iterator[list[str]]:
    """[material], [stitching], [page], [make]: where they say anything."""
    most = _material(project)
    waste = round((1 - project.yield_share) * 100, 9)
    page = page_values(project.page, folder)
    for schema, values in (
        ("material", {**most, "waste": waste}),
        ("stitching", common_stitching(project.seams)),
        ("page", page),
        ("make", {"copies": project.copies}),
    ):
        lines = list(written_table(schema, values, form, {"paper": DEFAULT_PAPER}))
        yield [f"[{schema}]", *lines] if lines else []


def _material(project: Project) -> Values:
    """Thickness and material of most pieces."""
    found = Counter((piece.thickness, piece.material) for piece in project.pieces if piece.copy_of is None)
    (thickness, kind), _ = found.most_common(1)[0]
    return {"thickness": thickness, "kind": kind}


def _entries(project: Project, rooms: Sequence[Part]) -> list[_Entry]:
    """All tables by the lines that they come from; pieces by those of their parts, and in their order."""
    material, common = _material(project), common_stitching(project.seams)
    by_name = {piece.name: piece for piece in project.pieces}
    parts = {part.name: part.source for part in project.parts}
    entries = [
        _Entry(each.source.line, "part", each.source, told=_told(each, project))
        for each in project.parts
        if each.kind is not PartKind.ROOM
    ]
    for room in (*rooms, *(each for each in project.parts if each.kind is PartKind.ROOM)):
        entries.append(_Entry(room.source.line, "part", room.source, room_values(room)))
        for item in (each for each in project.items if each.held_by == room.name):
            entries.append(_Entry(room.source.line, "item", item.source, item_values(item, room in rooms)))
    for piece in project.pieces:
        original = by_name.get(piece.copy_of or "")
        usual = material if original is None else taken_over(piece, original)
        line = parts.get(piece.drafted_by or "", piece.source).line
        entries.append(_Entry(line, "piece", piece.source, piece_values(piece), usual))
    for seam in project.seams:
        usual = usual_stitching(seam, common)
        entries.append(_Entry(seam.source.line, "seam", seam.source, seam_values(seam), usual))
    for opening in project.openings:
        entries.append(_Entry(opening.source.line, "opening", opening.source, opening_values(opening)))
    for fitting in project.fittings:
        entries.append(_Entry(fitting.source.line, "fitting", fitting.source, fitting_values(fitting)))
    return sorted(entries, key=lambda each: each.line)


def _told(part: Part, project: Project) -> str:
    """What a part was, and what it was drafted for."""
    held = [item for item in project.items if item.held_by == part.name]
    on = f' on "{part.on}"' if part.on else ""
    things = "; ".join(_thing(item, project.units) for item in held)
    return f'"{part.name}": a {part.kind.value}{on}' + (f", drafted for {things}" if things else "")


def _thing(item: Item, units: Units) -> str:
    text = units.text
    if item.diameter is not None:
        return f"{item.name}, {text(item.diameter)} thick, {text(item.length)} long"
    return f"{item.name}, {text(item.width)} x {text(item.thickness)} x {text(item.length)}"


def comments_above(text: str) -> Comments:
    """The comment lines of a file by the number of the line that they stand right above; those at its head,
    before an empty line, by 0."""
    found: dict[int, list[str]] = {}
    block: list[str] = []
    for number, line in enumerate(text.splitlines(), start=1):
        if line.lstrip().startswith("#"):
            block.append(line.strip())
            continue
        if block:
            found[0 if not line.strip() and not found else number] = block
        block = []
    return found
