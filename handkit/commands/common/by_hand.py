"""By hand: a project as a file that says piece by piece what its parts draft.

In: the path of a project file, and the folder where the other is to lie. Out: its text. Part of the front
door: reading, drafting and punching first show that the project can be made.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import msgspec

from handkit.draft.pattern import Pattern
from handkit.findings import Finding
from handkit.kit import punched_of
from handkit.read.file.load import Given, file_text
from handkit.read.project import Part, PartKind, Setting
from handkit.read.written.project_text import Comments, comments_above, project_text


class ByHand(msgspec.Struct, frozen=True):
    """A project written out without parts, as the text of a file, and what there is to tell."""

    text: str
    findings: tuple[Finding, ...]


def by_hand(project_file: Given, folder: Path) -> ByHand:
    """The project written out, to lie in a folder. Raises ProjectError with every finding of the step that
    stopped, FileError where the file can't be read."""
    punched = punched_of(project_file)
    comments = comments_above(file_text(project_file, file=str(project_file)))
    text = written_out(punched.pattern, str(folder), comments)
    return ByHand(text, (*punched.pattern.findings, *punched.findings))


def written_out(pattern: Pattern, folder: str, comments: Comments) -> str:
    """What was drafted as a file without the parts that drafted it; blades keep their rooms."""
    return project_text(pattern.project, folder, comments, tuple(_rooms(pattern)))


def _rooms(pattern: Pattern) -> Iterator[Part]:
    """The sheaths' as parts of their own, each with its blade's lower end at the origin."""
    parts = {part.name: part for part in pattern.project.parts if part.kind is PartKind.SHEATH}
    for room in (each for each in pattern.rooms if each.part in parts):
        part, (_, low, right, _) = parts[room.part], room.items[0].outline.bounds()
        settings: dict[str, Setting] = {
            "cover": room.cover,
            "behind": True,
            "height": room.place.bounds()[3] - low,
        }
        own = (each.name for each in pattern.project.pieces if each.drafted_by == part.name)
        settings["pieces"] = tuple(name for name in own if name != room.cover)
        settings |= {"grip": part.size("grip")} if part.size("grip") else {}
        said = {"kind": PartKind.ROOM, "on": room.base, "at": (right, low), "turn_degrees": 0.0}
        yield msgspec.structs.replace(part, **said, settings=tuple(settings.items()))
