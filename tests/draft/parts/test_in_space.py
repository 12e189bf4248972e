"""Assembled in space: drafted strips, laid along their ways, meet the holes of what they are sewn to.

A small bench of its own: strips are polylines laid point by point, so that their length is kept by
the laying and not by the formula that drafted them. x and y are the base's, z stands up from it.
"""

from __future__ import annotations

from collections.abc import Callable
from math import hypot, pi

import numpy as np
import pytest
import shapely
from shapely import affinity

from handkit.draft.pattern import Pattern
from handkit.punch.punched import Punched, PunchedLayer

MEETS = 0.02  # mm: what holes in space may miss each other by where no ease is stated

Points = np.ndarray


def laid(way: Points, along: Points) -> Points:
    """Points of a strip, given by their length along it, on a way: past its ends it stays there."""
    steps = np.hypot(*np.diff(way, axis=0).T)
    stations = np.concatenate([[0.0], np.cumsum(steps)])
    return np.stack([np.interp(along, stations, way[:, k]) for k in (0, 1)], axis=1)


def length_of(points: Points) -> float:
    return float(np.hypot(*np.diff(points, axis=0).T).sum())


def holes_of(layer: PunchedLayer) -> Points:
    return np.array([hole.at for hole in layer.holes])


# Holder row


ROW = """[[part]]
name = "row"
kind = "holder row"
on = "back"
at = [20, 30]
ease = 2
"""
TOOLS = [
    ("diameter = 14\nlength = 160", shapely.Point(0, 7).buffer(7, quad_segs=200)),
    ("diameter = 24\nlength = 160", shapely.Point(0, 12).buffer(12, quad_segs=200)),
    ("size = [30, 5, 150]", shapely.box(-15, 0, 15, 5)),
    (
        "section = [[0, 0], [20, 0], [14, 9], [4, 12]]\nlength = 150",
        shapely.Polygon([(-10, 0), (10, 0), (4, 9), (-6, 12)]),
    ),
]


def over(tool: shapely.Geometry, base: float, thickness: float) -> Points:
    """The tight way of a strap's middle over a tool, from the left stitch point to the right."""
    half = thickness / 2
    grown = tool.buffer(half, quad_segs=200).intersection(shapely.box(-999, half, 999, 999))
    hull = grown.union(shapely.MultiPoint([(-base / 2, half), (base / 2, half)])).convex_hull
    ring = np.array(hull.exterior.coords[:-1])
    ends = [int(np.argmin(np.hypot(ring[:, 0] - x, ring[:, 1] - half))) for x in (-base / 2, base / 2)]
    ring = np.roll(ring, -ends[0], axis=0)  # shapely's rings of hulls go clockwise: over the top
    return ring[: (ends[1] - ends[0]) % len(ring) + 1]


@pytest.mark.parametrize("thickness", [0.8, 1.6, 2.4])
def test_a_strap_laid_over_its_tools_meets_every_line(
    punched_of: Callable[..., Punched], thickness: float
) -> None:
    text = ROW + "".join(
        f'[[item]]\nname = "tool {k}"\nin = "row"\n{size}\n' for k, (size, _) in enumerate(TOOLS)
    )
    punched = punched_of(text, thickness=thickness)
    strap, base = (np.array([holes_of(seam.layers[k]) for seam in punched.seams]) for k in (0, 1))
    foot = base[0, 0, 0]  # where the strap's first line is sewn down: from here on it is laid
    for k, (_, tool) in enumerate(TOOLS):
        gap = base[k + 1, 0, 0] - base[k, 0, 0]
        eased = affinity.translate(tool.buffer(1, quad_segs=200), 0, 1)
        way = over(eased, gap, thickness)
        along = np.linspace(0, strap[k + 1, 0, 0] - strap[k, 0, 0], 1500)
        points = laid(way, along)
        assert length_of(points) == pytest.approx(along[-1], abs=MEETS)
        foot += points[-1, 0] - points[0, 0]
        for on_strap, on_base in zip(strap[k + 1], base[k + 1], strict=True):
            reached = (foot, on_strap[1] + 30, points[-1, 1])
            assert reached == pytest.approx((*on_base, thickness / 2), abs=MEETS)
        slack = along[-1] - length_of(over(tool, gap, thickness))
        assert 0 < slack < pi * 2  # at most the ease's girth


# Bowed pocket


