"""Clashes one by one: round things, the way to the mouth, magnets; places worked out by hand."""

from __future__ import annotations

from math import sqrt
from pathlib import Path

import pytest

from handkit import kit
from handkit.assemble.article import Clash

HEAD = (Path(__file__).parent / "board.toml").read_text("utf-8")
HEAD += '[[piece]]\nname = "back"\nrectangle = [200, 260]\n'

ROUND = """
[[item]]
name = "dibber"
in = "holder"
diameter = 24
length = 100
[[part]]
name = "holder"
kind = "holder row"
on = "back"
at = [60, 120]
gap = 16
strap = 24
shows = 30
"""

SUNK = """
[[item]]
name = "bone"
in = "front"
size = [30, 12, 60]
[[part]]
name = "front"
kind = "bowed pocket"
on = "back"
at = [60, 16]
height = 100
"""

RIVET = """
[[opening]]
name = "rivet"
kind = "rivet"
hole = 3
cap = 9
through = ["back"]
at = [[{x}, {y}]]
"""

MAGNET = """
[[fitting]]
name = "catch"
kind = "magnet"
diameter = 10
thickness = {thick}
on = "back"
at = [[{x}, {y}]]
"""


def clashes(tmp_path: Path, text: str) -> tuple[Clash, ...]:
    """What a project's article has in one place."""
    file = tmp_path / "board.toml"
    file.write_text(HEAD + text, "utf-8")
    return kit.article_of(kit.punched_of(file)).clashes


def found(tmp_path: Path, text: str) -> list[tuple[str, str]]:
    return [(clash.key, clash.other) for clash in clashes(tmp_path, text)]


AXIS = 60 + 4 + 4 + 16 / 2 + 12  # the strap's end, inset and row, half a gap, half the dibber
# A cap 2 mm high is felt where the dibber's underside is lower than 1.5 mm: r² = 12², r - 1.5 off its axis.
LOW = sqrt(12**2 - 10.5**2)


@pytest.mark.parametrize("off", [0.0, 5.0, -5.0, LOW + 4.5 - 0.6, -(LOW + 4.5 - 0.6)])
def test_a_cap_under_a_round_thing_is_told_by_its_underside(tmp_path: Path, off: float) -> None:
    (clash,) = clashes(tmp_path, ROUND + RIVET.format(x=AXIS + off, y=110))
    assert (clash.key, clash.of, clash.other) == ("clash/cap", "dibber", 'a cap of "rivet"')
    assert clash.deep == pytest.approx(LOW + 4.5 - abs(off), abs=0.05)
    assert clash.high == pytest.approx(2.0)


@pytest.mark.parametrize("off", [LOW + 4.5 - 0.4, -(LOW + 4.5 - 0.4), 12.0, -14.0, 17.0])
def test_a_cap_beside_the_belly_of_a_round_thing_is_clear(tmp_path: Path, off: float) -> None:
    """Under its outline up to 16.5 mm off its axis, and yet the dibber stands clear of it."""
    assert found(tmp_path, ROUND + RIVET.format(x=AXIS + off, y=110)) == []


@pytest.mark.parametrize("off", [0.0, 4.0, -7.0])
def test_who_follows_the_advice_finds_it_clear(tmp_path: Path, off: float) -> None:
    """The hardware moved the other way, by what is told."""
    x, y = AXIS + off, 110.0
    (clash,) = clashes(tmp_path, ROUND + RIVET.format(x=x, y=y))
    dx, dy = {"left": (1, 0), "right": (-1, 0), "down": (0, 1), "up": (0, -1)}[clash.way]
    by = round(clash.deep, 1)
    assert found(tmp_path, ROUND + RIVET.format(x=x + dx * by, y=y + dy * by)) == []


def test_hardware_under_the_mouth_is_in_the_way_out(tmp_path: Path) -> None:
    """The bone stands from the foot's row at 20 to 80; the mouth is at 116 and more."""
    left, _, right, _ = place_of(tmp_path)
    middle = (left + right) / 2
    assert found(tmp_path, SUNK + RIVET.format(x=middle, y=50)) == [("clash/cap", 'a cap of "rivet"')]
    assert found(tmp_path, SUNK + RIVET.format(x=middle, y=95)) == [("clash/way", 'a cap of "rivet"')]
    assert found(tmp_path, SUNK + RIVET.format(x=middle, y=180)) == []
    assert found(tmp_path, SUNK + RIVET.format(x=middle + 15 + 5, y=95)) == []


