"""What comes of a set of things: its faults by the model of the article, its area beside a plain row's."""

from __future__ import annotations

from pathlib import Path
from time import process_time
from typing import NamedTuple

from handkit.assemble.assembler import assemble
from handkit.draft.arrange.arranging import arrangements, in_one_row, laid
from handkit.draft.drafter import draft
from handkit.errors import ProjectError
from handkit.findings import Finding
from handkit.punch.puncher import punch
from handkit.read.reader import read_project_text

# Of parts and things in one another's way, or past their base.
CODES = ("clash", "part-past-base", "item-past-base", "part-apart", "hole")


class Outcome(NamedTuple):
    """One set: its faults, its base's area as a share of a plain row's, processor seconds, ways found."""

    name: str
    faults: list[str]
    share: float
    seconds: float
    ways: int


def outcome_of(text: str, name: str, *, most: int = 5) -> Outcome:
    """The first ways of a set put together."""
    project = read_project_text(text, file=f"{name}.toml", folder=Path())
    base = project.pieces[0]
    start = process_time()
    ways = arrangements(project, base)
    seconds = process_time() - start
    row = in_one_row(project, base)
    assert row is not None
    faults: list[str] = []
    for number, way in enumerate(ways[:most], start=1):
        placed = laid(project, [way])
        try:
            article = assemble(punch(draft(placed)))
            told: tuple[Finding, ...] = (
                *article.punched.pattern.findings, *article.punched.findings, *article.findings
            )  # fmt: skip
        except ProjectError as refused:
            told = refused.findings
        faults += [f"{number}: {each}" for each in told if each.code.startswith(CODES)]
    return Outcome(name, faults, ways[0].area / row.area, seconds, len(ways))
