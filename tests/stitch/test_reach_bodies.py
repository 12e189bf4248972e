"""Order where a piece stands: bags, boxes and tubes, whose pieces have no place in one plan.

In each assembly stands which task comes before which, with the trade's reason, written down before the
program was asked; the file lists the seams that close first, so that its order says nothing. Sources:
common practice (trade pages on bags, cases and pencil rolls), no other.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from written_tables import rivet, seam

Make = Callable[[str], Any]


def piece(name: str, size: str, on: str = "", at: str = "[0, 0]", *more: str) -> str:
    """`size` is the shape's line; without `on` it is a root."""
    placed = f'on = "{on}"\nat = {at}\n' if on else ""
    return f'[[piece]]\nname = "{name}"\n{size}\n{placed}' + "".join(f"{m}\n" for m in more)


STANDS = "flat = false"
BEHIND = "behind = true"
PANEL = "rectangle = [228, 164]\nround = { A = 24, B = 24 }"
# Along the front's line: 2 x (164 - 8 - 24) + (228 - 48) + pi x 20 = 506.8, and 4 at either end.
STRIP = "rectangle = [514.8, 60]\ngrain = 0"
SHORT = ", from_start = 4, from_end = 4 }"
ROUND_FRONT = seam("gusset, front", '{ run = "front: D-A-B-C"' + SHORT, "gusset: A-B")
ROUND_BACK = seam("gusset, back", '{ run = "back: D-A-B-C"' + SHORT, "gusset: D-C")
PIECES = piece("back", PANEL, "", "", 'shows = "flesh"') + piece("front", PANEL, "back", "[0, 0]", STANDS)
PIECES += piece("gusset", STRIP, "back", "[0, 0]", STANDS)
BAG = PIECES + ROUND_FRONT + ROUND_BACK
# The same with no word of what lies where.
APART = piece("back", PANEL, "", "", 'shows = "flesh"') + piece("front", PANEL) + piece("gusset", STRIP)
APART += ROUND_FRONT + ROUND_BACK
BOTH = ["gusset, front", "gusset, back"]

POCKET = piece("pocket", "rectangle = [120, 80]", "front", "[54, 30]") + seam(
    "pocket", "pocket: D-A-B-C", "front"
)
HANDLE = piece("handle", "rectangle = [160, 20]", "front", "[34, 130]", STANDS)
HANDLE += rivet(
    "handle",
    "[[44, 140], [184, 140]]",
    "front",
    "handle",
    more="places = { handle = [[6, 10], [154, 10]] }\n",
)
FLAP = piece("flap", "rectangle = [228, 150]", "back", "[228, 156]", BEHIND, "turned_over = true")
FLAP += seam("flap", "flap: A-B", "back")
LINING = piece("front lining", "rectangle = [200, 140]", "front", "[14, 12]", BEHIND, "glued = true")

WALL = "rectangle = [60, 150]"
CASE = piece("back", "rectangle = [200, 150]") + piece(
    "front", "rectangle = [200, 150]", "back", "[0, 0]", STANDS
)
CASE += "".join(piece(f"{side} wall", WALL, "back", "[0, 0]", STANDS) for side in ("left", "right"))
CASE += piece("floor", "rectangle = [200, 60]", "back", "[0, 0]", STANDS)
CASE += seam("left, front", "left wall: B-C", "front: A-D") + seam(
    "left, back", "left wall: A-D", "back: A-D"
)
CASE += seam("right, front", "right wall: B-C", "front: B-C") + seam(
    "right, back", "right wall: A-D", "back: B-C"
)
CASE += seam("floor, front", "floor: A-B", "front: A-B") + seam("floor, back", "floor: D-C", "back: A-B")

# A tube of 60 across on its stitch line's middle, with a round end: 2 x pi x 26 = 163.4, and 8 to sew it.
TUBE = piece("tube", "rectangle = [171.4, 200]\ngrain = 90") + piece("end", "circle = 60")
TUBE += seam("joint", "tube: D-A", "tube: C-B")

BOX = (
    '[[item]]\nname = "block"\nin = "box"\nsize = [100, 24, 120]\n'
    '[[part]]\nname = "box"\nkind = "boxed pocket"\non = "back"\nat = [40, 20]\nshows = 12\nround = 20\n'
)

