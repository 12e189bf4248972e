"""Places: a project file with the sizes of its bases and the places of its parts written into it.

In: the text of a file, the project it is read as, sizes and places in mm. Out: the same text with the
rectangles of bases that were arranged and an `at` in each part, all else as it was, comments too.

Lines are edited and the text is read again: what then says anything else than it should is not given.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from typing import Any

from handkit.geometry.affine import Point
from handkit.read.project import ARRANGED, Project
from handkit.read.written.values import FileForm

_ON = re.compile(r"(\s*)on(\s*)=")
_SIZE = re.compile(rf"(rectangle\s*=\s*)([\"']){ARRANGED}\2")


def with_places(
    text: str, project: Project, sizes: Mapping[str, Point], places: Mapping[str, Point]
) -> str | None:
    """The text with these; None where a part or a base is not written a key a line."""
    form, lines = FileForm(project.source.unit), text.split("\n")
    for piece in project.pieces:
        if piece.name in sizes:
            number = dict(piece.source.keys)["rectangle"].line - 1
            found = _SIZE.search(lines[number])
            if found is None:
                return None
            line = lines[number]
            size = form.point(sizes[piece.name])
            lines[number] = f"{line[: found.start()]}{found[1]}{size}{line[found.end() :]}"
    added: dict[int, str] = {}
    for part in project.parts:
        if part.name in places:
            number = dict(part.source.keys)["on"].line - 1
            begun = _ON.match(lines[number])
            if begun is None:
                return None
            added[number] = f"{begun[1]}at{begun[2]}= {form.point(places[part.name])}"
    whole = "\n".join(
        each for number, line in enumerate(lines) for each in (line, added.get(number)) if each is not None
    )
    return whole if _says(whole, _as_it_should(text, form, sizes, places)) else None


def _as_it_should(
    text: str, form: FileForm, sizes: Mapping[str, Point], places: Mapping[str, Point]
) -> dict[str, Any]:
    """What the file is to say."""
    said = tomllib.loads(text)
    for piece in said.get("piece", []):
        if piece.get("name") in sizes and piece.get("rectangle") == ARRANGED:
            piece["rectangle"] = _value(form.point(sizes[piece["name"]]))
    for part in said.get("part", []):
        if part.get("name") in places:
            part["at"] = _value(form.point(places[part["name"]]))
    return said


def _value(text: str) -> object:
    return tomllib.loads(f"value = {text}")["value"]


def _says(text: str, said: dict[str, Any]) -> bool:
    try:
        return tomllib.loads(text) == said
    except tomllib.TOMLDecodeError:
        return False
