"""Operations of a content stream, read by regular expressions where all of it is plain.

In: the bytes of a content stream. Out: its operations, operands first (ISO 32000-1, 7.8.2); or None
where a token is not plain, so that a general reader decides what it means or whether it is broken.

Plain are the tokens that can be read in one way only: numbers of up to 16 digits before and after
the point, names without `#`, texts in brackets without brackets inside and with the escapes of
ISO 32000-1, Table 3, texts in hexadecimal digits, arrays, dictionaries without doubles, and the
operators of its Annex A; white space or a delimiter after each. Comments and inline images are not.
Kits have nothing else, and a general reader takes several times as long.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

# Operands and operator, as they stand in the content. Numbers are floats; a name begins with "/".
Operation = tuple[list[Any], str]

# What a larger stream holds is counted by the general reader, which has limits of its own. A picture of two
# pieces with 2,000 corners each takes 2 MB.
MOST_BYTES = 4_000_000
MOST_ENTRIES = 1_000
MOST_DEPTH = 4

_ANNEX_A = (
    "b B b* B* BDC BMC BT BX c cm CS cs d d0 d1 Do DP EMC ET EX f F f* G g gs h i J j K k l M m MP n q Q "
    "re RG rg ri s S SC sc SCN scn sh T* Tc Td TD Tf Tj TJ TL Tm Tr Ts Tw Tz v w W W* y ' \""
)
OPERATORS = frozenset(_ANNEX_A.split())

_SPACE = r"[\t\n\f\r ]"
_DELIMITED = r"(?=[\t\n\f\r ()<>\[\]/]|\Z)"
_NUMBER = r"[+-]?(?:[0-9]{1,16}(?:\.[0-9]{0,16})?|\.[0-9]{1,16})"
_OPERATOR = r"[A-Za-z'\"][A-Za-z0-9]{0,2}\*?"

# Numbers and the operator behind them: nearly all of a drawing. No operator takes more; without a
# bound a row of numbers that no operator ends would be gone through again and again.
MOST_NUMBERS = 8
_DRAWING = re.compile(rf"{_SPACE}*+((?:{_NUMBER}{_SPACE}++){{0,{MOST_NUMBERS}}}+)({_OPERATOR}){_DELIMITED}")

_TOKEN = re.compile(
    rf"""{_SPACE}*+(?:
        (?P<number>{_NUMBER}){_DELIMITED}
      | (?P<name>/[A-Za-z0-9_.+*-]{{1,100}}){_DELIMITED}
      | \((?P<text>(?:[^\\()]++|\\(?:[nrtbf()\\]|[0-3][0-7]{{2}}|[0-7]{{1,2}}(?![0-7])))*+)\)
      | <(?P<hex>[0-9A-Fa-f]*+)>
      | (?P<array>\[)
      | (?P<dictionary><<)
      | (?P<end>\]|>>)
    )""",
    re.VERBOSE,
)

_ESCAPE = re.compile(rb"\\([nrtbf()\\]|[0-7]{1,3})")
_ESCAPES = {b"n": b"\n", b"r": b"\r", b"t": b"\t", b"b": b"\b", b"f": b"\f"}


class _NotPlainError(Exception):
    """The stream has a token that is left to the general reader."""


def plain_operations(data: bytes, as_text: Callable[[bytes], Any]) -> list[Operation] | None:
    """All operations in order; None where any token is not plain. `as_text` decodes a text's bytes.

    >>> plain_operations(b"q 1 0 m -.5 4. l S", bytes.decode)
    [([], 'q'), ([1.0, 0.0], 'm'), ([-0.5, 4.0], 'l'), ([], 'S')]
    >>> plain_operations(b"/hkHole <</Piece (a \\\\(b\\\\))/Join [1 2]>> BDC", bytes.decode)
    [(['/hkHole', {'/Piece': 'a (b)', '/Join': [1.0, 2.0]}], 'BDC')]
    >>> plain_operations(b"1 2 m % a comment", bytes.decode)
    """
    if len(data) > MOST_BYTES:
        return None
    text = data.decode("latin-1").rstrip("\t\n\f\r ")
    found: list[Operation] = []
    operands: list[Any] = []
    reader = _Reader(text, as_text)
    try:
        while reader.at < len(text):
            drawing = _DRAWING.match(text, reader.at)
            if drawing is None:
                operands.append(reader.value())
                continue
            numbers, operator = drawing.groups()
            if operator not in OPERATORS:
                return None
            operands += map(float, numbers.split())
            found.append((operands, operator))
            operands = []
            reader.at = drawing.end()
    except _NotPlainError:
        return None
    return None if operands else found


class _Reader:
    """Reads one operand after another from a text, and knows where it is."""

    def __init__(self, text: str, as_text: Callable[[bytes], Any]) -> None:
        self.text = text
        self.as_text = as_text
        self.at = 0

    def value(self, depth: int = 0) -> Any:
        """The next operand. Raises _NotPlainError."""
        kind, token = self._token()
        if kind == "number":
            return float(token)
        if kind == "name":
            return token
        if kind == "text":
            return self._decoded(token)
        if kind == "hex":
            return self.as_text(bytes.fromhex(token + "0" * (len(token) % 2)))
        if kind == "end" or depth == MOST_DEPTH:
            raise _NotPlainError
        return self._array(depth) if kind == "array" else self._dictionary(depth)

    def _token(self) -> tuple[str | None, str]:
        token = _TOKEN.match(self.text, self.at)
        if token is None or token.lastgroup is None:
            raise _NotPlainError
        self.at = token.end()
        return token.lastgroup, token[token.lastgroup]

    def _ends(self, bracket: str) -> bool:
        """Whether this closing bracket is what comes next, which is then read."""
        token = _TOKEN.match(self.text, self.at)
        if token is None or token["end"] != bracket:
            return False
        self.at = token.end()
        return True

    def _array(self, depth: int) -> list[Any]:
        values: list[Any] = []
        while not self._ends("]"):
            values.append(self.value(depth + 1))
            if len(values) > MOST_ENTRIES:
                raise _NotPlainError
        return values

    def _dictionary(self, depth: int) -> dict[str, Any]:
        values: dict[str, Any] = {}
        while not self._ends(">>"):
            kind, key = self._token()
            if kind != "name" or key in values or len(values) == MOST_ENTRIES:
                raise _NotPlainError
            values[key] = self.value(depth + 1)
        return values

    def _decoded(self, token: str) -> Any:
        if token.isascii() and token.isprintable() and "\\" not in token:
            return token
        raw = token.encode("latin-1")
        return self.as_text(_ESCAPE.sub(_unescaped, raw) if b"\\" in raw else raw)


def _unescaped(escape: re.Match[bytes]) -> bytes:
    """The byte an escape stands for."""
    code = escape[1]
    return bytes([int(code, 8)]) if code.isdigit() else _ESCAPES.get(code, code)
