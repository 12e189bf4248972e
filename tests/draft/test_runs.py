"""Stitch lines of seams: where they run, begin and end, and what stands on them."""

from __future__ import annotations

from math import pi, sqrt
from types import SimpleNamespace
from typing import Any

import pytest

from handkit.draft.drafter import draft
from handkit.draft.pattern import PatternSeam, Run
from handkit.geometry.path import Path

BOX = [(0, 0), (100, 0), (100, 60), (0, 60)]
#   F---E
#   |   |        inside corner at D
#   |   D---C
#   A-------B
ELL = [(0, 0), (100, 0), (100, 40), (40, 40), (40, 100), (0, 100)]

LINES = {"row": [(10, 10), (10, 50), (60, 50)], "ring": [(20, 20), (40, 20), (40, 40), (20, 20)]}


def seam_of(make: SimpleNamespace, *layers: Any, match: Any = (), **more: Any) -> PatternSeam:
    return draft(make.project(make.piece(**more), make.seam(*layers, match=match))).seams[0]


def run_of(make: SimpleNamespace, layer: Any, *, match: Any = (), **more: Any) -> Run:
    return seam_of(make, layer, match=match, **more).runs[0]


def line(run: Run) -> Path:
    assert run.path is not None
    return run.path


def test_boxed_pocket(make: SimpleNamespace) -> None:
    """The gusset of a boxed pocket is as long as the front's stitch line, not as its edge.

    By hand: 200 × 150, R 30, inset 4: 2·120 + 140 + π·26 = 461.681; along the edge 474.248.
    """
    pocket = [(0, 0), (200, 0), (200, 150), (0, 150)]
    piece = make.piece(points=pocket, round={"A": 30.0, "B": 30.0})
    to_the_mouth = make.layer("front: D-A-B-C", from_start=-4.0, from_end=-4.0)
    pattern = draft(make.project(piece, make.seam(to_the_mouth)))
    length = line(pattern.seams[0].runs[0]).length
    assert length == pytest.approx(461.681, abs=5e-4)
    assert length == pytest.approx(2 * 120 + 140 + pi * 26)  # straight parts and two quarters of R 26
    assert pattern.pieces[0].outline.length - 200 == pytest.approx(474.248, abs=5e-4)


def test_what_is_taken_off_an_end_counts_along_the_line_from_the_middle_of_an_arc(
    make: SimpleNamespace,
) -> None:
    """By hand: 100 × 60, A rounded by 20, 4 in: the line's arc has a radius of 16 about (20, 20), from its
    middle to its end 4 π = 12.566; 20 taken off end 20 − 12.566 along the straight part, at 27.434. Of a
    sharp A the line begins at (4, 4)."""
    rounded = run_of(make, make.layer("front: A-B", from_start=20.0), points=BOX, round={"A": 20.0})
    assert line(rounded).start == pytest.approx((20 + 20 - 4 * pi, 4))
    arc = run_of(make, make.layer("front: A-B", from_start=4 * pi), points=BOX, round={"A": 20.0})
    assert line(arc).start == pytest.approx((20, 4))
    sharp = run_of(make, make.layer("front: A-B", from_start=20.0), points=BOX)
    assert line(sharp).start == pytest.approx((24, 4))


class TestEnds:
    """An open run ends at the inset from the edge that is not in it."""

    def test_at_sharp_corners(self, make: SimpleNamespace) -> None:
        run = run_of(make, "front: D-A-B-C", points=BOX)
        assert (line(run).start, line(run).end) == (pytest.approx((4, 56)), pytest.approx((96, 56)))
        assert run.corners == pytest.approx((52, 52 + 92))
        assert run.inside == 1

    def test_the_other_way_round(self, make: SimpleNamespace) -> None:
        run = run_of(make, "front: C-B-A-D", points=BOX)
        assert (line(run).start, line(run).end) == (pytest.approx((96, 56)), pytest.approx((4, 56)))
        assert run.inside == -1

    @pytest.mark.parametrize("radius", [30.0, 12.0, 4.5])
    def test_opposite_the_middle_of_a_rounded_corner(self, make: SimpleNamespace, radius: float) -> None:
        """(R − inset) from the arc's centre, on the diagonal."""
        run = run_of(make, "front: A-B", points=BOX, round=radius)
        at = radius - (radius - 4) * sqrt(0.5)
        assert line(run).start == pytest.approx((at, at))
        assert line(run).end == pytest.approx((100 - at, at))

    @pytest.mark.parametrize("radius", [4.0, 3.0, 0.2])
    def test_a_radius_up_to_the_inset_is_as_a_sharp_corner(
        self, make: SimpleNamespace, radius: float
    ) -> None:
        run = run_of(make, "front: A-B-C", points=BOX, round=radius)
        assert line(run).start == pytest.approx((4, 4))
        assert line(run).end == pytest.approx((96, 56))
        assert run.corners == pytest.approx((92,))

    def test_beside_an_inside_corner(self, make: SimpleNamespace) -> None:
        """At the inset from the corner, on the run's own straight line."""
        assert line(run_of(make, "front: C-D", points=ELL)).end == pytest.approx((40, 36))
        assert line(run_of(make, "front: D-E", points=ELL)).start == pytest.approx((36, 40))

    def test_round_an_inside_corner(self, make: SimpleNamespace) -> None:
        """An arc of the inset's radius: it turns, but smoothly, and fixes no hole."""
        run = run_of(make, "front: C-D-E", points=ELL)
        assert line(run).length == pytest.approx(56 + 2 * pi + 56)
        assert run.corners == ()

    def test_two_runs_meet_in_one_point(self, make: SimpleNamespace) -> None:
        """Seams on both sides of a corner, sharp or rounded, end in the same place."""
        for radius in (0.0, 3.0, 20.0):
            one = run_of(make, "front: A-B", points=BOX, round=radius)
            other = run_of(make, "front: B-C", points=BOX, round=radius)
            assert line(one).end == pytest.approx(line(other).start)

    def test_a_narrow_tab_along_one_edge(self, make: SimpleNamespace) -> None:
        """6 wide, stitched at 4 from one edge: only that edge and its neighbours count."""
        tab = [(0, 0), (60, 0), (60, 6), (0, 6)]
        run = run_of(make, "front: A-B", points=tab)
        assert (line(run).start, line(run).end) == (pytest.approx((4, 4)), pytest.approx((56, 4)))

    def test_moved_in_and_out(self, make: SimpleNamespace) -> None:
        """From the run's own start, whichever way it goes."""
        layer = make.layer("front: B-A", from_start=10.0, from_end=-3.0)
        run = run_of(make, layer, points=BOX)
        assert (line(run).start, line(run).end) == (pytest.approx((86, 4)), pytest.approx((1, 4)))

    def test_a_layers_own_inset(self, make: SimpleNamespace) -> None:
        run = run_of(make, make.layer("front: A-B", inset=7.0), points=BOX)
        assert line(run).start == pytest.approx((7, 7))


