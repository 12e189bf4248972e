"""The first sheet: what it tells of the findings; all that a maker starts with stands on one page."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import pytest

from handkit.draw.kit_pdf import kit_pages
from handkit.draw.model.fonts import shipped_fonts
from handkit.draw.model.marks import words_of
from handkit.findings import Finding, Where
from handkit.ink import Tag
from handkit.messages.message import Severity

HEAD = "Before you print"


def told(severity: Severity, what: str, *, remedy: str = "", line: int = 0) -> Finding:
    where = Where("apron.toml", line, f'seam "{what}"')
    return Finding("told", severity, where, found=what, allowed="", remedy=remedy)


def first_sheet(wallet: Any, findings: Sequence[Finding]) -> str:
    pages = kit_pages(*wallet, shipped_fonts(), findings=findings)
    first = [page for page in pages if page.label.startswith("First sheet")]
    return " ".join(words.text for words in words_of(first))


TABLE = [
    # What was found, and how a maker is told before paper and leather are spent: its weight, its words.
    (told(Severity.WARNING, "hem", line=9), ("warning", 'seam "hem": found hem (line 9)')),
    (told(Severity.WARNING, "rim", remedy="move it"), ("warning", 'seam "rim": found rim; move it')),
    (told(Severity.NOTE, "tab", remedy="fold it"), ("note", 'seam "tab": found tab; fold it')),
    (told(Severity.NOTE, "flap"), None),  # it only says how a thing is
]


@pytest.mark.parametrize(("finding", "line"), TABLE)
def test_a_finding_is_told_that_a_maker_should_know(
    wallet: Any, finding: Finding, line: tuple[str, str] | None
) -> None:
    text = first_sheet(wallet, [finding])
    if line is None:
        assert HEAD not in text and f"found {finding.found}" not in text
        return
    assert HEAD in text
    assert all(words in text.split(HEAD)[1] for words in line)


def test_warnings_stand_before_notes(wallet: Any) -> None:
    found = [told(Severity.NOTE, "tab", remedy="fold it", line=1), told(Severity.WARNING, "hem", line=9)]
    text = first_sheet(wallet, found)
    assert text.index("found hem") < text.index("found tab")


def test_of_many_findings_the_rest_is_counted(wallet: Any) -> None:
    found = [told(Severity.WARNING, f"edge {k}", line=k) for k in range(1, 13)]
    text = first_sheet(wallet, found)
    assert "found edge 8 (line 8)" in text and "edge 9" not in text
    assert "4 findings more: handkit check tells all." in text


def test_without_findings_nothing_is_said_of_them(wallet: Any) -> None:
    assert HEAD not in first_sheet(wallet, [])


@pytest.mark.parametrize("count", [0, 2, 12])
def test_squares_and_bars_stand_on_the_first_page(wallet: Any, count: int) -> None:
    found = [told(Severity.WARNING, f"edge {k}", line=k) for k in range(1, count + 1)]
    page = kit_pages(*wallet, shipped_fonts(), findings=found)[0]
    tags = [mark.tag for group in page.groups for mark in group.marks]
    assert (tags.count(Tag.SQUARE), tags.count(Tag.BAR)) == (2, 2)


@pytest.mark.parametrize("count", [1, 3, 5, 8, 12])
def test_no_page_of_it_has_a_few_lines_alone(wallet: Any, count: int) -> None:
    """Where findings take much room, all about reading the sheets stands on the second page."""
    long = "22 stitches of 3.93 mm on the one and of 3.95 mm on the other, which is more than is allowed " * 2
    found = [told(Severity.WARNING, long, line=k) for k in range(1, count + 1)]
    pages = kit_pages(*wallet, shipped_fonts(), findings=found)
    first = [page for page in pages if page.label.startswith("First sheet")]
    texts = [" ".join(words.text for words in words_of([page])) for page in first]
    assert len(first) == 1 + ("Reading the sheets" not in texts[0])
    assert ("All sheets" in texts[0]) is (len(first) == 1)
    assert (count < 3) is (len(first) == 1)
