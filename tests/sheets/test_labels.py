"""Where names and facts are written: on nothing that is cut, punched or lined up."""

from __future__ import annotations

from itertools import pairwise, product
from math import cos, hypot, pi, sin
from types import SimpleNamespace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.draft.pattern import PatternFold
from handkit.geometry.box import Box
from handkit.geometry.path import Path, circle, polyline
from handkit.geometry.raster import Raster
from handkit.geometry.region import region_of
from handkit.paper import PAPERS
from handkit.punch.punched import Punched
from handkit.read.project import Side
from handkit.sheets.labels.labels import LAYOUTS, label_sizes
from handkit.sheets.laid import Sheets, Window
from handkit.sheets.layout import lay_out

Point = tuple[float, float]


def rectangle(w: float, h: float) -> Path:
    return polyline([(0, 0), (w, 0), (w, h), (0, h)], closed=True)


def laid(project: Punched) -> Sheets:
    return lay_out(project, paper=PAPERS[0], edge=5, margin=10, overlap=10)


def off(area: Box, at: Point) -> float:
    """Distance from an area to a point, 0 inside."""
    return hypot(
        max(area.left - at[0], at[0] - area.right, 0.0), max(area.bottom - at[1], at[1] - area.top, 0.0)
    )


def rim(area: Box, *, count: int = 24) -> list[Point]:
    shares = [k / count for k in range(count + 1)]
    xs = [area.left + area.width * share for share in shares]
    ys = [area.bottom + area.height * share for share in shares]
    return [*product(xs, (area.bottom, area.top)), *product((area.left, area.right), ys)]


def is_clear(project: Punched, sheets: Sheets, window: Window) -> bool:
    """No edge, hole, letter, join line or mark of its piece comes near an inside label."""
    area, back = window.label, window.placed.inverse()
    assert area is not None
    piece = project.pattern.piece(window.piece)
    body = region_of(piece.cut_outline)
    for at in rim(area):
        home = back.apply(at)
        assert body.contains(home, slack=0.001) and body.edge_distance(home) >= 1.5
    for *_, hole in project.holes_of(piece.name):
        assert off(area, window.placed.apply(hole.at)) >= 0.8 + 1.5
    for letter in piece.letters:
        assert off(area, window.placed.apply(letter.at)) >= 4
    for join in sheets.joins:
        if join.piece == piece.name and window.number in join.windows:
            for mark in join.marks:
                assert off(area, window.placed.apply(mark)) >= 4
            for (ax, ay), (bx, by) in (join.cut_line, join.rule_line):
                along = ((ax + (bx - ax) * k / 300, ay + (by - ay) * k / 300) for k in range(301))
                assert min(off(area, window.placed.apply(at)) for at in along) >= 1.0
    return True


