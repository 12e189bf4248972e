"""Needles led through the holes by the plan's JSON, every strand added up as it is laid.

Nothing of the planning is used: where the holes are is asked of the punching, which way the needles
go of the plan as another program reads it. A strand is as long as from point to point in space; a
passage is as long as the layers are thick.
"""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from itertools import pairwise
from math import dist, hypot
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from handkit.cli import main
from handkit.kit import punched_of

THREAD = 0.001  # mm; what two sums of one thread may differ by

HEAD = """format = 1
[material]
thickness = 2.4
[stitching]
pitch = 4
inset = 4
thread = 0.8
tail = 150
"""

UNDER = '[[piece]]\nname = "under"\n{}\n'
UPPER = '[[piece]]\nname = "upper"\n{}\non = "under"\n'
SEAM = '[[seam]]\nname = "row"\nruns = ["upper: {}", "{}"]\n'


def two(shape: str, run: str, other: str = "under", more: str = "", over: str = "") -> str:
    """A piece on one of the same shape, or on another."""
    upper = UPPER.format(shape + "\nthickness = 1.7")
    upper = upper + "flat = false\n" if over else upper
    return HEAD + UNDER.format(over or shape) + upper + SEAM.format(run, other) + more


CASES = {
    "straight": two("rectangle = [207.3, 40]", "A-B"),
    "straight, back at the start": two("rectangle = [207.3, 40]", "A-B", more="start_back = 3\nback = 1\n"),
    "curved": two('points = [[0, 0], [180, 0], [180, 90], [0, 90]]\narc = { "A-B" = 31 }', "A-B"),
    "cornered": two("points = [[0, 0], [101, 7], [120, 83], [-9, 77]]", "D-A-B-C"),
    "closed": two("rectangle = [83, 61]\nround = 17", "A-B-C-D-A", more="back = 3\n"),
    "a circle": two("circle = 77", "A-A"),
    "unlike pitch": two(
        "rectangle = [150, 40]", "A-B", "under: A-B", "bowed = true\n", "rectangle = [161.9, 40]"
    ),
    "unlike corners": two(
        "points = [[0, 0], [101, 7], [120, 83], [-9, 77]]",
        "D-A-B-C",
        "under: D-A-B-C",
        "bowed = true\n",
        "points = [[0, 0], [111, 7], [131, 85], [-9, 80]]",
    ),
    "in three threads": two("rectangle = [500, 40]", "A-B", more="longest = 900\n"),
}


@dataclass
class Needle:
    """Where a needle is, and the thread it has laid."""

    face: str
    laid: list[float] = field(default_factory=list)
    passed: list[int] = field(default_factory=list)


