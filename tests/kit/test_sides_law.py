"""Whatever `shows` and `mark` say: mates' holes are one on the article, and templates are mirrored where they
differ.

The holes are read off the printed sheets. How each piece lies is reckoned here from the file alone: turned
over first, then turned, then shifted.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

COINCIDE = 0.01  # mm

HEAD = """format = 1
[material]
thickness = 2
[stitching]
pitch = 5
inset = 5
thread = 0.8
"""
WIDE = 180  # of the back and the lining, mm
# Counter-clockwise as it is drawn, like no mirror image of itself, and nowhere 75 mm from its corner A.
TOP = "[[0, 0], [60, 0], [60, 30], [0, 44]]"

SIDES = st.tuples(st.sampled_from(["grain", "flesh"]), st.sampled_from(["grain", "flesh"]))


@st.composite
def articles(draw: st.DrawFn) -> dict[str, Any]:
    """Shows and mark of three pieces, and how the top lies on the back."""
    return {
        "sides": {name: draw(SIDES) for name in ("back", "top", "lining")},
        "behind": draw(st.booleans()),
        "over": draw(st.booleans()),
        "turn": draw(st.sampled_from([0, 30, 90, 217.5])),
        "corner": (draw(st.integers(80, 100)), draw(st.integers(80, 100))),
    }


def text_of(article: dict[str, Any]) -> str:
    def piece(name: str, shape: str) -> str:
        shows, mark = article["sides"][name]
        return f'[[piece]]\nname = "{name}"\n{shape}\nshows = "{shows}"\nmark = "{mark}"\n'

    x, y = article["corner"]
    lies = f'on = "back"\nat = [{x}, {y}]\nturn = {article["turn"]}\n'
    lies += f"behind = {str(article['behind']).lower()}\nturned_over = {str(article['over']).lower()}\n"
    lined = f'on = "back"\nat = [{WIDE}, 0]\nbehind = true\nturned_over = true\n'
    return (
        HEAD
        + piece("back", f"rectangle = [{WIDE}, {WIDE}]")
        + piece("top", f"points = {TOP}")
        + lies
        + piece("lining", f"rectangle = [{WIDE}, {WIDE}]")
        + lined
        + '[[seam]]\nname = "round"\nruns = ["top: A-B-C-D-A", "back", "lining"]\n'
    )


def on_back(article: dict[str, Any], name: str, at: np.ndarray) -> np.ndarray:
    """Places of a piece in the back's frame."""
    if name == "back":
        return at
    over, turn, corner = article["over"], np.radians(article["turn"]), article["corner"]
    if name == "lining":
        over, turn, corner = True, 0.0, (WIDE, 0)
    x, y = at[:, 0] * (-1 if over else 1), at[:, 1]
    turned = np.stack([x * np.cos(turn) - y * np.sin(turn), x * np.sin(turn) + y * np.cos(turn)], axis=1)
    return turned + corner


def way_round(at: np.ndarray) -> float:
    """Twice the area within a ring, positive counter-clockwise."""
    x, y = at[:, 0], at[:, 1]
    return float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y))


def hold_the_law(kit: Any, frames: Any, article: dict[str, Any]) -> None:
    told = {
        name: np.array([(hole["x"], hole["y"]) for hole in kit.piece(name)["holes"]])
        for name in article["sides"]
    }
    printed = {
        name: {mark.properties["Number"]: mark for mark in kit.tagged("/hkHole") if mark.window[0] == name}
        for name in article["sides"]
    }
    top = on_back(article, "top", told["top"])
    for name, (shows, mark) in article["sides"].items():
        drawn = np.array([printed[name][k].centre for k in range(1, len(top) + 1)])
        # As the file draws it: seen from the side that shows. The paper is laid on `mark`.
        as_drawn = way_round(told[name])
        assert (way_round(drawn) * as_drawn < 0) is (shows != mark), name
        own = frames.unplaced(kit.windows[name, 1]["placed"], drawn)
        assert np.abs(own - told[name]).max() <= COINCIDE, name
        assert np.abs(on_back(article, name, own) - top).max() <= COINCIDE, name
    assert way_round(told["top"]) > 0  # as the file has its points
    assert (way_round(told["back"]) > 0) is not article["over"]


@pytest.mark.long
@settings(derandomize=True, deadline=None, max_examples=25)
@given(article=articles())
def test_mates_are_one_and_templates_are_mirrored_where_the_two_differ(
    kit_of: Callable[[str], Any], frames: Any, article: dict[str, Any]
) -> None:
    hold_the_law(kit_of(text_of(article)), frames, article)
