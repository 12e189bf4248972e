"""Syntax: what a maker most likely meant by a text that is no TOML.

In: tomllib's message and the text. Out: the finding, at what is meant. Only the usual slips are known: those
of a line (`slips.py`), a header in other brackets, what is written twice, what is never closed.
"""

from __future__ import annotations

import re

import msgspec

from handkit.findings import Finding, Where, finding, nearest
from handkit.read.file.slips import LONGEST_LINE, Mended, mask_of, mended, reads
from handkit.read.file.tokens import NEWLINE, Token, tokens
from handkit.read.schema.keys import TABLES
from handkit.wording.quoting import cut, in_lines

_PLACE = r"\s*\(at (?:line (\d+), column (\d+)|end of document)\)$"
_PAIRS = {"[": "]", "{": "}"}
_MOST_SHOWN = 72  # characters of a mended line; of a longer one only what was mended is shown
_MOST_ALSO = 12  # lines that have the same slip, of the next
_NEXT = 400
_HEADER = re.compile(
    r"^\s*[\[({<][\s\[({<]*/?\s*([\w ]+?)\s*[.\])}>][.\s\])}>]*$|^\s*[\[({<]+\s*([\w ]+?)\s*$"
)
_NAMED = re.compile(r"^(\s*)\[+\s*(\w+)\s*\]*[\s:=]+([\"']?)(\w[\w -]*?)\3\s*\]*\s*$")
_KEY = re.compile(r"^\s*([\w-]+|\"[^\"]*\")\s*=")


def syntax_fault(message: str, text: str, *, file: str) -> Finding:
    """The finding about a syntax error, with the slip that most likely caused it.

    >>> fault = syntax_fault("Invalid value (at line 2, column 8)", "format = 1\\nname = tab", file="p")
    >>> fault.where.line, fault.found, fault.remedy
    (2, 'tab without quotes', 'write name = "tab"')
    """
    place, reason = re.search(_PLACE, message), re.sub(_PLACE, "", message)
    lines = text.split("\n")
    if place is None or place[1] is None:
        number, column = _unclosed_line(lines) or len(text.rstrip().split("\n")), 0
    else:
        number, column = int(place[1]), int(place[2])
    fault = _Fault(file, lines, text, number, reason)
    for known in (_of_json, _of_rows, _named_header, _twice, _of_header, _of_line, _without_value, _unclosed):
        if found := known(fault):
            return found
    at = Where(file, number, column=column, width=min(1, column))
    return finding("toml-syntax", at, reason=reason[:1].lower() + reason[1:])


def _unclosed_line(lines: list[str]) -> int:
    """The first line with a quote that nothing closes before the end of the file; 0 where there is none."""
    for number, line in enumerate(lines[:_NEXT], start=1):
        found = mended(line) if _KEY.match(line) and re.search("[\"']", mask_of(line)) else None
        if found is not None and found.key.endswith("quotes"):
            return number
    return 0


class _Fault(msgspec.Struct, frozen=True):
    """A text that can't be read, and the line at which the reading stopped."""

    file: str
    lines: list[str]
    text: str
    number: int
    reason: str

    @property
    def line(self) -> str:
        """That line, "" where the text has ended."""
        return self.lines[self.number - 1] if self.number <= len(self.lines) else ""

    def at(self, column: int = 0, found: str = "", *, number: int = 0) -> Where:
        """The place of what was found in a line."""
        return Where(self.file, number or self.number, column=column, width=max(len(found), min(1, column)))


def _of_json(fault: _Fault) -> Finding | None:
    """A file that is all JSON, told at its beginning."""
    begun = re.match(r"\s*([{\[])\s*[{\[]?\s*[\"}]", fault.text)
    if begun is None:
        return None
    number = fault.text.count("\n", 0, begun.start(1)) + 1
    column = begun.start(1) - fault.text.rfind("\n", 0, begun.start(1))
    return finding("toml-syntax/json", fault.at(column, begun[1], number=number))


def _of_rows(fault: _Fault) -> Finding | None:
    """A row of values with commas, semicolons or tabs between them, as sheets of figures are saved."""
    row = re.match(r"^(\s*)([^=:\[\]{}]+?(?:([,;\t])[^=:\[\]{},;\t]*)(?:\3[^=:\[\]{},;\t]*)+)$", fault.line)
    if row is None or len(fault.line) > LONGEST_LINE or _open_behind(fault.text, fault.number - 1):
        return None
    return finding("toml-syntax/rows", fault.at(len(row[1]) + 1, row[2]), text=cut(row[2].replace("\t", " ")))


def _named_header(fault: _Fault) -> Finding | None:
    """A header with the name of its entry in it or behind it."""
    written = _NAMED.match(fault.line[:LONGEST_LINE])
    header = _headers().get(written[2], "") if written else ""
    if written is None or not header.startswith("[[") or _open_behind(fault.text, fault.number - 1):
        return None
    at = fault.at(len(written[1]) + 1, fault.line.strip())
    return finding("single-brackets/named", at, written=fault.line.strip(), header=header, name=written[4])


