"""Measured: what a maker reads of a rule or says of a thing, in words of the command line or of a dialogue.

In: texts. Out: lengths in mm, counts, names; or wrong use, with what is allowed.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import NoReturn

import click
import msgspec

from handkit.findings import Finding, finding
from handkit.photo.traced import Thick
from handkit.read.file.project_file import Location, ProjectFile
from handkit.read.schema.keys import TABLES
from handkit.read.values.field import Field
from handkit.read.values.lengths import length_mm
from handkit.read.values.plain import read_name
from handkit.wording.quoting import quoted

# What is said beside the thickness of a thing whose sides are round; more things than that share no mat.
ROUND, MOST_THINGS = "round", 100


class Stated(msgspec.Struct, frozen=True):
    """What the words of the command line say of photos; None of what is asked for."""

    bars: tuple[float, float]  # across and up, in mm
    counts: tuple[int, ...]  # of the things on each
    thick: tuple[Thick, ...] | None
    names: tuple[str, ...] | None
    unit: str  # of plain numbers


class Told(msgspec.Struct, frozen=True):
    """What a maker says of a thing."""

    thick: Thick
    name: str


def rule_length(text: str, unit: str = "mm") -> float:
    """A length as the project file writes it, in mm; a plain number is in this unit. Raises
    click.BadParameter."""
    found = length_mm(text, unit=unit)
    return _refuse(found) if isinstance(found, Finding) else found


def rule_lengths(text: str, count: int, unit: str = "mm") -> tuple[float, ...]:
    """So many lengths with commas between. Raises click.BadParameter."""
    parts = text.split(",")
    if len(parts) != count:
        _refuse(finding("readings-count", text=text, count=count))
    return tuple(rule_length(part.strip(), unit) for part in parts)


def counts_in(text: str, photos: int) -> tuple[int, ...]:
    """How many things lie on each of some photos. Raises click.BadParameter."""
    parts = [part.strip() for part in text.split(",")]
    counts = [int(part) for part in parts if part.isascii() and part.isdigit() and len(part) < 4]
    if len(parts) != photos or len(counts) != photos or not all(1 <= one <= MOST_THINGS for one in counts):
        _refuse(finding("things-count", text=text, photos=photos, most=MOST_THINGS))
    return tuple(counts)


def thick_in(text: str, unit: str) -> Thick:
    """How thick a thing is, and whether it is round: "12", "1/2 in", "8 round". Raises click.BadParameter."""
    words = text.split()
    is_round = words[-1:] == [ROUND]
    length = rule_length(" ".join(words[:-1] if is_round else words), unit)
    rule = TABLES["item"].keys["thickness"]
    if not rule.least <= length <= rule.most:
        raise click.BadParameter(f"found {quoted(text)}; allowed: {rule.allowed}")
    return Thick(length, is_round)


def thicks_in(text: str, count: int, unit: str) -> tuple[Thick, ...]:
    """The same of all things, with commas between. Raises click.BadParameter."""
    parts = text.split(",")
    if len(parts) != count:
        _refuse(finding("readings-count", text=text, count=count))
    return tuple(thick_in(part, unit) for part in parts)


def name_in(text: str, taken: Sequence[str] = (), usual: str = "") -> str:
    """A thing's name as a project may have it, unlike those before it; the usual one where none is said.
    Raises click.BadParameter."""
    file = ProjectFile("", Path(), "mm", {})
    name = read_name(Field(text.strip() or usual, TABLES["item"].keys["name"], Location(file)))
    for wrong in file.findings:
        _refuse(wrong)
    if name in taken:
        _refuse(finding("things-named", name=name))
    return str(name)


def names_in(text: str, count: int) -> tuple[str, ...]:
    """The names of all things, with commas between. Raises click.BadParameter."""
    parts = text.split(",")
    if len(parts) != count:
        _refuse(finding("names-count", text=text, count=count))
    names: list[str] = []
    for part in parts:
        names.append(name_in(part, names))
    return tuple(names)


def _refuse(wrong: Finding) -> NoReturn:
    raise click.BadParameter(wrong.words)
