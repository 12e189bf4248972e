"""What the tests of the reading share: a text in, the project or what is told about it out."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from handkit.errors import ProjectError
from handkit.read.project import Project
from handkit.read.reader import read_project_text

HERE = Path(__file__).parent


@pytest.fixture
def read() -> Callable[[str], Project]:
    """The project in a text, as the file p.toml in a folder that has no fonts."""

    def reading(text: str) -> Project:
        return read_project_text(text, file="p.toml", folder=HERE / "empty")

    return reading


@pytest.fixture
def told(read: Callable[[str], Project]) -> Callable[[str], list[str]]:
    """Every line told about a text: its errors, or a good project's notes and warnings."""

    def telling(text: str) -> list[str]:
        try:
            return [str(finding) for finding in read(text).findings]
        except ProjectError as error:
            return [str(finding) for finding in error.findings]

    return telling
