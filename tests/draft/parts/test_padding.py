"""Padded straps: girths walked another way, the lining's way measured by shapely, rows that meet."""

from __future__ import annotations

from math import pi
from pathlib import Path

import pytest
import shapely

from handkit.draft.drafter import draft
from handkit.draft.pattern import Pattern
from handkit.punch.puncher import punch
from handkit.read.reader import read_project_text

HEAD = "format = 1\n[material]\nthickness = 2.4\n[stitching]\npitch = 4\ninset = 4\n"
COLLAR = '[[part]]\nname = "belt"\nkind = "strap"\nwidth = 25\nbar = 4\ngirth = [{0}, {1}]\nlined = true\n'


def collar(own: str = "padding = 3\n", least: float = 330, most: float = 420) -> Pattern:
    text = HEAD + COLLAR.format(least, most) + own
    return draft(read_project_text(text, file="p.toml", folder=Path()))


def holes_of(pattern: Pattern) -> list[float]:
    fold = pattern.piece("belt").fold("buckle").ends[0][0]
    (found,) = (each for each in pattern.openings if each.name == "belt holes")
    return [place.at[0] - fold for place in found.places if place.piece == "belt"]


def pad_of(pattern: Pattern) -> tuple[float, float, float, float]:
    """Where the padding lies on the strap."""
    piece = pattern.piece("belt padding")
    return piece.outline.moved(piece.in_root).bounds()


def closed_round(pattern: Pattern, along: float) -> float:
    """Bent in small steps to a ring, each alike much. At their edges the middle of strap and lining keeps
    its length; half of both, and the padding's whole thickness, lie further in, and are shorter."""
    left, _, right, _ = pad_of(pattern)
    fold = pattern.piece("belt").fold("buckle").ends[0][0]
    bar, turn, bare, steps = 4.0, pi * (4 + 2.4) / 2, 4.8, 200_000
    way = along - turn / 2 - bar / 2
    inside = 0.0
    for k in range(steps):
        at = fold + along * (k + 0.5) / steps
        off = bare / 2 + (3.0 if left <= at <= right else 0.0)
        inside += way / steps - 2 * pi / steps * off
    return inside


# By hand: the butt at 70, so behind it 142, two insets of 4 and a ramp of 15: 165. 17 between the rows, 3 of
# slope on either side: 11 wide. Without padding the first hole is at 352.106 (turn/2 + bar/2 + π · 4.8); then
# a = 352.106 + 2 π · 3 · (a − 116) / a, for 165 − 70 + 6 + 15 are bare: 364.964.
def test_by_hand() -> None:
    pattern = collar()
    left, low, right, high = pad_of(pattern)
    assert (left, high - low) == pytest.approx((165, 11))
    assert (low, high) == pytest.approx((7, 18))
    assert holes_of(pattern)[0] == pytest.approx(364.964, abs=0.001)
    assert right == pytest.approx(70 + 364.964 - 21, abs=0.001)


@pytest.mark.parametrize(
    "own", ["padding = 3\n", "padding = 3\npadding_width = 6\n", "padding = 3\nloose = 1\n"]
)
def test_it_closes_round_its_girths(own: str) -> None:
    pattern = collar(own)
    holes = holes_of(pattern)
    for hole, girth in ((holes[0], 330), (holes[len(holes) // 2], 375), (holes[-1], 420)):
        share = (pad_of(pattern)[2] - pad_of(pattern)[0]) / hole
        assert closed_round(pattern, hole) == pytest.approx(girth, abs=0.02)
        assert hole - pi * 3.2 / 2 - 2 - pi * (4.8 + 6 * share) == pytest.approx(girth, abs=0.001)
    assert not [told for told in punch(pattern).findings if told.code == "strap-does-not-reach"]


def test_its_lining_is_as_much_wider_as_the_way_over_it() -> None:
    """The hull of the padding, grown by half the lining, between stitch points as far above the strap."""
    lining = collar().piece("belt lining")
    _, low, _, high = lining.outline.bounds()
    half, base, wide = 1.2, 17, 11
    over = shapely.box(-wide / 2, 0, wide / 2, 3).buffer(half, quad_segs=400)
    upper = over.intersection(shapely.box(-base, half, base, 9))
    hull = upper.union(shapely.MultiPoint([(base / 2, half), (-base / 2, half)])).convex_hull
    assert high - low == pytest.approx(25 + hull.length - 2 * base, abs=0.01)


def test_its_row_goes_round_strap_and_lining_and_clear_of_the_padding() -> None:
    punched = punch(collar())
    seam = next(each for each in punched.seams if each.name == "belt lining")
    lining, strap = seam.layers
    assert len(lining.holes) == len(strap.holes)
    left, low, right, high = pad_of(punched.pattern)
    rows = [hole.at[1] for hole in strap.holes if left <= hole.at[0] <= right]
    assert max(y for y in rows if y < low) < low - 2 and min(y for y in rows if y > high) > high + 2
    ends = [punched.pattern.piece("belt").outline.bounds()[2] - hole.at[0] for hole in lining.holes]
    assert max(abs(a - hole.at[0]) for a, hole in zip(ends, strap.holes, strict=True)) < 0.3


def test_more_padding_is_a_longer_strap_and_nothing_else_of_it() -> None:
    thin, thick = collar("padding = 2\npadding_width = 8\n"), collar("padding = 4\npadding_width = 8\n")
    assert holes_of(thick)[0] > holes_of(thin)[0] + 2
    assert thin.piece("belt keeper").outline == thick.piece("belt keeper").outline
    assert pad_of(thin)[0] == pad_of(thick)[0]
