"""Tokens: the project file cut into the smallest bits that TOML has, each with its line.

In: text whose line ends are "\\n". Out: tokens in order, from a text that may be faulty: the
first place that can be no token ends them, and tomllib, which reads the same text, stops there
too. Nothing is judged here.

Words: a *bare* token is an unquoted word, number or part of one (a float is bare, dot, bare).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

import msgspec

BARE = "bare"
STRING = "string"
NEWLINE = "newline"
END = "end"  # of the text

# A string that begins with three quotes is never an empty one followed by a quote, so a text that
# is never closed matches nothing, and the cutting stops instead of starting anew at every quote.
_TOKEN = re.compile(
    r"""[ \t]*+(?:\#[^\n]*+)?+(?:
        (?P<newline>\n)
      | (?P<string>\"\"\"(?:\\.|[^\\])*?\"\"\"\"{0,2}
                 | '''.*?''''{0,2}
                 | \"(?!\"\")(?:\\.|[^\"\\\n])*\"
                 | '(?!'')[^'\n]*')
      | (?P<mark>[\[\]{}=,.])
      | (?P<bare>[^\s\[\]{}=,.\"'\#]+)
    )""",
    re.VERBOSE | re.DOTALL,
)


class Token(msgspec.Struct, frozen=True):
    """A bit of the file. `kind` of a punctuation mark is the mark itself; `line`, `column` from 1."""

    kind: str
    text: str
    line: int
    offset: int  # of the token's first character in the text
    column: int


def tokens(text: str) -> Iterator[Token]:
    """The tokens of a text, comments and blanks left out, an END token last.

    >>> [token.text for token in tokens('a.b = [1,  # one')]
    ['a', '.', 'b', '=', '[', '1', ',', '']
    >>> [(token.kind, token.line) for token in tokens("x")]
    [('bare', 1), ('end', 1)]
    """
    offset, line, begun = 0, 1, 0  # where the line begins
    while match := _TOKEN.match(text, offset):
        group = match.lastgroup or BARE
        found = match[group]
        kind = found if group == "mark" else group
        start = match.start(group)
        yield Token(kind, found, line, start, start - begun + 1)
        offset = match.end()
        if "\n" in found:
            line += found.count("\n")
            begun = start + found.rindex("\n") + 1
    yield Token(END, "", line, offset, offset - begun + 1)
