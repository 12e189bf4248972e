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
def read(tmp_path: Path) -> Callable[[str], Project]:
    """The project in a text, as the file p.toml in a folder that has no fonts; what stands behind === is a
    file of things beside it."""

    def reading(text: str) -> Project:
        text, _, things = text.partition("=== things.toml\n")
        if things:
            (tmp_path / "things.toml").write_text(things, "utf-8")
        return read_project_text(text, file="p.toml", folder=tmp_path if things else HERE / "empty")

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
