"""The mat on paper, measured back by a renderer of another hand: squares, bars, and a field that is bare."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import cv2
import numpy as np
import pypdf
import pypdfium2
import pytest
from click.testing import CliRunner, Result

from handkit.cli import main
from handkit.paper import paper_named
from handkit.photo.mat import MatMark, mat_of
from handkit.photo.tracer import find

PAPERS = ["A4", "A3", "letter", "120x150mm"]
DOTS = 8  # to a mm


def run(*words: str) -> Result:
    result = CliRunner().invoke(main, list(words))
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exc_info
    return result


def last_page(pdf: Path) -> Any:
    """How dark the dots of the last page are, 0 to 1, x to the right and y up from the paper's lower left,
    `DOTS` to a mm."""
    document = pypdfium2.PdfDocument(pdf)
    picture = document[len(document) - 1].render(scale=DOTS * 25.4 / 72 - 1e-6, grayscale=True).to_numpy()
    document.close()
    return np.flipud(1 - picture.reshape(picture.shape[:2]) / 255.0)


def box(dark: Any, left: float, low: float, right: float, top: float) -> Any:
    return dark[round(low * DOTS) : round(top * DOTS), round(left * DOTS) : round(right * DOTS)]


@pytest.mark.parametrize("paper", PAPERS)
def test_squares_and_bars_lie_where_the_record_has_them(tmp_path: Path, paper: str) -> None:
    pdf, size = tmp_path / "mat.pdf", paper_named(paper)
    assert run("mat", "--paper", paper, "-o", str(pdf)).exit_code == 0
    dark, mat = last_page(pdf), mat_of(size.width, size.height)
    _, _, stats, _ = cv2.connectedComponentsWithStats((dark > 0.5).astype(np.uint8))
    assert sum(min(sides) > 6 * DOTS for sides in stats[1:, 2:4]) == len(mat.marks)
    for mark in mat.marks:
        area, centre = measured(dark, mark)
        assert centre == pytest.approx(mark.centre, abs=1.2 / DOTS)  # the page ends within a dot
        assert area == pytest.approx(48 if mark.hollow else 64, rel=0.06)
        assert not any(box(dark, *ring).any() for ring in rings(mark))
    for bar, axis in ((mat.across, 0), (mat.up, 1)):
        (x, y), (x1, y1) = bar.start, bar.end
        line = box(
            dark, *((x - 2, y - 0.4, x1 + 2, y + 0.4) if axis == 0 else (x - 0.4, y - 2, x + 0.4, y1 + 2))
        )
        along = np.flatnonzero(line.max(axis=axis) > 0.3)
        assert (along[-1] - along[0] + 1) / DOTS == pytest.approx(bar.length + 0.13, abs=0.15)  # a tick's pen
    field = mat.field
    assert not box(dark, field.left, field.bottom, field.right, field.top).any()


def measured(dark: Any, mark: MatMark) -> tuple[float, tuple[float, float]]:
    """Area and middle of what is dark about a square, in mm."""
    left, low = (round((place - 5.5) * DOTS) for place in mark.centre)
    part = dark[low : low + 11 * DOTS, left : left + 11 * DOTS]
    ys, xs = np.indices(part.shape) + 0.5
    area = part.sum()
    return area / DOTS**2, ((left + (part * xs).sum() / area) / DOTS, (low + (part * ys).sum() / area) / DOTS)


def rings(mark: MatMark) -> list[tuple[float, float, float, float]]:
    """Four strips round a square: what is dark there would move its middle."""
    (x, y), near, far = mark.centre, mark.size / 2 + 0.2, mark.size / 2 + 1.5
    return [
        (x - far, y - far, x - near, y + far),
        (x + near, y - far, x + far, y + far),
        (x - far, y - far, x + far, y - near),
        (x - far, y + near, x + far, y + far),
    ]


def test_the_file_asks_for_no_scaling_and_passes_the_proof(tmp_path: Path) -> None:
    pdf = tmp_path / "mat.pdf"
    told = run("mat", "-o", str(pdf))
    assert told.output == (
        f"{pdf}: the mat for A4; print its last page at 100 % on blue or green paper, "
        "then measure both bars\n"
    )
    assert pypdf.PdfReader(pdf).root_object["/ViewerPreferences"]["/PrintScaling"] == "/None"
    proof = run("proof", str(pdf))
    assert proof.exit_code == 0, proof.output


def test_words_tell_what_to_do_with_what_is_drawn(tmp_path: Path) -> None:
    pdf = tmp_path / "mat.pdf"
    run("mat", "--paper", "A3", "-o", str(pdf))
    text = " ".join(" ".join(page.extract_text() for page in pypdf.PdfReader(pdf).pages).split())
    mat = mat_of(297, 420)
    assert (mat.across.length, mat.up.length) == (240, 290)
    for words in (
        "handkit trace PHOTO --mat A3 --bars ACROSS,UP --count N",
        "across: should be 240 mm (9.449 in), measures ________",
        "up: should be 290 mm (11.417 in), measures ________",
        "handkit mat A3 · bars: 240 mm across, 290 mm up",
        "coloured paper", "Tall things in the middle", "Soft light", "Nothing over a square",
        "tested on simulated photos, not on real ones",
    ):  # fmt: skip
        assert words in text


def test_a_paper_that_makes_no_mat_is_wrong(tmp_path: Path) -> None:
    pdf = tmp_path / "mat.pdf"
    small = run("mat", "--paper", "100x150mm", "-o", str(pdf))
    assert (small.exit_code, pdf.exists()) == (2, False)
    assert "found paper 100 × 150 mm for a mat; allowed: sides from 120 to 600 mm" in small.stderr


def test_the_mat_for_a_printer_is_corrected_and_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """By hand: 178.56 ÷ 180 = 0.992, so 160 mm are drawn 161.29 mm long."""
    monkeypatch.setenv("HANDKIT_PRINTERS", str(tmp_path / "printers.toml"))
    run("printer", "measured", "office", "--across", "178.56", "--down", "260")
    pdf = tmp_path / "mat.pdf"
    assert run("mat", "--printer", "office", "-o", str(pdf)).exit_code == 0
    assert "Corrected for the printer office" in pypdf.PdfReader(pdf).pages[0].extract_text()
    dark, bar = last_page(pdf), mat_of(210, 297).across
    row = dark[
        round((bar.start[1] - 0.4) * DOTS) : round((bar.start[1] + 0.4) * DOTS), 20 * DOTS : 190 * DOTS
    ]
    along = np.flatnonzero(row.any(axis=0))
    assert (along[-1] - along[0] + 1) / DOTS == pytest.approx(160 / 0.992, abs=0.35)


@pytest.mark.long
def test_the_mat_as_it_is_drawn_is_found_in_a_photo_of_it(tmp_path: Path) -> None:
    """Its page with all that stands on it, on blue paper, a yellow rule of 80 × 20 mm in its field, seen
    aslant through a pinhole: K·[r1 r2 t], plane geometry."""
    pdf, mat = tmp_path / "mat.pdf", mat_of(210, 297)
    run("mat", "-o", str(pdf))
    light = np.flipud(1 - last_page(pdf))[:, :, None]
    sheet = (np.array((170, 80, 25)) * light + 12).astype(np.uint8)
    sheet[100 * DOTS : 120 * DOTS, 60 * DOTS : 140 * DOTS] = (40, 190, 220)
    high, wide = sheet.shape[:2]
    turn, _ = cv2.Rodrigues(np.array([0.05, -0.04, 0.03]))
    lens = np.array([[2600.0, 0, 900], [0, 2600, 1200], [0, 0, 1]])
    middle = np.array([[1 / DOTS, 0, -wide / DOTS / 2], [0, 1 / DOTS, -high / DOTS / 2], [0, 0, 1]])
    by = lens @ np.column_stack((turn[:, 0], turn[:, 1], (4, -6, 430))) @ middle
    photo = cv2.warpPerspective(sheet, by, (1800, 2400), flags=cv2.INTER_AREA, borderValue=(90, 100, 110))
    found = find(cv2.imencode(".jpg", cv2.GaussianBlur(photo, (0, 0), 1.0))[1].tobytes(), mat,
                 bars=(mat.across.length, mat.up.length), count=1)  # fmt: skip
    assert found.view.residual < 0.06
    xs, ys = zip(*found.blobs[0].seen, strict=True)
    assert (min(xs), max(xs), min(ys), max(ys)) == pytest.approx((60, 140, 177, 197), abs=0.3)
