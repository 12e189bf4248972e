"""Loops: as long as the belt asks for, held clear of it, over the edge where they are slung."""

from __future__ import annotations

from collections.abc import Callable
from math import atan, pi

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.draft.pattern import Pattern
from handkit.draft.sizes.belt_ways import belt_section, slung_half, upright_span, upright_way
from handkit.punch.punched import Punched

LOOP = """[[part]]
name = "loop"
kind = "loop"
on = "back"
at = [{at[0]}, {at[1]}]
belt = {belt}
belt_thickness = {thick}
ease = {ease}
strap = {strap}
{more}
"""


def loop(**own: object) -> str:
    return LOOP.format(
        **({"at": (400, 400), "belt": 40, "thick": 4, "ease": 0, "strap": 32, "more": ""} | own)
    )


# Worked out by hand from "the strap's middle lies half a thickness off the belt and, where it is stitched
# down, half a thickness above the base": 60 + 2 x (4 - 1.2) + 2 x 1.2 x pi/2; without leather 60 + 2 x 4;
# with 2 of ease 62 + 2 x (6 - 1.2) + 1.2 x pi.
UPRIGHT = [
    ((60, 4, 0, 2.4), 60 + 5.6 + 1.2 * pi),
    ((60, 4, 0, 0), 68),
    ((60, 4, 2, 2.4), 62 + 9.6 + 1.2 * pi),
    ((38, 3, 3, 1.6), 41 + 10.4 + 0.8 * pi),
]


@pytest.mark.parametrize(("sizes", "expected"), UPRIGHT)
def test_upright_by_hand(sizes: tuple[float, ...], expected: float) -> None:
    *belt, leather = sizes
    assert upright_way(belt_section(*belt), leather) == pytest.approx(expected, abs=1e-9)
    assert upright_span(belt_section(*belt), leather) == pytest.approx(belt[0] + belt[2] + leather)


# By hand: from the row along the edge, over the belt's corner, up its side, to its middle, and 1.2 outside a
# turn of 90° (1.885). Belt 4 on 4: 5 + 40 + 2. Belt 4 on 2: √26 for the way out by 1 over 5, turned by its
# angle 0.1974 more. Belt 4 on 6: √1601 for the way in by 1 over 40.
SLUNG = [
    ((40, 4, 0), {"hung": 4, "rise": 5, "leather": 0}, 47.0),
    ((40, 4, 0), {"hung": 4, "rise": 5, "leather": 2.4}, 47.0 + 1.88496),
    ((40, 4, 0), {"hung": 2, "rise": 5, "leather": 2.4}, 5.09902 + 42 + 1.88496 + 1.2 * 0.197396),
    ((40, 4, 0), {"hung": 6, "rise": 5, "leather": 2.4}, 5 + 40.01250 + 2 + 1.88496),
]


@pytest.mark.parametrize(("belt", "hung", "expected"), SLUNG)
def test_slung_by_hand(belt: tuple[float, ...], hung: dict[str, float], expected: float) -> None:
    assert slung_half(belt_section(*belt), **hung) == pytest.approx(expected, abs=1e-4)


belts = st.tuples(st.floats(10, 120), st.floats(1, 12), st.floats(0, 8), st.floats(0.5, 5))


@settings(derandomize=True, deadline=None, max_examples=60)
@given(sizes=belts, hung=st.floats(0.5, 10), rise=st.floats(2, 60))
def test_both_ways_are_those_of_a_hull_that_is_grown(
    sizes: tuple[float, ...], hung: float, rise: float
) -> None:
    """A taut strap is the hull of what it goes over, grown by half its thickness; measured by shapely."""
    wide, thick, ease, leather = sizes
    section, half = belt_section(wide, thick, ease), leather / 2
    w, t = wide + ease, thick + ease
    ends = [((w + leather) / 2, half), (-(w + leather) / 2, half)]
    over = shapely.box(-w / 2, 0, w / 2, t).buffer(half, quad_segs=400)
    upper = over.intersection(shapely.box(-w, half, w, 2 * t + leather))
    hull = upper.union(shapely.MultiPoint(ends)).convex_hull
    assert upright_way(section, leather) == pytest.approx(hull.length - w - leather, abs=0.01)
    side = [(0, hung / 2), (rise, hung / 2), (rise, t / 2), (rise + w, t / 2)]
    ring = shapely.MultiPoint([*side, *((x, -y) for x, y in side)]).convex_hull
    slack = slung_half(section, hung=hung, rise=rise, leather=0)
    assert slack == pytest.approx((ring.length - hung) / 2, abs=1e-6)
    assert 0 <= slung_half(section, hung=hung, rise=rise, leather=leather) - slack <= half * pi


