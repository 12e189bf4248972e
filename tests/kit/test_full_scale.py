"""Full scale: pages, the test square and the bars, read from the content stream.

Sources: A4 is 210 x 297 mm (ISO 216), letter 8.5 x 11 in (ASME Y14.1); PrintScaling: ISO 32000-1,
Table 150.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

A4 = (210, 297)
PAPERS = {
    "pouch on letter": (8.5 * 25.4, 11 * 25.4),
    "pouch on small sheets": (140, 160),
    "strap on A3": (297, 420),
}


def test_every_page_is_its_paper(kit: Any) -> None:
    pages = kit.reader.pages
    assert len(pages) == kit.report["totals"]["pages"]
    for number, page in enumerate(pages):
        assert kit.page_size(number) == pytest.approx(PAPERS.get(kit.pdf.stem, A4), abs=0.001)
        assert (page.mediabox.left, page.mediabox.bottom) == (0, 0)
        assert page.get("/UserUnit", 1) == 1
        assert page.get("/Rotate", 0) == 0
        assert page.cropbox == page.mediabox


def test_no_viewer_is_asked_to_scale(kit: Any) -> None:
    root = kit.reader.root_object
    assert root["/ViewerPreferences"]["/PrintScaling"] == "/None"


def test_the_test_square_is_50_mm_both_ways(kit: Any) -> None:
    squares = kit.tagged("/hkTestSquare")
    assert any(mark.properties["Side"] == 50 for mark in squares)
    for mark in squares:
        (line,) = mark.lines
        side = mark.properties["Side"]
        assert line.straight
        assert np.allclose(line.points[0], line.points[-1], atol=0.001)
        assert np.ptp(line.points, axis=0) == pytest.approx((side, side), abs=0.01)
        # each step goes along one axis only: an upright square, not a lozenge of the same bounds
        steps = np.abs(np.diff(line.points, axis=0))
        steps = steps[steps.max(axis=1) > 0.001]
        assert len(steps) == 4
        assert np.minimum(steps[:, 0], steps[:, 1]) == pytest.approx(0, abs=0.01)


def test_the_test_square_stands_on_the_first_page(kit: Any) -> None:
    assert [mark.page for mark in kit.tagged("/hkTestSquare") if mark.properties["Side"] == 50] == [0]


def test_every_bar_is_as_long_as_it_claims(kit: Any) -> None:
    for mark in kit.tagged("/hkScaleBar"):
        (line,) = mark.lines
        assert line.straight
        length = np.hypot(*(line.points[-1] - line.points[0]))
        assert length == pytest.approx(mark.properties["Length"], abs=0.01)


def test_first_and_template_sheets_have_bars_along_both_axes(kit: Any) -> None:
    for page in {0, *kit.page_of.values()}:
        ends = [
            m.lines[0].points[-1] - m.lines[0].points[0] for m in kit.tagged("/hkScaleBar") if m.page == page
        ]
        assert {"across" if abs(x) > abs(y) else "down" for x, y in ends} == {"across", "down"}


def test_nothing_tagged_lies_off_the_paper_or_in_its_edge(kit: Any) -> None:
    """Lines that a window's clip ends may run on under it; all else keeps `edge` clear."""
    width, height = kit.page_size()
    edge = kit.report["paper"]["edge_mm"]
    for mark in kit.marks:
        if mark.tag in ("/hkTestSquare", "/hkScaleBar", "/hkScaleBarTick", "/hkHole", "/hkRegistration"):
            for line in mark.lines:
                assert line.points.min() >= edge - 0.01, mark
                assert line.points[:, 0].max() <= width - edge + 0.01, mark
                assert line.points[:, 1].max() <= height - edge + 0.01, mark
