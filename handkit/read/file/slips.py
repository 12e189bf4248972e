"""Slips: what beginners write that is no TOML, and the line as it was meant.

In: a line that can't be read. Out: the slip's message, where in the line it is, and the line mended. What is
proposed is read first: only what can be read is proposed.

Words: a *slip* is one thing that people write otherwise than TOML wants it (`slip_rows.py`); a *mask* is the
line with what stands in quotes blotted out, character for character, and without its comment.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator

import msgspec

from handkit.read.file.slip_rows import AFTER, BEFORE, FRACTION, NUMBER, SLIPS, Slip, quoted_length

LONGEST_LINE = 300  # beyond which no maker's slip is looked for
_BLOT = "\x01"
_STRING = re.compile(r"\"(?:\\.|[^\"\\])*\"|'[^']*'")
_QUOTES = str.maketrans("“”„«»‘’″", '"""""\'\'"')


class Mended(msgspec.Struct, frozen=True):
    """A line as it was meant: the message's key, what was found, at which column from 1, and all of
    the line, without its comment."""

    key: str
    found: str
    column: int
    line: str


def mask_of(line: str) -> str:
    """The mask of a line.

    >>> mask_of('a = "b" # c').replace(chr(1), "*")
    'a = ***'
    """
    blotted = _STRING.sub(lambda match: _BLOT * len(match[0]), line)
    return blotted.partition("#")[0].rstrip()


def mended(line: str, *, in_list: bool = False) -> Mended | None:
    """The line as it was most likely meant; None where it can be read as it is, or nothing known makes it
    readable. `in_list` where the line stands inside a list that begins above it.

    >>> mended('rectangle = [60 mm, 40 mm]').line
    'rectangle = ["60 mm", "40 mm"]'
    >>> mended('name = "tab').line, mended('size = [2 1/4", 5]').line
    ('name = "tab"', 'size = ["2 1/4 in", 5]')
    """
    if len(line) > LONGEST_LINE or reads(line, in_list):
        return None
    for steps in (_one_by_one(line), _together(line)):
        for found in steps:
            if reads(found.line, in_list):
                return msgspec.structs.replace(found, line=found.line.strip())
    return None


def reads(line: str, in_list: bool = False) -> bool:
    """Whether a line can be read, by itself or inside a list."""
    for text in (f"k = [\n{line}\n]", f"k = [\n{line}") if in_list else (line,):
        try:
            tomllib.loads(text)
        except (ValueError, RecursionError):
            continue
        return True
    return False


def _one_by_one(line: str) -> Iterator[Mended]:
    """The line with each slip mended by itself."""
    yield from _quotes(line)
    for slip in SLIPS:
        yield from _applied(slip, line)
    yield from _unclosed(line)


def _together(line: str) -> Iterator[Mended]:
    """The line with all slips mended; told is the first of them."""
    first: Mended | None = None
    for each in [*_quotes(line)][:1]:
        first, line = each, each.line
    for slip in SLIPS:
        for each in _applied(slip, line):
            first, line = first or each, each.line
            yield msgspec.structs.replace(first, line=line)


def _applied(slip: Slip, line: str) -> Iterator[Mended]:
    """The line with a slip mended wherever it is, if it is in it."""
    mask, at, bits, found = mask_of(line), 0, [], None
    for match in re.finditer(slip.pattern, mask):
        kept = match.end("keep") if "keep" in match.re.groupindex else match.start()
        text = line[kept : match.end()]
        found = found or (text, kept)
        bits += [line[at:kept], slip.meant(text)]
        at = match.end()
    if found:
        blanks = len(found[0]) - len(found[0].lstrip())
        text = "".join([*bits, line[at : len(mask)]])
        yield Mended(slip.key, found[0].strip() or found[0], found[1] + blanks + 1, text)


def _quotes(line: str) -> Iterator[Mended]:
    """Quotes that are none, and an inch mark behind a number that has none."""
    mask = mask_of(line)
    for index, letter in enumerate(mask):
        if letter in "“”„«»‘’":
            yield Mended("toml-syntax/quotes", letter, index + 1, line.translate(_QUOTES))
            break
    inch = rf"{BEFORE}((?:{FRACTION}|{NUMBER})\s*(?:\"|''|″|”)){AFTER}"
    if match := re.search(inch, line):
        text = re.sub(inch, lambda each: each["keep"] + quoted_length(each[2].translate(_QUOTES)), line)
        yield Mended("toml-syntax/length", match[2], match.start(2) + 1, text)
    feet = rf"{BEFORE}((?:{FRACTION}|{NUMBER})\s*['′’]){AFTER}"
    if match := re.search(feet, line):
        text = re.sub(feet, lambda each: each["keep"] + quoted_length(f"{each[2][:-1]}'"), line)
        yield Mended("toml-syntax/length", match[2], match.start(2) + 1, text)


def _unclosed(line: str) -> Iterator[Mended]:
    """A quote that lacks its other half: it is put where the line can be read with it."""
    code = line.partition(" #")[0].rstrip()
    if '"' in code and "'" in code:
        yield Mended("toml-syntax/unlike-quotes", "'", code.index("'") + 1, code.replace("'", '"'))
    if inner := re.fullmatch(r"""(.*?=\s*)"([^"].*[^"])"\s*""", code):
        text = inner[2].replace('"', "'")
        yield Mended("toml-syntax/inner-quotes", inner[2], inner.start(2), f'{inner[1]}"{text}"')
    ends = [match.start() for match in re.finditer(r"\s*(?:[,\]}]|$)", code)]
    for end in ends:
        begun = max(code.rfind(quote, 0, end) for quote in "\"'")
        if begun >= 0:
            text = f"{code[:end]}{code[begun]}{code[end:]}"
            yield Mended("toml-syntax/unclosed-text", code[begun:end], begun + 1, text)
    for start in (match.end() for match in re.finditer(r"[=\[,]\s*", code)):
        ended = code.find('"', start)
        if ended >= 0:
            text = f'{code[:start]}"{code[start:]}'
            yield Mended("toml-syntax/unopened-text", code[start : ended + 1], start + 1, text)
