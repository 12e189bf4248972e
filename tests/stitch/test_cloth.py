"""Cloth: what is hemmed, bound, sealed, only marked; raw edges; the stack where a seam goes through a hem."""

from __future__ import annotations

from collections.abc import Callable
from math import sqrt
from typing import Any

import pytest

from handkit.draw.export.plan_csv import plan_csv
from handkit.errors import ProjectError
from handkit.stitch.plan import cut_threads

Make = Callable[[str], Any]

HEAD = """format = 1
[material]
kind = "canvas"
thickness = 0.8
[stitching]
pitch = 4
inset = 4
thread = 0.8
"""

# A roll, bound on two sides and hemmed on two, a pocket hemmed at its mouth and turned in on the others.
ROLL = (
    HEAD
    + """
[[piece]]
name = "roll"
rectangle = [300, 200]
hem = { "C-D-A" = { width = 15, turns = 2, turn_in = 8 } }
binding = { "A-B-C" = { width = 24, thickness = 0.5 } }
[[piece]]
name = "pocket"
rectangle = [160, 90]
on = "roll"
at = [60, 20]
hem = { "C-D" = { width = 15, turns = 2, turn_in = 8 } }
turned = { "D-A-B-C" = 10 }
[[seam]]
name = "mouth"
runs = [{ run = "pocket: C-D", inset = 12 }]
[[seam]]
name = "pocket"
runs = ["pocket: D-A-B-C", "roll"]
[[seam]]
name = "hem"
runs = [{ run = "roll: C-D-A", inset = 12 }]
[[seam]]
name = "binding"
runs = ["roll: A-B-C"]
"""
)
LEATHER = """
[[piece]]
name = "patch"
rectangle = [60, 40]
kind = "firm leather"
thickness = 2
on = "roll"
at = [230, 20]
[[seam]]
name = "patch"
runs = ["patch: A-B-C-D-A", "roll"]
"""
STRAP = """
[[piece]]
name = "tie"
rectangle = [400, 25]
kind = "webbing"
thickness = 1.2
grain = 0
"""
SEALING = (
    "Seal the cut ends B-C, D-A of tie over a small flame or with a hot knife, where it melts; "
    "else turn or whip them."
)


def flap(works: str, *, runs: str = "", head: str = HEAD) -> str:
    """A flap of 100 x 60 with a seam."""
    seam = f'[[seam]]\nname = "row"\nruns = [{runs}]\n' if runs else ""
    return f'{head}[[piece]]\nname = "flap"\nrectangle = [100, 60]\n{works}\n{seam}'


def codes(told: Any) -> list[str]:
    return [each.code for each in told.punched.findings]


# The stack of a row through one edge: canvas 0.8, tape 0.5. By hand, from what lies there: the piece, the
# hem up to its width, its turn-in over the last 8 mm, either side of a tape up to half its width.
STACKS = [
    ('hem = { "C-D" = 15 }', 12, 0.8 + 0.8),
    ('hem = { "C-D" = { width = 15, turns = 2, turn_in = 8 } }', 12, 3 * 0.8),
    ('hem = { "C-D" = { width = 15, turns = 2, turn_in = 8 } }', 5, 2 * 0.8),  # the turn-in begins 7 in
    ('hem = { "C-D" = 15 }', 20, 0.8),
    ('turned = { "C-D" = 10 }', 4, 2 * 0.8),
    ('binding = { "C-D" = { width = 24, thickness = 0.5 } }', 8, 0.8 + 2 * 0.5),
    ('binding = { "C-D" = { width = 24, thickness = 0.5 } }', 14, 0.8),
    ('allowance = { "C-D" = 12 }', 4, 0.8),  # it lies outside the seam
]


@pytest.mark.parametrize(("works", "inset", "stack"), STACKS)
def test_what_is_turned_counts_in_the_stack_where_it_lies(
    planned: Make, works: str, inset: float, stack: float
) -> None:
    told = planned(flap(works, runs=f'{{ run = "flap: C-D", inset = {inset} }}'))
    (seam,) = told.plan.seams
    assert seam.stack == pytest.approx(stack)