# Title: the file, what comes before what, and why.
ASSEMBLIES: dict[str, tuple[str, list[tuple[str, str]], str]] = {
    "a pocket on a bag's front": (
        BAG + POCKET,
        [("pocket", task) for task in BOTH],
        "a panel is worked while it lies flat",
    ),
    "a pocket on the front of a bag whose file places nothing": (
        APART + POCKET,
        [("pocket", task) for task in BOTH],
        "a panel is worked while it lies flat",
    ),
    "a stud at the mouth of a front": (
        BAG + rivet("stud", "[[114, 156]]", "front"),
        [("stud", task) for task in BOTH],
        "setter and anvil want a flat panel, above the gusset's ends too",
    ),
    "a stud in a front beside the gusset's seam": (
        BAG + rivet("stud", "[[14, 80]]", "front"),
        [("stud", task) for task in BOTH],
        "in the standing body there is no room for the anvil beside the wall",
    ),
    "a tab riveted to the gusset": (
        BAG
        + piece("tab", "rectangle = [20, 40]", "gusset", "[20, 10]")
        + rivet("tab", "[[30, 20], [30, 40]]", "gusset", "tab"),
        [("tab", task) for task in BOTH],
        "the strip is worked while it lies flat by itself",
    ),
    "a tab sewn on the gusset, the gusset's seams named first": (
        BAG
        + piece("tab", "rectangle = [40, 30]", "gusset", "[230, 15]")
        + seam("tab", "tab: A-B-C-D-A", "gusset"),
        [("tab", task) for task in BOTH],
        "the strip is worked while it lies flat by itself",
    ),
    "a handle on a front": (
        BAG + HANDLE,
        [("handle", task) for task in BOTH],
        "its rivets' backs are inside the bag",
    ),
    "a handle on a front and the pocket under it": (
        BAG + HANDLE + POCKET,
        [("pocket", "gusset, front"), ("handle", "gusset, front")],
        "both while the front lies flat",
    ),
    "a flap on the back": (
        BAG + FLAP,
        [("flap", "gusset, back")],
        "its row goes through the back, which the gusset's second seam closes",
    ),
    "a cap in a flap": (
        BAG + FLAP + rivet("cap", "[[114, 130]]", "flap"),
        [("cap", "flap"), ("flap", "gusset, back")],
        "a flap is worked by itself, before it hangs on anything",
    ),
    "a hem at the ends of a gusset": (
        BAG + seam("hem, left", "gusset: D-A") + seam("hem, right", "gusset: B-C"),
        [(hem, task) for hem in ("hem, left", "hem, right") for task in BOTH],
        "hems are sewn while a piece is single",
    ),
    "a hem at a front's mouth": (
        BAG + seam("hem", "front: D-C"),
        [("hem", task) for task in BOTH],
        "hems are sewn while a piece is single",
    ),
    "a lining in a front, and a pocket and a stud on it": (
        BAG + LINING + POCKET + rivet("stud", "[[114, 130]]", "front"),
        [("pocket", "front lining"), ("stud", "front lining"), ("front lining", "gusset, front")],
        "the lining hides the backs of both, and goes in while the front lies flat",
    ),
    "a zip between a front and a back": (
        BAG
        + seam("zip, front", "front: D-C")
        + seam("zip, back", "back: D-C")
        + '[[fitting]]\nname = "zip"\nkind = "zip"\nlength = 200\ntape = 14\nthickness = 0.8\n'
        + 'seams = ["zip, front", "zip, back"]\n',
        [("zip, front", "gusset, back"), ("zip, back", "gusset, back")],
        "a zip is sewn in while both panels lie flat; the gusset's second seam closes the body",
    ),
    "a stud in a back beside the gusset's seam": (
        BAG + rivet("stud", "[[214, 80]]", "back"),
        [("stud", "gusset, back")],
        "the closed body leaves no room for an anvil",
    ),
    "a tab on a wall of a case": (
        CASE
        + piece("tab", "rectangle = [20, 40]", "left wall", "[20, 100]")
        + seam("tab", "tab: A-B-C-D-A", "left wall"),
        [("tab", "left, front"), ("tab", "left, back")],
        "a wall is worked while it lies flat by itself",
    ),
    "a rivet in the floor of a case": (
        CASE + rivet("foot", "[[30, 30], [170, 30]]", "floor"),
        [("foot", "floor, front"), ("foot", "floor, back")],
        "feet are set while the floor lies flat by itself",
    ),
    "a pocket inside the back of a case": (
        CASE
        + piece("pocket", "rectangle = [100, 80]", "back", "[50, 20]")
        + seam("pocket", "pocket: D-A-B-C", "back"),
        [("pocket", task) for task in ("left, back", "right, back", "floor, back")],
        "the back is worked while it lies flat",
    ),
    "a strap riveted to both walls": (
        CASE
        + piece("strap", "rectangle = [500, 20]\ngrain = 0")
        + rivet("strap, left", "[[30, 120]]", "left wall", "strap", more="places = { strap = [[12, 10]] }\n")
        + rivet(
            "strap, right", "[[30, 120]]", "right wall", "strap", more="places = { strap = [[488, 10]] }\n"
        ),
        [("strap, left", "left, back"), ("strap, right", "right, back")],
        "a rivet's back is inside the case, which is closed by then",
    ),
    "a label on a box's front": (
        piece("back", "rectangle = [240, 220]")
        + BOX
        + piece("label", "rectangle = [60, 40]", "box front", "[20, 40]")
        + seam("label", "label: A-B-C-D-A", "box front"),
        [("label", "box, front"), ("label", "box, base")],
        "the front is worked while it lies flat",
    ),
    "a pocket on the back beside its box": (
        piece("back", "rectangle = [240, 400]")
        + BOX
        + piece("card", "rectangle = [100, 70]", "back", "[60, 250]")
        + seam("card", "card: D-A-B-C", "back"),
        [("card", "box, base")],
        "the back lies flat until a box stands on it",
    ),
    "a tab on a tube": (
        TUBE
        + piece("tab", "rectangle = [30, 40]", "tube", "[70, 80]")
        + seam("tab", "tab: A-B-C-D-A", "tube")
        + seam("end", "end: A-A", "tube: A-B"),
        [("tab", "joint"), ("joint", "end")],
        "no needle gets into a tube, and an end is sewn into what is a tube by then",
    ),
    "a tab on a tube's end": (
        TUBE
        + seam("end", "end: A-A", "tube: A-B")
        + piece("tab", "rectangle = [16, 30]", "end", "[-8, -15]")
        + rivet("tab", "[[0, 0]]", "end", "tab"),
        [("tab", "end")],
        "the end is worked while it lies flat by itself",
    ),
}


