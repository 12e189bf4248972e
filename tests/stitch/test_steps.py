"""Steps and lists: from the first cut to the last wipe of oil, and what must be bought."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Make = Callable[[str], Any]

SAMPLES = sorted((Path(__file__).parents[2] / "samples").glob("*/*.toml"))

CASE = """
[[piece]]
name = "back"
rectangle = [100, 120]
trim = { "A-B" = 2 }
folds = { brim = [[0, 110], [100, 110]] }
[[piece]]
name = "front"
rectangle = [100, 80]
on = "back"
skive = { "C-D" = { width = 10, to = 1 } }
[[piece]]
name = "lining"
rectangle = [70, 50]
on = "back"
at = [15, 15]
glued = true
thickness = 0.8
kind = "felt"
[[seam]]
name = "front"
runs = ["front: D-A-B-C", "back"]
[[opening]]
name = "corners"
kind = "rivet"
hole = 3
cap = 9
through = ["front", "back"]
at = [[12, 72], [88, 72]]
[[opening]]
name = "eye"
kind = "eyelet"
hole = 5
through = ["back"]
at = [[50, 95]]
"""


def test_the_frame_of_the_work(planned: Make, head: str) -> None:
    """Cut, mark, skive, fold, dye, then the works, trim, burnish, finish last (trade pages)."""
    told = planned(head + CASE.replace('name = "lining"', 'name = "lining"\nquantity = 1'))
    assert [(step.kind.value, step.name) for step in told.plan.steps] == [
        ("cut", "back, front, lining"),
        ("mark", "back, front, lining"),
        ("skive", "front"),
        ("bevel", "back, front"),
        ("fold", "back"),
        ("dye", "back, front"),
        ("edges", "back, front"),
        ("glue", "lining"),
        ("seam", "front"),
        ("trim", "back"),
        ("opening", "corners"),
        ("opening", "eye"),
        ("burnish", "back, front"),
        ("finish", "lining"),
        ("finish", "back, front"),
    ]
    assert all(step.what.endswith(".") for step in told.plan.steps)
    assert [step.name for step in told.plan.steps if not step.why] == [
        "lining",  # at any time
        "front",  # the rivets' step, the next, tells why
        "eye",
    ]


def test_sentences_for_the_bench(planned: Make, head: str) -> None:
    what = {(step.kind.value, step.name): step.what for step in planned(head + CASE).plan.steps}
    assert what["skive", "front"] == "Skive front along C-D on the flesh side, 10 mm wide, down to 1 mm."
    assert what["bevel", "back, front"] == (
        "Sand and bevel, while each piece is single: back along B-C (80 to 120 mm from B), C-D, D-A (0 to 40 "
        "mm from D); front along C-D."
    )
    assert what["edges", "back, front"] == "Burnish the bevelled edges of back and front."
    assert what["burnish", "back, front"] == (
        "Sand level, bevel both sides, dye along the edge and burnish: back along A-B, B-C (0 to 80 mm from "
        "B), D-A (40 to 120 mm from D); front along A-B-C, D-A."
    )
    assert what["glue", "lining"] == (
        "Glue lining down on back, back of lining on the grain side of back, and let it set."
    )
    assert what["trim", "back"] == "Trim back along A-B to the line."
    assert what["fold", "back"] == 'Fold back on "brim"; damp it first and let it dry in shape.'
    assert what["opening", "corners"] == (
        "Set 2 rivets through front and back: hole 3 mm, post 5.4 to 7.0 mm. Cap on the grain side of front."
    )
    assert what["opening", "eye"] == "Set 1 eyelet through back: hole 5 mm. Cap on the grain side of back."


def test_the_makers_notes_stand_where_the_work_is_done(planned: Make, head: str) -> None:
    text = CASE.replace(
        'runs = ["front: D-A-B-C", "back"]', 'runs = ["front: D-A-B-C", "back"]\nnote = "Fill it"'
    )
    told = planned(head + text + 'note = "the brass ones."\n')
    what = {step.name: step.what for step in told.plan.steps}
    assert what["front"].endswith(". Note: Fill it.")
    assert what["eye"].endswith(". Note: the brass ones.")
    assert "Note" not in what["corners"] + what["back"]


def test_felt_is_neither_dyed_nor_burnished_nor_oiled(planned: Make, head: str) -> None:
    told = planned(head.replace("thickness = 2", 'thickness = 2\nkind = "felt"') + CASE)
    assert not {"bevel", "dye", "edges", "burnish"} & set(told.kinds())
    assert told.plan.steps[-1].what == "Clip thread ends, brush and press."


def test_felt_and_cloth_have_no_hide_and_no_grain_side(planned: Make, head: str) -> None:
    """The template says "the face" and "the back" of them."""
    cloth = head.replace("thickness = 2", 'thickness = 2\nkind = "canvas"') + CASE
    plan = planned(cloth.replace('name = "back"', 'name = "back"\nmark = "flesh"', 1)).plan
    notes = {row.piece: row.note for row in plan.cut_list}
    assert notes["back"].startswith("marked on the back, mirrored")
    assert notes["front"].startswith("marked on the face")
    told = " ".join(f"{step.what} {step.why}" for step in plan.steps)
    assert not {"hide", "leather", "grain", "dye"} & set(told.replace(";", "").replace(".", "").split())


def test_edges_that_end_flush_are_finished_together_after_stitching(planned: Make, head: str) -> None:
    """A welt and a lining that end with the front are sanded as one edge (trade pages); only what
    is left inside, here the welt's inner edges, can't be reached later."""
    sheath = """