def test_the_stack_belongs_to_the_hole(planned: Make) -> None:
    """A row up the side, 30 mm of it free and 15 under the hem at its end."""
    told = planned(flap('hem = { "C-D" = 15 }', runs='"flap: B-C"'))
    (seam,) = told.plan.seams
    stacks = {round(move.stack, 3) for move in seam.moves}
    assert stacks == {0.8, 1.6}
    ys = {hole.number: hole.at[1] for hole in seam.punched.layers[0].holes}
    assert all((move.stack > 1) == (ys[move.end] >= 45) for move in seam.moves)


def test_a_hem_is_held_by_a_seam_through_all_of_it(planned: Make) -> None:
    """Turned twice it is held from 7 to 15 mm inside; turned once from its fold on."""
    twice = 'hem = { "C-D" = { width = 15, turns = 2, turn_in = 8 } }'
    rest = 'turned = { "D-A-B-C" = 10 }'
    row = '{{ run = "flap: C-D", inset = {0} }}'
    assert codes(planned(flap(f"{twice}\n{rest}", runs=row.format(12)))) == []
    assert codes(planned(flap(f"{twice}\n{rest}", runs=row.format(5)))) == ["edge-work-not-sewn"]
    assert codes(planned(flap(f'hem = {{ "C-D" = 15 }}\n{rest}', runs=row.format(5)))) == []
    told = planned(flap(f"{twice}\n{rest}", runs=row.format(20)))
    assert [str(each) for each in told.punched.findings] == [
        'p.toml:12: warning: piece "flap": hem: found a hem on C-D that no seam holds; allowed: a seam along '
        "it, 7 mm to 15 mm inside the finished edge; "
        'add a [[seam]] with runs = [{ run = "flap: C-D", inset = 12 }] [edge-work-not-sewn]'
    ]


def test_a_hem_all_round_is_held_by_a_row_all_round(planned: Make) -> None:
    hem = 'hem = { "A-B-C-D-A" = { width = 12, turns = 2 } }'
    assert codes(planned(flap(hem, runs='{ run = "flap: A-B-C-D-A", inset = 9 }'))) == []
    assert codes(planned(flap(hem, runs='{ run = "flap: A-B-C-D", inset = 9 }'))) == ["edge-work-not-sewn"]


def test_rows_on_cloth_may_cross_where_leather_would_tear(planned: Make) -> None:
    """The mouth's row and the side's come within 1 mm of one another near D."""
    text = flap('turned = { "A-B-C-D-A" = 10 }', runs='{ run = "flap: C-D", inset = 7 }')
    text += '[[seam]]\nname = "side"\nruns = [{ run = "flap: D-A", inset = 7.5 }]\n'
    assert codes(planned(text)) == []
    with pytest.raises(ProjectError, match="holes-too-close"):
        planned(text.replace('kind = "canvas"', 'kind = "soft leather"'))


def test_what_the_finding_asks_for_holds(planned: Make) -> None:
    for works in (
        'hem = { "C-D" = 4 }',
        'hem = { "C-D" = { width = 9, turns = 2 } }',
        'binding = { "C-D" = 8 }',
    ):
        rest = 'turned = { "D-A-B-C" = 10 }'
        (told,) = planned(flap(f"{works}\n{rest}")).punched.findings
        run = told.remedy.partition("runs = [")[2].rstrip("]")
        assert codes(planned(flap(f"{works}\n{rest}", runs=run))) == []


RAW = [
    ("", "", ["raw-edge"]),
    ('turned = { "A-B-C-D-A" = 10 }', "", []),
    ('allowance = { "A-B-C-D-A" = 12 }', "", ["raw-edge"]),  # nothing closes it
    ('allowance = { "A-B-C-D-A" = 12 }', '"flap: A-B-C-D-A"', []),
    ('allowance = { "A-B-C-D-A" = 12 }', '"flap: A-B-C-D"', ["raw-edge"]),  # one side is left
    ("", '"flap: A-B-C-D-A"', ["raw-edge"]),  # sewn, and frays up to the seam
]


