"""Made: the ways of an interview drafted, put together and laid on sheets, to be chosen from.

In: what is wanted. Out: those ways that can be made, in words, with their articles for pictures; of what
can't, the findings. Part of the front door: each step is imported when it is called.
"""

from __future__ import annotations

import re
from collections.abc import Container
from pathlib import Path
from typing import TYPE_CHECKING

import msgspec

from handkit.commands.interview.wanted import Answered
from handkit.commands.interview.ways import Proposal, ways
from handkit.counting import OnProgress, no_progress
from handkit.errors import ProjectError
from handkit.messages.message import Severity
from handkit.wording.figures import counted
from handkit.wording.quoting import words

if TYPE_CHECKING:
    from handkit.assemble.article import Article
    from handkit.kit import Made


class MadeProposal(msgspec.Struct, frozen=True):
    """One way: what is told of it, its project's text, the article put together."""

    told: str
    text: str
    article: Article


class MadeProposals(msgspec.Struct, frozen=True):
    """The ways that can be made; where none can, what is wrong with the first, in words that name no
    file, for there is none yet."""

    title: str
    ways: tuple[MadeProposal, ...]
    refused: tuple[str, ...]

    @property
    def numbers(self) -> str:
        """The numbers to choose from, in words."""
        return words([str(number) for number in range(1, len(self.ways) + 1)])

    def free_name(self, ending: str = ".toml", own: Container[Path] = ()) -> Path:
        """A file's name after the title that nothing here has but for our `own` files."""
        stem = re.sub(r"[^\w]+", "_", self.title.lower()).strip("_") or "project"
        number, place = 1, Path(f"{stem}{ending}")
        while place.exists() and place not in own:
            number += 1
            place = Path(f"{stem}_{number}{ending}")
        return place


def made_ways(wanted: Answered, folder: Path, *, on_progress: OnProgress = no_progress) -> MadeProposals:
    """The ways to carry what is wanted, each taken as far as paper; a file of things lies in the folder."""
    from handkit.kit import made_of
    from handkit.read.file.load import ProjectText

    made: list[MadeProposal] = []
    refused: tuple[str, ...] = ()
    for number, way in enumerate(ways(wanted), start=1):
        on_progress(f"way {number}")
        try:
            found = made_of(ProjectText(way.text, "the project", folder))
        except ProjectError as why:
            refused = refused or tuple(one.words for one in why.findings if one.severity is Severity.ERROR)
        else:
            made.append(MadeProposal(_told(way, found), way.text, found.article))
    return MadeProposals(wanted.title, tuple(made), () if made else refused)


def _told(way: Proposal, made: Made) -> str:
    """How a way differs, and what it takes."""
    punched = made.punched
    units = punched.project.units
    holes = sum(len(seam.layers[0].holes) for seam in punched.seams)
    warnings = sum(each.severity is Severity.WARNING for each in made.findings)
    parts = [
        way.told,
        counted(len(made.sheets.sheets), "template sheet"),
        f"{units.area.text(made.plan.totals.leather_gross_mm2)} with waste",
        counted(holes, "stitch hole"),
        *([counted(warnings, "warning")] if warnings else []),
    ]
    return ", ".join(parts)


def pictures(made: MadeProposals) -> bytes:
    """Pictures of all ways, as a PDF file."""
    from handkit.draw.article.ways import ways_pdf

    return ways_pdf([(way.article, way.told) for way in made.ways])
