"""Spots: where a value of the project file stands, and how a fault of it is told.

In: the path of keys to a value, and the words a maker would use for it. Out: findings with file,
line and key, gathered in one list so that all faults of a file are told in one go.

Words: a *reading* is what all spots of one file share; a *fault* is a finding without its place.
"""

from __future__ import annotations

import pathlib
from collections.abc import Mapping, Sequence

import msgspec

from handkit.errors import ProjectError
from handkit.findings import Finding, Source, Where, error, nearest
from handkit.messages.message import Severity
from handkit.quoting import quoted
from handkit.read.file.lines import KeyPath

# More than this many faults help nobody, and a hostile file could have millions.
MOST_FAULTS = 100


class Fault(msgspec.Struct, frozen=True):
    """What is wrong with a value, before it is known where the value stands."""

    code: str
    found: str
    allowed: str = ""
    remedy: str = ""


class Reading(msgspec.Struct, frozen=True):
    """One file being read. `findings` grows as faults are found; a fault told twice is kept once."""

    file: str
    folder: pathlib.Path
    unit: str  # "" where it isn't known
    lines: Mapping[KeyPath, int]
    findings: dict[Finding, None] = msgspec.field(default_factory=dict)

    def tell(self, severity: Severity, where: Where, fault: Fault) -> None:
        """Keep a finding. Raises ProjectError where there are more errors than anyone will read.

        Notes and warnings are not counted: they stop no work, and an entry has few of them.
        """
        finding = Finding(fault.code, severity, where, fault.found, fault.allowed, fault.remedy)
        self.findings.setdefault(finding)
        if severity is Severity.ERROR and self._errors() > MOST_FAULTS:
            more = error(
                "too-many-faults",
                Where(self.file),
                found=f"more than {MOST_FAULTS} faults",
                remedy="mend these first; the rest of the file was not read",
            )
            raise ProjectError([*self.findings, more])

    def _errors(self) -> int:
        return sum(finding.severity is Severity.ERROR for finding in self.findings)

    def refuse(self, where: Where, fault: Fault) -> None:
        """Tell an error at the place of an entry that has been read already."""
        self.tell(Severity.ERROR, where, fault)

    def line(self, path: KeyPath) -> int:
        """The line of a path, or of the nearest thing around it that is written."""
        while path and path not in self.lines:
            path = path[:-1]
        return self.lines.get(path, 0)


class Spot(msgspec.Struct, frozen=True):
    """The place of one value: its path from the file's top, and the same in words."""

    reading: Reading
    path: KeyPath = ()
    words: str = ""

    def down(self, part: str | int, words: str = "") -> Spot:
        """The place of a value inside this one, named by its key unless `words` say it better."""
        said = words or key_words(str(part))
        return Spot(self.reading, (*self.path, part), f"{self.words}: {said}" if self.words else said)

    def where(self) -> Where:
        """The place as a finding has it."""
        return Where(self.reading.file, self.reading.line(self.path), self.words)

    def source(self, keys: Sequence[str], *, words: str = "") -> Source:
        """This entry as later steps know it, with the lines of its keys."""
        lines = tuple((key, self.reading.line((*self.path, key))) for key in keys)
        return Source(self.reading.file, words or self.words, self.reading.line(self.path), lines)

    def refuse(self, fault: Fault) -> None:
        """Tell an error at this place."""
        self.reading.tell(Severity.ERROR, self.where(), fault)

    def warn(self, fault: Fault) -> None:
        """Tell what should be looked at before cutting."""
        self.reading.tell(Severity.WARNING, self.where(), fault)

    def remark(self, fault: Fault) -> None:
        """Tell what is good to know."""
        self.reading.tell(Severity.NOTE, self.where(), fault)


def key_words(key: str) -> str:
    """A key as a message says it: quoted only where it holds what could be mistaken.

    >>> key_words("round"), key_words("A-B"), key_words("left side"), key_words("")
    ('round', 'A-B', 'left side', '""')
    """
    plain = key.isprintable() and key == key.strip() and len(key) <= 60 and ":" not in key
    return key if plain and key else quoted(key)


def unknown(code: str, name: str, known: Sequence[str], *, what: str, allowed: str = "") -> Fault:
    """A name that the file does not have: told with what it has, and the nearest of it.

    >>> unknown("unknown-piece", "frnt", ["front", "back"], what="piece").remedy
    'write "front", or add the piece'
    """
    near = nearest(name, known)
    listed = allowed or ", ".join(quoted(each) for each in known[:12]) + (", …" if len(known) > 12 else "")
    remedy = f"write {quoted(near)}, or add the {what}" if near else f"write one of these, or add the {what}"
    return Fault(
        code, quoted(name), listed or f"no {what} is in the file", remedy if known else f"add the {what}"
    )
