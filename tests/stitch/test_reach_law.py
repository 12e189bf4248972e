"""A law of every order: at each step every hole's way is free on both faces, unless a finding says so.

Areas are shapely's, all else is plain arithmetic; of the program only the order, the holes on each piece
and the findings are taken. Holes within 0.02 mm of the 0.5 mm rim may be told either way.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import permutations
from re import findall
from typing import Any

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from written_tables import placed as piece
from written_tables import rivet, seam

from handkit.errors import ProjectError

Make = Callable[[str], Any]


@dataclass(frozen=True)
class Patch:
    """A rectangle on the back or on an earlier patch, its place in the back's frame, and how it is held."""

    name: str
    left: float
    bottom: float
    width: float
    height: float
    held: str  # by "U", "row", "box" or "rivets"
    behind: bool
    on: str

    @property
    def region(self) -> shapely.Polygon:
        return shapely.box(self.left, self.bottom, self.left + self.width, self.bottom + self.height)


@st.composite
def assemblies(draw: st.DrawFn, ways: Sequence[str] = ("U", "row", "row", "box", "rivets")) -> Drawn:
    """Patches on both faces and on each other, rivets in the back, and what the file wants first."""
    patches: list[Patch] = []
    for index in range(draw(st.integers(2, 4))):
        left, bottom = draw(st.integers(0, 8)) * 11 + 2, draw(st.integers(0, 8)) * 11 + 3
        width, height = draw(st.integers(3, 9)) * 10, draw(st.integers(3, 9)) * 10
        held = draw(st.sampled_from(ways))
        parents = {p.name: p.behind for p in patches if p.on == "back"}
        on = draw(st.sampled_from(["back", "back", *parents]))
        behind = parents[on] if on in parents else draw(st.booleans())
        patches.append(Patch(f"p{index}", left, bottom, width, height, held, behind, on))
    studs = draw(st.lists(st.tuples(st.integers(1, 19), st.integers(1, 19)), max_size=2, unique=True))
    names = [p.name for p in patches if p.held != "rivets"]
    after = {}
    if len(names) > 1 and draw(st.booleans()):
        first, then = draw(st.permutations(names))[:2]
        after[then] = first
    return patches, studs, after


LINE = {"U": "D-A-B-C", "row": "C-D", "box": "A-B-C-D-A"}


def written(patches: list[Patch], studs: list[tuple[int, int]], after: dict[str, str]) -> str:
    places = {"back": (0.0, 0.0), **{p.name: (p.left, p.bottom) for p in patches}}
    text = piece("back", 200, 200)
    for p in patches:
        x, y = places[p.on]
        at, more = f"[{p.left - x}, {p.bottom - y}]", ("behind = true",) if p.behind else ()
        text += piece(p.name, p.width, p.height, at, *more, on=p.on)
    for p in patches:
        if p.held == "rivets":
            x, y = places[p.on]
            at = f"[[{p.left - x + 8}, {p.bottom - y + 8}], [{p.left - x + p.width - 8}, {p.bottom - y + 8}]]"
            text += rivet(p.name, at, p.on, p.name)
        else:
            wanted = f'after = ["{after[p.name]}"]\n' if p.name in after else ""
            text += seam(p.name, f"{p.name}: {LINE[p.held]}", p.on, more=wanted)
    for number, (x, y) in enumerate(studs):
        text += rivet(f"stud{number}", f"[[{10 * x}, {10 * y}]]", "back")
    return text


def layers_of(patches: list[Patch]) -> dict[str, int]:
    """From the back towards each face: what lies on a patch comes right after it."""
    rows: dict[bool, list[str]] = {False: [], True: []}
    for p in patches:
        if p.on == "back":
            rows[p.behind] += [p.name, *(q.name for q in patches if q.on == p.name)]
    front = {name: k for k, name in enumerate(rows[False], start=1)}
    return {"back": 0, **front, **{name: -k for k, name in enumerate(rows[True], start=1)}}


Drawn = tuple[list[Patch], list[tuple[int, int]], dict[str, str]]


