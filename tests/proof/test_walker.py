"""The walker: marks are where the operators put them, through any transformation and form."""

from __future__ import annotations

from math import dist
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from handkit.geometry.affine import Affine
from handkit.proof.content.document import opened
from handkit.proof.content.marks import MeasuredMark
from handkit.proof.content.walker import budget_of, walked

UNIT = 25.4 / 72  # ISO 32000-1, 8.3.2.3: the default unit is 1/72 inch
FORM = "/Type /XObject /Subtype /Form /BBox [0 0 999 999] "


def marks_of(path: Any) -> tuple[MeasuredMark, ...]:
    (page,) = opened(path).pages
    return walked(page, budget=budget_of(0)).marks


def points_of(path: Any) -> list[tuple[float, float]]:
    """Of the only mark, in units of the page, as a test writes them."""
    (mark,) = marks_of(path)
    return [(round(x / UNIT, 6), round(y / UNIT, 6)) for subpath in mark.subpaths for x, y in subpath.points]


# Operators, and the points they leave on paper (worked out by hand).
DRAWN = [
    ("1 2 m 3 4 l S", [(1, 2), (3, 4)]),
    ("q 2 0 0 3 10 20 cm 1 1 m 2 2 l S Q", [(12, 23), (14, 26)]),
    ("q 1 0 0 1 5 0 cm 2 0 0 2 0 0 cm 1 1 m 2 2 l S Q", [(7, 2), (9, 4)]),  # the inner cm is done first
    ("q 9 0 0 9 9 9 cm Q 1 2 m 3 4 l S", [(1, 2), (3, 4)]),
    ("q 0 1 -1 0 0 0 cm 1 2 m 3 4 l S Q", [(-2, 1), (-4, 3)]),  # a quarter turn
    ("1 2 3 4 re S", [(1, 2), (4, 2), (4, 6), (1, 6), (1, 2)]),
    ("1 2 m 1 3 2 4 3 4 c S", [(1, 2), (3, 4)]),
    ("1 2 m 2 4 3 4 v S", [(1, 2), (3, 4)]),
    ("1 2 m 2 4 3 4 y S", [(1, 2), (3, 4)]),
    ("0 0 m 2 0 l 2 2 l h S", [(0, 0), (2, 0), (2, 2), (0, 0)]),
    ("0 0 m 2 0 l 2 2 l s", [(0, 0), (2, 0), (2, 2), (0, 0)]),
    ("0 0 m 2 0 l 2 2 l h 5 5 l S", [(0, 0), (2, 0), (2, 2), (0, 0), (0, 0), (5, 5)]),
    ("0 0 m 7 7 m 2 0 l f", [(7, 7), (2, 0)]),  # a subpath that was only begun is nothing
    ("0 0 m 2 0 l n 1 1 m 2 2 l S", [(1, 1), (2, 2)]),  # n paints nothing
    ("0 0 m 2 0 l W n", []),  # a clip is no ink
    ("0 0 m q 1 0 0 1 5 5 cm 2 0 l Q S", [(0, 0), (7, 5)]),  # each point by what stood when it was named
    ("BT /F 9 Tf (3 3 m 4 4 l S) Tj ET 1 1 m 2 2 l S", [(1, 1), (2, 2)]),
    ("-.5 +1 m 4. -0 l S", [(-0.5, 1), (4, 0)]),
    ("% 9 9 m\n1 2 m 3 4 l S", [(1, 2), (3, 4)]),
]


@pytest.mark.parametrize(("operators", "expected"), DRAWN)
def test_points_stand_where_the_operators_put_them(hand: Any, operators: str, expected: list[Any]) -> None:
    assert points_of(hand.pdf(f"/hkFold BMC {operators} EMC")) == expected


def test_the_pen_is_as_wide_and_dashed_as_the_page_is_scaled(hand: Any) -> None:
    (mark,) = marks_of(hand.pdf("/hkFold BMC 3 w [6 1.5] 0 d 2 0 0 2 0 0 cm 0 0 m 1 0 l S EMC"))
    assert mark.painted[0].width == pytest.approx(6 * UNIT)
    assert mark.painted[0].dash == pytest.approx((12 * UNIT, 3 * UNIT))


@pytest.mark.parametrize(
    ("operator", "stroked", "filled"),
    [
        *[(operator, True, False) for operator in ("S", "s")],
        *[(operator, False, True) for operator in ("f", "F", "f*")],
        *[(operator, True, True) for operator in ("B", "B*", "b", "b*")],
    ],
)
def test_what_each_painting_operator_leaves(hand: Any, operator: str, stroked: bool, filled: bool) -> None:
    (mark,) = marks_of(hand.pdf(f"/hkFold BMC 0 0 m 1 0 l 1 1 l {operator} EMC"))
    (painted,) = mark.painted
    assert (painted.stroked, painted.filled) == (stroked, filled)
    assert painted.subpaths[0].closed == (operator in ("s", "b", "b*"))