def place_of(tmp_path: Path) -> tuple[float, float, float, float]:
    """Where the bone lies."""
    file = tmp_path / "bone.toml"
    file.write_text(HEAD + SUNK, "utf-8")
    (figure,) = kit.article_of(kit.punched_of(file)).figures
    (thing,) = figure.things
    return thing.outline.bounds()


def test_the_way_out_is_told_in_full(tmp_path: Path) -> None:
    right = place_of(tmp_path)[2]
    file = tmp_path / "board.toml"
    file.write_text(HEAD + SUNK + RIVET.format(x=right + 2.5, y=95), "utf-8")
    (told,) = [str(each) for each in kit.article_of(kit.punched_of(file)).findings]
    assert told == (
        f'{file}:19: warning: item "bone": in: found "bone" on its way out 2 mm over a cap of "rivet", which '
        f'stands 2 mm into it, at [{right - 1:g}, 95] of "back"; allowed: a way to the mouth '
        'that is clear of all hardware; move "front" 2 mm left, or "rivet" 2 mm right [clash]'
    )


@pytest.mark.parametrize(
    ("thick", "off", "met"),
    [(3.0, 0.0, True), (3.0, 40.0, False), (0.4, 0.0, False)],
)
def test_a_magnet_under_a_thing_is_told(tmp_path: Path, thick: float, off: float, met: bool) -> None:
    """On the side that shows; one of 0.4 mm nobody feels."""
    told = found(tmp_path, ROUND + MAGNET.format(x=AXIS + off, y=110, thick=thick))
    assert told == ([("clash/cap", '"catch"')] if met else [])


@pytest.mark.parametrize(("length", "told"), [(100, True), (60, False)])
def test_a_tool_that_reaches_into_a_mouth_is_in_the_way_out(tmp_path: Path, length: int, told: bool) -> None:
    """It ends at 150 + 24 + 30 less its length: over the bone, and at 104 under the mouth or at 144 above."""
    left, _, right, _ = place_of(tmp_path)
    at = [(left + right) / 2 - 8 - 8 - 5, 150]
    tool = ROUND.replace("diameter = 24", "diameter = 10").replace("length = 100", f"length = {length}")
    met = found(tmp_path, SUNK + tool.replace("at = [60, 120]", f"at = {at}"))
    assert (("clash/way-thing", '"dibber"') in met) is told
    assert [key for key, _ in met if key == "clash/thing"] == []


TURNED = """
[[item]]
name = "block"
in = "box"
size = [90, 30, 120]
[[part]]
name = "box"
kind = "boxed pocket"
gusset = "turned"
on = "back"
at = [20, 20]
"""

LINED = """
[[item]]
name = "card"
in = "slip"
size = [60, 2, 90]
[[part]]
name = "slip"
kind = "flat pocket"
on = "back"
at = [40, 40]
[[part]]
name = "slip lining"
kind = "lining"
of = "slip"
inset_by = 8
"""


@pytest.mark.parametrize("text", [TURNED, LINED], ids=["turned box", "lining set in"])
def test_what_is_drafted_so_is_not_in_the_way(tmp_path: Path, text: str) -> None:
    """A turned strip's flange and row lie under the thing, which the box is deep enough for; what lines a
    cover lies flat on its inside."""
    assert found(tmp_path, text) == []


POST = """
[[opening]]
name = "post"
kind = "rivet"
hole = 3
cap = 9
through = ["back", "front"]
at = [[{x}, {y}]]
places = {{ "front" = [[{left}, {up}]] }}
"""


@pytest.mark.parametrize(
    ("off", "y", "key"),
    [
        (0.0, 50, "clash/through"),
        (15 + 4.5 - 0.6, 50, "clash/through"),
        (15 + 4.5 - 0.4, 50, None),
        (0.0, 100, "clash/way-through"),
    ],
    ids=["in the middle", "at its edge", "beside it", "above it"],
)
def test_a_post_through_the_room_is_in_the_way(tmp_path: Path, off: float, y: float, key: str | None) -> None:
    """The bone stands from 20 to 80, 30 wide and 12 high; a cap of 9 holds the front on the back, so that it
    is in the way in all the bone's height, not in its own."""
    left, _, right, _ = place_of(tmp_path)
    text = SUNK + POST.format(x=(left + right) / 2 + off, y=y, left=20, up=max(y - 16, 2))
    met = [clash for clash in clashes(tmp_path, text) if "post" in clash.other]
    assert [(clash.key, clash.other) for clash in met] == ([(key, 'the rivet of "post"')] if key else [])
    assert [clash.high for clash in met] == [12.0] * bool(key)


