"""Fold covers: sizes by hand, the cover shut in space, sleeves and turn-ins that hold a board."""

from __future__ import annotations

from collections.abc import Callable
from math import atan, pi
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.assemble.assembler import assemble
from handkit.draft.drafter import draft
from handkit.draft.pattern import Pattern
from handkit.punch.punched import Punched
from handkit.punch.puncher import punch
from handkit.read.reader import read_project_text

law = settings(derandomize=True, deadline=None, max_examples=12)

Size = tuple[float, float, float]
BOOK: Size = (105, 12, 148)  # a notebook of A6 sheets (ISO 216: 105 × 148), 12 thick


def cover(more: str = "", book: Size | None = BOOK) -> str:
    item = ""
    if book is not None:
        item = f'[[item]]\nname = "book"\nin = "cover"\nsize = [{book[0]}, {book[1]}, {book[2]}]\n'
    return f'[[part]]\nname = "cover"\nkind = "fold cover"\n{more}\n{item}[stitching]\nthread = 0.6\n'


def size(pattern: Pattern, name: str) -> tuple[float, float]:
    left, low, right, high = pattern.piece(name).outline.bounds()
    return right - left, high - low


# Leather 1.4, inset 4, an ease of 2, boards of 1. Along the spine a board bows the leather between its rows:
# 148 + 2 × 0.2 + 1.4 × (π/2 − 2 atan(0.4 / 1.4)), half a board being 0.5 and half the leather 0.7.
ALONG = 148 + 0.4 + 1.4 * (pi / 2 - 2 * atan(0.4 / 1.4))
# At the fore-edge there is one row: half of that more. From the spine's inside to the row:
LEAF = 105 + 2 + (ALONG - 148) / 2
# Half of a spine's bend: π/4 · (1.4 + 0.7); of a turn-in's, round a board of 1: π/2 · (0.5 + 0.7).
HALF, TURN = pi / 4 * 2.1, pi / 2 * 1.2
# Between the leaves lie the book, and a sleeve or a turn-in on either side: 12 + 2.8; the straight part of
# the spine is 2 × 1.4 less.
SPINE = 12 + 2.8 - 2.8 + 2 * HALF

SIZES = [
    ("", "cover", (2 * (4 + LEAF - 1.4 + HALF) + SPINE, ALONG + 2 + 8)),
    ("", "cover left", (0.6 * LEAF + 4, ALONG + 2 + 8)),
    ('spine = "level"', "cover", (ALONG + 2 + 8, 2 * (4 + LEAF - 1.4 + HALF) + SPINE)),
    ('spine = "level"', "cover low", (ALONG + 2 + 8, 0.6 * LEAF + 4)),
    # 60 % of 107 are turned in; of both leaves half a board and the bend go off, a bend of 180° comes on.
    (
        'ends = "turn-ins"',
        "cover",
        (2 * (64.2 - 0.5 + 2 * TURN + 107 - 0.5 - 1.4 + HALF) + SPINE, ALONG + 2 + 8),
    ),
    # Nothing inside: the leaves end where the book does, and the spine is as thick as that.
    ('ends = "open"', "cover", (2 * (107 - 1.4 + HALF) + 12 - 2.8 + 2 * HALF, 150)),
    ("width = 120\nheight = 170\nsleeve = 50\nflap = 60", "cover", (120 + 60 - 2.8 + 2 * HALF + SPINE, 170)),
    # Thinner than two radii: the spine is half a circle about 2, π · (1 + 0.7) on its middle.
    ('ends = "open"\ndepth = 2', "cover", (2 * (107 - 1) + pi * 1.7, 150)),
]


@pytest.mark.parametrize(("more", "piece", "expected"), SIZES)
def test_sizes_by_hand(
    pattern_of: Callable[..., Pattern], more: str, piece: str, expected: tuple[float, float]
) -> None:
    assert size(pattern_of(cover(more), thickness=1.4), piece) == pytest.approx(expected, abs=1e-6)


@law
@given(
    inside=st.sampled_from(["sleeves", "turn-ins", "open"]),
    spine=st.sampled_from(["upright", "level"]),
    thick=st.sampled_from([2.0, 5.0, 12.0, 40.0]),
    leather=st.sampled_from([0.8, 1.4, 2.4]),
)
def test_shut_its_leaves_have_the_book_between_them(
    pattern_of: Callable[..., Pattern], inside: str, spine: str, thick: float, leather: float
) -> None:
    """In space: both fore-edges one over the other, the middles of the leaves a leather further apart than
    what lies between: the book, and a sleeve or a turn-in on either side."""
    more = f'ends = "{inside}"\nspine = "{spine}"'
    pattern = pattern_of(cover(more, (105, thick, 148)), thickness=leather)
    outer = pattern.piece("cover")
    long = k = 0 if spine == "upright" else 1
    ends = outer.outline.bounds()[k], outer.outline.bounds()[k + 2]
    if inside == "turn-ins":
        turns = sorted(fold.path.start[k] for fold in outer.folds if "turn-in" in fold.name)
        step = pi / 2 * (min(1.0, thick / 2) / 2 + leather / 2) + 1e-6
        ends = turns[0] + step, turns[1] - step
    places = [outer.in_space((end, 50.0) if long == 0 else (50.0, end)) for end in ends]
    assert places[0][k] == pytest.approx(places[1][k], abs=1e-3)
    layers = 0 if inside == "open" else 2
    between = abs(places[0][2] - places[1][2]) - leather
    assert between == pytest.approx(thick + layers * leather, abs=1e-3)


