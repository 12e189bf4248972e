"""Folds with an angle: their bends, and where mates of a folded piece meet."""

from __future__ import annotations

from math import cos, pi, radians, sin
from pathlib import Path
from types import SimpleNamespace

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.draft.drafter import draft
from handkit.draft.pattern import PatternPiece
from handkit.errors import ProjectError
from handkit.geometry.affine import Affine
from handkit.geometry.space import Motion, Panel, apart
from handkit.geometry.straight import distance
from handkit.punch.punched import Punched
from handkit.punch.puncher import punch
from handkit.read.project import FoldLine, Side
from handkit.read.reader import read_project_text

STRAP = """format = 1
[material]
thickness = 3.6
[stitching]
pitch = 5
inset = 4
thread = 1
hole = { slit = 2.6, slant = 45 }
[[piece]]
name = "strap"
rectangle = [400, 38]
grain = 0
[piece.lines]
short = [[8, 5], [63, 5]]
long = [[152, 5], [97, 5]]
[piece.folds]
buckle = { line = [[80, 0], [80, 38]], radius = 2, stays = "C" }
[[seam]]
name = "row"
runs = ["strap: short", "strap: long"]
"""


def folded(make: SimpleNamespace, *folds: FoldLine, thickness: float = 2.0) -> PatternPiece:
    points = [(0, 0), (200, 0), (200, 40), (0, 40)]
    piece = make.piece("strap", points, thickness=thickness)
    piece = msgspec.structs.replace(piece, folds=folds)
    return draft(make.project(piece)).piece("strap")


def test_half_the_zone_is_half_the_bend_allowance(make: SimpleNamespace) -> None:
    """Machinery's Handbook's bend allowance, K 0.5: 180°, radius 2, 2.4 thick: 10.053."""
    fold = FoldLine("end", ((80, 0), (80, 40)), angle_degrees=180.0, radius=2.0, stays="B")
    bend = folded(make, fold, thickness=2.4).fold("end").bend
    assert bend is not None
    assert 2 * bend.half == pytest.approx(10.053, abs=0.001)


@pytest.mark.parametrize(
    ("out", "stays", "z"),
    [
        (None, "B", -2.0),  # the grain shows and is outside: folded away from the eye
        (Side.GRAIN, "C", -2.0),
        (Side.FLESH, "B", 2.0),  # towards the eye
    ],
)
def test_which_way_it_is_folded(make: SimpleNamespace, out: Side | None, stays: str, z: float) -> None:
    """By hand: 2 mm thick on an inside radius of 0 the leaves' middles are 2 mm apart."""
    piece = folded(make, FoldLine("end", ((80, 0), (80, 40)), out=out, angle_degrees=180.0, stays=stays))
    assert piece.in_space((30, 10)) == pytest.approx((130, 10, z))
    assert piece.in_space((130, 10)) == pytest.approx((130, 10, 0))


def test_the_other_side_stays(make: SimpleNamespace) -> None:
    piece = folded(make, FoldLine("end", ((80, 0), (80, 40)), angle_degrees=90.0, stays="A"))
    half = pi / 2 * 1.0 / 2  # a quarter turn on the neutral radius of 1
    assert piece.in_space((30, 10)) == pytest.approx((30, 10, 0))
    assert piece.in_space((90, 10)) == pytest.approx((80 - half + 1, 10, -(1 + 10 - half)))


def test_a_line_alone_has_no_place_in_space(make: SimpleNamespace) -> None:
    piece = folded(make, FoldLine("end", ((80, 0), (80, 40))))
    assert piece.fold("end").bend is None
    assert piece.in_space((30, 10)) == (30, 10, 0)


