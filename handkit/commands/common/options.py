"""Options of the command line: names of files, those that stand in for the file's [page], what they take.

In: words of the command line. Out: paths, papers, lengths in mm, members of enumerations; or wrong use.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from enum import StrEnum
from typing import TYPE_CHECKING, Any, TypeVar

import click

from handkit.commands.common.ending import NO_FILE, fail
from handkit.commands.common.output import GIVEN, columns_of
from handkit.kinds.pages import DEFAULT_PAPER, MOST_TRIES, PAPERS_ALLOWED, Drawn, Pictured, Straights, Windows
from handkit.wording.quoting import few, quoted, words

if TYPE_CHECKING:
    from pathlib import Path

    from handkit.overrides import PageOverrides
    from handkit.paper import Paper
    from handkit.printers.correction import Printer
    from handkit.read.file.load import Given

Command = TypeVar("Command", bound=Callable[..., Any])

MOST_PAGE_LENGTH = 100
# Of a paper trial: the back of a drawing block, the card of a shoe box (common practice, no source), mm.
USUAL_STOCK = 1.0

PICTURE_ENDINGS = tuple(f".{form.value}" for form in Pictured)


def as_path(_context: click.Context, _parameter: click.Parameter, name: str | None) -> Path | None:
    """A file's name as the commands take it."""
    from pathlib import Path

    return None if name is None else Path(name)


def as_output(_context: click.Context, _parameter: click.Parameter, name: str | None) -> Path | None:
    """The name of a file to write; `-` is the standard output."""
    from pathlib import Path

    from handkit.files import STANDARD_OUTPUT

    return None if name is None else STANDARD_OUTPUT if name == "-" else Path(name)


def as_project(context: click.Context, _parameter: click.Parameter, name: str | None) -> Given | None:
    """The name of a project file; `-` is the standard input, which is read here."""
    from pathlib import Path

    if name != "-":
        return None if name is None else Path(name)
    from handkit.read.file.load import MOST_BYTES, ProjectText

    try:
        data = None if sys.stdin is None else sys.stdin.buffer.read(MOST_BYTES + 1)
    except OSError:  # open for writing alone
        data = None
    if data is None:
        fail("the standard input can't be read; name the project file", NO_FILE)
    given = ProjectText(data, "standard input")
    context.meta[GIVEN] = given
    return given


FILE: dict[str, Any] = {"type": click.Path(), "callback": as_path}
PROJECT: dict[str, Any] = {"type": click.Path(), "callback": as_project}
OUTPUT: dict[str, Any] = {"type": click.Path(), "callback": as_output}


def paper(text: str) -> Paper:
    """A paper by name or size. Raises click.BadParameter."""
    from handkit.errors import PaperError
    from handkit.paper import paper_named

    try:
        return paper_named(text)
    except PaperError as reason:
        raise click.BadParameter(str(reason)) from None


def mat_paper(text: str) -> Paper:
    """The paper of a mat. Raises click.BadParameter."""
    from handkit.errors import PaperError
    from handkit.photo.mat import mat_of

    found = paper(text)
    try:
        mat_of(found.width, found.height)
    except PaperError as reason:
        raise click.BadParameter(str(reason)) from None
    return found


PAPER: dict[str, Any] = {
    "type": paper,
    "metavar": "PAPER",
    "default": DEFAULT_PAPER,
    "show_default": True,
    "help": f"{PAPERS_ALLOWED}.",
}


def length(text: str) -> float:
    """A length of the page as the file writes it, in mm; a plain number is mm. Raises click.BadParameter.
    (click's own range of numbers has room for nan.)"""
    from handkit.findings import Finding
    from handkit.read.values.lengths import length_mm

    found = length_mm(text)
    if isinstance(found, Finding) or not 0 <= found <= MOST_PAGE_LENGTH:
        raise click.BadParameter(
            f"found {text!r}; allowed: a length from 0 to {MOST_PAGE_LENGTH} mm, such as 12 or 0.5in"
        )
    return found


def picture_form(output: Path, form: Pictured | None = None) -> Pictured:
    """How pictures are written, by a file's ending; as asked for where it has none that tells it, or as PDF
    to the standard output. Raises click.BadParameter."""
    from handkit.files import is_standard_output

    ending = output.suffix.lower()
    if ending in PICTURE_ENDINGS:
        told = Pictured(ending.removeprefix("."))
        if form not in (None, told):
            raise click.BadParameter(f"found {form.value} and {str(output)!r}; name a file that ends so")
        return told
    if form or is_standard_output(output):
        return form or Pictured.PDF
    allowed = words(PICTURE_ENDINGS)
    raise click.BadParameter(f"found {str(output)!r}; allowed: a name that ends in {allowed}")


