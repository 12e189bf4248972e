"""By eye, in place of the maker's: pages drawn by pdfium at 300 dpi, and measured in pixels.

pdfium rounds a page up to whole pixels and stretches it to them, so that pixels are divided by the
page's own size along each axis. A pixel is 0.085 mm.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np
import pypdfium2
import pytest

PIXEL = 25.4 / 300
SMALL = pytest.param("pouch on small sheets", marks=pytest.mark.long)


@dataclass(frozen=True)
class Picture:
    """A page in grey, and how many pixels a mm has along either axis; rows run down."""

    grey: np.ndarray
    per_mm: tuple[float, float]

    def darkness(self, places: Any) -> np.ndarray:
        """0 white to 1 black at places in mm from the lower left, between pixels by straight lines."""
        at = np.asarray(places, dtype=float)
        columns = at[..., 0] * self.per_mm[0] - 0.5
        rows = self.grey.shape[0] - at[..., 1] * self.per_mm[1] - 0.5
        i, j = np.floor(rows).astype(int), np.floor(columns).astype(int)
        u, v = rows - i, columns - j
        grey = self.grey
        top = grey[i, j] * (1 - v) + grey[i, j + 1] * v
        bottom = grey[i + 1, j] * (1 - v) + grey[i + 1, j + 1] * v
        return 1 - (top * (1 - u) + bottom * u) / 255

    def middle_of_line(self, at: np.ndarray, across: np.ndarray, reach: float = 0.8) -> float | None:
        """How far off `at`, along the unit vector `across`, the middle of the nearest dark run is."""
        steps = np.arange(-reach, reach, PIXEL / 4)
        dark = self.darkness(at + steps[:, None] * across) > 0.4
        edges = np.flatnonzero(np.diff(np.concatenate([[False], dark, [False]]).astype(int)))
        runs = [(steps[a] + steps[b - 1]) / 2 for a, b in zip(edges[::2], edges[1::2], strict=True)]
        return min(runs, key=abs, default=None)


@cache
def picture(pdf: Any, page: int, size: tuple[float, float]) -> Picture:
    grey = pypdfium2.PdfDocument(pdf)[page].render(scale=300 / 72, grayscale=True).to_numpy()
    grey = grey.reshape(grey.shape[0], grey.shape[1]).astype(float)
    return Picture(grey, (grey.shape[1] / size[0], grey.shape[0] / size[1]))


def picture_of(kit: Any, page: int) -> Picture:
    return picture(kit.pdf, page, kit.page_size())  # all pages are of one size: test_full_scale.py


@pytest.fixture(params=["pouch", SMALL, "case"])
def seen(request: Any, kits: Any) -> Any:
    return kits(request.param)


def test_the_test_square_is_on_paper_as_the_stream_has_it(seen: Any) -> None:
    (mark,) = [mark for mark in seen.tagged("/hkTestSquare") if mark.properties["Side"] == 50]
    image = picture_of(seen, mark.page)
    left, bottom = mark.lines[0].points.min(axis=0)
    right, top = mark.lines[0].points.max(axis=0)
    for share in (0.1, 0.22, 0.37, 0.63, 0.78, 0.9):  # the middle may have a label
        x, y = left + share * (right - left), bottom + share * (top - bottom)
        sides = [((left, y), (1, 0)), ((right, y), (1, 0)), ((x, bottom), (0, 1)), ((x, top), (0, 1))]
        offs = [image.middle_of_line(np.array(at), np.array(way)) for at, way in sides]
        assert None not in offs
        assert max(abs(off) for off in offs) <= PIXEL
        assert 50 + offs[1] - offs[0] == pytest.approx(50, abs=PIXEL)
        assert 50 + offs[3] - offs[2] == pytest.approx(50, abs=PIXEL)


@pytest.mark.parametrize("name", ["strap", SMALL])
def test_registration_marks_are_on_paper_where_the_stream_has_them(kits: Any, name: str) -> None:
    """Each arm of the cross is followed between ring and end; another line may cross it somewhere."""
    kit = kits(name)
    marks = kit.tagged("/hkRegistration")
    assert marks
    for mark in marks:
        image = picture_of(kit, mark.page)
        for arm in (line for line in mark.lines if line.straight):
            for end in (arm.points[0], arm.points[-1]):
                way = (end - mark.centre) / np.hypot(*(end - mark.centre))
                across = np.array([-way[1], way[0]])
                places = [mark.centre + way * r for r in (2.9, 3.1, 3.3, 3.5, 3.7)]
                offs = [image.middle_of_line(place, across, 0.4) for place in places]
                assert None not in offs, (mark.properties, "an arm is not on paper")
                assert abs(np.median([off for off in offs if off is not None])) <= PIXEL


def test_every_holes_point_is_on_paper(seen: Any) -> None:
    """Not clipped away, not covered."""
    for page in sorted(set(seen.page_of.values())):
        marks = [mark for mark in seen.tagged("/hkHole") if mark.page == page]
        points = [line.points for mark in marks for line in mark.lines if line.painted == "f"]
        centres = np.array([(p.min(axis=0) + p.max(axis=0)) / 2 for p in points]).reshape(-1, 2)
        pale = picture_of(seen, page).darkness(centres) < 0.7
        assert not pale.any(), [marks[k].properties for k in np.flatnonzero(pale)]


def test_every_bit_of_outline_is_on_paper(seen: Any, frames: Any) -> None:
    """Each millimetre of the knife's line is dark on the page of some window."""
    for piece in seen.pieces["pieces"]:
        ring = np.array(piece["cut_outline"])
        ends = np.roll(ring, -1, axis=0)
        counts = np.maximum(1, np.ceil(np.hypot(*(ends - ring).T))).astype(int)
        places = np.vstack(
            [a + (b - a) * np.arange(n)[:, None] / n for a, b, n in zip(ring, ends, counts, strict=True)]
        )
        dark = np.zeros(len(places), dtype=bool)
        for (name, number), window in seen.windows.items():
            if name == piece["name"]:
                polygon = frames.placed(window["placed"], window["polygon"])
                at = frames.placed(window["placed"], places)
                low, high = polygon.min(axis=0), polygon.max(axis=0)
                within = ((at >= low) & (at <= high)).all(axis=1)
                image = picture_of(seen, seen.page_of[name, number])
                dark[within] |= image.darkness(at[within]) > 0.6
        assert dark.all(), (piece["name"], places[~dark][:5])


def test_bars_are_on_paper_as_long_as_they_claim(seen: Any) -> None:
    """From end to end dark, and white beyond."""
    for mark in seen.tagged("/hkScaleBar"):
        a, b = mark.lines[0].points[0], mark.lines[0].points[-1]
        image = picture_of(seen, mark.page)
        share = np.linspace(0.002, 0.998, 400)[:, None]
        assert image.darkness(a + (b - a) * share).min() > 0.4, mark.properties
