"""Overrides: what of the page a command sets in place of what the project's file says.

In: options. Out: `PageOverrides`; the page with them; and as a kit's manifest names them, so that the kit can
be made anew.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import msgspec

from handkit.errors import PaperError, ProofError
from handkit.kinds.pages import Drawn, Straights, Windows
from handkit.paper import Layout, Paper, paper_named
from handkit.printers.correction import Printer

if TYPE_CHECKING:
    from handkit.read.project import PageOptions


class PageOverrides(msgspec.Struct, frozen=True):
    """What is set in place of what the file says, of the page and of all; None leaves the file's word."""

    paper: Paper | None = None
    edge: float | None = None
    margin: float | None = None
    overlap: float | None = None
    windows: Windows | None = None
    draw: Drawn | None = None
    straights: Straights | None = None
    measured: bool | None = None
    tries: int | None = None
    printer: Printer | None = None  # that all is drawn for
    mirrored: bool | None = None  # all of it for the other hand
    trial: float | None = None  # the thickness of the stock that it is tried in, mm


AS_WRITTEN = PageOverrides()

_NO_OPTIONS = "found a list of what it shows with options that handkit doesn't have"


def written(overrides: PageOverrides) -> dict[str, str | float | bool]:
    """What is set in place of what the file says, as a kit's manifest has it; `read_overrides` is the way
    back."""
    given = {name: value for name, value in msgspec.to_builtins(overrides).items() if value is not None}
    paper = {"paper": overrides.paper.name} if overrides.paper else {}
    printer = {"printer": msgspec.json.encode(overrides.printer).decode()} if overrides.printer else {}
    return given | paper | printer


def read_overrides(options: dict[str, str | float | bool]) -> PageOverrides:
    """What a manifest names. Raises ProofError for what no kit has.

    >>> read_overrides({"paper": "A4", "margin": 12.0}).margin
    12.0
    """
    try:
        paper = {"paper": paper_named(str(options["paper"]))} if "paper" in options else {}
        printer = {"printer": msgspec.json.decode(str(options["printer"]))} if "printer" in options else {}
        read = msgspec.convert(options | paper | printer, PageOverrides, strict=True)
    except (msgspec.MsgspecError, PaperError) as error:
        raise ProofError(_NO_OPTIONS) from error
    if read.printer is not None and read.printer.correction.faults():
        raise ProofError(_NO_OPTIONS)
    return read


def page_with(page: PageOptions, overrides: PageOverrides) -> PageOptions:
    """The page of the file, with what is set in its stead."""

    def chosen(of: PageOptions | Layout, *names: str) -> dict[str, Any]:
        given = {name: getattr(overrides, name) for name in names}
        return {name: getattr(of, name) if value is None else value for name, value in given.items()}

    layout = Layout(**chosen(page.layout, *Layout.__struct_fields__))
    ends = chosen(page, "paper", "edge", "margin", "overlap")
    return msgspec.structs.replace(page, layout=layout, **ends)
