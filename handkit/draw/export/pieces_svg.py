"""The pieces as SVG 1.1 at true size, for other programs.

In: the punched pattern. Out: text: one drawing, 1 unit is 1 mm, the pieces side by side in the
file's order, a group for each with its name as the title. SVG's y goes down, so every y is turned;
each piece stands as seen from the side that will show, whichever side its template is laid on.

Lines and arcs stay lines and arcs. Kinds are told apart by class, width and dash, all black.
"""

from __future__ import annotations

from math import cos, pi, radians, sin
from xml.etree import ElementTree as ET

import msgspec

from handkit.draft.pattern import Letter, PatternOpening, PatternPiece, PlacedOpening
from handkit.draw.templates.window_ink import MARK_TAGS
from handkit.geometry.affine import Affine, Point
from handkit.geometry.path import Path
from handkit.geometry.segment import Segment
from handkit.ink import STROKES, Tag
from handkit.kinds.openings import OpeningShape
from handkit.punch.punched import Hole, Punched
from handkit.read.project import StitchHole

GAP = 10.0
LETTER_SIZE = 4.0
NAMESPACE = "http://www.w3.org/2000/svg"

# Characters that XML 1.0 has no place for, not even escaped.
_NOT_XML = dict.fromkeys((*range(0x09), 0x0B, 0x0C, *range(0x0E, 0x20), 0xFFFE, 0xFFFF), "\ufffd")

CLASSES: dict[Tag, str] = {
    Tag.OUTLINE: "outline",
    Tag.TRIM: "trim",
    Tag.FOLD: "fold",
    Tag.MEET: "meet",
    Tag.NOTCH: "notch",
    Tag.STITCH: "stitch-line",
    Tag.HOLE: "hole",
    Tag.OPENING: "opening",
}


class _Spot(msgspec.Struct, frozen=True):
    """A piece's bounds, and where on the drawing it stands: x' = x + shift, y' = base − y."""

    shift: float
    base: float

    def point(self, at: Point) -> str:
        """A point as two numbers."""
        return f"{_number(at[0] + self.shift)} {_number(self.base - at[1])}"

    def x(self, x: float) -> str:
        """An x of the piece on the drawing."""
        return _number(x + self.shift)

    def y(self, y: float) -> str:
        """A y of the piece on the drawing."""
        return _number(self.base - y)


def pieces_svg(punched: Punched) -> str:
    """The drawing. Its width and height are the pieces' bounds with 10 mm around and between."""
    pieces = punched.pattern.pieces
    bounds = [piece.cut_outline.bounds() for piece in pieces]
    height = max((top - bottom for _, bottom, _, top in bounds), default=0.0) + 2 * GAP
    groups, x = [], GAP
    for number, (piece, (left, bottom, right, _)) in enumerate(zip(pieces, bounds, strict=True), start=1):
        groups.append(_group(punched, piece, number, _Spot(x - left, height - GAP + bottom)))
        x += right - left + GAP
    root = _root(x, height)
    title = ET.SubElement(root, "title")
    title.text = _text(punched.pattern.project.title)
    root.extend(groups)
    ET.indent(root)
    head = '<?xml version="1.0" encoding="UTF-8"?>\n'
    return head + ET.tostring(root, encoding="unicode") + "\n"


def _root(width: float, height: float) -> ET.Element:
    return ET.Element(
        "svg",
        {
            "xmlns": NAMESPACE,
            "version": "1.1",
            "width": f"{_number(width)}mm",
            "height": f"{_number(height)}mm",
            "viewBox": f"0 0 {_number(width)} {_number(height)}",
            "fill": "none",
            "stroke": "black",
        },
    )