@st.composite
def panels(draw: st.DrawFn) -> tuple[Path, Side, list[Point]]:
    w, h = draw(st.integers(20, 450)), draw(st.integers(20, 450))
    lean = draw(st.integers(-w // 3, w // 3))
    outline = polyline([(0, 0), (w, 0), (w + lean, h), (lean, h)], closed=True)
    shares = st.tuples(st.integers(5, 95), st.integers(5, 95))
    holes = draw(st.lists(shares, max_size=25))
    places = [(w * a / 100 + lean * b / 100, h * b / 100) for a, b in holes]
    return outline, draw(st.sampled_from(Side)), places


@settings(derandomize=True, deadline=None, max_examples=8)
@given(panel=panels())
def test_a_label_inside_is_clear_of_all_that_is_drawn(
    parts: SimpleNamespace, panel: tuple[Path, Side, list[Point]]
) -> None:
    hold_labels_clear(parts, panel)


@pytest.mark.long
@settings(derandomize=True, deadline=None, max_examples=20)
@given(panel=panels())
def test_a_label_inside_is_clear_of_all_that_is_drawn_at_length(
    parts: SimpleNamespace, panel: tuple[Path, Side, list[Point]]
) -> None:
    hold_labels_clear(parts, panel)


def hold_labels_clear(parts: SimpleNamespace, panel: tuple[Path, Side, list[Point]]) -> None:
    outline, mark, holes = panel
    seams = [parts.seam("s", "p", [at]) for at in holes]
    project = parts.punched([parts.piece("p", outline, mark=mark)], seams=seams)
    sheets = laid(project)
    for sheet in sheets.sheets:
        for window in sheet.windows:
            assert not window.label_inside or is_clear(project, sheets, window)


@pytest.mark.parametrize(
    ("name", "outline", "inside"),
    [
        ("a panel", rectangle(150, 120), True),
        ("a strap", rectangle(900, 38), True),
        ("a round of 60", circle((0, 0), 30), True),
        ("a tab of 12 × 12", rectangle(12, 12), False),
        ("a keeper of 200 × 8", rectangle(200, 8), False),
    ],
)
def test_a_label_stands_inside_where_there_is_room(
    parts: SimpleNamespace, name: str, outline: Path, inside: bool
) -> None:
    windows = [w for s in laid(parts.punched([parts.piece("p", outline)])).sheets for w in s.windows]
    assert all(window.label_inside is inside for window in windows), name
    assert all(window.label is not None for window in windows), name


def test_labels_beside_their_pieces_overlap_neither_pieces_nor_each_other(parts: SimpleNamespace) -> None:
    project = parts.punched([parts.piece(f"disc {k}", circle((0, 0), 7)) for k in range(12)])
    (sheet,) = laid(project).sheets
    areas = [window.label for window in sheet.windows if window.label]
    assert areas and not any(window.label_inside for window in sheet.windows)
    for index, area in enumerate(areas):
        for window in sheet.windows:
            centre = window.placed.apply((0, 0))
            assert off(area, centre) >= 7 + 1.5
        for other in areas[:index]:
            apart = (area.left - other.right, other.left - area.right, area.bottom - other.top)
            assert max(*apart, other.bottom - area.top) >= 1.5 - 1e-6


def test_a_sheet_without_room_leaves_only_the_short_name(parts: SimpleNamespace) -> None:
    holes = [(x, y) for x in range(5, 190, 9) for y in range(5, 277, 9)]
    project = parts.punched(
        [parts.piece("sieve", rectangle(189.5, 276.5))], seams=[parts.seam("s", "sieve", holes)]
    )
    (window,) = laid(project).sheets[0].windows
    assert (window.label, window.label_inside) == (None, False)


def test_a_fold_line_is_not_written_over(parts: SimpleNamespace) -> None:
    fold = PatternFold("spine", polyline([(0, 40), (120, 40)]))
    project = parts.punched([parts.piece("p", rectangle(120, 80), folds=(fold,))])
    (window,) = laid(project).sheets[0].windows
    assert window.label is not None and window.label_inside
    low, high = (window.placed.apply((60, y))[1] for y in (38.5, 41.5))
    assert window.label.top <= min(low, high) or window.label.bottom >= max(low, high)


def test_a_label_higher_than_wide_is_one_to_be_turned() -> None:
    sizes = list(label_sizes())
    assert len(sizes) == 2 * len(LAYOUTS)
    assert all(upright.width > upright.height for upright in sizes[::2])
    assert all(turned.width < turned.height for turned in sizes[1::2])


# ── the raster against a count of squares ─────────────────────────────────────


def test_the_nearest_free_box_is_found() -> None:
    #  . . . . . .
    #  . # . . . .    a box of 2 × 2 nearest to the blocked square's corner
    #  . . . . . .
    raster = Raster(Box(0, 0, 6, 3), cell=1, exact=True)
    raster.take(1.2, 1.2, 1.8, 1.8)
    assert raster.free_box(2, 2, near=(1.5, 1.5)) == Box(2, 0, 4, 2)
    assert raster.free_box(4, 3, near=(0, 0)) == Box(2, 0, 6, 3)
    assert raster.free_box(5, 2, near=(0, 0)) is None
    assert raster.free_box(6, 1, near=(9, 9)) == Box(0, 2, 6, 3)
    assert raster.free_box(7, 1, near=(0, 0)) is None


@settings(derandomize=True, deadline=None, max_examples=150)
@given(
    st.lists(st.tuples(st.integers(-20, 120), st.integers(-20, 120)), min_size=2, max_size=5),
    st.integers(1, 30).map(lambda tenths: tenths / 4),
    st.sampled_from([1.0, 2.0]),
)
def test_every_place_near_a_line_is_blocked(points: list[Point], radius: float, cell: float) -> None:
    raster = Raster(Box(3, 5, 90, 100), cell=cell, exact=True)
    raster.take_line(points, reach=radius)
    for (ax, ay), (bx, by) in pairwise(points):
        for k in range(41):
            for turn in range(12):
                x = ax + (bx - ax) * k / 40 + 0.999 * radius * cos(turn * pi / 6) - 3
                y = ay + (by - ay) * k / 40 + 0.999 * radius * sin(turn * pi / 6) - 5
                column, row = int(x // cell), int(y // cell)
                if 0 <= column < raster.columns and 0 <= row < len(raster.rows):
                    assert raster.rows[row] >> column & 1
