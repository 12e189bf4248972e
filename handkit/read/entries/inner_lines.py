"""Inner lines: named lines inside a piece, for seams and for folds; its marks, and outlines of things.

In: a table by name, { divider = [[60, 0], [60, 120]] }, of folds also of tables that say how it is folded.
Out: names with their points; no points where they were faulty, so that the name is known all the same.
"""

from __future__ import annotations

from collections.abc import Sequence
from string import ascii_uppercase

from handkit.findings import nearest
from handkit.geometry.affine import Point
from handkit.read.entries.edges import letters_from, looks_like_edges
from handkit.read.entries.entry import Entry, entry_of
from handkit.read.entries.outline import same_neighbours
from handkit.read.project import FoldLine, InnerLine, MarkKind, MarkLine
from handkit.read.schema.keys import TABLES
from handkit.read.schema.rules import Kind, points_key
from handkit.read.values.field import Field
from handkit.read.values.plain import read_list, read_name, read_points

_POINTS = points_key("points", Kind.POINTS, "", few=2, many=2000)
_CORNERS = points_key("points", Kind.POINTS, "", few=3, many=2000)
_MARKS = points_key("marks", Kind.NAMES, "", few=1, many=200)


def read_lines(entry: Entry, key: str) -> tuple[tuple[str, tuple[Point, ...]], ...]:
    """The lines of `lines` in the order written."""
    lines = [(name, _line_points(field), _is_line_name(name, field)) for name, field in entry.get(key)]
    return tuple((name, points if named else ()) for name, points, named in lines)


def read_marks(entry: Entry) -> tuple[MarkLine, ...]:
    """The marks in the order written, kind by kind; none of a kind that isn't known."""
    return tuple(
        MarkLine(MarkKind(kind), points)
        for kind, field in entry.get("marks")
        if _is_mark_kind(kind, field)
        for line in read_list(field.ruled(_MARKS), what="line")
        if (points := _line_points(line))
    )


def _is_mark_kind(kind: str, field: Field) -> bool:
    if kind in field.rule.choices:
        return True
    near = nearest(kind, field.rule.choices)
    field.with_value(kind).reject("unknown-choice" if near else "unknown-choice/far", near=near)
    return False


def read_outlines(entry: Entry) -> tuple[InnerLine, ...]:
    """The outlines of things in the order written."""
    return tuple(
        InnerLine(name, read_points(field.ruled(_CORNERS)) or ())
        for name, field in entry.get("items")
        if read_name(Field(name, TABLES["piece"].keys["name"], field.location)) is not None
    )


def read_folds(entry: Entry, letters: Sequence[str]) -> tuple[FoldLine, ...]:
    """The folds in the order written: lines, or tables of a line and how it is folded."""
    return tuple(_fold(name, field, letters) for name, field in entry.get("folds"))


def _fold(name: str, field: Field, letters: Sequence[str]) -> FoldLine:
    named = _is_line_name(name, field)
    if not isinstance(field.value, dict):
        points = _line_points(field)
        return FoldLine(name, points if named else ())
    fold = entry_of("fold", field)
    line = fold.field("line") if fold is not None else None
    if fold is None or line is None:
        return FoldLine(name, ())
    points, stays = _line_points(line), fold.get("stays")
    if letters and stays not in letters:
        fold.at("stays").report("unknown-letter/of-fold", letter=stays, letters=letters_from(letters))
        stays = letters[0]
    return FoldLine(
        name,
        points if named else (),
        out=fold.get("out") if fold.has("out") else None,
        angle_degrees=fold.get("angle"),
        radius=fold.get("radius"),
        stays=stays,
    )


def _is_line_name(name: str, field: Field) -> bool:
    """Whether it is a name, and none that could be taken for corner letters: A, or A-B."""
    if read_name(Field(name, TABLES["piece"].keys["name"], field.location)) is None:
        return False
    if looks_like_edges(name) or name in ascii_uppercase:
        field.reject("name-of-letters", name=name, meant=name.lower())
        return False
    return True


def _line_points(field: Field) -> tuple[Point, ...]:
    points = read_points(field.ruled(_POINTS))
    if points is None:
        return ()
    same = same_neighbours(points, closed=False)
    if same is not None:
        place = field.location.down(same, f"point {same + 1}")
        place.report("point-repeated", first=same, second=same + 1)
    return points