@pytest.mark.parametrize(("works", "runs", "expected"), RAW)
def test_an_edge_that_frays_is_told(planned: Make, works: str, runs: str, expected: list[str]) -> None:
    assert codes(planned(flap(works, runs=runs))) == expected


def test_raw_edges_are_told_once_a_piece(planned: Make) -> None:
    told = planned(flap('hem = { "C-D" = 15 }', runs='{ run = "flap: C-D", inset = 12 }'))
    assert [str(each) for each in told.punched.findings] == [
        'p.toml:9: warning: piece "flap": found A-B-C, D-A of canvas that frays, with nothing but a cut; '
        "allowed: an edge that is hemmed, turned or bound, or closed within a seam beside its allowance; "
        "give it a hem, turned, binding or allowance [raw-edge]"
    ]


def test_alike_raw_edges_are_told_once(planned: Make) -> None:
    """Of a part's strips, say, or of pieces that are cut in cloth without a thought of it."""
    other = '[[piece]]\nname = "other"\nrectangle = [60, 60]\nkind = "canvas"\nthickness = 1\n'
    (told,) = planned(flap("") + other).punched.findings
    assert (
        told.found == 'its whole edge of canvas that frays, with nothing but a cut, and the same of "other"'
    )
    assert told.where.key == 'piece "flap"'


def test_a_copy_is_told_of_what_its_original_has_not(planned: Make) -> None:
    """Both raw all round: told once. Only the original closed: the copy is told."""
    copy = '[[piece]]\nname = "other"\ncopy = "flap"\n'
    assert codes(planned(flap("") + copy)) == ["raw-edge"]
    closed = planned(flap('allowance = { "A-B-C-D-A" = 12 }', runs='"flap: A-B-C-D-A"') + copy)
    assert [(each.code, each.where.key) for each in closed.punched.findings] == [
        ("raw-edge", 'piece "other"')
    ]


@pytest.mark.parametrize("kind", ["felt", "firm leather", "soft leather", "webbing"])
def test_what_does_not_fray_has_no_raw_edge(planned: Make, kind: str) -> None:
    assert codes(planned(flap(f'kind = "{kind}"'))) == []


def test_a_slot_cut_in_cloth_frays_and_an_eyelet_does_not(planned: Make) -> None:
    slot = '[[opening]]\nname = "gap"\nkind = "slot"\nslot = [20, 4]\nthrough = ["flap"]\nat = [[50, 30]]\n'
    eyelet = '[[opening]]\nname = "eye"\nkind = "eyelet"\nhole = 5\nthrough = ["flap"]\nat = [[50, 30]]\n'
    turned = 'turned = { "A-B-C-D-A" = 10 }'
    assert [str(each) for each in planned(flap(turned) + slot).punched.findings] == [
        'p.toml:13: note: opening "gap": found a slot cut in "flap", canvas that frays; '
        "whip its rim with close stitches, or lay a patch of leather under it [raw-opening]"
    ]
    assert codes(planned(flap(turned) + eyelet)) == []
    assert codes(planned(flap(f'kind = "webbing"\n{turned}') + slot)) == []


FLAPPED = """format = 1
[material]
thickness = 0.8
kind = "canvas"
[stitching]
pitch = 5
inset = 6
[[item]]
name = "pad"
in = "bag"
size = [110, 40, 120]
[[part]]
name = "bag"
kind = "bag"
closed_by = "snaps"
flap = 70
allowance = 10
hem = 12
"""


def test_edges_are_turned_and_bound_before_pieces_are_joined(planned: Make) -> None:
    told = planned(ROLL)
    assert codes(told) == []
    assert told.kinds()[:4] == ["cut", "mark", "hem", "hem"]
    what = {step.name: step.what for step in told.plan.steps if step.kind.value == "hem"}
    assert what["roll"] == (
        "Turn 8 mm of C-D-A of roll to the back on the outer fold line, then 15 mm on the inner one; press "
        "it, and hold it with clips. Fold 500 mm of tape 24 mm wide over A-B-C of roll, as deep on the front "
        "as on the back; hold it with clips. At D fold the point of the corner in first, cut off what is "
        "double, then turn both edges, so that their folds meet in a mitre."
    )
    assert "At A and B fold the point of the corner in first" in what["pocket"]
    assert what["pocket"].endswith(
        " At C and D, where the hems are not alike, turn D-A-B-C first and C-D over its end; cut away inside "
        "what would lie too thick, and fold the raw end in."
    )