SNAP = """
[[item]]
name = "card"
in = "slip"
size = [60, 1, {length}]
[[part]]
name = "slip"
kind = "flat pocket"
on = "back"
at = [60, 16]
height = 100
[[opening]]
name = "stud"
kind = "snap"
hole = 3
cap = 9
through = ["back"]
at = [[95, {y}]]
mate = "cap"
[[opening]]
name = "cap"
kind = "snap"
hole = 3
cap = 12
through = ["slip"]
at = [[35, {up}]]
mate = "stud"
"""


@pytest.mark.parametrize(
    ("length", "wanted"),
    [
        (80, [("clash/through", 'the snap of "stud" and "cap"')]),
        (60, [("clash/way", 'a cap of "stud"')]),
    ],
    ids=["over the card", "above it"],
)
def test_a_snap_that_shuts_a_room_is_told_once(
    tmp_path: Path, length: int, wanted: list[tuple[str, str]]
) -> None:
    """Over what the pocket holds it is a post while it is shut; above it only the stud is left in the way
    when it is open. Its own halves are meant to meet."""
    assert found(tmp_path, SNAP.format(length=length, y=95, up=79)) == wanted


def test_what_goes_through_a_room_is_told_in_full(tmp_path: Path) -> None:
    file = tmp_path / "board.toml"
    file.write_text(HEAD + SNAP.format(length=80, y=80, up=64), "utf-8")
    (told,) = [str(each) for each in kit.article_of(kit.punched_of(file)).findings]
    assert told == (
        f'{file}:19: warning: item "card": in: found "card" 27.1 mm over the snap of "stud" and "cap", '
        'which goes right through its room, at [95, 80] of "back"; allowed: a room that is open all over '
        "the thing's place; no move that was tried is clear of all else: leave one of them out, "
        "or put it on another base [clash]"
    )


LOOP = """
[[piece]]
name = "loop"
rectangle = [20, 70]
on = "back"
at = [40, 60]
folds = { turn = [[0, 44], [20, 44]] }
lines = { row = [[4, 30], [16, 30]] }
[[seam]]
name = "loop"
runs = ["back: loop", "loop: row"]
[[fitting]]
name = "ring"
kind = "ring"
on = "loop"
fold = "turn"
inside = 20
bar = 4
"""

ZIP = """
[[seam]]
name = "tape"
runs = ["back: tape"]
[[fitting]]
name = "zip"
kind = "zip"
length = 40
tape = 16
thickness = 0.8
seams = ["tape"]
"""

LINES = "lines.loop = [[44, 90], [56, 90]]\nlines.tape = [[100, 100], [140, 100]]\n"
LINES += "lines.cross = [[120, 96], [120, 140]]\n"
CROSS = (
    ZIP.replace("tape", "cross")
    .replace("cross = 16", "tape = 16")
    .replace('"zip"\nkind', '"other zip"\nkind')
)


# By hand: the bar goes from x 36 to 64 and, half of its turn of 3 pi under the fold at 104, from y 97.3 to
# 101.3; from 2 to 8 over the back. The tape goes from x 100 to 140 and y 92 to 108, 0.8 thick, behind.
@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        (LOOP + RIVET.format(x=66, y=99), []),  # its cap is 2 high, as the leaf under the bar is
        (LOOP + MAGNET.format(x=67, y=99, thick=4), [("ring", '"catch"', 2.0, 2.0)]),
        (LOOP + MAGNET.format(x=67, y=108, thick=4), []),
        (LOOP + MAGNET.format(x=50, y=99, thick=4), []),  # the loop's leather lies between
        (ZIP + RIVET.format(x=120, y=112.1), []),
        (ZIP + RIVET.format(x=120, y=110.5), [("zip", 'a cap of "rivet"', 2.0, 0.8)]),
        (ZIP + RIVET.format(x=120, y=113), []),
        (ZIP + CROSS, [("zip", '"other zip"', 12.0, 0.8)]),  # which begins at y 96
    ],
)
def test_fittings_in_one_place_with_other_hardware_are_told(
    tmp_path: Path, text: str, wanted: list[tuple[str, str, float, float]]
) -> None:
    file = tmp_path / "board.toml"
    file.write_text(HEAD + LINES + text, "utf-8")
    article = kit.article_of(kit.punched_of(file))
    met = [(clash.of, clash.other, clash.deep, clash.high) for clash in article.clashes]
    assert [each[:2] for each in met] == [each[:2] for each in wanted]
    assert [each[2:] for each in met] == [pytest.approx(each[2:], abs=0.02) for each in wanted]
    assert {clash.key for clash in article.clashes} <= {"clash/fitting"}


