"""One cause gives one message: an inset too small is told once a seam, faults that differ are all told."""

from __future__ import annotations

from pathlib import Path

import pytest

from handkit.draft.drafter import draft
from handkit.errors import ProjectError
from handkit.punch.puncher import punch
from handkit.read.reader import read_project_text

CASE = """format = 1
[material]
thickness = 2
[[piece]]
name = "back"
rectangle = [{width}, 80]
[[piece]]
name = "front"
rectangle = [100, 80]
on = "back"
[[seam]]
name = "sides"
runs = ["front: D-A-B-C", "back"]
inset = {inset}
"""


def told_of(text: str) -> list[tuple[str, str]]:
    """Code and key of each error."""
    with pytest.raises(ProjectError) as raised:
        punch(draft(read_project_text(text, file="p.toml", folder=Path())))
    return [(finding.code, finding.where.key) for finding in raised.value.findings]


def test_an_inset_too_small_for_layers_that_end_flush_is_told_once() -> None:
    told = told_of(CASE.format(width=100, inset=2))
    assert told == [("hole-at-edge", 'seam "sides": run "back"')]


def test_layers_too_near_their_edges_by_unlike_distances_are_told_each() -> None:
    """The back is 98 wide: holes 3 mm inside the front's right edge are 1 mm inside the back's."""
    told = told_of(CASE.format(width=98, inset=3))
    assert told == [
        ("hole-at-edge", 'seam "sides": run "back"'),
        ("hole-at-edge", 'seam "sides": run "front: D-A-B-C"'),
    ]