def test_a_flap_with_hems_is_folded_once_they_are_sewn(planned: Make) -> None:
    """It is turned and sewn while it lies flat, and folded before it is joined to the bag's back."""
    steps = [(step.kind.value, step.name) for step in planned(FLAPPED).plan.steps]
    places = [steps.index(each) for each in (("hem", "bag flap"), ("seam", "bag flap, hem"))]
    places += [steps.index(each) for each in (("fold", "bag flap"), ("seam", "bag flap"))]
    assert places == sorted(places)


@pytest.mark.parametrize(("word", "last"), [("tab", "bag rivets"), ("strap", "bag strap")])
def test_a_flap_with_hems_is_folded_once_what_lies_on_it_is_on(planned: Make, word: str, last: str) -> None:
    """A tab or a strap goes on while it lies flat; folded, both its bends would stand up under the punch."""
    told = planned(FLAPPED.replace("snaps", word).replace("flap = 70\n", "")).plan.steps
    names = [(step.kind.value, step.name) for step in told]
    fold = names.index(("fold", "bag flap"))
    assert [name for _, name in names].index(last) < fold < names.index(("seam", "bag flap"))


def test_stitch_holes_of_cloth_are_marked_and_never_punched(planned: Make) -> None:
    told = planned(ROLL)
    assert told.plan.steps[1].what == (
        "Mark the pieces, and the stitch holes with chalk or a soft pencil: never punch them."
    )
    assert {(row.what, row.size) for row in told.plan.tools} == {
        ("needle", "as thick as the thread, sharp"),
        ("marker", "chalk or soft pencil"),
        ("awl", "round, fine"),
        ("flat iron", "its heat tried on a scrap"),
        ("clips", "one every 50 mm"),
    }
    assert "marked only, never punched" in told.text()


def test_leather_on_cloth_is_punched_and_the_cloth_is_not(planned: Make) -> None:
    told = planned(ROLL + LEATHER)
    assert told.plan.steps[1].what == (
        "Mark the pieces. Punch the holes of patch; those of roll and pocket only mark, with chalk or a soft "
        "pencil: never punch them."
    )
    tools = {(row.what, row.size) for row in told.plan.tools}
    assert {("punch", "1.6 mm"), ("marker", "chalk or soft pencil"), ("awl", "round, fine")} <= tools
    assert "round, ⌀1.6 mm; on roll marked only" in told.text()
    last = [(step.name, step.what) for step in told.plan.steps if step.kind.value == "finish"]
    assert last == [
        ("roll, pocket", "Clip thread ends, brush and press."),
        (
            "patch",
            "Oil sparingly, let it sink in, then finish; let it dry. Keep oil and finish off the cloth.",
        ),
    ]
    named = {step.kind.value: step.name for step in told.plan.steps}
    assert (named["dye"], named["edges"]) == ("patch", "patch")


def test_an_iron_marks_leather_and_no_cloth(planned: Make) -> None:
    text = (ROLL + LEATHER).replace(
        "[stitching]", "[stitching]\nhole = { slit = 2.5 }\niron = { teeth = 6, pitch = 4 }"
    )
    told = planned(text)
    by_seam = {seam.name: {one.piece for one in seam.tooling} for seam in told.plan.seams}
    assert by_seam.pop("patch") == {"patch"}
    assert set().union(*by_seam.values()) == set()


def test_the_layers_of_cloth_are_pierced_through_the_one_on_top(planned: Make) -> None:
    told = planned(
        ROLL.replace('"pocket: D-A-B-C", "roll"]', '"pocket: D-A-B-C", "roll"]\npunch = "through"')
    )
    assert told.plan.steps[1].what.endswith(
        ' Of "pocket" only the face layer now: the others are pierced through it when stitched.'
    )
    sewn = next(step for step in told.plan.steps if (step.kind.value, step.name) == ("seam", "pocket"))
    assert "go through with the awl at the marks of the face layer, then stitch" in sewn.what


