"""Flaps: over all that is inside, to the stud; in the model of the article both halves meet.

The long run: `TIMES=16 python -m pytest -m long tests/draft/parts/test_flap.py`.
"""

from __future__ import annotations

from collections.abc import Callable
from math import pi

import pytest
import shapely
import shapely.geometry.polygon
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from handkit.assemble.article import heights_of
from handkit.assemble.assembler import assemble
from handkit.assemble.closing import Closing, closings
from handkit.assemble.section import sections_of
from handkit.draft.pattern import Pattern
from handkit.errors import ProjectError
from handkit.geometry.laid.taut import flap_length
from handkit.messages.message import Severity
from handkit.punch.punched import Punched
from handkit.stitch.planner import plan

BAG = """format = 1
[material]
thickness = {leather}
[[piece]]
name = "back"
rectangle = [{wide}, {high}]
thickness = {back}
[[part]]
name = "front"
kind = "{kind}"
on = "back"
at = [20, 20]
[[item]]
name = "hank"
in = "front"
size = [{hank[0]}, {hank[1]}, {hank[2]}]
{more}
[[part]]
name = "flap"
kind = "flap"
on = "back"
to = "{to}"
{own}
"""
TOOLS = """[[part]]
name = "tools"
kind = "holder row"
on = "back"
at = [30, {at}]
[[item]]
name = "mallet"
in = "tools"
diameter = {across}
length = 90
"""


def bag(**own: object) -> str:
    sizes = {"leather": 2.4, "back": 3, "wide": 170, "high": 300, "kind": "bowed pocket", "to": "front"}
    return BAG.format(**sizes | {"hank": (80, 24, 120), "more": "", "own": ""} | own)


def closed(punched: Punched) -> Closing:
    """How the flap closes, by the model of the article."""
    article = assemble(punched)
    (found,) = [
        each
        for figure in article.figures
        for each in closings(punched.pattern, figure, heights_of(figure.bodies))
    ]
    return found


# By hand: leather 2.4 round an edge 3 thick, a half turn on a middle of 1.5 + 1.2; to a stud as high as the
# bend comes up it goes straight on, line for line.
HALF = pi * 2.7 / 2


def test_over_nothing_by_hand() -> None:
    stud = HALF + 100
    assert flap_length([], (stud, 0.0), half=HALF, height=-3, radius=1.5, leather=2.4) == pytest.approx(
        HALF + 100, abs=1e-3
    )


# By hand, from a sharp edge over a thing 30 high from 40 to 100, to a stud at 140: 50 (3, 4, 5), 60, 50; on
# leather 2 thick 1 outside the turns: from straight up to 3 in 4 (π - 0.6435), to level, down again.
@pytest.mark.parametrize(("leather", "expected"), [(0, 160.0), (2, 160 + pi - 0.643501 + 2 * 0.643501)])
def test_over_a_thing_by_hand(leather: float, expected: float) -> None:
    over = [(40.0, 30.0), (100.0, 30.0), (70.0, 12.0)]
    found = flap_length(over, (140.0, 0.0), half=0, height=0, radius=0, leather=leather)
    assert found == pytest.approx(expected, abs=1e-5)


@settings(derandomize=True, deadline=None, max_examples=40)
@given(
    back=st.floats(1, 6),
    leather=st.floats(0.8, 4),
    high=st.floats(4, 60),
    start=st.floats(5, 80),
    low=st.floats(0, 4),
)
def test_over_a_thing_it_is_a_hull_that_is_grown(
    back: float, leather: float, high: float, start: float, low: float
) -> None:
    """The hull's way from the bend's begin to the stud, half a thickness outside it; measured by shapely."""
    assume(low < high)
    half, end = pi * (back + leather) / 4, start + 90
    edge = shapely.Point(0, -back / 2).buffer(back / 2, quad_segs=720)
    inside = edge.union(shapely.MultiPoint([(start, high), (start + 50, high), (end, low)])).convex_hull
    ring = list(shapely.geometry.polygon.orient(inside, -1.0).exterior.coords)[:-1]  # clockwise
    first = min(range(len(ring)), key=lambda k: abs(ring[k][0]) + abs(ring[k][1] + back))
    ring = [*ring[first:], *ring[:first]]
    last = min(range(len(ring)), key=lambda k: abs(ring[k][0] - end) + abs(ring[k][1] - low))
    outer = shapely.LineString(ring[: last + 1]).parallel_offset(
        leather / 2, "left", join_style="round", resolution=720
    )
    found = flap_length(
        [(half + start, high), (half + start + 50, high)], (half + end, low),
        half=half, height=-back, radius=back / 2, leather=leather,
    )  # fmt: skip
    assert found == pytest.approx(outer.length - half, abs=0.02)