def _group(punched: Punched, piece: PatternPiece, number: int, spot: _Spot) -> ET.Element:
    group = ET.Element("g", {"id": f"piece-{number}"})
    title = ET.SubElement(group, "title")
    title.text = _text(piece.name)
    _path(group, Tag.OUTLINE, piece.cut_outline, spot)
    for trim in piece.trims:
        _path(group, Tag.TRIM, trim, spot)
    for fold in piece.folds:
        _path(group, Tag.FOLD, fold.path, spot)
    for mark in piece.marks:
        _path(group, MARK_TAGS[mark.kind], mark.path, spot)
    for seam in punched.pattern.seams:
        for run in seam.runs:
            if run.piece == piece.name and run.path is not None:
                _path(group, Tag.STITCH, run.path, spot)
    for punched_seam, _, hole in punched.holes_of(piece.name):
        _hole(group, hole, punched_seam.stitching.hole, spot)
    for opening in punched.pattern.openings:
        for place in opening.places:
            if place.piece == piece.name:
                _opening(group, opening, place, spot)
    for letter in piece.letters:
        _letter(group, letter, spot)
    return group


def _letter(group: ET.Element, letter: Letter, spot: _Spot) -> None:
    place = {"x": spot.x(letter.at[0]), "y": spot.y(letter.at[1]), "font-size": _number(LETTER_SIZE)}
    look = {"class": "letter", "font-family": "sans-serif", "fill": "black", "stroke": "none"}
    ET.SubElement(group, "text", {**look, **place}).text = letter.name


def _hole(group: ET.Element, hole: Hole, kind: StitchHole, spot: _Spot) -> None:
    if hole.slit_degrees is None:
        _circle(group, Tag.HOLE, hole.at, kind.width / 2, spot)
        return
    turn, reach = radians(hole.slit_degrees), kind.width / 2
    dx, dy = reach * cos(turn), reach * sin(turn)
    (x, y) = hole.at
    _path(group, Tag.HOLE, Path((Segment((x - dx, y - dy), (x + dx, y + dy)),)), spot)


def _opening(group: ET.Element, opening: PatternOpening, place: PlacedOpening, spot: _Spot) -> None:
    sizes = opening.opening
    if sizes.traits.shape is OpeningShape.SLOT:
        by = Affine.shift(*place.at) @ Affine.turn(place.degrees)
        _path(group, Tag.OPENING, _slot(sizes.length, sizes.diameter).moved(by), spot)
    else:
        _circle(group, Tag.OPENING, place.at, sizes.diameter / 2, spot)


def _slot(length: float, width: float) -> Path:
    """A slot with round ends about the origin, its length along x; a circle where it is as wide as long."""
    reach, r = (length - width) / 2, width / 2
    right, left = Segment((reach, -r), (reach, r), 1.0), Segment((-reach, r), (-reach, -r), 1.0)
    if reach <= 0:
        return Path((right, left), closed=True)
    top, foot = Segment((reach, r), (-reach, r)), Segment((-reach, -r), (reach, -r))
    return Path((right, top, left, foot), closed=True)


def _circle(group: ET.Element, tag: Tag, at: Point, radius: float, spot: _Spot) -> None:
    place = {"cx": spot.x(at[0]), "cy": spot.y(at[1]), "r": _number(radius)}
    ET.SubElement(group, "circle", {**_pen(tag), **place})


def _path(group: ET.Element, tag: Tag, path: Path, spot: _Spot) -> None:
    steps = [f"M {spot.point(path.start)}", *(_step(segment, spot) for segment in path.segments)]
    if path.closed:
        steps.append("Z")
    ET.SubElement(group, "path", {**_pen(tag), "d": " ".join(steps)})


def _step(segment: Segment, spot: _Spot) -> str:
    """L or A. With y turned an arc to the left still looks so: SVG's sweep 0, against its angles."""
    if not segment.bulge:
        return f"L {spot.point(segment.end)}"
    radius = f"{segment.radius:.6f}"
    large = int(abs(segment.sweep) > pi + 1e-9)
    return f"A {radius} {radius} 0 {large} {int(segment.bulge < 0)} {spot.point(segment.end)}"


def _pen(tag: Tag) -> dict[str, str]:
    """Class, width and dash of a kind of line."""
    stroke = STROKES[tag]
    pen = {"class": CLASSES[tag], "stroke-width": _number(stroke.width)}
    if stroke.dash:
        pen["stroke-dasharray"] = " ".join(_number(length) for length in stroke.dash)
    return pen


def _number(value: float) -> str:
    """Four decimals at most, no -0."""
    return f"{round(value, 4) + 0.0:.4f}".rstrip("0").rstrip(".")


def _text(text: str) -> str:
    return text.translate(_NOT_XML)
