"""The laws of the sheets: nothing is lost, nothing leaves the page, windows fit together."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import combinations, pairwise
from math import cos, hypot, pi, sin
from types import SimpleNamespace

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.affinity import affine_transform

from handkit.geometry.affine import Affine
from handkit.geometry.path import Path, polyline
from handkit.geometry.region import crosses_itself
from handkit.geometry.segment import Segment
from handkit.ink import REGISTRATION_ARM
from handkit.paper import PAPERS, Paper, paper_named
from handkit.punch.punched import Punched
from handkit.read.project import Side
from handkit.sheets.laid import Join, Sheets, Window
from handkit.sheets.layout import lay_out

Point = tuple[float, float]
A4 = PAPERS[0]
PAGE = {"edge": 5.0, "margin": 10.0, "overlap": 10.0}
NOISE = 1e-6


def rectangle(w: float, h: float) -> Path:
    return polyline([(0, 0), (w, 0), (w, h), (0, h)], closed=True)


# ── measuring, without the code that lays out ─────────────────────────────────


def inside(polygon: tuple[Point, ...], point: Point, *, by: float = 0.0) -> bool:
    """Whether a point lies in a convex polygon, `by` from its sides at least."""
    area = sum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise((*polygon, polygon[0])))
    way = 1 if area > 0 else -1
    for a, b in pairwise((*polygon, polygon[0])):
        dx, dy = b[0] - a[0], b[1] - a[1]
        off = way * (dx * (point[1] - a[1]) - dy * (point[0] - a[0])) / hypot(dx, dy)
        if off < by - NOISE:
            return False
    return True


def dense(path: Path, *, step: float = 2.0) -> list[Point]:
    """Places along a path no more than `step` apart, corners included."""
    places = []
    for segment in path.segments:
        count = max(1, int(segment.length / step) + 1)
        places += [segment.point_at(segment.length * k / count) for k in range(count)]
    return places


def windows_by_piece(sheets: Sheets) -> dict[str, list[Window]]:
    found: dict[str, list[Window]] = {}
    for sheet in sheets.sheets:
        for window in sheet.windows:
            found.setdefault(window.piece, []).append(window)
    return {piece: sorted(windows, key=lambda w: w.number) for piece, windows in found.items()}


def bounds(points: Iterable[Point]) -> tuple[float, float, float, float]:
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def connected(count: int, joins: Iterable[Join]) -> bool:
    reached, grew = {1}, True
    pairs = [join.windows for join in joins]
    while grew:
        more = {b for a, b in pairs if a in reached} | {a for a, b in pairs if b in reached}
        grew = not more <= reached
        reached |= more
    return len(reached) == count


def hold_to_the_laws(project: Punched, sheets: Sheets) -> None:
    """Every law at once, for every piece, window and join."""
    windows = windows_by_piece(sheets)
    assert [sheet.number for sheet in sheets.sheets] == list(range(1, len(sheets.sheets) + 1))
    assert set(windows) == {piece.name for piece in project.pattern.pieces}
    for piece in project.pattern.pieces:
        nothing_is_lost(project, piece.name, piece.cut_outline, windows[piece.name])
        turned_over = piece.mark is not piece.shows
        assert all(window.placed.turns_over is turned_over for window in windows[piece.name])
        joins = [join for join in sheets.joins if join.piece == piece.name]
        assert connected(len(windows[piece.name]), joins)
        for join in joins:
            join_is_sound(join, *(windows[piece.name][number - 1] for number in join.windows))
    nothing_leaves_the_page(project, sheets)


def nothing_is_lost(project: Punched, name: str, outline: Path, windows: list[Window]) -> None:
    assert [w.number for w in windows] == list(range(1, len(windows) + 1))
    assert {w.count for w in windows} == {len(windows)}
    places = dense(outline)
    places += [hole.at for *_, hole in project.holes_of(name)]
    places += [place.at for o in project.pattern.openings for place in o.places if place.piece == name]
    for place in places:
        assert any(inside(w.polygon, place) for w in windows), (name, place)
    # The stroke as well: around each place of the outline some window has room for it.
    for x, y in dense(outline, step=20):
        for k in range(8):
            at = (x + 0.249 * cos(k * pi / 4), y + 0.249 * sin(k * pi / 4))
            assert any(inside(w.polygon, at) for w in windows), (name, at)


def nothing_leaves_the_page(project: Punched, sheets: Sheets) -> None:
    left, bottom = sheets.margin, sheets.margin
    right, top = sheets.paper.width - sheets.margin, sheets.paper.height - sheets.margin
    for sheet in sheets.sheets:
        drawn = []
        for window in sheet.windows:
            ink = ink_of(project, window)
            x0, y0, x1, y1 = ink.bounds
            assert x0 >= left - 0.001 and y0 >= bottom - 0.001
            assert x1 <= right + 0.001 and y1 <= top + 0.001
            drawn.append(ink)
            if window.label:
                label = window.label
                assert label.left >= left and label.bottom >= bottom
                assert label.right <= right and label.top <= top
        for one, other in combinations(drawn, 2):
            assert one.distance(other) >= 2.0 - 1e-6


def ink_of(project: Punched, window: Window) -> shapely.Geometry:
    """What a window shows of its piece, on the sheet, by a geometry library and nothing of handkit's."""
    outline = project.pattern.piece(window.piece).cut_outline.flattened(sagitta=0.02)
    body = shapely.Polygon(outline).buffer(0.25, quad_segs=16)
    seen = body.intersection(shapely.Polygon(window.polygon))
    m = window.placed
    return affine_transform(seen, [m.a, m.c, m.b, m.d, m.e, m.f])


