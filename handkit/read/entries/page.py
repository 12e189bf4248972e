"""The page: the paper and what may be printed on it.

In: the [page] entry. Out: `Page`. A font is looked for beside the project and never outside its
folder, wherever a link in it may lead. Whether edge, margin and overlap go together is told where
sheets are laid out: the command line may still put others in their place.
"""

from __future__ import annotations

import os

from handkit.errors import PaperError
from handkit.findings import nearest
from handkit.paper import PAPER_NAMES, PAPERS, Drawn, Layout, Paper, Straights, Windows, paper_named
from handkit.quoting import quoted
from handkit.read.entries.entry import Entry
from handkit.read.project import Page
from handkit.read.values.spot import Fault

_FONT_ENDING = ".ttf"


def read_page(entry: Entry) -> Page:
    """The page as written, or A4 with the default margins."""
    return Page(
        source=entry.source(),
        paper=_paper(entry),
        edge=entry.length("edge"),
        margin=entry.length("margin"),
        overlap=entry.length("overlap"),
        font=_font(entry),
        layout=Layout(
            windows=entry.choice("windows", Windows),
            draw=entry.choice("draw", Drawn),
            straights=entry.choice("straights", Straights),
        ),
    )


def _paper(entry: Entry) -> Paper:
    name = entry.text("paper")
    if not name:
        if entry.has("paper") and entry.value("paper") == "":
            _refuse_paper(entry, name, entry.rule("paper").allowed)
        return PAPERS[0]
    try:
        return paper_named(name)
    except PaperError as fault:
        _refuse_paper(entry, name, str(fault).partition("allowed: ")[2])
        return PAPERS[0]


def _refuse_paper(entry: Entry, name: str, allowed: str) -> None:
    near = nearest(name, PAPER_NAMES)
    size = 'a size such as "210x297mm"'
    remedy = f"write {quoted(near)}, or {size}" if near else f"write the name of a paper, or {size}"
    entry.at("paper").refuse(Fault("unknown-paper", quoted(name), allowed, remedy))


def _font(entry: Entry) -> str | None:
    """The path of the font file; None where none is named, or it is refused."""
    name = entry.optional_text("font")
    if name is None:
        return None
    folder = os.path.realpath(entry.spot.reading.folder)
    path = entry.spot.reading.folder / name
    real = os.path.realpath(path)
    fault: Fault | None = None
    allowed = entry.rule("font").allowed
    if not name.lower().endswith(_FONT_ENDING):
        fault = Fault("font-kind", quoted(name), allowed, "take a TrueType font, whose name ends in .ttf")
    elif os.path.commonpath([folder, real]) != folder:
        fault = Fault("font-outside", quoted(name), allowed, "put the font beside the project")
    elif not os.path.isfile(real):  # noqa: PTH113 - unlike Path.is_file it takes any name
        fault = Fault("font-missing", quoted(name), allowed, "put the font there, or mend the name")
    if fault is None:
        return str(path)
    entry.at("font").refuse(fault)
    return None
