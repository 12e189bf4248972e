"""Where hardware shows: by hand, from how the pieces lie; said once at its step."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

Make = Callable[[str], Any]

BACK = '[[piece]]\nname = "back"\nrectangle = [100, 200]\n'
FOLDED = (
    BACK + '[piece.folds]\nover = {{ line = [[0, 120], [100, 120]], out = "{}", angle = 180, stays = "A" }}\n'
)
PATCH = '[[piece]]\nname = "patch"\nrectangle = [60, 60]\non = "back"\nat = [20, 20]\n'
BEHIND = "behind = true\nturned_over = true\n"


def opening(name: str, kind: str, pieces: str, at: str, more: str = "") -> str:
    return (
        f'[[opening]]\nname = "{name}"\nkind = "{kind}"\nhole = 4\ncap = 9\nthrough = [{pieces}]\n'
        f"at = [{at}]\n{more}"
    )


def snap(folds: str, stud: str) -> str:
    halves = opening("cap", "snap", '"back"', "[50, 190]", 'mate = "stud"\n')
    return (
        FOLDED.format(folds)
        + PATCH
        + halves
        + opening("stud", "snap", f'"{stud}"', "[30, 30]", 'mate = "cap"\n')
    )


SIDES = [
    # its cap is on what is outermost, behind likewise
    (BACK + PATCH + opening("pin", "rivet", '"back", "patch"', "[40, 40]"), "pin",
     "Cap on the grain side of patch."),
    (BACK + PATCH + BEHIND + opening("pin", "rivet", '"patch"', "[40, 40]"), "pin",
     "Cap on the grain side of patch."),
    (BACK + opening("eye", "eyelet", '"back"', "[40, 40]"), "eye", "Cap on the grain side of back."),
    # folded towards the eye, flesh out, grain comes down on the patch's grain
    (snap("flesh", "patch"), "cap", '; the grain side of back to "stud".'),
    (snap("flesh", "patch"), "stud", '; the grain side of patch to "cap".'),
    # folded away, grain out, it comes down on the far side
    (snap("grain", "back"), "cap", '; the flesh side of back to "stud".'),
    (snap("grain", "back"), "stud", '; the flesh side of back to "cap".'),
]  # fmt: skip


@pytest.mark.parametrize(("text", "name", "told"), SIDES)
def test_a_step_says_which_side_is_up(planned: Make, head: str, text: str, name: str, told: str) -> None:
    steps = planned(head + text).plan.steps
    (step,) = (one for one in steps if one.name == name and one.kind.value == "opening")
    assert told in step.what
    assert step.what.endswith(told)


def test_nothing_is_said_where_the_file_does_not_tell(planned: Make, head: str) -> None:
    """No fold lays one half on the other."""
    text = snap("flesh", "patch")
    text = text.replace(text[text.index("{ line") : text.index("}") + 1], "[[0, 120], [100, 120]]")
    steps = planned(head + text).plan.steps
    assert not any("meets" in step.what for step in steps)


def test_the_ends_of_a_sheath_s_strap_say_which_laps_over(planned: Make) -> None:
    """Its snap would not close with both halves set alike; by hand."""
    told = planned(
        'format = 1\n[material]\nthickness = 2.8\n[[part]]\nname = "sheath"\nkind = "sheath"\nbelt = 38\n'
        'handle_strap = 18\n[[item]]\nname = "knife"\nin = "sheath"\nsize = [28, 3, 96]\ntip = 40\n'
        "handle = [26, 18, 110]\n"
    )
    cap, stud = (step.what for step in told.plan.steps if step.name in ("sheath cap", "sheath stud"))
    assert cap.endswith("cap on the side that shows: this end laps over the other.")
    assert stud.endswith("stands out of the side that shows, under the other end.")