def choice(*names: str, members: type[StrEnum], explained: str) -> Callable[[Command], Command]:
    """An option that takes one of an enumeration's words and gives its member, or None without one."""

    def member(_context: click.Context, _option: click.Parameter, word: str | None) -> StrEnum | None:
        return None if word is None else members(word)

    return click.option(
        *names, type=click.Choice([one.value for one in members]), callback=member, help=explained
    )


def page_options(command: Command) -> Command:
    """The options that stand in for the file's [page]."""
    for option in (
        click.option(
            "--tries",
            type=click.IntRange(0, MOST_TRIES),
            metavar="N",
            help="Look longer for fewer sheets: lay portions anew so often.",
        ),
        click.option(
            "--measured",
            is_flag=True,
            default=None,
            help="Plain pieces larger than a sheet as drawings to be marked out by their measures.",
        ),
        choice("--straights", members=Straights, explained="Long straight pieces whole, or shortened."),
        choice("--draw", members=Drawn, explained="A piece cut several times: once, or each."),
        choice(
            "--windows", members=Windows, explained="Portions of pieces share sheets, or lie one a sheet."
        ),
        click.option(
            "--overlap", type=length, metavar="LENGTH", help="How far the portions of a piece overlap."
        ),
        click.option("--margin", type=length, metavar="LENGTH", help="Where drawing begins."),
        click.option("--edge", type=length, metavar="LENGTH", help="Nothing is printed nearer to the edge."),
        click.option("--paper", type=paper, help=f"{PAPERS_ALLOWED}."),
        click.option("--printer", metavar="NAME", help="Correct for a printer that was measured."),
    ):
        command = option(command)
    return command


def page_overrides(printer: str | None, **page: Any) -> PageOverrides:
    """What these options say. Raises click.BadParameter for a printer that is not known, HandkitError where
    those that are known can't be read."""
    from handkit.overrides import PageOverrides

    return PageOverrides(printer=None if printer is None else printer_named(printer, "--printer"), **page)


def printer_named(name: str, option: str) -> Printer:
    """A printer that was measured. Raises as `page_overrides` does."""
    from handkit.commands.common.printer_file import known_printers
    from handkit.printers.profiles import unknown

    known = known_printers()
    found = next((one for one in known if one.correction.name == name), None)
    if found is None:
        raise click.BadParameter(unknown(name, known).words, param_hint=option)
    return found


def stock(text: str) -> float:
    """A thickness as the project file writes it, in mm; a plain number is mm. Raises click.BadParameter."""
    from handkit.findings import Finding
    from handkit.read.schema.keys import TABLES
    from handkit.read.values.lengths import length_mm

    rule = TABLES["material"].keys["thickness"]
    found = length_mm(text, thickness=True)
    if isinstance(found, Finding) or not rule.least <= found <= rule.most:
        after = "; it stands after PROJECT, or with =" if text.lower().endswith(".toml") else ""
        raise click.BadParameter(f'found {quoted(text)}; allowed: {rule.allowed} such as "1 mm"{after}')
    return found


def trial_option(command: Command) -> Command:
    """The option that drafts all for the stock of a paper trial."""
    told = "Try it in paper first: drafted for card or felt as thick as that, 1 mm where nothing is said."
    usual = f"{USUAL_STOCK:g} mm"
    option = click.option(
        "--trial", type=stock, is_flag=False, flag_value=usual, metavar='["1 mm"]', help=told
    )
    return option(command)


def other_hand(command: Command) -> Command:
    """The option that turns all of a project to its mirror image."""
    told = "For the other hand: everything mirrored but words."
    return click.option("--mirrored", is_flag=True, default=None, help=told)(command)


def text_or_json(command: Command) -> Command:
    """The option that says for whom the output is."""
    forms = click.Choice(["text", "json"])
    return click.option("--format", "form", type=forms, default="text", help="For people or programs.")(
        command
    )


def picture_options(command: Command) -> Command:
    """The options that say where a picture goes, and how it is written."""
    where = click.option(
        "-o",
        "--output",
        **OUTPUT,
        metavar=f"FILE{'|'.join(PICTURE_ENDINGS)}",
        help="Default: PROJECT-article.pdf beside the project; - for a pipe. PNG is an extra: handkit[png].",
    )
    how = choice(
        "--format", "form", members=Pictured, explained="Where -o's ending does not tell it. Default: pdf."
    )
    return where(how(command))


def terminal_width() -> int | None:
    """Columns of the terminal that the output goes to; None where it goes elsewhere."""
    return columns_of(sys.stdout)


def refuse_unknown(names: Sequence[str], known: Sequence[str]) -> None:
    """Raise click.BadParameter for a name of no seam."""
    from handkit.findings import nearest

    for name in names:
        if name not in known:
            near = nearest(name, known)
            allowed = words(few([quoted(each) for each in known])) or "none, for nothing is sewn"
            meant = f"; did you mean {quoted(near)}?" if near else ""
            raise click.BadParameter(f"found {quoted(name)}; allowed: {allowed}{meant}", param_hint="--seam")