def test_mates_meet_in_space_and_their_slits_lie_on_one_another() -> None:
    """The leaves' middles lie 2·2 + 3.6 apart; in plan the holes meet within 0.01 mm."""
    punched = punch(draft(read_project_text(STRAP, file="p.toml", folder=Path())))
    piece = punched.pattern.piece("strap")
    short, long = punched.seams[0].layers
    for one, other in zip(short.holes, long.holes, strict=True):
        a, b = piece.in_space(one.at), piece.in_space(other.at)
        assert apart((*a[:2], 0.0), (*b[:2], 0.0)) <= 0.01
        assert abs(a[2] - b[2]) == pytest.approx(7.6)
        assert one.slit_degrees is not None
        assert other.slit_degrees is not None
        assert (one.slit_degrees + other.slit_degrees) % 180 == pytest.approx(0)  # mirrored in the fold


def test_a_hole_in_the_bend_is_told() -> None:
    """By hand: half the zone is pi·(2 + 1.8)/2 = 5.969; the row's first hole is 4 from the line."""
    text = STRAP.replace("[63, 5]", "[76, 5]").replace("[97, 5]", "[84, 5]")
    found = [
        str(each) for each in punch(draft(read_project_text(text, file="p.toml", folder=Path()))).findings
    ]
    assert [each for each in found if "hole-in-bend" in each] == [
        'p.toml:20: warning: seam "row": run "strap: short": found hole 15 of seam "row" 4 mm from fold '
        '"buckle" of "strap", inside its bend; allowed: at least 5.97 mm from the line, where the leather '
        "lies flat again; move the run's end, or the fold [hole-in-bend]",
        'p.toml:20: warning: seam "row": run "strap: long": found hole 15 of seam "row" 4 mm from fold '
        '"buckle" of "strap", inside its bend; allowed: at least 5.97 mm from the line, where the leather '
        "lies flat again; move the run's end, or the fold [hole-in-bend]",
    ]


def test_a_piece_without_angles_is_one_panel(make: SimpleNamespace) -> None:
    piece = folded(make, FoldLine("end", ((80, 0), (80, 40))))
    assert piece.panels == (Panel(piece.outline),)


def test_the_panel_that_stays_comes_first(make: SimpleNamespace) -> None:
    """By hand: the zone of half a turn on the neutral radius of 1 is pi wide."""
    fold = FoldLine("end", ((80, 0), (80, 40)), out=Side.FLESH, angle_degrees=180.0, stays="B")
    stays, leaf = folded(make, fold).panels
    assert stays.outline.bounds() == pytest.approx((80 + pi / 2, 0, 200, 40))
    assert leaf.outline.bounds() == pytest.approx((0, 0, 80 - pi / 2, 40))
    assert (stays.motion, leaf.turned, leaf.height) == (Motion(), True, pytest.approx(2))
    assert leaf.plan is not None
    assert leaf.plan.apply((30, 10)) == pytest.approx((130, 10))


SHEATH = """format = 1
[material]
thickness = 2
[stitching]
pitch = 5
inset = 5
thread = 1
hole = { slit = 2.6, slant = 45 }
[[piece]]
name = "sheath"
points = [[0, 0], [60, 20], [60, 160], [0, 160], [-60, 160], [-60, 20]]
folds = { back = { line = [[0, 0], [0, 160]], out = "grain", angle = 180, stays = "B" } }
[[piece]]
name = "welt"
points = [[0, 0], [60, 20], [60, 160], [48, 160], [48, 29], [0, 13]]
on = "sheath"
behind = true
[[piece]]
name = "patch"
rectangle = [20, 60]
on = "sheath"
at = [-62, 60]
[[seam]]
name = "edge"
runs = [{ run = "sheath: A-B-C", from_start = 8 }, "welt", "sheath"]
"""


def punched_of(text: str) -> Punched:
    return punch(draft(read_project_text(text, file="p.toml", folder=Path())))


def test_a_layer_again_takes_its_holes_through_the_fold() -> None:
    """By hand: the fold lies on x = 0, so that each hole is its mate's mirror image, its slit too."""
    first, welt, again = punched_of(SHEATH).seams[0].layers
    assert len(again.holes) == len(first.holes) == len(welt.holes) > 30
    for one, other in zip(first.holes, again.holes, strict=True):
        assert other.at == pytest.approx((-one.at[0], one.at[1]))
        assert one.slit_degrees is not None
        assert other.slit_degrees == pytest.approx((180 - one.slit_degrees) % 180)


