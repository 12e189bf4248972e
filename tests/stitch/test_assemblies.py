"""Small assemblies whose first step the trade knows, and two laws of every order.

First steps are common practice (trade pages on wallets, bags, sheaths and belts): what will be
covered comes before what covers it, inner seams before outer ones, caps after the seams they would
foul, what is flat before what bends.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise, permutations
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from written_tables import piece, seam

from handkit.errors import ProjectError

Make = Callable[[str], Any]


def opening(name: str, kind: str, at: str, *through: str) -> str:
    size = "slot = [30, 4]" if kind == "slot" else "hole = 3" + ("" if kind == "tongue" else "\ncap = 9")
    pieces = ", ".join(f'"{name}"' for name in through)
    return f'[[opening]]\nname = "{name}"\nkind = "{kind}"\n{size}\nthrough = [{pieces}]\nat = [{at}]\n'


BACK = piece("back", 200, 260)
FRONT = piece("front", 140, 150, 'on = "back"', "at = [30, 16]")
SEWN = seam("front", "front: D-A-B-C", "back")
POCKET = BACK + FRONT + SEWN
LABEL = piece("label", 60, 40, 'on = "front"', "at = [40, 40]") + seam("label", "label: D-A-B-C", "front")
SHEATH = piece("sheath", 100, 160, "folds = { spine = [[50, 0], [50, 160]] }")
SIDE = seam("side", "sheath: D-A", "sheath: C-B")
CARD = piece("card", 120, 80, 'on = "back"', "at = [40, 70]")
LOOP = piece("loop", 30, 120, 'on = "back"', "at = [85, 60]", "behind = true", "flat = false")
GUSSET = piece("gusset", 296, 40, 'on = "back"', "flat = false")
PANELS = piece("back", 120, 100) + piece("front", 120, 100) + GUSSET
BOX = seam("front, gusset", "front: D-A-B-C", "gusset: A-B", more="bowed = true\n")
BOX += seam("back, gusset", "back: D-A-B-C", "gusset: D-C", more="bowed = true\n")
LINING = piece(
    "lining", 124, 138, 'on = "front"', "behind = true", "glued = true", "at = [8, 12]", "thickness = 1"
)
PATCH = piece("patch", 60, 60, 'on = "front"', "at = [40, 40]", "glued = true")
BOWED = piece("bowed", 148, 150, 'on = "back"', "at = [26, 16]", "flat = false")
LINES = "lines = { left = [[30, 165], [30, 20]], right = [[170, 20], [170, 165]], "
LINES += "foot = [[89, 64], [111, 64]] }"
BAG = piece("back", 200, 260, LINES) + BOWED
BAG += seam("left", "bowed: D-A", "back: left", more="bowed = true\n")
BAG += seam("right", "bowed: B-C", "back: right", more="bowed = true\n")
FLAP = piece("flap", 180, 100, 'on = "back"', "at = [10, 150]") + seam("flap", "flap: C-D", "back")
PLATE = piece("plate", 60, 40, 'on = "back"', "at = [70, 190]", "behind = true")
PLATE += seam("plate", "plate: D-A-B-C", "back")

FOLDED_BEHIND = ('on = "back"', "at = [20, 236]", "behind = true", "folds = { top = [[0, 24], [160, 24]] }")

# Title: the file, and the works in order; the first is what the trade knows.
ASSEMBLIES: dict[str, tuple[str, list[str]]] = {
    "a label before the pocket it is on": (POCKET + LABEL, ["label", "front"]),
    "a rivet under a pocket": (POCKET + opening("ring", "rivet", "[100, 90]", "back"), ["ring", "front"]),
    "an eyelet in the pocket's front": (
        POCKET + opening("eye", "eyelet", "[70, 90]", "front"),
        ["eye", "front"],
    ),
    "caps after the seam they would foul": (
        opening("corner", "rivet", "[9, 141]", "front", "back") + POCKET,
        ["front", "corner"],
    ),
    "a handle's rivet beside a pocket": (
        POCKET + opening("handle", "rivet", "[100, 230]", "back"),
        ["front", "handle"],
    ),
    "a flap is hung on after the pocket it lies over": (POCKET + FLAP, ["front", "flap"]),
    "a rivet before the flap over it": (
        BACK + FLAP + opening("stud", "rivet", "[100, 190]", "back"),
        ["stud", "flap"],
    ),
    "a tube closes what is on it": (
        SHEATH + SIDE + opening("loop rivet", "rivet", "[25, 100]", "sheath"),
        ["loop rivet", "side"],
    ),
    "a stud in a flap far from its row, while the work lies that side up": (
        BACK
        + piece("flap", 160, 140, *FOLDED_BEHIND)
        + seam("flap", "flap: A-B", "back")
        + opening("stud", "rivet", "[80, 100]", "flap"),
        ["stud", "flap"],
    ),
    "a rivet in a flap beside its row, whose caps would foul it": (
        BACK
        + piece("flap", 160, 140, *FOLDED_BEHIND)
        + seam("flap", "flap: A-B", "back")
        + opening("stud", "rivet", "[80, 28]", "flap"),
        ["flap", "stud"],
    ),
    "a slot for a strap is cut flat": (
        POCKET + opening("slot", "slot", "[100, 240]", "back"),
        ["slot", "front"],
    ),
    "tongue holes of one piece are cut flat": (
        POCKET + LABEL + opening("tongue", "tongue", "[70, 120]", "front"),
        ["tongue", "label", "front"],
    ),
    "holes through both layers wait for the seam": (
        POCKET + opening("hole", "tongue", "[70, 90]", "front", "back"),
        ["front", "hole"],
    ),
    "what is on the gusset and on a panel": (
        PANELS
        + BOX
        + opening("ring", "rivet", "[148, 20]", "gusset")
        + opening("stud", "rivet", "[60, 40]", "front"),
        ["ring", "stud", "front, gusset", "back, gusset"],
    ),
    "a stud before the lining that covers it": (
        POCKET + LINING + opening("stud", "eyelet", "[70, 120]", "front"),
        ["stud", "lining", "front"],
    ),
    "a patch is glued before its pocket is sewn": (POCKET + PATCH, ["patch", "front"]),
    "a rivet under a glued patch": (
        POCKET + PATCH + opening("stud", "rivet", "[70, 70]", "front"),
        ["stud", "patch", "front"],
    ),
    "a glued patch is glued before it is sewn": (
        POCKET + PATCH + seam("patch", "patch: A-B-C-D-A", "front"),
        ["patch", "patch", "front"],
    ),
    "a patch is glued before what goes through it": (
        POCKET
        + PATCH
        + piece("badge", 24, 24, 'on = "patch"', "at = [18, 18]")
        + opening("stud", "rivet", "[12, 12]", "badge", "patch", "front"),
        ["patch", "stud", "front"],
    ),
    "a rivet close under a mouth's edge": (
        POCKET + opening("ring", "rivet", "[100, 164]", "back"),
        ["ring", "front"],
    ),
    "the side that lies up first, whatever the file's order": (
        BACK
        + piece("under", 30, 20, 'on = "back"', "at = [80, 215]", "behind = true")
        + piece("over", 30, 20, 'on = "back"', "at = [10, 200]")
        + seam("under", "under: A-B", "back")
        + seam("over", "over: A-B", "back"),
        ["over", "under"],
    ),
    "card slots: the foot first": (
        BACK + CARD + FRONT + SEWN + seam("foot", "card: A-B", "back"),
        ["foot", "front"],
    ),
    "three deep: the innermost first": (
        POCKET
        + LABEL
        + piece("badge", 24, 24, 'on = "label"', "at = [18, 8]")
        + seam("badge", "badge: A-B-C-D-A", "label"),
        ["badge", "label", "front"],
    ),
    "the file says the flap comes first": (
        POCKET + 'after = ["flap"]\n' + FLAP,
        ["flap", "front"],
    ),
    "a label is glued before the first of the rows that close over it": (
        BACK
        + seam("left", "front: D-A", "back")
        + seam("foot", "front: A-B", "back")
        + seam("right", "front: B-C", "back")
        + piece("care", 40, 30, 'on = "back"', "at = [80, 60]", "glued = true")
        + FRONT,
        ["care", "left", "foot", "right"],
    ),
    "flat before what bends": (
        BAG + piece("tag", 30, 20, 'on = "back"', "at = [80, 215]") + seam("tag", "tag: A-B", "back"),
        ["tag", "left", "right"],
    ),
    "a loop behind before a bag hangs by its first side": (
        BAG + LOOP + seam("loop", "back: foot", "loop: A-B"),
        ["loop", "left", "right"],
    ),
    "all that goes on from one side before the work is turned": (
        BACK
        + PLATE
        + piece("tag", 30, 20, 'on = "back"', "at = [10, 200]")
        + seam("tag", "tag: A-B", "back")
        + piece("foot", 60, 40, 'on = "back"', "at = [70, 20]", "behind = true")
        + seam("foot", "foot: D-A-B-C", "back"),
        ["tag", "plate", "foot"],
    ),
    "a mouth's hem before the pocket": (
        POCKET + piece("hem", 116, 12, 'on = "front"', "at = [12, 138]") + seam("hem", "hem: C-D", "front"),
        ["hem", "front"],
    ),
    "inner pieces before outer ones, else by the file": (
        BACK
        + FLAP
        + piece("clasp", 30, 40, 'on = "flap"', "at = [75, 10]")
        + seam("clasp", "clasp: C-D", "flap"),
        ["clasp", "flap"],
    ),
    "a seam that closes comes last of what is free": (
        POCKET + piece("tag", 30, 20, 'on = "back"', "at = [80, 215]") + seam("tag", "tag: A-B", "back"),
        ["tag", "front"],
    ),
    "a stud beside the seam of what stands": (
        piece("front", 120, 100)
        + piece("floor", 120, 40)
        + seam("foot", "front: A-B", "floor: D-C")
        + opening("stud", "rivet", "[60, 14]", "front"),
        ["stud", "foot"],
    ),
    "a tag before a wall is set upon its piece": (
        piece("back", 200, 200, "lines = { middle = [[64, 100], [136, 100]] }")
        + "".join(piece(name, 80, 40, 'on = "back"', "flat = false") for name in ("wall", "front"))
        + seam("wall", "wall: A-B", "back: middle")
        + seam("front", "wall: C-D", "front: A-B")
        + piece("loop", 86, 16, "lines = { near = [[6, 4], [6, 12]], far = [[80, 4], [80, 12]] }")
        + seam("ring", "loop: near", "loop: far")
        + piece("tag", 30, 20, 'on = "back"', "at = [80, 20]")
        + seam("tag", "tag: A-B", "back", more='after = ["ring"]\n'),
        ["front", "ring", "tag", "wall"],
    ),
    "both walls on one panel before the other closes": (
        "".join(piece(name, 120, 100) for name in ("front", "back"))
        + "".join(piece(name, 40, 100) for name in ("left", "right"))
        + seam("left, front", "left: B-C", "front: A-D")
        + seam("left, back", "left: A-D", "back: A-D")
        + seam("right, front", "right: B-C", "front: B-C")
        + seam("right, back", "right: A-D", "back: B-C"),
        ["left, front", "right, front", "left, back", "right, back"],
    ),
    "handles on both panels before a zip hangs these together": (
        "".join(
            piece(name, 120, 100, "lines = { tab = [[54, 70], [66, 70]] }", *more)
            for name, *more in (("back",), ("front", 'on = "back"', "flat = false"))
        )
        + "".join(seam(f"zip, {name}", f"{name}: D-C") for name in ("front", "back"))
        + "".join(
            piece(f"{name} handle", 20, 90, "lines = { end = [[4, 4], [16, 4]] }", f'on = "{name}"', *more)
            + seam(f"{name} handle", f"{name} handle: end", f"{name}: tab")
            for name, *more in (("front", "flat = false"), ("back", "flat = false", "behind = true"))
        )
        + piece("gusset", 296, 40, 'on = "back"', "flat = false")
        + BOX
        + '[[fitting]]\nname = "zip"\nkind = "zip"\nlength = 90\ntape = 14\n'
        + 'seams = ["zip, front", "zip, back"]\n',
        ["front handle", "back handle", "zip, front", "zip, back", "front, gusset", "back, gusset"],
    ),
    "a pocket's edges are stuck and sewn before the row that parts it": (
        BACK
        + piece(
            "front", 140, 150, 'on = "back"', "at = [30, 16]", "lines = { parted = [[70, 10], [70, 140]] }"
        )
        + seam("parted", "front: parted", "back")
        + SEWN,
        ["front", "parted"],
    ),
    "of cloth, which nothing is stuck on, in the order of the file": (
        BACK.replace("[200, 260]", '[200, 260]\nkind = "canvas"')
        + piece(
            "front", 140, 150, 'on = "back"', "at = [30, 16]", "lines = { parted = [[70, 10], [70, 140]] }"
        )
        + seam("parted", "front: parted", "back")
        + SEWN,
        ["parted", "front"],
    ),
    "a hem while its piece is single": (
        BACK
        + piece("tag", 30, 20, 'on = "back"', "at = [80, 215]")
        + seam("tag", "tag: A-B", "back")
        + seam("hem", "back: C-D"),
        ["hem", "tag"],
    ),
}


@pytest.mark.parametrize("title", ASSEMBLIES)
def test_the_trades_order(planned: Make, head: str, title: str) -> None:
    text, tasks = ASSEMBLIES[title]
    assert planned(head + text).tasks == tasks


def test_the_table_is_as_large_as_promised() -> None:
    assert len(ASSEMBLIES) >= 20


def nothing(*_: Any, **__: Any) -> tuple[()]:
    return ()


# Every kind of reason: what holds it, and what there is without it.
REASONS: dict[str, tuple[str, Any]] = {
    "it is closed in": ("order.order._closed", nothing),
    "it is glued before it is held": ("order.order._glued", nothing),
    "the file says so": ("order.order._as_stated", nothing),
    "it hangs by its first row": ("order.order._first_rows", nothing),
    "something would lie over it": ("order.reach.Coverings.heed", nothing),
    "it lies flat": ("order.order.flat_first", nothing),
    "it lies by itself": ("planner.alone_first", nothing),
    "its edges are stuck": ("planner.stuck_first", nothing),
    "the inside is open": ("order.order.closing_last", nothing),
    "caps foul the clamp": ("order.order._hardware_last", nothing),
    "the work stays flat": ("order.order._after_a_bend", lambda *_: set()),
    "it is turned least": ("order.tasks._behind", lambda *_: False),
    "inner pieces first, closing seams last": ("order.order._rank", lambda *_: (0, 0)),
    "holes of one piece are cut flat": (
        "order.order.is_plain_hole steps.steps.is_plain_hole steps.prepared.is_plain_hole",
        lambda _: False,
    ),
}


@pytest.mark.long
@pytest.mark.parametrize("reason", REASONS)
def test_no_reason_is_idle(planned: Make, head: str, reason: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without it, some assembly of the table is worked in another order, or can't be."""
    names, without = REASONS[reason]
    for name in names.split():
        monkeypatch.setattr(f"handkit.stitch.{name}", without)

    def order(text: str) -> list[str] | None:
        try:
            tasks: list[str] = planned(head + text).tasks
        except ProjectError:
            return None
        return tasks

    assert any(order(text) != tasks for text, tasks in ASSEMBLIES.values())


