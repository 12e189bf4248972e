"""Outlines: a piece's shape as written, with its rounded corners and its arcs.

In: a [[piece]] entry. Out: `WrittenOutline`: corners with letters and radii, a sagitta for each edge;
or a circle. Whether the shape can be drawn (a radius too big, edges that cross) is not asked here.

    D ---- C      A rectangle's A is the origin, B lies along x.
    |      |      Sagitta: how far the middle of an arc stands off its chord.
    A ---- B
"""

from __future__ import annotations

import math

import msgspec

from handkit.geometry.affine import Point
from handkit.read.entries.edges import LetterPair, edge, letters_from, read_edges, single_edges
from handkit.read.entries.entry import Entry
from handkit.read.parts.promises import Placeholder
from handkit.read.project import ARRANGED, Corner, Piece
from handkit.read.schema.rules import Kind
from handkit.read.values.letters import letter_names
from handkit.read.values.plain import read_length
from handkit.tolerances import SAME_POINT

OUTLINE_KEYS = ("rectangle", "points", "circle", "copy")
_OF_CORNERS = ("round", "arc")


class WrittenOutline(msgspec.Struct, frozen=True):
    """The shape of a piece; neither corners nor circle where it was faulty."""

    corners: tuple[Corner, ...] = ()
    sagittas: tuple[float, ...] = ()
    circle: float | None = None
    arranged: bool = False  # its corners say nothing yet


def letters_of(corners: tuple[Corner, ...], circle: float | None) -> tuple[str, ...]:
    """The letters of an outline; none where it isn't known."""
    return ("A",) if circle is not None else tuple(corner.letter for corner in corners)


def read_outline(entry: Entry, original: Piece | None) -> WrittenOutline:
    """The outline of a piece; that of `original` where the piece is a copy."""
    match entry.only(OUTLINE_KEYS, missing="outline-missing", several="outline-several"):
        case "copy":
            if keys := [key for key in _OF_CORNERS if entry.has(key)]:
                entry.at(keys[0]).report("outline-of-copy", keys=keys)
            return outline_of(original)
        case "circle":
            _refuse_corner_keys(entry)
            return WrittenOutline(circle=entry.get("circle"))
        case "rectangle" if entry.table["rectangle"] == ARRANGED:
            return msgspec.structs.replace(_cornered(entry, _rectangle((1.0, 1.0))), arranged=True)
        case "rectangle":
            return _cornered(entry, _rectangle(entry.get("rectangle")))
        case "points":
            return _cornered(entry, entry.get("points"))
        case _:
            return WrittenOutline()


def lettered_outline(entry: Entry, promised: Placeholder, like: Piece | None) -> WrittenOutline:
    """An outline to be drafted, of as many corners as are promised, or as another has: letters without a
    place."""
    if like is not None and like.circle is not None:
        _refuse_corner_keys(entry)
        return outline_of(like)
    own = letter_names(promised.letters)
    letters = own if like is None else tuple(corner.letter for corner in like.corners)
    outline = _rounded(entry, letters, ((0.0, 0.0),) * len(letters)) if letters else WrittenOutline()
    arranged = promised.arranges and entry.table.get("rectangle") == ARRANGED
    return msgspec.structs.replace(outline, arranged=arranged)


def outline_of(piece: Piece | None) -> WrittenOutline:
    """The outline of a piece, as it was written for it."""
    return WrittenOutline(piece.corners, piece.sagittas, piece.circle) if piece else WrittenOutline()


def _refuse_corner_keys(entry: Entry) -> None:
    """Refuse the keys of outlines with corners in a circle."""
    for key in (key for key in _OF_CORNERS if entry.has(key)):
        entry.at(key).report("key-of-corners", key=key)


def same_neighbours(points: tuple[Point, ...], *, closed: bool) -> int | None:
    """The index of the first point that equals the one before it; 0 is the last again at the first."""
    for index in range(0 if closed else 1, len(points)):
        if math.dist(points[index], points[index - 1]) <= SAME_POINT:
            return index
    return None


def _rectangle(size: Point | None) -> tuple[Point, ...] | None:
    if size is None:
        return None
    width, height = size
    return ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))


def _cornered(entry: Entry, points: tuple[Point, ...] | None) -> WrittenOutline:
    """The outline with these corners; none where they are faulty."""
    if points is None:
        return WrittenOutline()
    letters = letter_names(len(points))
    same = same_neighbours(points, closed=True)
    if same is not None:
        place = entry.at("points").down(same, f"point {same + 1}")
        message = "point-repeated/corners" if same else "point-repeated/closing"
        place.report(message, first=letters[same - 1], second=letters[same])
    return _rounded(entry, letters, points)


def _rounded(entry: Entry, letters: tuple[str, ...], points: tuple[Point, ...]) -> WrittenOutline:
    """The outline with its corners rounded and its edges bent."""
    radii = _radii(entry, letters)
    corners = tuple(Corner(name, at, radii.get(name, 0.0)) for name, at in zip(letters, points, strict=True))
    return WrittenOutline(corners, _sagittas(entry, letters))


def _radii(entry: Entry, letters: tuple[str, ...]) -> dict[str, float]:
    """The radius of each rounded corner by its letter."""
    written = entry.get("round")
    if not isinstance(written, list):
        return {} if written is None else dict.fromkeys(letters, written)
    radii: dict[str, float] = {}
    for letter, field in written:
        if letter in letters:
            radii[letter] = read_length(field.of_kind(Kind.LENGTH))
        elif letter.upper() in letters:
            field.reject(
                "unknown-letter/small", letter=letter, letters=letters_from(letters), meant=letter.upper()
            )
        else:
            field.reject("unknown-letter/round", letter=letter, letters=letters_from(letters))
    return radii


def _sagittas(entry: Entry, letters: tuple[str, ...]) -> tuple[float, ...]:
    """The sagitta of each edge in order, 0 where it is straight."""
    by_edge: dict[LetterPair, float] = {}
    for text, field in entry.get("arc"):
        sagitta = read_length(field.of_kind(Kind.LENGTH))
        edges = read_edges(text, letters, field.location, seen=by_edge)
        if edges is not None and len(edges.letters) != 2:
            field.reject("arc-of-run", run=text)
        elif edges is not None:
            by_edge[single_edges(edges)[0]] = sagitta
    following = (*letters[1:], letters[0])
    return tuple(by_edge.get(edge(a, b), 0.0) for a, b in zip(letters, following, strict=True))
