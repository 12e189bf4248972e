"""The pieces as SVG 1.1 at true size, for other programs.

In: the punched pattern. Out: text: one drawing, 1 unit is 1 mm, the pieces side by side in the
file's order, a group for each with its name as the title. SVG's y goes down, so every y is turned;
each piece stands as seen from the side that will show, whichever side its template is laid on.

Lines and arcs stay lines and arcs. Kinds differ by class, width and dash, all black.
"""

from __future__ import annotations

from math import cos, pi, radians, sin
from xml.etree import ElementTree as ET

import msgspec

from handkit.draft.pattern import Letter, PatternOpening, PatternPiece, PlacedOpening
from handkit.draw.export.svg_writing import drawing, set_title, svg_file, svg_number
from handkit.draw.templates.opening_ink import keyed_path
from handkit.draw.templates.window_ink import MARK_TAGS
from handkit.geometry.affine import Affine, Point
from handkit.geometry.box import Box
from handkit.geometry.path import Path
from handkit.geometry.segment import Segment
from handkit.ink import STROKES, Tag
from handkit.kinds.openings import OpeningShape
from handkit.punch.punched import Hole, Punched

GAP = 10.0
SIZE = "4"  # of letters, mm
LETTER_LOOK = {"class": "letter", "font-family": "sans-serif", "fill": "black", "stroke": "none"}

CLASSES: dict[Tag, str] = {
    Tag.OUTLINE: "outline",
    Tag.TRIM: "trim",
    Tag.FINISHED: "finished-edge",
    Tag.HEM: "hem-fold",
    Tag.FOLD: "fold",
    Tag.MEET: "meet",
    Tag.NOTCH: "notch",
    Tag.TAPE: "tape",
    Tag.STITCH: "stitch-line",
    Tag.HOLE: "hole",
    Tag.OPENING: "opening",
}


class _Place(msgspec.Struct, frozen=True):
    """A piece's group, and where on the drawing it stands: x' = x + shift, y' = base − y."""

    group: ET.Element
    shift: float
    base: float

    def numbers(self, at: Point) -> tuple[str, str]:
        """A point of the piece on the drawing."""
        return (svg_number(at[0] + self.shift), svg_number(self.base - at[1]))

    def circle(self, tag: Tag, at: Point, radius: float) -> None:
        """Draw a circle."""
        place = dict(zip(("cx", "cy"), self.numbers(at), strict=True))
        ET.SubElement(self.group, "circle", {**_pen(tag), **place, "r": svg_number(radius)})

    def path(self, tag: Tag, path: Path) -> None:
        """Draw a path."""
        start = f"M {' '.join(self.numbers(path.start))}"
        steps = [start, *map(self._step, path.segments), *(("Z",) if path.closed else ())]
        ET.SubElement(self.group, "path", {**_pen(tag), "d": " ".join(steps)})

    def _step(self, segment: Segment) -> str:
        """L or A. With y turned an arc to the left still looks so: SVG's sweep 0, against its angles."""
        end = " ".join(self.numbers(segment.end))
        if not segment.bulge:
            return f"L {end}"
        radius, large = f"{segment.radius:.6f}", int(abs(segment.sweep) > pi + 1e-9)
        return f"A {radius} {radius} 0 {large} {int(segment.bulge < 0)} {end}"

    def letter(self, letter: Letter) -> None:
        """Write a corner's letter."""
        place = dict(zip(("x", "y"), self.numbers(letter.at), strict=True))
        ET.SubElement(self.group, "text", {**LETTER_LOOK, **place, "font-size": SIZE}).text = letter.name


def pieces_svg(punched: Punched) -> str:
    """The drawing. Its width and height are the pieces' bounds with 10 mm around and between."""
    pieces = punched.pattern.pieces
    boxes = [Box(*piece.cut_outline.bounds()) for piece in pieces]
    height = max((box.height for box in boxes), default=0.0) + 2 * GAP
    width = GAP + sum(box.width + GAP for box in boxes)
    root = drawing(width, height)
    set_title(root, punched.project.title)
    x = GAP
    for number, (piece, box) in enumerate(zip(pieces, boxes, strict=True), start=1):
        group = ET.SubElement(root, "g", {"id": f"piece-{number}"})
        _draw(punched, piece, _Place(group, x - box.left, height - GAP + box.bottom))
        x += box.width + GAP
    return svg_file(root)


def _draw(punched: Punched, piece: PatternPiece, place: _Place) -> None:
    """All lines, holes, openings and letters of a piece."""
    set_title(place.group, piece.name)
    runs = (run for seam in punched.pattern.seams for run in seam.runs if run.piece == piece.name)
    lines = (
        (Tag.OUTLINE, piece.cut_outline),
        *((Tag.TRIM, trim) for trim in piece.trims),
        *((Tag.FINISHED, work.path) for work in piece.works if work.is_inside),
        *((Tag.HEM, fold) for work in piece.works for fold in work.folds),
        *((Tag.FOLD, fold.path) for fold in piece.folds),
        *((MARK_TAGS[mark.kind], mark.path) for mark in piece.marks),
        *((Tag.STITCH, run.path) for run in runs if run.path is not None),
    )
    for tag, path in lines:
        place.path(tag, path)
    for seam, _, hole in punched.holes_of(piece.name):
        _hole(hole, seam.stitching.hole.width / 2, place)
    for opening in punched.pattern.openings:
        for at in opening.places:
            if at.piece == piece.name:
                _opening(opening, at, place)
    for letter in piece.letters:
        place.letter(letter)


def _hole(hole: Hole, reach: float, place: _Place) -> None:
    if hole.slit_degrees is None:
        place.circle(Tag.HOLE, hole.at, reach)
        return
    (x, y), turn = hole.at, radians(hole.slit_degrees)
    dx, dy = reach * cos(turn), reach * sin(turn)
    place.path(Tag.HOLE, Path((Segment((x - dx, y - dy), (x + dx, y + dy)),)))


def _opening(opening: PatternOpening, at: PlacedOpening, place: _Place) -> None:
    sizes = opening.opening
    if sizes.traits.long:
        made = _slot if sizes.traits.shape is OpeningShape.SLOT else keyed_path
        by = Affine.shift(*at.at) @ Affine.turn(at.degrees)
        place.path(Tag.OPENING, made(sizes.length, sizes.diameter).moved(by))
    else:
        place.circle(Tag.OPENING, at.at, sizes.diameter / 2)


def _slot(length: float, width: float) -> Path:
    """A slot with round ends about the origin, its length along x; a circle where it is as wide as long."""
    reach, r = (length - width) / 2, width / 2
    right, left = Segment((reach, -r), (reach, r), 1.0), Segment((-reach, r), (-reach, -r), 1.0)
    if reach <= 0:
        return Path((right, left), closed=True)
    top, foot = Segment((reach, r), (-reach, r)), Segment((-reach, -r), (reach, -r))
    return Path((right, top, left, foot), closed=True)


def _pen(tag: Tag) -> dict[str, str]:
    """Class, width and dash of a kind of line."""
    stroke = STROKES[tag]
    pen = {"class": CLASSES[tag], "stroke-width": svg_number(stroke.width)}
    if stroke.dash:
        pen["stroke-dasharray"] = " ".join(svg_number(length) for length in stroke.dash)
    return pen