@dataclass(frozen=True)
class Patch:
    """A rectangle on the back, in the back's frame, and how it is held."""

    name: str
    left: float
    bottom: float
    width: float
    height: float
    held: str  # "U", "row", "box" or "glue"


@st.composite
def patches(draw: st.DrawFn) -> list[Patch]:
    found = []
    for index in range(draw(st.integers(1, 3))):
        left, bottom = draw(st.integers(0, 8)) * 10, draw(st.integers(0, 8)) * 10
        width, height = draw(st.integers(5, 10)) * 10, draw(st.integers(5, 10)) * 10
        held = draw(st.sampled_from(["U", "row", "box", "glue"]))
        found.append(Patch(f"p{index}", left, bottom, width, height, held))
    return found


RUNS = {"U": "D-A-B-C", "row": "C-D", "box": "A-B-C-D-A"}


def written(pieces: list[Patch], studs: list[tuple[float, float]]) -> str:
    text = piece("back", 200, 200)
    for p in pieces:
        glued = ("glued = true",) if p.held == "glue" else ()
        text += piece(p.name, p.width, p.height, 'on = "back"', f"at = [{p.left}, {p.bottom}]", *glued)
    for p in pieces:
        if p.held in RUNS:
            text += seam(p.name, f"{p.name}: {RUNS[p.held]}", "back")
    for number, (x, y) in enumerate(studs):
        text += opening(f"stud{number}", "rivet", f"[{x}, {y}]", "back")
    return text


