"""Quoting: a value of the project file as a finding shows it, short and on one line, and text from elsewhere.

In: whatever tomllib made of a value; any text. Out: text for a terminal; characters that a terminal would
act on are written as escapes, and what is long is cut.
"""

from __future__ import annotations

import math
import unicodedata
from collections.abc import Collection, Iterable, Sequence

_LONGEST = 60

# What reorders the letters around it would make a text look like another.
_REORDERING = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")


def quoted(text: str) -> str:
    """Text in quotes, escaped and cut.

    >>> print(quoted('a "b"'), quoted("bell \\a"), len(quoted("x" * 999)))
    "a \\"b\\"" "bell \\x07" 63
    """
    return '"' + "".join(_letter(letter) for letter in cut(text)) + '"'


def cut(text: str) -> str:
    """Text that is not too long to be read.

    >>> cut("ab"), len(cut("x" * 999))
    ('ab', 61)
    """
    return text if len(text) <= _LONGEST else text[:_LONGEST] + "…"


def escaped(text: str) -> str:
    """Text from elsewhere (a path, a tag, a word of the system) on one line, without what a terminal acts on.

    >>> print(escaped("a\\x1b[2Jb\\nc\\u202e"), escaped('C:\\\\"é"'))
    a\\x1b[2Jb\\x0ac\\u202e C:\\"é"
    """
    if text.isprintable():
        return text
    return "".join(_code(letter) if is_unprintable(letter) else letter for letter in text)


def escaped_output(text: str) -> str:
    """The same for a whole output of many lines, which may be JSON: its escapes leave it what it says.

    >>> print(escaped_output('["\\x9b",\\n "\\u202e"]'))
    ["\\u009b",
     "\\u202e"]
    """
    if text.replace("\n", "").isprintable():
        return text
    return "".join(
        f"\\u{ord(letter):04x}" if letter != "\n" and is_unprintable(letter) else letter for letter in text
    )


def is_unprintable(letter: str) -> bool:
    """Whether a terminal acts on it, ends a line at it or can't show it. Spaces of any width are not."""
    return unicodedata.category(letter) in ("Cc", "Cs", "Zl", "Zp") or letter in _REORDERING


def shown(value: object) -> str:
    """Any value of a TOML file, as a maker would call it.

    >>> shown(True), shown(4.0), shown(float("inf")), shown([1, 2, 3]), shown("mm")
    ('true', '4.0', 'infinity', 'a list of 3', '"mm"')
    """
    match value:
        case bool():
            text = "true" if value else "false"
        case str():
            text = quoted(value)
        case int():
            digits = str(value)
            text = digits if len(digits) <= 20 else f"a number of {len(digits)} digits"
        case float():
            text = _number(value)
        case list():
            text = f"a list of {len(value)}" if value else "an empty list"
        case dict():
            text = "a table" if value else "an empty table"
        case _:
            text = "a date or time"
    return text


def words(values: Iterable[str], *, last: str = "or") -> str:
    """A list in words.

    >>> words(["even", "iron"]), words(["a"]), words(["a", "b", "c"], last="and")
    ('even or iron', 'a', 'a, b and c')
    """
    listed = list(values)
    if len(listed) < 2:
        return "".join(listed)
    return f"{', '.join(listed[:-1])} {last} {listed[-1]}"


def in_lines(numbers: Collection[int]) -> str:
    """Lines of a file by their numbers.

    >>> in_lines([7]), in_lines([3, 5, 9])
    ('line 7', 'lines 3, 5 and 9')
    """
    return f"{'line' if len(numbers) == 1 else 'lines'} {words(map(str, numbers), last='and')}"


def few(names: Sequence[str]) -> Sequence[str]:
    """At most three names of a list that stands in full elsewhere.

    >>> few(["rim", "hem"]), few(["rim", "hem", "foot", "side"])
    (['rim', 'hem'], ['rim', 'hem', '2 more'])
    """
    return names if len(names) <= 3 else [*names[:2], f"{len(names) - 2} more"]


def _number(value: float) -> str:
    if math.isnan(value):
        return "nan, which is no number"
    if math.isinf(value):
        return "infinity" if value > 0 else "minus infinity"
    return str(value) if value.is_integer() and abs(value) < 1e9 else f"{value:.10g}"


def _letter(letter: str) -> str:
    if letter in '"\\':
        return "\\" + letter
    return _code(letter)


def _code(letter: str) -> str:
    """The letter, or the number of one that is not to be seen."""
    if letter.isprintable():
        return letter
    code = ord(letter)
    return f"\\x{code:02x}" if code < 0x100 else f"\\u{code:04x}" if code < 0x10000 else f"\\U{code:08x}"
