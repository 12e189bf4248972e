"""The mat's record: where its marks, bars and field are, worked by hand, and how it tells which way round it
lies."""

from __future__ import annotations

import pytest

from handkit.errors import PaperError
from handkit.photo.mat import Mat, mat_of

# Paper, marks across and up (both ends counted), bars, field: 12 mm in, as near to 23 mm apart as may be;
# (210 − 24) ÷ 23 = 8.09, so 8 steps of 23.25; (297 − 24) ÷ 23 = 11.87: 12 of 22.75; bars whole cm in what is
# left between 25 mm at either end, 290 at the most.
SHEETS = [
    ((210, 297), (9, 13), (160, 240), (23, 23, 187, 274)),
    ((297, 420), (13, 18), (240, 290), (23, 23, 274, 397)),
    ((215.9, 279.4), (9, 12), (160, 220), (23, 23, 192.9, 256.4)),
]


@pytest.mark.parametrize(("paper", "marks", "bars", "field"), SHEETS)
def test_a_sheet_has_its_marks_bars_and_field(paper, marks, bars, field) -> None:
    mat = mat_of(*paper)
    across = sorted({mark.centre[0] for mark in mat.marks})
    up = sorted({mark.centre[1] for mark in mat.marks})
    assert (len(across), len(up)) == marks
    assert len(mat.marks) == 2 * (marks[0] + marks[1]) - 4
    assert (across[0], up[0]) == (12, 12) and (across[-1], up[-1]) == (paper[0] - 12, paper[1] - 12)
    assert (mat.across.length, mat.up.length) == bars
    corners = mat.field.corners
    assert (*corners[0], *corners[2]) == pytest.approx(field)


def turned(mat: Mat) -> set[tuple[float, float]]:
    """Hollow marks of the sheet seen from its other end."""
    return {(mat.width - m.centre[0], mat.height - m.centre[1]) for m in mat.marks if m.hollow}


@pytest.mark.parametrize("paper", [row[0] for row in SHEETS])
def test_the_hollow_marks_tell_which_way_round(paper) -> None:
    """The other way round four marks at least are unlike: one that is hidden does not matter."""
    mat = mat_of(*paper)
    hollow = {mark.centre for mark in mat.marks if mark.hollow}
    assert len(hollow) == 6
    assert len(hollow ^ turned(mat)) >= 4


@pytest.mark.parametrize("paper", [(100, 297), (210, 700)])
def test_no_mat_is_made_of_such_paper(paper) -> None:
    with pytest.raises(PaperError, match="allowed: sides from 120 to 600 mm"):
        mat_of(*paper)
