"""Tables: those that the file of an interview has beside its parts, with a comment to every key.

In: what is wanted; a thing and the part that holds it. Out: tables for the project file.
"""

from __future__ import annotations

from handkit.commands.interview.edges import LONG, THICK
from handkit.commands.interview.project_file import FileTable
from handkit.commands.interview.wanted import THREADS, Answered, ToldThing, thread_for
from handkit.read.written.toml_text import array, string


def head(wanted: Answered) -> list[FileTable]:
    """What stands before all pieces and parts."""
    top = {"format": "1", "title": string(wanted.title), "unit": string(wanted.unit)}
    top |= {"items": string(wanted.traced)} if wanted.traced else {}
    thread = thread_for(wanted.pitch.mm) or THREADS[-1]
    sewn = {"pitch": wanted.pitch.toml}
    sewn |= {"thread": string(f"{thread} mm")} if thread < THREADS[0] else {}
    sewn |= {"hand": '"left"'} if wanted.hand == "left" else {}
    material = {"kind": string(wanted.material), "thickness": wanted.thickness.toml}
    return [
        FileTable("", "project", top),
        FileTable("[material]", "material", material),
        FileTable(
            "[stitching]", "stitching", sewn, "", {"thread": "its diameter, for holes that are so near"}
        ),
        FileTable("[page]", "page", {"paper": string(wanted.paper)}),
    ]


def base() -> FileTable:
    """The back that carries all, as large as that needs."""
    return FileTable(
        "[[piece]]",
        "piece",
        {"name": '"back"', "rectangle": '"arranged"', "round": '"10 mm"'},
        "The back carries everything.",
        {
            "name": "what lies on it names it",
            "rectangle": "as large as what lies on it needs; or its [width, height]",
            "round": "of its corners",
        },
    )


def loop(belt: str) -> FileTable:
    """A loop for a belt of a width as the file has it."""
    return FileTable(
        "[[part]]",
        "part",
        {"name": '"belt loop"', "kind": '"loop"', "on": '"back"', "behind": "true", "belt": belt},
        "Behind the back: a strip that the belt goes through.",
        {"name": "its pieces and seams are called after it", "kind": "what it is", "on": "where it is sewn"},
    )


# What a file that says no handle has.
_HANDLE = "handle = [width, thickness, length]"
_TAKEN = f"broad as the blade, {THICK} thick, {LONG} long; measured, it is {_HANDLE}"


def item(thing: ToldThing, held_by: str, *, sheathed: bool) -> FileTable:
    """A thing in the part that holds it; of what goes into a sheath its blade and handle."""
    said = {"name": string(thing.name), "in": string(held_by), **_shape(thing)}
    said |= _handle(thing) if sheathed else {"cutting": string(thing.cutting)} if thing.cutting else {}
    comments = {
        "name": "as you call it",
        "in": "the part that holds it",
        "size": "width, thickness, length",
        "diameter": "of a round thing",
        "handle": "width, thickness, length of what stands out of the sheath",
        "cutting": "its sheath or cap is measured with it; or bare: give it one",
    }
    if sheathed:
        comments["size"] = "width, thickness, length of the blade alone"
        told = thing.blade or any(thing.handle)
        comments["in"] += "" if told else f"; a handle is taken for it: {_TAKEN}"
        comments["blade"] = (
            f"how far up it is blade; its handle is taken {THICK} thick; measured, it is {_HANDLE}"
        )
    return FileTable("[[item]]", "item", said, "", comments)


def _shape(thing: ToldThing) -> dict[str, str]:
    if thing.traced:
        return {}
    if thing.thickness is None:
        return {"diameter": thing.width.toml, "length": thing.length.toml}
    return {"size": array([thing.width.toml, thing.thickness.toml, thing.length.toml])}


def _handle(thing: ToldThing) -> dict[str, str]:
    """Of what goes into a sheath, what is told of its handle; as broad as the blade, or as all that was
    traced. What the file of things has of it is not said again."""
    thick, long = thing.handle
    blade = {"blade": thing.blade.toml} if thing.blade and thing.blade.toml else {}
    if not any(each and each.toml for each in thing.handle):
        return blade
    left = in_mm(thing.length.mm - thing.blade.mm) if thing.blade else string(LONG)
    size = (
        thing.width.toml or in_mm(thing.width.mm),
        thick.toml if thick else string(THICK),
        long.toml if long else left,
    )
    return blade | {"handle": array(size)}


def in_mm(length: float) -> str:
    """A length in whole mm, as a file has it."""
    return string(f"{length:.0f} mm")
