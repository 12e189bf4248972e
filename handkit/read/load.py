"""Load: the project file from the disk to plain values, with all that a file can do wrong on the way.

In: a path, or a text. Out: tomllib's values, and the line of every key. What is no TOML text of
sensible size is refused before tomllib sees it: tomllib ends in a RecursionError on deep nesting,
in a ValueError on a number of many thousand digits, and takes hours over a key of many thousand dots.
"""

from __future__ import annotations

import os
import pathlib
import re
import stat
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass

from handkit.errors import FileError, ProjectError
from handkit.findings import Where, error
from handkit.read.lines import KeyPath, key_lines
from handkit.read.shown import quoted
from handkit.read.tokens import BARE, STRING, Token, tokens

MOST_BYTES = 1 << 20
MOST_NESTED = 16  # lists and tables in one another; the deepest that the format needs is 5
MOST_DOTTED = 16  # parts of one dotted key
MOST_DIGITS = 64  # characters of one number

_BYTE_ORDER_MARK = "\ufeff"
_PLACE = re.compile(r"\s*\(at (?:line (\d+), column (\d+)|end of document)\)$")
_COMMA_NUMBER = re.compile(r"=\s*(-?\d+),(\d+)\s*(?:#.*)?$")
_BARE_TEXT = re.compile(r"=\s*([^\W\d][\w ]*?)\s*(?:#.*)?$")
_FRACTION = re.compile(r"=\s*(\d[\d /.]*(?:mm|cm|in|oz)?)\s*(?:#.*)?$")


@dataclass(frozen=True, slots=True)
class Loaded:
    """A file's values as tomllib has them, and the line of each key path."""

    values: dict[str, object]
    lines: Mapping[KeyPath, int]


def file_text(path: pathlib.Path, *, file: str) -> str:
    """The text of a project file; never more of it is read than may be used.

    Raises FileError where the file can't be opened, ProjectError where it is too big or not UTF-8.
    """
    try:
        status = path.stat()
        if not stat.S_ISREG(status.st_mode):
            what = "a folder" if stat.S_ISDIR(status.st_mode) else "no ordinary file"
            raise FileError(f"{file}: is {what}; name the project file, such as pouch.toml")
        _refuse_size(status.st_size, file=file)
        with path.open("rb") as stream:
            data = stream.read(MOST_BYTES + 1)
    except FileNotFoundError:
        raise FileError(f"{file}: there is no such file") from None
    except (OSError, ValueError) as reason:  # ValueError: a null character in the path
        told = os.strerror(reason.errno) if isinstance(reason, OSError) and reason.errno else str(reason)
        raise FileError(f"{file}: can't be read: {told}") from None
    _refuse_size(len(data), file=file)
    return decoded(data, file=file)


def decoded(data: bytes, *, file: str) -> str:
    """Bytes as UTF-8 text. Raises ProjectError with the line of the first byte that is not."""
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as fault:
        byte, line = data[fault.start], data.count(b"\n", 0, fault.start) + 1
        found = f"byte 0x{byte:02x} at offset {fault.start}"
        if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
            found += ", the mark of UTF-16"
        raise _one_fault(
            "not-utf8", Where(file, line), found, "UTF-8 text", "save the file as UTF-8 in the editor"
        ) from None


def loaded(text: str, *, file: str) -> Loaded:
    """The values and lines of a project's text. Raises ProjectError with the one thing that is wrong."""
    _refuse_size(len(text), file=file)
    _refuse_surrogates(text, file=file)
    text = text.removeprefix(_BYTE_ORDER_MARK).replace("\r\n", "\n")
    _refuse_traps(text, file=file)
    try:
        values = tomllib.loads(text)
    except ValueError as fault:  # TOMLDecodeError is one
        raise _syntax(str(fault), text, file=file) from None
    if not values:
        raise _one_fault(
            "empty-file", Where(file), "no key at all", "a project", "begin with format = 1 and a [[piece]]"
        )
    return Loaded(values, key_lines(text))


