"""Operators: a page's groups as the text of a content stream, all numbers in mm.

In: groups, and how a line of text is written (which needs the file's fonts). Out: operators of
ISO 32000-1, one `cm` for the whole page, so that every operand is mm of the paper; a page that is corrected
for a printer has a second one, and its operands are mm as they will measure when it is printed.

Each mark stands between `/Tag <<properties>> BDC` and `EMC`. Numbers have four decimals, 0.05 µm;
a pen is set only where it changes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import lru_cache

from handkit.draw.model.marks import Group, Ink, Mark, Words
from handkit.draw.model.path_ops import NUMBERS, PathOps
from handkit.draw.model.tags import dictionary
from handkit.geometry.affine import Affine
from handkit.ink import Stroke
from handkit.units import PT_PER_MM

# How a line of text becomes operators: asked of the file that is written.
Encode = Callable[[Words], str]


def page_operators(parts: Iterable[str], *, drawn: Affine | None = None) -> str:
    """A page of its groups' operators, in order; what is `drawn` through a map, in mm, is drawn through it
    whole. Lines join round, so that no sharp corner grows a spike."""
    body = "\n".join(parts)
    through = f"{' '.join(f'{number:.10f}' for number in drawn.numbers())} cm " if drawn else ""
    return f"q {PT_PER_MM:.10f} 0 0 {PT_PER_MM:.10f} 0 0 cm {through}1 j 0 G 0 g\n{body}\nQ"


def group_operators(groups: Iterable[Group], encode: Encode) -> str:
    """Groups in order."""
    return "\n".join(_group(group, encode) for group in groups)


def number(value: float) -> str:
    """Four decimals; what rounds to nothing is plain 0.

    >>> number(1 / 3), number(-0.00001), number(-2)
    ('0.3333', '0', '-2.0000')
    """
    return numbers(value)


def numbers(*values: float) -> str:
    """Numbers in a row."""
    return _filled("%.4f" + " %.4f" * (len(values) - 1), values)


def path_text(path: PathOps) -> str:
    """Path construction operators, each after its numbers.

    >>> path_text(PathOps("mlh", (0, 10, -0.00001, 0.25)))
    '0 10.0000 m 0 0.2500 l h'
    """
    return _filled(_pattern(path.operators), path.numbers)


def _filled(pattern: str, values: tuple[float, ...]) -> str:
    """All numbers of a pattern written at once; what rounds to nothing is plain 0."""
    return (" " + pattern % values).replace(" -0.0000", " 0").replace(" 0.0000", " 0")[1:]


@lru_cache(maxsize=512)
def _pattern(operators: str) -> str:
    return " ".join("%.4f " * NUMBERS[operator] + operator for operator in operators)


def _group(group: Group, encode: Encode) -> str:
    lines = ["q", *(f"{path_text(clip)} W n" for clip in group.clips)]
    pen: Stroke | None = None
    for mark in group.marks:
        text, pen = _mark(mark, pen, encode)
        lines.append(text)
    return "\n".join([*lines, "Q"])


def _mark(mark: Mark, pen: Stroke | None, encode: Encode) -> tuple[str, Stroke | None]:
    """The mark's text, and the pen that is left lying."""
    lines = [f"/{mark.tag.value} {dictionary(mark.properties)} BDC"]
    for part in mark.parts:
        if isinstance(part, Words):
            lines.append(encode(part))
            continue
        if part.stroke is not None and part.stroke != pen:
            pen = part.stroke
            lines.append(_pen(pen))
        lines.append(_ink(part))
    return "\n".join([*lines, "EMC"]), pen


def _ink(ink: Ink) -> str:
    if ink.fill is not None:
        return f"{ink.fill:g} g {path_text(ink.path)} {'f' if ink.stroke is None else 'B'} 0 g"
    return f"{path_text(ink.path)} {'f' if ink.stroke is None else 'S'}"


def _pen(stroke: Stroke) -> str:
    return f"{stroke.width:g} w [{' '.join(f'{dash:g}' for dash in stroke.dash)}] 0 d {stroke.grey:g} G"
