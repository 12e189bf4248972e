"""Placeholders of the tables of messages: each style against its phrase, worked out by hand."""

from __future__ import annotations

import pytest

from handkit.messages.placeholders import filled

STYLES = [
    ("{x:quoted}", "front", '"front"'),
    ("{x:quoted}", 'a "b"\n', r'"a \"b\"\x0a"'),
    ("{x:quoted}", ["a", "b"], '"a", "b"'),
    ("{x:quoted}", "abcdefghijklm", '"abcdefghijklm"'),
    ("{x:quoted}", tuple("abcdefghijklm"), ", ".join(f'"{letter}"' for letter in "abcdefghijkl") + ", …"),
    ("{x:quoted or}", ["a"], '"a"'),
    ("{x:quoted or}", ["a", "b", "c"], '"a", "b" or "c"'),
    ("{x:shown}", True, "true"),
    ("{x:shown}", [1, 2], "a list of 2"),
    ("{x:or}", ["a", "b"], "a or b"),
    ("{x:and}", ["a", "b", "c"], "a, b and c"),
    ("{x:listed}", {"a": 1, "b": 2}, "a, b"),
    ("{x:cycle}", ["a"], "a → a"),
    ("{x:cycle}", ["a", "b"], "a → b → a"),
    ("{x:counted hole}", 0, "0 holes"),
    ("{x:counted hole}", 1, "1 hole"),
    ("{x:counted hole}", 2, "2 holes"),
    ("{x:suggested}", "front", '"front"'),
    ("{x:suggested}", "", "one of these"),
    ("{x:.10g} {{x}}", 2.5, "2.5 {x}"),
    ("{x:04X}", 10, "000A"),
]


@pytest.mark.parametrize(("text", "value", "phrase"), STYLES)
def test_styles(text: str, value: object, phrase: str) -> None:
    assert filled(text, {"x": value, "more": None}) == phrase


def test_a_value_is_never_read_as_a_placeholder() -> None:
    assert filled("{x:quoted}, {x}", {"x": "{y:quoted}"}) == '"{y:quoted}", {y:quoted}'


def test_a_missing_value_is_a_bug() -> None:
    with pytest.raises(KeyError):
        filled("{x:quoted}", {})
