"""Outlines: corners, radii, sagittas, circles; what lies in and on them."""

from __future__ import annotations

from math import pi, sqrt
from types import SimpleNamespace
from typing import Any

import pytest

from handkit.draft.drafter import draft
from handkit.draft.pattern import PatternPiece
from handkit.geometry.region import region_of

BOX = [(0, 0), (100, 0), (100, 60), (0, 60)]


def drawn(make: SimpleNamespace, **more: Any) -> PatternPiece:
    return draft(make.project(make.piece(**more))).pieces[0]


def letters(piece: PatternPiece) -> dict[str, tuple[float, float]]:
    return {letter.name: letter.at for letter in piece.letters}


def test_a_rectangle_begins_at_a(make: SimpleNamespace) -> None:
    piece = drawn(make, points=BOX)
    assert piece.outline.start == (0, 0)
    assert letters(piece) == dict(zip("ABCD", BOX, strict=True))
    assert piece.outline.signed_area() == pytest.approx(6000)
    assert piece.cut_outline == piece.outline


def test_a_rounded_corners_letter_stands_at_the_middle_of_its_arc(make: SimpleNamespace) -> None:
    """R·(1 − √½) in from both edges; area and length in closed form, by hand."""
    piece = drawn(make, points=BOX, round=12.0)
    off = 12 * (1 - sqrt(0.5))
    assert letters(piece)["A"] == pytest.approx((off, off))
    assert letters(piece)["C"] == pytest.approx((100 - off, 60 - off))
    assert piece.outline.start == pytest.approx((off, off))
    assert piece.outline.signed_area() == pytest.approx(6000 - (4 - pi) * 144)
    assert piece.outline.length == pytest.approx(320 - 8 * 12 + 2 * pi * 12)


def test_only_the_corners_named_are_rounded(make: SimpleNamespace) -> None:
    piece = drawn(make, points=BOX, round={"C": 30.0, "D": 30.0})
    assert letters(piece)["A"] == (0, 0)
    assert piece.outline.signed_area() == pytest.approx(6000 - (2 - pi / 2) * 900)


def test_radii_may_take_an_edge_whole(make: SimpleNamespace) -> None:
    """A tab with a round end: two radii of half its width leave no straight bit between them."""
    piece = drawn(make, points=[(0, 0), (26, 0), (26, 64), (0, 64)], round={"C": 13.0, "D": 13.0})
    assert piece.outline.signed_area() == pytest.approx(26 * 51 + pi * 13**2 / 2)
    assert all(segment.length > 1 for segment in piece.outline.segments)


def test_an_arc_as_edge_is_outward_whichever_way_the_corners_go(make: SimpleNamespace) -> None:
    """A segment of chord 100 and sagitta 10: R = 130, area by the circular segment's formula."""
    for points, edge in ((BOX, "B-C"), ([BOX[0], *BOX[:0:-1]], "C-D")):
        out = drawn(make, points=points, arc={edge: 6.0})
        assert out.outline.bounds()[2] == pytest.approx(106)
        into = drawn(make, points=points, arc={edge: -6.0})
        assert abs(into.outline.signed_area()) == pytest.approx(
            12000 - abs(out.outline.signed_area()), abs=1e-9
        )


def test_a_corner_between_an_arc_and_a_line_is_rounded(make: SimpleNamespace) -> None:
    """No direction jumps but at the corners left sharp."""
    piece = drawn(make, points=BOX, arc={"C-D": 6.0}, round={"C": 20.0, "D": 20.0})
    assert len(piece.outline.corners(over_degrees=0.001)) == 2


def test_smooth_corners_need_no_rounding(make: SimpleNamespace) -> None:
    """A point on a straight edge is a corner by letter only; round everywhere leaves it as it is."""
    piece = drawn(make, points=[(0, 0), (50, 0), (100, 0), (100, 60), (0, 60)], round=8.0)
    assert letters(piece)["B"] == (50, 0)
    assert piece.outline.signed_area() == pytest.approx(6000 - (4 - pi) * 64)


def test_a_circle(make: SimpleNamespace) -> None:
    piece = drawn(make, circle=60.0)
    assert letters(piece) == {"A": (30, 0)}
    assert piece.outline.signed_area() == pytest.approx(pi * 900)


def test_a_mirrored_circle_goes_the_other_way_from_nine_oclock(make: SimpleNamespace) -> None:
    """So that hole k of a mirrored copy is the mirror image of hole k; twice mirrored is as at first."""
    first = make.piece("lid", circle=60.0)
    copy = make.piece("lid 2", circle=60.0, copy_of="lid", mirrored=True)
    back = make.piece("lid 3", circle=60.0, copy_of="lid 2", mirrored=True)
    pattern = draft(make.project(copy, first, back))
    assert [piece.name for piece in pattern.pieces] == ["lid 2", "lid", "lid 3"]
    areas = [pattern.piece(name).outline.signed_area() for name in ("lid", "lid 2", "lid 3")]
    assert areas == pytest.approx([pi * 900, -pi * 900, pi * 900])
    assert letters(pattern.piece("lid 2")) == {"A": (-30, 0)}


def test_lines_and_folds(make: SimpleNamespace) -> None:
    """They may touch the edge; a line that ends where it begins is closed."""
    piece = drawn(
        make,
        points=BOX,
        lines={"ring": [(20, 20), (40, 20), (40, 40), (20, 20)], "row": [(0, 10), (100, 10)]},
        folds={"spine": [(50, 0), (50, 60)]},
    )
    ring, row = piece.lines
    assert (ring.path.closed, row.path.closed) == (True, False)
    assert ring.path.length == pytest.approx(40 + sqrt(800))
    assert piece.folds[0].path.length == 60


