"""Loops, sheaths and flaps of any sizes: punched, or refused by what names a measure to change; nothing else.

The long run: `TIMES=4 python -m pytest -m long tests/draft/parts/test_any_worn.py`.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.draft.pattern import Pattern
from handkit.errors import ProjectError
from handkit.punch.puncher import punch

wide = st.sampled_from([10, 12, 18, 33.3, 60, 80])
thin = st.sampled_from([0.5, 2, 4, 12, 20])
round_ = st.sampled_from([0.1, 4, 8, 17, 60])
KEYS: dict[str, dict[str, st.SearchStrategy[Any]]] = {
    "loop": {
        "belt_thickness": thin,
        "strap": wide,
        "round": round_,
        "hang": st.sampled_from(['"upright"', '"slung"']),
        "fixing": st.sampled_from(['"stitches"', '"rivets"']),
    },
    "sheath": {
        **dict.fromkeys(("grip", "handle_strap", "belt"), wide),
        "belt_thickness": thin,
        "drain": st.sampled_from([2, 5, 20]),
        "welt": st.sampled_from([4, 9, 12, 60]),
        "on": st.just('"back"'),
    },
}
BLADES = st.sampled_from(
    [
        "size = [22, 3, 110]\ntip = 30\nhandle = [26, 18, 100]",
        "size = [4, 1, 30]\ntip = 29",
        "size = [90, 6, 300]\nhandle = [30, 30, 120]",
        "size = [15, 3, 60]\ntip = 60",
        "outline = [[0, 60], [6, 0], [30, 40], [22, 80], [24, 120], [2, 120]]\nthickness = 2.5",
        "diameter = 9\nlength = 120",
    ]
)
# What may be told of sizes that do not go together, each at a key that mends it.
TOLD = {
    "belt_thickness",
    "strap",
    "round",
    "at",
    "fixing",
    "welt",
    "grip",
    "handle_strap",
    "belt",
    "on",
    "drain",
    "thickness",
}


def any_part(data: st.DataObject) -> str:
    kind = data.draw(st.sampled_from(sorted(KEYS)))
    keys = data.draw(st.sets(st.sampled_from(sorted(KEYS[kind])), max_size=4))
    own = "".join(f"{key} = {data.draw(KEYS[kind][key])}\n" for key in sorted(keys))
    if kind == "loop":
        own += f'on = "back"\nbelt = {data.draw(st.sampled_from([10, 40, 150]))}\n'
    if "on =" in own:
        own += f"at = [{data.draw(st.sampled_from([100, 400]))}, {data.draw(st.sampled_from([300, 860]))}]\n"
        own += data.draw(st.sampled_from(["", "behind = true\n"]))
    held = f'[[item]]\nname = "blade"\nin = "part"\n{data.draw(BLADES)}\n' if kind == "sheath" else ""
    inset = data.draw(st.sampled_from([4, 6, 10]))
    return f'[[part]]\nname = "part"\nkind = "{kind}"\n{own}{held}[stitching]\ninset = {inset}\n'


def sews(pattern_of: Callable[..., Pattern], data: st.DataObject) -> None:
    text, thickness = any_part(data), data.draw(st.sampled_from([0.8, 2.4, 5.0]))
    try:
        pattern = pattern_of(text, thickness=thickness)
        punched = punch(pattern)
    except ProjectError as refused:
        errors = [found for found in refused.findings if found.severity == "error"]
        for found in errors:
            assert found.where.key.rpartition(": ")[2] in TOLD, str(found)
        assert len({found.code for found in errors}) == len(errors) or len(errors) < 3, list(map(str, errors))
        return
    for seam in punched.seams:
        assert len({layer.holes[-1].number for layer in seam.layers if layer.holes}) == 1


@settings(derandomize=True, deadline=None, max_examples=40)
@given(data=st.data())
def test_any_sizes(pattern_of: Callable[..., Pattern], data: st.DataObject) -> None:
    sews(pattern_of, data)


@pytest.mark.long
@settings(derandomize=True, deadline=None, max_examples=150)
@given(data=st.data())
def test_any_sizes_at_length(pattern_of: Callable[..., Pattern], data: st.DataObject) -> None:
    sews(pattern_of, data)
