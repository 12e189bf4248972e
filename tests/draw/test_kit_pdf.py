"""The kit's file: the same bytes always, what it asks of viewers and printers, what is in it."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from hashlib import sha256
from io import BytesIO
from pathlib import Path
from typing import Any

import pypdf
import pypdfium2
import pytest

from handkit.draw.kit_pdf import KitFile, kit_pdf

AGAIN = """
import sys, hashlib
from pathlib import Path
from handkit.draft.drafter import draft
from handkit.punch.puncher import punch
from handkit.read.reader import read_project
from handkit.sheets.layout import lay_out
from handkit.stitch.planner import plan
from handkit.draw.kit_pdf import kit_pdf
punched = punch(draft(read_project(Path(sys.argv[1]))))
page = punched.pattern.project.page
sheets = lay_out(punched, paper=page.paper, edge=page.edge, margin=page.margin, overlap=page.overlap)
print(hashlib.sha256(kit_pdf(punched, plan(punched), sheets).data).hexdigest())
"""


@pytest.fixture(scope="module")
def kit(wallet_kit: KitFile) -> KitFile:
    return wallet_kit


@pytest.fixture(scope="module")
def reader(kit: KitFile) -> pypdf.PdfReader:
    return pypdf.PdfReader(BytesIO(kit.data))


def test_a_second_run_gives_the_same_bytes(wallet: Any, kit: KitFile) -> None:
    assert kit_pdf(*wallet) == kit


@pytest.mark.long
def test_nothing_hangs_on_hash_order_time_zone_or_locale(wallet: Any, kit: KitFile, tmp_path: Path) -> None:
    file = Path(wallet.punched.pattern.project.source.file)
    for seed, zone, locale in (("1", "Asia/Kathmandu", "C"), ("77", "America/St_Johns", "de_DE.UTF-8")):
        changed = {"PYTHONHASHSEED": seed, "TZ": zone, "LC_ALL": locale, "PYTHONUTF8": "1"}
        env = {k: v for k, v in os.environ.items() if k != "SOURCE_DATE_EPOCH"} | changed
        done = subprocess.run(
            [sys.executable, "-c", AGAIN, str(file)],
            env=env,
            cwd=tmp_path,
            capture_output=True,
            text=True,
            check=True,
        )
        assert done.stdout.strip() == sha256(kit.data).hexdigest()


def test_drawing_leaves_the_librarys_settings_as_they_were(wallet: Any) -> None:
    from reportlab import rl_config  # noqa: PLC0415 - only this test looks at it

    before = rl_config.useA85
    kit_pdf(*wallet)
    assert rl_config.useA85 == before


def test_viewers_are_asked_for_no_scaling(reader: pypdf.PdfReader) -> None:
    # ISO 32000-1 Table 150: PrintScaling, a name, None or AppDefault
    root: Any = reader.trailer["/Root"]
    assert root["/ViewerPreferences"]["/PrintScaling"] == "/None"
    assert reader.pdf_header == "%PDF-1.7"


def test_every_page_is_the_papers_true_size(reader: pypdf.PdfReader) -> None:
    # A4 is 210 x 297 mm (ISO 216), a unit 1/72 in (ISO 32000-1): 595.2756 x 841.8898
    for page in reader.pages:
        assert [float(x) for x in page.mediabox] == pytest.approx([0, 0, 595.27559, 841.88976], abs=1e-4)
        assert page.rotation == 0


def test_page_labels_and_bookmarks_lead_through_the_kit(reader: pypdf.PdfReader, kit: KitFile) -> None:
    labels = reader.page_labels
    assert len(labels) == kit.pages == len(reader.pages)
    assert labels[0].startswith("First sheet")
    assert [label for label in labels if label.startswith("Sheet ")] == ["Sheet 1 of 2", "Sheet 2 of 2"]
    assert {"Plan 1", "Plan 2"} <= set(labels)
    outline: list[Any] = reader.outline
    tops = [entry["/Title"] for entry in outline if not isinstance(entry, list)]
    assert tops == ["First sheet", "Template sheets", "Plan"]
    under = next(entry for entry in outline if isinstance(entry, list))
    assert [entry["/Title"].partition(":")[0] for entry in under] == ["Sheet 1", "Sheet 2"]


def test_the_title_is_the_projects(reader: pypdf.PdfReader) -> None:
    assert reader.metadata is not None
    assert reader.metadata.title == "Sketching wallet"


def test_every_page_says_what_it_is(reader: pypdf.PdfReader) -> None:
    count = len(reader.pages)
    for number, (page, label) in enumerate(zip(reader.pages, reader.page_labels, strict=True), start=1):
        text = page.extract_text()
        assert "Sketching wallet" in text
        assert f"{label} · page {number} of {count}" in text


def test_text_extraction_finds_each_piece_and_each_seam(reader: pypdf.PdfReader, wallet: Any) -> None:
    texts = dict(zip(reader.page_labels, (page.extract_text() for page in reader.pages), strict=True))
    sheets = "\n".join(text for label, text in texts.items() if label.startswith("Sheet "))
    plan = "\n".join(text for label, text in texts.items() if label.startswith("Plan"))
    for piece in wallet.punched.pattern.pieces:
        assert piece.name in sheets
        assert piece.name in texts["Plan 1"]
    for seam in wallet.plan.seams:
        assert seam.name in plan


def test_every_font_is_embedded(reader: pypdf.PdfReader) -> None:
    for page in reader.pages:
        fonts: Any = page["/Resources"]["/Font"]
        assert fonts
        for font in fonts.values():
            assert "/FontFile2" in font.get_object()["/FontDescriptor"]


def test_every_page_opens_and_has_ink(kit: KitFile) -> None:
    document = pypdfium2.PdfDocument(kit.data)
    assert len(document) == kit.pages
    for page in document:
        grey = page.render(scale=0.5).to_numpy()
        assert grey.min() < 128 < grey.max()
    document.close()


@pytest.mark.parametrize(
    "paper", [pytest.param("100x100mm", marks=pytest.mark.long), "120x160mm", "letter", "A3"]
)
def test_other_papers(products_of: Callable[..., Any], wallet: Any, paper: str) -> None:
    text = Path(wallet.punched.pattern.project.source.file).read_text(encoding="utf-8")
    products = products_of(text, paper=paper)
    kit = kit_pdf(*products)
    sizes = {tuple(map(float, page.mediabox)) for page in pypdf.PdfReader(BytesIO(kit.data)).pages}
    assert len(sizes) == 1


def test_a_project_of_one_bare_piece(products_of: Callable[..., Any]) -> None:
    text = 'format = 1\n[material]\nthickness = 2\n[[piece]]\nname = "disc"\ncircle = 60\n'
    kit = kit_pdf(*products_of(text))
    labels = pypdf.PdfReader(BytesIO(kit.data)).page_labels
    assert labels[:2] == ["First sheet", "Sheet 1 of 1"]