@pytest.mark.long
@pytest.mark.parametrize("title", ASSEMBLIES)
def test_what_stands_is_worked_while_it_lies_flat(planned: Make, head: str, title: str) -> None:
    text, pairs, why = ASSEMBLIES[title]
    told = planned(head + text)
    for first, then in pairs:
        assert told.tasks.index(first) < told.tasks.index(then), (why, first, then, told.tasks)


STANDS_TOLD = seam("hem", "front: D-C", more='after = ["gusset, front"]\n')


def test_what_is_worked_when_it_stands_is_told(planned: Make, head: str) -> None:
    """The file wants a mouth's row after the gusset: it is held over a block."""
    plan = planned(head + BAG + STANDS_TOLD).plan
    assert [str(finding) for finding in plan.findings] == [
        'p.toml:34: note: seam "hem": found "front" standing up when worked: "gusset, front" before "hem" '
        "(the file says so); hold the work over a block inside meanwhile [way-not-free]"
    ]
    (step,) = [step for step in plan.steps if step.name == "hem"]
    assert step.what.endswith("Hold it over a block inside: front stands up by now.")


def test_the_last_panel_closes_a_case(planned: Make, head: str) -> None:
    """All walls are sewn to one panel before any is sewn to the other: the inside is open till then."""
    told = planned(head + CASE)
    parts = ("left", "right", "floor")
    assert told.tasks == [f"{part}, {panel}" for panel in ("front", "back") for part in parts]
    (last,) = [seam for seam in told.plan.seams if seam.name == "floor, back"]
    assert {before.why for before in last.after} == {'"back" would close over the inside'}


PLACES = {"front": "[54, 30]", "back": "[54, 30]", "gusset": "[200, 15]"}
WORKS = [(kind, on) for kind in ("pocket", "row", "stud", "handle") for on in sorted(PLACES)]
WORKS.remove(("handle", "gusset"))


def work(name: str, kind: str, on: str) -> str:
    """A thing on one of a bag's pieces."""
    if kind == "row":
        return seam(name, f"{on}: {'D-A' if on == 'gusset' else 'D-C'}")
    if kind == "stud":
        return rivet(name, "[[40, 30]]" if on == "gusset" else "[[20, 80]]", on)
    if kind == "handle":
        places = f'places = {{ "{name}" = [[6, 10], [54, 10]] }}\n'
        handle = piece(name, "rectangle = [60, 20]", on, "[100, 100]", STANDS)
        return handle + rivet(name, "[[106, 110], [154, 110]]", on, name, more=places)
    pocket = piece(name, "rectangle = [40, 30]", on, PLACES[on])
    return pocket + seam(name, f"{name}: D-A-B-C", on)


@pytest.mark.long
@settings(derandomize=True, deadline=None, max_examples=40)
@given(
    st.lists(st.sampled_from(WORKS), min_size=1, max_size=4, unique=True),
    st.booleans(),
    st.booleans(),
)
def test_whatever_is_on_one_piece_alone_comes_before_it_stands(
    planned: Make, head: str, works: list[tuple[str, str]], placed: bool, back_first: bool
) -> None:
    """By plain bookkeeping: a panel does not hang on the gusset yet, or the gusset on either, when it is
    worked."""
    seams = ROUND_BACK + ROUND_FRONT if back_first else ROUND_FRONT + ROUND_BACK
    text = (PIECES if placed else APART.removesuffix(ROUND_FRONT + ROUND_BACK)) + seams
    named = {f"{kind} {on}": on for kind, on in works}
    text += "".join(work(f"{kind} {on}", kind, on) for kind, on in works)
    told = planned(head + text)
    standing: set[str] = set()
    for task in told.tasks:
        if task.startswith("gusset, "):
            standing |= {"gusset", task.removeprefix("gusset, ")}
        else:
            assert named[task] not in standing, (task, told.tasks)
    assert not [finding for finding in told.plan.findings if finding.code == "way-not-free"]