@pytest.mark.parametrize(("more", "long"), [("", 2 * 20), ('fixing = "rivets"', 2 * 22)])
def test_an_upright_loop_is_two_ends_and_its_way(
    pattern_of: Callable[..., Pattern], more: str, long: float
) -> None:
    """An end is an inset of 4 and four stitches of 4; or 6.5 to the edge, 11 apart, and half a cap of 9."""
    pattern = pattern_of(loop(more=more))
    left, low, right, top = pattern.piece("loop").outline.bounds()
    assert (left, low, right) == (0.0, 0.0, 32.0)
    assert top == pytest.approx(long + 40 + 5.6 + 1.2 * pi)
    (room,) = pattern.rooms
    assert room.place.bounds() == pytest.approx((0, 0, 32, long + 42.4))
    assert max(profile.height(16) for profile in room.profiles) == pytest.approx(4)


def test_holes_of_both_ends_keep_clear_of_the_belt(punched_of: Callable[..., Punched]) -> None:
    punched = punched_of(loop())
    base = [hole.at[1] - 400 for seam in punched.seams for hole in seam.layers[1].holes]
    low, high = max(y for y in base if y < 40), min(y for y in base if y > 40)
    assert (low, high) == pytest.approx((20, 62.4))  # 40 and the strap's 2.4 between them
    assert {len(seam.layers[0].holes) for seam in punched.seams} == {4 + 6 + 4 + 1}


def test_a_slung_loop_goes_over_the_edge(pattern_of: Callable[..., Pattern]) -> None:
    """Its end 20 on the base, the edge 12 above that: 12 + 40 + 2 and the turn."""
    text = loop(at=(400, 868), more='hang = "slung"')
    piece = pattern_of(text).piece("loop")
    (fold,) = piece.folds
    assert fold.path.start[1] == pytest.approx(20 + 12 + 0.0 + _slung(12))
    assert piece.outline.bounds()[3] == pytest.approx(2 * fold.path.start[1])
    row = piece.lines[0].path
    for at in (row.start, row.end, row.point_at(row.length / 2)):
        mirrored = (at[0], 2 * fold.path.start[1] - at[1])
        assert piece.in_space(mirrored)[:2] == pytest.approx(at, abs=1e-9)  # both ends' rows meet


def _slung(rise: float) -> float:
    """Beyond the edge: out by (4 - 2.4) / 2 over `rise`, up 40, over by 2, and 1.2 outside the turns."""
    out = 0.8
    slanted = (rise**2 + out**2) ** 0.5
    turn = pi / 2 + atan(out / rise)
    return slanted - rise + 42 + 1.2 * turn


@settings(derandomize=True, deadline=None, max_examples=25)
@given(
    st.sampled_from([20, 40, 100]),
    st.sampled_from([2, 4, 10]),
    st.sampled_from(['hang = "slung"', "", 'fixing = "rivets"']),
)
def test_a_wider_or_thicker_belt_makes_a_longer_loop(
    pattern_of: Callable[..., Pattern], belt: float, thick: float, more: str
) -> None:
    at = (400, 700)

    def long(**own: float) -> float:
        sizes = {"belt": belt, "thick": thick} | own
        return pattern_of(loop(at=at, more=more, **sizes)).piece("loop").outline.bounds()[3]

    per_side = 2 if "slung" in more else 1
    assert long(belt=belt + 1) - long() == pytest.approx(per_side, abs=0.02)  # slung: both sides of it
    assert long(thick=thick + 1) > long()
    assert long(ease=1) > long()


def test_the_rivets_of_a_slung_loop_meet_in_both_its_ends(punched_of: Callable[..., Punched]) -> None:
    """By hand: 6.5 from the end and 11 apart (two and three diameters, a cap of 9); the edge is 32 from the
    strip's end, so it rises by 14.5 from the upper rivet. Folded in space both ends have each hole at one
    place of the base, and a rivet goes through strap, base and strap."""
    pattern = punched_of(loop(at=(400, 868), more='hang = "slung"\nfixing = "rivets"')).pattern
    piece, back = pattern.piece("loop"), pattern.piece("back")
    (rivets,) = pattern.openings
    assert rivets.count == 2
    assert rivets.opening.through == ("loop", "back", "loop")
    assert piece.folds[0].path.start[1] == pytest.approx(32 + _slung(14.5))
    for number, high in ((1, 6.5), (2, 17.5)):
        near, far = (place.at for place in rivets.places if (place.piece, place.number) == ("loop", number))
        assert near == pytest.approx((16, high))
        assert piece.in_space(far)[:2] == pytest.approx(near)
        (on_base,) = (p.at for p in rivets.places if (p.piece, p.number) == (back.name, number))
        assert piece.in_root.apply(near) == pytest.approx(on_base)
