"""Thread, added up from the plan's JSON alone: nothing of handkit is used to judge it."""

from __future__ import annotations

import json
import math
import tomllib
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from handkit.cli import main

SAMPLES = Path(__file__).parents[2] / "samples"
PROJECTS = Path(__file__).parents[1] / "projects"
FILES = sorted([*SAMPLES.glob("*/*.toml"), *PROJECTS.glob("*/*.toml")])
FILES = [path for path in FILES if path.name != "expected.toml"]


@pytest.fixture(scope="module", params=FILES, ids=lambda path: path.stem)
def plan(request: pytest.FixtureRequest) -> dict[str, Any]:
    """What the command line gives to other programs."""
    run = CliRunner().invoke(main, ["plan", str(request.param), "--format", "json"])
    assert run.stdout.endswith("\n")
    told: dict[str, Any] = json.loads(run.stdout)
    written = tomllib.loads(request.param.read_text("utf-8"))
    return told | {"waste as written": written["material"].get("waste", 25)}


def test_every_thread_is_the_sum_of_its_moves(plan: dict[str, Any]) -> None:
    """start stack + front + back + twice the stack reached + wraps + tails, to 0.001 mm."""
    for seam in plan["seams"]:
        for thread in seam["threads"]:
            steps = seam["moves"][thread["from"] : thread["to"]]
            sewn = math.fsum(m["front_mm"] + m["back_mm"] + 2 * m["stack_mm"] for m in steps)
            more = thread["start_stack_mm"] + thread["wraps_mm"] + thread["tails_mm"]
            assert thread["cut_mm"] == pytest.approx(sewn + more, abs=0.001)
            ends = [name == seam["name"] for name in (thread["seams"][0], thread["seams"][-1])]
            tails = sum(ends) * seam["tail_mm"]  # of the ends that are in this seam
            assert thread["tails_mm"] == pytest.approx(tails)


def _overcast(plan: dict[str, Any]) -> list[float]:
    """The threads of raw edges, which are no seams', mm."""
    return [each["cut_mm"] for each in plan["overcast"] for _ in range(each["count"])]


def test_parts_of_a_thread_make_its_whole(plan: dict[str, Any]) -> None:
    """However it is asked for: by its parts, as it is cut, for the seams that share it, by spool."""
    seams = {seam["name"]: seam for seam in plan["seams"]}
    seen = []
    for thread in plan["cut_threads"]:
        shares = []
        for part in thread["parts"]:
            threads = seams[part["seam"]]["threads"]
            (own,) = [one for one in threads if (one["from"], one["to"]) == (part["from"], part["to"])]
            assert (own["whole_mm"], own["number"]) == (thread["cut_mm"], thread["number"])
            assert own["seams"] == [each["seam"] for each in thread["parts"]]
            shares.append(own["cut_mm"])
        assert math.fsum(shares) == pytest.approx(thread["cut_mm"], abs=0.001)
        assert thread["tails_mm"] == pytest.approx(2 * seams[thread["parts"][0]["seam"]]["tail_mm"])
        seen += [(part["seam"], part["from"]) for part in thread["parts"]]
    assert sorted(seen) == sorted((name, one["from"]) for name in seams for one in seams[name]["threads"])
    cuts = [thread["cut_mm"] for thread in plan["cut_threads"]] + _overcast(plan)
    assert math.fsum(cuts) == pytest.approx(plan["totals"]["thread_mm"], abs=0.001)
    assert math.fsum(row["length_mm"] for row in plan["threads"]) == pytest.approx(math.fsum(cuts), abs=0.001)
    for shared in (one for one in plan["shared_threads"] if one["adopted"]):
        own = [seams[name["name"]] for name in shared["seams"]]
        assert math.fsum(shared["cuts_mm"]) == pytest.approx(sum(s["thread_mm"] for s in own), abs=0.001)


def test_sums_and_the_rule_of_thumb(plan: dict[str, Any]) -> None:
    for seam in plan["seams"]:
        assert seam["thread_mm"] == pytest.approx(math.fsum(t["cut_mm"] for t in seam["threads"]), abs=0.001)
        assert seam["rule_of_thumb_mm"] == pytest.approx(5 * seam["length_mm"] + 100, abs=0.001)
        starts = [thread["start_stack_mm"] for thread in seam["threads"]]
        assert seam["stack_mm"] == max(*starts, *(m["stack_mm"] for m in seam["moves"]))
    total = math.fsum([*(seam["thread_mm"] for seam in plan["seams"]), *_overcast(plan)])
    assert plan["totals"]["thread_mm"] == pytest.approx(total, abs=0.001)


def test_moves_follow_the_walk_through_every_hole(plan: dict[str, Any]) -> None:
    for seam in plan["seams"]:
        walk = seam["walk"]
        assert [(m["from"], m["to"]) for m in seam["moves"]] == list(pairwise(walk))
        assert set(walk) == set(range(1, seam["holes"] + 1))
        assert (seam["threads"][0]["from"], seam["threads"][-1]["to"]) == (0, len(walk) - 1)


def test_the_order_keeps_every_after(plan: dict[str, Any]) -> None:
    place = {
        step["name"]: index for index, step in enumerate(plan["steps"]) if step["kind"] in ("seam", "opening")
    }
    assert [seam["order"] for seam in plan["seams"]] == list(range(1, len(plan["seams"]) + 1))
    places = [place[seam["name"]] for seam in plan["seams"]]
    assert places == sorted(places)
    for work in (*plan["seams"], *plan["openings"]):
        for before in work["after"]:
            assert place[before["name"]] < place[work["name"]], (before, work["name"])
            assert before["why"]


def test_sums_of_leather_and_holes(plan: dict[str, Any]) -> None:
    areas = math.fsum(row["quantity"] * row["area_mm2"] for row in plan["cut_list"])
    totals = plan["totals"]
    assert totals["leather_mm2"] == pytest.approx(areas, abs=0.01)
    left = 1 - plan["waste as written"] / 100  # gross = net ÷ yield: the trade's sum
    assert totals["leather_gross_mm2"] == pytest.approx(areas / left, abs=0.02)
    assert totals["holes"] <= sum(seam["holes"] * len(seam["layers"]) for seam in plan["seams"])
    assert totals["openings"] == sum(o["count"] * len(o["pieces"]) for o in plan["openings"])