BOWED = """[[item]]
name = "bundle"
in = "front"
size = [58, 20, 150]
[[part]]
name = "front"
kind = "bowed pocket"
on = "back"
at = [0, 0]
ease = 2
"""


def bent(length: float, chord: float, count: int = 2000) -> Points:
    """A strip bent evenly until its ends are a chord apart, step by step from the left end."""
    low, high = 0.0, 2 * pi - 1e-6
    for _ in range(80):
        turn = (low + high) / 2
        low, high = (turn, high) if 2 * length / turn * np.sin(turn / 2) > chord else (low, turn)
    headings = turn / 2 - turn * (np.arange(count) + 0.5) / count
    steps = np.stack([np.cos(headings), np.sin(headings)], axis=1) * length / count
    return np.concatenate([[[0.0, 0.0]], np.cumsum(steps, axis=0)])


def sides(punched: Punched) -> dict[str, tuple[Points, Points]]:
    """The holes of either side from the foot upwards: on the front, on the base."""
    seams = {seam.name: seam for seam in punched.seams}
    return {
        side: (holes_of(seam.layers[0])[::way], holes_of(seam.layers[1])[::way])
        for side, way in (("left", -1), ("right", 1))
        for seam in [seams[f"front, {side}"]]
    }


@pytest.mark.parametrize("more", ["", "rivets = true", "width = 120", "width = 84\nhem = 20"])
def test_a_bowed_front_laid_over_its_base_meets_both_sides(
    punched_of: Callable[..., Punched], more: str
) -> None:
    """Row by row: the front between a pair of holes, bent to the base's pair, keeps its length."""
    found = sides(punched_of(BOWED + more))
    (left, base_left), (right, base_right) = found["left"], found["right"]
    heights = []
    for row in zip(left, right, base_left, base_right, strict=True):
        on_front, on_base = (float(hypot(*(b - a))) for a, b in (row[:2], row[2:]))
        assert on_front >= on_base - 1e-9
        if on_front > on_base + 1e-6:
            points = bent(on_front, on_base)
            assert length_of(points) == pytest.approx(on_front)
            assert points[-1] + row[2] == pytest.approx(row[3], abs=MEETS)
            heights.append(float(points[:, 1].max()))
    assert heights == sorted(heights)  # it opens upwards, and nowhere folds back


@pytest.mark.parametrize("more", ["", "rivets = true"])
def test_its_sides_meet_the_base_within_the_ease_that_is_told(
    punched_of: Callable[..., Punched], more: str
) -> None:
    """Laid up the base from the foot, hole k of the front is off by no more than the ease so far."""
    punched = punched_of(BOWED + more)
    told = [f.found for f in punched.findings if f.code == "ease-meant"]
    assert len(told) == 2
    for front, base in sides(punched).values():
        up = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(front, axis=0).T))])
        off = up - (base[:, 1] - base[0, 1])
        ease = off[-1] / (base[-1, 1] - base[0, 1])
        assert all(text.startswith(f"{100 * ease:.1f} % of ease") for text in told)
        assert ease < 0.02
        assert np.all(off >= -1e-9)
        assert np.all(off <= ease * (base[:, 1] - base[0, 1]) + MEETS)


def test_the_mouth_goes_round_what_it_holds(pattern_of: Callable[..., Pattern]) -> None:
    """The mouth bent to its base clears the bundle by half the front's thickness, and its ease."""
    pattern = pattern_of(BOWED + "width = 100")
    at = {letter.name: np.array(letter.at) for letter in pattern.piece("front").letters}
    slant = (at["D"] - at["A"]) / hypot(*(at["D"] - at["A"]))
    mouth = at["C"][0] - at["D"][0] - 2 * 4 / slant[1]  # stitch line to stitch line, 4 inside the edges
    points = bent(float(mouth), 92.0) + np.array([-46.0, 1.2])
    arc = shapely.LineString(points)
    bundle = shapely.box(-29, 0, 29, 20)
    assert shapely.Polygon([(-46, -9), *points, (46, -9)]).covers(bundle)
    assert arc.distance(bundle) > 1.2
    assert arc.distance(shapely.box(-29, 1, 29, 21)) == pytest.approx(1 + 1.2, abs=MEETS)


# Boxed pocket


