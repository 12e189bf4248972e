"""Projects of parts in few words: a base, parts and items as TOML, drafted or punched."""

from __future__ import annotations

import pathlib
from collections.abc import Callable

import pytest

from handkit.draft.drafter import draft
from handkit.draft.pattern import Pattern
from handkit.punch.punched import Punched
from handkit.punch.puncher import punch
from handkit.read.reader import read_project_text

HEAD = """format = 1
[material]
thickness = {thickness}
[[piece]]
name = "back"
rectangle = [900, 900]
"""


def read_and_draft(text: str, *, thickness: float = 2.4) -> Pattern:
    whole = HEAD.format(thickness=thickness) + text
    return draft(read_project_text(whole, file="p.toml", folder=pathlib.Path()))


def read_and_punch(text: str, *, thickness: float = 2.4) -> Punched:
    return punch(read_and_draft(text, thickness=thickness))


@pytest.fixture(scope="session")
def pattern_of() -> Callable[..., Pattern]:
    return read_and_draft


@pytest.fixture(scope="session")
def punched_of() -> Callable[..., Punched]:
    return read_and_punch


@pytest.fixture(scope="session")
def punched_from() -> Callable[[str], Punched]:
    """A whole file, punched."""
    return lambda text: punch(draft(read_project_text(text, file="p.toml", folder=pathlib.Path())))