def closes_over(p: Patch, x: float, y: float) -> bool:
    """Whether a patch that is held lies over a place of the back and can't be lifted from it."""
    if p.held == "row":
        return False  # it folds back
    rim = 0.0 if p.held == "glue" else 5.0  # the seam's line and a hair
    top = p.bottom + p.height - rim
    return p.left + rim < x < p.left + p.width - rim and p.bottom + rim < y < top


places = st.lists(st.tuples(st.integers(1, 19), st.integers(1, 19)), max_size=3, unique=True)


@pytest.mark.long
@settings(derandomize=True, deadline=None, max_examples=150)
@given(patches(), places)
def test_nothing_is_done_where_an_earlier_step_has_closed_it_in(
    planned: Make, head: str, pieces: list[Patch], grid: list[tuple[int, int]]
) -> None:
    """Rivets in the back, and patches over them: each order told is followed with the file in hand."""
    studs = [(10.0 * x, 10.0 * y) for x, y in grid]
    try:
        told = planned(head + written(pieces, studs))
    except ProjectError:
        assume(False)
    by_name = {p.name: p for p in pieces}
    done: list[Patch] = []
    for name in told.tasks:
        if name.startswith("stud"):
            x, y = studs[int(name.removeprefix("stud"))]
            assert not any(closes_over(p, x, y) for p in done), (name, told.tasks)
        else:
            done.append(by_name[name])


