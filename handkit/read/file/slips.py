"""Slips: what beginners write that is no TOML, and the line as it was meant.

In: a line that can't be read. Out: the slip's message, where in the line it is, and the line mended. What is
proposed is read first: only what can be read is proposed.

Words: a *slip* is one thing that people write otherwise than TOML wants it; a *mask* is the line with what
stands in quotes blotted out, character for character, and without its comment.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Iterator
from math import prod

import msgspec

from handkit.read.values.lengths import FRACTIONS, UNIT_SYNONYMS, fraction_meant

LONGEST_LINE = 300  # beyond which no maker's slip is looked for
_BLOT = "\x01"
_STRING = re.compile(r"\"(?:\\.|[^\"\\])*\"|'[^']*'")
_QUOTES = str.maketrans("“”„«»‘’″", '"""""\'\'"')
_LETTERS = str.maketrans("Ool", "001")  # that digits are taken for
_FLAGS = {"yes": "true", "on": "true", "no": "false", "off": "false"}
_UNITS = sorted(("mm", "cm", "in", "oz", "m", *UNIT_SYNONYMS), key=lambda unit: (-len(unit), unit))
_UNIT = rf"(?:(?:{'|'.join(_UNITS)})\b|%)"
_BEFORE = r"(?P<keep>[=\[,(;]\s*)"  # what stands in front of a value


class Slip(msgspec.Struct, frozen=True):
    """A slip: its message's key, what it looks like in the mask, and what was meant by that: a function of
    the line's text there. What matched as `keep` stays as it is. Patterns are compiled where a line can't be
    read, not at each start."""

    key: str
    pattern: str
    meant: Callable[[str], str]


class Mended(msgspec.Struct, frozen=True):
    """A line as it was meant: the message's key, what was found, at which column from 1, and all of
    the line, without its comment."""

    key: str
    found: str
    column: int
    line: str


def length_meant(text: str) -> str:
    """A length of a line without quotes, with its unit: fractions are of inches.

    >>> length_meant("2¼"), length_meant('2 1/4"'), length_meant("6oz"), length_meant("1/2 inch")
    ('2 1/4 in', '2 1/4 in', '6 oz', '1/2 in')
    """
    written = re.fullmatch(rf"(.*?)\s*({_UNIT}|\"|'')?", text.strip(), re.IGNORECASE)
    number, unit = (written[1], (written[2] or "in").lower()) if written else (text, "in")
    unit = "in" if unit in ('"', "''") else UNIT_SYNONYMS.get(unit, unit)
    return f"{fraction_meant(number)} {unit}"


def _quoted_length(text: str) -> str:
    return f'"{length_meant(text)}"'


def _bare_or_quoted(text: str) -> str:
    """A number as it is, a length with its unit in quotes."""
    text = text.strip()
    return text if text[-1:].isdigit() else _quoted_length(text)


def _each_with_unit(text: str) -> str:
    """A list whose unit stands behind it, with the unit in each of its lengths."""
    numbers, _, unit = text.partition("[")[2].rpartition("]")
    return f"[{', '.join(_quoted_length(f'{each} {unit}') for each in numbers.split(','))}]"


_NUMBER = r"\d+(?:\.\d+)?"
_FRACTION = rf"(?:\d+\s*[ -]\s*)?\d{{1,2}}/\d+|\d*\s?[{''.join(FRACTIONS)}]"
_AFTER = r"(?=\s*(?:[,;\]})]|$))"  # what stands behind a value

_SUM = rf"{_NUMBER}(?:\s*[+*/]\s*{_NUMBER})+"


def _summed(text: str) -> str:
    """What a sum comes to.

    >>> _summed("30*2 + 4"), _summed("0.5 * 3"), _summed("200/4/5 + 1")
    ('64', '1.5', '11')
    """
    products = (prod(map(_quotient, part.split("*"))) for part in text.split("+"))
    return f"{sum(products):.6g}"