def join_is_sound(join: Join, first: Window, second: Window) -> None:
    assert join.windows[0] < join.windows[1]
    (ax, ay), (bx, by) = join.cut_line
    length = hypot(bx - ax, by - ay)
    along = ((bx - ax) / length, (by - ay) / length)
    assert len(join.marks) >= 2
    for x, y in join.marks:
        assert abs((x - ax) * along[1] - (y - ay) * along[0]) < NOISE  # on the cut line
        for window in (first, second):
            assert inside(window.polygon, (x, y), by=REGISTRATION_ARM)
            home = window.placed.inverse().apply(window.placed.apply((x, y)))
            assert hypot(home[0] - x, home[1] - y) < 1e-6
    spread = hypot(join.marks[0][0] - join.marks[-1][0], join.marks[0][1] - join.marks[-1][1])
    assert spread >= (length - 2 * REGISTRATION_ARM) / 2 - NOISE
    rule_is_sound(join, along, first, second)


def rule_is_sound(join: Join, along: Point, first: Window, second: Window) -> None:
    (x0, y0), (x1, y1) = join.rule_line
    assert abs((x1 - x0) * along[0] + (y1 - y0) * along[1]) < NOISE  # square across
    ends = [[inside(w.polygon, end) for w in (first, second)] for end in join.rule_line]
    assert any(one[0] for one in ends) and any(one[1] for one in ends)
    (cx, cy), (dx, dy) = join.cut_line
    sides = [(dx - cx) * (y - cy) - (dy - cy) * (x - cx) for x, y in join.rule_line]
    assert sides[0] * sides[1] < 0  # it crosses the cut line
    for k in range(21):
        at = (x0 + (x1 - x0) * k / 20, y0 + (y1 - y0) * k / 20)
        assert inside(first.polygon, at) or inside(second.polygon, at)


# ── a zoo of outlines ─────────────────────────────────────────────────────────


@st.composite
def stars(draw: st.DrawFn) -> Path:
    """Round about a middle, edges straight or bowed."""
    count = draw(st.integers(3, 9))
    radii = draw(st.lists(st.integers(15, 320), min_size=count, max_size=count))
    bulges = draw(st.lists(st.sampled_from([0.0, 0.0, 0.15, -0.1, 0.4]), min_size=count, max_size=count))
    points = [
        (round(r * cos(2 * pi * k / count), 3), round(r * sin(2 * pi * k / count), 3))
        for k, r in enumerate(radii)
    ]
    ring = pairwise((*points, points[0]))
    return Path(tuple(Segment(a, b, bulge) for (a, b), bulge in zip(ring, bulges, strict=True)), closed=True)


