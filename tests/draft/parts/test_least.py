"""What a refusal allows can be drafted: the least it names is taken, and a hair less is not."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest

from handkit.draft.pattern import Pattern
from handkit.errors import ProjectError

BUNDLE = "size = [58, 20, 150]"
TIN = "size = [90, 30, 120]"
HANDLE = "diameter = 20\nlength = 150"

# Kind, item, other keys, the key that is too small, a value that is.
TOO_SMALL = [
    ("holder row", HANDLE, "", "gap", 2.0),
    ("holder row", TIN, 'ease = "20 %"', "gap", 12.0),
    ("holder row", "section = [[0, 0], [20, 0], [14, 9]]\nlength = 90", "", "gap", 1.0),
    ("flat pocket", "size = [30, 1, 150]", "", "width", 36.0),
    ("flat pocket", "size = [30, 1, 150]", "dividers = false", "width", 20.0),
    ("bowed pocket", BUNDLE, "", "width", 60.0),
    ("bowed pocket", BUNDLE, "rivets = true", "width", 71.0),
    ("bowed pocket", BUNDLE, "", "height", 11.0),
    ("bowed pocket", BUNDLE, "rivets = true", "height", 15.0),
    ("boxed pocket", TIN, "", "round", 12.0),
    ("boxed pocket", TIN, 'gusset = "turned"', "round", 3.0),
    ("boxed pocket", "size = [20, 18, 90]", "", "width", 35.0),
    ("boxed pocket", TIN, "", "height", 26.0),
    ("boxed pocket", TIN, "", "depth", 3.0),
    ("boxed pocket", TIN, 'gusset = "turned"', "depth", 8.0),
]


def text(kind: str, thing: str, more: str, key: str, value: float) -> str:
    part = f'[[part]]\nname = "part"\nkind = "{kind}"\non = "back"\n{more}\n{key} = {value}\n'
    return f'{part}[[item]]\nname = "thing"\nin = "part"\n{thing}\n'


@pytest.mark.parametrize("case", TOO_SMALL)
def test_the_least_that_is_named_is_taken(
    pattern_of: Callable[..., Pattern], case: tuple[str, str, str, str, float]
) -> None:
    kind, thing, more, key, value = case

    def told(value: float) -> str:
        try:
            pattern_of(text(kind, thing, more, key, value))
        except ProjectError as refused:
            return str(refused)
        return ""

    named = re.search(rf": {key}: .* allowed: at least ([\d.]+) mm", told(value))
    assert named, told(value)
    least = float(named[1])
    assert told(least) == ""
    assert f": {key}: " in told(round(least - 0.1, 2))