@pytest.mark.parametrize(
    "own",
    [
        {},
        {"own": 'closed_by = "tab"'},
        {"own": 'closed_by = "stud"\nround = 20'},
        {"own": 'continues = true\nclosed_by = "stud"', "more": TOOLS.format(at=200, across=30)},
        {
            "own": 'closed_by = "stud"\nstud_neck = 5\nstud_head = 10',
            "kind": "boxed pocket",
            "to": "front front",
        },
        {"own": "continues = true\nround = 40"},
        {"own": 'continues = true\nclosed_by = "tab"', "more": TOOLS.format(at=200, across=30)},
        {"kind": "boxed pocket", "to": "front front"},
        {"kind": "flat pocket", "hank": (80, 3, 120)},
        {"more": TOOLS.format(at=200, across=30)},
        {"own": "reach = 40\nwidth = 120\nround = 30\nlap = 30"},
    ],
)
def test_both_halves_meet(punched_from: Callable[..., Punched], own: dict[str, object]) -> None:
    found = closed(punched_from(bag(**own)))
    assert found.own == pytest.approx(found.least, abs=0.1)
    assert found.apart == pytest.approx(0, abs=0.1)


def any_bag(data: st.DataObject) -> str:
    sizes = st.sampled_from
    own = {
        "leather": data.draw(sizes([0.8, 1.6, 2.4, 4.0])),
        "back": data.draw(sizes([1.5, 3, 5])),
        "hank": data.draw(sizes([(80, 24, 120), (40, 5, 90), (60, 45, 140), (100, 12, 100)])),
        "kind": data.draw(sizes(["bowed pocket", "boxed pocket"])),
        "high": data.draw(sizes([160, 230, 300])),
        "more": data.draw(sizes(["", TOOLS.format(at=180, across=14), TOOLS.format(at=190, across=40)])),
        "own": data.draw(
            sizes(
                [
                    "",
                    "reach = 9",
                    "reach = 60",
                    "width = 150",
                    "lap = 40",
                    "continues = true",
                    'closed_by = "tab"',
                    'closed_by = "stud"\nstud_head = 12',
                    'continues = true\nclosed_by = "stud"',
                    "round = 500",
                    "continues = true",
                ]
            )
        ),
    }
    return bag(**own, to="front front" if own["kind"] == "boxed pocket" else "front")


def meets(punched_from: Callable[..., Punched], data: st.DataObject) -> None:
    """Both halves meet, or there is a message that names what to change."""
    try:
        found = closed(punched_from(any_bag(data)))
    except ProjectError as refused:
        assert all(each.found and each.where.line for each in refused.findings)
        return
    assert abs(found.own - found.least) <= 0.1 and found.apart <= 0.1


@settings(derandomize=True, deadline=None, max_examples=15)
@given(data=st.data())
def test_any_flap_meets_its_stud(punched_from: Callable[..., Punched], data: st.DataObject) -> None:
    meets(punched_from, data)


@pytest.mark.long
@settings(derandomize=True, deadline=None, max_examples=30)
@given(data=st.data())
def test_any_flap_meets_its_stud_at_length(punched_from: Callable[..., Punched], data: st.DataObject) -> None:
    meets(punched_from, data)


def test_more_inside_makes_a_longer_flap_and_nothing_else(punched_from: Callable[..., Punched]) -> None:
    """A thicker mallet under the flap moves its own row, and the flap."""

    def shapes(across: float) -> dict[str, object]:
        pattern: Pattern = punched_from(bag(more=TOOLS.format(at=200, across=across))).pattern
        return {piece.name: piece.outline for piece in pattern.pieces}

    thin, thick = shapes(14), shapes(34)
    assert {name for name in thin if thin[name] != thick[name]} == {"tools strap", "flap"}
    assert thick["flap"].bounds()[3] > thin["flap"].bounds()[3] + 5  # type: ignore[attr-defined]


