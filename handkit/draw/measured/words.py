"""Words: what a measured drawing says beside its tables, and how it is marked out.

In: the kit's plan, a piece by its measures. Out: texts. A place is told by two figures: *across*
from the zero line, and *up* from the base line.
"""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from handkit.draft.pattern import PatternPiece
from handkit.draw.model.view import View
from handkit.draw.templates.extra_hole import ExtraHole
from handkit.draw.words.label_words import label_words
from handkit.draw.words.names import KitPlan, layer_code
from handkit.draw.words.needle_words import NOT_PUNCHED, hole_words
from handkit.geometry.affine import Point
from handkit.grouping import grouped
from handkit.kinds.openings import OpeningShape
from handkit.punch.punched import PunchedLayer, PunchedSeam
from handkit.read.project import Edges, Opening
from handkit.sheets.laid import MarkedCorner, MarkedRow, MeasuredPiece, Window
from handkit.wording.figures import Measure, Units, counted, plain

HOW = (
    "In place of a template: mark it on the piece itself, or on card. Draw the base line, and square to it "
    "at its left end the zero line: across counts from the zero line, up from the base line. Mark a row's "
    "first and last hole, set dividers to its step, walk from one to the other, and correct them until the "
    "last step comes out."
)
HOW_SLANTED = "Angles are from the base line, counter-clockwise."
HOW_ROUND = (
    "A round is struck with dividers set to its radius, about the point that is as far from both edges."
)


class MeasuredKit(msgspec.Struct, frozen=True):
    """A piece by its measures, with what else is said of it; lengths are told in the file's `units`."""

    kit: KitPlan
    piece: PatternPiece
    measured: MeasuredPiece
    units: Units
    extras: tuple[ExtraHole, ...] = ()

    @property
    def measure(self) -> Measure:
        """How what is marked out is written."""
        return self.units.marked

    def figures(self, at: Point) -> tuple[str, str]:
        """A place, across and up."""
        return self.measure.number(at[0]), self.measure.number(at[1])

    def code(self, row: MarkedRow) -> str:
        """The short name of a row's seam or opening."""
        if not row.run:
            return self.kit.codes.openings[row.name]
        return layer_code(self.kit.codes, *self.layer(row))

    def single(self, row: MarkedRow) -> str:
        """The short name of a lone hole, with its number where it is one of several."""
        alone = not row.run and sum(one.name == row.name for one in self.measured.rows) == 1
        return self.code(row) if alone else f"{self.code(row)} {row.first}"

    def layer(self, row: MarkedRow) -> tuple[PunchedSeam, PunchedLayer]:
        """The seam and the layer of a row of stitch holes."""
        seam = next(seam for seam in self.kit.punched.seams if seam.name == row.name)
        return seam, seam.layers[row.run - 1]

    def opening(self, row: MarkedRow) -> Opening:
        """The opening of a row."""
        return next(one.opening for one in self.kit.punched.pattern.openings if one.opening.name == row.name)

    @property
    def is_rectangle(self) -> bool:
        """Whether the cut is one with sharp corners."""
        measured = self.measured
        ends = {(0.0, 0.0), (measured.width, 0.0), (measured.width, measured.height), (0.0, measured.height)}
        corners = {self.figures(corner.at) for corner in measured.cut.corners if not corner.radius}
        return len(measured.cut.corners) == 4 and corners == {self.figures(at) for at in ends}

    @property
    def named(self) -> tuple[tuple[str, MarkedCorner], ...]:
        """The corners of the cut with their names: letters, or numbers where it has none; none of a sharp
        rectangle without letters, which its overall sizes tell."""
        if self.is_rectangle and not any(corner.letter for corner in self.measured.cut.corners):
            return ()
        corners = enumerate(self.measured.cut.corners, start=1)
        return tuple((corner.letter or f"{k}", corner) for k, corner in corners)


