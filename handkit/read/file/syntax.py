"""Syntax: what a maker most likely meant by a text that is no TOML.

In: tomllib's message and the text. Out: the line and the fault. Only the usual slips are known: a
decimal comma, text or a length without quotes, curly quotes, a bracket or a quote never closed.
"""

from __future__ import annotations

import re

from handkit.quoting import quoted
from handkit.read.file.tokens import NEWLINE, Token, tokens
from handkit.read.values.spot import Fault

_PLACE = re.compile(r"\s*\(at (?:line (\d+), column (\d+)|end of document)\)$")
_COMMA_NUMBER = re.compile(r"=\s*(-?\d+),(\d+)\s*(?:#.*)?$")
_BARE_TEXT = re.compile(r"=\s*([^\W\d](?:[\w ]*\w)?)\s*(?:#.*)?$")
_LENGTH = re.compile(r"=\s*(\d[\d /.]*\s?(?:mm|cm|in|oz|/\d+))\s*(?:#.*)?$")
_LONGEST_LINE = 200  # beyond which no maker's slip is looked for
_PAIRS = {"[": "]", "{": "}"}


def syntax_fault(message: str, text: str) -> tuple[int, Fault]:
    """The line of a syntax error and what to tell of it.

    >>> line, fault = syntax_fault("Invalid value (at line 2, column 8)", "format = 1\\nname = tab")
    >>> line, fault.found, fault.remedy
    (2, 'no valid TOML at column 8 (invalid value)', 'put text in quotes: "tab"')
    """
    place, said = _PLACE.search(message), _PLACE.sub("", message)
    lines = text.split("\n")
    if place is None or place[1] is None:
        number, where = len(text.rstrip().split("\n")), "at the end of the file"
    else:
        number, where = int(place[1]), f"at column {place[2]}"
    found = f"no valid TOML {where} ({said[:1].lower()}{said[1:]})"
    remedy = _unclosed(said, text, number) or _slip(said, lines[number - 1] if number <= len(lines) else "")
    return number, Fault("toml-syntax", found, remedy=remedy or "mend this line; nothing else was read")


def _unclosed(said: str, text: str, number: int) -> str:
    """Where the bracket or quote opens that is missing its other half, "" where that's not the fault."""
    if said.startswith("Unterminated string"):
        *_, last = tokens(text)  # which stand before the quote that nothing closes
        return f"close the text that begins in line {last.line}"
    opened = _open_behind(text, number)
    if (
        opened
        and opened[-1].kind == "{"
        and said.startswith(("Unclosed inline", "Invalid initial character"))
    ):
        return f"write the {{ … }} that begins in line {opened[-1].line} in one line"
    if opened and said.startswith("Unclosed"):
        return f"close the {opened[-1].text} of line {opened[-1].line}"
    return ""


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


def _slip(said: str, line: str) -> str:
    if said.startswith(("Cannot overwrite", "Cannot declare", "Duplicate")):
        return "it is written twice; take one of them out"
    line = line[:_LONGEST_LINE]
    if comma := _COMMA_NUMBER.search(line):
        return f"write {comma[1]}.{comma[2]} with a point"
    if any(quote in line for quote in "“”„‘’«»"):
        return 'use straight quotes, "'
    if text := _BARE_TEXT.search(line):
        return f"put text in quotes: {quoted(text[1])}"
    if length := _LENGTH.search(line):
        return f"put a length with a unit in quotes: {quoted(length[1])}"
    return ""