def test_its_stud_stands_below_the_mouth(punched_from: Callable[..., Punched]) -> None:
    pattern = punched_from(bag(own="reach = 22")).pattern
    stud = next(opening for opening in pattern.openings if opening.name == "flap stud")
    front = pattern.piece("front")
    assert stud.places[0].at[1] == pytest.approx(front.outline.bounds()[3] - 22)
    row = next(seam for seam in pattern.seams if seam.name == "flap")
    assert {run.piece for run in row.runs} == {"flap", "back"}
    assert pattern.faces_met("flap", "back") == ("flesh", "flesh")


def test_a_flap_in_one_with_its_base_is_all_of_its_edge(punched_from: Callable[..., Punched]) -> None:
    """Its sides go on up, its fold half of its zone above the edge that it had: π · (1.5 + 1.5) / 2."""
    pattern = punched_from(bag(own="continues = true\nround = 40")).pattern
    back = pattern.piece("back")
    (fold,) = back.folds
    left, _, right, top = back.outline.bounds()
    assert (left, right, fold.out) == (0.0, 170.0, "flesh")
    assert fold.path.start[1] == pytest.approx(300 + pi * 3 / 2)
    cap = next(opening for opening in pattern.openings if opening.name == "flap cap").places[0]
    assert top == pytest.approx(cap.at[1] + 15)
    assert [seam.name for seam in pattern.seams if "flap" in seam.name] == []


# By hand: a neck of 4 and a head of 8 ask for a cut of (8 - 4) π / 2 = 6.28; 4 + 6.28, up to the half mm,
# is 10.5. The neck stands in the hole, which is at the end away from the fold.
@pytest.mark.parametrize("own", ["", "continues = true\n"])
def test_a_buttonhole_takes_the_head_and_is_cut_towards_the_fold(
    punched_from: Callable[..., Punched], own: str
) -> None:
    pattern = punched_from(bag(own=own + 'closed_by = "stud"')).pattern
    openings = {opening.name: opening for opening in pattern.openings}
    hole, facts = openings["flap hole"], openings["flap hole"].opening
    assert (facts.length, facts.diameter, facts.turn_degrees) == (10.5, 4, 270)
    assert 2 * (facts.length - facts.diameter) + pi * facts.diameter >= pi * 8
    x, y = hole.neck(hole.places[0])
    assert (x, y) == pytest.approx((hole.places[0].at[0], hole.places[0].at[1] + 3.25))
    piece = pattern.piece(hole.places[0].piece)
    assert piece.outline.bounds()[3] - y == pytest.approx(15)


def test_a_strap_goes_through_its_loop(punched_from: Callable[..., Punched]) -> None:
    """By hand, 24 wide, 2.4 thick, its end 20 past a loop 14 wide. The way is that of a flap with a snap at
    the loop's middle; the flap ends 6 above the loop, and inside the loop there is more room than the strap
    takes and less than 6 mm more, as for any keeper."""
    own = 'closed_by = "strap"\nstrap = 24\nband = 14\nbelow = 20\nreach = 15'
    punched = punched_from(bag(own=own))
    pattern, snapped = punched.pattern, punched_from(bag(own="reach = 28")).pattern
    flap, strap, loop = (pattern.piece(name) for name in ("flap", "flap strap", "flap loop"))
    rivets = next(opening for opening in pattern.openings if opening.name == "flap rivets")
    middle = snapped.openings[0].places[0].at[1]  # where a snap 15 + 6 + 7 below the mouth has its cap
    assert flap.outline.bounds()[3] == pytest.approx(middle - 13, abs=0.01)
    low = strap.in_root.apply((0.0, strap.outline.bounds()[3]))
    high = flap.in_root.apply((0.0, middle))
    assert abs(low[1] - high[1]) == pytest.approx(7 + 20, abs=0.01)
    places = {name: [p.at for p in rivets.places if p.piece == name] for name in ("flap loop", "front")}
    way, span = (abs(a[0] - b[0]) for a, b in places.values())
    front = pattern.piece("front").outline.bounds()[3]
    assert [at[1] for at in places["front"]] == pytest.approx([front - 28] * 2, abs=0.01)
    tight = 24 + 2 * (2.4 - 1.2) + pi * 1.2  # over the strap on the loop's middle, down at both its sides
    spare = way - 9 - tight - (span - 9 - 24 - 2.4)  # 9 is the rivets' cap, which keeps off the strap
    assert 0 < spare < 6
    assert loop.outline.bounds()[3] - loop.outline.bounds()[1] == 14
    assert all(layer.holes for layer in next(s for s in punched.seams if s.name == "flap strap").layers)
    article = assemble(punched)
    body = next(f for f in article.figures if f.base == "back").body("flap loop")
    left, low, right, top = body.outline.bounds()
    at = ((left + right) / 2, (low + top) / 2)
    assert 2.4 < body.rise(at) < 2.4 + 6  # the strap goes under it, with its ease
    assert body.rise((left + 1, at[1])) == 0  # down on the front where its rivets are
    across = next(each for each in sections_of(article) if each.of == "flap" and not each.along)
    assert [plate.piece for plate in across.plates] == ["front", "flap strap", "flap loop"]
    left, low, right, top = across.plates[1].outline.bounds()
    assert (right - left, low, top) == (pytest.approx(24), 0.0, pytest.approx(2.4))  # flat on the front
    assert [step.what for step in plan(punched).steps][
        -1
    ] == 'Close flap: put "flap strap" under "flap loop".'


