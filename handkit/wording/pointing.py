"""Pointing: a line of a file as it is shown to whoever wrote it, with a mark under what is meant.

In: the line, its number, the first column of what is meant and how many characters that takes. Out: two
lines for a terminal; nothing in them acts on it.

Words: a *cell* is the room of one narrow letter on a terminal; letters of East Asia take two, those that are
put over another take none.
"""

from __future__ import annotations

import unicodedata

from handkit.wording.quoting import escaped

_MARK = "^"
_CUT = "…"
_INDENT = 4
# Of a long line so much stands before what is meant, in cells.
_BEFORE = 24


def pointed(line: str, number: int, column: int, width: int, *, cells: int) -> list[str]:
    """The line behind its number, and marks under `width` of its characters from `column`, which counts from
    1; no marks where that is 0. What is longer than `cells` is cut on both sides.

    >>> print(*pointed("round = 80", 9, 9, 2, cells=60), sep="\\n")
        9 | round = 80
          |         ^^
    >>> print(*pointed("points = [" + "[0, 0], " * 30 + "[9, 0]]", 9, 251, 6, cells=44), sep="\\n")
        9 | …0, 0], [0, 0], [0, 0], [9, 0]]
          |                         ^^^^^^
    """
    shown = line.replace("\t", " ").rstrip()
    first = max(0, column - 1)
    before, meant = _cut_in_front(escaped(shown[:first])), escaped(shown[first : first + width])
    after = escaped(shown[first + width :])
    head = f"{'':{_INDENT}}{number} | "
    room = max(_BEFORE, cells - len(head))
    if column == 0:
        return [f"{head}{_cut(after, room)}"]
    text = _cut(before + meant + after, room)
    marks = _MARK * max(1, min(in_cells(meant), room - in_cells(before)))
    return [f"{head}{text}", f"{'':{len(head) - 2}}| {'':{in_cells(before)}}{marks}"]


def in_cells(text: str) -> int:
    """How many cells a text takes.

    >>> in_cells("ab"), in_cells("皮"), in_cells("e\\u0301")
    (2, 2, 1)
    """
    return sum(_cells(letter) for letter in text)


def _cells(letter: str) -> int:
    if unicodedata.combining(letter):
        return 0
    return 2 if unicodedata.east_asian_width(letter) in "WF" else 1


def _cut(text: str, cells: int) -> str:
    """As much of a text as there is room for."""
    if in_cells(text) <= cells:
        return text
    taken = 0
    for index, letter in enumerate(text):
        taken += _cells(letter)
        if taken >= cells:
            return text[:index] + _CUT
    return text


def _cut_in_front(text: str) -> str:
    """The end of a text that leaves room for what follows it."""
    left, index = _BEFORE, len(text)
    while index and left >= _cells(text[index - 1]):
        left -= _cells(text[index - 1])
        index -= 1
    return _CUT + text[index + 1 :] if index else text
