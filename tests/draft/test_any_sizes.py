"""Whatever the sizes: parts are drafted and punched, or refused in findings, and nothing else is raised."""

from __future__ import annotations

from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.draft.drafter import draft
from handkit.errors import ProjectError
from handkit.punch.puncher import punch
from handkit.read.reader import read_project_text

CASE = """format = 1
[material]
thickness = {0}
[[piece]]
name = "back"
rectangle = [900, 900]
[[part]]
name = "flat"
kind = "flat pocket"
on = "back"
at = [10, 10]
shows = {1}
round = {2}
[[part]]
name = "bow"
kind = "bowed pocket"
on = "back"
at = [10, 300]
hem = {3}
rivets = true
[[part]]
name = "box"
kind = "boxed pocket"
on = "back"
at = [400, 20]
gusset = "turned"
round = {4}
[[part]]
name = "row"
kind = "holder row"
on = "back"
at = [20, 700]
strap = {5}
gap = {6}
[[part]]
name = "lining"
kind = "lining"
of = "flat"
inset_by = {7}
seams = ["flat"]
[[item]]
name = "rule"
in = "flat"
size = [{8}, 1, {9}]
[[item]]
name = "labels"
in = "bow"
size = [{10}, {11}, 90]
[[item]]
name = "block"
in = "box"
size = [60, {12}, 150]
[[item]]
name = "awl"
in = "row"
diameter = {13}
length = 140
[[seam]]
name = "flat"
inset = {14}
[[piece]]
name = "twin"
copy = "flat"
mirrored = true
"""
GOOD = (1.6, 20, 8, 12, 20, 30, 12, 0.5, 30, 150, 60, 20, 30, 12, 4)
SIZES = (0.2, 0.5, 1, 2, 3, 5, 8, 12, 16, 20, 30, 45, 60, 100, 280)


@settings(derandomize=True, deadline=None, max_examples=40)
@given(st.dictionaries(st.integers(0, len(GOOD) - 1), st.sampled_from(SIZES), max_size=3))
def test_no_size_breaks_the_drafting(changed: dict[int, float]) -> None:
    text = CASE.format(*(changed.get(k, size) for k, size in enumerate(GOOD)))
    try:
        punched = punch(draft(read_project_text(text, file="p.toml", folder=Path())))
    except ProjectError as refused:
        assert all(finding.found and finding.where.line for finding in refused.findings)
        return
    for seam in punched.seams:
        assert len({len(layer.holes) for layer in seam.layers}) == 1
    assert {room.part for room in punched.pattern.item_fits} == {"flat", "bow", "box", "row"}
