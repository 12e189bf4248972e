"""What does a kit no harm: the same file, written in another way, passes the same checks word for word."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader, PdfWriter

LONG = ("pouch", "case")


def described(kit: Path, again: Path) -> None:
    """Another title, author and date."""
    writer = PdfWriter(clone_from=PdfReader(kit))
    said = {"/Title": "For the archive", "/Author": "A binder", "/ModDate": "D:20200102030405Z"}
    writer.add_metadata(said)
    writer.write(again)


def appended(kit: Path, again: Path) -> None:
    """An update behind the end of the file: what was there stays byte for byte."""
    data = kit.read_bytes()
    writer = PdfWriter(BytesIO(data), incremental=True)
    writer.add_metadata({"/Title": "For the archive"})
    writer.write(again)
    assert again.read_bytes().startswith(data)


def packed_again(kit: Path, again: Path) -> None:
    """Every page's content packed anew, by another library, as hard as it can."""
    writer = PdfWriter(clone_from=PdfReader(kit))
    for page in writer.pages:
        page.compress_content_streams(level=9)
    writer.write(again)


BY_PYPDF: dict[str, Callable[[Path, Path], None]] = {
    "described anew": described,
    "appended to": appended,
    "packed again": packed_again,
}

# What qpdf is told.
BY_QPDF = {
    "for the web": ("--linearize",),
    "for the web, objects in streams": ("--linearize", "--object-streams=generate"),
    "objects in streams": ("--object-streams=generate",),
    "nothing packed": ("--stream-data=uncompress",),
    "packed harder": ("--recompress-flate", "--compression-level=9"),
}


@pytest.fixture(params=["strap", *(pytest.param(name, marks=pytest.mark.long) for name in LONG)])
def whole(request: pytest.FixtureRequest, kits: Callable[[str], Any]) -> Path:
    """The file of a kit."""
    pdf: Path = kits(request.param).pdf
    return pdf


@pytest.fixture(scope="session")
def told(handkit: Callable[..., str]) -> Callable[[Path], list[str]]:
    """The lines of a proof that passes, without the last one, which names the file; a file is proved once."""
    return cache(lambda pdf: handkit("proof", pdf, folder=pdf.parent).splitlines()[:-1])


@pytest.mark.parametrize("way", BY_PYPDF)
def test_a_kit_written_again_passes(way: str, whole: Path, told: Any, tmp_path: Path) -> None:
    again = tmp_path / "again.pdf"
    BY_PYPDF[way](whole, again)
    assert again.read_bytes() != whole.read_bytes()
    assert told(again) == told(whole)


@pytest.mark.long
@pytest.mark.parametrize("way", BY_QPDF)
def test_a_kit_written_again_by_qpdf_passes(
    way: str, whole: Path, told: Any, outside: Any, tmp_path: Path
) -> None:
    """Streams of objects and of references, and parts in another order, are other ways to say the same."""
    again = tmp_path / "again.pdf"
    assert outside("qpdf", *BY_QPDF[way], whole, again).returncode == 0
    assert again.read_bytes() != whole.read_bytes()
    assert told(again) == told(whole)
