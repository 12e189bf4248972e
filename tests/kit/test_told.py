"""What the JSON says, worked out again from the JSON alone: matching, thread, walks, counts."""

from __future__ import annotations

from itertools import pairwise
from math import dist
from typing import Any

import pytest
from shapely import Point, Polygon

COINCIDE = 0.01  # mm
EDGE = 0.02  # mm from an outline: told with three decimals, its arcs by short straights
ROUNDED = 0.001  # what the writing with three decimals may take away


def places(kit: Any) -> dict[tuple[str, int], dict[int, tuple[str, Any]]]:
    """Every hole by seam and run, then number: its piece, and where it is in that piece's frame."""
    found: dict[tuple[str, int], dict[int, tuple[str, Any]]] = {}
    for piece in kit.pieces["pieces"]:
        for hole in piece["holes"]:
            layer = found.setdefault((hole["seam"], hole["run"]), {})
            assert hole["number"] not in layer
            layer[hole["number"]] = (piece["name"], (hole["x"], hole["y"]))
    return found


def in_root(kit: Any, piece: str, at: Any) -> tuple[float, float]:
    a, b, c, d, e, f = kit.piece(piece)["placed"]
    return (a * at[0] + c * at[1] + e, b * at[0] + d * at[1] + f)


def first_leaves(seam: Any) -> list[Any]:
    """The layers, of a folded piece that is in the seam twice the first: its frame is that leaf's."""
    pieces = [layer["piece"] for layer in seam["layers"]]
    return [layer for k, layer in enumerate(seam["layers"]) if layer["piece"] not in pieces[:k]]


def flat_pairs(kit: Any) -> list[tuple[tuple[str, int], tuple[str, int]]]:
    """Layers of one seam that lie flat on one another: the same root, and both placed in it."""
    holes = places(kit)
    pairs = []
    for seam in kit.plan["seams"]:
        flat = [
            layer
            for layer in first_leaves(seam)
            if kit.piece(layer["piece"])["placed"] is not None and kit.piece(layer["piece"])["flat"]
        ]
        for i, one in enumerate(flat):
            for two in flat[i + 1 :]:
                roots = {kit.piece(layer["piece"])["root"] for layer in (one, two)}
                if len(roots) == 1 and one["piece"] != two["piece"]:
                    pairs.append(((seam["name"], one["run"]), (seam["name"], two["run"])))
        assert all((seam["name"], layer["run"]) in holes for layer in seam["layers"])
    return pairs


def test_holes_of_flat_layers_coincide(kit: Any) -> None:
    holes = places(kit)
    for one, two in flat_pairs(kit):
        for number in holes[one].keys() & holes[two].keys():
            (piece, at), (other, there) = holes[one][number], holes[two][number]
            assert dist(in_root(kit, piece, at), in_root(kit, other, there)) <= COINCIDE, (one, two, number)


def test_there_are_flat_layers_to_look_at(kits: Any) -> None:
    assert len(flat_pairs(kits("pouch"))) >= 1
    assert len(flat_pairs(kits("case"))) >= 2


def test_openings_of_flat_layers_coincide(kit: Any) -> None:
    found: dict[tuple[str, int, str], list[tuple[float, float]]] = {}
    for piece in kit.pieces["pieces"]:
        if piece["placed"] is not None and piece["flat"]:
            for opening in piece["openings"]:
                key = (opening["name"], opening["number"], piece["root"])
                found.setdefault(key, []).append(in_root(kit, piece["name"], (opening["x"], opening["y"])))
    for name, at in found.items():
        assert all(dist(at[0], other) <= COINCIDE for other in at), name


def test_mating_runs_have_equal_counts_numbered_from_1(kit: Any) -> None:
    """A layer that goes part of the way has the numbers of its stretches."""
    holes = places(kit)
    for seam in kit.plan["seams"]:
        count = seam["holes"]
        for layer in seam["layers"]:
            wanted = {
                (first - 1 + k) % count + 1
                for first, last in layer.get("holes", [[1, count]])
                for k in range((last - first) % count + 1)
            }
            assert holes[seam["name"], layer["run"]].keys() == wanted


def test_a_layer_without_a_run_has_the_holes_that_lie_on_it_and_no_others(kit: Any) -> None:
    """Every hole of the seam that is known in the frame of the layer's root, against its outline."""
    holes = places(kit)
    for seam in kit.plan["seams"]:
        for layer in seam["layers"]:
            piece = kit.piece(layer["piece"])
            if layer["along"] or piece["placed"] is None:
                continue
            outline = Polygon([in_root(kit, piece["name"], at) for at in piece["outline"]])
            mine = holes[seam["name"], layer["run"]]
            for other in first_leaves(seam):
                base = kit.piece(other["piece"])
                if base["placed"] is None or base["root"] != piece["root"]:
                    continue
                for number, (_, at) in holes[seam["name"], other["run"]].items():
                    there = Point(in_root(kit, base["name"], at))
                    if outline.exterior.distance(there) > EDGE:
                        assert (number in mine) == outline.contains(there), (seam["name"], piece["name"])


def test_steps_on_the_face_are_the_pitch(kit: Any) -> None:
    holes = places(kit)
    for seam in kit.plan["seams"]:
        face = [at for _, at in (holes[seam["name"], seam["face"]][k + 1] for k in range(seam["holes"]))]
        steps = [dist(a, b) for a, b in zip(face, face[1:] + face[:1] * seam["closed"], strict=False)]
        assert sum(steps) / len(steps) == pytest.approx(seam["pitch_mm"], abs=2 * ROUNDED)