def _quotient(text: str) -> float:
    first, *others = map(float, text.split("/"))
    return first / (prod(others) or 1.0)


# In the order in which they are tried; the first that makes the line readable is told.
SLIPS: tuple[Slip, ...] = (
    Slip("toml-syntax/wide-blank", r"[\u00a0\u2000-\u200b\u202f\u3000]+", lambda text: " "),
    Slip("toml-syntax/remark", r"^\s*(?:/\*|<!--)\s*", lambda text: "# "),
    Slip("toml-syntax/remark", r"\s*(?://|--|;(?=\s*[^\W\d])(?!.*=))\s*(?=\S)", lambda text: "  # "),
    Slip("toml-syntax/line-number", r"^\s*\d+(?:\s*[:|.)]\s*|\s+)(?=[A-Za-z_\[#])", lambda text: ""),
    Slip("toml-syntax/include", r"^\s*(?:include|import|use)\s+(?=\x01+\s*$)", lambda text: "items = "),
    Slip("toml-syntax/doubled-quotes", r"\x01\x01[^\x01=\[\]{},]+\x01\x01", lambda text: f'"{text[2:-2]}"'),
    Slip(
        "toml-syntax/nothing",
        r"(?P<keep>^\s*(?!name|title|note|zip)[A-Za-z]\w*\s*=\s*)(?i:none|null|nil)\s*$",
        lambda text: '""',
    ),
    Slip(
        "toml-syntax/nothing-listed",
        r"(?P<keep>[\[,]\s*)(?i:none|null|nil)(?=\s*[,\]])",
        lambda text: '""',
    ),
    Slip("toml-syntax/look-alike", r"&(?:quot|apos|[lr]dquo);|[`´]", lambda text: '"'),
    Slip("toml-syntax/look-alike", r"[\u2212\u2013](?=\d)", lambda text: "-"),
    Slip("toml-syntax/line-end", r"\s*(?:\*/|-->)\s*$", lambda text: ""),
    Slip("toml-syntax/line-end", r"(?<=\d)\s*(?:°|deg\b)\s*$", lambda text: ""),
    Slip("toml-syntax/line-end", r"(?P<keep>^\s*\[\[?\w+\]?\])\s*\S.*$", lambda text: ""),
    Slip("toml-syntax/length", rf"(?P<keep>=\s*)\[[^\[\]\x01]*\]\s*{_UNIT}\s*$", _each_with_unit),
    Slip(
        "toml-syntax/list",
        r"(?P<keep>=\s*)\[[^\]]*\](?:\s*,\s*\[[^\]]*\])+\s*$",
        lambda text: f"[{text.strip()}]",
    ),
    Slip(
        "toml-syntax/range",
        rf"{_BEFORE}{_NUMBER}\s*(?:\.\.+|…)\s*{_NUMBER}{_AFTER}",
        lambda text: re.split(r"\.\.+|…", text)[-1].strip(),
    ),
    Slip("toml-syntax/line-end", r"(?<=[\w\]}\x01])\s*[;,]\s*$", lambda text: ""),
    Slip("toml-syntax/two-keys", r"(?<=[\w\]}\x01])\s*[;,]\s*(?=[A-Za-z]\w*\s*=)", lambda text: "\n"),
    Slip("toml-syntax/line-end", r"(?<=[\]}])[\]}]\s*$", lambda text: ""),
    Slip("toml-syntax/colon", r"^\s*[\w-]+\s*(?::=|:|=>|==)\s*", lambda text: f"{text.strip(' :=>')} = "),
    Slip("toml-syntax/colon", r"(?P<keep>[{,]\s*)[\w\x01-]+\s*:\s*", lambda text: f"{text.strip(' :')} = "),
    Slip("toml-syntax/equals", r"^\s*[A-Za-z_]\w*\s+(?=[\d\[\x01])", lambda text: f"{text.strip()} = "),
    Slip(
        "toml-syntax/blank-in-key",
        r"^\s*[A-Za-z_]\w*(?:[ ]\w+)+(?=\s*=)",
        lambda text: "_".join(text.split()),
    ),
    Slip(
        "toml-syntax/flag",
        rf"{_BEFORE}(?i:true|false|yes|no|on|off){_AFTER}",
        lambda text: _FLAGS.get(text.lower(), text.lower()),
    ),
    Slip(
        "toml-syntax/length",
        rf"{_BEFORE}(?:(?:{_FRACTION})(?:\s*{_UNIT})?|{_NUMBER}\s*{_UNIT}){_AFTER}",
        _quoted_length,
    ),
    Slip("toml-syntax/sign", rf"{_BEFORE}[~≈⌀øØ]\s*(?=\d)", lambda text: ""),
    Slip(
        "toml-syntax/zero-letter",
        rf"{_BEFORE}(?=[\dOol.]*\d)[\dOol.]*[Ool][\dOol.]*{_AFTER}",
        lambda text: text.translate(_LETTERS),
    ),
    Slip("toml-syntax/sum", rf"(?P<keep>[=\[,]\s*){_SUM}{_AFTER}", _summed),
    Slip("toml-syntax/comma", r"(?P<keep>=\s*)-?\d+,\d+\s*$", lambda text: text.strip().replace(",", ".")),
    Slip(
        "toml-syntax/list",
        rf"(?P<keep>=\s*){_NUMBER}\s*{_UNIT}?(?:\s*[x×*,]\s*{_NUMBER}\s*{_UNIT}?)+\s*$",
        lambda text: f"[{', '.join(map(_bare_or_quoted, re.split('[x×*,]', text)))}]",
    ),
    Slip("toml-syntax/names", r"(?P<keep>[\[,]\s*)[A-Za-z]\w*\s*[=:]\s*", lambda text: ""),
    Slip("toml-syntax/paren", r"(?P<keep>=\s*)\{[^=]*\}\s*$", lambda text: f"[{text.strip()[1:-1]}]"),
    Slip("toml-syntax/list", r"(?P<keep>=\s*)\x01+(?:\s*,\s*\x01+)+\s*$", lambda text: f"[{text.strip()}]"),
    Slip("toml-syntax/point", r"(?<![\w.])\.\d+", lambda text: f"0{text}"),
    Slip("toml-syntax/point", r"(?<![\w.])\d+\.(?=\s*(?:[,\]}]|$))", lambda text: text[:-1]),
    Slip("toml-syntax/zeros", r"(?<![\w.])0+[1-9][\d.]*", lambda text: text.lstrip("0")),
    Slip("toml-syntax/paren", r"[()]", lambda text: "[" if text == "(" else "]"),
    Slip("toml-syntax/semicolon", r";", lambda text: ","),
    Slip(
        "toml-syntax/no-comma",
        r"(?<=[\d\x01\]}])\s+(?=[\d\x01\[{.-])|(?<=\])(?=\[)|(?<=[\d\x01\]}])\s+(?=[A-Za-z]\w*\s*=)",
        lambda text: ", ",
    ),
    Slip(
        "toml-syntax/text",
        rf"{_BEFORE}(?!true\b|false\b)[^\W\d][^\x01\"\[\]{{}},;=]*",
        lambda text: f'"{text.strip()}"',
    ),
)


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
    if len(line) > LONGEST_LINE or _reads(line, in_list):
        return None
    for steps in (_one_by_one(line), _together(line)):
        for found in steps:
            if _reads(found.line, in_list):
                return msgspec.structs.replace(found, line=found.line.strip())
    return None


def _reads(line: str, in_list: bool) -> bool:
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
    inch = rf"{_BEFORE}((?:{_FRACTION}|{_NUMBER})\s*(?:\"|''|″|”)){_AFTER}"
    if match := re.search(inch, line):
        text = re.sub(inch, lambda each: each["keep"] + _quoted_length(each[2].translate(_QUOTES)), line)
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
