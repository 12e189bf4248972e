"""Posts of rivets and snaps: which length suits a stack, and what is told where none does."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest

from handkit.findings import in_order
from handkit.stitch.lists.posts import POST_LEAST, POST_MOST, common_post

Make = Callable[[str], Any]

RIVET = '[[opening]]\nname = "{0}"\nkind = "rivet"\nhole = 3\ncap = 9\nthrough = {1}\nat = [[{2}]]\n{3}\n'
HALF = (
    '[[opening]]\nname = "{0}"\nkind = "snap"\nhole = 4\nline = 20\nmate = "{1}"\n'
    "through = {2}\nat = [[{3}]]\n{4}\n"
)
TWO = """[[piece]]
name = "base"
rectangle = [100, 100]
thickness = {0}
[[piece]]
name = "flap"
rectangle = [100, 100]
on = "base"
thickness = {1}
"""


# 1.5875 to 3.175 mm (1/16 to 1/8 in) beyond the stack, two makers' pages; the sums by hand.
@pytest.mark.parametrize(
    ("stack", "post"),
    [
        (2.0, None),  # 3.59 to 5.18: nothing so short is common
        (3.6, 6.0),  # 5.19 to 6.78
        (4.0, 6.0),  # 5.59 to 7.18, middle 6.38: 6 and 7 fit, 6 is nearer
        (4.4, 7.0),  # 5.99 to 7.58, middle 6.78: 6 fits too, and stands at the end
        (4.8, 7.0),  # 6.39 to 7.98
        (7.2, 10.0),  # 8.79 to 10.38, middle 9.58: 9 and 10 fit
        (9.5, 12.0),  # 11.09 to 12.68
        (10.6, None),  # 12.19 to 13.78: between 12 and 14
    ],
)
def test_the_post_is_the_common_one_in_the_middle(stack: float, post: float | None) -> None:
    assert common_post(stack + POST_LEAST) == post


def test_no_common_post_is_nearer_to_the_middle() -> None:
    for tenths in range(40, 140):
        stack = tenths / 10
        middle = stack + (POST_LEAST + POST_MOST) / 2
        chosen = common_post(stack + POST_LEAST)
        near = [p for p in (6, 7, 8, 9, 10, 12, 14, 16) if abs(p - middle) <= (POST_MOST - POST_LEAST) / 2]
        assert chosen == min(near, key=lambda p: abs(p - middle), default=None)


def test_rows_of_one_article_are_totalled(planned: Make, head: str) -> None:
    """Stacks of 4 and 3.6 mm take a post of 6 mm both: two rows, three rivets to buy; by hand."""
    text = head + TWO.format(2, 2) + '[[piece]]\nname = "tab"\nrectangle = [90, 20]\nthickness = 1.6\n'
    text += 'on = "base"\nat = [2, 2]\n'
    text += RIVET.format("high", '["base", "flap"]', "20, 80], [60, 80", "")
    text = text.replace('on = "base"\nat', 'on = "base"\nbehind = true\nat')
    text += RIVET.format("low", '["base", "tab"]', "40, 12", "")
    told = planned(text.replace("rectangle = [100, 100]\non", "rectangle = [100, 50]\nat = [0, 50]\non"))
    assert [(row.count, row.common) for row in told.plan.hardware] == [(2, 6.0), (1, 6.0)]
    (total,) = told.plan.hardware_totals
    assert (total.what, total.article, total.count) == ("rivet", "cap 9 mm, hole 3 mm, post 6 mm", 3)
    assert "In all: 3 x rivet, cap 9 mm, hole 3 mm, post 6 mm." in told.text()
    assert json.loads(told.json())["hardware_totals"] == [
        {"what": "rivet", "article": "cap 9 mm, hole 3 mm, post 6 mm", "count": 3}
    ]


SHORT = (
    "a post of 5 mm through a stack of 4 mm",
    "5.59 mm to 7.17 mm, 1.6 to 3.2 mm beyond the stack",
    "take a longer one, or skive the layers there to 3.41 mm together",  # 5 - 1.5875
)
LONG = (
    "a post of 8 mm through a stack of 4 mm",
    "5.59 mm to 7.17 mm, 1.6 to 3.2 mm beyond the stack",
    "take a shorter one, or pack 0.83 mm of leather under the cap",  # 8 - 7.175
)
THICK = (
    'a stack of 5 mm under a half of a snap, opening "cap"',
    "up to 4.41 mm, what a common snap's post of 6 mm takes (common practice, no source)",
    # 6.59 to 8.18: 7 mm, 0.38 off the middle, before 8
    "skive the layers there to 4.41 mm together, or state the longer post at hand: post = 7",
)


@pytest.mark.parametrize(
    ("post", "told_of"),
    [("", []), ("post = 6", []), ("post = 7", []), ("post = 5", [SHORT]), ("post = 8", [LONG])],
)
def test_a_rivets_post_at_hand(planned: Make, head: str, post: str, told_of: list[tuple[str, ...]]) -> None:
    told = planned(head + TWO.format(2, 2) + RIVET.format("stud", '["base", "flap"]', "50, 50", post))
    posts = [one for one in told.plan.findings if one.code == "post-fits-not"]
    assert [(one.found, one.allowed, one.remedy) for one in posts] == told_of
    assert [row.at_hand for row in told.plan.hardware] == [float(post[7:]) if post else None]


def test_stacks_too_unlike_for_one_post(planned: Make, head: str) -> None:
    text = head + TWO.format(2, 2).replace("[100, 100]\non", "[40, 100]\non")
    told = planned(text + RIVET.format("stud", '["base", "flap"]', "20, 50], [80, 50", "post = 6"))
    (one,) = (one for one in told.plan.findings if one.code == "post-fits-not")
    assert one.found == "a post of 6 mm through stacks of 2 mm and 4 mm"
    assert one.remedy == "make two openings of it, each with its post"


@pytest.mark.parametrize(
    ("thick", "post", "told_of"),
    [(2.0, "", []), (2.4, "", []), (3.0, "", [THICK]), (3.0, "post = 7", []), (3.0, "post = 8", [])],
)
def test_a_snaps_stack(
    planned: Make, head: str, thick: float, post: str, told_of: list[tuple[str, ...]]
) -> None:
    """A common snap's post takes 6 - 1.5875 = 4.41 mm: 2 + 2 and 2 + 2.4 do, 2 + 3 doesn't; by hand."""
    text = head + TWO.format(2, thick) + HALF.format("cap", "stud", '["base", "flap"]', "50, 50", post)
    text += '[[piece]]\nname = "band"\nrectangle = [60, 60]\n'
    told = planned(text + HALF.format("stud", "cap", '["band"]', "30, 30", ""))
    found = [one for one in in_order(told.plan.findings) if one.code in ("snap-post", "post-fits-not")]
    assert [(one.found, one.allowed, one.remedy) for one in found] == told_of
