"""By hand: a project as a file that says piece by piece what its parts draft.

In: the path of a project file, and the folder where the other is to lie. Out: its text. Part of the front
door: reading, drafting and punching first show that the project can be made.
"""

from __future__ import annotations

from pathlib import Path

import msgspec

from handkit.findings import Finding
from handkit.kit import punched_of
from handkit.read.file.load import Given, file_text
from handkit.read.written.project_text import comments_above, project_text


class ByHand(msgspec.Struct, frozen=True):
    """A project written out without parts, as the text of a file, and what there is to tell."""

    text: str
    findings: tuple[Finding, ...]


def by_hand(project_file: Given, folder: Path) -> ByHand:
    """The project written out, to lie in a folder. Raises ProjectError with every finding of the step that
    stopped, FileError where the file can't be read."""
    punched = punched_of(project_file)
    comments = comments_above(file_text(project_file, file=str(project_file)))
    text = project_text(punched.pattern.project, str(folder), comments)
    return ByHand(text, (*punched.pattern.findings, *punched.findings))