@dataclass(frozen=True)
class Bench:
    """The work on the bench: where each task's holes are in the back's frame, and what it goes through."""

    patches: list[Patch]
    holes: dict[str, list[tuple[float, float]]]

    def through(self, task: str) -> set[str]:
        return {"back"} if task.startswith("stud") else {task, {p.name: p.on for p in self.patches}[task]}

    def between(self, rim: float) -> set[tuple[str, str]]:
        """Each task with each piece that lies between two that it goes through, and over its holes."""
        layers, found = layers_of(self.patches), set()
        for task, holes in self.holes.items():
            pierced = [layers[each] for each in self.through(task)]
            for patch in self.patches:
                inner = patch.region.buffer(-rim)
                if min(pierced) < layers[patch.name] < max(pierced) and patch.name not in self.through(task):
                    found |= {(task, patch.name) for at in holes if inner.contains(shapely.Point(at))}
        return found

    def covered(self, order: Sequence[str], rim: float) -> set[tuple[str, str]]:
        """Each task with each piece that hangs over a hole of it when its turn comes."""
        regions = {"back": shapely.box(0, 0, 200, 200), **{p.name: p.region for p in self.patches}}
        layers = layers_of(self.patches)
        joined: list[set[str]] = []
        found = set()
        for task in order:
            own = self.through(task)
            hanging = set().union(*(group for group in joined if group & own), own)
            pierced = [layers[each] for each in own]
            for name in hanging - own:
                inner = regions[name].buffer(-rim)
                on_a_face = not min(pierced) < layers[name] < max(pierced)
                if on_a_face and any(inner.contains(shapely.Point(at)) for at in self.holes[task]):
                    found.add((task, name))
            if not task.startswith("stud"):
                joined = [*(group for group in joined if not group & own), hanging]
        return found


def bench_of(told: Any, patches: list[Patch], studs: list[tuple[int, int]]) -> Bench:
    holes = {f"stud{k}": [(10.0 * x, 10.0 * y)] for k, (x, y) in enumerate(studs)}
    named = {p.name: p for p in patches}
    for p in patches:
        if p.held == "rivets":
            holes[p.name] = [(p.left + 8.0, p.bottom + 8.0), (p.left + p.width - 8.0, p.bottom + 8.0)]
    for each in told.punched.seams:
        p = named[each.name]
        own = next(layer for layer in each.layers if layer.piece == p.name)
        holes[p.name] = [(p.left + hole.at[0], p.bottom + hole.at[1]) for hole in own.holes]
    return Bench(patches, holes)


def told_of(told: Any) -> set[tuple[str, str]]:
    """Each task and each piece that a finding names; every finding gives its reason, and no task and kind of
    hindrance has two.
    """
    found = [finding for finding in told.plan.findings if finding.code == "way-not-free"]
    assert all(" before " in finding.found for finding in found)
    assert len({(finding.where.key, finding.remedy.split()[0]) for finding in found}) == len(found)
    return {
        (finding.where.key.split('"')[1], name)
        for finding in found
        for name in findall(r'"([^"]+)"', finding.found.partition(" when worked")[0])
    }


@pytest.mark.long
@settings(derandomize=True, deadline=None, max_examples=80)
@given(assemblies())
def test_every_way_is_free_or_told(planned: Make, head: str, drawn: Drawn) -> None:
    """The order told is followed step by step, by areas and plain arithmetic."""
    patches, studs, _ = drawn
    try:
        told = planned(head + written(*drawn))
    except ProjectError:
        assume(False)
    bench, said = bench_of(told, patches, studs), told_of(told)
    assert not bench.between(rim=0.52)  # no needle comes out between two loose layers: such a file is refused
    bases = {"back": "", **{p.name: p.on for p in patches}}
    for task, name in bench.covered(told.tasks, rim=0.52):  # what it lies on may be told in its place
        assert (task, name) in said or (task, bases[name]) in said, (task, name, told.tasks)
    assert said <= bench.covered(told.tasks, rim=0.48), (said, told.tasks)


@settings(derandomize=True, deadline=None, max_examples=25)
@given(assemblies(ways=("row", "rivets")))
def test_an_order_that_leaves_every_way_free_is_found(planned: Make, head: str, drawn: Drawn) -> None:
    """Leaves that close nothing: all orders that the file allows are tried."""
    patches, studs, after = drawn
    try:
        told = planned(head + written(*drawn))
    except ProjectError:
        assume(False)
    bench = bench_of(told, patches, studs)
    ways = (
        order
        for order in permutations(told.tasks)
        if all(order.index(first) < order.index(then) for then, first in after.items())
    )
    if told_of(told):
        assert all(bench.covered(order, rim=0.48) for order in ways)
