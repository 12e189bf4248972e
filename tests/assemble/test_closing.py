"""Flaps that close over what is inside: ways worked out by hand, and the exact words."""

from __future__ import annotations

from math import hypot, pi
from pathlib import Path

import pytest

from handkit import kit

HEAD = (Path(__file__).parent / "board.toml").read_text("utf-8")

PROJECT = """
[[piece]]
name = "back"
rectangle = [160, 240]
lines = {{ hang = [[30, 230], [130, 230]] }}
{drawn}
[[piece]]
name = "flap"
rectangle = [140, 220]
on = "back"
at = [150, 220]
behind = true
turned_over = true
folds = {{ top = [[0, 20], [140, 20]] }}
[[seam]]
name = "flap"
runs = ["back: hang", "flap"]
[[opening]]
name = "cap"
kind = "snap"
hole = 4
cap = 12
through = ["flap"]
at = [[{across}, {cap}]]
mate = "stud"
[[opening]]
name = "stud"
kind = "snap"
hole = 4
cap = 10
through = ["back"]
at = [[80, {stud}]]
mate = "cap"
"""

TOOL = """
[[item]]
name = "dibber"
in = "holder"
diameter = 20
length = 60
[[part]]
name = "holder"
kind = "holder row"
on = "back"
at = [100, 150]
shows = 30
gap = 20
"""


def told(
    tmp_path: Path, more: str = "", *, cap: float, stud: float, across: float = 70.0, drawn: str = ""
) -> list[str]:
    """What is told of the flap; the fold lies on the back's upper edge, 240 up."""
    file = tmp_path / "case.toml"
    file.write_text(HEAD + PROJECT.format(cap=cap, stud=stud, across=across, drawn=drawn) + more, "utf-8")
    return [
        str(each).partition(": warning: ")[2]
        for each in kit.article_of(kit.punched_of(file)).findings
        if each.code.startswith("closes")
    ]


# By hand. The flap lies behind the back, 2 thick: its inside starts 2 under the back's face, goes round its
# edge and comes down on it. A tool of 20 on the back has its upper end 28 below the edge (a strap 32 wide at
# 150, 30 shown) and its lower one 88: the way goes up to the one and down from the other.
EMPTY = 2 + 120 + pi / 2
FULL = 2 + hypot(28, 20) + 60 + hypot(60, 20) + pi / 2


@pytest.mark.parametrize(
    ("more", "stud", "way"), [("", 120.0, EMPTY), (TOOL, 92.0, FULL)], ids=["empty", "over a tool"]
)
def test_a_flap_reaches_its_stud_over_what_is_inside(
    tmp_path: Path, more: str, stud: float, way: float
) -> None:
    assert told(tmp_path, more, cap=20 + way - 1.8, stud=stud) == []
    assert told(tmp_path, more, cap=20 + way + 7.8, stud=stud) == []
    (short,) = told(tmp_path, more, cap=round(20 + way - 5, 3), stud=stud)
    assert short == (
        f'opening "cap": at: found {way - 5:.1f} mm of "flap" from its fold to "cap"; '
        f'allowed: {way - 2:.1f} mm to {way + 8:.1f} mm: the way to "stud" over what is inside; put the '
        'cap 5 mm further from the fold, on a longer "flap", or the stud nearer to it [closes-short]'
    )
    (slack,) = told(tmp_path, more, cap=round(20 + way + 10, 3), stud=stud)
    assert slack.endswith("put the cap 10 mm nearer to the fold, or the stud further from it [closes-slack]")


@pytest.mark.parametrize(
    ("box", "slack"),
    [((60, 150, 80, 210), False), ((60, 20, 80, 110), True), ((151, 150, 158, 210), True)],
    ids=["on the way", "this side of the stud", "beside the flap"],
)
def test_over_a_thing_of_unknown_thickness_a_flap_is_not_told_to_be_slack(
    tmp_path: Path, box: tuple[float, float, float, float], slack: bool
) -> None:
    """The back alone has its outline, as a file by hand does. The flap goes over it from x = 10 to 150."""
    left, low, right, top = box
    drawn = f"items = {{ dibber = [[{left}, {low}], [{right}, {low}], [{right}, {top}], [{left}, {top}]] }}"
    assert len(told(tmp_path, cap=20 + EMPTY + 10, stud=120.0, drawn=drawn)) == slack


# A tool inside the flap, towards the back: its strap is 32 wide at 40 of the flap, 30 of the tool shown,
# so that it lies at 42 to 102, 22 to 82 beyond the fold; it comes down on the empty back, or on a tool there.
IN_FLAP = TOOL.replace("dibber", "brush").replace('"holder"', '"loops"').replace('"back"', '"flap"')
IN_FLAP = IN_FLAP.replace("at = [100, 150]", "at = [100, 40]\nbehind = true")
ALONE = 2 + hypot(22, 20) + 60 + hypot(38, 20) + pi / 2
# The tool on the back lies at 28 to 88: the brush, on it, is 40 high from 22 to 82.
ON_IT = 2 + hypot(22, 40) + 60 + hypot(38, 40) + pi / 2


