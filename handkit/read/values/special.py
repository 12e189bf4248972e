"""Special values: those with a look of their own: ease, a spool, a row, the paper, a font.

In: a field of the project file. Out: what it stands for. Files that a project names are looked for
beside it and never outside its folder, wherever a link in it may lead.
"""

from __future__ import annotations

import os
import pathlib
import re

from handkit.errors import PaperError, ShapeError
from handkit.findings import nearest
from handkit.geometry.affine import Point
from handkit.kinds.pages import PAPER_SIZES
from handkit.paper import Paper, default_paper, paper_named
from handkit.read.project import Ease
from handkit.read.schema.rules import MOST_LENGTH, Kind, length_key
from handkit.read.svg.svg_shapes import outline_in
from handkit.read.values.field import Field
from handkit.read.values.plain import read_count, read_length, read_number, read_points, read_text

_PERCENT = r"(\d{1,3}(?:\.\d{1,6})?)\s*%"
_MOST_PERCENT = 100.0
_METRES = r"(\d{1,6}(?:\.\d{1,6})?)\s*m"
_MM_PER_METRE = 1000.0
_SIDE = r"(\d{1,4}(?:\.\d+)?)\s*(?:mm)?"
_SIZE = rf"{_SIDE}\s*(?:[x×*,]|by)\s*{_SIDE}"  # of paper
_STEP = length_key("step", -MOST_LENGTH, MOST_LENGTH, "")


def read_ease(field: Field) -> Ease | None:
    """A length, or a percentage of the size it is added to."""
    if not isinstance(field.value, str) or "%" not in field.value:
        return Ease(mm=read_length(field))
    percent = re.fullmatch(_PERCENT, field.value.strip(), re.ASCII)
    if percent is None or float(percent[1]) > _MOST_PERCENT:
        field.reject("not-a-percentage")
        return None
    return Ease(share=float(percent[1]) / 100)


def read_spool(field: Field) -> float | None:
    """Mm of thread on a spool. A plain number is metres, as thread is sold, whatever the file's unit."""
    if isinstance(field.value, str):
        metres = re.fullmatch(_METRES, field.value.strip(), re.ASCII)
        if metres is None:
            field.reject("not-metres")
            return None
        field = field.with_value(float(metres[1]))
    return read_number(field) * _MM_PER_METRE


def read_row(field: Field) -> tuple[int, float, float] | None:
    """How many times, and the step along x and y in mm."""
    row = field.value
    if not isinstance(row, list) or len(row) != 3:
        field.reject("not-a-row")
        return None
    count = read_count(field.inside(0, row[0], "count").of_kind(Kind.COUNT))
    dx, dy = (read_length(field.inside(i, row[i], name).ruled(_STEP)) for i, name in ((1, "dx"), (2, "dy")))
    if count > 1 and dx == 0 == dy:
        field.reject("row-without-step")
    return count, dx, dy


def read_paper(field: Field) -> Paper:
    """A paper by its name or size; the default where it is faulty."""
    name = read_text(field)
    if name is None:
        return default_paper()
    try:
        if name:
            return paper_named(name)
        papers = field.rule.allowed
    except PaperError as fault:
        papers = str(fault).partition("allowed: ")[2]
    size, near = _size_meant(name), nearest(name, list(PAPER_SIZES))
    key = "unknown-paper/size" if size else "unknown-paper" if near else "unknown-paper/far"
    field.with_value(name).reject(key, papers=papers, near=size or near)
    return default_paper()


def _size_meant(name: str) -> str:
    """The size of a paper as a file has it, from one with blanks or another sign; "" where it is none.

    >>> _size_meant("210 x 297"), _size_meant("5 x 7"), _size_meant("tall")
    ('210x297mm', '', '')
    """
    sides = re.fullmatch(_SIZE, name.lower().strip(), re.ASCII)
    try:
        return f"{paper_named(meant) and meant}" if sides and (meant := f"{sides[1]}x{sides[2]}mm") else ""
    except PaperError:
        return ""


def read_font(field: Field) -> str | None:
    """The path of a font file; None where it is refused."""
    return _beside(field, ".ttf", kind="font-kind", outside="font-outside", missing="font-missing")


def read_things(field: Field) -> str | None:
    """The path of a file of things; None where it is refused."""
    return _beside(field, ".toml", kind="things-kind", outside="things-outside", missing="things-missing")


def read_shape(field: Field) -> tuple[Point, ...] | None:
    """A list of points, or the outline of a shape in a drawing; None where it is faulty."""
    if not isinstance(field.value, str):
        return read_points(field)
    text = read_text(field)
    if text is None:
        return None
    name, mark, shape = text.partition("#")
    if not mark or not shape:
        field.with_value(text).reject("svg-reference")
        return None
    drawing = _beside(
        field.with_value(name), ".svg", kind="svg-reference", outside="svg-outside", missing="svg-missing"
    )
    if drawing is None:
        return None
    try:
        return outline_in(pathlib.Path(drawing), shape, file=name)
    except ShapeError as refused:
        field.location.report(refused.key, **refused.values)
        return None


def _beside(field: Field, ending: str, *, kind: str, outside: str, missing: str) -> str | None:
    """The path of a file with this ending in the project's folder; None where it is refused, by the messages
    of these keys."""
    name = read_text(field)
    if name is None:
        return None
    field, path = field.with_value(name), field.location.file.folder / name
    folder, real = os.path.realpath(field.location.file.folder), os.path.realpath(path)
    if not name.lower().endswith(ending):
        field.reject(kind)
    elif os.path.commonpath([folder, real]) != folder:
        field.reject(outside)
    elif not os.path.isfile(real):  # noqa: PTH113 - unlike Path.is_file it takes any name
        field.reject(missing)
    else:
        return str(path)
    return None
