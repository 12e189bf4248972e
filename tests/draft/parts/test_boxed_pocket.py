"""Boxed pockets: front, gusset and base line that meet, centre marks, and what can't be drafted."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from math import hypot, pi

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.draft.pattern import Fit, MarkKind, Pattern
from handkit.punch.punched import Punched, PunchedLayer
from handkit.read.project import Side

law = settings(derandomize=True, deadline=None, max_examples=15)


def pocket(more: str = "", sizes: tuple[str, ...] = ("size = [90, 30, 120]",)) -> str:
    part = f'[[part]]\nname = "box"\nkind = "boxed pocket"\non = "back"\nat = [20, 30]\n{more}\n'
    return part + "".join(
        f'[[item]]\nname = "thing {k}"\nin = "box"\n{size}\n' for k, size in enumerate(sizes)
    )


def layers_of(punched: Punched) -> dict[str, PunchedLayer]:
    """The four runs: front, base, and the gusset's two edges."""
    (front, near), (base, far) = (seam.layers for seam in punched.seams)
    assert (front.piece, near.piece, base.piece, far.piece) == (
        "box front",
        "box gusset",
        "back",
        "box gusset",
    )
    return {"front": front, "near": near, "base": base, "far": far}


def size_of(pattern: Pattern, piece: str) -> tuple[float, float]:
    left, low, right, high = pattern.piece(piece).outline.bounds()
    return right - left, high - low


def test_a_plain_gusset_is_as_long_as_the_fronts_stitch_line(punched_of: Callable[..., Punched]) -> None:
    """200 × 150, R 30, inset 4: 461.681, by hand; the holes begin and end the inset from its ends."""
    punched = punched_of(pocket("width = 200\nheight = 150\nround = 30"))
    assert size_of(punched.pattern, "box front") == pytest.approx((200, 150))
    assert size_of(punched.pattern, "box gusset")[0] == pytest.approx(461.681, abs=6e-4)
    for layer in layers_of(punched).values():
        assert layer.length == pytest.approx(461.681 - 8, abs=0.01)


def test_a_turned_gusset_is_longer_by_its_corners(pattern_of: Callable[..., Pattern]) -> None:
    """Its wall stands at the front's edge, 4 − 1.2 outside the stitch line: π·2.8 longer, by hand."""
    pattern = pattern_of(pocket('width = 200\nheight = 150\nround = 30\ngusset = "turned"'))
    assert size_of(pattern, "box gusset")[0] == pytest.approx(461.681 + pi * 2.8, abs=6e-4)
    gusset = pattern.piece("box gusset")
    assert [fold.name for fold in gusset.folds] == ["box front flange", "box base flange"]
    assert "notch both flanges at both corners between the stitches: 10 of 1.07 mm" in gusset.note


def test_what_goes_in_decides_the_size(pattern_of: Callable[..., Pattern]) -> None:
    """90 + 2 of ease, and 4 + 2.4 of seam and wall at either side; 30 + 2 deep, less 0.43 · 2.4 for
    two sharp turns, and the seams' insets. Worked out by hand."""
    pattern = pattern_of(pocket())
    assert size_of(pattern, "box front")[0] == pytest.approx(90 + 2 + 2 * 6.4)
    assert size_of(pattern, "box gusset")[1] == pytest.approx(32 - 2 * 2.4 + pi / 2 * 2.4 + 8)


