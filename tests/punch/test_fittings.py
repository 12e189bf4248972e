"""Fittings: straps in buckles, keepers, zips and magnets; each check with a case that passes it just so.

Sums by hand: a strap of 3 mm on a bar of 4 mm turns in π · (2 + 1.5) = 10.996, half of it 5.498.
"""

from __future__ import annotations

from math import pi
from pathlib import Path

import pytest

from handkit.draft.drafter import draft
from handkit.draft.pattern import inside_girth
from handkit.errors import ProjectError
from handkit.punch.checks.fittings import keeper_need
from handkit.punch.puncher import punch
from handkit.read.reader import read_project_text

STRAP = """format = 1
[[piece]]
name = "strap"
rectangle = [500, 24]
grain = 0
thickness = 3
folds = { turn = [[60, 0], [60, 24]] }
lines = { low = [[10, 5], [46, 5]], long = [[110, 5], [74, 5]] }
[[seam]]
name = "low"
runs = ["strap: low", "strap: long"]
[[opening]]
name = "slot"
kind = "slot"
slot = [24, 5]
through = ["strap"]
at = [[60, 12]]
[[opening]]
name = "holes"
kind = "tongue"
hole = 4
through = ["strap"]
at = [[350, 12]]
row = [5, 25, 0]
"""
BUCKLE = '[[fitting]]\nname = "b"\nkind = "buckle"\non = "strap"\nfold = "turn"\ninside = 24\nbar = 4\n'
CLOSED = BUCKLE + 'holes = "holes"\ngirth = [274, 372]\n'
LOOP = """[[piece]]
name = "loop"
rectangle = [110, 16]
grain = 0
thickness = 1.5
lines = { near = [[6, 4], [6, 12]], far = [[80, 4], [80, 12]] }
[[seam]]
name = "ring"
runs = ["loop: near", "loop: far"]
[[fitting]]
name = "k"
kind = "keeper"
on = "strap"
piece = "loop"
"""
KEEPER = '[[fitting]]\nname = "k"\nkind = "keeper"\non = "strap"\ninside = 24\nthickness = 6\n'
BAG = """format = 1
[[piece]]
name = "back"
rectangle = [200, 100]
thickness = 2
[[piece]]
name = "front"
rectangle = [200, 100]
thickness = 2
[[seam]]
name = "top"
runs = ["back: A-B", "front: A-B"]
"""
ZIP = '[[fitting]]\nname = "z"\nkind = "zip"\nlength = 190\ntape = 14\nthickness = 0.6\nseams = ["top"]\n'
MAGNET = (
    '[[fitting]]\nname = "m"\nkind = "magnet"\non = "back"\ndiameter = 12\nthickness = 2\nat = [[100, 50]]\n'
)


def lines_of(text: str) -> list[str]:
    """Every line that is told of fittings, and of the slots for their tongues."""
    pattern = draft(read_project_text(text, file="p.toml", folder=Path()))
    try:
        findings = punch(pattern).findings
    except ProjectError as refused:
        findings = tuple(refused.findings)
    lines = [str(each) for each in findings]
    return [line for line in lines if 'fitting "' in line or "[tongue-slot]" in line]


@pytest.mark.parametrize(
    "text",
    [
        STRAP + CLOSED,
        STRAP + BUCKLE.replace("inside = 24", "inside = 25"),  # 1 mm to spare is not loose
        STRAP + LOOP.replace("[80,", "[70.8,"),  # 64.8 round: 2 · (24 + 2 · 3) + π · 1.5 = 64.71
        STRAP + KEEPER,
        STRAP + KEEPER.replace("thickness = 6", "thickness = 9") + 'fold = "turn"\nfrom_fold = 51\n',
        BAG + ZIP,
        BAG + MAGNET,
        STRAP.replace("[46, 5]", "[54.5, 5]") + BUCKLE,  # 5.5 mm off the fold
    ],
)  # fmt: skip
def test_what_suits_is_not_told(text: str) -> None:
    assert lines_of(text) == []


def cases() -> list[tuple[str, str, list[str]]]:
    """Title, file and told lines of each case in the table."""
    found = []
    for case in (Path(__file__).parent / "bad_fittings.txt").read_text("utf-8").split("\n## ")[1:]:
        title, *lines = case.rstrip("\n").split("\n")
        told = [line.removeprefix("-> ") for line in lines if line.startswith("-> ")]
        found.append((title, "".join(f"{line}\n" for line in lines if not line.startswith("-> ")), told))
    return found


@pytest.mark.parametrize(("title", "text", "told"), cases(), ids=[title for title, _, _ in cases()])
def test_what_does_not_suit_is_told(title: str, text: str, told: list[str]) -> None:
    assert lines_of(text) == told, title