def test_the_walk_visits_every_hole_and_goes_from_neighbour_to_neighbour(kit: Any) -> None:
    for seam in kit.plan["seams"]:
        count, walk = seam["holes"], seam["walk"]
        assert set(walk) == set(range(1, count + 1))
        steps = {(b - a) % count for a, b in pairwise(walk)}
        assert steps <= {1, count - 1}
        if not seam["closed"]:
            assert {abs(b - a) for a, b in pairwise(walk)} == {1}


def test_moves_follow_the_walk_over_the_holes(kit: Any) -> None:
    """Each step is as long as from hole to hole on the front layer and on the back one."""
    holes = places(kit)
    for seam in kit.plan["seams"]:
        walk, moves = seam["walk"], seam["moves"]
        assert [(m["from"], m["to"]) for m in moves] == list(pairwise(walk))
        for move in moves:
            for side, run in (("front_mm", seam["face"]), ("back_mm", seam["back"])):
                layer = holes[seam["name"], run]
                step = dist(layer[move["from"]][1], layer[move["to"]][1])
                assert move[side] == pytest.approx(step, abs=2 * ROUNDED)


def test_thread_summed_again_from_the_moves(kit: Any) -> None:
    """bare = T + sum(front + back + 2 T), cut = bare + 2 tails + wraps; a join adds two tails."""
    for seam in kit.plan["seams"]:
        for thread in seam["threads"]:
            sewn = seam["moves"][thread["from"] : thread["to"]]
            bare = thread["start_stack_mm"] + sum(
                m["front_mm"] + m["back_mm"] + 2 * m["stack_mm"] for m in sewn
            )
            ends = [name == seam["name"] for name in (thread["seams"][0], thread["seams"][-1])]
            tails = sum(ends) * seam["tail_mm"]  # of the ends that are in this seam
            assert thread["tails_mm"] == pytest.approx(tails)
            cut = bare + thread["tails_mm"] + thread["wraps_mm"]
            assert thread["cut_mm"] == pytest.approx(cut, abs=ROUNDED)
        assert seam["thread_mm"] == pytest.approx(sum(t["cut_mm"] for t in seam["threads"]), abs=ROUNDED)
        assert seam["wraps_mm"] == pytest.approx(sum(t["wraps_mm"] for t in seam["threads"]), abs=ROUNDED)
    total = sum(seam["thread_mm"] for seam in kit.plan["seams"])
    total += sum(edge["cut_mm"] * edge["count"] for edge in kit.plan["overcast"])
    assert kit.plan["totals"]["thread_mm"] == pytest.approx(total, abs=ROUNDED * 50)


def test_threads_of_a_seam_follow_one_another_with_an_overlap(kit: Any) -> None:
    for seam in kit.plan["seams"]:
        threads = seam["threads"]
        assert (threads[0]["from"], threads[-1]["to"]) == (0, len(seam["walk"]) - 1)
        for before, after in pairwise(threads):
            assert before["to"] - after["from"] == 2  # two holes (common practice, no source)


def test_stacks_are_no_thicker_than_the_layers(kit: Any) -> None:
    """A zip's tape and what is turned at an edge come on top: such kits have tables (`test_projects`)."""
    taped = any(fitting["kind"] == "zip" for fitting in kit.plan.get("fittings", []))
    for seam in kit.plan["seams"]:
        if taped or any(kit.piece(layer["piece"]).get("edge_works") for layer in seam["layers"]):
            continue
        full = sum(kit.piece(layer["piece"])["thickness_mm"] for layer in seam["layers"])
        stacks = [move["stack_mm"] for move in seam["moves"]]
        stacks += [thread["start_stack_mm"] for thread in seam["threads"]]
        assert max(stacks) <= full + ROUNDED * len(seam["layers"])  # ounces are in no whole thousandths
        assert seam["stack_mm"] == pytest.approx(max(stacks), abs=ROUNDED)


def test_the_rule_of_thumb_is_five_times_the_seam_and_100(kit: Any) -> None:
    for seam in kit.plan["seams"]:
        assert seam["rule_of_thumb_mm"] == pytest.approx(5 * seam["length_mm"] + 100, abs=0.01)


def test_seams_stand_in_working_order_after_what_must_be_done_before(kit: Any) -> None:
    order = [seam["order"] for seam in kit.plan["seams"]]
    assert order == list(range(1, len(order) + 1))
    steps = [step["name"] for step in kit.plan["steps"] if step["kind"] in ("seam", "opening")]
    assert [name for name in steps if name in {s["name"] for s in kit.plan["seams"]}] == [
        seam["name"] for seam in kit.plan["seams"]
    ]
    for seam in kit.plan["seams"]:
        for before in seam["after"]:
            assert steps.index(before["name"]) < steps.index(seam["name"])
            assert before["why"]


def test_holes_to_make_counted_again(kit: Any) -> None:
    """Each layer counts; holes of a piece that stand in one place are one."""
    count = 0
    for piece in kit.pieces["pieces"]:
        places: list[tuple[float, float]] = []
        for hole in piece["holes"]:
            at = (hole["x"], hole["y"])
            if all(dist(at, other) > COINCIDE for other in places):
                places.append(at)
        count += len(places)
    assert kit.report["totals"]["holes"] == count == kit.plan["totals"]["holes"]


def test_areas_are_the_outlines(kit: Any) -> None:
    """The shoelace formula, within the flattening of arcs (0.002 mm along the way round)."""
    for piece in kit.pieces["pieces"]:
        ring = piece["outline"]
        turned = ring[1:] + ring[:1]
        area = abs(sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(ring, turned, strict=True))) / 2
        around = sum(dist(a, b) for a, b in zip(ring, turned, strict=True))
        assert piece["area_mm2"] == pytest.approx(area, abs=0.003 * around)


def test_every_json_says_its_format(kit: Any) -> None:
    assert (kit.report["format"], kit.pieces["format"], kit.plan["format"]) == (1, 1, 1)
