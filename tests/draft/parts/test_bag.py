"""Bags: sizes by hand, walls that meet hole for hole, handles and flaps that reach what they are for."""

from __future__ import annotations

from collections.abc import Callable
from math import asin, pi

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.draft.pattern import Pattern
from handkit.findings import Severity
from handkit.punch.punched import Punched
from handkit.read.project import Side
from handkit.stitch.planner import plan

law = settings(derandomize=True, deadline=None, max_examples=12)

Size = tuple[float, float, float]
PAD: Size = (148, 12, 210)  # a pad of A5 sheets (ISO 216: 148 × 210)


def bag(more: str = "", things: tuple[Size, ...] = (PAD,)) -> str:
    items = "".join(
        f'[[item]]\nname = "thing {k}"\nin = "bag"\nsize = [{wide}, {thick}, {long}]\n'
        for k, (wide, thick, long) in enumerate(things)
    )
    return f'[[part]]\nname = "bag"\nkind = "bag"\n{more}\n{items}'


def size(pattern: Pattern, name: str) -> tuple[float, float]:
    left, low, right, high = pattern.piece(f"bag {name}").outline.bounds()
    return right - left, high - low


# Leather 1.6, inset 4, pitch 4; an ease of 2 where none is stated. The wall stands 4 + 1.6 = 5.6 inside the
# front's edge. The foot's corners, 5 × 4 = 20, are 20 − 5.6 = 14.4 inside: the pad, 1 beside either wall,
# stands 14.4 − √(14.4² − 13.4²) = 9.1274 higher than the foot's wall.
WIDE = 148 + 2 + 2 * 5.6
RISE = 14.4 - (14.4**2 - 13.4**2) ** 0.5
HIGH = 5.6 + RISE + 210 + 2
# Across the strip from stitch to stitch: 12 + 2 deep, less 2 × 1.6, and two bends of π/2 · 0.8.
ACROSS = 14 - 3.2 + 1.6 * pi / 2
LEANS = 3 * 2**0.5

SIZES = [
    # One strip: as long as the stitch line, a U with corners of 20 − 4 = 16.
    ("", "front", (WIDE, HIGH)),
    ("", "back", (WIDE, HIGH)),
    ("", "gusset", (2 * (HIGH - 20) + WIDE - 40 + 16 * pi, ACROSS + 8)),
    # A zip draws the mouth, 14 deep, together to 8: 3 from either side, 3 down, all of it 3 · √2 along front
    # and back.
    ('closed_by = "zip"', "front", (WIDE, HIGH + LEANS)),
    ('closed_by = "zip"', "gusset", (2 * (HIGH + LEANS - 20) + WIDE - 40 + 16 * pi, ACROSS + 8)),
    # Sharp corners: the pad stands on the wall.
    ('strips = "three"', "front", (WIDE, 5.6 + 212)),
    ('strips = "three"', "left", (ACROSS + 8, 5.6 + 212)),
    ('strips = "three"', "base", (WIDE, ACROSS + 8)),
    # A hem takes its width of the height; the outline is the finished edge.
    ('strips = "three"\nhem = 15', "front", (WIDE, 5.6 + 212 + 15)),
    ("width = 200\nheight = 250\nround = 30", "gusset", (2 * (250 - 30) + 200 - 60 + 26 * pi, ACROSS + 8)),
    ("depth = 40", "gusset", (2 * (HIGH - 20) + WIDE - 40 + 16 * pi, ACROSS + 26 + 8)),
    # Handles: ends a quarter of the width from the sides, WIDE / 2 apart; sewn along 1.5 × 20 = 30, begun
    # 4 + 2 × 4 = 12 under the mouth; half a circle over two legs.
    ("drop = 60\nstrap = 20", "front handle", (2 * (42 + 60 - WIDE / 4) + pi * WIDE / 4, 20)),
    # A segment of a circle where the drop is less: chord WIDE / 2, height 20.
    (
        "drop = 20\nstrap = 20",
        "back handle",
        (
            84
            + 2
            * ((WIDE / 4) ** 2 + 400)
            / 40
            * (pi - 2 * asin(((WIDE / 4) ** 2 - 400) / ((WIDE / 4) ** 2 + 400)))
            / 2,
            20,
        ),
    ),
]