@pytest.mark.parametrize("gusset", ["plain", "turned"])
def test_counts_match_and_the_foot_has_its_middle_on_all_three(
    punched_of: Callable[..., Punched], gusset: str
) -> None:
    punched = punched_of(pocket(f'gusset = "{gusset}"'))
    layers = layers_of(punched)
    assert len({len(layer.holes) for layer in layers.values()}) == 1
    middle = size_of(punched.pattern, "box front")[0] / 2
    half = size_of(punched.pattern, "box gusset")[0] / 2
    for name, x in (("front", middle), ("base", middle + 20), ("near", half), ("far", half)):
        holes = layers[name].holes
        centre = holes[len(holes) // 2]
        assert len(holes) % 2 == 1
        assert centre.at[0] == pytest.approx(x, abs=1e-3)
        assert centre.corner  # fixed: it stays the middle at any pitch


# Leather of 2 mm, seams 4 mm in, holes of 1.6 mm 4 mm apart, corners of 30: the front is 6 mm wider
# than the item, the foot's straight 60 less than that, the corner on the stitch line 26 · π/2 = 40.841
# long. Steps under 3.2 mm are refused. By hand.
SHORT_FEET = [
    (54, []),  # none: the corners end in the middle, ten steps of 4.08 to either side
    (57, []),  # 3 mm between the corners: none
    (57.5, [3.5]),
    (60, [6]),  # not 2 of 3 mm
    (61, [3.5, 3.5]),
    (65.5, [5.75, 5.75]),  # halves of 5.75, one step each, as ever
    (66, [4, 4, 4]),  # not 3 · 4 in halves of 6: 2 steps of 3 mm each
    (66.5, [12.5 / 3] * 3),
    (67, [3.25] * 4),
]


@pytest.mark.parametrize(("width", "steps"), SHORT_FEET)
def test_a_turned_gusset_fixes_what_its_straight_foot_has_room_for(
    punched_of: Callable[..., Punched], width: float, steps: list[float]
) -> None:
    text = pocket('round = 30\ngusset = "turned"', (f"size = [{width}, 30, 120]",))
    layers = layers_of(punched_of(text, thickness=2))
    middle, foot = (width + 6) / 2, width + 6 - 60
    on_foot = [hole for hole in layers["front"].holes if abs(hole.at[0] - middle) <= foot / 2 + 1e-6]
    if steps:
        found = [b.at[0] - a.at[0] for a, b in pairwise(on_foot)]
        assert found == pytest.approx(steps)
        assert on_foot[0].corner and on_foot[-1].corner
    else:
        assert [hole.at[0] for hole in on_foot] == pytest.approx([middle])
        assert on_foot[0].corner
    for layer in layers.values():  # where the corners begin
        fixed = [hole for hole in layer.holes if hole.corner]
        assert len(fixed) == 2 + (5 if len(steps) in (2, 4) else 4 if steps else 3)
    high = [hole.at[1] for hole in layers["front"].holes if hole.corner][1]
    assert high == pytest.approx(30)


def test_front_and_base_have_the_same_line(punched_of: Callable[..., Punched]) -> None:
    """The base's is the front's, moved to the part's place, to the flattening of its corners."""
    layers = layers_of(punched_of(pocket()))
    for one, other in zip(layers["front"].holes, layers["base"].holes, strict=True):
        assert (one.at[0] + 20, one.at[1] + 30) == pytest.approx(other.at, abs=0.004)


def test_a_square_thing_stands_clear_of_the_round_corners(pattern_of: Callable[..., Pattern]) -> None:
    """Its corners keep off the wall's inside, and it shows as much as it should."""
    pattern = pattern_of(pocket("round = 30\nshows = 20"))
    (lies,) = pattern.piece("back").items
    wall = shapely.Polygon(pattern.piece("box front").outline.flattened(sagitta=0.001)).buffer(-6.4)
    thing = shapely.Polygon([(x - 20, y - 30) for x, y in lies.path.flattened(sagitta=0.1)])
    mouth = size_of(pattern, "box front")[1]
    low = thing.intersection(shapely.box(-99, -99, 999, mouth - 20))
    assert wall.buffer(0.01).covers(low)
    assert not wall.covers(shapely.affinity.translate(low, 0, -0.2))
    assert lies.path.bounds()[3] - 30 == pytest.approx(mouth + 20)


@pytest.mark.parametrize(
    ("more", "fits"),
    [
        ("width = 104", [Fit.FITS, Fit.FITS]),  # 91.2 for 90
        ("width = 103", [Fit.TIGHT, Fit.FITS]),  # 90.2
        ("width = 112", [Fit.LOOSE, Fit.FITS]),  # 99.2
        ("depth = 30", [Fit.FITS, Fit.TIGHT]),
        ('depth = 36\ngusset = "turned"', [Fit.FITS, Fit.FITS]),  # two flanges of 2.4 lie in it
        ("depth = 40", [Fit.FITS, Fit.LOOSE]),
    ],
)
def test_fit(pattern_of: Callable[..., Pattern], more: str, fits: list[Fit]) -> None:
    assert [room.fit for room in pattern_of(pocket(more)).item_fits] == fits


tenths = st.integers(400, 1200).map(lambda n: n / 10)


@law
@given(
    w=tenths,
    t=st.integers(50, 400).map(lambda n: n / 10),
    more=st.integers(1, 150).map(lambda n: n / 10),
    gusset=st.sampled_from(["plain", "turned"]),
)
def test_a_larger_item_never_gives_a_smaller_box(
    pattern_of: Callable[..., Pattern], w: float, t: float, more: float, gusset: str
) -> None:
    sizes = [(w, t, 120), (w + more, t, 120), (w, t + more, 120), (w, t, 120 + more)]
    texts = [pocket(f'gusset = "{gusset}"', (f"size = [{a}, {b}, {c}]",)) for a, b, c in sizes]
    patterns = [pattern_of(text) for text in texts]
    assert {room.fit for pattern in patterns for room in pattern.item_fits} == {Fit.FITS}
    (front, gusset_strip), wider, thicker, longer = (
        (size_of(pattern, "box front"), size_of(pattern, "box gusset")) for pattern in patterns
    )
    assert wider[0][0] > front[0]
    assert wider[1][1] == pytest.approx(gusset_strip[1])  # its depth is another's
    assert thicker[0] == pytest.approx(front)  # and so is the front
    assert thicker[1][1] == pytest.approx(gusset_strip[1] + more)
    assert longer[0] == pytest.approx((front[0], front[1] + more))


@law
@given(w=tenths, gusset=st.sampled_from(["plain", "turned"]), pitch=st.sampled_from([3.5, 4, 5.5]))
def test_mates_have_equal_counts_and_even_steps(
    punched_of: Callable[..., Punched], w: float, gusset: str, pitch: float
) -> None:
    """Where nothing is turned, no step differs from its mate by more than a fiftieth."""
    text = pocket(f'gusset = "{gusset}"', (f"size = [{w}, 30, 120]",)) + f"[stitching]\npitch = {pitch}\n"
    layers = layers_of(punched_of(text))
    steps = {
        name: [hypot(b.at[0] - a.at[0], b.at[1] - a.at[1]) for a, b in pairwise(layer.holes)]
        for name, layer in layers.items()
    }
    assert len({len(each) for each in steps.values()}) == 1
    if gusset == "plain":
        for one, other in (("front", "near"), ("base", "far")):
            assert steps[one] == pytest.approx(steps[other], rel=0.02)


def test_the_middles_are_marked_where_they_meet(punched_of: Callable[..., Punched]) -> None:
    """Each mark crosses the middle hole of its run."""
    punched = punched_of(pocket())
    layers = layers_of(punched)
    marks = {
        piece: [mark.path for mark in punched.pattern.piece(piece).marks if mark.kind is MarkKind.MEET]
        for piece in ("box front", "back", "box gusset")
    }
    assert [len(paths) for paths in marks.values()] == [1, 1, 2]
    for name, path in zip(
        ("front", "base", "near", "far"), (path for paths in marks.values() for path in paths), strict=True
    ):
        holes = layers[name].holes
        x, y = holes[len(holes) // 2].at
        assert shapely.LineString([path.start, path.end]).distance(shapely.Point(x, y)) < 1e-3
        assert {path.start[0], path.end[0]} == {path.start[0]}  # straight across


@law
@given(
    radius=st.integers(153, 400).map(lambda n: n / 10),
    pitch=st.sampled_from([3.5, 4, 5]),
    thickness=st.sampled_from([1.6, 2.4]),
    foot=st.sampled_from([None, 0, 1.5, 5, 6.3, 11.9]),
)
def test_notches_fall_between_the_holes_and_take_out_what_is_too_much(
    punched_of: Callable[..., Punched], radius: float, pitch: float, thickness: float, foot: float | None
) -> None:
    """Half-way between two holes, never through the fold; with them the free edge is as long as the way
    it is turned into."""
    width = "" if foot is None else f"\nwidth = {2 * radius + foot}"  # else the item's, about 100 mm
    text = pocket(f'gusset = "turned"\nround = {radius}{width}') + f"[stitching]\npitch = {pitch}\n"
    punched = punched_of(text, thickness=thickness)
    gusset = punched.pattern.piece("box gusset")
    length, width = size_of(punched.pattern, "box gusset")
    fold = gusset.folds[0].path.start[1]
    cuts = [mark.path for mark in gusset.marks if mark.kind is MarkKind.NOTCH]
    near = [hole.at[0] for hole in layers_of(punched)["near"].holes]
    taken = {0.0: 0.0, width: 0.0}
    for path in cuts:
        start, tip, end = path.start, path.segments[0].end, path.end
        before, after = max(x for x in near if x < tip[0]), min(x for x in near if x > tip[0])
        assert tip[0] == pytest.approx((before + after) / 2, abs=0.02)
        assert abs(tip[1] - start[1]) == pytest.approx(fold - 1)
        taken[start[1]] += end[0] - start[0]
    free = pi / 2 * (radius - 8) * 2  # of both corners, at the flange's free edge, 8 inside the front's
    walls = pi / 2 * (radius - thickness / 2) * 2
    assert list(taken.values()) == pytest.approx([walls - free] * 2)
    assert length > 0


def test_a_copied_gusset_is_notched_and_noted_like_the_drafted_one(
    pattern_of: Callable[..., Pattern],
) -> None:
    text = pocket('gusset = "turned"')
    for name, more in (("spare", ""), ("left", "mirrored = true"), ("own", 'note = "try it on felt"')):
        text += f'[[piece]]\nname = "{name}"\ncopy = "box gusset"\n{more}\n'
    pattern = pattern_of(text)
    gusset = pattern.piece("box gusset")
    assert len(gusset.marks) > 2
    assert pattern.piece("spare").marks == gusset.marks
    turned = [(mark.kind, tuple((-x, y) for x, y in mark.path.flattened(sagitta=1))) for mark in gusset.marks]
    left = pattern.piece("left").marks
    assert [(mark.kind, tuple(mark.path.flattened(sagitta=1))) for mark in left] == turned
    notes = [pattern.piece(name).note for name in ("spare", "left", "own")]
    assert notes == [gusset.note, gusset.note, "try it on felt"]


GRAIN, FLESH = Side.GRAIN, Side.FLESH

# By hand, with a strip of scrap: its grain is the outside of the box. Bent out like a hat's brim its edges
# have their flesh on front and base, bent in their grain. What lies behind has its front's flesh to the
# base's flesh. (front, gusset), (gusset, base).
FACES = [
    ("", "", (FLESH, FLESH), (FLESH, GRAIN)),
    ('gusset = "turned"', "", (FLESH, GRAIN), (GRAIN, GRAIN)),
    ("", 'shows = "flesh"', (FLESH, GRAIN), (GRAIN, GRAIN)),
    ('gusset = "turned"', 'shows = "flesh"', (FLESH, FLESH), (FLESH, GRAIN)),
    ("behind = true", "", (FLESH, FLESH), (FLESH, FLESH)),
    ('behind = true\ngusset = "turned"', "", (FLESH, GRAIN), (GRAIN, FLESH)),
]


@pytest.mark.parametrize(("part", "strip", "front", "base"), FACES)
def test_which_sides_meet_is_told_of_both_edges_of_the_strip(
    pattern_of: Callable[..., Pattern],
    part: str,
    strip: str,
    front: tuple[Side, Side],
    base: tuple[Side, Side],
) -> None:
    place = "at = [420, 30]" if "behind" in part else "at = [20, 30]"
    text = pocket(part).replace("at = [20, 30]", place) + f'[[piece]]\nname = "box gusset"\n{strip}\n'
    pattern = pattern_of(text)
    assert pattern.faces_met("box front", "box gusset") == front
    assert pattern.faces_met("box gusset", "box front") == front[::-1]
    assert pattern.faces_met("box gusset", "back") == base