def test_what_is_named_by_its_letters_has_the_same_holes() -> None:
    again = punched_of(SHEATH).seams[0].layers[2]
    named = (
        punched_of(SHEATH.replace('"welt", "sheath"]', '"welt", { run = "sheath: A-F-E", from_start = 8 }]'))
        .seams[0]
        .layers[2]
    )
    for one, other in zip(again.holes, named.holes, strict=True):
        assert one.at == pytest.approx(other.at, abs=0.001)
        assert one.slit_degrees == pytest.approx(other.slit_degrees)


def test_what_lies_on_the_other_leaf_takes_them_too() -> None:
    """By hand: the patch lies from x = -62 and from y = 60 to 120; the row runs at x = -55."""
    text = SHEATH.replace('"welt", "sheath"]', '"welt", "sheath", "patch"]')
    first, _, again, patch = punched_of(text).seams[0].layers
    on_it = [hole.number for hole in again.holes if 60 < hole.at[1] < 120]
    assert [hole.number for hole in patch.holes] == on_it
    assert [hole.at[0] for hole in patch.holes] == pytest.approx([7.0] * len(on_it))
    assert first.holes[on_it[0] - 1].at[1] == pytest.approx(patch.holes[0].at[1] + 60)


@pytest.mark.parametrize(
    ("was", "fold"),
    [
        ("angle = 180", "angle = 90"),
        ('{ line = [[0, 0], [0, 160]], out = "grain", angle = 180, stays = "B" }', "[[0, 0], [0, 160]]"),
    ],
)
def test_a_layer_again_without_half_a_turn(was: str, fold: str) -> None:
    with pytest.raises(ProjectError) as raised:
        punched_of(SHEATH.replace(was, fold))
    assert [str(each) for each in raised.value.findings] == [
        'p.toml:25: error: seam "edge": run "sheath": found "sheath" once more without a run of its own, and '
        "no run before it that a fold brings over it; allowed: a piece folded over by 180° between the two, "
        "so that the run before lies on its other leaf; name the run on its other leaf by its letters, or "
        "give the fold angle = 180 [nothing-to-carry]"
    ]


def folded_text(turn: float, radius: float, inset: float, slant: float = 45.0, angle: float = 180.0) -> str:
    """A sheath that is its own mirror image in the fold, turned on the sheet."""
    half = [(0.0, 0.0), (50.0, 15.0), (62.0, 90.0), (40.0, 170.0), (0.0, 170.0)]
    points = [*half, *((-x, y) for x, y in half[3:0:-1])]
    by = Affine.turn(turn)
    places = ", ".join(f"[{x:.6f}, {y:.6f}]" for x, y in by.apply_all(points))
    (ax, ay), (bx, by_) = by.apply_all([(0.0, 0.0), (0.0, 170.0)])
    return (
        "format = 1\n[material]\nthickness = 2\n[stitching]\npitch = 5\nthread = 0.6\n"
        f"inset = {inset}\nhole = {{ slit = 2, slant = {slant} }}\n"
        f'[[piece]]\nname = "sheath"\npoints = [{places}]\n'
        f"folds = {{ back = {{ line = [[{ax:.6f}, {ay:.6f}], [{bx:.6f}, {by_:.6f}]], "
        f'angle = {angle}, radius = {radius}, stays = "B" }} }}\n'
        '[[seam]]\nname = "edge"\nruns = [{ run = "sheath: B-C-D", from_start = 6 }, '
        '{ run = "sheath: H-G-F", from_start = 6 }]\n'
    )