PEN = """
[[item]]
name = "pen"
in = "loop"
diameter = 10
length = 90
[[part]]
name = "loop"
kind = "holder row"
on = "back"
at = [{x}, 200]
gap = 16
strap = 24
shows = 30
"""
# Two that stand side by side on one back touch at 2 · √(12 · 5) from axis to axis, not at 12 + 5.
TOUCH = 2 * sqrt(12 * 5)


@pytest.mark.long
@pytest.mark.parametrize("side", [1, -1])
@pytest.mark.parametrize(
    ("off", "deep"), [(17.5, 0.0), (16.9, 0.0), (TOUCH - 0.4, 0.0), (TOUCH - 2, 2.0), (TOUCH - 6, 6.0)]
)
def test_a_round_thing_may_lie_under_the_belly_of_another(
    tmp_path: Path, side: int, off: float, deep: float
) -> None:
    """The dibber ends at y 174, the pen begins at 164."""
    axis = AXIS + side * off
    met = clashes(tmp_path, ROUND + PEN.format(x=axis - 4 - 4 - 8 - 5))
    assert [(clash.of, clash.other, clash.key) for clash in met] == (
        [("dibber", '"pen"', "clash/thing")] if deep else []
    )
    assert [clash.way for clash in met] == ["left" if side > 0 else "right"] * bool(deep)
    assert [clash.deep for clash in met] == [pytest.approx(deep, abs=0.06)] * bool(deep)


RIVETED = """
[[piece]]
name = "band"
rectangle = [100, 16]
on = "back"
at = [{x}, {y}]
[[opening]]
name = "band rivets"
kind = "rivet"
hole = 3
cap = 9
through = ["back", "band"]
at = [{places}]
"""


@pytest.mark.parametrize(
    ("ends", "y", "key"),
    [((8, 92), 90, "clash/under"), ((8,), 90, None), ((8, 92), 40, None)],
    ids=["at both ends", "at one end", "below it"],
)
def test_a_strap_riveted_at_both_ends_holds_a_thing_down(
    tmp_path: Path, ends: tuple[int, ...], y: int, key: str | None
) -> None:
    """The dibber lies from x 76 to 100 and y 74 to 174; a band riveted at one end alone is turned aside."""
    places = ", ".join(f"[{40 + x}, {y + 8}]" for x in ends)
    met = found(tmp_path, ROUND + RIVETED.format(x=40, y=y, places=places))
    assert met == ([(key, '"band"')] if key else [])


ROWS = """
[[item]]
name = "awl"
in = "low"
diameter = 14
length = 100
[[item]]
name = "bodkin"
in = "low"
diameter = 14
length = 100
[[item]]
name = "creaser"
in = "high"
diameter = 14
length = 90
[[item]]
name = "file"
in = "high"
diameter = 14
length = 90
[[part]]
name = "low"
kind = "holder row"
on = "back"
at = [{x}, 100]
gap = 16
strap = 24
shows = 30
[[part]]
name = "high"
kind = "holder row"
on = "back"
at = [{x}, 170]
gap = 16
strap = 24
shows = 30
"""


