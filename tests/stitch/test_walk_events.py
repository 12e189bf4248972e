"""At the bench: mouths, joins kept clear, holes that are shared, the way, how an end is locked."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable
from typing import Any

import pytest

from handkit.draw.export.plan_csv import plan_csv
from handkit.read.project import Iron
from handkit.stitch.sewing.joins import JoinLimits, clear_ends
from handkit.stitch.sewing.tooling import MOST_DRIFT, iron_groups

Make = Callable[[str], Any]


def test_turns_go_through_a_hole_past_the_mouth(planned: Make, pocket: str) -> None:
    """Two turns, 4 mm to the mouth and 3 past it, stack 4: 2 x (2 x 7 + 2 x 4) = 44, by hand."""
    plain = planned(pocket).plan.seams[0]
    seam = planned(pocket + "wrap_start = 2\npast_start = 3\n").plan.seams[0]
    (mouth,) = seam.mouths
    assert (mouth.hole, mouth.turns, mouth.to_edge, mouth.past, mouth.base) == (1, 2, 4, 3, "back")
    # The front's D is at (30, 166) on the back: the seam ends 4 in and 4 below, the hole is 3 above.
    assert mouth.at == pytest.approx((34, 169))
    assert mouth.thread == pytest.approx(44)
    assert seam.thread == pytest.approx(plain.thread + 44, abs=0.001)
    told = json.loads(planned(pocket + "wrap_end = 1\npast_end = 3\n").json())["seams"][0]["mouths"]
    assert [(m["hole"], m["base"], m["base_at"]) for m in told] == [(seam.punched.count, "back", [166, 169])]


def test_joins_keep_clear_of_corners_and_mouths(planned: Make, pocket: str) -> None:
    """A corner where the join would fall: the join moves, and no thread more is needed."""
    seam = planned(pocket + "back = 0\nlongest = 550\n").plan.seams[0]
    corners = {hole.number for hole in seam.punched.face.holes if hole.corner}
    assert len(corners) == 4
    assert len(seam.threads) > 1
    for thread in seam.threads[1:]:
        join = range(thread.start + 1, thread.start + 4)  # three holes
        assert not any(abs(hole - corner) <= 2 for hole in join for corner in corners), (join, corners)


def test_a_join_moves_no_farther_than_it_must() -> None:
    """A walk of 30 steps in two threads, with something to keep clear of in its middle."""

    def ends(fixed: tuple[int, ...], limit: float = 99) -> tuple[int, ...] | None:
        return clear_ends([15], JoinLimits(30, fixed, limit, lambda a, b: b - a))

    assert ends((0, 30)) == (16,)  # 16 and 16: as alike as can be
    assert ends((0, 16, 30)) == (13,)  # 11 to 13 is three holes off
    assert ends((0, 16, 30), limit=17) in ((15,), (16,), (17,))  # none is clear: as alike as can be
    assert ends((0, 16, 30), limit=15) is None


RING = """
[[piece]]
name = "a"
rectangle = [48, 48]
[[piece]]
name = "b"
rectangle = [48, 48]
on = "a"
[[seam]]
name = "one"
runs = ["b: D-A-B", "a"]
[[seam]]
name = "two"
runs = ["b: B-C-D", "a"]
"""

EYE = """
[[opening]]
name = "eye"
kind = "rivet"
hole = 3
cap = 9
through = ["back"]
at = [[100, 230]]
"""


def test_a_corner_a_shared_hole_and_the_end_are_told(planned: Make, head: str) -> None:
    """A ring of two seams, which share both their ends."""
    text = head + RING
    seams = json.loads(planned(text).json())["seams"]
    one = next(seam for seam in seams if seam["name"] == "one")
    assert one["meets"] == [
        {"hole": 1, "seam": "two", "its_hole": 21},
        {"hole": 21, "seam": "two", "its_hole": 1},
    ]
    at = [step["at"] for step in one["way"]]
    assert at[0] == ["start", "shared hole"]
    assert at[10] == ["corner"]
    assert at[20] == ["shared hole"]
    assert at[21:] == [["back stitch"], ["back stitch", "end"]]


def test_hand_and_fibre(planned: Make, pocket: str) -> None:
    told = json.loads(planned(pocket + 'hand = "left"\nfibre = "linen"\n').json())["seams"][0]
    assert (told["hand"], told["fibre"]) == ("left", "linen")
    assert "glue" in told["lock"]
    assert "no flame" in told["lock"]
    told = json.loads(planned(pocket).json())["seams"][0]
    assert (told["hand"], told["fibre"]) == ("right", "synthetic")
    assert "melt" in told["lock"]
    assert "burn" in told["lock"]  # the caution stands with it


@pytest.mark.parametrize(
    ("step", "count", "groups"),
    [
        # An iron of six teeth 4 mm apart; the last tooth is 5 steps from the first. By hand:
        (4.0, 11, ((1, 6, 0.0), (6, 11, 0.0))),
        (4.05, 11, ((1, 6, 0.25), (6, 11, 0.25))),  # 5 x 0.05
        (3.94, 11, ((1, 6, 0.3), (6, 11, 0.3))),  # 5 x 0.06: just so
        (4.08, 9, ((1, 4, 0.24), (4, 7, 0.24), (7, 9, 0.16))),  # 3 x 0.08; a fourth would be 0.32
        (4.3, 3, ((1, 2, 0.3), (2, 3, 0.3))),
        (4.31, 3, ()),  # the awl
    ],
)
def test_iron_groups(step: float, count: int, groups: tuple[Any, ...]) -> None:
    assert iron_groups([(step * k, 0.0) for k in range(count)], Iron(6, 4.0)) == groups
    assert all(drift <= MOST_DRIFT for _, _, drift in groups)


def test_an_iron_stops_at_a_corner_and_the_awl_takes_what_is_left(planned: Make, head: str) -> None:
    text = head + '[[piece]]\nname = "a"\nrectangle = [48, 28.9]\n[[seam]]\nname = "ring"\n'
    text += 'runs = ["a: A-B-C-D-A"]\niron = { teeth = 4, pitch = 4 }\n'
    (tooling,) = planned(text).plan.seams[0].tooling
    # 40 mm in ten steps; 20.9 mm in five of 4.18: three steps of 0.18 are out by 0.54, one by 0.18.
    assert tooling.groups[:4] == ((1, 4, 0.0), (4, 7, 0.0), (7, 10, 0.0), (10, 11, 0.0))
    assert tooling.groups[4:9] == tuple((n, n + 1, pytest.approx(0.18)) for n in range(11, 16))
    assert tooling.awl == ()
    (tooling,) = planned(text.replace("pitch = 4 }", "pitch = 5 }")).plan.seams[0].tooling
    assert (tooling.groups, tooling.awl) == ((), tuple(range(1, 31)))


def test_threads_and_spools(planned: Make, pocket: str) -> None:
    """The pocket's thread, for two copies, from spools of 2 m; what is left by hand."""
    told = planned(pocket + "spool = 2\n[make]\ncopies = 3\n")
    cut = told.plan.seams[0].thread
    assert 1000 < cut < 2000  # one to a spool
    (row,) = told.plan.threads
    assert (row.count, row.spools, row.left) == (1, 3, pytest.approx(2000 - cut))
    assert row.all_copies == pytest.approx(3 * cut)


