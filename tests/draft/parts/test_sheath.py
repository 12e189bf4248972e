"""Sheaths: room for blade, welt and fold; a welt along the whole edge; nothing on the blade's way."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from math import atan2, hypot, pi, tan

import pytest
import shapely
import shapely.affinity
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit import ProjectText, kit
from handkit.draft.pattern import Pattern
from handkit.draft.sizes.blade import spine_half, strap_round
from handkit.punch.punched import Punched

SHEATH = """[stitching]
hole = {{ round = 1.6 }}
[[part]]
name = "sheath"
kind = "sheath"
{part}
[[item]]
name = "knife"
in = "sheath"
{item}
"""
KNIFE = "size = [22, 3, 110]\ntip = 30\nhandle = [26, 18, 100]"
HOOK = "outline = [[0, 60], [6, 0], [30, 40], [22, 80], [24, 120], [2, 120]]\nthickness = 2.5"
BLADES = [KNIFE, HOOK, "size = [18, 4, 90]"]


def sheath(part: str = "", item: str = KNIFE) -> str:
    return SHEATH.format(part=part, item=item)


# By hand: leather 2.4, a welt as thick as the blade, 2 of ease, a welt of 2.5 x 4.
HALF = pi / 4 * (3 + 2.4)
TURN = atan2(30, 22)


def test_the_leaves_of_a_knife_by_hand(pattern_of: Callable[..., Pattern]) -> None:
    piece = pattern_of(sheath()).piece("sheath")
    corners = {letter.name: letter.at for letter in piece.letters}
    assert spine_half(3, 2.4) == pytest.approx(HALF)
    assert corners["A"] == (0.0, 0.0)
    assert corners["B"] == pytest.approx((HALF + 12 * tan(TURN / 2), 0))
    assert corners["C"] == pytest.approx((HALF + 22 + 12, 12 + 30 - 12 * tan((pi / 2 - TURN) / 2)))
    assert corners["D"] == pytest.approx((HALF + 22 + 12, 122))
    assert corners["E"] == pytest.approx((-corners["D"][0], 122))
    (fold,) = piece.folds
    assert (fold.angle_degrees, fold.radius) == (180.0, 1.5)


# Worked out by hand: a handle as broad as what lies under it, 2 x (26 + 18 + 3), and pi x 1.6, one thickness
# of the strap where it laps, 2 of ease; one broader by 4 on either side: 2 x 5 for what goes down 3 and in 4.
ROUND = [
    ((26, 18), (26, 3), 1.6, 2, 94 + pi * 1.6 + 1.6 + 2),
    ((28, 18), (20, 3), 0, 0, 28 + 36 + 10 + 20),
]


@pytest.mark.parametrize(("handle", "under", "strap", "ease", "expected"), ROUND)
def test_a_strap_round_a_handle_by_hand(
    handle: tuple[float, float], under: tuple[float, float], strap: float, ease: float, expected: float
) -> None:
    assert strap_round(handle, under, strap, ease) == pytest.approx(expected)


def ring(pattern: Pattern, name: str) -> shapely.Polygon:
    """A piece in the sheath's frame."""
    piece = pattern.piece(name)
    return shapely.Polygon(piece.outline.moved(piece.in_root).flattened(sagitta=0.001))


def blade(pattern: Pattern) -> shapely.Polygon:
    """As it lies on the leaf that is folded over."""
    item, _ = pattern.piece("sheath").items
    return shapely.Polygon([(-x, y) for x, y in item.path.flattened(sagitta=0.001)])


@pytest.mark.parametrize("part", ["", "ease = 1\nwelt = 14", "drain = 5", "grip = 30"])
@pytest.mark.parametrize("item", BLADES)
def test_it_holds_its_blade_with_its_ease_and_a_welt_all_along(
    punched_of: Callable[..., Punched], part: str, item: str
) -> None:
    """Blade to welt at least the ease, thread inside the welt, the welt all along the edge past the bend."""
    if "grip" in part and "handle" not in item:
        item += "\nhandle = [30, 20, 90]"
    punched = punched_of(sheath(part, item))
    pattern = punched.pattern
    ease = 1.0 if "ease" in part else 2.0
    welt, knife = ring(pattern, "sheath welt"), blade(pattern)
    assert knife.distance(welt) >= ease - 1e-6
    assert knife.bounds[0] == pytest.approx(pattern.piece("sheath").folds[0].bend.half)  # type: ignore[union-attr]
    seam = next(seam for seam in punched.seams if seam.name == "sheath")
    over, between, under = seam.layers
    for hole in between.holes:
        at = shapely.Point(pattern.piece("sheath welt").in_root.apply(hole.at))
        assert welt.exterior.distance(at) >= 2 * 1.6 and knife.distance(at) >= 6
    leaf = ring(pattern, "sheath")
    mouth, half = knife.bounds[3], pattern.piece("sheath").folds[0].bend.half  # type: ignore[union-attr]
    if "grip" in part:
        mouth += 30
    beyond = leaf.exterior.intersection(shapely.box(half, -1, 500, mouth - 0.01))
    assert beyond.difference(welt.buffer(0.001)).is_empty
    assert welt.difference(leaf.buffer(0.001)).is_empty
    for hole, mate in zip(over.holes, under.holes, strict=True):  # both leaves meet, the welt between them
        piece = pattern.piece("sheath")
        one, other = piece.in_space(hole.at), piece.in_space(mate.at)
        assert one[:2] == pytest.approx(other[:2], abs=1e-6)
        thick = pattern.piece("sheath welt").thickness
        assert abs(one[2] - other[2]) == pytest.approx(thick + 2.4, abs=1e-6)


