"""Holds on: pieces that nothing fastens, openings that another piece covers."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from handkit.kinds.openings import OPENINGS, Freedom, OpeningKind

Make = Callable[[str], Any]

STRAP = """[[piece]]
name = "strap"
rectangle = [300, 40]
grain = 0
"""
LINING = """[[piece]]
name = "lining"
rectangle = [{long}, 40]
grain = 0
on = "strap"
behind = true
"""
ROUND = '[[seam]]\nname = "round"\nruns = ["{run}", "{other}"]\n'


def holes(kind: str, *through: str, at: str = "[[200, 20], [225, 20], [250, 20]]", more: str = "") -> str:
    size = {"slot": "slot = [20, 4]", "eyelet": "hole = 5\ncap = 10", "tongue": "hole = 4"}.get(
        kind, "hole = 3\ncap = 9"
    )
    names = ", ".join(f'"{name}"' for name in through)
    return f'[[opening]]\nname = "holes"\nkind = "{kind}"\n{size}\nthrough = [{names}]\nat = {at}\n{more}'


def told(planned: Make, head: str, *tables: str) -> list[str]:
    """What holds on or not, without the other findings."""
    found = planned(head + "".join(tables)).plan.findings
    return [str(each) for each in found if each.code in ("piece-loose", "opening-covered")]


LOOSE = (
    'p.toml:{line}: warning: piece "lining": on: found nothing that fastens "lining"; allowed: a seam, a '
    'rivet or glue; sew it down, or take "on" out if it lies apart [piece-loose]'
)
whole = LINING.format(long=300)
short = LINING.format(long=120)
sewn = ROUND.format(run="lining: D-A-B-C-D", other="strap")

# What fastens the lining, and whether it does.
FASTENED = [
    ("", False),
    (sewn, True),
    ("glued = true\n", True),
    (holes("rivet", "strap", "lining"), True),
    (holes("eyelet", "strap", "lining"), True),
    (holes("slot", "strap", "lining", at="[[200, 20]]"), False),  # a slot holds nothing
    (holes("rivet", "lining", at="[[200, 20]]"), False),  # through itself alone
    (
        '[[seam]]\nname = "hem"\nruns = ["lining: A-B"]\n',
        True,
    ),  # that its other layer is missing is told in place
    ('[[seam]]\nname = "tube"\nruns = ["lining: A-B", "lining: D-C"]\nbowed = true\n', True),  # goes round
]


@pytest.mark.parametrize(("by", "fastened"), FASTENED)
def test_a_piece_on_another_is_fastened_or_told(planned: Make, head: str, by: str, fastened: bool) -> None:
    found = [each for each in told(planned, head, STRAP, whole, by) if "piece-loose" in each]
    assert found == ([] if fastened else [LOOSE.format(line=17)])


def test_a_piece_that_lies_on_nothing_may_be_loose(planned: Make, head: str) -> None:
    assert told(planned, head, STRAP, '[[piece]]\nname = "spare"\nrectangle = [20, 20]\n') == []


COVERED = (
    'p.toml:{line}: warning: opening "holes": through: found {which}opening "holes" covered by "{piece}", '
    'which it does not go through{more}; allowed: openings that stay free; name "{piece}" in through, or '
    "move it [opening-covered]"
)


@pytest.mark.parametrize("fastened", [sewn, "glued = true\n"])
@pytest.mark.parametrize("kind", ["tongue", "eyelet", "slot"])
def test_a_lining_over_holes_is_told(planned: Make, head: str, kind: str, fastened: str) -> None:
    text = (STRAP, whole, fastened, holes(kind, "strap"))
    line = (head + "".join(text)).split("\n").index("through = [" + '"strap"]') + 1
    expected = COVERED.format(line=line, which="number 1 of ", piece="lining", more="; and 2 more")
    assert told(planned, head, *text) == [expected]
    assert told(planned, head, STRAP, whole, fastened, holes(kind, "strap", "lining")) == []


def test_a_lining_that_ends_before_the_holes_is_not(planned: Make, head: str) -> None:
    assert told(planned, head, STRAP, short, sewn, holes("tongue", "strap")) == []


def test_a_hole_of_several_under_a_pocket_is_named(planned: Make, head: str) -> None:
    pocket = '[[piece]]\nname = "pocket"\nrectangle = [90, 38]\ngrain = 0\non = "strap"\nat = [210, 1]\n'
    text = (STRAP, pocket, ROUND.format(run="pocket: D-A-B-C", other="strap"), holes("tongue", "strap"))
    line = (head + "".join(text)).split("\n").index('through = ["strap"]') + 1
    expected = COVERED.format(line=line, which="number 2 of ", piece="pocket", more="; and 1 more")
    assert told(planned, head, *text) == [expected]


def test_a_flap_that_folds_back_covers_nothing(planned: Make, head: str) -> None:
    """Sewn along one edge it can be lifted."""
    flap = ROUND.format(run="lining: D-A", other="strap")
    assert told(planned, head, STRAP, whole, flap, holes("tongue", "strap")) == []


def test_a_rivet_may_be_covered_and_a_snap_on_one_side(planned: Make, head: str) -> None:
    assert told(planned, head, STRAP, whole, sewn, holes("rivet", "strap")) == []
    assert {
        kind: row.freedom for kind, row in OPENINGS.items() if row.freedom is not Freedom.WHAT_LIES_ON_IT
    } == {
        OpeningKind.RIVET: Freedom.NONE,
        OpeningKind.SNAP: Freedom.BOTH_SIDES,
        OpeningKind.TONGUE: Freedom.EITHER_SIDE,
        OpeningKind.BUTTON_STUD: Freedom.BOTH_SIDES,
        OpeningKind.BUTTONHOLE: Freedom.EITHER_SIDE,
    }


def test_a_slit_in_a_lining_may_lie_over_what_it_lines(planned: Make, head: str) -> None:
    """What lies on the holed piece covers it; the piece it lies on does not."""
    assert told(planned, head, STRAP, whole, sewn, holes("slot", "lining", at="[[200, 20]]")) == []


SNAPS = """[[opening]]
name = "cap"
kind = "snap"
hole = 3
line = 20
through = ["flap"]
at = [[20, 20]]
mate = "stud"
[[opening]]
name = "stud"
kind = "snap"
hole = 3
line = 20
through = ["strap"]
at = [[150, 20]]
mate = "cap"
[[piece]]
name = "flap"
rectangle = [60, 40]
"""


@pytest.mark.parametrize(("sides", "count"), [(1, 0), (2, 2)])
def test_a_snap_between_two_pieces_is_told_for_both(planned: Make, head: str, sides: int, count: int) -> None:
    front = '[[piece]]\nname = "front"\nrectangle = [300, 40]\ngrain = 0\non = "strap"\nglued = true\n'
    more = front if sides == 2 else ""
    found = told(planned, head, STRAP, whole, "glued = true\n", more, SNAPS)
    assert [each.split("covered by ")[1].split(",")[0] for each in found] == ['"lining"', '"front"'][:count]
