"""What hangs: handles between their sewn ends, and the zip that they hang beside."""

from __future__ import annotations

import pytest

from handkit import ProjectText, kit
from handkit.assemble.article import BodyKind, Figure
from handkit.draw.article.pages import views
from handkit.geometry.region import region_of

BAG = """
format = 1
title = "Bag"
[material]
thickness = 2
kind = "soft leather"
[stitching]
pitch = 5
inset = 5
thread = 1
hole = {{ round = 2 }}
[[part]]
name = "bag"
kind = "bag"
closed_by = "zip"
width = 360
height = 200
depth = 40
strap = 30
drop = {drop}
[[item]]
name = "book"
in = "bag"
size = [200, 18, 150]
"""


def figure(drop: float) -> Figure:
    (found,) = kit.article_of(kit.punched_of(ProjectText(BAG.format(drop=drop)))).figures
    return found


@pytest.mark.parametrize(
    ("drop", "top"),
    [
        # Its ends are 180 apart: half a circle of 90, and 30 straight on. Both are as far above the mouth as
        # is stated on the middle of the strip, half of whose 30 lie beyond.
        (120, 335),
        # An arc, flatter than half a circle, from the mouth on.
        (40, 255),
    ],
)
def test_a_handle_stands_up_over_its_panel_as_far_as_its_drop(drop: float, top: float) -> None:
    found = figure(drop)
    for panel in ("front", "back"):
        body = found.body(f"bag {panel} handle")
        left, low, right, high = body.outline.bounds()
        assert body.kind is BodyKind.HANGING
        assert high == pytest.approx(top, abs=0.05)
        assert (left + right) / 2 == pytest.approx(180, abs=0.01)
        strip = region_of(body.piece.outline).area  # nothing of it is lost where it bends
        assert region_of(body.outline).area == pytest.approx(strip, rel=0.002 if drop > 90 else 0.03)
        rows = [row for row in found.rows if body.name in row.pieces]
        assert len(rows) == 2
        for row in rows:  # each end lies under its own row, which turns an inset above its edge
            places = [(x, y) for x, y, _ in row.front]
            assert region_of(body.outline).outside(places) == frozenset()
            assert min(y for _, y in places) == pytest.approx(low + 5, abs=0.01)


def test_a_gusset_stands_on_edge_and_is_no_handle() -> None:
    assert figure(120).body("bag gusset").kind is BodyKind.WALL


def test_a_zips_tapes_lie_inside_and_are_drawn_dashed_from_outside() -> None:
    found = figure(120)
    assert {(each.on, each.to_eye) for each in found.fittings} == {("bag front", False), ("bag back", True)}
    article = kit.article_of(kit.punched_of(ProjectText(BAG.format(drop=120))))
    for _, scene in views(article):
        hidden = [
            mark
            for group in scene.groups
            for mark in group.marks
            if mark.tag.value == "hkHidden" and ("Fitting", "bag zip") in mark.properties
        ]
        assert len(hidden) == 1
        assert "bag zip" in {name.text for name in scene.names}
    assert [clash.words for clash in article.clashes] == []
