"""Reach: what the trade works first, because something would hang over the place later.

In each assembly stands which task comes before which, with the trade's reason, written down before the
program was asked. Sources: common practice (trade pages on bags, sheaths, belts and wallets), no other.
A name that is a piece's and no seam's is its gluing.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from written_tables import placed as piece
from written_tables import rivet, seam

Make = Callable[[str], Any]


BEHIND = "behind = true"
BACK = piece("back", 200, 260)
FRONT = piece("front", 140, 150, "[30, 16]") + seam("front", "front: D-A-B-C", "back")
POCKET = BACK + FRONT
REAR = piece("rear", 140, 150, "[30, 16]", BEHIND) + seam("rear", "rear: D-A-B-C", "back")
LABEL = piece("label", 60, 40, "[40, 40]", on="front") + seam("label", "label: D-A-B-C", "front")
STUD = rivet("stud", "[[100, 200]]", "back")
LEAF = piece("leaf", 160, 100, "[20, 150]") + seam("leaf", "leaf: C-D", "back")
HANGING = piece("leaf", 160, 100, "[20, 150]", BEHIND) + seam("leaf", "leaf: C-D", "back")
BOX = "lines = { box = [[6, 216], [24, 216], [24, 234], [6, 234], [6, 216]] }"
STRAP = piece("strap", 30, 240, "[85, 10]", BOX) + seam("strap", "strap: box", "back")
REAR_STRAP = piece("strap", 30, 240, "[85, 10]", BEHIND, BOX) + seam("strap", "strap: box", "back")
# Hung behind the top, folded over it to the face: its strip reaches from 236 to 260, its end down to 144.
FLAP = piece(
    "flap", 160, 140, "[180, 236]", BEHIND, "turned_over = true", "folds = { top = [[0, 24], [160, 24]] }"
) + seam("flap", "flap: A-B", "back")
ROWS = "lines = { r1 = [[60, 170], [60, 194]], r2 = [[100, 170], [100, 194]], r3 = [[140, 170], [140, 194]] }"
BAYS = "lines = { r1 = [[6, 4], [6, 28]], r2 = [[56, 4], [56, 28]], r3 = [[106, 4], [106, 28]] }"
HOLDER = piece("back", 200, 260, "", ROWS) + piece("holder", 112, 32, "[54, 166]", BAYS, "flat = false")
HELD = "".join(seam(row, f"holder: {row}", f"back: {row}") for row in ("r1", "r2", "r3"))
DIVIDED = piece("back", 200, 260, "", "lines = { middle = [[100, 30], [100, 120]] }")
DIVIDED += piece("front", 140, 150, "[30, 16]", "lines = { middle = [[70, 14], [70, 104]] }")
DIVIDED += seam("front", "front: D-A-B-C", "back") + seam("divider", "front: middle", "back: middle")
OUTER = piece("outer", 160, 140, "[20, 8]") + seam("outer", "outer: D-A-B-C", "back")
SHEATH = "lines = { hang = [[12, 162], [32, 162], [32, 180], [12, 180], [12, 162]] }"
SHEATH = piece("sheath", 80, 188, "[80, 40]", BEHIND, "flat = false", SHEATH)
HUNG = piece(
    "back", 200, 260, "", "lines = { hang = [[92, 202], [112, 202], [112, 220], [92, 220], [92, 202]] }"
)
HUNG += SHEATH
TAB = seam("sheath tab", "back: hang", "sheath: hang")

# Title: the file, what comes before what, and why.
ASSEMBLIES: dict[str, tuple[str, list[tuple[str, str]], str]] = {
    "a pocket on the front before the front": (
        POCKET + LABEL,
        [("label", "front")],
        "its stitches go through the front alone: the back would lie behind them",
    ),
    "a stud in the front before the front": (
        POCKET + rivet("stud", "[[70, 120]]", "front"),
        [("stud", "front")],
        "the anvil does not get between front and back",
    ),
    "a loop riveted behind before the pocket over its rivets": (
        BACK
        + piece("loop", 30, 120, "[85, 60]", BEHIND, "flat = false")
        + rivet("loop", "[[94, 70], [106, 70]]", "back", "loop")
        + "places = { loop = [[9, 10], [21, 10]] }\n"
        + FRONT,
        [("loop", "front")],
        "the pocket would lie over the rivets' heads",
    ),
    "a plate behind before the leaf that hangs over it there": (
        BACK
        + piece("plate", 40, 30, "[80, 160]", BEHIND)
        + HANGING
        + seam("plate", "plate: A-B-C-D-A", "back"),
        [("plate", "leaf")],
        "the leaf would hang over the plate's stitches on the far face",
    ),
    "hardware before the lining is glued behind it": (
        BACK + piece("lining", 180, 240, "[10, 10]", BEHIND, "glued = true") + STUD,
        [("stud", "lining")],
        "the lining covers the rivet's back",
    ),
    "a pocket on a leaf before the leaf is hung": (
        BACK + LEAF + piece("label", 60, 40, "[50, 20]", on="leaf") + seam("label", "label: D-A-B-C", "leaf"),
        [("label", "leaf")],
        "the back would lie behind the label's stitches",
    ),
    "a tag behind before the strap that hangs over its row there": (
        BACK + piece("tag", 60, 30, "[70, 100]", BEHIND) + REAR_STRAP + seam("tag", "tag: A-B", "back"),
        [("tag", "strap")],
        "the strap would hang in the needle's way on the far face",
    ),
    "a ring's tab before the leaf that will cover it": (
        BACK + piece("tab", 20, 30, "[90, 180]") + LEAF + seam("tab", "tab: A-B-C-D-A", "back"),
        [("tab", "leaf")],
        "the leaf would have to be held back from every stitch",
    ),
    "a pocket before the strap that hangs down over its foot": (
        BACK + piece("front", 140, 150, "[30, 16]") + STRAP + seam("front", "front: D-A-B-C", "back"),
        [("front", "strap")],
        "the strap would hang over the foot's stitches",
    ),
    "a holder's rows before the leaf over them": (
        HOLDER + piece("leaf", 160, 100, "[20, 150]") + seam("leaf", "leaf: C-D", "back") + HELD,
        [("r1", "leaf"), ("r2", "leaf"), ("r3", "leaf")],
        "the leaf would lie over the rows",
    ),
    "a sheath's tab before the cover that hangs over it behind": (
        HUNG + piece("cover", 160, 100, "[20, 158]", BEHIND) + seam("cover", "cover: C-D", "back") + TAB,
        [("sheath tab", "cover")],
        "the cover would lie over the tab's stitches",
    ),
    "a divider's row before the pocket outside it": (
        DIVIDED + OUTER,
        [("divider", "outer"), ("front", "outer")],
        "the outer pocket would lie over both",
    ),
    "a rivet before the leaf in front of it": (
        BACK + LEAF + STUD,
        [("stud", "leaf")],
        "setter and anvil want both faces free",
    ),
    "a rivet before the leaf behind it": (
        BACK + HANGING + STUD,
        [("stud", "leaf")],
        "setter and anvil want both faces free",
    ),
    "a rivet before leaves on both faces": (
        BACK
        + LEAF
        + piece("rear leaf", 160, 100, "[20, 150]", BEHIND)
        + seam("rear leaf", "rear leaf: C-D", "back")
        + STUD,
        [("stud", "leaf"), ("stud", "rear leaf")],
        "setter and anvil want both faces free",
    ),
    "a tab's rivets behind before the sheath that hangs over them": (
        HUNG
        + TAB
        + piece("tab", 20, 60, "[90, 60]", BEHIND)
        + rivet("tab", "[[100, 70], [100, 110]]", "back", "tab"),
        [("tab", "sheath tab")],
        "the sheath would hang before the rivets",
    ),
    "a handle before the lining that is sewn behind it": (
        BACK
        + piece("lining", 180, 240, "[10, 10]", BEHIND)
        + piece("handle", 20, 100, "[90, 80]")
        + seam("lining", "lining: A-B-C-D-A", "back")
        + rivet("handle", "[[100, 90], [100, 170]]", "back", "handle"),
        [("handle", "lining")],
        "the lining hides the rivets' backs",
    ),
    "a patch inside the front before the front": (
        POCKET
        + piece("patch", 60, 60, "[40, 40]", BEHIND, on="front")
        + seam("patch", "patch: A-B-C-D-A", "front"),
        [("patch", "front")],
        "no needle goes in between front and back",
    ),
    "a pocket behind before the strap that hangs over its foot there": (
        BACK
        + piece("rear", 140, 150, "[30, 16]", BEHIND)
        + REAR_STRAP
        + seam("rear", "rear: D-A-B-C", "back"),
        [("rear", "strap")],
        "the strap would hang over the foot's stitches on the far face",
    ),
    "the lower of two leaves before the upper": (
        BACK
        + piece("lower", 120, 80, "[40, 60]")
        + piece("upper", 160, 150, "[20, 60]")
        + seam("upper", "upper: C-D", "back")
        + seam("lower", "lower: C-D", "back"),
        [("lower", "upper")],
        "the upper leaf would lie over the lower one's row",
    ),
    "a rivet before the leaf that is riveted on over it": (
        BACK
        + piece("leaf", 160, 100, "[20, 150]")
        + rivet("leaf", "[[40, 242], [160, 242]]", "back", "leaf")
        + STUD,
        [("stud", "leaf")],
        "a leaf that hangs by two rivets is in the way like one that is sewn",
    ),
    "a facing behind before the loop that crosses its row in front": (
        BACK
        + piece("facing", 100, 30, "[50, 100]", BEHIND)
        + piece("loop", 20, 120, "[90, 60]")
        + seam("loop, head", "loop: C-D", "back")
        + seam("loop, foot", "loop: A-B", "back")
        + seam("facing", "facing: A-B", "back"),
        [("facing", "loop, head"), ("facing", "loop, foot")],
        "the loop lies over the facing's row on the face",
    ),
    "a tag before the flap that folds over it": (
        BACK + FLAP + piece("tag", 60, 30, "[70, 190]") + seam("tag", "tag: A-B", "back"),
        [("tag", "flap")],
        "a flap is hung on after the seams it lies over",
    ),
    "a rivet before the strip of the flap behind it": (
        BACK + FLAP + rivet("stud", "[[100, 252]]", "back"),
        [("stud", "flap")],
        "the strip behind the top would cover the rivet's back",
    ),
    "three deep": (
        POCKET
        + LABEL
        + piece("badge", 24, 24, "[18, 8]", on="label")
        + seam("badge", "badge: A-B-C-D-A", "label"),
        [("badge", "label"), ("label", "front")],
        "each goes through what carries it alone",
    ),
    "a loop on the front before the front": (
        POCKET + piece("loop", 30, 60, "[55, 60]", on="front") + seam("loop", "loop: C-D", "front"),
        [("loop", "front")],
        "no needle comes out between front and back",
    ),
    "a keeper on a strap before the strap": (
        BACK
        + STRAP
        + piece("keeper", 20, 20, "[5, 60]", on="strap")
        + seam("keeper", "keeper: A-B-C-D-A", "strap"),
        [("keeper", "strap")],
        "the strap would lie on the back there",
    ),
    "a pocket before the flap over its mouth": (
        BACK + FLAP + FRONT,
        [("front", "flap")],
        "a flap is hung on after the seams it lies over",
    ),
    "a rivet in a pocket's front before a leaf hangs over it": (
        POCKET
        + piece("leaf", 160, 200, "[20, 50]")
        + seam("leaf", "leaf: C-D", "back")
        + rivet("stud", "[[70, 120]]", "front"),
        [("stud", "front"), ("stud", "leaf"), ("front", "leaf")],
        "front and leaf would lie on both sides of it, the leaf over the front's seam",
    ),
    "a pocket behind after the loop that it hides from behind": (
        BACK + REAR + piece("loop", 20, 60, "[90, 60]") + seam("loop", "loop: A-B-C-D-A", "back"),
        [("loop", "rear")],
        "the pocket behind would lie over the loop's stitches",
    ),
}


@pytest.mark.parametrize("title", ASSEMBLIES)
def test_what_would_be_hung_over_comes_first(planned: Make, head: str, title: str) -> None:
    text, pairs, why = ASSEMBLIES[title]
    told = planned(head + text)
    for first, then in pairs:
        assert told.tasks.index(first) < told.tasks.index(then), why


def test_the_table_is_as_large_as_promised() -> None:
    assert len(ASSEMBLIES) >= 25


HUNG_FIRST, FLAP_FIRST = 'after = ["leaf"]\n', 'after = ["flap"]\n'
TAG = piece("tag", 60, 30, "[70, 190]")
TAG_ROW = seam("tag", "tag: A-B", "back")

# Where no order frees a way: the file, all that is told of it, and how its step ends.
TOLD: dict[str, tuple[str, list[str], str]] = {
    "a leaf that the file wants on first is bent aside": (
        BACK + TAG + LEAF + TAG_ROW + HUNG_FIRST,
        [
            'p.toml:25: note: seam "tag": found holes 1 to 14 with "leaf" in front when worked: "leaf" '
            'before "tag" (the file says so); bend "leaf" aside meanwhile [way-not-free]'
        ],
        "Bend leaf aside: it lies over holes 1 to 14 in front.",
    ),
    "a flap that the file wants on first is laid back": (
        BACK + FLAP + TAG + TAG_ROW + FLAP_FIRST,
        [
            'p.toml:28: note: seam "tag": found holes 1 to 14 with "flap" folded over in front when worked: '
            '"flap" before "tag" (the file says so); lay "flap" back meanwhile [way-not-free]'
        ],
        "Lay flap back at its fold: it would lie over holes 1 to 14 in front.",
    ),
    "a strip between its row and its fold is held down": (
        BACK + FLAP + piece("tag", 20, 14, "[90, 244]") + seam("tag", "tag: C-D", "back", more=FLAP_FIRST),
        [
            'p.toml:28: warning: seam "tag": found holes 1 to 4 with "flap" held down behind when worked: '
            '"flap" before "tag" (the file says so); allowed: holes whose way is free on both faces of what '
            'is joined already; work it before what holds "flap" down, or move "flap" off its holes '
            "[way-not-free]"
        ],
        "Lift flap as far as it gives: it is held down over holes 1 to 4 behind.",
    ),
    "two leaves are told once, each with its holes": (
        BACK
        + piece("tag", 160, 30, "[20, 190]")
        + piece("left", 60, 100, "[10, 150]")
        + piece("right", 60, 100, "[130, 150]")
        + seam("left", "left: C-D", "back")
        + seam("right", "right: C-D", "back")
        + seam("tag", "tag: A-B", "back", more='after = ["left", "right"]\n'),
        [
            'p.toml:33: note: seam "tag": found holes 1 to 12 with "left" in front and holes 28 to 39 with '
            '"right" in front when worked: "left" before "tag" (the file says so), "right" before "tag" (the '
            'file says so); bend "left" and "right" aside meanwhile [way-not-free]'
        ],
        "Bend left and right aside: they lie over holes 1 to 12 and 28 to 39 in front.",
    ),
    "nothing of a leaf that lies beside": (
        BACK + piece("tag", 60, 30, "[70, 90]") + LEAF + TAG_ROW + HUNG_FIRST,
        [],
        "",
    ),
    "nothing of a leaf that is not joined yet": (BACK + TAG + TAG_ROW + LEAF, [], ""),
}


@pytest.mark.parametrize("title", TOLD)
def test_a_way_that_is_not_free_is_told_with_its_reason(planned: Make, head: str, title: str) -> None:
    text, told, bench = TOLD[title]
    plan = planned(head + text).plan
    assert [str(finding) for finding in plan.findings if finding.code == "way-not-free"] == told
    (step,) = [step for step in plan.steps if step.name == "tag" and step.kind.value == "seam"]
    assert step.what.partition(" holes, ")[2].partition(". ")[2].endswith(bench)
    assert (" over holes " in step.what) == bool(bench)


def test_reasons_say_what_would_lie_where(planned: Make, head: str) -> None:
    """Each is true of the other task's holes, on the face it names."""

    def why(text: str, then: str) -> list[tuple[str, str]]:
        seam = next(seam for seam in planned(head + text).plan.seams if seam.name == then)
        return [(before.name, before.why) for before in seam.after]

    assert why(*TOLD_WHY["front"]) == [("stud", '"leaf" would lie in front of the holes')]
    assert why(*TOLD_WHY["behind"]) == [("stud", '"leaf" would lie behind the holes')]
    assert why(*TOLD_WHY["fold"]) == [("tag", '"flap" would fold over the holes in front')]