def test_the_cut_ends_of_webbing_are_sealed(planned: Make) -> None:
    told = planned(HEAD + STRAP)
    assert [step.what for step in told.plan.steps if step.kind.value == "seal"] == [SEALING]
    assert [row.what for row in told.plan.tools] == ["small flame"]
    hemmed = planned(HEAD + STRAP + 'hem = { "B-C" = { width = 12, turns = 2 } }\n')
    (step,) = (step for step in hemmed.plan.steps if step.kind.value == "seal")
    assert step.what.startswith("Seal the cut ends D-A of tie")


def test_tape_is_in_the_hardware_list_as_long_as_its_edge(planned: Make) -> None:
    """300 along the foot and 200 up the side: 500."""
    (row,) = planned(ROLL).plan.hardware
    assert (row.what, row.count, row.post) == ("tape", 1, None)
    assert row.sizes == "24 mm wide, 0.5 mm thick, 500 mm long, for A-B-C of roll"


def test_the_cutting_list_has_the_cut_and_tells_what_is_outside(planned: Make) -> None:
    """15 + 8 + 2 x 0.8 = 24.6 more on two sides of the roll; the pocket 24.6 at the mouth, 10.8 elsewhere."""
    rows = {row.piece: row for row in planned(ROLL).plan.cut_list}
    assert (rows["roll"].width, rows["roll"].height) == pytest.approx((324.6, 224.6))
    assert (rows["pocket"].width, rows["pocket"].height) == pytest.approx((181.6, 125.4))
    assert rows["pocket"].note == (
        "marked on the face, C-D: turn in 8 mm, then hem 15 mm to the back, D-A-B-C: turn 10 mm to the back"
    )


def test_an_allowance_is_laid_flat_when_its_last_seam_is_sewn(planned: Make) -> None:
    told = planned(flap('allowance = { "A-B-C-D-A" = 12 }', runs='"flap: A-B-C-D-A"'))
    assert told.kinds() == ["cut", "mark", "seam", "hem", "finish"]
    assert told.plan.steps[3].what.startswith(
        "Press the allowance along A-B-C-D-A of flap flat to one side or open."
    )


LINED = '[[piece]]\nname = "lining"\nrectangle = [100, 60]\non = "flap"\nbehind = true\n'


# By hand, canvas of 0.8: 100 mm take 34 stitches, each 0.8 through the cloth and √(6.8² + (100 / 34)²) over
# its edge; 60 mm take 20; 0.8 for the first hole, and two tails of 180.
@pytest.mark.parametrize(
    ("kind", "more", "expected"),
    [
        ("canvas", "", {"A-B": 639.900, "B-C": 525.447, "C-D": 639.900, "D-A": 525.447}),
        ("canvas", LINED, {}),  # it lies inside, between both
        ("felt", "", {}),
        ("soft leather", "", {}),
    ],
)
def test_an_allowance_that_frays_is_overcast_once_it_is_sewn(
    planned: Make, kind: str, more: str, expected: dict[str, float]
) -> None:
    works = f'kind = "{kind}"\nallowance = {{ "A-B-C-D-A" = 12 }}'
    runs = '"flap: A-B-C-D-A"' + (', "lining"' if more else "")
    made = planned(flap(works, runs=runs).replace("[[seam]]", f"{more}[[seam]]")).plan
    own = {each.edge: each.cut for each in made.overcast if each.piece == "flap"}
    assert own == pytest.approx(expected, abs=0.001)
    told = [step.what for step in made.steps if "of flap flat" in step.what]
    assert ["Overcast its cut edge" in each for each in told] == [bool(expected)]
    assert all(f"{edge} {cut:.0f} mm" in told[0] for edge, cut in own.items())


