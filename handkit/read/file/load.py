"""Load: the project file from the disk to plain values, with all that a file can do wrong on the way.

In: a path, or a text. Out: tomllib's values, and the place of every key. What is no TOML text of
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
from handkit.findings import Finding, TextPlace, Where, finding, nearest
from handkit.read.file.lines import KeyPath, key_places
from handkit.read.file.syntax import syntax_fault
from handkit.read.file.tokens import BARE, STRING, Token, tokens
from handkit.wording.quoting import escaped

MOST_BYTES = 1 << 20
MOST_NESTED = 16  # lists and tables in one another; the deepest that the format needs is 5
MOST_DOTTED = 16  # parts of one dotted key
MOST_DIGITS = 64  # characters of one number

_BYTE_ORDER_MARK = "\ufeff"
_UTF16_MARKS = (b"\xff\xfe", b"\xfe\xff")


_PICTURE = 'name the project file; "handkit trace" takes photos of things'
_OFFICE = "save what it says as plain text, or begin with handkit new"
# What other files begin with (their formats' signatures), what they are, what to do.
_OTHER_FILES = (
    (b"%PDF-", "a PDF", 'name the project file it was made from; "handkit proof" looks at a kit'),
    (b"\x89PNG\r\n\x1a\n", "a picture (PNG)", _PICTURE),
    (b"\xff\xd8\xff", "a picture (JPEG)", _PICTURE),
    (b"GIF8", "a picture (GIF)", _PICTURE),
    (b"II*\x00", "a picture (TIFF)", _PICTURE),
    (b"PK\x03\x04", "a zip or an office document", "unpack it, or save it as plain text"),
    (b"\xd0\xcf\x11\xe0", "an office document", _OFFICE),
    (b"{\\rtf", "formatted text (RTF)", _OFFICE),
    (
        b"<",
        "a page or a drawing (XML)",
        'name the project file; an item\'s outline names a drawing: "things.svg#knife"',
    ),
)


class ProjectText(msgspec.Struct, frozen=True):
    """A project that lies in no file, in place of a path: its text, what findings call it, the folder in
    which what it names lies, and after what the files made of it are called.

    >>> str(ProjectText("format = 1", "orchard"))
    'orchard'
    """

    text: str | bytes
    name: str = "project"
    parent: pathlib.Path = pathlib.Path()
    stem: str = "project"

    def __str__(self) -> str:
        return self.name


# What a project is read from.
Given = pathlib.Path | ProjectText


class Loaded(msgspec.Struct, frozen=True):
    """A file's values as tomllib has them, and the place of each key path."""

    values: dict[str, object]
    places: Mapping[KeyPath, TextPlace]


def file_text(path: Given, *, file: str) -> str:
    """The text of a project file, or as it is given; never more of a file is read than may be used.

    Raises FileError where the file can't be opened, ProjectError where it is too big or not UTF-8.
    """
    if isinstance(path, ProjectText):
        return path.text if isinstance(path.text, str) else decoded(path.text, file=file)
    try:
        status = path.stat()
        if not stat.S_ISREG(status.st_mode):
            what = "a folder" if stat.S_ISDIR(status.st_mode) else "no ordinary file"
            raise FileError(f"{file}: is {what}; name the project file, such as pouch.toml")
        with path.open("rb") as stream:
            data = stream.read(MOST_BYTES + 1)
    except FileNotFoundError:
        raise FileError(f"{file}: there is no such file{_meant(path)}") from None
    except (OSError, ValueError) as reason:  # ValueError: a null character in the path
        why = os.strerror(reason.errno) if isinstance(reason, OSError) and reason.errno else str(reason)
        raise FileError(f"{file}: can't be read: {why}") from None
    return decoded(data, file=file)


def _meant(path: pathlib.Path) -> str:
    """The project beside a file that isn't there that is nearly called so."""
    try:
        known = sorted(each.stem for each in path.parent.glob("*.toml"))
    except OSError:
        return ""
    near = nearest(path.stem, known)
    return f"; did you mean {escaped(str(path.with_name(f'{near}.toml')))}?" if near else ""


