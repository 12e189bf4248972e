"""Made: the ways of an interview drafted, put together and laid on sheets, to be chosen from.

In: what is wanted. Out: those ways that can be made, in words, with their articles for pictures; of what
can't, the findings. Part of the front door: each step is imported when it is called.
"""

from __future__ import annotations

import re
from collections.abc import Container
from math import ceil
from pathlib import Path
from typing import TYPE_CHECKING, Protocol, TypeVar

import msgspec

from handkit.commands.interview.wanted import Answered
from handkit.commands.interview.ways import Proposal, ways
from handkit.counting import OnProgress, no_progress
from handkit.errors import ProjectError
from handkit.messages.message import Severity
from handkit.paper import PAPERS, Paper, paper_named
from handkit.wording.figures import counted
from handkit.wording.quoting import words

if TYPE_CHECKING:
    from handkit.assemble.article import Article
    from handkit.findings import Finding
    from handkit.kit import Made


class _Step(Protocol):
    """What a step gives, with what it found."""

    @property
    def findings(self) -> tuple[Finding, ...]: ...


S = TypeVar("S", bound=_Step)

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


class Sizes(msgspec.Struct, frozen=True):
    """A page's margin, and how wide and high each piece is, mm."""

    margin: float
    boxes: tuple[tuple[float, float], ...]


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


class Ways:
    """Whether answers work, where a file of things lies in `folder`. What was drafted for answers before is
    not drafted again: another paper, and a figure tried anew, ask for none."""

    def __init__(self, folder: Path) -> None:
        self._folder, self._known, self._last = folder, dict[str, Sizes | None](), ""

    def work(self, wanted: Answered) -> bool:
        """Whether a way of these answers is drafted, sewn and put together with nothing to be warned of, on
        as many sheets as may be. These are reckoned: to lay them out takes longer than all before. The way
        that did last is looked at first."""
        paper = paper_named(wanted.paper)
        drafted = ways(msgspec.structs.replace(wanted, paper=PAPERS[0].name))
        for way in sorted(drafted, key=lambda each: each.told != self._last):
            if way.text not in self._known:
                self._known[way.text] = _drafted(way, self._folder)
            sizes = self._known[way.text]
            if sizes is not None and _reckoned(sizes, paper) <= MOST_SHEETS:
                self._last = way.told
                return True
        return False


def _drafted(way: Proposal, folder: Path) -> Sizes | None:
    """What a way's pieces take of sheets; None where something is wrong, or warned of. Nothing is done after
    the first step that warns."""
    from handkit import kit
    from handkit.draft.drafter import draft
    from handkit.punch.puncher import punch
    from handkit.read.file.load import ProjectText
    from handkit.read.reader import read_project

    try:
        project = _unwarned(read_project(ProjectText(way.text, "the project", folder)))
        pattern = _unwarned(draft(project))
        punched = _unwarned(_unwarned(kit.article_of(_unwarned(punch(pattern)))).punched)
        _unwarned(kit.plan_of(punched))
    except ProjectError:
        return None
    boxes = (piece.cut_outline.bounds() for piece in punched.pattern.pieces)
    margin = project.page.margin
    return Sizes(margin, tuple((right - left, high - low) for left, low, right, high in boxes))


def _unwarned(step: S) -> S:
    """A step, where it warns of nothing. Raises ProjectError."""
    if any(each.severity is not Severity.NOTE for each in step.findings):
        raise ProjectError(step.findings)
    return step


def _reckoned(sizes: Sizes, paper: Paper) -> float:
    """How many sheets the pieces take: those that fit one by their area, the others tile by tile."""
    sheets, off = 0.0, 2 * sizes.margin
    for wide, high in sizes.boxes:
        across, up = wide / (paper.width - off), high / (paper.height - off)
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