def _of_line(fault: _Fault) -> Finding | None:
    """A slip of the line; those of a list are looked for before what comes behind it."""
    if fault.reason.startswith("Unterminated") and re.search("\"{3}|'{3}", fault.text):
        return None  # it is the text over several lines that does not end
    opened = _open_behind(fault.text, fault.number - 1)
    if opened and (_KEY.match(fault.line) or _HEADER.match(fault.line)):
        return None  # it is the list above that does not end
    found = mended(fault.line, in_list=bool(opened))
    if found is None and opened and fault.line.strip()[:1] in tuple("\"'[{-.0123456789"):
        above = fault.lines[fault.number - 2]
        end = len(mask_of(above))
        return finding(
            "toml-syntax/no-comma-above", fault.at(end, above[end - 1 : end], number=fault.number - 1)
        )
    if found is None:
        return None
    line = found.line.replace("\t", " ")
    meant = line if len(line) <= _MOST_SHOWN else f"… {line[max(0, found.column - 9) :][:40]} …"
    shown = cut(found.found) + _also(fault, found.key)
    return finding(found.key, fault.at(found.column, found.found), text=shown, meant=meant)


def _also(fault: _Fault, key: str) -> str:
    """In which lines further down the same has slipped in."""
    more: list[int] = []
    for number, line in enumerate(fault.lines[fault.number :][:_NEXT], start=fault.number + 1):
        slip: Mended | None = mended(line) if _KEY.match(line) else None
        if slip is not None and slip.key == key:
            more.append(number)
        if len(more) > _MOST_ALSO:
            break
    return f" (also in {in_lines(more)})" if more else ""


def _headers() -> dict[str, str]:
    """The headers of the tables of a project by their names."""
    return {key: rule.header for key, rule in TABLES["project"].keys.items() if rule.header}


def _twice(fault: _Fault) -> Finding | None:
    """A key or a table that is written twice, or one of several in single brackets."""
    if not fault.reason.startswith(("Cannot overwrite", "Cannot declare", "Duplicate", "Cannot mutate")):
        return None
    if header := re.match(r"\s*\[+\s*([\w.-]+)\s*\]+", fault.line):
        name, headers = header[1], _headers()
        same = [k for k, line in enumerate(fault.lines, 1) if re.match(rf"\s*\[\s*{name}\s*\]", line)]
        if headers.get(name, "").startswith("[[") and same:
            also = f", also in {in_lines(same[1:])}" if same[1:] else ""
            at = fault.at(fault.lines[same[0] - 1].index("[") + 1, f"[{name}]", number=same[0])
            return finding("single-brackets/several", at, found=f"[{name}]{also}", header=headers[name])
        first = next((k for k in same if k < fault.number), 0)
        return finding("toml-syntax/twice-table", fault.at(1, fault.line.strip()), name=name, line=first)
    if key := _KEY.match(fault.line):
        for number in range(fault.number - 1, 0, -1):
            above = fault.lines[number - 1]
            same_key = _KEY.match(above)
            if same_key and same_key[1] == key[1]:
                at = fault.at(fault.line.index(key[1]) + 1, key[1])
                own = "toml-syntax/twice-name" if key[1] == "name" else "toml-syntax/twice"
                return finding(own, at, key=key[1], line=number)
            if above.lstrip().startswith("["):
                break
    return finding("toml-syntax/twice-here", fault.at(1, fault.line.strip()))


def _of_header(fault: _Fault) -> Finding | None:
    """A header whose brackets are not those that it should have, or that has none."""
    line, headers = mask_of(fault.line[:LONGEST_LINE]), _headers()
    written = _HEADER.match(line) or re.match(r"^\s*(\w+)\s*[\]:]*\s*$", line)
    word = next(filter(None, written.groups()), "") if written else ""
    name = nearest(word, tuple(headers)) or (
        word.split()[0] if word.split()[:1] in [[each] for each in headers] else ""
    )
    if not name or _open_behind(fault.text, fault.number - 1):
        return None
    at = fault.at(len(line) - len(line.lstrip()) + 1, line.strip())
    key = "toml-syntax/header-end" if re.match(r"\s*[\[<({\s]+/", line) else "toml-syntax/header"
    return finding(key, at, text=line.strip(), meant=headers[name])


def _without_value(fault: _Fault) -> Finding | None:
    """A key without a value, and a text with what TOML takes as a sign of its own."""
    mask = mask_of(fault.line[:LONGEST_LINE])
    if empty := re.match(r"^\s*([\w-]+)\s*=\s*$", mask):
        return finding("toml-syntax/no-value", fault.at(len(mask), "="), key=empty[1])
    if fault.reason.startswith(("Unescaped", "Invalid hex", "Escaped")) and "\\" in fault.line:
        meant = fault.line.strip().replace("\\", "/")
        return finding("toml-syntax/backslash", fault.at(fault.line.index("\\") + 1, "\\"), meant=meant)
    return None


def _unclosed(fault: _Fault) -> Finding | None:
    """The bracket or quote that is missing its other half, None where that's not the fault."""
    if fault.reason.startswith("Unterminated string"):
        *_, last = tokens(fault.text)  # which stand before the quote that nothing closes
        return finding("toml-syntax/unclosed-long", fault.at(number=last.line))
    opened = _open_behind(fault.text, fault.number)
    if not opened:
        return None
    bracket, line = opened[-1].text, opened[-1].line
    at = fault.at(opened[-1].column, bracket, number=line)
    if bracket == "{" and fault.reason.startswith(("Unclosed inline", "Invalid initial character")):
        return finding("toml-syntax/inline-table", at)
    if not fault.reason.startswith("Unclosed"):
        return None
    shown = fault.lines[line - 1].strip()
    meant = f"{shown}{_PAIRS[bracket]}" if len(shown) <= _MOST_SHOWN and shown[-1:] not in "[{," else ""
    meant = meant if reads(meant) else ""
    key = "toml-syntax/bracket" if meant else "toml-syntax/bracket-over-lines"
    return finding(key, at, bracket=bracket, other=_PAIRS[bracket], meant=meant)


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