@pytest.mark.parametrize(("more", "way"), [(IN_FLAP, ALONE), (TOOL + IN_FLAP, ON_IT)], ids=["alone", "on it"])
def test_what_lies_in_the_flap_is_on_its_way(tmp_path: Path, more: str, way: float) -> None:
    assert told(tmp_path, more, cap=20 + way - 1.8, stud=120.0) == []
    assert told(tmp_path, more, cap=20 + way + 7.8, stud=120.0) == []
    (short,) = told(tmp_path, more, cap=round(20 + way - 5, 3), stud=120.0)
    assert f"found {way - 5:.1f} mm of" in short


def test_a_cap_that_comes_down_beside_its_stud_is_told(tmp_path: Path) -> None:
    """By hand: turned over about x = 150 the cap at 64 comes to 86, 6 beside the stud at 80."""
    assert told(tmp_path, cap=20 + EMPTY, stud=120.0, across=64.0) == [
        'opening "cap": at: found "cap" 6 mm beside "stud" when "flap" is folded over; allowed: '
        "at most 2 mm; move one of them along the fold by 6 mm [closes-beside]"
    ]


IN_ONE = """
format = 1
title = "Seed case"
unit = "mm"
[material]
thickness = 2
[[piece]]
name = "back"
rectangle = [160, 400]
folds = {{ top = {{ line = [[0, 240], [160, 240]], angle = 180, radius = 3, out = "{out}", stays = "A" }} }}
[[opening]]
name = "cap"
kind = "snap"
hole = 4
cap = 12
through = ["back"]
at = [[80, {cap}]]
mate = "stud"
[[opening]]
name = "stud"
kind = "snap"
hole = 4
cap = 10
through = ["back"]
at = [[80, 120]]
mate = "cap"
"""


@pytest.mark.parametrize(
    ("out", "cap", "words"),
    [
        ("flesh", 358.3, ""),
        ("flesh", 367.8, ""),
        ("flesh", 355.0, "found 115 mm of"),
        ("flesh", 370.0, "found 130 mm of"),
        ("grain", 355.0, ""),  # folded to the back, away from the stud
    ],
)
def test_a_flap_in_one_with_its_back_reaches_its_stud_round_its_bend(
    tmp_path: Path, out: str, cap: float, words: str
) -> None:
    """By hand: the bend is half a turn on a middle of 4, 2π to either side of its line, and comes up 6; from
    there down to the stud it turns on by twice the angle of 3 over 120 - 2π, on 4 again: 120 + 4 x 0.0528. It
    may lack 2 and have 8 to spare."""
    file = tmp_path / "case.toml"
    file.write_text(IN_ONE.format(out=out, cap=cap), "utf-8")
    found = [str(each) for each in kit.article_of(kit.punched_of(file)).findings if "closes" in each.code]
    assert len(found) == bool(words)
    assert all(words in each and "allowed: 118.2 mm to 128.2 mm" in each for each in found)


BAND = """
[[piece]]
name = "back"
rectangle = [200, 240]
lines = {{ hang = [[20, 104], [20, 116]] }}
[[piece]]
name = "band"
rectangle = [180, 20]
on = "back"
at = [10, 100]
lines = {{ hang = [[10, 4], [10, 16]] }}
[[seam]]
name = "band"
runs = ["back: hang", "band: hang"]
[[opening]]
name = "cap"
kind = "snap"
hole = 4
cap = 12
through = ["band"]
at = [[{cap}, 10]]
mate = "stud"
[[opening]]
name = "stud"
kind = "snap"
hole = 4
cap = 10
through = ["back"]
at = [[{stud}, 110]]
mate = "cap"
"""

# A tool of 20 under it, from x 80 to 100: 60 from the row to its one side, and 40 from the other to the stud.
OVER = hypot(60, 20 - 2) + 20 + hypot(40, 20)


@pytest.mark.parametrize(
    ("more", "own", "short"),
    [("", 120.0, 0.0), (TOOL, OVER - 1.5, 0.0), (TOOL, OVER + 30, 0.0), (TOOL, 120.0, OVER - 120)],
    ids=["empty", "over a tool", "longer", "as for nothing"],
)
def test_a_strap_closes_over_what_it_holds(tmp_path: Path, more: str, own: float, short: float) -> None:
    """Its row is 20 from the left; the cap lies as far from it as the strap is long. A strap that is longer
    may close round more than the file tells."""
    tool = more.replace("at = [100, 150]", "at = [62, 150]").replace("length = 60", "length = 120")
    file = tmp_path / "case.toml"
    back, band, rest = BAND.format(cap=10 + round(own, 3), stud=140).partition('[[piece]]\nname = "band"')
    file.write_text(HEAD + back + tool + band + rest, "utf-8")
    found = [str(each).partition(": warning: ")[2] for each in kit.article_of(kit.punched_of(file)).findings]
    told = [each for each in found if "closes" in each]
    assert len(told) == bool(short)
    assert all('found 120 mm of "band" from where it is held to "cap"' in each for each in told)
    assert all(f"put the cap {short:.1f} mm further on" in each for each in told)