def _refuse_size(size: int, *, file: str) -> None:
    if size > MOST_BYTES:
        raise _one_fault(
            "file-too-big",
            Where(file),
            f"more than {MOST_BYTES} bytes",
            f"at most {MOST_BYTES} bytes",
            "check that this is the project file",
        )


def _refuse_surrogates(text: str, *, file: str) -> None:
    """Half characters can only come from a caller: no UTF-8 file holds them."""
    try:
        text.encode()
    except UnicodeEncodeError as fault:
        line = text.count("\n", 0, fault.start) + 1
        found = f"half a character, U+{ord(text[fault.start]):04X}"
        raise _one_fault(
            "not-utf8", Where(file, line), found, "UTF-8 text", "save the file as UTF-8 in the editor"
        ) from None


def _refuse_traps(text: str, *, file: str) -> None:
    """Raise what tomllib would choke on, unless the text before it is no TOML already."""
    trap = _first_trap(text)
    if trap is None:
        return
    token, refusal = trap
    start = text.rfind("\n", 0, token.offset) + 1
    try:
        tomllib.loads(text[:start])
    except ValueError as fault:
        if "end of document" not in str(fault):  # which is only where this cut the text
            raise _syntax(str(fault), text, file=file) from None
    code, found, allowed, remedy = refusal
    raise _one_fault(code, Where(file, token.line), found, allowed, remedy)


def _first_trap(text: str) -> tuple[Token, tuple[str, str, str, str]] | None:
    """The first token that nests too deep, is too long a number or makes too long a key."""
    nested = dotted = 0
    for token in tokens(text):
        if token.kind in "[{":
            nested += 1
        elif token.kind in "]}":
            nested = max(0, nested - 1)
        if token.kind == ".":
            dotted += 1
        elif token.kind not in (BARE, STRING):
            dotted = 0
        if nested > MOST_NESTED:
            found, allowed = "lists or tables nested too deep", f"at most {MOST_NESTED} in one another"
            return token, ("nested-too-deep", found, allowed, "take the inner brackets out")
        if dotted >= MOST_DOTTED:
            found, allowed = "a key of very many parts", f"at most {MOST_DOTTED} parts with dots between"
            return token, ("key-too-long", found, allowed, "use the keys of the format")
        if _is_long_number(token):
            found, allowed = f"a number of {len(token.text)} digits", f"at most {MOST_DIGITS} digits"
            return token, ("number-too-long", found, allowed, "write it with fewer digits")
    return None


def _is_long_number(token: Token) -> bool:
    return (
        token.kind == BARE
        and len(token.text) > MOST_DIGITS
        and token.text.lstrip("+-")[:1].isdigit()
        and not token.text.strip("+-_0123456789abcdefABCDEFxo")
    )


def _syntax(message: str, text: str, *, file: str) -> ProjectError:
    """A syntax error: what tomllib says, in which line, and the likeliest slip in that line."""
    place = _PLACE.search(message)
    lines = text.split("\n")
    at_end = place is None or place[1] is None
    number = len(text.rstrip().split("\n")) if at_end or place is None else int(place[1])
    written = lines[number - 1] if number <= len(lines) else ""
    said = _PLACE.sub("", message)
    found = f"{said[:1].lower()}{said[1:]}" + (
        " at the end" if at_end or place is None else f" at column {place[2]}"
    )
    return _one_fault("toml-syntax", Where(file, number), found, "a line of TOML", _likely_slip(written))


def _likely_slip(line: str) -> str:
    """What a maker most likely meant by a line that is no TOML."""
    if comma := _COMMA_NUMBER.search(line):
        return f"write {comma[1]}.{comma[2]} with a point"
    if any(quote in line for quote in "“”„‘’«»"):
        return 'use straight quotes, "'
    if text := _BARE_TEXT.search(line):
        return f"put text in quotes: {quoted(text[1])}"
    if length := _FRACTION.search(line):
        return f"put a length with a unit in quotes: {quoted(length[1].strip())}"
    return "mend this line; the rest of the file was not read"


def _one_fault(code: str, where: Where, found: str, allowed: str, remedy: str) -> ProjectError:
    return ProjectError([error(code, where, found=found, allowed=allowed, remedy=remedy)])