def file_lines(path: Given) -> list[str]:
    """The lines of a project's text, as findings count them. Raises as `file_text` does."""
    return _plain(file_text(path, file=str(path))).split("\n")


def decoded(data: bytes, *, file: str) -> str:
    """Bytes as UTF-8 text. Raises ProjectError where they are a file of another kind, or with the line of the
    first byte that is no text."""
    for begins, what, remedy in _OTHER_FILES:
        if data.startswith(begins):
            raise ProjectError([finding("not-a-project", Where(file), what=what, remedy=remedy)])
    _refuse_size(len(data), file=file)
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as wrong:
        key = "not-utf8/utf16" if data.startswith(_UTF16_MARKS) else "not-utf8"
        line = data.count(b"\n", 0, wrong.start) + 1
        found = finding(key, Where(file, line), byte=data[wrong.start], offset=wrong.start)
        raise ProjectError([found]) from None


def loaded(text: str, *, file: str) -> Loaded:
    """A project's values and their places. Raises ProjectError with the one thing that is wrong."""
    _refuse_size(len(text), file=file)
    _refuse_half_characters(text, file=file)
    text = _plain(text)
    cut = _safe_tokens(text, file=file)
    try:
        values = tomllib.loads(text)
    except ValueError as wrong:  # TOMLDecodeError is one
        raise ProjectError([syntax_fault(str(wrong), text, file=file)]) from None
    if not values:
        raise ProjectError([finding("empty-file", Where(file))])
    return Loaded(values, key_places(cut))


def _plain(text: str) -> str:
    """A text as its lines are counted: without the mark at its head, all ends of lines alike."""
    return text.removeprefix(_BYTE_ORDER_MARK).replace("\r\n", "\n")


def _refuse_size(size: int, *, file: str) -> None:
    if size > MOST_BYTES:
        raise ProjectError([finding("file-too-big", Where(file), most=MOST_BYTES)])


def _refuse_half_characters(text: str, *, file: str) -> None:
    """Half characters can only come from a caller: no UTF-8 file holds them."""
    try:
        text.encode()
    except UnicodeEncodeError as wrong:
        where = Where(file, text.count("\n", 0, wrong.start) + 1)
        raise ProjectError([finding("not-utf8/half", where, character=ord(text[wrong.start]))]) from None


def _safe_tokens(text: str, *, file: str) -> list[Token]:
    """The text's tokens. Raises what tomllib would choke on, unless the text before it is no TOML already."""
    cut: list[Token] = []
    nested = dotted = 0
    for token in tokens(text):
        cut.append(token)
        if token.kind in ("[", "{"):
            nested += 1
        elif token.kind in ("]", "}"):
            nested = max(0, nested - 1)
        elif token.kind == ".":
            dotted += 1
        if token.kind not in (".", BARE, STRING):
            dotted = 0
        if nested > MOST_NESTED:
            raise _trap(finding("nested-too-deep", _at(token, file), most=MOST_NESTED), token, text)
        if dotted >= MOST_DOTTED:
            raise _trap(finding("key-too-long", _at(token, file), most=MOST_DOTTED), token, text)
        if _is_long_number(token):
            raise _trap(finding("number-too-long", _at(token, file), most=MOST_DIGITS), token, text)
    return cut


def _trap(found: Finding, token: Token, text: str) -> ProjectError:
    """What to raise where a token is too much: the finding, or the syntax error in the lines before it."""
    try:
        tomllib.loads(text[: text.rfind("\n", 0, token.offset) + 1])
    except ValueError as syntax:
        if "end of document" not in str(syntax):  # which is only where this cut the text
            return ProjectError([syntax_fault(str(syntax), text, file=found.where.file)])
    return ProjectError([found])


def _at(token: Token, file: str) -> Where:
    return Where(file, token.line, column=token.column, width=len(token.text))


def _is_long_number(token: Token) -> bool:
    return (
        token.kind == BARE
        and len(token.text) > MOST_DIGITS
        and token.text.lstrip("+-")[:1].isdigit()
        and not token.text.strip("+-_0123456789abcdefABCDEFxo")
    )