def test_skived_edges_run_from_letter_to_letter(make: SimpleNamespace) -> None:
    piece = drawn(make, points=BOX, round=12.0, skive={"A-B": (12.0, 1.0), "C-B-A-D-C": (5.0, 1.0)})
    edge, ring = piece.skives
    assert edge.path.length == pytest.approx(76 + pi * 12 / 2)
    assert (edge.width, edge.to) == (12, 1)
    assert ring.path.closed
    assert ring.path.length == pytest.approx(piece.outline.length)


class TestTrims:
    """Where the knife goes first: outside the edges that are trimmed later."""

    def test_neighbours_go_on_straight(self, make: SimpleNamespace) -> None:
        piece = drawn(make, points=BOX, trim={"A-B": 2.0})
        assert piece.cut_outline.bounds() == pytest.approx((0, -2, 100, 60))
        assert piece.cut_outline.signed_area() == pytest.approx(100 * 62)
        assert [path.length for path in piece.trims] == [100]

    def test_slanted_neighbours_too(self, make: SimpleNamespace) -> None:
        """A trapezium 100 wide at its foot, sides at 45 degrees: 2 lower, 104 wide."""
        piece = drawn(make, points=[(0, 0), (100, 0), (80, 20), (20, 20)], trim={"A-B": 2.0})
        assert piece.cut_outline.signed_area() == pytest.approx((104 + 60) / 2 * 22)

    def test_all_round_corners_stay_sharp(self, make: SimpleNamespace) -> None:
        piece = drawn(make, points=BOX, trim={"A-B-C-D-A": 2.0})
        assert piece.cut_outline.signed_area() == pytest.approx(104 * 64)
        assert piece.trims[0].closed

    def test_two_widths_meet_in_their_corner(self, make: SimpleNamespace) -> None:
        piece = drawn(make, points=BOX, trim={"A-B": 2.0, "B-C": 5.0})
        assert piece.cut_outline.signed_area() == pytest.approx(105 * 62)

    def test_a_rounded_corner_where_it_ends_is_cut_sharp(self, make: SimpleNamespace) -> None:
        """100 x 62 but for two round corners at the top; the trim line goes round both at the foot."""
        piece = drawn(make, points=BOX, round=12.0, trim={"A-B": 2.0})
        corner = 12**2 - pi / 4 * 12**2
        assert piece.cut_outline.signed_area() == pytest.approx(100 * 62 - 2 * corner)
        (line,) = piece.trims
        assert line.length == pytest.approx(76 + 2 * pi / 2 * 12)
        assert (line.start, line.end) == (pytest.approx((0, 12)), pytest.approx((100, 12)))

    def test_a_rounded_corner_of_two_widths_is_cut_sharp_and_each_line_ends_at_the_letter(
        self, make: SimpleNamespace
    ) -> None:
        piece = drawn(make, points=BOX, round=12.0, trim={"A-B": 2.0, "B-C": 5.0})
        corner = 12**2 - pi / 4 * 12**2
        assert piece.cut_outline.signed_area() == pytest.approx(105 * 62 - corner)
        assert [path.length for path in piece.trims] == pytest.approx([76 + 18 * pi / 2, 36 + 18 * pi / 2])

    def test_a_rounded_corner_within_a_trim_stays_round(self, make: SimpleNamespace) -> None:
        piece = drawn(make, points=BOX, round=12.0, trim={"D-A-B": 2.0})
        sharp, wide = 12**2 - pi / 4 * 12**2, 14**2 - pi / 4 * 14**2
        assert piece.cut_outline.signed_area() == pytest.approx(102 * 62 - sharp - wide)

    def test_what_fills_an_inside_corner_is_never_cut_away(self, make: SimpleNamespace) -> None:
        notched = [(0, 0), (80, 0), (80, 60), (50, 60), (50, 40), (30, 40), (30, 60), (0, 60)]
        for trim in ({"E-F": 2.0}, {"D-E": 3.0}, {"D-E": 3.0, "E-F": 2.0}):
            piece = drawn(make, points=notched, round=6.0, trim=trim)
            lost = region_of(piece.outline).without(region_of(piece.cut_outline))
            assert lost.area < 0.01

    def test_a_corner_beside_an_edge_of_arcs_alone_stays_round(self, make: SimpleNamespace) -> None:
        """A tongue with a half round end: what would be sharp has nothing to be prolonged."""
        piece = drawn(
            make, points=[(0, 0), (100, 0), (100, 24), (0, 24)], round={"B": 12, "C": 12}, trim={"A-B": 2.0}
        )
        assert piece.cut_outline.bounds()[2] == pytest.approx(100, abs=2)

    def test_clockwise_corners_are_trimmed_outside_as_well(self, make: SimpleNamespace) -> None:
        piece = drawn(make, points=[BOX[0], *BOX[:0:-1]], trim={"D-A": 2.0})
        assert piece.cut_outline.bounds() == pytest.approx((0, -2, 100, 60))


#   Edges at a notch: trimmed beside an inside corner, the neighbour is shortened.
def test_a_trim_beside_an_inside_corner(make: SimpleNamespace) -> None:
    ell = [(0, 0), (100, 0), (100, 40), (40, 40), (40, 100), (0, 100)]
    piece = drawn(make, points=ell, trim={"C-D": 2.0})
    assert piece.cut_outline.signed_area() == pytest.approx(6400 + 60 * 2)
