"""From a project file to holes, through the steps before: what the parts promise together."""

from __future__ import annotations

from itertools import pairwise
from math import hypot
from pathlib import Path

import pytest

from handkit.draft.drafter import draft
from handkit.punch.punched import Punched
from handkit.punch.puncher import punch
from handkit.read.reader import read_project_text

# A bindery's tool case: a closed run, a carried layer under a tag turned over and about, and a gusset
# half a millimetre longer than the stitch line it meets.
CASE = """
format = 1
title = "Finishing tools"

[material]
thickness = 1.6

[stitching]
pitch = 4
inset = 4
thread = 0.6
{stitching}

[[piece]]
name = "front"
rectangle = [200, 150]
round = 30

[[piece]]
name = "gusset"
rectangle = [451, 40]

[[piece]]
name = "patch"
circle = 60
on = "front"
at = [100, 80]

[[piece]]
name = "tag"
rectangle = [40, 30]
round = 5
on = "front"
at = [60, 45]
turn = 30
turned_over = true
behind = true

[[seam]]
name = "patch"
runs = ["patch: A-A", "front"]
pitch = 3.5

[[seam]]
name = "tag"
runs = ["tag: B-A-D-C", "front"]
{tag}

[[seam]]
name = "gusset"
runs = ["front: D-A-B-C", "gusset: D-C"]
bowed = true
"""

VARIANTS = [
    ("", ""),
    ("hole = { slit = 2, slant = 45 }", ""),
    ('spacing = "iron"', ""),
    ("hole = { slit = 2, slant = 45 }", 'spacing = "iron"'),
]


def case(stitching: str, tag: str) -> Punched:
    text = CASE.format(stitching=stitching, tag=tag)
    return punch(draft(read_project_text(text, file="case.toml", folder=Path())))


@pytest.mark.parametrize(("stitching", "tag"), VARIANTS)
def test_layers_of_a_seam_agree(stitching: str, tag: str) -> None:
    punched = case(stitching, tag)
    placed = {piece.name: (piece.root, piece.placed) for piece in punched.pattern.pieces}
    for seam in punched.seams:
        for layer in seam.layers:
            assert [hole.number for hole in layer.holes] == list(range(1, seam.count + 1))
        first, second = seam.layers
        root, matrix = placed[first.piece]
        other_root, other = placed[second.piece]
        if root != other_root:
            continue
        assert matrix is not None
        assert other is not None
        for one, two in zip(first.holes, second.holes, strict=True):
            (x, y), (u, v) = matrix.apply(one.at), other.apply(two.at)
            assert hypot(u - x, v - y) < 1e-9
            assert (one.slit_degrees is None) == (two.slit_degrees is None)


def test_a_gusset_takes_the_count_of_the_stitch_line() -> None:
    punched = case("", "")
    seam = next(seam for seam in punched.seams if seam.name == "gusset")
    front, gusset = seam.layers
    # The U from C's arc to D's on the stitch line: 200 × 150, R 30, inset 4, from the middle of one arc to
    # that of the other: 2·90 + 140 + 26·π/2·3 (two quarters and two halves of one), worked out by hand.
    assert front.length == pytest.approx(2 * 90 + 140 + 26 * 3.141592653589793 / 2 * 3)
    assert len(front.holes) == len(gusset.holes) == 112
    steps = [hypot(b.at[0] - a.at[0], b.at[1] - a.at[1]) for a, b in pairwise(front.holes)]
    assert max(steps) - min(steps) < 1e-9
    assert gusset.length == pytest.approx(451 - 8)


def test_the_same_project_gives_the_same_holes() -> None:
    assert case("", "") == case("", "")