def test_holes_along_a_turned_leather_edge_are_punched_when_it_is_turned(planned: Make) -> None:
    leather = HEAD.replace('"canvas"', '"soft leather"')
    told = planned(flap('turned = { "A-B" = 10 }', runs='"flap: A-B"', head=leather))
    assert told.plan.steps[1].what == (
        "Mark the pieces and punch the holes. Along A-B of flap punch only when that is turned."
    )
    hem = next(step for step in told.plan.steps if step.kind.value == "hem")
    assert hem.what == (
        "Turn 10 mm of A-B of flap to the flesh side on the fold line; glue it down and hammer it flat."
    )


# A panel of canvas that is turned all round, to its back, and what lies behind it or on it.
PANEL = '[[piece]]\nname = "panel"\nrectangle = [200, 150]\nkind = "canvas"\n'
TURNED = 'turned = { "A-B-C-D-A" = 12 }\n'
OVER = '[[piece]]\nname = "over"\nrectangle = [200, {high}]\non = "panel"\n{more}'
ROUND = '[[seam]]\nname = "round"\nruns = ["panel: A-B-C-D-A"]\ninset = 6\n'
BOTH = ROUND.replace('"]', '", "over"]')
RAW = {
    "alone": (PANEL + TURNED + ROUND, "its whole edge"),
    "a cover behind all of it": (
        PANEL + TURNED + OVER.format(high=150, more="behind = true\n") + BOTH,
        "",
    ),
    "a cover behind its lower half": (
        PANEL + TURNED + OVER.format(high=75, more="behind = true\n") + BOTH,
        "B-C-D-A",
    ),
    "a cover on its face": (
        PANEL + TURNED + OVER.format(high=150, more="") + BOTH,
        "its whole edge",
    ),
    "hemmed twice": (
        PANEL + 'hem = { "A-B-C-D-A" = { width = 12, turns = 2 } }\n' + ROUND.replace("6", "9"),
        "",
    ),
    "of leather": (PANEL.replace("canvas", "soft leather") + TURNED + ROUND, ""),
}


@pytest.mark.parametrize("title", RAW)
def test_a_cut_end_that_stays_in_sight_is_overcast(planned: Any, title: str) -> None:
    """Of what is turned once, where nothing lies over it on that side; before it is turned."""
    text, edges = RAW[title]
    head = "format = 1\n[material]\nthickness = 0.8\n[stitching]\npitch = 4\ninset = 6\nthread = 0.6\n"
    steps = [step.what for step in planned(head + text).plan.steps if step.kind == "hem"]
    told = [what.partition("Overcast the cut edge of panel along ")[2].partition(":")[0] for what in steps]
    assert [each for each in told if each] == ([edges] if edges else [])


def test_thread_to_overcast_is_in_all_lists(planned: Any) -> None:
    """By hand: canvas of 0.8; a stitch each 3 mm at the most, √((3 + 0.8 + 3)² + step²) over the edge and 0.8
    through it; 0.8 once more, and two tails of 180."""
    head = "format = 1\n[material]\nthickness = 0.8\n[stitching]\npitch = 4\ninset = 6\nthread = 0.6\n"
    text = next(text for text, edges in RAW.values() if edges)
    found = planned(head + text)
    own = found.plan.overcast
    assert {each.piece for each in own} == {"panel"}
    for each in own:
        stitches = -(-each.length // 3)
        bare = 0.8 + stitches * (0.8 + sqrt(6.8**2 + (each.length / stitches) ** 2))
        assert (each.stitches, each.count) == (stitches, 1)
        assert each.cut == pytest.approx(bare + 360, abs=0.001)
    (row,) = found.plan.threads
    threads = [*(cut.cut for cut in cut_threads(found.plan.seams)), *(each.cut for each in own)]
    assert (row.count, row.length) == (len(threads), pytest.approx(sum(threads)))
    assert found.plan.totals.thread == pytest.approx(sum(threads))
    told = plan_csv(found.plan, found.punched).splitlines()
    assert [line.split(",")[-7] for line in told if ",overcasting," in line] == [
        f"panel: {each.edge}" for each in own
    ]
    step = next(step.what for step in found.plan.steps if "Overcast" in step.what)
    assert all(f"{each.edge} {each.cut:.0f} mm" in step for each in own)
