"""The longer search: fewer sheets where it is asked for, the gap kept, the same answer every time."""

from __future__ import annotations

import json
from itertools import combinations
from math import hypot, pi
from pathlib import Path
from typing import Any

import pytest
from shapely.affinity import affine_transform
from shapely.geometry import Polygon, box

from handkit.paper import PAPERS
from handkit.sheets.engine import GAP, Placed, Shape, place
from handkit.sheets.nest.fewest import Answer
from handkit.sheets.nest.longer_search import with_longer_search

A4 = PAPERS[0]
MARGIN = 10.0
TRIANGLE = ((0.0, 0.0), (52.0, 0.0), (26.0, 48.0))
DROP = ((0, 0), (10, -4), (20, 0), (26, 12), (28, 30), (20, 52), (10, 66), (0, 52), (-8, 30), (-6, 12))

# Shape, how many, sheets without and with the search, tries. By hand: 26 triangles of 52 × 48 fill
# 32,448 of a page's 52,630 mm², 62 %; 21 drops 64 %.
FEWER = {
    "triangles": (TRIANGLE, 26, 2, 1, 600),
    "drops": (DROP, 21, 2, 1, 600),
}


def laid(ring: tuple[tuple[float, float], ...], count: int, tries: int) -> Placed:
    return place([Shape("fob", ring, quantity=count)], paper=A4, margin=MARGIN, draw_each=True, tries=tries)


def outlines(placed: Placed, rings: dict[str, tuple[tuple[float, float], ...]]) -> list[list[Polygon]]:
    """What lies on each sheet: of each piece what its window shows, by the windows' own maps alone."""
    sheets = []
    for sheet in placed.sheets:
        shown = []
        for window in sheet.windows:
            a, b, c, d, e, f = window.placed.numbers()
            part = Polygon(rings[window.piece]).intersection(Polygon(window.polygon))
            shown.append(affine_transform(part, [a, c, b, d, e, f]))
        sheets.append(shown)
    return sheets


def assert_sound(sheets: list[list[Polygon]]) -> None:
    """Within the page and a gap apart, measured by a general library."""
    page = box(MARGIN, MARGIN, A4.width - MARGIN, A4.height - MARGIN).buffer(1e-6)
    for pieces in sheets:
        assert all(page.covers(piece) for piece in pieces)
        assert all(a.distance(b) >= GAP - 1e-6 for a, b in combinations(pieces, 2))


@pytest.mark.long
@pytest.mark.parametrize("name", FEWER)
def test_tries_save_a_sheet(name: str) -> None:
    ring, count, without, found, tries = FEWER[name]
    assert len(laid(ring, count, 0).sheets) == without
    placed = laid(ring, count, tries)
    assert len(placed.sheets) == found
    sheets = outlines(placed, {"fob": ring})
    assert sum(map(len, sheets)) == count
    assert_sound(sheets)
    assert laid(ring, count, tries) == placed


@pytest.mark.long
def test_how_full_the_emptiest_page_is_is_told_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    """By hand: a triangle of 52 x 48 takes 1,248 mm² and 1 mm all round it, 152.7 of its edge and rounded
    corners of π: 1,403.8. 26 of them are 36,500 of a page's 192 x 279 with half a gap round it."""
    found: list[Answer] = []

    def kept(answer: Answer, **told: Any) -> Answer:
        found[:] = [answer, with_longer_search(answer, **told)]
        return found[1]

    monkeypatch.setattr("handkit.sheets.engine.with_longer_search", kept)
    laid(TRIANGLE, 26, 600)
    before, after = found
    assert (before.pages, after.pages) == (2, 1)
    edge = 52 + 2 * hypot(26, 48)
    full = 26 * (52 * 48 / 2 + edge + pi) / ((A4.width - 2 * MARGIN + GAP) * (A4.height - 2 * MARGIN + GAP))
    assert after.emptiest == pytest.approx(full, abs=0.025)  # half a line's width is drawn outside
    assert before.emptiest < 0.5 < after.emptiest


@pytest.mark.long
def test_a_window_that_just_fits_the_page_has_a_page() -> None:
    """Beside 26 triangles that come down to one sheet: the squares it touches are more than a page's."""
    full = ((0.0, 0.0), (189.0, 0.0), (189.0, 276.95), (0.0, 276.95))
    shapes = [Shape("panel", full), Shape("fob", TRIANGLE, quantity=26)]
    placed = place(shapes, paper=A4, margin=MARGIN, draw_each=True, tries=600)
    assert len(placed.sheets) == 2
    assert_sound(outlines(placed, {"panel": full, "fob": TRIANGLE}))


def test_what_is_not_found_leaves_the_answer_as_it_was() -> None:
    assert laid(TRIANGLE, 26, 3) == laid(TRIANGLE, 26, 0)


def test_what_can_not_be_is_not_looked_for() -> None:
    """45 triangles of 1,248 mm², half a gap all round, are more than a page has."""
    assert laid(TRIANGLE, 45, 100_000) == laid(TRIANGLE, 45, 0)


@pytest.mark.long
def test_sixty_fobs_on_three_sheets() -> None:
    """Of the layout's sets; a general strip-packing nester found 20 a sheet as well, in minutes."""
    sets = Path(__file__).parents[1] / "bench" / "layout" / "sets.json"
    (fobs,) = [one for one in json.loads(sets.read_text("utf-8")) if one["name"] == "g_keyfobs60"]
    rings = {piece["name"]: tuple(map(tuple, piece["points"])) for piece in fobs["pieces"]}
    shapes = [Shape(p["name"], rings[p["name"]], quantity=p["quantity"]) for p in fobs["pieces"]]
    placed = place(shapes, paper=A4, margin=MARGIN, draw_each=True, tries=4000)
    assert len(placed.sheets) == 3
    sheets = outlines(placed, rings)
    assert sum(map(len, sheets)) == 60
    assert_sound(sheets)
