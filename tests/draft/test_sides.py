"""Sides: which side shows, how the template is laid, which side of one piece lies on which of another.

Value tables are worked out by hand with two scraps of leather: grain side up is how a piece lies that
shows its grain and is not turned over.
"""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.draft.drafter import draft
from handkit.draft.pattern import Pattern
from handkit.read.project import Side

GRAIN, FLESH = Side.GRAIN, Side.FLESH


def pattern_of(make: SimpleNamespace, **top: Any) -> Pattern:
    back = top.pop("back", {})
    return draft(make.project(make.piece("back", **back), make.piece("top", on="back", at=(10, 5), **top)))


@pytest.mark.parametrize(
    ("back", "top", "met"),
    [
        # a pocket on a back: its flesh side on the back's grain side
        ({}, {}, (FLESH, GRAIN)),
        # a lining: behind and turned over, flesh to flesh
        ({}, {"behind": True, "turned_over": True}, (FLESH, FLESH)),
        # a second back behind the first, the same way up
        ({}, {"behind": True}, (GRAIN, FLESH)),
        # a pocket laid with its showing side down
        ({}, {"turned_over": True}, (GRAIN, GRAIN)),
        # a case seen from inside, where its flesh shows, with a pocket in it
        ({"shows": FLESH}, {}, (FLESH, FLESH)),
        # a suede pocket, flesh out
        ({}, {"shows": FLESH}, (GRAIN, GRAIN)),
        # a bowed front does not lie flat, and still its flesh is inside
        ({}, {"flat": False}, (FLESH, GRAIN)),
    ],
)
def test_which_side_lies_on_which(
    make: SimpleNamespace, back: dict[str, Any], top: dict[str, Any], met: tuple[Side, Side]
) -> None:
    pattern = pattern_of(make, back=back, **top)
    assert pattern.faces_met("top", "back") == met


def test_what_lies_on_nothing_in_common_meets_nothing(make: SimpleNamespace) -> None:
    pattern = draft(
        make.project(
            make.piece("back"),
            make.piece("front", on="back", flat=False),
            make.piece("strip"),
            make.piece("tab", on="front"),
        )
    )
    assert pattern.faces_met("strip", "back") is None
    assert pattern.faces_met("tab", "back") is None  # the front is between them, and bends
    assert pattern.faces_met("tab", "front") == (FLESH, GRAIN)
    assert pattern.faces_met("back", "back") is None


def test_turned_flanges_are_told_nothing_of(make: SimpleNamespace) -> None:
    """A gusset's flange that is turned in has its grain on the base, one that butts its flesh: a fold line
    alone does not say which way it turns."""
    strip = {"on": "back", "flat": False}
    plain, turned = (
        make.piece("plain", **strip),
        make.piece("turned", folds={"flange": [(0, 8), (100, 8)]}, **strip),
    )
    pattern = draft(make.project(make.piece("back"), plain, turned))
    assert pattern.faces_met("plain", "back") == (FLESH, GRAIN)
    assert pattern.faces_met("turned", "back") is None


@pytest.mark.parametrize(
    ("shows", "mark", "mirrored", "far"),
    [
        (GRAIN, GRAIN, False, "flesh side"),
        (GRAIN, FLESH, True, "flesh side"),
        (FLESH, GRAIN, True, "grain side"),
        (FLESH, FLESH, False, "grain side"),
    ],
)
def test_a_template_is_mirrored_where_it_is_laid_on_the_far_side(
    make: SimpleNamespace, shows: Side, mark: Side, mirrored: bool, far: str
) -> None:
    """By hand: a drawing laid print up on the side it was not drawn from has to be mirrored."""
    piece = draft(make.project(make.piece("back", shows=shows, mark=mark))).piece("back")
    assert (piece.template_mirrored, piece.far_side) == (mirrored, far)


SIDES = st.sampled_from(Side)
LIES = st.fixed_dictionaries(
    {
        "shows": SIDES,
        "behind": st.booleans(),
        "turned_over": st.booleans(),
        "turn_degrees": st.sampled_from((0.0, 30.0)),
    }
)


@settings(derandomize=True, deadline=None, max_examples=40)
@given(first=LIES, second=LIES, base=SIDES)
def test_sides_that_meet_are_the_same_from_either_piece(
    make: SimpleNamespace, first: dict[str, Any], second: dict[str, Any], base: Side
) -> None:
    """Asked from either piece it is the same; the side met turns with the piece, and with it alone."""
    pieces = (
        make.piece("back", shows=base),
        make.piece("one", on="back", **first),
        make.piece("two", on="one", **second),
    )
    pattern = draft(make.project(*pieces))
    for pair in (("one", "back"), ("two", "one"), ("two", "back")):
        met, back = pattern.faces_met(*pair), pattern.faces_met(*reversed(pair))
        assert met is not None and back is not None
        assert met == (back[1], back[0])
    over = make.piece("one", on="back", **(first | {"turned_over": not first["turned_over"]}))
    met = pattern.faces_met("one", "back")
    assert met is not None
    turned = draft(make.project(pieces[0], over)).faces_met("one", "back")
    assert turned == (met[0].other, met[1])
