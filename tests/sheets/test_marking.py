"""Registration marks on a cut line: as far apart as it allows, off its ends, clear of holes."""

from __future__ import annotations

from types import SimpleNamespace

import pytest
import shapely

from handkit.geometry.capsule import Capsule
from handkit.geometry.path import polyline
from handkit.ink import REGISTRATION_ARM
from handkit.paper import PAPERS
from handkit.sheets.joins.marking import CutLine, marks_on
from handkit.sheets.layout import lay_out

PAGE = {"edge": 5.0, "margin": 10.0, "overlap": 10.0}
OFF = 1.0  # mm of paper between the outline and a mark's arm: common practice, no source


# A mark's arm is 4 mm, and 1 mm stays free at either end of the line; on a line too short for that, a
# quarter of what two marks leave of it. All by hand.
@pytest.mark.parametrize(
    ("start", "end", "first", "last"),
    [
        (0.0, 200.0, 5.0, 195.0),
        (50.0, 80.0, 55.0, 75.0),
        (0.0, 12.0, 5.0, 7.0),  # 4 mm are left of it: 1 mm of them at either end
        (0.0, 10.0, 4.5, 5.5),  # 2 mm are left of it
        (0.0, 8.0, 4.0, 4.0),
        (0.0, 5.0, 2.5, 2.5),  # shorter than a mark: in its middle
    ],
)
@pytest.mark.parametrize("upright", [True, False])
def test_marks_stand_off_the_ends_of_their_line(
    upright: bool, start: float, end: float, first: float, last: float
) -> None:
    line = CutLine(upright, 30.0, start, end, (start, end))
    assert marks_on(line, ()) == (pytest.approx(line.point(first)), pytest.approx(line.point(last)))


def test_a_mark_moves_inwards_past_a_hole_and_no_further() -> None:
    """A hole of 3 mm at 5 keeps 1.5 + 4 + 0.5 mm round it: the mark at 11, by steps of 1 mm from 5."""
    line = CutLine(False, 30.0, 0.0, 200.0, (0.0, 200.0))
    assert marks_on(line, [Capsule((5.0, 30.0), (5.0, 30.0), 1.5)]) == ((11.0, 30.0), (195.0, 30.0))


@pytest.mark.parametrize(("w", "h"), [(300, 420), (700, 38)], ids=["panel", "strap"])
def test_marks_stand_on_the_piece_off_its_edge(parts: SimpleNamespace, w: float, h: float) -> None:
    """A cut line goes to the rim of the outline's stroke, 0.25 mm outside the outline: an arm ends a
    millimetre before that."""
    outline = polyline([(0, 0), (w, 0), (w, h), (0, h)], closed=True)
    joins = lay_out(parts.punched([parts.piece("p", outline)]), paper=PAPERS[0], **PAGE).joins
    assert joins
    rim = shapely.box(0, 0, w, h).exterior
    for join in joins:
        ends = rim.intersection(shapely.LineString(join.cut_line))
        for mark in join.marks:
            assert ends.distance(shapely.Point(mark)) >= REGISTRATION_ARM + OFF - 0.25 - 0.001