def test_the_thread_table_as_csv(planned: Make, pocket: str) -> None:
    told = planned(pocket)
    rows = list(csv.DictReader(io.StringIO(plan_csv(told.plan, told.punched))))
    seam = told.plan.seams[0]
    assert [row["seam"] for row in rows] == ["front"]
    assert (rows[0]["stitch"], rows[0]["of"], rows[0]["from_hole"]) == ("saddle", "1", "1")
    assert float(rows[0]["cut_mm"]) == pytest.approx(seam.thread)
    assert float(rows[0]["all_copies_mm"]) == pytest.approx(seam.thread)


def test_posts_tools_and_glue(planned: Make, pocket: str) -> None:
    lining = '[[piece]]\nname = "lining"\nrectangle = [100, 100]\non = "front"\nbehind = true\nglued = true\n'
    lining += "at = [20, 20]\nthickness = 1\n"
    told = planned(pocket + lining + EYE)
    assert told.plan.glue == (("lining", "front", 10_000.0),)
    (hardware,) = told.plan.hardware
    assert hardware.post == pytest.approx(2 + 25.4 / 16, abs=0.001)  # 3.6
    assert hardware.common is None  # 3.6 to 5.2: the shortest that is commonly sold, 6, is too long
    rows = [(row.what, row.size) for row in told.plan.tools]
    assert rows == [
        ("needle", "as thick as the thread, blunt"),
        ("punch", "1.6 mm"),
        ("punch", "3 mm"),
        ("setter", "cap 9 mm"),
        ("awl, mallet", "fine, round; plastic or rawhide"),
        ("beveller", "and burnisher, sanding paper"),
        ("cement", "and a spreader as wide as the strip"),
    ]
    assert "skiving knife" not in {what for what, _ in rows}
    tab = '[[piece]]\nname = "tab"\nrectangle = [40, 40]\nskive = { "A-B" = { width = 8, to = 1 } }\n'
    thinned = planned(pocket + EYE + tab)
    assert "skiving knife" in {row.what for row in thinned.plan.tools}
    (row,) = json.loads(told.json())["materials"][:1]
    assert row["net_ft2"] == pytest.approx(row["net_mm2"] / 92_903.04, abs=0.001)  # 929.03 cm² (exact)
    assert row["net_dm2"] == pytest.approx(row["net_mm2"] / 10_000, abs=0.001)
