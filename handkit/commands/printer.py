"""`handkit printer`: the printers that were measured, and the page they are measured by.

In: words of the command line, among them lengths as a rule has them. Out: a page to print; a printer kept,
told or forgotten.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from handkit.commands.common.ending import reporting_errors
from handkit.commands.common.options import OUTPUT, PAPER, printer_named
from handkit.commands.common.output import (
    refuse_overwriting,
    refuse_terminal,
    write_done,
    write_files,
    write_findings,
    write_output,
)
from handkit.interrupts import clearing_up

if TYPE_CHECKING:
    from pathlib import Path

    from handkit.findings import Finding
    from handkit.paper import Paper
    from handkit.printers.correction import Printer
    from handkit.printers.readings import Measured


def length(text: str) -> float:
    """A length in mm. Raises click.BadParameter."""
    from handkit.commands.common.measured import rule_length

    return rule_length(text)


def lengths(text: str, count: int) -> tuple[float, ...]:
    """So many lengths with commas between. Raises click.BadParameter."""
    from handkit.commands.common.measured import rule_lengths

    return rule_lengths(text, count)


def diagonals(text: str) -> tuple[float, ...]:
    """Two lengths. Raises click.BadParameter."""
    return lengths(text, 2)


def edges(text: str) -> tuple[float, ...]:
    """Four widths of what is left white. Raises click.BadParameter."""
    from handkit.printers.profiles import MOST_EDGE

    found = lengths(text, 4)
    for edge in found:
        if not 0 <= edge <= MOST_EDGE:
            raise click.BadParameter(_told("reading-out", read=edge, most=MOST_EDGE))
    return found


@click.group(invoke_without_command=True)
@click.pass_context
def printer(context: click.Context) -> None:
    """Correct what a printer's own error does; without a command, list the printers that were measured.

    Print the page of `handkit printer test`, measure it, give what it measures to `handkit printer measured
    NAME`; then `handkit make PROJECT --printer NAME`.
    """
    if context.invoked_subcommand is not None:
        return
    with reporting_errors():
        from handkit.commands.common.printer_file import known_printers

        known = known_printers()
        write_output("".join(f"{_line(one)}\n" for one in known) or "no printer was measured yet\n")


@printer.command(name="test")
@click.option("-o", "--output", **OUTPUT, metavar="TEST.pdf", help="Default: printer-test.pdf, here.")
@click.option("--paper", **PAPER)
@click.option("--printer", "name", metavar="NAME", help="Corrected for a printer, to see that it holds.")
def page(output: Path | None, paper: Paper, name: str | None) -> None:
    """Print the page that a printer is measured by."""
    from pathlib import Path

    from handkit import __version__
    from handkit.draw.model.fonts import shipped_fonts
    from handkit.draw.pages.printer_page import printer_pdf
    from handkit.manifest.listed import Origin

    output = output or Path("printer-test.pdf")
    with reporting_errors():
        refuse_overwriting(None, output)
        refuse_terminal(output)
        correction = printer_named(name, "--printer").needed if name is not None else None
        data = printer_pdf(paper, shipped_fonts(), correction, origin=Origin(__version__))
        write_files({output: data})
        write_done(f"{output}: the test page for {paper.name}; print at 100 %, then measure it", [output])


@printer.command()
@click.argument("name")
@click.option("--paper", **PAPER | {"help": "Of the test page."})
@click.option("--across", type=length, required=True, metavar="LENGTH", help="The bar across.")
@click.option("--down", type=length, required=True, metavar="LENGTH", help="The bar down.")
@click.option("--diagonals", type=diagonals, metavar="A,B", help="From cross to cross, with a comma between.")
@click.option(
    "--edges", type=edges, metavar="LEFT,RIGHT,TOP,BOTTOM", help="The lowest numbers whose lines are printed."
)
def measured(name: str, paper: Paper, edges: Any, **read: Any) -> None:
    """Keep a printer by what its test page measures: mm, or lengths such as "7 1/8 in"."""
    from handkit.errors import PrinterError
    from handkit.printers.correction import Printer
    from handkit.printers.page import PrinterPage
    from handkit.printers.profiles import MOST_LETTERS, is_name
    from handkit.printers.readings import Readings, faults
    from handkit.printers.readings import measured as measured_of
    from handkit.printers.verdict import CORRECTED, judged

    if not is_name(name):
        raise click.BadParameter(_told("printer-name", name=name, most=MOST_LETTERS))
    readings = Readings(PrinterPage(paper), **read)
    wrong = tuple(faults(readings))
    if wrong:
        raise click.BadParameter("; ".join(each.words for each in wrong))
    found = measured_of(readings)
    verdict = judged(found, paper, edges)
    doubt = verdict.finding()
    with reporting_errors():
        if doubt and verdict.cause not in CORRECTED:
            raise PrinterError([doubt])
        kept = Printer(verdict.correction(name), edges)
        path = _keep(name, kept)
        write_findings([doubt] if doubt else [])
        write_output(f"{_found(found)}\n{_line(kept)}\n")
        write_done(f"{path}: {name} is kept; handkit make PROJECT --printer {_word(name)}", [path])


@printer.command()
@click.argument("name")
def forget(name: str) -> None:
    """Drop a printer."""
    with reporting_errors():
        printer_named(name, "NAME")
        path = _keep(name, None)
        write_done(f"{path}: {name} is forgotten", [path])


def _keep(name: str, kept: Printer | None) -> Path:
    """Put a printer in its place among the others, or take it away. Raises HandkitError."""
    from handkit.commands.common.printer_file import keep_printers, known_printers

    others = [one for one in known_printers() if one.correction.name != name]
    with clearing_up():
        return keep_printers([*others, *([kept] if kept else [])])


def _word(name: str) -> str:
    """A name as a word of the command line."""
    return f'"{name}"' if " " in name else name


def _line(one: Printer) -> str:
    """A printer in a line."""
    known = one.correction
    told = known.factors if known.corrects else "true as far as a rule can tell"
    lost = ", ".join(f"{edge:g}" for edge in one.edges or ())
    sides = f"; loses {lost} mm at the left, right, top, bottom" if one.edges else "; its edges are not known"
    return f"{known.name}: {told}{sides}"


def _found(found: Measured) -> str:
    """What was measured, as far as a rule can tell."""
    from handkit.printers.readings import lean_degrees

    shares = f"across {_share(found.across)}, down {_share(found.down)}"
    if found.lean is None:
        return f"measured: {shares}; without diagonals no lean is known"
    lean, within = (lean_degrees(value) for value in (found.lean.value, found.lean.within))
    return f"measured: {shares}, lean {lean:.1f}° ± {within:.1f}° to the right"


def _share(share: Any) -> str:
    return f"{100 * share.value:.2f} % ± {100 * share.within:.2f} %"


def _told(key: str, **values: object) -> str:
    """What is wrong with a word of the command line."""
    from handkit.findings import finding

    told: Finding = finding(key, **values)
    return told.words