def boxed(gusset: str) -> str:
    return (
        '[[item]]\nname = "tin"\nin = "box"\nsize = [90, 30, 120]\n[[part]]\nname = "box"\n'
        f'kind = "boxed pocket"\non = "back"\nat = [0, 0]\nround = 26\ngusset = "{gusset}"\n'
    )


def u_way(width: float, height: float, radius: float, off: float) -> Points:
    """A U, `off` inside the front's edge, from the left end of the mouth round to the right."""
    turns = np.linspace(0, pi / 2, 4000)
    r = radius - off
    left = np.stack([radius - r * np.cos(turns), radius - r * np.sin(turns)], axis=1)
    right = np.stack([width - left[::-1, 0], left[::-1, 1]], axis=1)
    return np.concatenate([[[off, height]], left, right, [[width - off, height]]])


def heading(way: Points, along: Points) -> Points:
    """The way's direction at lengths along it."""
    step = laid(way, along + 0.01) - laid(way, along - 0.01)
    return step / np.hypot(*step.T)[:, None]


def box_layers(punched: Punched) -> tuple[tuple[float, float], list[Points]]:
    front = punched.pattern.piece("box front").outline.bounds()
    return (front[2], front[3]), [holes_of(layer) for seam in punched.seams for layer in seam.layers]


def test_a_plain_gusset_laid_along_the_seam_meets_front_and_base(
    punched_of: Callable[..., Punched],
) -> None:
    """Both its edges go round the same U, at the base and at the height that its width reaches."""
    punched = punched_of(boxed("plain"))
    (width, height), (front, near, base, far) = box_layers(punched)
    way = u_way(width, height, 26, 4)
    assert length_of(way) == pytest.approx(punched.pattern.piece("box gusset").outline.bounds()[2], abs=MEETS)
    for strip, holes in ((near, front), (far, base)):
        reached = laid(way, strip[:, 0])
        # Chords on the front's arcs are a hundredth shorter than the strip's bits: it is even again
        # at the next fixed hole.
        assert np.hypot(*(reached - holes).T).max() < 0.06
        assert length_of(laid(way, np.linspace(strip[0, 0], strip[-1, 0], 9999))) == pytest.approx(
            strip[-1, 0] - strip[0, 0], abs=MEETS
        )


def test_a_turned_gusset_meets_front_and_base_tab_by_tab(punched_of: Callable[..., Punched]) -> None:
    """Its wall goes round outside; each tab reaches in to its hole, and tabs turn with the wall."""
    punched = punched_of(boxed("turned"))
    (width, height), (front, near, base, far) = box_layers(punched)
    way = u_way(width, height, 26, 1.2)  # the wall's middle, half a thickness inside the edge
    assert length_of(way) == pytest.approx(punched.pattern.piece("box gusset").outline.bounds()[2], abs=MEETS)
    for strip, holes in ((near, front), (far, base)):
        ahead = heading(way, strip[:, 0])
        inside = np.stack([-ahead[:, 1], ahead[:, 0]], axis=1) * (4 - 1.2)
        assert np.hypot(*(laid(way, strip[:, 0]) + inside - holes).T).max() < 0.06


@pytest.mark.parametrize("gusset", ["plain", "turned"])
def test_a_gusset_laid_through_its_turns_stands_as_high_as_its_depth(
    punched_of: Callable[..., Punched], gusset: str
) -> None:
    """From hole to hole across the strip: flat on the base, round, up, round, flat under the front."""
    punched = punched_of(boxed(gusset))
    _, (_, near, _, far) = box_layers(punched)
    across, turn = float(far[0, 1] - near[0, 1]), pi / 2 * 1.2
    flat = 0.0 if gusset == "plain" else 4 - 2.4  # up to where the wall turns, 2.4 inside the edge
    upright = across - 2 * turn - 2 * flat
    ways = [(0.0, flat), (pi / 2, turn), (0.0, upright), (pi / 2, turn), (0.0, flat)]
    at, heading, length = np.array([0.0, 1.2]), 0.0, 0.0
    for bend, along in ways:
        count = 2000 if bend else 1
        for _ in range(count if along else 0):
            heading += bend / count / 2
            at = at + np.array([np.cos(heading), np.sin(heading)]) * along / count
            heading += bend / count / 2
            length += along / count
    assert length == pytest.approx(across)
    assert at == pytest.approx([0, (32 if gusset == "plain" else 32 + 4.8) - 1.2], abs=MEETS)