def test_a_turn_in_lies_a_board_off_its_leaf(pattern_of: Callable[..., Pattern]) -> None:
    """Each row of a turn-in comes to lie on its mate, a board and a leather above it."""
    outer = pattern_of(cover('ends = "turn-ins"\nboard = 2'), thickness=1.4).piece("cover")
    lines = {line.name: line.path for line in outer.lines}
    assert len(lines) == 8
    for side in ("left", "right"):
        for end in ("foot", "head"):
            turned, leaf = (lines[f"{side} {end} {word}"] for word in ("in", "out"))
            for at, mate in ((turned.start, leaf.start), (turned.end, leaf.end)):
                (x0, y0, z0), (x1, y1, z1) = outer.in_space(at), outer.in_space(mate)
                assert (x0, y0) == pytest.approx((x1, y1), abs=1e-3)
                assert abs(z0 - z1) == pytest.approx(2 + 1.4, abs=1e-3)


@pytest.mark.parametrize("spine", ["upright", "level"])
@pytest.mark.parametrize("inside", ["sleeves", "turn-ins"])
def test_all_rows_are_sewn_and_nothing_is_told(
    punched_of: Callable[..., Punched], inside: str, spine: str
) -> None:
    punched = punched_of(cover(f'ends = "{inside}"\nspine = "{spine}"'), thickness=1.4)
    assert (*punched.pattern.findings, *punched.findings) == ()
    assert len(punched.seams) == (2 if inside == "sleeves" else 4)
    for seam in punched.seams:
        assert len({len(layer.holes) for layer in seam.layers}) == 1
    if inside == "sleeves":  # the board stands in the row at the fore-edge, and clear of both others
        lines = [hole.at for seam in punched.seams for hole in seam.layers[1].holes]
        k = 1 if spine == "level" else 0
        across, along = sorted(at[k] for at in lines), sorted(at[1 - k] for at in lines)
        assert along[-1] - along[0] == pytest.approx(ALONG + 2)
        assert across[0] == pytest.approx(4)


@law
@given(
    k=st.integers(0, 2), more=st.sampled_from([0.3, 5.0, 60.0]), inside=st.sampled_from(["sleeves", "open"])
)
def test_a_larger_book_never_has_a_smaller_cover(
    pattern_of: Callable[..., Pattern], k: int, more: float, inside: str
) -> None:
    """And each of its measures moves one of the cover's alone."""
    larger = tuple(value + (more if i == k else 0) for i, value in enumerate(BOOK))
    before, after = (
        size(pattern_of(cover(f'ends = "{inside}"', book), thickness=1.4), "cover") for book in (BOOK, larger)
    )
    grown = [b - a for a, b in zip(before, after, strict=True)]
    if k == 2:  # a longer board bows no more
        assert grown == pytest.approx([0, more], abs=1e-6)
    else:
        assert grown == pytest.approx([(2 if k == 0 else 1) * more, 0], abs=1e-6)


def test_without_a_thing_all_measures_are_stated(pattern_of: Callable[..., Pattern]) -> None:
    pattern = pattern_of(cover('ends = "open"\nwidth = 100\nheight = 80\ndepth = 10', None), thickness=1.4)
    assert size(pattern, "cover") == pytest.approx((2 * (100 - 1.4 + HALF) + 7.2 + 2 * HALF, 80))
    assert pattern.item_fits == ()


def test_a_cover_too_shallow_is_told_at_its_depth_and_what_is_told_mends_it() -> None:
    """A pen of 14 under a strap of 1.6 between leaves 10 apart: 5.6 too much; 5.6 deeper there is room."""

    def told(depth: float) -> list[str]:
        text = (
            "format = 1\n[material]\nthickness = 1.6\n"
            f'[[part]]\nname = "cover"\nkind = "fold cover"\nwidth = 120\nheight = 180\ndepth = {depth}\n'
            'ends = "open"\n[[part]]\nname = "pens"\nkind = "holder row"\non = "cover"\nat = [20, 63]\n'
            '[[item]]\nname = "pen"\nin = "pens"\ndiameter = 14\nlength = 120\n'
        )
        pattern = draft(read_project_text(text, file="p.toml", folder=Path()))
        return [str(each) for each in assemble(punch(pattern)).findings if each.code == "clash"]

    (found,) = told(10)
    assert found.startswith('p.toml:9: warning: part "cover": depth: ')
    assert 'make the depth of "cover" 5.6 mm more' in found
    assert told(15.6) == []
