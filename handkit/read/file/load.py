"""Load: the project file from the disk to plain values, with all that a file can do wrong on the way.

In: a path, or a text. Out: tomllib's values, and the line of every key. What is no TOML text of
sensible size is refused before tomllib sees it: tomllib ends in a RecursionError on deep nesting,
in a ValueError on a number of many thousand digits, and takes hours over a key of many thousand dots.
"""

from __future__ import annotations

import os
import pathlib
import stat
import tomllib
from collections.abc import Mapping

import msgspec

from handkit.errors import FileError, ProjectError
from handkit.findings import Where, error
from handkit.read.file.lines import KeyPath, key_lines
from handkit.read.file.syntax import syntax_fault
from handkit.read.file.tokens import BARE, STRING, Token, tokens
from handkit.read.values.spot import Fault

MOST_BYTES = 1 << 20
MOST_NESTED = 16  # lists and tables in one another; the deepest that the format needs is 5
MOST_DOTTED = 16  # parts of one dotted key
MOST_DIGITS = 64  # characters of one number

_BYTE_ORDER_MARK = "\ufeff"
_UTF16_MARKS = (b"\xff\xfe", b"\xfe\xff")


class Loaded(msgspec.Struct, frozen=True):
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
    except UnicodeDecodeError as wrong:
        found = f"byte 0x{data[wrong.start]:02x} at offset {wrong.start}"
        if data.startswith(_UTF16_MARKS):
            found += ", the mark of UTF-16"
        line = data.count(b"\n", 0, wrong.start) + 1
        raise _refusal(line, _not_utf8(found), file=file) from None


def loaded(text: str, *, file: str) -> Loaded:
    """The values and lines of a project's text. Raises ProjectError with the one thing that is wrong."""
    _refuse_size(len(text), file=file)
    _refuse_half_characters(text, file=file)
    text = text.removeprefix(_BYTE_ORDER_MARK).replace("\r\n", "\n")
    _refuse_traps(text, file=file)
    try:
        values = tomllib.loads(text)
    except ValueError as wrong:  # TOMLDecodeError is one
        raise _refusal(*syntax_fault(str(wrong), text), file=file) from None
    if not values:
        remedy = "begin with format = 1 and a [[piece]]"
        raise _refusal(0, Fault("empty-file", "no key at all", "a project", remedy), file=file)
    return Loaded(values, key_lines(text))


def _refuse_size(size: int, *, file: str) -> None:
    if size > MOST_BYTES:
        fault = Fault(
            "file-too-big",
            f"more than {MOST_BYTES} bytes",
            f"at most {MOST_BYTES} bytes",
            "check that this is the project file",
        )
        raise _refusal(0, fault, file=file)


def _refuse_half_characters(text: str, *, file: str) -> None:
    """Half characters can only come from a caller: no UTF-8 file holds them."""
    try:
        text.encode()
    except UnicodeEncodeError as wrong:
        found = f"half a character, U+{ord(text[wrong.start]):04X}"
        raise _refusal(text.count("\n", 0, wrong.start) + 1, _not_utf8(found), file=file) from None


def _not_utf8(found: str) -> Fault:
    return Fault("not-utf8", found, "UTF-8 text", "save the file as UTF-8 in the editor")


def _refuse_traps(text: str, *, file: str) -> None:
    """Raise what tomllib would choke on, unless the text before it is no TOML already."""
    trap = _first_trap(text)
    if trap is None:
        return
    token, fault = trap
    try:
        tomllib.loads(text[: text.rfind("\n", 0, token.offset) + 1])
    except ValueError as syntax:
        if "end of document" not in str(syntax):  # which is only where this cut the text
            raise _refusal(*syntax_fault(str(syntax), text), file=file) from None
    raise _refusal(token.line, fault, file=file)


def _first_trap(text: str) -> tuple[Token, Fault] | None:
    """The first token that nests too deep, is too long a number or makes too long a key."""
    nested = dotted = 0
    for token in tokens(text):
        if token.kind in ("[", "{"):
            nested += 1
        elif token.kind in ("]", "}"):
            nested = max(0, nested - 1)
        elif token.kind == ".":
            dotted += 1
        if token.kind not in (".", BARE, STRING):
            dotted = 0
        if nested > MOST_NESTED:
            return token, _too_much("nested-too-deep", "lists or tables", MOST_NESTED, "in one another")
        if dotted >= MOST_DOTTED:
            return token, _too_much("key-too-long", "parts of a key", MOST_DOTTED, "with dots between")
        if _is_long_number(token):
            return token, _too_much("number-too-long", "digits", MOST_DIGITS, "in a number")
    return None


def _too_much(code: str, what: str, most: int, how: str) -> Fault:
    return Fault(code, f"more than {most} {what} {how}", f"at most {most}", "write only what the format has")


def _is_long_number(token: Token) -> bool:
    return (
        token.kind == BARE
        and len(token.text) > MOST_DIGITS
        and token.text.lstrip("+-")[:1].isdigit()
        and not token.text.strip("+-_0123456789abcdefABCDEFxo")
    )


def _refusal(line: int, fault: Fault, *, file: str) -> ProjectError:
    """The one finding of a file that can't be read further."""
    where = Where(file, line)
    return ProjectError(
        [error(fault.code, where, found=fault.found, allowed=fault.allowed, remedy=fault.remedy)]
    )