@settings(derandomize=True, deadline=None, max_examples=25)
@given(wide=st.floats(8, 80), thick=st.floats(0.5, 6), long=st.floats(30, 250), share=st.floats(0.05, 1))
def test_more_blade_makes_more_sheath(
    pattern_of: Callable[..., Pattern], wide: float, thick: float, long: float, share: float
) -> None:
    def size(w: float, t: float, n: float) -> tuple[float, float]:
        item = f"size = [{w}, {t}, {n}]\ntip = {long * share}"
        left, low, right, top = pattern_of(sheath(item=item)).piece("sheath").outline.bounds()
        assert -left == pytest.approx(right)
        return right, top - low

    across, along = size(wide, thick, long)
    assert across == pytest.approx(spine_half(thick, 2.4) + wide + 12)
    assert along == pytest.approx(long + 12)
    assert size(wide + 3, thick, long) == pytest.approx((across + 3, along))
    assert size(wide, thick + 1, long) == pytest.approx((across + pi / 4, along))
    assert size(wide, thick, long + 5) == pytest.approx((across, along + 5))


def test_a_handle_strap_closes_round_the_handle(punched_of: Callable[..., Punched]) -> None:
    """From half to half it is as long as its way round handle, leaf and guard; shapely measures that."""
    pattern = punched_of(sheath("handle_strap = 18")).pattern
    cap, stud = (opening.places[0].at for opening in pattern.openings)
    width = max(x for x, _ in (at for line in pattern.piece("sheath").lines for at in (line.path.start,)))
    line = pattern.piece("sheath").lines[0].path
    under = line.length + 8  # the row and its insets
    around = shapely.box(-13, 3.4, 13, 21.4).union(shapely.box(-under / 2, 0, under / 2, 3.4)).convex_hull
    assert hypot(stud[0] - cap[0], stud[1] - cap[1]) == pytest.approx(
        around.buffer(1.2, quad_segs=300).length + 2.4 + 2, abs=0.01
    )
    assert width < 0  # on the back leaf


def test_no_metal_and_no_other_thread_where_the_blade_slides(punched_of: Callable[..., Punched]) -> None:
    punched = punched_of(sheath("handle_strap = 18\nbelt = 40\ndrain = 4"))
    pattern, knife = punched.pattern, blade(punched.pattern)
    way = knife.union(shapely.affinity.scale(knife, xfact=-1, origin=(0, 0)))  # on both leaves
    for seam in punched.seams:
        for layer in seam.layers:
            if layer.piece == "sheath":
                assert all(way.distance(shapely.Point(hole.at)) > 5 for hole in layer.holes)
    drain = next(opening for opening in pattern.openings if opening.name == "sheath drain")
    assert way.distance(shapely.Point(drain.places[0].at)) >= 2 + 4 / 2 - 1e-6
    assert drain.opening.traits.hardware is False


def test_on_a_base_it_hangs_by_its_back_leaf(punched_of: Callable[..., Punched]) -> None:
    """In front and behind: grain to the base, the blade's edge to the right as its part is seen."""
    for behind, x in (("", 1), ("\nbehind = true", -1)):
        punched = punched_of(sheath('on = "back"\nat = [400, 300]' + behind))
        piece = punched.pattern.piece("sheath")
        assert piece.in_base.apply((-10, 5)) == pytest.approx((400 + 10 * x, 305))
        hang = next(seam for seam in punched.seams if seam.name == "sheath hang")
        own, base = hang.layers
        for hole, mate in zip(own.holes, base.holes, strict=True):
            assert piece.in_base.apply(hole.at) == pytest.approx(mate.at, abs=1e-6)
        assert min(y for _, y in (hole.at for hole in own.holes)) > 122  # above the mouth
        assert piece.folded.levels[0] * x > 0 and piece.folded.levels[1] * x > piece.folded.levels[0] * x
        assert punched.pattern.faces_met("sheath", "back") == ("grain", "flesh" if behind else "grain")


