"""Things: a file of [[item]] tables beside the project, such as a tracing of what lies on the bench gives.

In: the top of the project, whose `items` names the file. Out: an entry for each thing that the project
carries, and for each that nothing holds.

The file says what a thing is, the project what holds it: an [[item]] of the project that is called like a
thing there takes its shape and all that it doesn't say itself; so the file can be written anew, and several
projects can share it. Each file has its own lines and unit.
"""

from __future__ import annotations

import pathlib
from collections.abc import Mapping, Sequence

import msgspec

from handkit.errors import ProjectError
from handkit.findings import finding, nearest
from handkit.read.checks.whole_file import check_names
from handkit.read.entries.entry import Entry, check_missing
from handkit.read.entries.tables import copies_in, tables, top_of
from handkit.read.file.load import file_text
from handkit.read.file.project_file import HELD, Location, ProjectFile, names_of

# What an item is: exactly one of these, and what stands beside it in the same table.
SHAPES = ("size", "diameter", "section", "outline")
BESIDE = ("length", "tip")


def carried(top: Entry) -> tuple[list[Entry], list[Entry]]:
    """What is carried: the project's own items, each with the thing of its name as its common entry, after
    the things that say themselves what holds them. Then the things that nothing holds.

    Raises ProjectError where the file of things can't be read at all.
    """
    own = tables(top, "item")
    path = top.get("items")
    if path is None:
        for entry in own:
            _check_held(entry, top)
        if top.has("items"):  # which is told; what then is lacking would mislead
            raise ProjectError(top.location.file.findings)
        return own, []
    things = _things(top, pathlib.Path(path))
    by_name = {entry.name() or "": entry for entry in reversed(things)}
    named = [_with_thing(entry, by_name, top, path=_shown(top, path)) for entry in own]
    taken = {entry.name() for entry in own}
    rest = [entry for entry in things if entry.name() not in taken]
    held = [entry for entry in rest if entry.has("in")]
    _refuse_too_many(top, len(held) + len(named))
    spare = [entry for entry in rest if not entry.has("in")]
    names = [name for entry in spare if (name := entry.name())]
    if names:
        told = finding("things-unheld", names=names, example=names[0])
        top.at("items").report(told.following(names_of("item"), HELD))
    return [*held, *named], spare


def _shown(top: Entry, path: str) -> str:
    """The file of things as findings show it: beside the project's own name."""
    name = pathlib.Path(path).relative_to(top.location.file.folder)
    return str(pathlib.PurePath(top.location.file.name).parent / name)


def _things(top: Entry, path: pathlib.Path) -> list[Entry]:
    """The things in a file, told of together with the project."""
    own = top.location.file
    name = _shown(top, str(path))
    head = top_of("things", file_text(path, file=name), file=name, folder=own.folder)
    file: ProjectFile = msgspec.structs.replace(
        head.location.file, findings=own.findings, thicknesses=own.thicknesses
    )
    for told in head.location.file.findings:
        own.report(told)
    entries = tables(msgspec.structs.replace(head, location=Location(file)), "item")
    check_names(entries, "name-taken/item")
    return entries


def _check_held(entry: Entry, top: Entry) -> None:
    """Report an item that does not say which part holds it, with the parts there are."""
    parts = tuple(copies_in(top.table.get("part")))
    if entry.has("in") or not parts:
        check_missing(entry, ("in",))
        return
    place = entry.at("in")
    allowed = entry.schema.keys["in"].allowed_in(place.units)
    told = finding("missing-key/part", allowed=allowed, known=parts, first=parts[0])
    place.report(told.following(entry.lacking("in")).spoiling(HELD))


def _with_thing(entry: Entry, things: Mapping[str, Entry], top: Entry, *, path: str) -> Entry:
    """An item with the thing of its name, whose shape is then written in one place alone."""
    thing = things.get(entry.name() or "")
    shape = [key for key in (*SHAPES, *BESIDE) if entry.has(key)]
    if thing is None:
        _check_held(entry, top)
        if not any(entry.has(key) for key in SHAPES):
            _report_unknown(entry, [name for name in things if name], path)
        return entry
    if shape:
        where = thing.location.where()
        told = finding("thing-twice", keys=shape, name=entry.name(), file=where.file, line=where.line)
        entry.at(shape[0]).report(told)
    if not thing.has("in"):
        _check_held(entry, top)
    return msgspec.structs.replace(entry, common=thing)


def _report_unknown(entry: Entry, known: Sequence[str], path: str) -> None:
    """Report an item without a size whose name no thing has."""
    if known:
        near = nearest(entry.name() or "", known)
        told = finding("item-without-size/thing", allowed=SHAPES, file=path, near=near, known=known)
    else:
        told = finding("item-without-size/no-thing", allowed=SHAPES, file=path)
    lacking = [entry.lacking(key) for key in SHAPES]
    entry.location.report(told.following(*lacking).spoiling(*lacking, names_of("item")))


def _refuse_too_many(top: Entry, count: int) -> None:
    """Report that project and file together have more items than one file may."""
    rule = top.schema.keys["item"]
    if count > rule.many:
        top.at("items").report("too-many/things", count=count, header=rule.header, most=rule.many)
