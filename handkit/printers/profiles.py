"""Profiles: the printers that were measured, as the text of one TOML file.

In: the file's text. Out: `Printer`s; or one finding that says why it is none of handkit's. And the way back,
text that is read as the same.
"""

from __future__ import annotations

import json
import re
import tomllib
from collections import Counter
from collections.abc import Sequence
from math import isfinite

import msgspec

from handkit.errors import PrinterError
from handkit.findings import Finding, Where, finding
from handkit.printers.correction import Correction, Printer

FORMAT = 1
MOST_EDGE = 50.0

# A name stands in the head line of every sheet, and is typed.
MOST_LETTERS = 24
_NAME = re.compile(rf"[\w.-]([\w .-]{{0,{MOST_LETTERS - 2}}}[\w.-])?")
_LATIN = 0x250  # letters below it are in the shipped font

_HEAD = f"""# Printers as handkit measured them. handkit writes this file anew: other notes are not kept.
format = {FORMAT}
"""


class _Entry(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A [[printer]] of the file."""

    name: str
    across: float
    down: float
    skew: float
    edges: tuple[float, float, float, float] | None = None


class _Profiles(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The file."""

    format: int
    printer: tuple[_Entry, ...] = ()


def is_name(name: str) -> bool:
    """Whether a printer may be called so.

    >>> [is_name(each) for each in ("office", "büro 2", "", " a", "a/b", "x" * 25)]
    [True, True, False, False, False, False]
    """
    return _NAME.fullmatch(name) is not None and all(ord(letter) < _LATIN for letter in name)


def profiles_of(text: str, *, file: str) -> tuple[Printer, ...]:
    """The printers of a file's text, by name. Raises PrinterError where it is damaged."""
    try:
        read = msgspec.convert(tomllib.loads(text), _Profiles)
    except RecursionError:
        raise damaged(file, "tables in tables without end") from None
    except ValueError as reason:  # those of tomllib and of msgspec are such
        raise damaged(file, str(reason)) from None
    wrong = _fault(read)
    if wrong:
        raise damaged(file, wrong)
    printers = (
        Printer(Correction(one.name, one.across, one.down, one.skew), one.edges) for one in read.printer
    )
    return tuple(sorted(printers, key=lambda one: one.correction.name))


def profiles_text(printers: Sequence[Printer]) -> str:
    """The file's text, the printers by name.

    >>> print(profiles_text([Printer(Correction("office", 0.992, 0.989, 0.2), (4, 4, 4, 12.5))]), end="")
    # Printers as handkit measured them. handkit writes this file anew: other notes are not kept.
    format = 1
    <BLANKLINE>
    [[printer]]
    name = "office"
    across = 0.992
    down = 0.989
    skew = 0.2
    edges = [4.0, 4.0, 4.0, 12.5]
    """
    return _HEAD + "".join(map(_entry, sorted(printers, key=lambda one: one.correction.name)))


def damaged(file: str, reason: str) -> PrinterError:
    """What is raised of a file that is none of handkit's."""
    return PrinterError([finding("printers-damaged", Where(file), reason=reason)])


def unknown(name: str, printers: Sequence[Printer]) -> Finding:
    """That no printer is called so, with those there are."""
    known = [one.correction.name for one in printers]
    if not known:
        return finding("printer-unknown/none", name=name)
    return finding("printer-unknown", name=name, known=known)


def _fault(read: _Profiles) -> str:
    """The first thing that handkit would not have written, "" where there is none."""
    if read.format != FORMAT:
        return f"format {read.format}"
    doubles = [name for name, count in Counter(one.name for one in read.printer).items() if count > 1]
    if doubles:
        return f"the name {json.dumps(doubles[0])} twice"
    return next(
        (f"{what} of printer {k}" for k, one in enumerate(read.printer, start=1) for what in _odd(one)), ""
    )


def _odd(one: _Entry) -> list[str]:
    """Which of its values are none that handkit writes."""
    odd = Correction(one.name, one.across, one.down, one.skew).faults()
    odd += [
        f"an edge of {edge}" for edge in one.edges or () if not (isfinite(edge) and 0 <= edge <= MOST_EDGE)
    ]
    return odd + ["the name"] * (not is_name(one.name))


def _entry(one: Printer) -> str:
    known = one.correction
    edges = f"edges = [{', '.join(str(float(edge)) for edge in one.edges)}]\n" if one.edges else ""
    return (
        f'\n[[printer]]\nname = "{known.name}"\nacross = {known.across!r}\ndown = {known.down!r}\n'
        f"skew = {known.skew!r}\n{edges}"
    )
