"""Places: where in the project file the value of each key and of each list is written.

In: the text of a TOML file that tomllib accepts, line ends "\\n". Out: a place for each path of
keys: of a table's header, or of the value. tomllib itself keeps none.

Words: a *path* leads to a value from the file's top: ("piece", 0, "points", 2) is the third point
of the first [[piece]]. A table that is only mentioned on the way, such as `a` in [a.b], has the
line of its first mention.
"""

from __future__ import annotations

import tomllib
from collections.abc import Sequence

import msgspec

from handkit.findings import TextPlace
from handkit.read.file.tokens import BARE, END, NEWLINE, STRING, Token

KeyPath = tuple[str | int, ...]

# Behind a path: the place of its key, not of the value behind it. No entry of a list has that number.
KEY = -1

_ENDS_OF_VALUE = frozenset({NEWLINE, END, ",", "]", "}"})


class _Walk(msgspec.Struct):
    """A walk along the tokens, and what it has noted so far."""

    tokens: Sequence[Token]
    index: int = 0
    places: dict[KeyPath, TextPlace] = msgspec.field(default_factory=dict)
    last_of: dict[KeyPath, int] = msgspec.field(default_factory=dict)  # arrays of tables: the index reached

    @property
    def here(self) -> Token:
        return self.tokens[self.index]

    def take(self) -> Token:
        token = self.here
        if token.kind != END:
            self.index += 1
        return token

    def since(self, begun: int) -> TextPlace:
        """Where the tokens since then stand, as far as their first line goes."""
        first = last = self.tokens[begun]
        for index in range(begun + 1, self.index):
            token = self.tokens[index]
            if token.kind == NEWLINE or token.line != first.line:
                break
            last = token
        shown = last.text.partition("\n")[0]
        return TextPlace(first.line, first.column, last.column - first.column + len(shown))

    def skip(self, *kinds: str) -> None:
        while self.here.kind in kinds:
            self.index += 1


def key_places(cut: Sequence[Token]) -> dict[KeyPath, TextPlace]:
    """The place of every key path and list place of a valid TOML text, which is given by its tokens.

    >>> from handkit.read.file.tokens import tokens
    >>> places = key_places([*tokens('unit = "mm"\\n[[piece]]\\npoints = [\\n  [0, 0],\\n  [9, 0]]')])
    >>> places["piece", 0], places["piece", 0, "points", 1]
    (TextPlace(line=2, column=1, width=9), TextPlace(line=5, column=3, width=6))
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
    return walk.places


def _header(walk: _Walk) -> KeyPath:
    """Note [a.b] or [[a.b]]; the path of the table whose keys follow."""
    begun = walk.index
    walk.take()
    is_list = walk.here.kind == "["
    walk.skip("[")
    *ways, last = _key(walk)
    walk.skip("]")
    place = walk.since(begun)
    path: KeyPath = ()
    for part in ways:
        path = (*path, part)
        walk.places.setdefault(path, place)
        if path in walk.last_of:
            path = (*path, walk.last_of[path])
    path = (*path, last)
    walk.places.setdefault(path, place)
    if is_list:
        walk.last_of[path] = walk.last_of.get(path, -1) + 1
        path = (*path, walk.last_of[path])
        walk.places[path] = place
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
    begun = walk.index
    path = table
    parts = _key(walk)
    place = walk.since(begun)
    for part in parts:
        path = (*path, part)
        walk.places.setdefault(path, place)
    walk.places[*path, KEY] = place
    walk.skip("=")
    _value(walk, path)


def _value(walk: _Walk, path: KeyPath) -> None:
    """Note a value and what stands inside it, and stop behind it."""
    begun = walk.index
    if walk.here.kind == "[":
        _list(walk, path)
    elif walk.here.kind == "{":
        _inline_table(walk, path)
    else:
        walk.take()
        while walk.here.kind not in _ENDS_OF_VALUE:  # a float or a date is several tokens
            walk.take()
    walk.places[path] = walk.since(begun)


def _list(walk: _Walk, path: KeyPath) -> None:
    walk.take()
    walk.skip(NEWLINE)
    count = 0
    while walk.here.kind not in ("]", END):
        place = (*path, count)
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
