"""What is kept of pages' contents: no byte of the file is another, and what stays is not written again."""

from __future__ import annotations

import pytest

from handkit.draw.model.fonts import shipped_fonts
from handkit.draw.model.marks import Page, Words, page_group
from handkit.draw.pdf import page_content
from handkit.draw.pdf.pdf_file import pdf_bytes
from handkit.kept.kept import NOTHING, Kept, KeptOf
from handkit.paper import Paper

# Texts of a head line and of two pages, saved one after the other, and how often groups are written: once a
# head line, once a body that is another, or before which other characters beyond ASCII were needed.
SAVED = (
    ("Kit", "é α", "β é", 4),
    ("Kit two", "é α", "β é", 2),
    ("Kit", "é α", "β ζ", 3),
    ("Kit", "α é", "β ζ", 4),
    ("Kit", "e a", "β ζ", 4),
    ("ζ Kit", "e a", "β ζ", 4),
    ("Kit", "é α", "β é", 2),
)


def page(head: str, text: str) -> Page:
    return Page("1", (), tuple(page_group(Words(each, (10, 10), 4)) for each in (head, text)))


def test_kept_contents_are_those_of_pages_written_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    fonts, paper, write, written = shipped_fonts(), Paper("A4", 210, 297), page_content.group_operators, []
    monkeypatch.setattr(page_content, "group_operators", lambda *all_: written.append(1) or write(*all_))
    kept = KeptOf(Kept())
    for head, one, two, count in SAVED:
        pages = [page(head, one), page(head, two)]
        written.clear()
        again = pdf_bytes(pages, paper=paper, title="", fonts=fonts, kept=kept)
        assert len(written) == count, (head, one, two)
        assert again == pdf_bytes(pages, paper=paper, title="", fonts=fonts, kept=NOTHING)