@settings(derandomize=True, deadline=None, max_examples=40)
@given(st.lists(st.tuples(st.booleans(), st.integers(0, 9)), min_size=2, max_size=6))
def test_the_work_is_turned_no_more_than_it_must(
    planned: Make, head: str, tags: list[tuple[bool, int]]
) -> None:
    """Tags sewn to either side, each perhaps after an earlier one: all orders are tried. The back is laid
    down as the first tag wants it."""
    text = piece("back", 200, 400)
    waits: dict[int, int] = {}
    for k, (behind, after) in enumerate(tags):
        more = ('on = "back"', f"at = [20, {20 + 60 * k}]", *(("behind = true",) if behind else ()))
        text += piece(f"t{k}", 40, 40, *more)
        if after < k:
            waits[k] = after
    for k in range(len(tags)):
        told_after = f'after = ["t{waits[k]}"]\n' if k in waits else ""
        text += seam(f"t{k}", f"t{k}: C-D", "back", more=told_after)

    def turns(order: tuple[int, ...]) -> int:
        sides = [tags[k][0] for k in order]
        return sum(a != b for a, b in pairwise(sides))

    ways = [
        order
        for order in permutations(range(len(tags)))
        if all(order.index(a) < order.index(k) for k, a in waits.items())
    ]
    told = planned(head + text)
    assert turns(tuple(int(name[1:]) for name in told.tasks)) == min(map(turns, ways))
    assert told.kinds().count("turn") == min(map(turns, ways))
