"""Findings as plain text: a line each, and under it the line of the file that it is about, with a mark.

In: findings, the lines of the files they name, how many columns there are, how words are painted. Out: lines
for a terminal without their ends. What is told of the file as a whole, and notes, have no line of the file.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from handkit.draw.export.text_lines import WIDTH, filled
from handkit.findings import Finding
from handkit.messages.message import Severity
from handkit.wording.figures import counted
from handkit.wording.pointing import pointed

# The lines of a file, none where it can't be read; a word as a terminal should show it.
LinesOf = Callable[[str], Sequence[str]]
Paint = Callable[[str, Severity], str]


def as_it_is(word: str, _: Severity) -> str:
    """No colour."""
    return word


def finding_lines(
    findings: Iterable[Finding], lines_of: LinesOf, *, width: int | None = None, paint: Paint = as_it_is
) -> list[str]:
    """The lines of all findings; broken where a terminal has a width."""
    return [line for finding in findings for line in _lines(finding, lines_of, width, paint)]


def _lines(finding: Finding, lines_of: LinesOf, width: int | None, paint: Paint) -> list[str]:
    text = finding.told(column=True)
    first, *more = filled(text, width, then="    ") if width else [text]
    said = f"{finding.severity.value}: "
    before, found, after = first.partition(said)
    head = before + paint(found[:-1], finding.severity) + found[-1:] + after if found else first
    at = finding.where
    listed = lines_of(at.file) if at.line and finding.severity is not Severity.NOTE else ()
    if at.line > len(listed):
        return [head, *more]
    shown = pointed(listed[at.line - 1], at.line, at.column, at.width, cells=width or WIDTH) if listed else []
    *line, marks = shown or [""]
    return [head, *more, *line, *([paint(marks, finding.severity)] if shown else [])]


def told_counts(findings: Sequence[Finding]) -> str:
    """How many errors and warnings there are, and where more is told of one.

    >>> told_counts([])
    'no errors, no warnings'
    """
    counts = {kind: sum(one.severity is kind for one in findings) for kind in Severity}
    return ", ".join(
        counted(counts[kind], kind.value) if counts[kind] else f"no {kind.value}s"
        for kind in (Severity.ERROR, Severity.WARNING)
    )