@pytest.mark.parametrize(("more", "piece", "expected"), SIZES)
def test_sizes_by_hand(
    pattern_of: Callable[..., Pattern], more: str, piece: str, expected: tuple[float, float]
) -> None:
    assert size(pattern_of(bag(more), thickness=1.6), piece) == pytest.approx(expected, abs=1e-6)


@pytest.mark.parametrize("closing", ["none", "zip", "flap"])
@pytest.mark.parametrize("strips", ["one", "three"])
def test_walls_meet_hole_for_hole_without_ease(
    punched_of: Callable[..., Punched], closing: str, strips: str
) -> None:
    """Each seam's two lines are equally long, and the corners of three strips are shared."""
    more = f'closed_by = "{closing}"\nstrips = "{strips}"' + (
        "\ndrop = 90\nstrap = 20" if closing != "flap" else ""
    )
    punched = punched_of(bag(more), thickness=1.6)
    told = (*punched.pattern.findings, *punched.findings)
    assert [each for each in told if each.severity is not Severity.NOTE] == []
    for seam in punched.seams:
        assert len({len(layer.holes) for layer in seam.layers}) == 1
        assert max(layer.length for layer in seam.layers) == pytest.approx(
            min(layer.length for layer in seam.layers), abs=1e-6
        )
    walls = [seam for seam in punched.seams if seam.name.startswith("bag, ")]
    assert len(walls) == (2 if strips == "one" else 8)
    corners = {
        tuple(sorted(user[0] for user in hole.users)) for hole in punched.shared if hole.piece == "bag base"
    }
    ends = {
        (f"bag, {panel} foot", f"bag, {side}") for panel in ("back", "front") for side in ("left", "right")
    }
    assert corners == (ends if strips == "three" else set())


@pytest.mark.parametrize(("strips", "strip"), [("one", "gusset"), ("three", "left")])
def test_a_zip_ends_where_the_gusset_begins(
    punched_of: Callable[..., Punched], strips: str, strip: str
) -> None:
    """By hand, of 161.2 the walls and 3 on either side leave 144: teeth of 140, in steps of 5. The end holes
    of its rows are the first and the last of the gusset's, which is folded inwards along its middle there."""
    punched = punched_of(bag(f'closed_by = "zip"\nstrips = "{strips}"'), thickness=1.6)
    (zipped,) = punched.project.fittings
    assert zipped.length == pytest.approx(140)
    assert zipped.longer is None
    shared = {tuple(sorted(user[0] for user in hole.users)) for hole in punched.shared}
    walls = ("bag, front", "bag, back") if strips == "one" else ("bag, front left", "bag, back right")
    for wall in walls:
        panel = "front" if "front" in wall else "back"
        assert tuple(sorted((wall, f"bag zip, {panel}"))) in shared
    piece = punched.pattern.piece(f"bag {strip}")
    assert "110° at the mouth" in piece.note  # 180 − 2 · asin(8 ÷ 14)
    told = [step.what for step in plan(punched).steps if step.what.startswith(f"Fold bag {strip} on ")]
    assert [each.endswith(f" Note: {piece.note}.") for each in told] == [True]
    for fold in piece.folds:
        (x, y), end = fold.path.start, fold.path.end
        middle = y if strips == "one" else x
        assert middle == pytest.approx((ACROSS + 8) / 2)
        assert abs(x - end[0]) + abs(y - end[1]) == pytest.approx(8)  # no less than its gap


def test_a_closed_flap_lies_on_the_front(pattern_of: Callable[..., Pattern]) -> None:
    """In space: its middle half a thickness in front of the front, its edge as far down as it is stated."""
    pattern = pattern_of(bag('closed_by = "flap"\nflap = 80'), thickness=1.6)
    back = pattern.piece("bag back")
    _, high = size(pattern, "back")
    x, y, z = back.in_space((50.0, high))
    front = size(pattern, "front")[1]
    assert x == pytest.approx(50)
    assert y == pytest.approx(front - 80, abs=0.05)
    # From the middle of the back, 0.8, the bag's 14, the front's 1.6, and 0.8 to the middle of the flap.
    assert abs(z) == pytest.approx(0.8 + 14 + 1.6 + 0.8, abs=0.05)