[[piece]]
name = "back"
rectangle = [40, 180]
[[piece]]
name = "welt"
points = [[0, 0], [40, 0], [40, 180], [30, 180], [30, 10], [10, 10], [10, 180], [0, 180]]
on = "back"
[[piece]]
name = "front"
copy = "back"
on = "back"
[[piece]]
name = "lining"
copy = "back"
on = "back"
behind = true
glued = true
[[seam]]
name = "edge"
runs = ["front: D-A-B-C", "welt: H-A-B-C", "back: D-A-B-C", "lining"]
"""
    told = planned(head + sheath)
    early = [step.what for step in told.plan.steps if step.kind in ("bevel", "edges")]
    assert early == [
        "Sand and bevel, while each piece is single: welt along C-D-E-F-G-H; front along C-D.",
        "Burnish the bevelled edges of welt and front.",
    ]
    last = next(step for step in told.plan.steps if step.kind == "burnish")
    assert last.name == "back, welt, front, lining"


def test_a_gusset_is_finished_with_both_panels_after_stitching(planned: Make, head: str) -> None:
    """Its long edges end flush with the panels', whichever of them it is said to lie on."""
    box = """
[[piece]]
name = "back"
rectangle = [120, 90]
[[piece]]
name = "front"
copy = "back"
on = "back"
flat = false
[[piece]]
name = "gusset"
rectangle = [292, 30]
on = "back"
flat = false
[[seam]]
name = "to back"
bowed = true
runs = ["back: D-A-B-C", "gusset: A-B"]
[[seam]]
name = "to front"
bowed = true
runs = ["front: D-A-B-C", "gusset: C-D"]
"""
    told = planned(head + box)
    (early,) = (step.what for step in told.plan.steps if step.kind == "bevel")
    assert early == (
        "Sand and bevel, while each piece is single: back and front along C-D; gusset along B-C, D-A."
    )


def test_a_post_is_the_stack_and_a_sixteenth_of_an_inch(planned: Make, head: str) -> None:
    """1/16 to 1/8 in above the stack (two makers' pages); front 2 mm, back 2 mm, skive beyond."""
    told = planned(head + CASE.replace("skive =", "# skive ="))
    rivet, eyelet = sorted(told.plan.hardware, key=lambda row: row.what, reverse=True)
    assert (rivet.what, rivet.count, rivet.post) == ("rivet", 2, pytest.approx(4 + 25.4 / 16, abs=0.001))
    assert rivet.sizes == "cap 9 mm, hole 3 mm, post 5.6 to 7.2 mm (stack 4 mm and 1/16 to 1/8 in)"
    assert (eyelet.what, eyelet.count, eyelet.post) == ("eyelet", 1, None)


def test_a_snaps_halves_are_one_to_buy(planned: Make, pocket: str) -> None:
    half = '[[opening]]\nname = "{}"\nkind = "snap"\nhole = 4\nline = 20\n'
    half += 'through = ["{}"]\nat = [[{}]]\nmate = "{}"\n'
    stud = half.format("stud", "front", "70, 120", "cap")
    cap = half.format("cap", "back", "100, 225", "stud")
    (snap,) = planned(pocket + stud + cap).plan.hardware
    assert (snap.what, snap.count) == ("snap", 1)
    assert snap.sizes == "cap 12.7 mm, hole 4 mm, stack 2 mm, to be tried on a scrap"


def test_net_and_gross(planned: Make, head: str) -> None:
    """A quarter of waste is x 1.333 (upholstery leather pages' 18 for 13.5 sq ft); areas by hand."""
    told = planned(head + CASE)
    areas = [row.area_mm2 for row in told.plan.cut_list]
    assert areas == pytest.approx([100 * 122, 100 * 80, 70 * 50])
    assert told.plan.cut_list[0].height == pytest.approx(122)  # cut 2 mm outside, trimmed later
    assert told.plan.totals.leather_mm2 == pytest.approx(sum(areas))
    assert told.plan.totals.leather_gross_mm2 == pytest.approx(sum(areas) * 4 / 3)
    assert [(row.material, row.thickness) for row in told.plan.materials] == [
        ("firm leather", 2),
        ("felt", 0.8),
    ]


