"""Item fits as text: how each item sits in its place, and what a check tells.

In: fits, findings. Out: rows for a table, text for a terminal.
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.draft.pattern import ItemFit
from handkit.draw.words.names import figure
from handkit.draw.words.text_lines import headed, text_table
from handkit.findings import Finding

HEADS = ("item", "in", "needs", "has", "ease", "allowed", "fit")


def fit_rows(fits: Sequence[ItemFit]) -> tuple[tuple[str, ...], ...]:
    """A row for each item, as HEADS has it: what was measured stands beside the part. Mm."""
    return tuple(
        (
            fit.item,
            f"{fit.part}, {fit.measure}",
            f"{fit.needed:.1f}",
            f"{fit.given:.1f}",
            f"{fit.ease:.1f}",
            f"{figure(fit.least, 1)} to {figure(fit.most, 1)}",
            fit.fit.value,
        )
        for fit in fits
    )


def fit_lines(fits: Sequence[ItemFit]) -> list[str]:
    """A headed table; nothing where nothing is carried."""
    return [*headed("Room for the items"), *text_table(HEADS, fit_rows(fits), names=2)] if fits else []


def check_text(findings: Sequence[Finding], fits: Sequence[ItemFit]) -> str:
    """Findings, a line each, or that there are none; then the room that each item has."""
    told = "".join(f"{finding}\n" for finding in findings) or "nothing to tell: the project is fine\n"
    return told + "".join(f"{line.rstrip()}\n" for line in fit_lines(fits))
