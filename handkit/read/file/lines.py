"""Lines: on which line of the project file each key and each value of a list is written.

In: the text of a TOML file that tomllib accepts, line ends "\\n". Out: a line for each path of
keys, counted from 1. tomllib itself keeps no lines.

Words: a *path* leads to a value from the file's top: ("piece", 0, "points", 2) is the third point
of the first [[piece]]. A table that is only mentioned on the way, such as `a` in [a.b], has the
line of its first mention.
"""

from __future__ import annotations

import tomllib
from collections.abc import Sequence

import msgspec

from handkit.read.file.tokens import BARE, END, NEWLINE, STRING, Token

KeyPath = tuple[str | int, ...]

_ENDS_OF_VALUE = frozenset({NEWLINE, END, ",", "]", "}"})


class _Walk(msgspec.Struct):
    """A walk along the tokens, and what it has noted so far."""

    tokens: Sequence[Token]
    index: int = 0
    lines: dict[KeyPath, int] = msgspec.field(default_factory=dict)
    last_of: dict[KeyPath, int] = msgspec.field(default_factory=dict)  # arrays of tables: the index reached

    @property
    def here(self) -> Token:
        return self.tokens[self.index]

    def take(self) -> Token:
        token = self.here
        if token.kind != END:
            self.index += 1
        return token

    def skip(self, *kinds: str) -> None:
        while self.here.kind in kinds:
            self.index += 1


def key_lines(cut: Sequence[Token]) -> dict[KeyPath, int]:
    """The line of every key path and list place of a valid TOML text, which is given by its tokens.

    >>> from handkit.read.file.tokens import tokens
    >>> lines = key_lines([*tokens('unit = "mm"\\n[[piece]]\\npoints = [\\n  [0, 0],\\n  [9, 0]]')])
    >>> lines["piece", 0], lines["piece", 0, "points"], lines["piece", 0, "points", 1]
    (2, 3, 5)
    """
    walk = _Walk(cut)
    table: KeyPath = ()
    while walk.here.kind != END:
        if walk.here.kind == "[":
            table = _header(walk)
        elif walk.here.kind in (BARE, STRING):
            _key_and_value(walk, table)
        else:
            walk.take()
    return walk.lines


def _header(walk: _Walk) -> KeyPath:
    """Note [a.b] or [[a.b]]; the path of the table whose keys follow."""
    line = walk.take().line
    is_list = walk.here.kind == "["
    walk.skip("[")
    *ways, last = _key(walk)
    walk.skip("]")
    path: KeyPath = ()
    for part in ways:
        path = (*path, part)
        walk.lines.setdefault(path, line)
        if path in walk.last_of:
            path = (*path, walk.last_of[path])
    path = (*path, last)
    walk.lines.setdefault(path, line)
    if is_list:
        walk.last_of[path] = walk.last_of.get(path, -1) + 1
        path = (*path, walk.last_of[path])
        walk.lines[path] = line
    return path


def _key(walk: _Walk) -> list[str]:
    """A key's parts, dots between them."""
    parts = [_unquoted(walk.take())]
    while walk.here.kind == ".":
        walk.take()
        parts.append(_unquoted(walk.take()))
    return parts


def _unquoted(token: Token) -> str:
    """A key's part without its quotes; escapes are left to tomllib, so that both agree."""
    if token.kind != STRING:
        return token.text
    if "\\" in token.text:
        return str(tomllib.loads(f"key = {token.text}")["key"])
    return token.text[1:-1]


def _key_and_value(walk: _Walk, table: KeyPath) -> None:
    """Note `a.b = value` in a table, and whatever stands inside the value."""
    line = walk.here.line
    path = table
    for part in _key(walk):
        path = (*path, part)
        walk.lines.setdefault(path, line)
    walk.skip("=")
    _value(walk, path)


def _value(walk: _Walk, path: KeyPath) -> None:
    """Note what stands inside a value, and stop behind it."""
    if walk.here.kind == "[":
        _list(walk, path)
    elif walk.here.kind == "{":
        _inline_table(walk, path)
    else:
        walk.take()
        while walk.here.kind not in _ENDS_OF_VALUE:  # a float or a date is several tokens
            walk.take()


def _list(walk: _Walk, path: KeyPath) -> None:
    walk.take()
    walk.skip(NEWLINE)
    count = 0
    while walk.here.kind not in ("]", END):
        place = (*path, count)
        walk.lines[place] = walk.here.line
        _value(walk, place)
        walk.skip(NEWLINE, ",")
        count += 1
    walk.take()


def _inline_table(walk: _Walk, path: KeyPath) -> None:
    walk.take()
    walk.skip(NEWLINE)
    while walk.here.kind not in ("}", END):
        _key_and_value(walk, path)
        walk.skip(NEWLINE, ",")
    walk.take()
