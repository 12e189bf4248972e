"""Made: the ways of an interview drafted, put together and laid on sheets, to be chosen from.

In: what is wanted. Out: those ways that can be made, in words, with their articles for pictures; of what
can't, the findings. Part of the front door: each step is imported when it is called.
"""

from __future__ import annotations

import re
from collections.abc import Container
from math import ceil
from pathlib import Path
from typing import TYPE_CHECKING

import msgspec

from handkit.commands.interview.wanted import Answered
from handkit.commands.interview.ways import Proposal, ways
from handkit.counting import OnProgress, no_progress
from handkit.errors import ProjectError
from handkit.messages.message import Severity
from handkit.paper import Paper, paper_named
from handkit.wording.figures import counted
from handkit.wording.quoting import words

if TYPE_CHECKING:
    from handkit.assemble.article import Article
    from handkit.kit import Made
    from handkit.punch.punched import Punched

# So many ways are shown to choose from.
MOST_WAYS = 3

# More sheets than this are laid out too slowly for somebody who waits for an answer (our own).
MOST_SHEETS = 60


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
    """The ways to carry what is wanted, each taken as far as paper, three at most; a file of things lies in
    the folder. One that is warned of is left out where another is not."""
    from handkit.kit import made_of
    from handkit.read.file.load import ProjectText

    fine: list[MadeProposal] = []
    warned: list[MadeProposal] = []
    refused: tuple[str, ...] = ()
    for number, way in enumerate(ways(wanted), start=1):
        on_progress(f"way {number}")
        try:
            found = made_of(ProjectText(way.text, "the project", folder))
        except ProjectError as why:
            refused = refused or tuple(one.words for one in why.findings if one.severity is Severity.ERROR)
        else:
            kind = warned if any(each.severity is Severity.WARNING for each in found.findings) else fine
            kind.append(MadeProposal(_told(way, found), way.text, found.article))
        if len(fine) == MOST_WAYS:
            break
    made = tuple((fine or warned)[:MOST_WAYS])
    return MadeProposals(wanted.title, made, () if made else refused)


def works(wanted: Answered, folder: Path) -> bool:
    """Whether a way of these answers is drafted, sewn and put together with nothing to be warned of, on as
    many sheets as may be. These are reckoned: to lay them out takes longer than all before."""
    paper = paper_named(wanted.paper)
    drafted = (_drafted(way, folder) for way in ways(wanted))
    return any(one is not None and _reckoned(one, paper) <= MOST_SHEETS for one in drafted)


def _drafted(way: Proposal, folder: Path) -> Punched | None:
    """A way as far as the plan; None where something is wrong, or warned of."""
    from handkit import kit
    from handkit.read.file.load import ProjectText
    from handkit.read.reader import read_project

    try:
        project = read_project(ProjectText(way.text, "the project", folder))
        article = kit.article_of(kit.punched_from(project))
        plan = kit.plan_of(article.punched)
    except ProjectError:
        return None
    steps = (project, article.punched.pattern, article.punched, article, plan)
    warned = any(each.severity is not Severity.NOTE for step in steps for each in step.findings)
    return None if warned else article.punched


def _reckoned(punched: Punched, paper: Paper) -> float:
    """How many sheets the pieces take: those that fit one by their area, the others tile by tile."""
    sheets, margin = 0.0, punched.project.page.margin
    for piece in punched.pattern.pieces:
        left, low, right, high = piece.cut_outline.bounds()
        across, up = (right - left) / (paper.width - 2 * margin), (high - low) / (paper.height - 2 * margin)
        sheets += across * up if max(across, up) <= 1 else ceil(across) * ceil(up)
    return sheets


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
