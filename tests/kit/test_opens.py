"""Other people's readers open every kit without a word of complaint."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import pypdfium2


def test_pdfium_opens_and_draws_every_page(kit: Any) -> None:
    document = pypdfium2.PdfDocument(kit.pdf)
    assert len(document) == kit.report["totals"]["pages"]
    for page in document:
        assert page.render(scale=0.5).to_numpy().min() < 100, "an empty page"


def test_poppler_tells_of_it(kit: Any, outside: Any) -> None:
    told = outside("pdfinfo", kit.pdf)
    assert (told.returncode, told.stderr) == (0, "")
    assert f"Pages:           {kit.report['totals']['pages']}\n" in told.stdout
    assert f"Title:           {kit.report['title']}" in told.stdout


def test_poppler_draws_it(kit: Any, outside: Any, tmp_path: Path) -> None:
    drawn = outside("pdftoppm", "-r", "40", "-gray", kit.pdf, tmp_path / "page")
    assert (drawn.returncode, drawn.stdout, drawn.stderr) == (0, "", "")
    assert len(list(tmp_path.glob("page*.pgm"))) == kit.report["totals"]["pages"]


def test_qpdf_finds_nothing(kit: Any, outside: Any) -> None:
    checked = outside("qpdf", "--check", kit.pdf)
    assert (checked.returncode, checked.stderr) == (0, "")
    assert "No syntax or stream encoding errors found" in checked.stdout


def test_every_text_can_be_copied_out(kits: Any) -> None:
    """Names beyond Latin-1 are text in the file, with letters that are there."""
    kit = kits("case")
    text = "\n".join(page.extract_text() for page in kit.reader.pages)
    for piece in kit.pieces["pieces"]:
        assert piece["name"] in text
    assert "\ufffd" not in text
    assert kit.reader.metadata is not None
    assert kit.reader.metadata.title == kit.report["title"]


def test_fonts_are_embedded(kit: Any, outside: Any) -> None:
    told = outside("pdffonts", kit.pdf)
    assert (told.returncode, told.stderr) == (0, "")
    rows = told.stdout.splitlines()[2:]
    assert rows
    assert all(" yes yes " in row for row in rows), told.stdout  # emb, sub


def test_a_locked_kit_is_refused(pouch: Any, outside: Any, tmp_path: Path) -> None:
    """Locked by another program, with a password and without one for reading."""
    for user in ("secret", ""):
        locked = tmp_path / "locked.pdf"
        made = outside("qpdf", "--encrypt", user, "owner", "256", "--", pouch.pdf, locked)
        assert made.returncode == 0
        run = outside(Path(sys.executable).with_name("handkit"), "proof", locked)
        assert (run.returncode, run.stdout) == (3, "")
        assert run.stderr == (
            "error: locked.pdf: found an encrypted file; allowed: a PDF that opens without a password\n"
        )