@given(
    turn=st.floats(0, 360),
    radius=st.floats(0, 8),
    inset=st.floats(5, 9),
    slant=st.sampled_from((0.0, 30.0, 45.0, 90.0)),
)
@settings(max_examples=20)
def test_mates_across_half_a_turn_meet(turn: float, radius: float, inset: float, slant: float) -> None:
    """Whatever the fold's way, radius and inset: holes within 0.01 mm in plan, slits on one another."""
    punched = punched_of(folded_text(turn, round(radius, 3), round(inset, 3), slant))
    piece, (first, second) = punched.pattern.piece("sheath"), punched.seams[0].layers
    for one, other in zip(first.holes, second.holes, strict=True):
        lie = piece.over(one.at, other.at)
        assert lie is not None
        assert distance(lie.apply(one.at), other.at) <= 0.01
        assert one.slit_degrees is not None
        assert other.slit_degrees is not None
        ways = [
            piece.motion_at(hole.at).turned((cos(radians(degrees)), sin(radians(degrees)), 0.0))
            for hole, degrees in ((one, one.slit_degrees), (other, other.slit_degrees))
        ]
        assert abs(sum(a * b for a, b in zip(*ways, strict=True))) == pytest.approx(1, abs=1e-4)


@pytest.mark.parametrize(
    ("was", "now", "told"),
    [
        # By hand: the second run begins 2 farther from its corner; as many holes, the last still in place.
        (
            '"sheath: H-G-F", from_start = 6',
            '"sheath: H-G-F", from_start = 8',
            'found hole 1 of "sheath: H-G-F" 2 mm from hole 1 of "sheath: B-C-D" once "sheath" is folded; '
            'allowed: at most 0.01 mm where leaves lie on each other; name only the piece, "sheath", and it '
            "takes the holes; or move its line [leaves-do-not-meet]",
        ),
        (
            '"sheath: H-G-F", from_start = 6',
            '"sheath: F-G-H", from_end = 6',
            "write the run's letters the other way round [leaves-do-not-meet]",
        ),
    ],
)
def test_leaves_whose_holes_miss_are_told(was: str, now: str, told: str) -> None:
    text = folded_text(0, 1, 5)
    assert was in text
    with pytest.raises(ProjectError) as raised:
        punched_of(text.replace(was, now))
    (found,) = [str(each) for each in raised.value.findings if each.code == "leaves-do-not-meet"]
    assert found.startswith('p.toml:15: error: seam "edge": run "sheath: ')
    assert found.endswith(told)


def test_panels_at_an_angle_are_not_held_to_each_other() -> None:
    """A corner of a box: its holes never come to lie on one another, and nothing mirrors its slits."""
    text = folded_text(0, 1, 5, angle=90.0).replace('H-G-F", from_start = 6', 'H-G-F", from_start = 8')
    assert [each for each in punched_of(text).findings if each.code == "leaves-do-not-meet"] == []


@pytest.mark.parametrize(
    ("folds", "turned"),
    [
        ([("one", 60.0, 180.0)], True),
        ([("one", 60.0, 90.0)], None),
        ([("one", 60.0, 90.0), ("two", 120.0, 90.0)], True),  # a U: the lid lies over the floor
        ([("one", 60.0, 180.0), ("two", 120.0, 180.0)], False),  # a coil
        ([("one", 60.0, None)], True),
        ([("one", 60.0, None), ("two", 120.0, None)], False),
        ([("one", 60.0, 180.0), ("two", 120.0, None)], False),
        ([("one", 60.0, 90.0), ("two", 120.0, None)], None),
    ],
)
def test_what_folds_turn_over(
    make: SimpleNamespace, folds: list[tuple[str, float, float | None]], turned: bool | None
) -> None:
    """By hand, between x = 20 and x = 180 of a strip: angles are added up, lines alone are counted."""
    lines = [
        FoldLine(name, ((x, 0), (x, 40)), angle_degrees=angle, stays="" if angle is None else "A")
        for name, x, angle in folds
    ]
    piece = folded(make, *lines)
    assert piece.turned_between((20, 10), (180, 10)) is turned
    assert piece.turned_between((20, 10), (30, 30)) is False