def test_the_table_is_as_large_as_promised() -> None:
    assert len(cases()) >= 16


@pytest.mark.parametrize(
    ("width", "stack", "thickness", "length"),
    [
        (32, 7, 1.5, 82.712),  # the trade's figure, before overlap and ease
        (38, 10.8, 2, 103.883),  # the stool strap's: two leaves of 3.6 and its end
        (24, 6, 0, 60),
    ],
)
def test_a_keepers_middle(width: float, stack: float, thickness: float, length: float) -> None:
    assert keeper_need(width, stack, thickness) == pytest.approx(length, abs=5e-4)


@pytest.mark.parametrize("thick", [2.0, 4.0])
def test_a_full_turn_takes_pi_times_the_strap(thick: float) -> None:
    """A strap's middle is π · s longer than its inside for a full turn: 12.57 at 4 mm (trade's figure)."""
    from_bar = inside_girth(300, turn=0, bar=0, thick=0)
    assert from_bar - inside_girth(300, turn=0, bar=0, thick=thick) == pytest.approx(pi * thick)
    if thick == 4:
        assert pi * thick == pytest.approx(12.57, abs=5e-3)


def test_a_lining_goes_round_the_bar_as_well() -> None:
    """3 and 1 mm: the turn is π · (2 + 2), and the girth 0.5 · π + π · 1 less; by hand."""
    lining = '[[piece]]\nname = "lining"\nrectangle = [500, 24]\nthickness = 1\non = "strap"\nbehind = true\n'
    one = draft(read_project_text(STRAP + lining + BUCKLE, file="p.toml", folder=Path())).fittings[0]
    assert (one.folded, one.turn) == pytest.approx((4.0, 4 * pi))


def test_the_back_that_a_loop_is_sewn_to_does_not_go_round_its_ring() -> None:
    """The strap alone, 3 mm, turns: π · (2 + 1.5); by hand. What it is glued to goes round with it."""
    back = '[[piece]]\nname = "back"\nrectangle = [600, 99]\nthickness = 2\n'
    sewn, glued = (
        STRAP.replace("thickness = 3\n", f'thickness = 3\non = "back"\n{more}')
        for more in ("", "glued = true\n")
    )
    for text, folded in ((sewn, 3.0), (glued, 5.0)):
        one = draft(read_project_text(text + back + BUCKLE, file="p.toml", folder=Path())).fittings[0]
        assert (one.folded, one.turn) == pytest.approx((folded, (2 + folded / 2) * pi))


def test_a_lining_beyond_the_fold_makes_the_inside_shorter() -> None:
    """1 mm of lining from the fold's far side on: π · 1 = 3.14 less; 273.08 to 373.08 without it."""
    lining = '[[piece]]\nname = "lining"\nrectangle = [390, 24]\nthickness = 1\non = "strap"\nat = [110, 0]\n'
    lined = STRAP.replace(
        'kind = "tongue"\nhole = 4\nthrough = ["strap"]',
        'kind = "tongue"\nhole = 4\nthrough = ["strap", "lining"]',
    )
    (told,) = (line for line in lines_of(lined + lining + "behind = true\n" + CLOSED) if "reach" in line)
    assert "closes round 269.94 mm to 369.94 mm" in told


WATCH = """format = 1
[[piece]]
name = "short"
rectangle = [112, 20]
thickness = 1.2
folds = { lug = [[12, 0], [12, 20]], turn = [[96, 0], [96, 20]] }
[[piece]]
name = "long"
rectangle = [130, 20]
thickness = 1.2
folds = { lug = [[12, 0], [12, 20]] }
[[opening]]
name = "holes"
kind = "tongue"
hole = 2
through = ["long"]
at = [[66, 10]]
row = [7, 7, 0]
[[fitting]]
name = "b"
kind = "buckle"
on = "short"
fold = "turn"
inside = 20
bar = 1.8
holes = "holes"
girth = [100, 300]
between = 44
"""


def test_a_strap_in_two_parts_closes_round_what_lies_between_them() -> None:
    """By hand: 84 from fold to fold and 54 to the first hole, less three half turns of π · 0.75, half a bar
    of 0.9 and π · 1.2 inside; 44 between: 170.26, and six steps of 7 more to the last hole: 212.26."""
    bars = "".join(
        f'[[fitting]]\nname = "{piece}"\nkind = "bar"\non = "{piece}"\nfold = "lug"\ninside = 20\nbar = 1.8\n'
        for piece in ("short", "long")
    )
    (told,) = (line for line in lines_of(WATCH + bars) if "reach" in line)
    assert "closes round 170.26 mm to 212.26 mm" in told