def test_a_path_belongs_to_the_innermost_of_our_tags(hand: Any) -> None:
    found = marks_of(
        hand.pdf(
            "0 0 m 9 9 l S /hkOutline BMC /Artifact BMC 1 1 m 2 2 l S EMC "
            "/hkFold BMC 3 3 m 4 4 l S EMC 5 5 m 6 6 l S EMC /Span <</MCID 0>> BDC 7 7 m 8 8 l S EMC"
        )
    )
    assert [(mark.tag.value, len(mark.subpaths)) for mark in found] == [("hkOutline", 2), ("hkFold", 1)]


def test_properties_stand_inline_or_in_the_resources(hand: Any) -> None:
    inline = "/hkHole <</Piece <FEFF00E9>/Seam (a \\(b\\) \\\\)/Run 2/Join [1 2]/Other /Name>> BDC EMC"
    path = hand.pdf(
        inline + "/hkHole /P1 BDC EMC",
        resources="/Properties <</P1 100 0 R>>",
        objects=("<</Piece 101 0 R /Number 7>>", "(back)"),
    )
    first, second = marks_of(path)
    assert first.text("Piece") == "é"
    assert first.text("Seam") == "a (b) \\"
    assert (first.count("Run"), first.pair("Join")) == (2, (1, 2))
    assert (second.text("Piece"), second.count("Number")) == ("back", 7)


def test_forms_are_drawn_through_their_matrix_one_inside_the_other(hand: Any, as_stream: Any) -> None:
    inner = as_stream("1 1 m 2 2 l S", FORM + "/Matrix [2 0 0 2 0 0] ")
    outer = as_stream(
        "q 1 0 0 1 10 0 cm /In Do Q 0 0 m 1 0 l S",
        FORM + "/Matrix [0 1 -1 0 0 0] /Resources <</XObject <</In 100 0 R>>>> ",
    )
    path = hand.pdf(
        "/hkFold BMC q 1 0 0 1 100 0 cm /Out Do Q 5 5 m 6 6 l S EMC",
        resources="/XObject <</Out 101 0 R>>",
        objects=(inner, outer),
    )
    # (1, 1) doubled is (2, 2), shifted (12, 2), turned (-2, 12), shifted (98, 12)
    assert points_of(path) == [(98, 12), (96, 14), (100, 0), (100, 1), (5, 5), (6, 6)]


def test_a_tag_stands_around_or_inside_a_form(hand: Any, as_stream: Any) -> None:
    form = as_stream("/hkFold BMC 1 1 m 2 2 l S EMC 3 3 m 4 4 l S", FORM)
    path = hand.pdf("/hkTrim BMC /F Do EMC /F Do", resources="/XObject <</F 100 0 R>>", objects=(form,))
    found = [(mark.tag.value, len(mark.subpaths)) for mark in marks_of(path)]
    assert found == [("hkTrim", 1), ("hkFold", 1), ("hkFold", 1)]


def test_images_are_passed_over(hand: Any, as_stream: Any) -> None:
    image = as_stream("\0", "/Subtype /Image /Width 1 /Height 1 /ColorSpace /DeviceGray /BitsPerComponent 8 ")
    path = hand.pdf(
        "/I Do q BI /W 1 /H 1 /CS /G /BPC 8 ID \0 EI Q /hkFold BMC 1 2 m 3 4 l S EMC",
        resources="/XObject <</I 100 0 R>>",
        objects=(image,),
    )
    assert points_of(path) == [(1, 2), (3, 4)]


def _matrix() -> Any:
    bounded = st.floats(-3, 3, allow_nan=False).map(lambda x: round(x, 3))
    return st.tuples(*[bounded] * 6)


@settings(derandomize=True, deadline=None, max_examples=60, suppress_health_check=list(HealthCheck))
@given(matrices=st.lists(_matrix(), max_size=6), point=st.tuples(st.integers(-50, 50), st.integers(-50, 50)))
def test_any_row_of_transformations_is_their_product(
    hand: Any, matrices: list[tuple[float, ...]], point: tuple[int, int]
) -> None:
    opens = " ".join("q " + " ".join(f"{n:.3f}" for n in matrix) + " cm" for matrix in matrices)
    x, y = point
    path = hand.pdf(f"/hkFold BMC {opens} {x} {y} m 1 1 l S {'Q ' * len(matrices)}EMC")
    (mark,) = marks_of(path)
    at = (float(x), float(y))
    for matrix in reversed(matrices):
        at = Affine(*matrix).apply(at)
    assert dist(mark.subpaths[0].points[0], (at[0] * UNIT, at[1] * UNIT)) < 1e-6
