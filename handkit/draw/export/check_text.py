"""What a check finds, as plain text for a terminal.

In: findings, how each item fits, how many sheets the kit takes. Out: text that ends with a verdict; what was
found is told by `finding_text.py` before it. All of it as JSON: `report_json.check_json`.
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.draft.pattern import ItemFit
from handkit.draw.export.finding_text import told_counts
from handkit.draw.export.plan_text import LINES
from handkit.draw.export.text_lines import WIDTH
from handkit.draw.words.lists import rooms
from handkit.findings import Finding
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
    """The room that each item has; whether the kit can be made, on how many template sheets (None: it can't),
    with how many pieces `measured`."""
    room = rooms(fits, units)
    lines = [
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
    if sheets is None:
        return f"{told_counts(findings)}: the kit can't be made yet"
    drawings = f", {counted(measured, 'measured drawing')}" if measured else ""
    return f"{told_counts(findings)}: the kit can be made: {counted(sheets, 'template sheet')}{drawings}"