def test_a_loop_folds_away_from_the_blade(punched_of: Callable[..., Punched]) -> None:
    pattern = punched_of(sheath("belt = 40\nbelt_thickness = 4")).pattern
    piece = pattern.piece("sheath")
    spine, loop = (piece.fold(name) for name in ("sheath back", "sheath loop"))
    assert (spine.out, loop.out) == ("grain", "flesh")
    row = next(line.path for line in piece.lines if line.name == "sheath loop")
    inside = loop.path.start[1] - max(y for _, y in row.flattened(sagitta=0.01))
    assert inside >= 42 + 3  # the belt and its ease up to the fold, and half its thickness over
    welted = [b for a, b in pairwise(row.flattened(sagitta=0.01)) if a != b]
    assert all(y > 122 for _, y in welted)


# What a sheath goes on for above its mouth: all that it may.
HELD = ["", "belt = 38", "belt = 38\nbelt_thickness = 6", 'on = "back"\nat = [400, 300]']
HELD.append(HELD[-1] + "\nbehind = true")
STRAPS = ["", "handle_strap = 18", "handle_strap = 25\ngrip = 30"]


@settings(derandomize=True, deadline=None, max_examples=12)
@given(data=st.data(), thickness=st.sampled_from([1.2, 2.4, 3.5]))
def test_no_thread_lies_bare_where_the_blade_passes(
    punched_of: Callable[..., Punched], data: st.DataObject, thickness: float
) -> None:
    """However it is held: each hole of the leaf that the blade is drawn along is 5 mm off its way, or under
    the guard by half of an inset, or its seam goes through the welt; no metal at all. Shapely measures."""
    size = [data.draw(st.sampled_from(each)) for each in ([16, 28, 60], [1, 3, 5], [50, 110, 200])]
    knife = f"size = {size}\ntip = {data.draw(st.sampled_from([6, 30, size[2]]))}\nhandle = [26, 18, 100]"
    own = f"{data.draw(st.sampled_from(HELD))}\n{data.draw(st.sampled_from(STRAPS))}"
    punched = punched_of(
        sheath(own, data.draw(st.sampled_from([knife, f"{HOOK}\nhandle = [26, 18, 90]"]))),
        thickness=thickness,
    )
    pattern, leaf = punched.pattern, punched.pattern.piece("sheath")
    item, _ = leaf.items
    lying = shapely.Polygon(item.path.flattened(sagitta=0.01))
    mouth = max(y for x, y in leaf.folds[0].path.flattened(sagitta=1) if x == 0)
    drawn = shapely.affinity.translate(lying, yoff=mouth - lying.bounds[1])
    way = lying.union(drawn).convex_hull
    guards = [piece for piece in pattern.pieces if piece.name == "sheath guard"]
    guard = shapely.unary_union(
        [
            shapely.Polygon(
                (leaf.in_root.inverse() @ each.in_root).apply_all(each.outline.flattened(sagitta=0.01))
            )
            for each in guards
        ]
    )
    assert bool(guards) == ("belt" in own or "on" in own or "handle_strap" in own)
    top = next((fold.path.start[1] for fold in leaf.folds if fold.name == "sheath loop"), 1e9)
    for seam in punched.seams:
        welted = any(layer.piece == "sheath welt" for layer in seam.layers)
        for layer in seam.layers:
            for hole in layer.holes if layer.piece == "sheath" and not welted else ():
                at = shapely.Point(hole.at)
                if hole.at[0] < 0 and hole.at[1] < top:
                    assert way.distance(at) >= 5 or guard.buffer(-2).contains(at), (own, hole.at)
    hardware = [each for each in pattern.openings if each.opening.traits.hardware]
    assert all(place.piece != "sheath" for each in hardware for place in each.places)


@pytest.mark.parametrize(("more", "covered"), [("", False), ("belt = 38", True), ("handle_strap = 18", True)])
def test_a_sheath_says_what_lies_over_thread_on_the_blades_way(more: str, covered: bool) -> None:
    """What goes on above the mouth is sewn there, and the blade slides along it as it goes in."""
    head = "format = 1\n[material]\nthickness = 2.8\n[stitching]\ninset = 5\n"
    part = f'[[part]]\nname = "sheath"\nkind = "sheath"\n{more}\n'
    knife = '[[item]]\nname = "knife"\nin = "sheath"\nsize = [28, 3, 96]\nhandle = [26, 18, 110]\n'
    pattern = kit.punched_of(ProjectText(head + part + knife)).pattern
    note = pattern.piece("sheath").note
    assert note.startswith("no metal and no thread below the mouth")
    assert ("above it, inside, sheath guard lies over the rows" in note) == covered
    assert ("sheath guard" in [piece.name for piece in pattern.pieces if piece.glued]) == covered