def head_texts(told: MeasuredKit) -> tuple[str, ...]:
    """How many are cut, of what, on which side it is marked, how the grain runs."""
    piece, traits = told.piece, told.piece.traits
    _, cut, _, *lines = (
        line.text for line in label_words(_view(told), told.kit.punched, told.kit.codes).lines
    )
    work = "; ".join(text for text in lines if text != f"arrow along the {traits.words.arrow}")
    side = piece.side_words(piece.mark)
    mirrored = ", drawn mirrored" if piece.template_mirrored else ""
    grain = f"; {traits.words.arrow} {_way(told)}" if traits.grained else ""
    size = " × ".join(told.figures((told.measured.width, told.measured.height)))
    shape = f"a rectangle {size}; " if told.is_rectangle else ""
    return (f"{cut}; {shape}marked on the {side}{mirrored}{grain}", *(work,) * bool(work))


def _view(told: MeasuredKit) -> View:
    """The piece as one window would show it, all of it."""
    window = Window(told.piece.name, 1, 1, (), told.measured.lie, None, label_inside=False)
    return View(told.piece, window, ())


def _way(told: MeasuredKit) -> str:
    """How the grain runs, by words where it can be."""
    degrees = told.measured.lie.way(told.piece.grain_degrees)
    words = {0.0: "along the base line", 90.0: "square to the base line"}
    return words.get(degrees, f"at {plain(degrees, 1)}° to the base line")


def how_texts(told: MeasuredKit) -> tuple[str, ...]:
    """How it is marked out."""
    rounded = any(corner.radius for line in told.measured.lines for corner in line.corners)
    slanted = any(row.degrees is not None for row in told.measured.rows)
    return (HOW, *(HOW_ROUND,) * rounded, *(HOW_SLANTED,) * slanted)


def hole_texts(told: MeasuredKit) -> Iterator[str]:
    """How each seam's and opening's holes are made and where their line runs, those alike together."""
    texts: dict[str, str] = {}
    for row in told.measured.rows:
        texts.setdefault(told.code(row), _seam_text(told, row) if row.run else _opening_text(told, row))
    for extra in told.extras:
        texts.setdefault(f"{extra.code} turn", "the extra hole past the mouth")
    for text, codes in grouped(texts, by=lambda code: texts[code]).items():
        yield f"{', '.join(codes)}: {text}"


def _seam_text(told: MeasuredKit, row: MarkedRow) -> str:
    seam, layer = told.layer(row)
    punched = told.piece.traits.words.punched
    how = hole_words(seam.stitching.hole, told.units) if punched else NOT_PUNCHED
    stated = seam.pattern.seam.layers[row.run - 1]
    if not isinstance(stated.run, Edges):
        return how
    return f"{how}, stitch line {told.measure.text(stated.inset)} inside {layer.text}"


def _opening_text(told: MeasuredKit, row: MarkedRow) -> str:
    opening = told.opening(row)
    across = told.units.tool(opening.diameter)
    if opening.traits.shape is OpeningShape.SLOT:
        size = f"slot {told.measure.text(opening.length)} long, {across} wide, about its middle"
    elif opening.traits.shape is OpeningShape.KEYED:
        long = told.measure.text(opening.length)
        size = f"buttonhole {long} long with its hole of {across}, about its middle, the cut that way"
    else:
        size = f"hole {across}"
    several = len([one for one in told.measured.rows if one.name == row.name]) > 1 or row.steps
    return f"{row.name}, {size}{' each' if several else ''}"


def count_text(told: MeasuredKit) -> str:
    """How many holes and openings there are, to be counted when all are marked."""
    rows = told.measured.rows
    holes = {(round(x, 3), round(y, 3)) for row in rows if row.run for x, y in row.places()}
    openings = sum(row.steps + 1 for row in rows if not row.run)
    words = [counted(len(holes), "stitch hole")] if holes else []
    words += [counted(openings, "opening")] if openings else []
    return f"When all is marked, count: {' and '.join(words)}." if words else ""
