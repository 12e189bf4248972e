"""What a check finds, as plain text for a terminal.

In: findings, how each item fits, how many sheets the kit takes. Out: text that ends with a verdict. The same
as JSON: `report_json.check_json`.
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.draft.pattern import ItemFit
from handkit.draw.export.plan_text import LINES
from handkit.draw.export.text_lines import WIDTH, filled
from handkit.draw.words.lists import rooms
from handkit.findings import Finding
from handkit.messages.message import Severity
from handkit.wording.figures import METRIC, Units, counted


def check_text(  # noqa: PLR0913 - each by name
    findings: Sequence[Finding],
    fits: Sequence[ItemFit],
    sheets: int | None,
    *,
    measured: int = 0,
    units: Units = METRIC,
    width: int | None = None,
) -> str:
    """Findings, a line each, broken where a terminal has a width; the room that each item has; whether the
    kit can be made, on how many template sheets (None: it can't), with how many pieces `measured`."""
    told = [str(finding) for finding in findings]
    room = rooms(fits, units)
    lines = [
        *(line for text in told for line in (filled(text, width, then="    ") if width else [text])),
        *(LINES[type(room)](room, width or WIDTH) if room.rows else ()),
        *[""] * bool(room.rows),
        verdict(findings, sheets, measured),
    ]
    return "".join(f"{line.rstrip()}\n" for line in lines)


def verdict(findings: Sequence[Finding], sheets: int | None, measured: int = 0) -> str:
    """How much there is to mend, and whether the kit can be made.

    >>> verdict((), 4)
    'no errors, no warnings: the kit can be made: 4 template sheets'
    >>> verdict((), 0, 2)
    'no errors, no warnings: the kit can be made: 0 template sheets, 2 measured drawings'
    """
    counts = {kind: sum(one.severity is kind for one in findings) for kind in Severity}
    errors, warnings = (
        counted(counts[kind], kind.value) if counts[kind] else f"no {kind.value}s"
        for kind in (Severity.ERROR, Severity.WARNING)
    )
    if sheets is None:
        return f"{errors}, {warnings}: the kit can't be made yet"
    drawings = f", {counted(measured, 'measured drawing')}" if measured else ""
    return f"{errors}, {warnings}: the kit can be made: {counted(sheets, 'template sheet')}{drawings}"
