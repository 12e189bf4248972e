"""Pieces by their measures: what is plain, what is refused and how, what is told of sheets it would save."""

from __future__ import annotations

from contextlib import chdir
from math import hypot
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handkit.errors import ProjectError
from handkit.geometry.path import polyline
from handkit.kit import Made, made_of
from handkit.overrides import PageOverrides
from handkit.sheets.measured.corners import corners_of
from handkit.sheets.measured.rows import EVEN, spans_of

HEAD = """format = 1
[material]
thickness = 2
[stitching]
pitch = 4
inset = 5
"""
TILED = "leave `measured` out: at full scale it needs no measuring [not-plain]"
PLAIN = "straight edges and round corners, with holes in straight rows"


def made(tmp_path: Path, text: str, *, all_large: bool = False) -> Made:
    (tmp_path / "p.toml").write_text(HEAD + text, "utf-8")
    with chdir(tmp_path):
        return made_of(Path("p.toml"), PageOverrides(measured=all_large))


def piece(shape: str, *more: str) -> str:
    return "\n".join(['[[piece]]\nname = "back"', shape, "measured = true", *more, ""])


REFUSED = [
    (
        piece("circle = 120"),
        f'p.toml:10: error: piece "back": measured: found a curve that rounds no corner, in its cut at '
        f"[0, -60]; allowed: {PLAIN}; {TILED}",
    ),
    (
        piece("rectangle = [200, 100]", 'arc = { "C-D" = 9 }'),
        f'p.toml:10: error: piece "back": measured: found a curve that rounds no corner, in its cut at '
        f"[100, 109]; allowed: {PLAIN}; {TILED}",
    ),
    (
        # Four quarters of 83 mm at the inset, 130.4 long: 32 holes on each, and no three in a line.
        piece("rectangle = [400, 178]", "round = 88", '[[seam]]\nname = "rim"\nruns = ["back: A-B-C-D-A"]'),
        f'p.toml:10: error: piece "back": measured: found holes along a curve, 128 of "rim" in no row; '
        f"allowed: {PLAIN}, and up to 24 beside them; {TILED}",
    ),
    (
        piece(f"points = {[[10 * (k % 2), 9 * k] for k in range(41)] + [[200, 360], [200, 0]]}"),
        'p.toml:10: error: piece "back": measured: found an edge of 43 corners; allowed: up to 40, straight '
        f"edges and round corners alone; {TILED}",
    ),
]


@pytest.mark.parametrize(("text", "told"), REFUSED)
def test_what_is_not_plain_is_refused_where_it_is_asked_for(tmp_path: Path, text: str, told: str) -> None:
    with pytest.raises(ProjectError) as refused:
        made(tmp_path, text)
    assert [str(each) for each in refused.value.findings if each.code == "not-plain"] == [told]


LARGE = """[[piece]]
name = "back"
rectangle = [560, 420]
[[piece]]
name = "round"
circle = 300
[[piece]]
name = "tab"
rectangle = [40, 60]
"""


def test_all_takes_plain_pieces_too_large_for_a_sheet_and_tiles_the_others(tmp_path: Path) -> None:
    sheets = made(tmp_path, LARGE, all_large=True).sheets
    assert [one.piece for one in sheets.measured] == ["back"]
    assert {window.piece for sheet in sheets.sheets for window in sheet.windows} == {"round", "tab"}


def test_a_piece_may_say_otherwise_than_the_page(tmp_path: Path) -> None:
    text = LARGE.replace("[560, 420]", "[560, 420]\nmeasured = false") + "measured = true\n"
    assert [one.piece for one in made(tmp_path, text, all_large=True).sheets.measured] == ["tab"]