@st.composite
def notched(draw: st.DrawFn) -> Path:
    """A rectangle with a notch from above: an L, a U, or a thin bridge."""
    w, h = draw(st.integers(40, 700)), draw(st.integers(40, 600))
    left = draw(st.integers(0, w - 20))
    right = draw(st.integers(left + 10, w - 5))
    deep = draw(st.integers(5, h - 5))
    points: list[Point] = [(0, 0), (w, 0), (w, h), (right, h), (right, h - deep), (left, h - deep), (left, h)]
    return polyline([*points, (0, h)] if left else points, closed=True)


outlines = st.one_of(stars(), notched(), st.builds(rectangle, st.integers(5, 700), st.integers(5, 400)))
papers = st.sampled_from([*PAPERS, paper_named("120x160mm"), paper_named("7x9in")])


@st.composite
def marked_pieces(draw: st.DrawFn) -> tuple[Path, tuple[Side, Side], list[Point]]:
    """An outline, the side it is marked on, the one that shows, and holes on the outline, hardest to keep."""
    outline = draw(outlines)
    assume(not crosses_itself(outline.flattened(sagitta=0.1), closed=True))
    holes = [outline.point_at(outline.length * k / 11) for k in range(11)]
    return outline, (draw(st.sampled_from(Side)), draw(st.sampled_from(Side))), holes


any_sheets = given(
    st.lists(marked_pieces(), min_size=1, max_size=3), papers, st.sampled_from([8.0, 10.0, 17.3])
)


@settings(derandomize=True, deadline=None, max_examples=3)
@any_sheets
def test_nothing_is_lost_over_the_sheets(
    parts: SimpleNamespace,
    shapes: list[tuple[Path, tuple[Side, Side], list[Point]]],
    paper: Paper,
    overlap: float,
) -> None:
    hold_to_the_laws(*laid_out(parts, shapes, paper, overlap))


@pytest.mark.long
@settings(derandomize=True, deadline=None, max_examples=9)
@any_sheets
def test_nothing_is_lost_over_the_sheets_at_length(
    parts: SimpleNamespace,
    shapes: list[tuple[Path, tuple[Side, Side], list[Point]]],
    paper: Paper,
    overlap: float,
) -> None:
    hold_to_the_laws(*laid_out(parts, shapes, paper, overlap))


def laid_out(
    parts: SimpleNamespace,
    shapes: list[tuple[Path, tuple[Side, Side], list[Point]]],
    paper: Paper,
    overlap: float,
) -> tuple[Punched, Sheets]:
    project = parts.punched(
        [
            parts.piece(f"p{k}", outline, mark=mark, shows=shows)
            for k, (outline, (mark, shows), _) in enumerate(shapes)
        ],
        seams=[parts.seam(f"s{k}", f"p{k}", holes) for k, (_, _, holes) in enumerate(shapes)],
        openings=[parts.opening(f"o{k}", f"p{k}", holes[:1]) for k, (_, _, holes) in enumerate(shapes)],
    )
    return project, lay_out(project, paper=paper, edge=5, margin=10, overlap=overlap)


# ── values ────────────────────────────────────────────────────────────────────

COUNTS = [
    # width, height on A4, margin 10, overlap 10; windows by hand: 190 × 277 are drawn on, 0.5 mm is the
    # outline's, each window after the first adds 180 or 267
    ("fills the page", (189.5, 276.5), 1),
    ("a hair too wide", (189.6, 276.5), 2),
    ("turned it fits", (276.5, 189.5), 1),
    ("two along", (456.5 - 0.1, 100), 2),
    ("a strap of 950 × 38", (950, 38), 4),
    ("a panel of 300 × 420", (300, 420), 4),
    ("a panel of 369 × 543", (369, 543), 4),
    ("a panel of 370 × 544", (370, 544), 6),
]


@pytest.mark.parametrize(("name", "size", "count"), COUNTS, ids=[row[0] for row in COUNTS])
def test_a_rectangle_takes_as_many_windows_as_counted_by_hand(
    parts: SimpleNamespace, name: str, size: tuple[float, float], count: int
) -> None:
    sheets = lay_out(parts.punched([parts.piece("p", rectangle(*size))]), paper=A4, **PAGE)
    assert sum(len(sheet.windows) for sheet in sheets.sheets) == count
    hold_to_the_laws(parts.punched([parts.piece("p", rectangle(*size))]), sheets)


