"""Tables: all figures of a measured drawing, in the order of the work.

In: a piece by its measures. Out: tables; a place is two figures, across and up.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from handkit.draw.measured.figure_table import FigureTable
from handkit.draw.measured.words import MeasuredKit
from handkit.geometry.affine import Point
from handkit.geometry.straight import distance
from handkit.grouping import grouped
from handkit.sheets.laid import LineKind, MarkedCorner, MarkedLine, MarkedRow
from handkit.wording.figures import plain

# So many lines fewer are worth a table of what is alike.
WORTH = 3


def lone_tables(told: MeasuredKit) -> tuple[FigureTable, ...]:
    """What stands alone: corners of the cut and the finished edge, lines, single holes."""
    closed = [line for line in told.measured.lines[1:] if line.path.closed]
    return (
        *((_corner_table("cut", told, told.named),) if told.named else ()),
        *(
            _corner_table(line.kind.value, told, [(one.letter, one) for one in line.corners])
            for line in closed
        ),
        *_line_tables(told),
        _hole_table(told),
    )


def _corner_table(title: str, told: MeasuredKit, corners: Iterable[tuple[str, MarkedCorner]]) -> FigureTable:
    named = list(corners)
    rounded = any(corner.radius for _, corner in named)
    after = [*named[1:], named[0]]
    rows = (
        (
            name,
            *told.figures(corner.at),
            *((told.measure.number(corner.radius) if corner.radius else "sharp",) if rounded else ()),
            told.measure.number(distance(corner.at, following.at)),
        )
        for (name, corner), (_, following) in zip(named, after, strict=True)
    )
    heads = (title, "across", "up", *(("round",) if rounded else ()), "to next")
    return FigureTable(heads, tuple(rows))


def _line_tables(told: MeasuredKit) -> Iterator[FigureTable]:
    """Open lines, straight from corner to corner; of one that goes right through, along the base line or
    square to it, one figure tells all."""
    width, height = told.measured.width, told.measured.height
    through, others = [], []
    for line in (line for line in told.measured.lines if not line.path.closed):
        for one, other in _straights(line):
            (x0, y0), (x1, y1) = (told.figures(at.at) for at in (one, other))
            whole = told.figures((abs(one.at[0] - other.at[0]), abs(one.at[1] - other.at[1])))
            if y0 == y1 and whole[0] == told.measure.number(width):
                through.append((_line_name(line), "", y0))
            elif x0 == x1 and whole[1] == told.measure.number(height):
                through.append((_line_name(line), x0, ""))
            else:
                others.append((_line_name(line), x0, y0, x1, y1))
    yield FigureTable(("line right through", "across", "up"), tuple(through))
    yield FigureTable(("line", "from: across", "up", "to: across", "up"), tuple(others))


def _straights(line: MarkedLine) -> Iterator[tuple[MarkedCorner, MarkedCorner]]:
    """From corner to corner of an open line; of a skive, which goes along the cut, from end to end."""
    ends = (line.corners[0], line.corners[-1])
    return iter([ends]) if line.kind is LineKind.SKIVE else pairwise(line.corners)


def _line_name(line: MarkedLine) -> str:
    return f"{line.kind.value} {line.name}".strip()


def row_tables(told: MeasuredKit) -> tuple[FigureTable, ...]:
    """Rows: first and last hole, straight from the one to the other, steps. Of seams that are alike but for
    their place one stands for all, and tables of their own tell where the others' first hole is."""
    alike = _alike(told)
    listed = [row for row in _listed(told, alike) if row.steps]
    slanted = any(row.degrees is not None for row in listed)
    heads = ("row of holes", "first: across", "up", "last: across", "up", "straight", "steps")
    table = FigureTable(
        (*heads, *(("slit",) if slanted else ())),
        tuple((*_row(told, row), *((_degrees(row),) if slanted else ())) for row in listed),
    )
    return (
        table,
        *(
            FigureTable(
                (f"as {first[0]}, from", "across", "up"),
                tuple((code, *told.figures(_begin(rows))) for code, rows in more),
            )
            for first, *more in alike
        ),
    )


# A seam's short name, and its rows and lone holes.
_Coded = tuple[str, list[MarkedRow]]


def _alike(told: MeasuredKit) -> list[list[_Coded]]:
    """Seams that differ in their place alone, where that saves some lines."""
    seams = grouped((row for row in told.measured.rows if row.run), by=told.code)
    groups = grouped(seams.items(), by=lambda one: _likeness(told, one[1])).values()
    return [some for some in groups if (len(some) - 1) * len(some[0][1]) >= WORTH]


def _likeness(told: MeasuredKit, rows: Sequence[MarkedRow]) -> tuple[object, ...]:
    """What seams have in common that differ in their place alone."""
    x, y = _begin(rows)
    return tuple(
        (row.first, row.last, _degrees(row), *told.figures((at[0] - x, at[1] - y)))
        for row in rows
        for at in (row.start, row.end)
    )


def _begin(rows: Sequence[MarkedRow]) -> Point:
    """Where the hole of the least number is."""
    return min(rows, key=lambda row: row.first).start


def _listed(told: MeasuredKit, alike: Sequence[Sequence[_Coded]]) -> list[MarkedRow]:
    """All that is told hole by hole or row by row."""
    left_out = {code for some in alike for code, _ in some[1:]}
    return [row for row in told.measured.rows if not row.run or told.code(row) not in left_out]


def _row_name(told: MeasuredKit, row: MarkedRow) -> str:
    return f"{told.code(row)} {row.first}\u2013{row.last}"


def _row(told: MeasuredKit, row: MarkedRow) -> tuple[str, ...]:
    step = told.measure.number(row.length / row.steps)
    return (
        _row_name(told, row),
        *told.figures(row.start),
        *told.figures(row.end),
        told.measure.number(row.length),
        f"{row.steps} × {step}",
    )


def _degrees(row: MarkedRow) -> str:
    return "" if row.degrees is None else f"{plain(row.degrees, 1)}°"


def _hole_table(told: MeasuredKit) -> FigureTable:
    """Lone stitch holes, then openings, then extra holes past a mouth."""
    rows = [
        (told.single(row), *told.figures(row.start), _degrees(row))
        for row in _listed(told, _alike(told))
        if not row.steps
    ]
    rows += [
        (f"{extra.code} turn", *told.figures(told.measured.lie.apply(extra.at)), "") for extra in told.extras
    ]
    slanted = any(row[3] for row in rows)
    heads = ("single hole", "across", "up", *(("at",) if slanted else ()))
    return FigureTable(heads, tuple(row[: len(heads)] for row in rows))