@pytest.mark.long
def test_what_would_save_four_sheets_is_told_once(tmp_path: Path) -> None:
    """560 x 420 takes 6 sheets of A4, the round and the tab then fit in what they leave on but one more."""
    notes = [str(each) for each in made(tmp_path, LARGE).findings if each.code == "could-be-measured"]
    assert notes == [
        'p.toml: note: page: measured: found a plain piece "back" on many sheets; drawn by its measures, on '
        "one page, it would save 4 sheets: measured = true, or --measured, for those who mark out with rule, "
        "square and dividers [could-be-measured]"
    ]
    small = LARGE.replace("[560, 420]", "[370, 270]")  # two sheets
    assert [each for each in made(tmp_path, small).findings if each.code == "could-be-measured"] == []


STEP = st.tuples(st.floats(-6, 6), st.floats(-6, 6)).filter(lambda step: hypot(*step) > 1)


@given(legs=st.lists(st.tuples(STEP, st.integers(1, 12)), min_size=1, max_size=5))
def test_every_place_is_in_a_row_or_alone_and_where_its_row_has_it(
    legs: list[tuple[tuple[float, float], int]],
) -> None:
    """Legs of even steps one after the other, as dividers walk them."""
    places = [(0.0, 0.0)]
    for (dx, dy), count in legs:
        for _ in range(count):
            places.append((places[-1][0] + dx, places[-1][1] + dy))
    covered = set()
    for first, last in spans_of([(at, None) for at in places]):
        (x0, y0), (x1, y1), steps = places[first], places[last], last - first
        for k in range(steps + 1):
            covered.add(first + k)
            share = k / steps if steps else 0.0
            x, y = places[first + k]
            assert hypot(x0 + (x1 - x0) * share - x, y0 + (y1 - y0) * share - y) <= EVEN
    assert covered == set(range(len(places)))


def test_corners_of_a_line_of_straight_edges_are_its_points() -> None:
    points = [(0.0, 0.0), (50.0, 0.0), (60.0, 30.0)]
    found = corners_of(polyline(points))
    assert isinstance(found, tuple)
    assert [corner.at for corner in found] == points


@pytest.mark.parametrize(("size", "rounded"), [((300, 40), "BC"), ((60, 60), "ABCD")])
def test_rounds_that_meet_on_one_circle_have_their_own_corners(
    tmp_path: Path, size: tuple[int, int], rounded: str
) -> None:
    """Rounds of half the width, in halves each: corners where the tangents of a whole round meet."""
    (width, height), radius = size, size[1] // 2
    rounds = ", ".join(f"{letter} = {radius}" for letter in rounded)
    shape = piece(f"rectangle = [{width}, {height}]", f"round = {{ {rounds} }}")
    (found,) = made(tmp_path, shape).sheets.measured
    told = [(one.letter, one.at, round(one.radius, 6)) for one in found.cut.corners]
    assert sorted(told, key=lambda one: one[0]) == [
        (letter, at, radius if letter in rounded else 0)
        for letter, at in zip("ABCD", ((0, 0), (width, 0), (width, height), (0, height)), strict=True)
    ]


THROUGH = """[[piece]]
name = "back"
rectangle = [200, 120]
measured = true
[[piece]]
name = "front"
rectangle = [100, 80]
on = "back"
at = [20, 30]
[[seam]]
name = "front"
runs = ["front: D-A-B-C", "back"]
punch = "through"
"""


def test_what_is_punched_through_another_piece_has_its_ends_alone(tmp_path: Path) -> None:
    """As on a template: the first and the last hole, to check by; 5 mm inside the front at [20, 30]."""
    (back,) = made(tmp_path, THROUGH).sheets.measured
    assert [(row.steps, row.start) for row in back.rows] == [(0, (25, 105)), (0, (115, 105))]
    apart = THROUGH.replace('punch = "through"\n', "")
    (back,) = made(tmp_path, apart).sheets.measured
    assert [(row.start, row.end) for row in back.rows] == [
        ((25, 105), (25, 35)),
        ((25, 35), (115, 35)),
        ((115, 35), (115, 105)),
    ]
