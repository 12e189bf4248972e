"""Holder rows: lines numbered alike, rises by the hull rule, and what a change moves."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from math import atan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.draft.pattern import Fit, Pattern
from handkit.punch.punched import Punched

law = settings(derandomize=True, deadline=None, max_examples=15)

PART = """
[[part]]
name = "row"
kind = "holder row"
on = "back"
at = [20, 30]
"""


def item(number: int, size: str) -> str:
    return f'[[item]]\nname = "tool {number}"\nin = "row"\n{size}\n'


def row(sizes: list[str], more: str = "") -> str:
    return PART + more + "\n" + "".join(item(k, size) for k, size in enumerate(sizes))


def rounds(diameters: list[float]) -> list[str]:
    return [f"diameter = {d}\nlength = 150" for d in diameters]


def lines_of(pattern: Pattern, piece: str) -> dict[str, tuple[float, float]]:
    """Name to where a line stands and how long it is."""
    return {line.name: (line.path.start[0], line.path.length) for line in pattern.piece(piece).lines}


def steps(pattern: Pattern, piece: str) -> list[float]:
    xs = [x for x, _ in lines_of(pattern, piece).values()]
    return [b - a for a, b in pairwise(xs)]


def test_two_handles_and_a_rule(pattern_of: Callable[..., Pattern]) -> None:
    """Under a strap of no ease: 10 + 4·5·atan(10/10) beyond … each by the formulas, by hand.

    s = 0.2 is as thin as leather goes, so thickness counts to the second decimal only.
    """
    text = row([*rounds([20]), "size = [30, 5, 150]"], "ease = 0\ngap = 10\nstrap = 30")
    bays = steps(pattern_of(text, thickness=0.2), "row strap")
    assert bays[0] == pytest.approx(30 + 40 * atan(2 / 3), abs=0.08)  # 53.520
    assert bays[1] == pytest.approx(30 + 2 * (50**0.5), abs=0.08)  # two ways up 5 over 5
    assert steps(pattern_of(text, thickness=0.2), "back") == pytest.approx([30, 40])


def test_a_strap_goes_the_hulls_way(pattern_of: Callable[..., Pattern]) -> None:
    """r = 10 on 30 under 2.4 mm: 54.167; 30 × 5 on 54: 56.025, by a hull of points (`test_hull_rule`)."""
    text = row([*rounds([20]), *rounds([20])], "ease = 0\ngap = 10")
    assert steps(pattern_of(text), "row strap") == pytest.approx([54.167, 54.167], abs=6e-4)
    text = row(["size = [30, 5, 150]"], "ease = 0\ngap = 24")
    assert steps(pattern_of(text), "row strap") == pytest.approx([56.025], abs=6e-4)


def test_strap_and_base_are_numbered_alike(punched_of: Callable[..., Punched]) -> None:
    punched = punched_of(row(rounds([14, 20, 20, 24])))
    names = [f"row {k}" for k in range(1, 6)]
    assert list(lines_of(punched.pattern, "row strap")) == names
    assert list(lines_of(punched.pattern, "back")) == names
    assert [seam.name for seam in punched.seams] == names
    for seam in punched.seams:
        strap, base = seam.layers
        assert (strap.piece, base.piece) == ("row strap", "back")
        assert len(strap.holes) == len(base.holes)
        assert strap.length == pytest.approx(base.length)


def test_the_row_begins_where_it_is_put(pattern_of: Callable[..., Pattern]) -> None:
    """Twice the inset of strap, then line 1; the lines stand the inset inside the strap's edges."""
    pattern = pattern_of(row(rounds([20]), "strap = 40"))
    (first, length), _ = lines_of(pattern, "back").values()
    assert (first, length) == pytest.approx((20 + 8, 32))
    assert lines_of(pattern, "row strap")["row 1"] == pytest.approx((8, 32))


def test_items_lie_between_their_lines_and_show_above_the_strap(pattern_of: Callable[..., Pattern]) -> None:
    pattern = pattern_of(row(rounds([14, 24]), "gap = 16\nshows = 40"))
    xs = [x for x, _ in lines_of(pattern, "back").values()]
    outlines = pattern.piece("back").items
    assert [outline.item for outline in outlines] == ["tool 0", "tool 1"]
    for outline, left, right in zip(outlines, xs, xs[1:], strict=False):
        x0, y0, x1, y1 = outline.path.bounds()
        assert (x0 - left, right - x1) == pytest.approx((8, 8))
        assert (y0, y1) == pytest.approx((30 + 32 + 40 - 150, 30 + 32 + 40))


diameters = st.lists(st.integers(60, 400).map(lambda n: n / 10), min_size=1, max_size=5)


@law
@given(sizes=diameters, which=st.integers(0, 4), more=st.integers(1, 200).map(lambda n: n / 10))
def test_a_wider_item_moves_only_what_depends_on_it(
    pattern_of: Callable[..., Pattern], sizes: list[float], which: int, more: float
) -> None:
    """Its own bay grows; lines before it stay, lines after it move together; all others stay."""
    which %= len(sizes)
    wider = [size + more if k == which else size for k, size in enumerate(sizes)]
    before, after = pattern_of(row(rounds(sizes))), pattern_of(row(rounds(wider)))
    for piece in ("row strap", "back"):
        old, new = steps(before, piece), steps(after, piece)
        assert new[which] > old[which]
        assert new[:which] == pytest.approx(old[:which], abs=1e-9)
        assert new[which + 1 :] == pytest.approx(old[which + 1 :], abs=1e-9)
    assert after.piece("row strap").outline.length > before.piece("row strap").outline.length


@law
@given(sizes=diameters, ease=st.integers(10, 60).map(lambda n: n / 10))
def test_every_item_fits_its_bay(pattern_of: Callable[..., Pattern], sizes: list[float], ease: float) -> None:
    """By its own room, and by the plain count: the strap is no shorter than the tight way."""
    pattern = pattern_of(row(rounds(sizes), f"ease = {ease}"))
    assert [room.fit for room in pattern.item_fits] == [Fit.FITS] * len(sizes)
    for d, strap, base in zip(sizes, steps(pattern, "row strap"), steps(pattern, "back"), strict=True):
        assert strap > base + 4 * (d / 2) * atan(d / base) - 1e-9 > d  # trade's formula of a thin strap


@pytest.mark.parametrize(("length", "told"), [(20, True), (40.9, True), (41, False)])
def test_an_item_that_ends_above_the_strap_is_told(
    pattern_of: Callable[..., Pattern], length: float, told: bool
) -> None:
    """A strap of 32, 25 shown: it must be 25 + 16 long to reach the strap's middle (by hand)."""
    found = pattern_of(row([f"size = [10, 5, {length}]"], "strap = 32\nshows = 25")).findings
    assert ["item-stands-out"] * told == [finding.code for finding in found]


def test_a_copy_has_the_grain_of_what_is_drafted(pattern_of: Callable[..., Pattern]) -> None:
    """A strip's grain lies along it, also in a copy that is turned over; unless the copy says otherwise."""
    copies = "".join(
        f'[[piece]]\nname = "{name}"\ncopy = "row strap"\n{more}\n'
        for name, more in (("spare", ""), ("left", "mirrored = true"), ("own", "grain = 90"))
    )
    pattern = pattern_of(row(rounds([20])) + copies)
    assert [pattern.piece(name).grain_degrees for name in ("row strap", "spare", "left", "own")] == [
        0,
        0,
        180,
        90,
    ]