def test_empty_windows_are_dropped(parts: SimpleNamespace) -> None:
    # A frame open above, 500 × 500 and 40 wide: its middle needs no paper.
    outline = polyline(
        [(0, 0), (500, 0), (500, 500), (460, 500), (460, 40), (40, 40), (40, 500), (0, 500)], closed=True
    )
    project = parts.punched([parts.piece("frame", outline)])
    sheets = lay_out(project, paper=A4, **PAGE)
    full = 3 * 2  # 500.5 in steps of 180 and 267, by hand
    assert len(windows_by_piece(sheets)["frame"]) < full
    hold_to_the_laws(project, sheets)


def test_small_pieces_share_a_sheet(parts: SimpleNamespace) -> None:
    project = parts.punched([parts.piece(f"tab {k}", rectangle(60, 90)) for k in range(9)])
    assert len(lay_out(project, paper=A4, **PAGE).sheets) == 1  # 3 × 62.5 and 3 × 92.5 less a gap, by hand


def test_a_slanting_piece_is_turned_to_fit_whole(parts: SimpleNamespace) -> None:
    # 260 × 100, turned by 30 degrees in its own frame: 275 × 217 upright, whole when laid straight
    outline = rectangle(260, 100).moved(Affine.turn(30))
    project = parts.punched([parts.piece("slant", outline)])
    sheets = lay_out(project, paper=A4, **PAGE)
    assert (len(sheets.sheets), sheets.joins) == (1, ())
    hold_to_the_laws(project, sheets)


def test_a_trim_outside_the_finished_edge_is_on_paper_too(parts: SimpleNamespace) -> None:
    finished, cut = rectangle(100, 60), polyline([(-2, -2), (102, -2), (102, 62), (-2, 62)], closed=True)
    project = parts.punched([parts.piece("p", finished, cut_outline=cut)])
    sheets = lay_out(project, paper=A4, **PAGE)
    (window,) = sheets.sheets[0].windows
    assert bounds(window.polygon) == pytest.approx((-2.25, -2.25, 102.25, 62.25))
    hold_to_the_laws(project, sheets)


@pytest.mark.parametrize(
    ("mark", "shows", "mirrored"),  # by hand: print up on the side it was not drawn from
    [
        (Side.GRAIN, Side.GRAIN, False),
        (Side.FLESH, Side.GRAIN, True),
        (Side.GRAIN, Side.FLESH, True),
        (Side.FLESH, Side.FLESH, False),
    ],
)
def test_a_template_laid_on_the_side_that_does_not_show_is_mirrored(
    parts: SimpleNamespace, mark: Side, shows: Side, mirrored: bool
) -> None:
    project = parts.punched([parts.piece("p", rectangle(100, 60), mark=mark, shows=shows)])
    (window,) = lay_out(project, paper=A4, **PAGE).sheets[0].windows
    assert window.placed.turns_over is mirrored
    assert (window.placed.apply((100, 0))[0] < window.placed.apply((0, 0))[0]) is mirrored
    hold_to_the_laws(project, lay_out(project, paper=A4, **PAGE))


@pytest.mark.parametrize(
    ("length", "most"),
    [
        (1500, 6),
        pytest.param(3000, 12, marks=pytest.mark.long),
        pytest.param(10_000, 38, marks=pytest.mark.long),
    ],  # (length + 0.5 − 10) / 267, rounded up
)
def test_a_piece_of_some_metres_is_cut_in_reasonable_time(
    parts: SimpleNamespace, length: int, most: int
) -> None:
    project = parts.punched([parts.piece("webbing", rectangle(length, 25))])
    sheets = lay_out(project, paper=A4, **PAGE)
    assert len(windows_by_piece(sheets)["webbing"]) <= most  # aslant fewer
    hold_to_the_laws(project, sheets)


def test_the_order_in_the_file_orders_the_sheets(parts: SimpleNamespace) -> None:
    project = parts.punched(
        [
            parts.piece("tab", rectangle(40, 40)),
            parts.piece("back", rectangle(180, 270)),
            parts.piece("front", rectangle(181, 270)),
        ]
    )
    sheets = lay_out(project, paper=A4, **PAGE)
    assert [[w.piece for w in sheet.windows] for sheet in sheets.sheets] == [["tab"], ["back"], ["front"]]
