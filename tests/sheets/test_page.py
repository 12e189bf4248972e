"""What is refused about paper, edge, margin and overlap, and about pieces too large for them."""

from __future__ import annotations

from types import SimpleNamespace

import msgspec
import pytest

from handkit.errors import ProjectError
from handkit.geometry.path import polyline
from handkit.kinds.pages import Drawn
from handkit.paper import PAPERS, Layout, Paper, paper_named
from handkit.sheets.layout import lay_out
from handkit.sheets.page import drawn_size

A4 = PAPERS[0]
SMALL = paper_named("100x140mm")

# edge, margin, overlap, paper: the whole text
REFUSALS = [
    (
        (-1.0, 10.0, 10.0, A4),
        "orchard.toml:6: error: page: edge: found an edge of -1 mm; allowed: 0 mm or more; "
        "give what your printer leaves white [edge-negative]",
    ),
    (
        (72.0, 80.0, 10.0, A4),
        "orchard.toml:6: error: page: edge: found an edge of 72 mm on A4; allowed: at most 71 mm on this "
        "paper; make the edge narrower or the paper larger [edge-too-wide]",
    ),
    (
        (5.0, 4.5, 10.0, A4),
        "orchard.toml:7: error: page: margin: found a margin of 4.5 mm with an edge of 5 mm; allowed: a "
        "margin from 9 mm to 75 mm; make the margin wider than the edge [margin-below-edge]",
    ),
    (
        (5.0, 8.0, 10.0, A4),
        "orchard.toml:7: error: page: margin: found a margin of 8 mm with an edge of 5 mm; allowed: a "
        "margin of at least 9 mm; leave 4 mm between the two for scale bars and sheet numbers "
        "[margin-too-narrow]",
    ),
    (
        (5.0, 25.0, 10.0, SMALL),
        "orchard.toml:7: error: page: margin: found a margin of 25 mm on 100x140mm, which leaves 50 × 90 mm "
        "to draw on; allowed: a margin of at most 20 mm on this paper; make the margin narrower or the paper "
        "larger [margin-too-wide]",
    ),
    (
        (5.0, 130.0, 10.0, A4),
        "orchard.toml:7: error: page: margin: found a margin of 130 mm on A4, which leaves 0 × 37 mm to draw "
        "on; allowed: a margin of at most 75 mm on this paper; make the margin narrower or the paper larger "
        "[margin-too-wide]",
    ),
    (
        (5.0, 10.0, 7.9, A4),
        "orchard.toml:8: error: page: overlap: found an overlap of 7.9 mm; allowed: at least 8 mm, what a "
        "registration mark measures across; make the overlap wider [overlap-too-small]",
    ),
    (
        (5.0, 10.0, 95.5, A4),
        "orchard.toml:8: error: page: overlap: found an overlap of 95.5 mm where 190 × 277 mm are drawn on; "
        "allowed: at most 95 mm, half of what is drawn on; make the overlap smaller [overlap-too-big]",
    ),
]


@pytest.mark.parametrize(("figures", "text"), REFUSALS, ids=[row[1].split("[")[-1][:-1] for row in REFUSALS])
def test_a_page_without_room_is_refused(
    parts: SimpleNamespace, figures: tuple[float, float, float, Paper], text: str
) -> None:
    edge, margin, overlap, paper = figures
    project = parts.punched([parts.piece("tab", polyline([(0, 0), (30, 0), (30, 60)], closed=True))])
    with pytest.raises(ProjectError) as refused:
        lay_out(project, paper=paper, edge=edge, margin=margin, overlap=overlap)
    assert str(refused.value) == text


def test_margin_and_overlap_are_told_in_one_go(parts: SimpleNamespace) -> None:
    project = parts.punched([parts.piece("tab", polyline([(0, 0), (30, 0), (30, 60)], closed=True))])
    with pytest.raises(ProjectError) as refused:
        lay_out(project, paper=A4, edge=5, margin=8, overlap=0)
    assert [finding.code for finding in refused.value.findings] == ["margin-too-narrow", "overlap-too-small"]


