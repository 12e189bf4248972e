"""TOML text: strings, numbers, lists and tables as a maker would type them.

In: plain values. Out: text that `tomllib` reads back as what it was (TOML 1.0.0). Standard Python reads TOML
and does not write it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence

# A list that is longer than this on one line is written an entry a line.
WIDE = 100
_BARE = re.compile(r"[A-Za-z0-9_]+")
_ESCAPED = re.compile(r'["\\\x00-\x1f\x7f]')


def string(text: str) -> str:
    r"""A basic string.

    >>> print(string('the "big" one, a\\b'))
    "the \"big\" one, a\\b"
    """

    def escape(found: re.Match[str]) -> str:
        letter = found.group()
        return f"\\{letter}" if letter in '"\\' else f"\\u{ord(letter):04x}"

    return f'"{_ESCAPED.sub(escape, text)}"'


def key(name: str) -> str:
    """A key, in quotes where it is no plain word.

    >>> key("left_low"), key("A-B-C"), key("P 1")
    ('left_low', '"A-B-C"', '"P 1"')
    """
    return name if _BARE.fullmatch(name) else string(name)


def number(value: float, decimals: int) -> str:
    """A number with so many decimals at most, never in powers of ten.

    >>> number(25.4, 6), number(1 / 3, 6), number(-0.0000001, 6), number(4.0, 6)
    ('25.4', '0.333333', '0', '4')
    """
    text = f"{value:.{decimals}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


def array(items: Sequence[str]) -> str:
    """A list on one line."""
    return f"[{', '.join(items)}]"


def inline(values: Mapping[str, str]) -> str:
    """A table on one line.

    >>> inline({"A": "8", "P 1": "2"})
    '{ A = 8, "P 1" = 2 }'
    """
    return f"{{ {', '.join(f'{key(name)} = {value}' for name, value in values.items())} }}"


def fact(name: str, value: str, items: Sequence[str] = ()) -> list[str]:
    """A key with its value, on one line; where that is too wide and these are its list's items, each has a
    line of its own."""
    line = f"{key(name)} = {value}"
    if len(line) <= WIDE or len(items) < 2:
        return [line]
    return [f"{key(name)} = [", *(f"  {item}," for item in _filled(items)), "]"]


def _filled(items: Iterable[str]) -> list[str]:
    """Items on as few lines as hold them, short ones beside one another."""
    lines: list[str] = []
    for item in items:
        if lines and len(lines[-1]) + len(item) + 2 <= WIDE and not item.startswith(('"', "{")):
            lines[-1] += f", {item}"
        else:
            lines.append(item)
    return lines


def comment(text: str) -> list[str]:
    """Lines of a comment, filled; what a comment may not hold is written as a space.

    >>> comment("the back")
    ['# the back']
    """
    lines: list[str] = []
    for word in re.sub(r"[\x00-\x08\x0a-\x1f\x7f]", " ", text).split(" "):
        if lines and len(lines[-1]) + len(word) + 1 <= WIDE:
            lines[-1] += f" {word}"
        else:
            lines.append(f"# {word}" if not lines else f"#   {word}")
    return lines
