"""Parts with settings as they come: drafted and punched, or refused with findings; never anything else."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.draft.pattern import Pattern
from handkit.errors import ProjectError
from handkit.punch.puncher import punch

lengths = st.sampled_from([1, 3, 5, 8, 12, 20, 33.3, 60, 120, 300])
KEYS: dict[str, dict[str, st.SearchStrategy[Any]]] = {
    "bowed pocket": {
        **dict.fromkeys(("shows", "width", "height", "round", "mouth", "hem"), lengths),
        "rivets": st.just("true"),
    },
    "boxed pocket": {
        **dict.fromkeys(("shows", "width", "height", "round", "depth"), lengths),
        "gusset": st.sampled_from(['"plain"', '"turned"']),
    },
    "holder row": dict.fromkeys(("shows", "strap", "gap", "round"), lengths),
}
EASES = st.sampled_from(["0", "3", '"10 %"', '"100 %"', "50"])
THINGS = st.sampled_from(
    [
        "size = [60, 20, 150]",
        "size = [20, 80, 150]",
        "size = [0.5, 0.3, 30]",
        "size = [200, 2, 1]",
        "diameter = 0.5\nlength = 90",
        "diameter = 70\nlength = 2",
        "section = [[0, 0], [20, 1], [9, 14]]\nlength = 200",
        "section = [[0, 0], [0, 9], [1, 9], [1, 1], [30, 1], [30, 0]]\nlength = 60",
    ]
)


@st.composite
def parts(draw: st.DrawFn) -> str:
    kind = draw(st.sampled_from(sorted(KEYS)))
    choices = {**KEYS[kind], "ease": EASES, "turn": st.sampled_from([90, 37.5])}
    keys = draw(st.sets(st.sampled_from(sorted(choices)), max_size=3))
    own = "".join(f"{key} = {draw(choices[key])}\n" for key in sorted(keys))
    items = "".join(
        f'[[item]]\nname = "item {k}"\nin = "part"\n{thing}\n'
        for k, thing in enumerate(draw(st.lists(THINGS, min_size=1, max_size=3)))
    )
    inset, spacing = draw(st.sampled_from([2, 4, 10])), draw(st.sampled_from(["even", "iron"]))
    return (
        f'[[part]]\nname = "part"\nkind = "{kind}"\non = "back"\nat = [400, 400]\n{own}{items}'
        f'[stitching]\ninset = {inset}\nspacing = "{spacing}"\n'
    )


@pytest.mark.long
@settings(derandomize=True, deadline=None, max_examples=120)
@given(text=parts(), thickness=st.sampled_from([0.5, 2.4, 8.0]))
def test_settings_as_they_come(pattern_of: Callable[..., Pattern], text: str, thickness: float) -> None:
    try:
        pattern = pattern_of(text, thickness=thickness)
        assert all(len(layers) == 2 for layers in (seam.runs for seam in pattern.seams))
        assert {room.item for room in pattern.item_fits} <= {item.name for item in pattern.project.items}
        assert len({len(layer.holes) for layer in punch(pattern).seams[0].layers}) == 1
    except ProjectError as refused:
        assert refused.findings
