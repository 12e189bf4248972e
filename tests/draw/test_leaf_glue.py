"""Glue between the leaves of a folded piece: hatched where it lies on the face."""

from __future__ import annotations

from pathlib import Path

import pytest

from handkit import kit
from handkit.draw.pages.lower_layers import strip_on_face
from handkit.stitch.planner import plan

# Folded by half a turn at x = 100: 0 to 2.2, along A-D, comes to lie on 200 to 197.8.
SHEATH = """
format = 1
title = "Sheath"
unit = "mm"
[material]
thickness = 2
[stitching]
pitch = 4
inset = 4
thread = 0.8
hole = { round = 1.6 }
[[piece]]
name = "base"
rectangle = [200, 120]
folds = { back = { line = [[100, 0], [100, 120]], out = "flesh", angle = 180, stays = "B" } }
[[piece]]
name = "welt"
rectangle = [20, 120]
on = "base"
at = [180, 0]
[[seam]]
name = "edge"
runs = ["base: B-C", "welt", "base: A-D"]
"""


def test_glue_on_the_other_leaf_is_hatched_on_the_face(tmp_path: Path) -> None:
    """By hand: from the edge to 1 short of the holes' rim at 4 - 0.8: 2.2 wide, on both faces of the welt."""
    file = tmp_path / "sheath.toml"
    file.write_text(SHEATH, "utf-8")
    punched = kit.punched_of(file)
    (seam,) = plan(punched).seams
    near, far = seam.strips
    assert (far.along, far.region.bounds()) == ("A-D", pytest.approx((0, 0, 2.2, 120)))
    for strip in (near, far):
        lies = strip_on_face(punched, seam.punched, strip)
        assert lies is not None
        assert lies.bounds() == pytest.approx((197.8, 0, 200, 120))