@pytest.fixture(scope="module", params=CASES, ids=str)
def case(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> tuple[Any, Any]:
    """A seam's plan as told to other programs, and its layers' holes."""
    return planned(CASES[request.param], tmp_path_factory.mktemp("needles"))


def planned(text: str, folder: Path) -> tuple[Any, Any]:
    file = folder / "p.toml"
    file.write_text(text, "utf-8")
    told = CliRunner().invoke(main, ["plan", str(file), "--format", "json"])
    (seam,) = json.loads(told.stdout)["seams"]
    punched = punched_of(file)
    layers = {layer.run: {hole.number: hole.at for hole in layer.holes} for layer in punched.seams[0].layers}
    thick = sum(punched.pattern.piece(layer.piece).thickness for layer in punched.seams[0].layers)
    return seam, (layers[seam["face"]], layers[seam["back"]], thick)


def sew(seam: Any, holes: Any, first: int, last: int) -> tuple[Needle, Needle]:
    """Both needles from one place of the walk to another; the thread hangs by its middle in the first."""
    front, back, thick = holes
    places = {"front": front, "back": back}
    across = {"front": "back", "back": "front"}
    needles = (Needle("front", [thick / 2]), Needle("back", [thick / 2]))
    for here, there in zip(seam["walk"][first:last], seam["walk"][first + 1 : last + 1], strict=True):
        for needle in needles:
            layer = places[needle.face]
            needle.laid.append(dist(layer[here], layer[there]))
            needle.face = across[needle.face]
            needle.laid.append(thick)
            needle.passed.append(there)
        assert {needle.face for needle in needles} == {"front", "back"}
    return needles


def test_strands_add_up_to_the_stated_thread(case: tuple[Any, Any]) -> None:
    seam, holes = case
    for thread in seam["threads"]:
        needles = sew(seam, holes, thread["from"], thread["to"])
        laid = sum(sum(needle.laid) for needle in needles)
        stated = thread["cut_mm"] - thread["tails_mm"] - thread["wraps_mm"]
        assert laid == pytest.approx(stated, abs=THREAD)


# Layers that go part of the way: each hole has the stack of the layers it goes through, and a strand
# lies on the layer nearest to its side that both of its holes go through.

STEPPED = {
    "steps on a base": ("rectangle = [160, 90]", "under: D-A-B-C", ["rectangle = [160, 61.3]"]),
    "three steps": (
        "rectangle = [120, 90]",
        "under: D-A-B-C",
        ["rectangle = [120, 70.2]", "rectangle = [120, 50.9]\nthickness = 1.1", "rectangle = [120, 33]"],
    ),
    "all round": (
        "rectangle = [120, 90]\nround = 9",
        "under: A-B-C-D-A",
        ["rectangle = [61.5, 90]", "points = [[70.3, 0], [120, 0], [120, 90], [70.3, 40]]"],
    ),
    "a skived end": (
        "rectangle = [160, 60]",
        "under: A-B",
        ['rectangle = [90.1, 40]\nskive = { "B-C" = { width = 20, to = 0.8 } }'],
    ),
}


@pytest.mark.parametrize("name", STEPPED)
def test_strands_over_layers_that_go_part_of_the_way(tmp_path: Path, name: str) -> None:
    shape, run, steps = STEPPED[name]
    pieces = "".join(f'[[piece]]\nname = "step {k}"\non = "under"\n{s}\n' for k, s in enumerate(steps))
    runs = ", ".join(f'"{one}"' for one in (run, *(f"step {k}" for k in range(len(steps)))))
    file = tmp_path / "p.toml"
    seam_text = f'[[seam]]\nname = "row"\nruns = [{runs}]\nback = 2\nlongest = 900\n'
    file.write_text(HEAD + UNDER.format(shape) + pieces + seam_text, "utf-8")
    told = json.loads(CliRunner().invoke(main, ["plan", str(file), "--format", "json"]).stdout)
    (seam,) = told["seams"]
    layers = layers_from_the_face(
        json.loads(CliRunner().invoke(main, ["pieces", str(file), "--format", "json"]).stdout), steps
    )
    if "skive" not in steps[0]:
        assert all(m["stack_mm"] == pytest.approx(stack_of(layers, m["to"])) for m in seam["moves"])
    for thread in seam["threads"]:
        walk = seam["walk"][thread["from"] : thread["to"] + 1]
        laid = stack_of(layers, walk[0])
        for here, there in pairwise(walk):
            for side in (layers, layers[::-1]):
                holes = next(holes for holes, _ in side if here in holes and there in holes)
                laid += dist(holes[here], holes[there]) + stack_of(layers, there)
        stated = thread["cut_mm"] - thread["tails_mm"] - thread["wraps_mm"]
        # To half a thousandth for each hole: the pieces' places are told so, and a chord has two.
        assert laid == pytest.approx(stated, abs=0.001 * len(walk))


def layers_from_the_face(told: Any, steps: list[str]) -> list[tuple[dict[int, Any], Any]]:
    """Each layer's holes in the base's frame by number, with its thickness there: the last step on top."""
    found = []
    for piece in told["pieces"]:
        assert piece["placed"] == [1, 0, 0, 1, 0, 0]
        holes = {hole["number"]: (hole["x"], hole["y"]) for hole in piece["holes"]}
        full = piece["thickness_mm"]
        end = 90.1 if "skive" in steps[0] and piece["name"] != "under" else None
        found.append((holes, lambda at, full=full, end=end: thickness(full, at, end)))
    return found[::-1]


def thickness(full: float, at: Any, end: float | None) -> float:
    """Skived evenly down to 0.8 over the last 20 mm before x = `end`."""
    return full if end is None else 0.8 + (full - 0.8) * min(abs(end - at[0]) / 20, 1.0)


def stack_of(layers: list[tuple[dict[int, Any], Any]], hole: int) -> float:
    return float(sum(thick(holes[hole]) for holes, thick in layers if hole in holes))


def test_both_needles_pass_every_hole_but_an_open_seams_first(case: tuple[Any, Any]) -> None:
    seam, holes = case
    back_at_start = seam["walk"][0] != 1
    for needle in sew(seam, holes, 0, len(seam["walk"]) - 1):
        missed = set(range(1, seam["holes"] + 1)) - set(needle.passed)
        assert missed == (set() if seam["closed"] or back_at_start else {1})


def test_the_way_tells_every_place_of_the_walk(case: tuple[Any, Any]) -> None:
    seam, _ = case
    assert [step["hole"] for step in seam["way"]] == seam["walk"]
    assert {step["first"] for step in seam["way"]} == {"front"}  # never swapped in mid-seam
    starts = [place for place, step in enumerate(seam["way"]) if {"start", "join"} & set(step["at"])]
    ends = [place for place, step in enumerate(seam["way"]) if "end" in step["at"]]
    assert starts == [thread["from"] for thread in seam["threads"]]
    assert ends == [thread["to"] for thread in seam["threads"]]


# Seams that go on into one another: each thread is led through all of its seams, hole after hole. The
# front is skived at its foot, so that the stack changes from hole to hole up both sides.

BOWED = """longest = {longest}
[[piece]]
name = "back"
rectangle = [200, 220]
[[item]]
name = "hank"
in = "pocket"
size = [76, 24, {tall}]
[[part]]
name = "pocket"
kind = "bowed pocket"
on = "back"
at = [30, 10]
[[piece]]
name = "pocket"
thickness = 1.7
skive = {{ "A-B" = {{ width = 50, to = 0.9 }} }}
"""
SKIVED = (0.9, 1.7, 50.0)  # down to, full, over so many mm
ROWS = {  # how far one needle's side of the thread may go, the item's length, how many threads that makes
    "one thread": (5000, 150, 1),
    "a join on the way": (800, 150, 2),
    # 9 + 27 + 9 stitches and four back, six to a thread (100 mm, 15 each) of which two are sewn again.
    "joins everywhere": (200, 60, 12),
}


@pytest.mark.parametrize("name", ROWS)
def test_strands_of_threads_that_go_through_several_seams(tmp_path: Path, name: str) -> None:
    longest, tall, count = ROWS[name]
    file = tmp_path / "p.toml"
    file.write_text(HEAD + BOWED.format(longest=longest, tall=tall), "utf-8")
    told = json.loads(CliRunner().invoke(main, ["plan", str(file), "--format", "json"]).stdout)
    punched = punched_of(file)
    holes = {
        (seam.name, layer.piece): {hole.number: hole.at for hole in layer.holes}
        for seam in punched.seams
        for layer in seam.layers
    }
    walks = {seam["name"]: seam["walk"] for seam in told["seams"]}
    to, full, over = SKIVED
    pieces = json.loads(CliRunner().invoke(main, ["pieces", str(file), "--format", "json"]).stdout)["pieces"]
    outline = next(piece["outline"] for piece in pieces if piece["name"] == "pocket")
    foot = sorted(x for x, y in outline if y == 0)
    assert len(told["cut_threads"]) == count
    for thread in told["cut_threads"]:
        places: list[tuple[Any, Any]] = []  # on the front and on the back
        for part in thread["parts"]:
            front, back = holes[part["seam"], "pocket"], holes[part["seam"], "back"]
            way = [(front[k], back[k]) for k in walks[part["seam"]][part["from"] : part["to"] + 1]]
            if places:  # it goes on from the hole that it is in
                assert max(dist(*pair) for pair in zip(places[-1], way[0], strict=True)) < 0.01
            places += way[1:] if places else way
        off = [hypot(max(foot[0] - x, 0, x - foot[-1]), y) for (x, y), _ in places]  # the sides lean out
        stacks = [2.4 + to + (full - to) * min(far / over, 1.0) for far in off]
        laid = stacks[0] + sum(
            dist(a[0], b[0]) + dist(a[1], b[1]) + 2 * stack
            for (a, b), stack in zip(pairwise(places), stacks[1:], strict=True)
        )
        # Stacks are told to a thousandth of a mm.
        assert thread["cut_mm"] - 300 == pytest.approx(laid, abs=0.001 * len(places)), thread["order"]


# Other stitches, point by point in space: the front at z = thick, the back at z = 0, the seam along x.


def length(points: list[tuple[float, float, float]]) -> float:
    return sum(dist(a, b) for a, b in pairwise(points))


def one_thread(kind: str, folder: Path, *, more: str = "", wide: float = 97.0) -> Any:
    text = two(f"rectangle = [{wide}, 40]", "A-B", "under: A-B", f'stitch = "{kind}"\n{more}')
    seam, holes = planned(text, folder)
    (thread,) = seam["threads"]
    return seam, holes, thread["cut_mm"] - thread["tails_mm"] - thread["wraps_mm"]


@pytest.mark.parametrize(("wide", "back"), [(97.0, 0), (97.0, 2), (101.0, 3), (101.0, 0)])
def test_running_there_and_back(tmp_path: Path, wide: float, back: int) -> None:
    """One needle, up from behind and down again in turn; both ends come to lie behind."""
    seam, (front, _, thick), stated = one_thread("running", tmp_path, more=f"back = {back}\n", wide=wide)
    xs = [front[hole][0] for hole in seam["walk"]]
    points = [(xs[0], 0.0, 0.0), (xs[0], 0.0, thick)]
    for before, x in pairwise(xs):
        z = points[-1][2]
        assert points[-1][0] == before
        points += [(x, 0.0, z), (x, 0.0, thick - z)]
    if points[-1][2] == thick:  # it would end in front: it does not go through
        points.pop()
    assert points[-1][2] == 0.0
    assert length(points) == pytest.approx(stated, abs=THREAD)
    strands = {}
    for step, move in zip(seam["way"], seam["moves"], strict=False):
        face = "front" if move["front_mm"] else "back"
        assert face != step["first"]  # in from one side, on along the other
        strands.setdefault(frozenset((move["from"], move["to"])), []).append(face)
    assert all(sorted(faces)[:2] == ["back", "front"] or len(faces) > 2 for faces in strands.values())


def test_box_stitch(tmp_path: Path) -> None:
    """Two faces at a right angle, their edges one line; holes 4 and 4 from it."""
    seam, (front, back, _), stated = one_thread("box", tmp_path)
    faces = {
        "front": [(x, y, 0.0) for x, y in front.values()],
        "back": [(x, 0.0, y) for x, y in back.values()],
    }
    total = dist(faces["front"][0], faces["back"][0])
    assert total == pytest.approx(hypot(4, 4))
    for a, b in pairwise(seam["walk"]):
        for face in faces.values():
            total += dist(face[a - 1], face[b - 1]) + dist(faces["front"][b - 1], faces["back"][b - 1])
    assert total == pytest.approx(stated, abs=THREAD)


def test_cross_stitch(tmp_path: Path) -> None:
    """Two pieces side by side, 1.7 and 2.4 thick; each needle's points, from under the first holes."""
    seam, (front, _, thick), stated = one_thread("cross", tmp_path)
    assert thick == pytest.approx(4.1)
    deep = {1.0: 1.7, -1.0: 2.4}  # on either side of the edge
    xs = [front[hole][0] for hole in seam["walk"]]
    total = 8.0  # the middle of the thread, under the first two holes
    for side in (1.0, -1.0):
        points = [(xs[0], 4 * side, -deep[side]), (xs[0], 4 * side, 0.0)]
        for x in xs[1:]:
            over = -side
            points += [(x, 4 * over, 0.0), (x, 4 * over, -deep[over])]  # across on top, and down
            # behind, straight across between the pieces' backs: they are flush there
            total += length(points)
            points = [(x, 4 * side, -deep[side]), (x, 4 * side, 0.0)]
            total += 8.0
        total += length(points)
    assert total == pytest.approx(stated, abs=THREAD)


def test_whip_stitch(tmp_path: Path) -> None:
    """The band round the edge laid out flat: 4 on the front, the stack, 4 on the back."""
    seam, (front, _, thick), stated = one_thread("whip", tmp_path)
    xs = [front[hole][0] for hole in seam["walk"]]
    total = thick
    for before, x in pairwise(xs):
        total += dist((before, 0.0), (x, 4 + thick + 4)) + thick
    assert total == pytest.approx(stated, abs=THREAD)