@pytest.mark.long
@pytest.mark.parametrize(("edge", "margin", "overlap"), [(0, 4, 8), (5, 9, 8), (71, 75, 30), (5, 10, 95)])
def test_figures_on_the_limit_are_taken(
    parts: SimpleNamespace, edge: float, margin: float, overlap: float
) -> None:
    project = parts.punched(
        [parts.piece("panel", polyline([(0, 0), (300, 0), (300, 400), (0, 400)], closed=True))]
    )
    assert len(lay_out(project, paper=A4, edge=edge, margin=margin, overlap=overlap).sheets) > 1


def test_what_is_drawn_on_is_the_paper_less_the_margin_all_round() -> None:
    size = drawn_size(A4, margin=10)
    assert (size.width, size.height) == (190, 277)  # 210 − 20, 297 − 20, by hand


def test_a_piece_of_a_hundred_metres_is_refused(parts: SimpleNamespace) -> None:
    project = parts.punched(
        [parts.piece("awning", polyline([(0, 0), (1e5, 0), (1e5, 1e5), (0, 1e5)], closed=True))]
    )
    with pytest.raises(ProjectError) as refused:
        lay_out(project, paper=A4, edge=5, margin=10, overlap=10)
    # (100000.5 − 10) / 180 and / 267, rounded up: 556 × 375 windows, by hand
    assert str(refused.value) == (
        'orchard.toml:10: error: piece "awning": found a piece that takes up to 208500 portions on this '
        "paper; allowed: at most 500; check its unit, or take larger paper [piece-too-big]"
    )


@pytest.mark.parametrize(
    ("size", "draw", "told"),
    [
        # 190 × 277 are drawn on: 600 × 200 × 250 / 52630 = 570.02, by hand
        (
            (200.0, 250.0),
            Drawn.EACH,
            "found templates of at least 571 sheets, each copy drawn; allowed: at most 500; draw alike "
            'pieces once (draw = "once"), or split the project [too-many-sheets]',
        ),
        ((200.0, 250.0), Drawn.ONCE, ""),
    ],
)
def test_more_than_five_hundred_sheets_are_refused(
    parts: SimpleNamespace, size: tuple[float, float], draw: Drawn, told: str
) -> None:
    wide, high = size
    ring = polyline([(0, 0), (wide, 0), (wide, high), (0, high)], closed=True)
    flag = msgspec.structs.replace(parts.piece("flag", ring), quantity=600)
    project = parts.punched([flag])
    layout = Layout(draw=draw)
    if not told:
        assert len(lay_out(project, paper=A4, edge=5, margin=10, overlap=10, layout=layout).sheets) < 10
        return
    with pytest.raises(ProjectError) as refused:
        lay_out(project, paper=A4, edge=5, margin=10, overlap=10, layout=layout)
    assert str(refused.value) == f"orchard.toml:4: error: page: {told}"


@pytest.mark.long
def test_a_piece_in_more_than_sixty_windows_is_told(parts: SimpleNamespace) -> None:
    # 1400.5 mm across in steps of 180: 8 columns; 2100.5 up in steps of 267: 8 rows; turned 6 × 12 (by hand)
    project = parts.punched(
        [parts.piece("tarp", polyline([(0, 0), (1400, 0), (1400, 2100), (0, 2100)], closed=True))]
    )
    sheets = lay_out(project, paper=A4, edge=5, margin=10, overlap=10)
    assert [str(finding) for finding in sheets.findings] == [
        'orchard.toml:10: warning: piece "tarp": found a piece in 64 portions and 112 joins; allowed: up to '
        "60 without a word; check its unit, take larger paper, or have it drawn by its measures: "
        "measured = true [many-windows]"
    ]
