"""Paper: the sizes that are known by name, and sizes that are written out; how it is drawn on.

In: a name (`A4`, `letter`) or a size (`210x297mm`, `8.5x11in`). Out: `Paper`, in mm. `Layout` says
what a maker may choose about the way pieces are laid on it. Names and sizes: `kinds/pages.py`.
"""

from __future__ import annotations

import re

import msgspec

from handkit.errors import PaperError
from handkit.kinds.pages import DEFAULT_PAPER, PAPER_SIZES, PAPERS_ALLOWED, Drawn, Straights, Windows
from handkit.units import LENGTH_UNITS, MM_PER_INCH


class Paper(msgspec.Struct, frozen=True):
    """A sheet as it lies in the printer: `width` across, `height` along the feed, in mm."""

    name: str
    width: float
    height: float


PAPERS: tuple[Paper, ...] = tuple(Paper(name, size.width, size.height) for name, size in PAPER_SIZES.items())

# Smaller than this no square and bar fit; larger than this a PDF page may not be (200 in,
# the page limit of ISO 32000-1's annex on limits).
LEAST_SIDE = 100.0
MOST_SIDE = 200 * MM_PER_INCH

_SIZE = re.compile(r"\s*(\d{1,5}(?:\.\d{1,4})?)\s*x\s*(\d{1,5}(?:\.\d{1,4})?)\s*(mm|cm|in)\s*", re.ASCII)


class Layout(msgspec.Struct, frozen=True):
    """How pieces are laid on sheets; as it stands, the way that takes fewest."""

    windows: Windows = Windows.SHARED
    draw: Drawn = Drawn.ONCE
    straights: Straights = Straights.WHOLE
    tries: int = 0  # of the longer search for fewer sheets
    measured: bool = False  # plain pieces that fit no sheet are drawn by their measures


# Fewest sheets, all drawn whole.
AS_USUAL = Layout()


def paper_named(text: str) -> Paper:
    """The paper a name or a written size stands for; upper and lower case are alike.

    Raises PaperError with what is allowed.

    >>> paper_named("a4")
    Paper(name='A4', width=210, height=297)
    >>> paper_named("200x250mm").height
    250.0
    """
    for paper in PAPERS:
        if paper.name.lower() == text.strip().lower():
            return paper
    size = _SIZE.fullmatch(text)
    if size is None:
        raise PaperError(f"found paper {text!r}; allowed: {PAPERS_ALLOWED}")
    unit = LENGTH_UNITS[size[3]]
    width, height = float(size[1]) * unit, float(size[2]) * unit
    if min(width, height) < LEAST_SIDE or max(width, height) > MOST_SIDE:
        raise PaperError(f"found paper {text!r}; allowed: sides from {LEAST_SIDE:g} to {MOST_SIDE:g} mm")
    return Paper(text.strip(), width, height)


def default_paper() -> Paper:
    """The paper of a file that names none."""
    return paper_named(DEFAULT_PAPER)


def paper_of_size(width: float, height: float, *, within: float) -> str:
    """The name of the known paper of this size in mm, or "" where there is none.

    >>> paper_of_size(210.0, 297.0, within=0.01), paper_of_size(209.9, 297, within=0.01)
    ('A4', '')
    """
    for paper in PAPERS:
        if abs(paper.width - width) <= within and abs(paper.height - height) <= within:
            return paper.name
    return ""
