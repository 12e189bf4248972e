"""Syntax: what a maker most likely meant by a text that is no TOML.

In: tomllib's message and the text. Out: the finding. Only the usual slips are known: a
decimal comma, text or a length without quotes, curly quotes, a bracket or a quote never closed.
"""

from __future__ import annotations

import re

from handkit.findings import Finding, Where, finding
from handkit.read.file.tokens import NEWLINE, Token, tokens

_PLACE = r"\s*\(at (?:line (\d+), column (\d+)|end of document)\)$"
_COMMA_NUMBER = r"=\s*(-?\d+),(\d+)\s*(?:#.*)?$"
_BARE_TEXT = r"=\s*([^\W\d](?:[\w ]*\w)?)\s*(?:#.*)?$"
_LENGTH = r"=\s*(\d[\d /.]*\s?(?:mm|cm|in|oz|/\d+))\s*(?:#.*)?$"
_LONGEST_LINE = 200  # beyond which no maker's slip is looked for
_PAIRS = {"[": "]", "{": "}"}

_Message = tuple[str, dict[str, object]]  # its key and values


def syntax_fault(message: str, text: str, *, file: str) -> Finding:
    """The finding about a syntax error, with the slip that most likely caused it.

    >>> fault = syntax_fault("Invalid value (at line 2, column 8)", "format = 1\\nname = tab", file="p")
    >>> fault.where.line, fault.found, fault.remedy
    (2, 'no valid TOML at column 8 (invalid value)', 'put text in quotes: "tab"')
    """
    place, reason = re.search(_PLACE, message), re.sub(_PLACE, "", message)
    lines = text.split("\n")
    if place is None or place[1] is None:
        number, column, where = len(text.rstrip().split("\n")), 0, "at the end of the file"
    else:
        number, column, where = int(place[1]), int(place[2]), f"at column {place[2]}"
    line = lines[number - 1] if number <= len(lines) else ""
    key, values = _unclosed(reason, text, number) or _slip(reason, line[:_LONGEST_LINE])
    values |= {"place": where, "reason": reason[:1].lower() + reason[1:]}
    return finding(key, Where(file, number, column=column, width=min(1, column)), **values)


def _unclosed(reason: str, text: str, number: int) -> _Message | None:
    """The bracket or quote that is missing its other half, None where that's not the fault."""
    if reason.startswith("Unterminated string"):
        *_, last = tokens(text)  # which stand before the quote that nothing closes
        return "toml-syntax/unclosed-text", {"line": last.line}
    opened = _open_behind(text, number)
    if not opened:
        return None
    values: dict[str, object] = {"bracket": opened[-1].text, "line": opened[-1].line}
    if opened[-1].kind == "{" and reason.startswith(("Unclosed inline", "Invalid initial character")):
        return "toml-syntax/inline-table", values
    return ("toml-syntax/bracket", values) if reason.startswith("Unclosed") else None


def _open_behind(text: str, number: int) -> list[Token]:
    """The brackets and braces that are still open at the end of a line."""
    opened: list[Token] = []
    for token in tokens(text):
        if token.line > number or (token.line == number and token.kind == NEWLINE):
            break
        if token.kind in _PAIRS:
            opened.append(token)
        elif opened and token.kind == _PAIRS[opened[-1].kind]:
            opened.pop()
    return opened


def _slip(reason: str, line: str) -> _Message:
    """What most likely slipped into a line."""
    if reason.startswith(("Cannot overwrite", "Cannot declare", "Duplicate")):
        return "toml-syntax/twice", {}
    if comma := re.search(_COMMA_NUMBER, line):
        return "toml-syntax/comma", {"meant": f"{comma[1]}.{comma[2]}"}
    if any(quote in line for quote in "“”„‘’«»"):
        return "toml-syntax/quotes", {}
    if text := re.search(_BARE_TEXT, line):
        return "toml-syntax/text", {"meant": text[1]}
    if length := re.search(_LENGTH, line):
        return "toml-syntax/length", {"meant": length[1]}
    return "toml-syntax", {}
