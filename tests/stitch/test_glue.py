"""How layers are held while they are sewn, and the strips of glue: where they lie, and their areas by hand.

Inset 4, round holes of 1.6 (2 x thread 0.8) and 1 mm clear: a strip along an edge is 4 - 0.8 - 1 = 2.2 wide.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from math import pi
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.draw.words.names import kit_plan
from handkit.draw.words.work_order import order_parts
from handkit.geometry.region import Region, region_of

Make = Callable[[str], Any]

BACK = '[[piece]]\nname = "back"\nrectangle = [120, 150]\nlines = { across = [[20, 75], [100, 75]] }\n'
FRONT = '[[piece]]\nname = "front"\nrectangle = [80, 60]\non = "back"\nat = [20, 20]\n'
DISC = '[[piece]]\nname = "disc"\ncircle = 30\non = "back"\nat = [60, 60]\n'
STRAP = '[[piece]]\nname = "strap"\nrectangle = [80, 30]\non = "back"\nat = [20, 60]\n'
STRAP += "lines = { middle = [[4, 15], [76, 15]] }\n"

# Two leaves of 60 x 80, folded on the line between them, and a welt behind the right one.
LEAVES = '[[piece]]\nname = "leaves"\npoints = [[0, 0], [60, 0], [60, 80], [0, 80], [-60, 80], [-60, 0]]\n'
LEAVES += "folds = { spine = [[0, 0], [0, 80]] }\n"
WELT = '[[piece]]\nname = "welt"\npoints = [[40, 0], [60, 0], [60, 80], [40, 80]]\non = "leaves"\n'
WELT += "behind = true\n"
FOB = '[[piece]]\nname = "fob"\nrectangle = [28, 150]\n'
FOB += "folds = { ring = { line = [[0, 75], [28, 75]], radius = 1.5 } }\n"


def seam(*runs: str, more: str = "") -> str:
    return f'[[seam]]\nname = "sewn"\nruns = [{", ".join(map(json.dumps, runs))}]\n{more}\n'


def part_of(run: str, start: float, end: float, mate: str) -> str:
    first = f'{{ run = "{run}", from_start = {start}, from_end = {end} }}'
    return f'[[seam]]\nname = "sewn"\nruns = [{first}, "{mate}"]\n'


# Title: the file, each strip's width and area of one face, mm and mm², by hand.
AREAS: dict[str, tuple[str, list[tuple[float, float]]]] = {
    "a straight edge: length x width": (FRONT + seam("front: A-B", "back"), [(2.2, 80 * 2.2)]),
    "a U: the rectangle less what is left inside": (
        FRONT + seam("front: D-A-B-C", "back"),
        [(2.2, 80 * 60 - (80 - 2 * 2.2) * (60 - 2.2))],
    ),
    "all round": (
        FRONT + seam("front: A-B-C-D-A", "back"),
        [(2.2, 80 * 60 - (80 - 2 * 2.2) * (60 - 2 * 2.2))],
    ),
    "round corners: straight parts and quarters of rings": (
        FRONT + "round = 10\n" + seam("front: A-B-C-D-A", "back"),
        [(2.2, 2.2 * (2 * 60 + 2 * 40) + pi * (10**2 - 7.8**2))],
    ),
    "a circle: a ring": (DISC + seam("disc: A-A", "back"), [(2.2, pi * (15**2 - 12.8**2))]),
    "a stated width": (FRONT + seam("front: A-B", "back", more="glue = 1.5"), [(1.5, 80 * 1.5)]),
    "tape has a strip as well": (FRONT + seam("front: A-B", "back", more='hold = "tape"'), [(2.2, 176.0)]),
    "an inner line: nothing, for it takes room": (STRAP + seam("strap: middle", "back"), []),
    "an inner line with a stated width: both its sides": (
        STRAP + seam("strap: middle", "back", more="glue = 3"),
        [(3, 2 * 72 * 3)],
    ),
    "clips": (FRONT + seam("front: A-B", "back", more='hold = "clips"'), []),
    "nothing holds": (FRONT + seam("front: A-B", "back", more='hold = "none"'), []),
    "cloth is held with clips": (FRONT + 'kind = "canvas"\n' + seam("front: A-B", "back"), []),
    "what is glued all over has no strip": (FRONT + "glued = true\n" + seam("front: A-B", "back"), []),
    "leaves of one piece: as far as the other one, 59.5 wide, reaches": (
        LEAVES.replace("-60", "-59.5")
        + "lines = { row = [[-56, 4], [-56, 76]] }\n"
        + seam("leaves: B-C", "leaves: row"),
        [(2.2, 80 * 1.7)],
    ),
    "a welt between leaves: both its faces, all along": (
        LEAVES + WELT + seam("leaves: B-C", "welt", "leaves: F-E"),
        [(2.2, 80 * 2.2), (2.2, 80 * 2.2)],
    ),
    "a welt of half the height: beyond it the leaves are glued to each other": (
        LEAVES + WELT.replace("80]", "40]") + seam("leaves: B-C", "welt", "leaves: F-E"),
        [(2.2, 40 * 2.2), (2.2, 40 * 2.2), (2.2, 40 * 2.2)],
    ),
    "a part of an edge: as long as the row of holes, 80 - 4 - 20 - 4 less what 60 - 24 - 4 leaves": (
        FRONT + part_of("front: A-B", 20, 8, "back"),
        [(2.2, (80 - 24 - 12) * 2.2)],
    ),
    "less than a further hole needs is left: to the end of the edge": (
        FRONT + part_of("front: A-B", 20, 4, "back"),
        [(2.2, (80 - 24) * 2.2)],
    ),
    "leaves of one piece: no farther than the seam, though both go on to the fold": (
        FOB + part_of("fob: D-A-B-C", 95, 95, "fob"),
        [(2.2, 28 * (150 - 4 - 95) - (28 - 4.4) * (150 - 4 - 95 - 2.2))],
    ),
    "all round, with a layer for a part of the way: as far as that reaches": (
        FRONT
        + FRONT.replace('"front"', '"patch"').replace("[80, 60]", "[30, 30]")
        + seam("front: A-B-C-D-A", "patch", "back"),
        [
            (2.2, 2.2 * (30 + 27.8)),
            (2.2, 80 * 60 - (80 - 4.4) * (60 - 4.4)),
        ],
    ),
    "three layers: two strips": (
        FRONT + FRONT.replace('"front"', '"welt"') + seam("front: A-B", "welt: A-B", "back"),
        [(2.2, 176.0), (2.2, 176.0)],
    ),
}


@pytest.mark.parametrize("title", AREAS)
def test_areas_of_strips(planned: Make, head: str, title: str) -> None:
    """Circles are flattened by 0.002 mm: their areas are right to a thousandth."""
    text, wanted = AREAS[title]
    (sewn,) = planned(head + BACK + text).plan.seams
    found = [(strip.width, strip.area_mm2) for strip in sewn.strips]
    assert [width for width, _ in found] == pytest.approx([width for width, _ in wanted])
    assert [area for _, area in found] == pytest.approx([area for _, area in wanted], rel=1e-3)


def test_the_step_names_strip_and_sides(planned: Make, head: str) -> None:
    (step,) = (s for s in planned(head + BACK + FRONT + seam("front: D-A-B-C", "back")).plan.steps
               if s.kind == "seam")  # fmt: skip
    assert step.what.startswith(
        "Spread cement 2.2 mm wide along D-A-B-C of front, between the flesh side of front and the grain "
        "side of back, on both faces; press the layers together, then stitch front and back: "
    )


WORDS = {
    'hold = "tape"': "Stick double-sided tape 2.2 mm wide along A-B of front, between",
    'hold = "clips"': "Hold the layers with clips beside the line, then stitch",
    'hold = "none"': "Stitch front and back",
}


def test_nothing_holds_what_is_glued_all_over(planned: Make, head: str) -> None:
    """No clips in the step nor among the tools, unless the file asks for them."""
    glued = FRONT + "glued = true\n"
    made = planned(head + BACK + glued + seam("front: A-B", "back"))
    assert next(s for s in made.plan.steps if s.kind == "seam").what.startswith("Stitch front and back")
    assert not any("hold layers" in row.why for row in made.plan.tools)
    asked = planned(head + BACK + glued + seam("front: A-B", "back", more='hold = "clips"'))
    assert any(row.what == "clips" for row in asked.plan.tools)


@pytest.mark.parametrize("more", WORDS)
def test_what_holds_the_layers_is_said(planned: Make, head: str, more: str) -> None:
    made = planned(head + BACK + FRONT + seam("front: A-B", "back", more=more))
    assert next(s for s in made.plan.steps if s.kind == "seam").what.startswith(WORDS[more])


def test_a_strip_that_ends_with_its_holes_says_so(planned: Make, head: str) -> None:
    """Only its own edge does; of leaves both sides are told as one."""
    run = (
        '[[seam]]\nname = "sewn"\nruns = [{ run = "fob: D-A-B-C", from_start = 95, from_end = 95 }, "fob"]\n'
    )
    made = planned(head + FOB + run)
    (step,) = (s for s in made.plan.steps if s.kind == "seam")
    assert step.what.startswith(
        "Spread cement 2.2 mm wide along D-A-B-C of fob (beside holes 1 to 30, no farther), between the "
        "flesh sides of both leaves of fob, on both faces; press the layers together, then"
    )
    (strip,) = json.loads(made.json())["seams"][0]["glue"]
    assert strip["holes"] == [[1, 30]]


def test_the_glue_list_and_json_have_the_strips(planned: Make, head: str) -> None:
    made = planned(head + BACK + FRONT + seam("front: A-B", "back"))
    (sewn,) = json.loads(made.json())["seams"]
    assert sewn["hold"] == "cement"
    (strip,) = sewn["glue"]
    assert (strip["upper"], strip["lower"], strip["width_mm"], strip["area_mm2"]) == (
        "front",
        "back",
        2.2,
        176,
    )
    assert (strip["upper_side"], strip["lower_side"]) == ("flesh side", "grain side")
    assert "front back, 2.2 mm along seam sewn 0.02" in " ".join(made.text().split())


def hold_the_law(made: Any) -> None:
    """A strip lies on both layers, clear of every hole of theirs, and between edge and holes."""
    pattern = made.punched.pattern
    for sewn in made.plan.seams:
        for strip in sewn.strips:
            area: Region = strip.region
            own = region_of(pattern.piece(strip.piece).outline)
            assert area.without(own.grown(0.01)).empty
            for name in (strip.upper, strip.lower):
                lie = pattern.carry(name, strip.piece)
                outline = region_of(pattern.piece(name).outline.moved(lie))
                assert area.without(outline.grown(0.01)).empty
                for _, _, hole in made.punched.holes_of(name):
                    at = lie.apply(hole.at)
                    assert not area.contains(at) and area.edge_distance(at) >= 1.79


@pytest.mark.long
@settings(derandomize=True, deadline=None, max_examples=30)
@given(
    st.tuples(st.integers(4, 9), st.integers(4, 9), st.integers(0, 12)),
    st.sampled_from(["D-A-B-C", "A-B", "B-C-D", "C-D", "A-B-C-D-A"]),
)
def test_strips_lie_between_edge_and_holes(
    planned: Make, head: str, sizes: tuple[int, int, int], run: str
) -> None:
    width, height, radius = sizes
    front = FRONT.replace("[80, 60]", f"[{10 * width}, {10 * height}]") + f"round = {radius}\n" * bool(radius)
    hold_the_law(planned(head + BACK + front + seam(f"front: {run}", "back")))


def test_a_hole_in_the_way_is_kept_clear(planned: Make, head: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """A rivet between edge and holes, 12 - 1.8 apart: its hole of 3 mm and 1 mm round it are left bare."""
    rivet = (
        '[[opening]]\nname = "stud"\nkind = "rivet"\nhole = 3\ncap = 6\nthrough = ["back"]\nat = [[60, 25]]\n'
    )
    text = head + BACK + FRONT + seam("front: A-B", "back", more="inset = 12") + rivet
    (strip,) = planned(text).plan.seams[0].strips
    assert strip.area_mm2 == pytest.approx(80 * 10.2 - pi * 2.5**2, abs=0.05)
    monkeypatch.setattr("handkit.stitch.lists.glue._by_radius", lambda *_: ())
    (bare,) = planned(text).plan.seams[0].strips
    assert bare.area_mm2 == pytest.approx(80 * 10.2)


TOOLS = {
    "": ["cement"],
    'hold = "tape"': ["double-sided tape"],
    'hold = "clips"': ["clips"],
    'hold = "none"': [],
}


@pytest.mark.parametrize("more", TOOLS)
def test_what_holds_lies_ready(planned: Make, head: str, more: str) -> None:
    made = planned(head + BACK + FRONT + seam("front: A-B", "back", more=more))
    holds = [row.what for row in made.plan.tools if row.why == "to hold layers while they are sewn"]
    assert holds == TOOLS[more]


def test_cement_has_its_caution_at_the_first_seam_that_takes_it(planned: Make, head: str) -> None:
    """Told once, before the caution of the awl and needles."""
    two = seam("front: A-B", "back") + seam("front: C-D", "back").replace("sewn", "top")
    made = planned(head + BACK + FRONT + two)
    told = [step.caution for step in order_parts(kit_plan(made.punched, made.plan)) if step.seams]
    assert told[0].startswith("vapour of solvent glue catches fire")
    assert told[1:] in ([], [""])  # alike seams have one
