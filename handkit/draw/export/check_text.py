"""What a check finds, as plain text for a terminal.

In: findings, how each item fits. Out: text. The same as JSON: `report_json.check_json`.
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.draft.pattern import ItemFit
from handkit.draw.export.text_lines import filled, headed, text_table
from handkit.draw.words.lists import FITS, measured_words
from handkit.findings import Finding


def fit_lines(fits: Sequence[ItemFit]) -> list[str]:
    """A headed table; nothing where nothing is carried."""
    if not fits:
        return []
    return [
        *headed("Room for the items"),
        *text_table(FITS, fits, names=2),
        *(line for said in measured_words(fits) for line in filled(said)),
    ]


def check_text(findings: Sequence[Finding], fits: Sequence[ItemFit]) -> str:
    """Findings, a line each, or that there are none; then the room that each item has."""
    report = "".join(f"{finding}\n" for finding in findings) or "nothing to tell: the project is fine\n"
    return report + "".join(f"{line.rstrip()}\n" for line in fit_lines(fits))
