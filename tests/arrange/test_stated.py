"""What is stated and what is free on the two faces of a base: neither's rows come near the other's."""

from __future__ import annotations

import re
from random import Random

import pytest
from arranged_sets import outcome_of, places_of
from random_sets import worn_set

from handkit.draft.arrange.behind import Spare
from handkit.draft.arrange.faced import StatedBehind, pairs_of
from handkit.draft.arrange.packing import PackedBox, packed
from handkit.draft.arrange.ways import unlike_ways

HEAD = 'format = 1\n[material]\nthickness = 2\n[[piece]]\nname = "back"\nrectangle = "arranged"\n'
POCKET = (
    '[[part]]\nname = "pocket"\nkind = "flat pocket"\non = "back"\nwidth = 90\nheight = 60\n{}'
    '[[item]]\nname = "book"\nin = "pocket"\nsize = [70, 2, 58]\n'
)
LOOP = '[[part]]\nname = "loop"\nkind = "loop"\non = "back"\nbehind = true\nbelt = 40\nstrap = 30\n'


def behind_stated(seed: int) -> str:
    """A worn set of which all that lies behind is stated, off the place that it would have by itself."""
    text, random = worn_set(seed), Random(seed)
    aside, up = random.randint(0, 20), random.randint(0, 20)
    for name, (x, y) in places_of(text).items():
        if name.startswith(("loop", "sheath")):
            stated = rf'name = "{name}"\nkind = "\1"\nat = [{x + aside}, {y + up}]\n'
            text = re.sub(rf'name = "{name}"\nkind = "(.*)"\n', stated, text)
    return text


@pytest.mark.parametrize("at", ["[100, 100]", "[0, 100]", "[60, 140]"])
def test_rows_of_what_is_stated_count_where_they_lie(at: str) -> None:
    """A loop behind would be sewn on the pocket's rows, were these taken to be where they are at [0, 0]."""
    assert not outcome_of(HEAD + POCKET.format(f"at = {at}\n") + LOOP, "loop", most=1).faults


def test_what_is_free_in_front_keeps_off_what_is_stated_behind() -> None:
    """By hand: a row behind from 30 to 34 up and 20 to 60 aside; a box of 40 with a row along its foot may
    begin at 34 over it, or end under it with its row below 30: as its row is its foot, at 0 to 26."""
    row = PackedBox(40, 4, rows=((0, 0, 40, 4),), fixed=(20, 30), behind=True)
    sewn = PackedBox(40, 50, leather=(0, 0, 40, 50), rows=((0, 28, 40, 32),))
    boxes = [sewn, row]
    stated = StatedBehind(boxes, pairs_of(boxes), (0,), 200, {})
    assert [y for y in range(12) if stated.barred(0, 0) >> y & 1] == list(range(6))  # 28 + y < 34
    assert stated.barred(0, 60) == 0
    assert packed([sewn], (0,), 40, 6, down=False, beyond=stated).places == ((0, 6),)
    assert all(stated.clear(way.places[:1]) for way in unlike_ways(boxes, Spare(6, 10)))


@pytest.mark.parametrize("seed", [2, 4])
def test_a_set_whose_back_is_stated_is_free_of_clashes(seed: int) -> None:
    assert not outcome_of(behind_stated(seed), f"behind {seed}", most=1).faults


@pytest.mark.long
def test_sets_whose_back_is_stated_are_free_of_clashes() -> None:
    outcomes = [outcome_of(behind_stated(seed), f"behind {seed}", most=2) for seed in range(20, 36)]
    assert [one for one in outcomes if one.faults] == []