FLAT = """format = 1
[material]
thickness = 2
[[piece]]
name = "back"
rectangle = [{wide}, {high}]
[[part]]
name = "front"
kind = "flat pocket"
on = "back"
width = {wide}
[[item]]
name = "card"
in = "front"
size = [{card}, 2, {long}]
[[part]]
name = "flap"
kind = "flap"
on = "back"
to = "front"
closed_by = "{by}"
"""


# By hand, inset 4, rivets of 9 mm whose middle stays 6.5 from rows, a strap of s and 2 mm with 1.2 of ease at
# the least: 2 · (4 + 6.5 + 4.5) + s + 2 + ease is the pocket's width.
@pytest.mark.parametrize(("wide", "most"), [(80, 32), (60, 27), (50, 17)])
def test_a_strap_that_is_left_open_is_as_wide_as_its_loop_lets_it(
    punched_from: Callable[..., Punched], wide: int, most: int
) -> None:
    punched = punched_from(FLAT.format(wide=wide, high=110, card=wide - 18, long=90, by="strap"))
    left, _, right, _ = punched.pattern.piece("flap strap").outline.bounds()
    assert most - 2 < right - left <= most
    assert [each for each in punched.findings if each.severity is not Severity.NOTE] == []


# By hand: the snap's middle stays 8.35 from the row along the foot, which is 4 inside; 12.35 above it.
@pytest.mark.parametrize(("high", "reach"), [(60, 15), (26, 13.65), (22, 9.65)])
def test_a_reach_that_is_left_open_is_the_nearest_that_can_be(
    punched_from: Callable[..., Punched], high: float, reach: float
) -> None:
    text = FLAT.format(wide=90, high=110, card=72, long=90, by="snap")
    pattern = punched_from(text.replace("width = 90", f"width = 90\nheight = {high}")).pattern
    stud = next(opening for opening in pattern.openings if opening.name == "flap stud")
    assert high - stud.places[0].at[1] == pytest.approx(reach)


# By hand: a flap's outside is its own grain side where it is sewn on with the flesh inside, and the far side
# of its base where it continues that: the base's grain side comes to lie on what it carries.
@pytest.mark.parametrize("own", ["tab", "strap"])
@pytest.mark.parametrize(("continues", "on", "side"), [("false", "flap", "grain"), ("true", "back", "flesh")])
def test_what_goes_on_beyond_a_flap_lies_on_its_outside(
    punched_from: Callable[..., Punched], own: str, continues: str, on: str, side: str
) -> None:
    pattern = punched_from(bag(own=f'continues = {continues}\nclosed_by = "{own}"')).pattern
    assert pattern.faces_met(f"flap {own}", on) == ("flesh", side)
    lie = pattern.carry(f"flap {own}", on)
    assert lie is not None
    ends = [pattern.piece(on).outline.bounds(), pattern.piece(f"flap {own}").outline.bounds()]
    middles = [((left + right) / 2, (low + high) / 2) for left, low, right, high in ends]
    assert lie.apply(middles[1])[0] == pytest.approx(middles[0][0])
