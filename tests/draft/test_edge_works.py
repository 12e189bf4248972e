"""Hems, turned edges, bindings and seam allowances: where the knife goes, where cloth is folded.

Every expected number is worked out by hand from the trade's rule beside it: cut = finished + width, and the
turn-in where it is turned twice, and a thickness for each turn (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Callable
from math import cos, hypot, pi, sin
from pathlib import Path as File
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handkit.draft.drafter import draft
from handkit.draft.pattern import PatternPiece
from handkit.geometry.region import region_of
from handkit.geometry.straight import distance
from handkit.read.reader import read_project_text
from handkit.tolerances import SAGITTA

BOX = "rectangle = [100, 60]"
TWICE = "{ width = 15, turns = 2, turn_in = 8 }"


def text_of(outline: str, works: str, *, kind: str = "canvas", thickness: float = 0.8) -> str:
    head = f'format = 1\n[[piece]]\nname = "flap"\n{outline}\nkind = "{kind}"\n'
    return f"{head}thickness = {thickness}\n{works}\n"


def drawn(outline: str, works: str, **more: Any) -> PatternPiece:
    project = read_project_text(text_of(outline, works, **more), file="p.toml", folder=File())
    return draft(project).pieces[0]


# What is stated, how far outside the finished edge it is cut, where it is folded.
CUTS = [
    ('hem = { "C-D" = 15 }', 15 + 0.8, [0.4]),  # once: 15 and one thickness; folded in its middle
    (f'hem = {{ "C-D" = {TWICE} }}', 15 + 8 + 1.6, [0.4, 0.8 + 15 + 0.4]),  # two thicknesses, two folds
    ('hem = { "C-D" = { width = 15, turns = 2 } }', 15 + 8 + 1.6, [0.4, 16.2]),  # 8 where none is stated
    ('hem = { "C-D" = { width = 6, turns = 2 } }', 6 + 6 + 1.6, [0.4, 7.2]),  # never more than the hem
    ('turned = { "C-D" = 10 }', 10 + 0.8, [0.4]),
    ('allowance = { "C-D" = 12 }', 12.0, []),  # flat: no turn
    ('binding = { "C-D" = 20 }', 0.0, []),  # the tape goes over the raw edge
]


@pytest.mark.parametrize(("works", "beyond", "folds"), CUTS)
def test_the_knife_goes_outside_by_width_turn_in_and_a_thickness_a_turn(
    works: str, beyond: float, folds: list[float]
) -> None:
    piece = drawn(BOX, works)
    assert piece.outline.bounds() == pytest.approx((0, 0, 100, 60))
    assert piece.cut_outline.bounds() == pytest.approx((0, 0, 100, 60 + beyond))
    assert abs(piece.cut_outline.signed_area()) == pytest.approx(100 * (60 + beyond))
    (work,) = piece.works
    assert [fold.start[1] - 60 for fold in work.folds] == pytest.approx(folds)
    assert [fold.length for fold in work.folds] == pytest.approx([100] * len(folds))
    assert (work.path.start, work.path.end) == ((100, 60), (0, 60))


def test_two_hems_meet_squared_off_and_their_folds_go_through_to_the_cut() -> None:
    """15.8 more at the top and at the left: at D a square of 15.8, over which both folds go."""
    piece = drawn(BOX, 'hem = { "C-D-A" = 15 }')
    assert piece.cut_outline.bounds() == pytest.approx((-15.8, 0, 100, 75.8))
    assert abs(piece.cut_outline.signed_area()) == pytest.approx(115.8 * 75.8)
    (work,) = piece.works
    assert work.mitred == ("D",)
    assert [fold.length for fold in work.folds] == pytest.approx([115.8, 75.8])


@pytest.mark.parametrize(
    ("points", "ends"),
    [
        # Sides that lean out by 1 in 4 towards the foot: 15 deep they stand 3.75 farther out.
        ("[[0, 0], [100, 0], [85, 60], [15, 60]]", [(85, 60), (85, 60.8), (88.75, 75.8)]),
        # And towards the mouth: 3.75 farther in.
        ("[[15, 0], [85, 0], [100, 60], [0, 60]]", [(100, 60), (100, 60.8), (96.25, 75.8)]),
    ],
)
def test_what_is_turned_ends_as_the_sides_lie_under_it(points: str, ends: list[Any]) -> None:
    piece = drawn(f"points = {points}", 'hem = { "C-D" = 15 }')
    corners = [segment.start for segment in piece.cut_outline.segments]
    for end in ends:
        assert min(distance(end, corner) for corner in corners) < 1e-9, end
    mirrored = [(100 - x, y) for x, y in ends]
    for end in mirrored:
        assert min(distance(end, corner) for corner in corners) < 1e-9, end


def test_a_turn_in_leans_back_again() -> None:
    """Width 15, turn-in 8: its raw edge lies 15 - 8 = 7 deep, 7/4 farther out than the corner."""
    piece = drawn("points = [[0, 0], [100, 0], [85, 60], [15, 60]]", f'hem = {{ "C-D" = {TWICE} }}')
    corners = [segment.start for segment in piece.cut_outline.segments]
    for end in ((85, 60.8), (88.75, 75.8), (88.75, 76.6), (86.75, 84.6)):
        assert min(distance(end, corner) for corner in corners) < 1e-9, end


def test_a_hem_ends_as_the_allowances_beside_it_lie() -> None:
    """Sides that lean out by 1 in 15; allowance 12: its cut meets the mouth's line 12 / cos = 12.0266 outside
    the corner; 12 mm deep, where the hem ends, it stands 12/15 = 0.8 nearer."""
    works = 'allowance = { "D-A-B-C" = 12 }\nhem = { "C-D" = 12 }'
    piece = drawn("points = [[0, 0], [120, 0], [130, 150], [-10, 150]]", works)
    out = 12 * hypot(1, 15) / 15
    corners = [segment.start for segment in piece.cut_outline.segments]
    for end in ((130 + out, 150), (130 + out, 150.8), (130 + out - 0.8, 162.8)):
        assert min(distance(end, corner) for corner in corners) < 1e-9, end


def test_a_disc_has_an_allowance_and_a_turned_edge_all_round() -> None:
    piece = drawn("circle = 80", 'allowance = { "A-A" = 12 }')
    assert abs(piece.cut_outline.signed_area()) == pytest.approx(pi * 52**2)
    piece = drawn("circle = 80", 'turned = { "A-A" = 10 }')
    assert abs(piece.cut_outline.signed_area()) == pytest.approx(pi * 50.8**2)
    (fold,) = piece.works[0].folds
    assert fold.length == pytest.approx(2 * pi * 40.4)


def test_a_mirrored_copy_is_cut_as_wide() -> None:
    text = text_of(BOX, 'hem = { "C-D" = 15 }\nturned = { "B-C" = 10 }')
    text += '[[piece]]\nname = "other"\ncopy = "flap"\nmirrored = true\nhem = { "A-B" = 12 }\n'
    flap, other = draft(read_project_text(text, file="p.toml", folder=File())).pieces
    assert flap.cut_outline.bounds() == pytest.approx((0, 0, 110.8, 75.8))
    assert other.cut_outline.bounds() == pytest.approx((-110.8, -12.8, 0, 60))  # its own hem, not the other's


def test_edges_of_cloth_that_frays_are_known() -> None:
    assert [edge.ends for edge in drawn(BOX, 'hem = { "C-D" = 15 }\nallowance = { "A-B" = 9 }').raw] == [
        ("A", "B"),
        ("B", "C"),
        ("D", "A"),
    ]
    assert drawn(BOX, "", kind="felt", thickness=3).raw == ()
    ends = drawn(BOX, "grain = 0", kind="webbing").raw  # only what lies across its warp
    assert [edge.ends for edge in ends] == [("B", "C"), ("D", "A")]


@given(st.lists(st.floats(-0.25, 0.25), min_size=6, max_size=6), st.integers(0, 5), st.floats(3, 15))
def test_a_hem_that_is_folded_over_lies_on_its_piece_and_ends_at_its_edges(
    lean: list[float], edge: int, width: float
) -> None:
    """Whatever the corners beside it: its ends, mirrored at the finished edge, lie on the piece."""
    points = [(60 * (1 + d) * cos(k * pi / 3), 60 * (1 + d) * sin(k * pi / 3)) for k, d in enumerate(lean)]
    listed = ", ".join(f"[{x:.4f}, {y:.4f}]" for x, y in points)
    edges = f"{'ABCDEF'[edge]}-{'ABCDEF'[(edge + 1) % 6]}"
    piece = drawn(f"points = [{listed}]", f'hem = {{ "{edges}" = {round(width, 3)} }}', thickness=0.5)
    (work,) = piece.works
    start, (dx, dy) = work.path.start, work.path.direction_at(0.0)
    ends = []
    for segment in piece.cut_outline.segments:
        x, y = segment.start[0] - start[0], segment.start[1] - start[1]
        along, out = x * dx + y * dy, x * dy - y * dx
        if out > 0.5 + 1e-6:  # beyond the turn's own thickness
            deep = out - 0.5
            ends.append((start[0] + dx * along - dy * deep, start[1] + dy * along + dx * deep))
    assert len(ends) == 2
    assert all(
        distance(end, piece.outline.point_at(piece.outline.along_of(end))) < 1e-6
        or region_of(piece.outline).contains(end)
        for end in ends
    )


WORKS: dict[str, Callable[[float], str]] = {
    "hem": lambda width: f"hem = {{ {{edges}} = {width} }}",
    "twice": lambda width: f"hem = {{ {{edges}} = {{{{ width = {width}, turns = 2, turn_in = 3 }}}} }}",
    "turned": lambda width: f"turned = {{ {{edges}} = {width} }}",
    "allowance": lambda width: f"allowance = {{ {{edges}} = {width} }}",
}


@given(
    st.lists(st.floats(-0.25, 0.25), min_size=6, max_size=6),
    st.sampled_from(sorted(WORKS)),
    st.integers(0, 5),
    st.floats(3, 12),
    st.floats(0.2, 2),
)
def test_the_cut_encloses_the_finished_piece_and_each_edge_is_cut_as_stated(
    lean: list[float], kind: str, edge: int, width: float, thickness: float
) -> None:
    """A hexagon whose corners are shifted about: beside the middle of the worked edge the knife goes at
    exactly the sum, and nothing of the finished piece lies outside."""
    points = [(60 * (1 + d) * cos(k * pi / 3), 60 * (1 + d) * sin(k * pi / 3)) for k, d in enumerate(lean)]
    letters = "ABCDEF"
    edges = f'"{letters[edge]}-{letters[(edge + 1) % 6]}"'
    width, thickness = round(width, 3), round(thickness, 3)
    listed = ", ".join(f"[{x:.4f}, {y:.4f}]" for x, y in points)
    piece = drawn(
        f"points = [{listed}]",
        WORKS[kind](width).replace("{edges}", edges).replace("{{", "{").replace("}}", "}"),
        thickness=thickness,
    )
    lost = region_of(piece.outline).without(region_of(piece.cut_outline))
    assert lost.area < 1e-6
    (work,) = piece.works
    stated = {"hem": width + thickness, "twice": width + 3 + 2 * thickness}
    stated |= {"turned": width + thickness, "allowance": width}
    middle = work.path.point_at(work.path.length / 2)
    dx, dy = work.path.direction_at(work.path.length / 2)
    by = stated[kind]
    beside = (middle[0] + dy * by, middle[1] - dx * by)
    assert distance(beside, piece.cut_outline.point_at(piece.cut_outline.along_of(beside))) < 1e-6
    for fold, off in zip(work.folds, (thickness / 2, 1.5 * thickness + width), strict=False):
        at = fold.point_at(fold.along_of(middle))
        assert hypot(at[0] - middle[0], at[1] - middle[1]) == pytest.approx(off, abs=1e-6)
    assert not region_of(piece.cut_outline).outside(
        [at for fold in work.folds for at in fold.flattened(sagitta=SAGITTA)], slack=1e-6
    )