def test_holes_count_in_each_layer_and_shared_ones_once(planned: Make, head: str) -> None:
    told = planned(head + CASE)
    count = told.plan.seams[0].punched.count
    assert told.plan.totals.holes == 2 * count
    assert told.plan.totals.openings == 2 * 2 + 1


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_text_fits_a_terminal_and_has_no_codes(planned_file: Callable[[Path], Any], sample: Path) -> None:
    told = planned_file(sample)
    text = told.text()
    assert text.endswith("\n")
    assert max(len(line) for line in text.splitlines()) <= 100
    assert all(sign.isprintable() or sign == "\n" for sign in text)
    for seam in told.plan.seams:
        assert f"S{seam.order} {seam.name}" in " ".join(text.split())
        assert all(f"{thread.whole:.0f} mm" in text for thread in seam.threads)


def test_long_names_are_wrapped_and_nothing_is_lost(planned: Make, pocket: str) -> None:
    name = "the pocket in front for the pruning knife and the whetstone"
    told = planned(pocket.replace('"front"', f'"{name}"').replace("front: D", f"{name}: D"))
    text = told.text()
    assert max(len(line) for line in text.splitlines()) <= 100
    assert name in " ".join(text.split())


def test_json_has_the_words_other_programs_read(planned: Make, head: str) -> None:
    told = json.loads(planned(head + CASE).json())
    assert told["format"] == 1
    assert {"seams", "steps", "totals"} <= set(told)
    seam = told["seams"][0]
    promised = (
        "name order layers holes length_mm pitch_mm stack_mm tail_mm thread_mm rule_of_thumb_mm threads"
    )
    assert {*promised.split(), "walk", "moves", "wraps_mm", "after"} <= set(seam)
    assert seam["layers"][0]["piece"] == "front"
    assert [(layer["run"], layer["along"]) for layer in seam["layers"]] == [(1, "D-A-B-C"), (2, "")]
    assert set(seam["moves"][0]) >= {"from", "to", "front_mm", "back_mm", "stack_mm"}
    assert {"from", "to", "cut_mm"} <= set(seam["threads"][0])
    assert {"holes", "openings", "thread_mm", "leather_mm2"} <= set(told["totals"])
    assert {"kind", "name", "why"} <= set(told["steps"][0])


@pytest.mark.long
def test_the_plan_hangs_on_no_hash() -> None:
    """The same text under other hash seeds."""
    command = [sys.executable, "-c", "from handkit.cli import main; main()", "plan", str(SAMPLES[0])]
    told = {
        subprocess.run(
            [*command, "--format", "json"],
            capture_output=True,
            check=True,
            env={**os.environ, "PYTHONHASHSEED": seed},
        ).stdout
        for seed in ("1", "4711")
    }
    assert len(told) == 1


SIDES = """
[[piece]]
name = "back"
rectangle = [100, 120]
shows = "flesh"
[piece.folds]
spine = [[50, 0], [50, 120]]

[[piece]]
name = "pocket"
rectangle = [40, 60]
on = "back"
at = [5, 5]

[[piece]]
name = "ring"
rectangle = [90, 16]
[piece.lines]
near = [[7, 4], [7, 12]]
far = [[83, 4], [83, 12]]

[[seam]]
name = "pocket"
runs = ["pocket: D-A-B-C", "back"]

[[seam]]
name = "side"
runs = ["back: A-D", "back: B-C"]

[[seam]]
name = "lap"
runs = ["ring: near", "ring: far"]
"""


def test_a_seam_says_which_side_lies_on_which(planned: Make, head: str) -> None:
    """By hand: a back that shows its flesh folds with the grain inside; a ring laps the same way up."""
    what = {step.name: step.what for step in planned(head + SIDES).plan.steps if step.kind.value == "seam"}
    assert "between the flesh side of pocket and the flesh side of back" in what["pocket"]
    assert what["pocket"].count("side of back") == 1  # told once, with the glue
    clips = planned(head.replace("tail = 100", 'tail = 100\nhold = "clips"') + SIDES).plan.steps
    held = next(step.what for step in clips if step.name == "pocket" and step.kind.value == "seam")
    assert held.endswith(". Flesh side of pocket on the flesh side of back.")
    assert what["side"].endswith(". Grain side of back inside.")
    assert " side" not in what["lap"].replace("beside", "")


def test_what_lies_between_the_leaves_of_a_fold_is_told_once(planned: Make, head: str) -> None:
    """A welt in a folded sheath: flesh inside on both sides of it, whichever leaf is looked at."""
    sheath = """
[[piece]]
name = "sheath"
rectangle = [80, 120]
[piece.folds]
spine = [[40, 0], [40, 120]]

[[piece]]
name = "welt"
rectangle = [9, 120]
on = "sheath"
at = [71, 0]
behind = true

[[seam]]
name = "edge"
runs = ["sheath: B-C", "welt", "sheath: A-D"]
"""
    what = {step.name: step.what for step in planned(head + sheath).plan.steps if step.kind.value == "seam"}
    assert what["edge"].endswith(". Flesh side of sheath inside, welt between its leaves.")