def test_the_sides_that_meet_are_inside(pattern_of: Callable[..., Pattern]) -> None:
    """The gusset's edges turn outwards, so that flesh lies on flesh all round."""
    pattern = pattern_of(bag('strips = "three"'), thickness=1.6)
    for one, other in (("left", "front"), ("left", "back"), ("base", "front"), ("left", "base")):
        met = pattern.faces_met(f"bag {one}", f"bag {other}")
        assert met == (Side.FLESH, Side.FLESH)


@law
@given(
    things=st.lists(
        st.tuples(
            st.sampled_from([8.0, 40.0, 148.0]),
            st.sampled_from([2.0, 12.0, 60.0]),
            st.sampled_from([60.0, 210.0]),
        ),
        min_size=1,
        max_size=3,
    ),
    strips=st.sampled_from(["one", "three"]),
    closing=st.sampled_from(["none", "zip", "flap"]),
)
def test_it_holds_its_things_with_their_ease(
    pattern_of: Callable[..., Pattern], things: list[Size], strips: str, closing: str
) -> None:
    """Measured on the pieces: from wall to wall side by side, above the foot's wall, from front to back."""
    more = f'ease = 3\nstrips = "{strips}"\nclosed_by = "{closing}"'
    pattern = pattern_of(bag(more, tuple(things)), thickness=1.6)
    wide, high = size(pattern, "front")
    strip = size(pattern, "base" if strips == "three" else "gusset")[1]
    assert wide - 2 * (4 + 1.6) >= sum(thing[0] + 3 for thing in things) - 1e-6
    assert strip - 8 - 1.6 * pi / 2 + 3.2 >= max(thing[1] for thing in things) + 3 - 1e-6
    tops = [each.path.bounds()[3] for each in pattern.piece("bag back").items]
    assert len(tops) == len(things)
    leans = 2**0.5 * (max(thing[1] for thing in things) + 3 - 8) / 2  # what a closed zip draws to 8
    assert max(tops) + 3 <= high - (max(4, leans) if closing == "zip" else 0) + 1e-6
    feet = [each.path.bounds()[1] for each in pattern.piece("bag back").items]
    assert min(feet) >= 4 + 1.6 - 1e-6
    assert all(fit.fit.value == "fits" for fit in pattern.item_fits)


@law
@given(k=st.integers(0, 2), more=st.sampled_from([0.5, 3.0, 40.0]))
def test_a_larger_thing_never_has_a_smaller_bag(
    pattern_of: Callable[..., Pattern], k: int, more: float
) -> None:
    larger = tuple(value + (more if i == k else 0) for i, value in enumerate(PAD))
    before, after = (pattern_of(bag("", (thing,)), thickness=1.6) for thing in (PAD, larger))
    for name in ("front", "back", "gusset"):
        assert all(b >= a - 1e-9 for a, b in zip(size(before, name), size(after, name), strict=True))
    grown = {name for name in ("front", "gusset") if size(before, name) != size(after, name)}
    assert grown == ({"gusset"} if k == 1 else {"front", "gusset"})


def test_a_bag_moves_nothing_beside_it(pattern_of: Callable[..., Pattern]) -> None:
    """Two bags in one file: what one holds decides nothing of the other."""
    other = bag().replace('name = "bag"', 'name = "other"').replace('in = "bag"', 'in = "other"')
    other = other.replace("thing 0", "pad")
    before, after = (
        pattern_of(bag("", (thing,)) + other, thickness=1.6) for thing in (PAD, (160.0, 30.0, 220.0))
    )
    for name in ("other back", "other front", "other gusset", "back"):
        assert before.piece(name).outline == after.piece(name).outline


def test_a_bag_goes_by_no_rows_but_its_own(pattern_of: Callable[..., Pattern]) -> None:
    """A seam that the file itself has before the bag's, further in than a handle's rows are."""
    cards = "".join(f'[[piece]]\nname = "{name}"\nrectangle = [60, 90]\n' for name in ("card", "face"))
    seam = '[[seam]]\nname = "cards"\nruns = ["card: A-B", "face: A-B"]\ninset = 12\n'
    for more in ("drop = 100", "hem = 20"):
        alone, beside = (pattern_of(text + bag(more), thickness=1.6) for text in ("", cards + seam))
        for name in ("bag front", "bag back"):
            assert alone.piece(name).outline == beside.piece(name).outline
            assert alone.piece(name).lines == beside.piece(name).lines
