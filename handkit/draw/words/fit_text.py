"""Item fits as text: how each item sits in its place, and what a check reports.

In: fits, findings. Out: the columns of a table, text for a terminal. Mm.
"""

from __future__ import annotations

from collections.abc import Sequence
from operator import attrgetter

from handkit.draft.pattern import ItemFit
from handkit.draw.words.listing import Column, figures
from handkit.draw.words.text_lines import headed, text_table
from handkit.figures import TENTHS, plain
from handkit.findings import Finding

FITS = (
    Column("item", 4, attrgetter("item")),
    Column("in", 5, lambda fit: f"{fit.part}, {fit.measure}"),
    figures("needs", 1.6, lambda fit: TENTHS.number(fit.needed)),
    figures("has", 1.6, lambda fit: TENTHS.number(fit.given)),
    figures("ease", 1.6, lambda fit: TENTHS.number(fit.ease)),
    Column("allowed", 2.2, lambda fit: f"{plain(fit.least, 1)} to {plain(fit.most, 1)}"),
    Column("fit", 2.4, lambda fit: fit.fit.value),
)


def fit_lines(fits: Sequence[ItemFit]) -> list[str]:
    """A headed table; nothing where nothing is carried."""
    return [*headed("Room for the items"), *text_table(FITS, fits, names=2)] if fits else []


def check_text(findings: Sequence[Finding], fits: Sequence[ItemFit]) -> str:
    """Findings, a line each, or that there are none; then the room that each item has."""
    report = "".join(f"{finding}\n" for finding in findings) or "nothing to tell: the project is fine\n"
    return report + "".join(f"{line.rstrip()}\n" for line in fit_lines(fits))
