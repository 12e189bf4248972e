"""The manifest in a finished kit, read back by another library: it lists what was punched and laid out."""

from __future__ import annotations

import json
from io import BytesIO
from typing import Any

import pypdf
import pytest

from handkit.draw.kit_pdf import KitFile
from handkit.errors import ProofError
from handkit.geometry.affine import Affine
from handkit.manifest.attached import NAME, read_manifest
from handkit.manifest.listed import Manifest

Products = tuple[Any, Any, Any]


def attached(data: bytes) -> bytes:
    """The attached file, as any reader of PDF finds it."""
    (found,) = pypdf.PdfReader(BytesIO(data)).attachments[NAME]
    return bytes(found)


@pytest.fixture(scope="module")
def listed(wallet_kit: KitFile) -> Manifest:
    return read_manifest(attached(wallet_kit.data))


def test_every_hole_of_a_piece_is_listed_once_where_it_was_punched(
    wallet: Products, listed: Manifest
) -> None:
    punched, _, _ = wallet
    there = {
        (layer.piece, seam.name, float(layer.run), float(hole.number)): hole.at
        for seam in punched.seams
        for layer in seam.layers
        for hole in layer.holes
    }
    found = {
        (piece.name, says["Seam"], says["Run"], says["Number"]): shape.fills[0].segments()[0]
        for piece in listed.pieces
        for shape in piece.shapes
        if shape.tag == "hkHole" and (says := shape.says)
    }
    assert found and set(found) <= set(there)
    for name, dot in found.items():
        middle = [(a + b) / 2 for a, b in zip(dot.start, dot.end, strict=True)]
        assert middle == pytest.approx(there[name], abs=1e-4), name


def test_outlines_are_the_drafted_lines_and_arcs(wallet: Products, listed: Manifest) -> None:
    punched, _, _ = wallet
    for piece in listed.pieces:
        (outline,) = (shape for shape in piece.shapes if shape.tag == "hkOutline")
        drafted = punched.pattern.piece(piece.name).cut_outline
        segments = outline.lines[0].segments()
        assert [s.bulge for s in segments] == pytest.approx([s.bulge for s in drafted.segments], abs=1e-8)
        assert [s.end for s in segments] == [pytest.approx(s.end, abs=1e-4) for s in drafted.segments]


def test_windows_lie_where_they_were_laid(wallet: Products, listed: Manifest) -> None:
    _, _, sheets = wallet
    laid = [window for sheet in sheets.sheets for window in sheet.windows]
    found = [window for page in listed.pages for window in page.windows]
    assert [(w.piece, w.number, w.copy) for w in found] == [(w.piece, w.number, w.copy) for w in laid]
    for one, other in zip(found, laid, strict=True):
        assert Affine(*one.placed).numbers() == pytest.approx(other.placed.numbers(), abs=1e-8)


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"format": 2}, "format 2; this handkit reads 1"),
        ({"pages": 3}, "no list that can be read"),
        ({"pieces": []}, "a window of a piece that it hasn't"),
    ],
)
def test_what_is_no_manifest_is_refused(wallet_kit: KitFile, change: dict[str, Any], told: str) -> None:
    content = json.loads(attached(wallet_kit.data)) | change
    with pytest.raises(ProofError, match=told):
        read_manifest(json.dumps(content).encode())
