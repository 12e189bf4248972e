"""Slip rows: what people write that is no TOML, a row for each thing, in the order in which they are tried.

In: nothing. Out: `SLIPS`, of each its message, how it looks in a line's mask, and what was meant by it.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from math import prod

import msgspec

from handkit.read.values.lengths import FRACTIONS, LARGER_UNITS, UNIT_SYNONYMS, fraction_meant, in_known_unit

_LETTERS = str.maketrans("Ool", "001")  # that digits are taken for
_FLAGS = {"yes": "true", "on": "true", "no": "false", "off": "false"}
_UNITS = sorted(("mm", "cm", "in", "oz", *LARGER_UNITS, *UNIT_SYNONYMS), key=lambda unit: (-len(unit), unit))
_UNIT = rf"(?:(?:{'|'.join(_UNITS)})\b|%)"
BEFORE = r"(?P<keep>[=\[,(;]\s*)"  # what stands in front of a value


class Slip(msgspec.Struct, frozen=True):
    """A slip: its message's key, what it looks like in the mask, and what was meant by that: a function of
    the line's text there. What matched as `keep` stays as it is. Patterns are compiled where a line can't be
    read, not at each start."""

    key: str
    pattern: str
    meant: Callable[[str], str]


def length_meant(text: str) -> str:
    """A length of a line without quotes, with its unit: fractions are of inches.

    >>> length_meant("2¼"), length_meant('2 1/4"'), length_meant("6oz"), length_meant("1/2 inch")
    ('2 1/4 in', '2 1/4 in', '6 oz', '1/2 in')
    >>> length_meant("0.06 m"), length_meant("2'")
    ('60 mm', '24 in')
    """
    written = re.fullmatch(rf"(.*?)\s*({_UNIT}|\"|''?)?", text.strip(), re.IGNORECASE)
    number, unit = (written[1], (written[2] or "in").lower()) if written else (text, "in")
    unit = {'"': "in", "''": "in", "'": "ft"}.get(unit, unit)
    return in_known_unit(fraction_meant(number), unit)


def quoted_length(text: str) -> str:
    """The same in quotes, as a file has it."""
    return f'"{length_meant(text)}"'


def _bare_or_quoted(text: str) -> str:
    """A number as it is, a length with its unit in quotes."""
    text = text.strip()
    return text if text[-1:].isdigit() else quoted_length(text)


def _each_with_unit(text: str) -> str:
    """A list whose unit stands behind it, with the unit in each of its lengths."""
    numbers, _, unit = text.partition("[")[2].rpartition("]")
    return f"[{', '.join(quoted_length(f'{each} {unit}') for each in numbers.split(','))}]"


NUMBER = r"\d+(?:\.\d+)?"
FRACTION = rf"(?:\d+\s*[ -]\s*)?\d{{1,2}}/\d+|\d*\s?[{''.join(FRACTIONS)}]"
AFTER = r"(?=\s*(?:[,;\]})]|$))"  # what stands behind a value

_SIZE = rf"{NUMBER}(?:\s*{_UNIT})?"
_TO = r"(?:\.\.+|…|-|–|\bto\b)"  # between the ends of a range
_SUM = rf"{NUMBER}(?:\s*[+*/]\s*{NUMBER})+"


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


def _key_meant(text: str) -> str:
    """A key with another sign behind it, as it should be written."""
    return f"""{text.strip(" :=->").strip('"')} = """


_IN_QUOTES = r"\"[^\"]*\"|'[^']*'"

# In the order in which they are tried; the first that makes the line readable is told.
SLIPS: tuple[Slip, ...] = (
    Slip(
        "toml-syntax/wide-blank",
        r"[\u00a0\u2000-\u200b\u202f\u2060\u3000\ufeff]+",
        lambda text: " " if text.strip("\u200b\u2060\ufeff") else "",
    ),
    Slip("toml-syntax/command", r"^\s*[$%>]?\s*(?:\S*/)?handkit\s+\w.*$|^\s*\$\s+\S.*$", lambda text: ""),
    Slip("toml-syntax/stray-line", r"^\s*(?:`{3,}[\w-]*|\.{3,}|…|[-=*_~]{3,})\s*$", lambda text: ""),
    Slip("toml-syntax/bullet", r"^\s*[-*•+>]\s+(?=[\w\x01\[])", lambda text: ""),
    Slip(
        "toml-syntax/remark-round",
        r"^\s*(?:/\*.*\*/|<!--.*-->)\s*$",
        lambda text: f"# {text.strip(' /*<!->')}",
    ),
    Slip("toml-syntax/dots", r"\s*,\s*(?:\.{2,}|…)\s*(?=\])", lambda text: ""),
    Slip("toml-syntax/remark", r"^\s*(?:/\*|<!--|%|!|REM\b)\s*", lambda text: "# "),
    Slip("toml-syntax/remark", r"\s*(?://|--|;(?=\s*[^\W\d])(?!.*=))\s*(?=\S)", lambda text: "  # "),
    Slip("toml-syntax/line-number", r"^\s*\d+(?:\s*[:|.)]\s*|\s+)(?=[A-Za-z_\[#])", lambda text: ""),
    Slip("toml-syntax/include", r"^\s*(?:include|import|use)\s+(?=\x01+\s*$)", lambda text: "items = "),
    Slip(
        "toml-syntax/doubled-quotes",
        r"(?<!\x01)\x01\x01(?!\x01)[^\x01=\[\]{},:]+\x01\x01(?!\x01)",
        lambda text: f'"{text[2:-2]}"',
    ),
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
    Slip("toml-syntax/colon", r"^\s*(?:[\w-]+|\x01+)\s*(?::=|:|=>|->|==)\s*", _key_meant),
    Slip("toml-syntax/colon", r"(?P<keep>[{,]\s*)[\w\x01-]+\s*:\s*", lambda text: f"{text.strip(' :')} = "),
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
        rf"{BEFORE}{NUMBER}\s*{_TO}\s*{NUMBER}(?:\s*{_UNIT})?{AFTER}",
        lambda text: _bare_or_quoted(re.split(_TO, text)[-1]),
    ),
    Slip("toml-syntax/line-end", r"(?<=[\w\]}\x01])\s*[;,]\s*$", lambda text: ""),
    Slip("toml-syntax/two-keys", r"(?<=[\w\]}\x01])\s*[;,]\s*(?=[A-Za-z]\w*\s*=)", lambda text: "\n"),
    Slip("toml-syntax/line-end", r"(?<=[\]}])[\]}]\s*$", lambda text: ""),
    Slip("toml-syntax/equals", r"^\s*[A-Za-z_]\w*\s+(?=[\d\[\x01])", lambda text: f"{text.strip()} = "),
    Slip(
        "toml-syntax/blank-in-key",
        r"^\s*[A-Za-z_]\w*(?:[ ]\w+)+(?=\s*=)",
        lambda text: "_".join(text.split()),
    ),
    Slip(
        "toml-syntax/flag",
        rf"{BEFORE}(?i:true|false|yes|no|on|off){AFTER}",
        lambda text: _FLAGS.get(text.lower(), text.lower()),
    ),
    Slip(
        "toml-syntax/sign",
        rf"{BEFORE}(?:[~≈±⌀øØ]|(?i:ca|circa|about|approx|approximately)\b\.?)\s*(?=\d)",
        lambda text: "",
    ),
    Slip(
        "toml-syntax/length",
        rf"{BEFORE}(?:(?:{FRACTION})(?:\s*{_UNIT})?|{NUMBER}\s*{_UNIT}){AFTER}",
        quoted_length,
    ),
    Slip(
        "toml-syntax/zero-letter",
        rf"{BEFORE}(?=[\dOol.]*\d)[\dOol.]*[Ool][\dOol.]*{AFTER}",
        lambda text: text.translate(_LETTERS),
    ),
    Slip(
        "toml-syntax/length",
        rf"{BEFORE}{NUMBER}\s*\(\s*{_UNIT}\s*\)",
        lambda text: quoted_length(text.replace("(", "").replace(")", "")),
    ),
    Slip("toml-syntax/sum", rf"(?P<keep>[=\[,]\s*){_SUM}{AFTER}", _summed),
    Slip("toml-syntax/comma", r"(?P<keep>=\s*)-?\d+,\d+\s*$", lambda text: text.strip().replace(",", ".")),
    Slip(
        "toml-syntax/list",
        rf"(?P<keep>=\s*){_SIZE}(?:(?:\s*(?:[x×*,]|\bby\b)\s*|\s+){_SIZE})+\s*$",
        lambda text: f"[{', '.join(map(_bare_or_quoted, re.findall(_SIZE, text)))}]",
    ),
    Slip("toml-syntax/names", r"(?P<keep>[\[,]\s*)[A-Za-z]\w*\s*[=:]\s*", lambda text: ""),
    Slip("toml-syntax/paren", r"(?P<keep>=\s*)\{[^=]*\}\s*$", lambda text: f"[{text.strip()[1:-1]}]"),
    Slip(
        "toml-syntax/list",
        r"(?P<keep>=\s*)\x01+(?:\s*(?:[,+&/]|and)\s*\x01+)+\s*$",
        lambda text: f"[{', '.join(re.findall(_IN_QUOTES, text))}]",
    ),
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
        rf"{BEFORE}(?!true\b|false\b)[^\W\d][^\x01\"\[\]{{}},;=]*",
        lambda text: f'"{text.strip()}"',
    ),
    Slip("toml-syntax/words", r"^\s*[^\W\d][^\x01=\[\]{}]*$", lambda text: f"# {text.strip()}"),
)
