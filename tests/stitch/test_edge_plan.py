"""The edge plan: each edge of leather by the trade's order: bevelled, dyed, burnished, once.

Expected by hand from the order that makers' pages agree on (common practice): what is single, covered or
captive is finished before it is sewn; what is made one is sanded, bevelled, dyed along the edge and
burnished after.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from written_tables import piece, seam

from handkit.errors import ProjectError
from handkit.stitch.order.edges import edges_of
from handkit.stitch.plan import EdgeRow, EdgeState, StitchPlan

Make = Callable[[str], Any]

SAMPLES = sorted((Path(__file__).parents[2] / "samples").glob("*/*.toml"))


STRAP = piece("strap", 200, 20, "grain = 0", "folds = { turn = [[60, 0], [60, 20]] }")
KEEPER = piece("keeper", 60, 12, "lines = { left = [[4, 4], [4, 8]], right = [[56, 4], [56, 8]] }") + seam(
    "keeper", "keeper: left", "keeper: right"
)
WELT = "points = [[0, 0], [40, 0], [40, 180], [30, 180], [30, 10], [10, 10], [10, 180], [0, 180]]"

FOB = piece("fob", 28, 150, "folds = { ring = { line = [[0, 75], [28, 75]], radius = 1.5 } }")
FOB += '[[seam]]\nname = "fob"\nruns = [{ run = "fob: D-A-B-C", from_start = 95, from_end = 95 }, "fob"]\n'
RING = '[[fitting]]\nname = "split ring"\nkind = "ring"\non = "fob"\nfold = "ring"\ninside = 29\nbar = 3\n'
FOB += RING
LINED = piece(
    "strap", 200, 28, "grain = 0", "lines = { end = [[10, 4], [10, 24]], turned = [[70, 4], [70, 24]] }",
    "folds = { ring = { line = [[40, 0], [40, 28]], radius = 1.5 } }",
)  # fmt: skip
LINED += piece("lining", 100, 28, "grain = 0", 'on = "strap"', "at = [100, 0]", "behind = true")
LINED += seam("edge", "lining: A-B-C-D", "strap") + seam("end", "strap: end", "strap: turned")

# The steps in order with their names; then piece, edges, state, made one with, the steps of its works.
TABLES: dict[str, tuple[str, list[str], list[str]]] = {
    "a single strap": (
        STRAP,
        ["cut", "mark", "bevel", "fold", "dye", "edges", "finish"],
        ["strap its whole edge single: bevel bevel dye edges"],
    ),
    "a pocket on a back": (
        piece("back", 100, 120) + piece("pocket", 60, 50, 'on = "back"', "at = [20, 20]")
        + seam("pocket", "pocket: D-A-B-C", "back"),
        ["cut", "mark", "bevel", "dye", "edges", "seam", "finish"],
        [
            "back its whole edge single: bevel bevel dye edges",
            "pocket its whole edge captive: bevel bevel dye edges",
        ],
    ),
    "a pocket that ends with its back": (
        piece("back", 60, 120) + piece("pocket", 60, 50, 'on = "back"')
        + seam("pocket", "pocket: D-A-B-C", "back"),
        ["cut", "mark", "bevel", "dye", "edges", "seam", "burnish", "finish"],
        [
            "back A-B made one pocket: burnish burnish burnish burnish",
            "back B-C (0-50), D-A (70-120) made one pocket: burnish burnish burnish burnish",
            "back B-C (50-120), D-A (0-70) single: bevel bevel dye edges",
            "back C-D single: bevel bevel dye edges",
            "pocket A-B-C, D-A made one back: burnish burnish burnish burnish",
            "pocket C-D captive: bevel bevel dye edges",
        ],
    ),
    "a lined strap": (
        piece("strap", 200, 20, "grain = 0")
        + piece("lining", 200, 20, "grain = 0", 'on = "strap"', "behind = true", "glued = true")
        + seam("edge", "strap: A-B-C-D-A", "lining"),
        ["cut", "mark", "dye", "glue", "seam", "burnish", "finish"],
        [
            "strap its whole edge made one lining: burnish burnish burnish burnish",
            "lining its whole edge made one strap: burnish burnish burnish burnish",
        ],
    ),
    "a keeper": (
        KEEPER,
        ["cut", "mark", "bevel", "dye", "edges", "seam", "finish"],
        ["keeper its whole edge single: bevel bevel dye edges"],
    ),
    "a welted sheath": (
        piece("back", 40, 180)
        + f'[[piece]]\nname = "welt"\n{WELT}\non = "back"\n'
        + '[[piece]]\nname = "front"\ncopy = "back"\non = "back"\n'
        + seam("edge", "front: D-A-B-C", "welt: H-A-B-C", "back: D-A-B-C"),
        ["cut", "mark", "bevel", "dye", "edges", "seam", "burnish", "finish"],
        [
            "back A-B-C, D-A made one welt, front: burnish burnish burnish burnish",
            "back C-D single: bevel bevel dye edges",
            "welt A-B-C, H-A made one back, front: burnish burnish burnish burnish",
            "welt C-D, G-H single: bevel bevel dye edges",
            "welt D-E-F-G covered: bevel bevel dye edges",
            "front A-B-C, D-A made one back, welt: burnish burnish burnish burnish",
            "front C-D captive: bevel bevel dye edges",
        ],
    ),
    "a trimmed edge": (
        piece("back", 60, 50, 'trim = { "A-B" = 2 }') + piece("pocket", 60, 50, 'on = "back"')
        + seam("foot", "pocket: A-B", "back"),
        ["cut", "mark", "bevel", "dye", "edges", "seam", "trim", "burnish", "finish"],
        [
            "back A-B trimmed pocket: burnish burnish burnish burnish",
            "back B-C-D-A single: bevel bevel dye edges",
            "pocket A-B made one back: burnish burnish burnish burnish",
            "pocket B-C-D-A single: bevel bevel dye edges",
        ],
    ),
    "a lined mouth is finished before the pocket is sewn down": (
        piece("back", 60, 120) + piece("pocket", 60, 50, 'on = "back"')
        + piece("lining", 60, 50, 'on = "pocket"', "behind = true", "glued = true")
        + seam("pocket", "pocket: D-A-B-C", "lining", "back"),
        ["cut", "mark", "bevel", "dye", "edges", "glue", "edges", "seam", "burnish", "finish"],
        [
            "back A-B made one pocket, lining: burnish burnish burnish burnish",
            "back B-C (0-50), D-A (70-120) made one pocket, lining: burnish burnish burnish burnish",
            "back B-C (50-120), D-A (0-70) single: bevel bevel dye edges",
            "back C-D single: bevel bevel dye edges",
            "pocket A-B-C, D-A made one back, lining: burnish burnish burnish burnish",
            "pocket C-D made one lining before pocket: edges edges edges edges",
            "lining A-B-C, D-A made one back, pocket: burnish burnish burnish burnish",
            "lining C-D made one pocket before pocket: edges edges edges edges",
        ],
    ),
    "a fob that is sewn as far as its ring: what the ring is to turn in stays single": (
        FOB, ["cut", "mark", "bevel", "dye", "edges", "fold", "fitting", "seam", "burnish", "finish"],
        [
            "fob A-B, C-D made one fob: burnish burnish burnish burnish",
            "fob B-C (0-51), B-C (99-150), D-A (0-51), D-A (99-150) made one fob: "
            "burnish burnish burnish burnish",
            "fob B-C (51-99), D-A (51-99) single: bevel bevel dye edges",
        ],
    ),
    "a short rest is finished with the part beside it": (
        piece("back", 60, 60) + piece("pocket", 60, 46, 'on = "back"')
        + seam("pocket", "pocket: D-A-B-C", "back"),
        ["cut", "mark", "bevel", "dye", "edges", "seam", "burnish", "finish"],
        [
            "back A-B-C, D-A made one pocket: burnish burnish burnish burnish",
            "back C-D single: bevel bevel dye edges",
            "pocket A-B-C, D-A made one back: burnish burnish burnish burnish",
            "pocket C-D captive: bevel bevel dye edges",
        ],
    ),
    "a lined strap is finished before a ring hangs on it": (
        LINED + RING.replace("fob", "strap"),
        ["cut", "mark", "bevel", "dye", "edges", "seam", "edges", "fold", "fitting", "seam", "finish"],
        [
            "strap A-B (0-100), C-D (100-200) single: bevel bevel dye edges",
            "strap A-B (100-200), C-D (0-100) made one lining before split ring: edges edges edges edges",
            "strap B-C made one lining before split ring: edges edges edges edges",
            "strap D-A single: bevel bevel dye edges",
            "lining A-B-C-D made one strap before split ring: edges edges edges edges",
            "lining D-A captive: bevel bevel dye edges",
        ],
    ),
    "a patch that is glued on a tab over its thread: the tab lies sewn on a face by then": (
        piece("back", 100, 120) + piece("tab", 40, 40, 'on = "back"', "at = [30, 40]")
        + piece("patch", 40, 40, 'on = "tab"', "glued = true") + seam("tab", "tab: D-A-B-C", "back"),
        ["cut", "mark", "bevel", "dye", "edges", "seam", "glue", "finish"],
        [
            "back its whole edge single: bevel bevel dye edges",
            "tab its whole edge captive: bevel bevel dye edges",
            "patch its whole edge single: bevel bevel dye edges",
        ],
    ),
    "pockets in steps on a face are flush with one another alone: nobody sands down to the face": (
        piece("back", 100, 120)
        + piece("one", 60, 50, 'on = "back"', "at = [20, 34]", "lines = { foot = [[12, 4], [48, 4]] }")
        + piece("two", 60, 50, 'on = "back"', "at = [20, 22]")
        + seam("foot", "one: foot", "back") + seam("pockets", "two: D-A-B-C", "one", "back"),
        ["cut", "mark", "bevel", "dye", "edges", "seam", "seam", "finish"],
        [
            "back its whole edge single: bevel bevel dye edges",
            "one its whole edge captive: bevel bevel dye edges",
            "two its whole edge captive: bevel bevel dye edges",
        ],
    ),
    "cloth is not sanded: leather flush with it stays single": (
        piece("front", 60, 50) + piece("lining", 60, 50, 'kind = "felt"', 'on = "front"', "glued = true")
        + seam("edge", "front: A-B-C-D-A", "lining"),
        ["cut", "mark", "bevel", "dye", "edges", "glue", "seam", "finish", "finish"],
        ["front its whole edge single: bevel bevel dye edges"],
    ),
}  # fmt: skip


def told(row: EdgeRow, plan: StitchPlan) -> str:
    runs: list[list[str]] = []
    for (start, end), part in zip(row.edges, row.parts, strict=True):
        if part:
            runs.append([start, f"{end} ({part[0]:.0f}-{part[1]:.0f})"])
        elif runs and runs[-1][-1] == start:
            runs[-1].append(end)
        else:
            runs.append([start, end])
    whole = len(runs) == 1 and runs[0][0] == runs[0][-1]
    edges = "its whole edge" if whole else ", ".join(map("-".join, runs))
    mates = f" {', '.join(row.mates)}" if row.mates else ""
    before = f" before {row.before}" if row.before and row.mates else ""
    kinds = " ".join(plan.steps[action.step - 1].kind for action in row.actions)
    return f"{row.piece} {edges} {row.state}{mates}{before}: {kinds}"


@pytest.mark.parametrize("title", TABLES)
def test_the_order_of_each_edge(planned: Make, head: str, title: str) -> None:
    text, kinds, rows = TABLES[title]
    made = planned(head + text)
    assert made.kinds() == kinds
    assert [told(row, made.plan) for row in made.plan.edges] == rows
    hold_the_laws(made)


def hold_the_laws(made: Any) -> None:
    """No edge is bevelled after it is dyed without being dyed again, none burnished before it is bevelled,
    every bare edge of leather is finished once, in time, and nothing is done after the oil."""
    plan: StitchPlan = made.plan
    order = ["sand", "bevel", "dye", "burnish"]
    kinds = [step.kind.value for step in plan.steps]
    last = min((k for k, kind in enumerate(kinds, 1) if kind == "finish"), default=0)
    seen = []
    for row in plan.edges:
        assert [action.work.value for action in row.actions] == order
        numbers = [action.step for action in row.actions]
        assert numbers == sorted(numbers)
        assert numbers[-1] < last
        for work in (row.before, row.after):
            step = next(
                (
                    k
                    for k, s in enumerate(plan.steps, 1)
                    if s.name == work and s.kind.value in ("seam", "opening", "glue", "fitting")
                ),
                None,
            )
            if work == row.before and step is not None:
                assert numbers[-1] < step
            elif step is not None:
                assert numbers[0] > step
        seen += [(row.piece, ends, part) for ends, part in zip(row.edges, row.parts, strict=True)]
    leather = [one for one in made.punched.pattern.pieces if one.traits.is_leather and not one.works]
    for one in leather:
        for edge in edges_of(one):
            parts = [part for name, ends, part in seen if (name, ends) == (one.name, (edge.start, edge.end))]
            covered = sorted(part or (0.0, edge.span) for part in parts)
            assert [low for low, _ in covered] == [0.0, *(high for _, high in covered[:-1])]
            assert covered[-1][1] == edge.span


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_samples_keep_the_laws(planned_file: Callable[[Path], Any], sample: Path) -> None:
    hold_the_laws(planned_file(sample))


@settings(derandomize=True, deadline=None, max_examples=40)
@given(
    st.tuples(st.integers(0, 2), st.integers(4, 12), st.integers(4, 12)),
    st.sampled_from(["D-A-B-C", "A-B", "A-B-C-D-A", "C-D"]),
    st.tuples(st.booleans(), st.booleans()),
)
def test_the_laws_hold_for_any_patch(
    planned: Make, head: str, sizes: tuple[int, int, int], run: str, works: tuple[bool, bool]
) -> None:
    (left, width, height), (glued, trimmed) = (10 * each for each in sizes), works
    text = piece("back", 120, 120, *(('trim = { "A-B" = 2 }',) if trimmed else ()))
    patch = ('on = "back"', f"at = [{left}, 0]", *(("glued = true",) if glued else ()))
    text += piece("patch", width, height, *patch) + seam("patch", f"patch: {run}", "back")
    try:
        made = planned(head + text)
    except ProjectError:
        assume(False)
    hold_the_laws(made)


def states(made: Any) -> list[str]:
    return [told(row, made.plan) for row in made.plan.edges]


RULES = {
    "what is flush is made one": ("edge_turns.made_one", lambda *_: None),
    "what is closed in is finished before": ("edge_turns.enclosed_edges", lambda *_: {}),
    "mates are finished at one time": ("edge_turns._meets", lambda *_: False),
    "what hangs on a strap is put on after": ("edge_turns._hangs_on", lambda *_: False),
    "a short rest goes with its neighbour": ("made_one.LEAST_REST", 0.0),
    "a fold makes a piece its own mate": ("made_one._is_folded", lambda *_: False),
    "cloth has no edges to sand": ("made_one._ends_there", lambda *_: False),
    "what a layer was joined to before may be a face": (
        "made_one._joined_by_then",
        lambda task, _: task.pieces,
    ),
}
FOLDED = piece("sheath", 80, 180, "folds = { spine = [[40, 0], [40, 180]] }") + seam(
    "side", "sheath: D-A", "sheath: C-B"
)


@pytest.mark.long
@pytest.mark.parametrize("rule", RULES)
def test_no_rule_is_idle(planned: Make, head: str, rule: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without it, some table is worked otherwise."""
    texts = [FOLDED, *(text for text, *_ in TABLES.values())]
    with_it = [states(planned(head + text)) for text in texts]
    name, without = RULES[rule]
    monkeypatch.setattr(f"handkit.stitch.edges.{name}", without)
    assert [states(planned(head + text)) for text in texts] != with_it


def test_a_folded_sheath_is_its_own_mate(planned: Make, head: str) -> None:
    """Both long edges meet after the fold; the mouth and the foot, which no seam holds, stay single."""
    assert states(planned(head + FOLDED)) == [
        "sheath A-B, C-D single: bevel bevel dye edges",
        "sheath B-C, D-A made one sheath: burnish burnish burnish burnish",
    ]


def test_every_state_stands_in_a_table() -> None:
    lines = [line for *_, rows in TABLES.values() for line in rows]
    assert all(any(f" {state.value}" in line for line in lines) for state in EdgeState)


def test_the_json_has_the_table(planned: Make, head: str) -> None:
    text, *_ = TABLES["a pocket that ends with its back"]
    made = planned(head + text)
    assert '"edges": ["B-C", "D-A"]' in made.json().replace("\n", " ") or '"B-C"' in made.json()
