"""Turning: what is still by itself is laid as one likes, and what stands has no side up.

Turns are worked out by hand: each is told before the task that wants the other side up, and no other.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from written_tables import piece, seam

Make = Callable[[str], Any]


BACK = piece("back", 200, 260)
FRONT = piece("front", 140, 150, 'on = "back"', "at = [30, 16]") + seam("front", "front: D-A-B-C", "back")
PLATE = piece("plate", 40, 30, 'on = "back"', "at = [80, 200]", "behind = true")
PLATE += seam("plate", "plate: A-B-C-D-A", "back")
PATCH = piece("patch", 60, 60, 'on = "front"', "at = [40, 40]", "behind = true")
PATCH += seam("patch", "patch: A-B-C-D-A", "front")
LABEL = piece("label", 60, 40, 'on = "front"', "at = [40, 100]") + seam("label", "label: D-A-B-C", "front")
LINED = piece("panel", 180, 240, 'on = "back"', "at = [190, 10]", "behind = true", "turned_over = true")
LINED += piece("pocket", 80, 60, 'on = "panel"', "at = [50, 40]") + seam("pocket", "pocket: D-A-B-C", "panel")
LINED += seam("panel", "panel: A-B-C-D-A", "back")
STRAP = piece("strap", 300, 30, "grain = 0", "lines = { a = [[40, 10], [40, 20]], b = [[70, 10], [70, 20]] }")
STRAP += seam("fold", "strap: a", "strap: b")

# What is sewn, what the work is turned for, and why.
TURNS: dict[str, tuple[str, list[str], str]] = {
    "a plate behind alone": (BACK + PLATE, [], "the back is laid face down at once"),
    "a plate behind and a front": (
        BACK + PLATE + FRONT,
        ["plate"],
        "on either side of one back: one turn whichever is first, and then the face lies up at first",
    ),
    "a patch behind a front that goes on a back": (
        BACK + FRONT + PATCH,
        [],
        "the front lies face down by itself, and is laid on the back with its face up",
    ),
    "a label and a patch on a front": (
        BACK + FRONT + LABEL + PATCH,
        ["patch"],
        "on either side of the front, which is by itself",
    ),
    "a pocket on a panel that is sewn behind": (
        BACK + LINED,
        [],
        "the panel lies with its pocket up, by itself and behind the back, which lies face down",
    ),
    "a pocket on a panel, and a front": (
        BACK + LINED + FRONT,
        ["panel"],
        "the front is sewn on before the panel, which would lie behind its holes",
    ),
    "a strap that is sewn to itself": (STRAP + BACK + PLATE, [], "a single piece is held as it comes"),
}


@pytest.mark.parametrize("title", TURNS)
def test_the_work_that_is_turned_is_turned_alone(planned: Make, head: str, title: str) -> None:
    text, turned, why = TURNS[title]
    told = planned(head + text)
    assert [step.name for step in told.plan.steps if step.kind.value == "turn"] == turned, why


@pytest.mark.parametrize(("first", "then"), [(FRONT, PLATE), (PLATE, FRONT), (PLATE, "")])
def test_what_goes_on_from_behind_is_told_as_it_lies(planned: Make, head: str, first: str, then: str) -> None:
    """The plate lies on the back, whose far side is up: turned over for it, or laid down so."""
    plan = planned(head + BACK + first + then).plan
    (told,) = (step.what for step in plan.steps if step.kind == "seam" and step.name == "plate")
    assert "titch plate and back: " in told
    (sewn,) = (seam for seam in plan.seams if seam.name == "plate")
    assert [layer.piece for layer in sewn.downwards] == ["plate", "back"]
    ups = [step.what for step in plan.steps if step.kind == "turn"]
    assert ups == (["Turn the work over, flesh side of back up."] if then else [])
