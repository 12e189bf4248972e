"""Stitch lines of seams: where they run, begin and end."""

from __future__ import annotations

from math import pi
from types import SimpleNamespace

import pytest

from handkit.draft.drafter import draft


def test_boxed_pocket(make: SimpleNamespace) -> None:
    """The gusset of a boxed pocket is as long as the front's stitch line, not as its edge.

    Source: trade.md, "Boxed pocket": 200 × 150, R 30, inset 4: 461.681, along the edge 474.248.
    """
    front = make.piece(points=[(0, 0), (200, 0), (200, 150), (0, 150)], round={"A": 30.0, "B": 30.0})
    pattern = draft(make.project(front, make.seam("front: D-A-B-C", "front: D-A-B-C")))
    line = pattern.seams[0].runs[0].path
    assert line is not None
    # The run ends at the inset from the mouth; trade.md counts to the mouth itself.
    assert line.length + 2 * 4 == pytest.approx(461.681, abs=5e-4)
    assert line.length + 2 * 4 == pytest.approx(2 * 120 + 140 + pi * 26)
    along_the_edge = pattern.pieces[0].outline.length - 200
    assert along_the_edge == pytest.approx(474.248, abs=5e-4)