class TestClosed:
    """A run whose first letter is repeated goes all round, from that letter."""

    @pytest.mark.parametrize(("text", "inside"), [("B-C-D-A-B", 1), ("B-A-D-C-B", -1)])
    def test_begins_at_its_letter(self, make: SimpleNamespace, text: str, inside: int) -> None:
        seam = seam_of(make, f"front: {text}", points=BOX)
        assert seam.closed
        assert line(seam.runs[0]).start == pytest.approx((96, 4))
        assert line(seam.runs[0]).length == pytest.approx(2 * (92 + 52))
        assert seam.runs[0].inside == inside
        assert 0.0 in seam.runs[0].corners
        assert len(seam.runs[0].corners) == 4

    def test_from_a_rounded_corner(self, make: SimpleNamespace) -> None:
        run = run_of(make, "front: C-D-A-B-C", points=BOX, round=12.0)
        at = 12 - 8 * sqrt(0.5)
        assert line(run).start == pytest.approx((100 - at, 60 - at))
        assert run.corners == ()

    @pytest.mark.parametrize("text", ["D-E-F-A-B-C-D", "D-C-B-A-F-E-D"])
    def test_from_an_inside_corner(self, make: SimpleNamespace, text: str) -> None:
        """From the middle of the arc about it."""
        run = run_of(make, f"front: {text}", points=ELL, match=[["D"], ["A"]])
        assert line(run).start == pytest.approx((40 - 4 * sqrt(0.5), 40 - 4 * sqrt(0.5)))
        d, a = run.meets
        assert d == 0
        assert a is not None
        assert line(run).point_at(a) == pytest.approx((4, 4))

    def test_a_circle(self, make: SimpleNamespace) -> None:
        run = run_of(make, "front: A-A", circle=60.0)
        assert line(run).start == pytest.approx((26, 0))
        assert line(run).length == pytest.approx(2 * pi * 26)

    def test_clockwise_corners(self, make: SimpleNamespace) -> None:
        run = run_of(make, "front: A-B-C-D-A", points=[BOX[0], *BOX[:0:-1]])
        assert line(run).signed_area() == pytest.approx(-92 * 52)
        assert run.inside == -1


class TestInnerLines:
    """The holes stand on the line itself, whatever the inset."""

    def test_open(self, make: SimpleNamespace) -> None:
        run = run_of(make, make.layer("front: row", from_start=5.0), points=BOX, lines=LINES)
        assert line(run).start == pytest.approx((10, 15))
        assert (run.text, run.inside) == ("row", 0)
        assert run.corners == pytest.approx((35,))

    def test_closed_where_the_first_point_is_repeated(self, make: SimpleNamespace) -> None:
        assert seam_of(make, "front: ring", points=BOX, lines=LINES).closed


class TestMatchPoints:
    """Letters and points become distances along the line."""

    def test_letters(self, make: SimpleNamespace) -> None:
        run = run_of(make, "front: D-A-B-C", points=BOX, match=[["A"], ["B"], ["C"], ["D"]])
        assert run.meets == pytest.approx((52, 52 + 92, 52 + 92 + 52, 0))

    def test_a_letter_of_a_rounded_corner(self, make: SimpleNamespace) -> None:
        """Halfway along the arc opposite it: 40 + half a quarter of R 8."""
        run = run_of(make, "front: D-A-B", points=BOX, round={"A": 12.0}, match=[["A"]])
        assert run.meets == pytest.approx((44 + pi * 8 / 4,))

    def test_letters_count_from_the_runs_start(self, make: SimpleNamespace) -> None:
        layer = make.layer("front: B-A-D", from_start=10.0)
        assert run_of(make, layer, points=BOX, match=[["A"]]).meets == pytest.approx((82,))

    def test_points_on_the_line_or_the_edge(self, make: SimpleNamespace) -> None:
        run = run_of(make, "front: A-B", points=BOX, match=[[(30.0, 4.0)], [(50.0, 0.0)]])
        assert run.meets == pytest.approx((26, 46))

    def test_a_layer_may_have_none(self, make: SimpleNamespace) -> None:
        seam = seam_of(
            make, "front: A-B", "front: D-C", points=BOX, match=[["A", None], [None, (50.0, 56.0)]]
        )
        assert [run.meets for run in seam.runs] == [(0.0, None), (None, pytest.approx(46))]