TOLD_WHY = {
    "front": (BACK + LEAF + STUD, "leaf"),
    "behind": (BACK + HANGING + STUD, "leaf"),
    "fold": (BACK + FLAP + TAG + TAG_ROW, "flap"),
}


def test_what_hangs_already_is_held_again_only_when_the_hole_is_worked(planned: Make, head: str) -> None:
    """A wide loop held in its middle: by one end it bends aside; and no turn more for that."""
    rows = "lines = { head = [[40, 114], [20, 114]], foot = [[20, 6], [40, 6]] }"
    loop = piece("loop", 60, 120, "[70, 60]", rows)
    back = piece(
        "back", 200, 260, "", "lines = { head = [[110, 174], [90, 174]], foot = [[90, 66], [110, 66]] }"
    )
    tag = piece("tag", 14, 30, "[72, 100]")
    ends = seam("loop, head", "loop: head", "back: head") + seam("loop, foot", "loop: foot", "back: foot")
    row = seam("tag", "tag: A-B", "back", more='after = ["loop, head"]\n')
    told = planned(head + back + tag + loop + ends + row)
    assert told.tasks == ["loop, head", "tag", "loop, foot"]
    foot = next(seam for seam in told.plan.seams if seam.name == "loop, foot")
    assert [(before.name, before.why) for before in foot.after] == [
        ("tag", '"loop" could no longer be bent aside')
    ]
    behind = tag.replace("at = [72, 100]", "at = [72, 100]\nbehind = true")
    assert planned(head + back + behind + loop + ends + row).tasks == ["loop, head", "loop, foot", "tag"]