def test_two_parts_in_one_place_are_told_once(tmp_path: Path) -> None:
    """By hand: the lower row ends at 154, the upper one begins at 134; things are 14 wide, and 30 apart."""
    file = tmp_path / "board.toml"
    file.write_text(HEAD + ROWS.format(x=40), "utf-8")
    article = kit.article_of(kit.punched_of(file))
    assert {(clash.of, clash.other) for clash in article.clashes} >= {
        ("awl", '"creaser"'),
        ("bodkin", '"file"'),
    }
    (told,) = [str(each) for each in article.findings if each.code == "clash"]
    assert 'found "awl" and "creaser" in one place: 14 mm deep, 14 mm in height' in told
    assert told.endswith(
        '; "bodkin" and "file" too; allowed: things that lie clear of one another; '
        'move "low" 14 mm left, or "high" 14 mm right [clash]'
    )


RIDGES = """
[[piece]]
name = "ridge"
rectangle = [200, {high}]
thickness = 10
on = "back"
at = [0, {low}]
glued = true
[[piece]]
name = "rim"
rectangle = [200, 60]
thickness = 10
on = "back"
at = [0, 200]
glued = true
"""


@pytest.mark.parametrize(
    ("low", "high", "mend"),
    [
        (20, 100, 'make "back" larger, and move "holder" 100 mm left: as it is, no move is clear'),
        (60, 20, 'move "holder" 6 mm up, or "ridge" 6 mm down'),
    ],
    ids=["crowded", "free"],
)
def test_where_no_move_helps_a_larger_base_is_told(tmp_path: Path, low: int, high: int, mend: str) -> None:
    """Ridges of 10 mm over all the back, one under the dibber (74 to 174 up, 76 to 100 across): off the lower
    one it is under the rim, unless it has but 6 to go."""
    file = tmp_path / "board.toml"
    file.write_text(HEAD + RIDGES.format(low=low, high=high) + ROUND, "utf-8")
    (told,) = [str(each) for each in kit.article_of(kit.punched_of(file)).findings if each.code == "clash"]
    assert mend in told


UNDER_FLAP = """
[[part]]
name = "pocket"
kind = "flat pocket"
on = "back"
at = [65, 10]
[[item]]
name = "rule"
in = "pocket"
size = [40, 3, 234]
[[part]]
name = "flap"
kind = "flap"
on = "back"
to = "pocket"
lap = 24
"""


def test_a_flap_is_not_told_to_move(tmp_path: Path) -> None:
    """It has no place of its own: its thread lies 20 under the base's edge, as its lap has it. By hand, the
    rule ends at 249 of 260 (10 + 4 + 1 + 234), and a thread of 0.8 is clear of it from 249.4 on: 10.6 under
    the edge, which with 4 more is a lap of 14.6; what is told is at most 2 less, and was tried."""

    def told(text: str) -> list[str]:
        file = tmp_path / "board.toml"
        file.write_text(HEAD + text, "utf-8")
        found = kit.article_of(kit.punched_of(file)).findings
        return [str(each) for each in found if each.code == "clash"]

    (clash,) = told(UNDER_FLAP)
    assert clash.endswith('clear of all thread; write lap = 13 for "flap", or leave one of them out [clash]')
    assert told(UNDER_FLAP.replace("lap = 24", "lap = 13")) == []
    assert told(UNDER_FLAP.replace("lap = 24", "lap = 15")) != []
    (clash,) = told(UNDER_FLAP.replace("234", "240"))
    assert clash.endswith('no lap of "flap" is clear of all else as it is: leave one of them out [clash]')


LOOPED = """
[[part]]
name = "pocket"
kind = "flat pocket"
on = "back"
at = [50, 12]
[[item]]
name = "card"
in = "pocket"
size = [90, 3, 120]
[[part]]
name = "flap"
kind = "flap"
on = "back"
to = "pocket"
closed_by = "strap"
strap = 24
"""


def test_a_loop_over_what_is_carried_is_told_with_another_closing(tmp_path: Path) -> None:
    """Its rivets' caps stand out inside, on the thing or on its way out, at any reach; a snap's do not."""

    def told(text: str) -> list[str]:
        file = tmp_path / "board.toml"
        file.write_text(HEAD + text, "utf-8")
        found = kit.article_of(kit.punched_of(file)).findings
        return [str(each) for each in found if each.code == "clash"]

    for reach in (10, 30, 60):
        (clash,) = told(f"{LOOPED}reach = {reach}\n")
        assert 'write closed_by = "snap" or "stud" for "flap": ' in clash
    assert told(LOOPED.replace('"strap"', '"snap"').replace("strap = 24\n", "")) == []
