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
from handkit.read.project import Corner
from handkit.read.schema.rules import Kind
from handkit.read.values.letters import letter_names
from handkit.read.values.plain import read_length
from handkit.tolerances import SAME_POINT

OUTLINE_KEYS = ("rectangle", "points", "circle", "copy")


class WrittenOutline(msgspec.Struct, frozen=True):
    """The shape of a piece; neither corners nor circle where it was faulty."""

    corners: tuple[Corner, ...] = ()
    sagittas: tuple[float, ...] = ()
    circle: float | None = None


def letters_of(corners: tuple[Corner, ...], circle: float | None) -> tuple[str, ...]:
    """The letters of an outline; none where it isn't known."""
    return ("A",) if circle is not None else tuple(corner.letter for corner in corners)


def read_outline(entry: Entry, *, original: WrittenOutline | None) -> WrittenOutline:
    """The outline of a piece; that of `original` where the piece is a copy."""
    written = [key for key in OUTLINE_KEYS if entry.has(key)]
    if not written:
        entry.location.report("outline-missing", outlines=OUTLINE_KEYS)
    elif len(written) > 1:
        entry.at(written[1]).report("outline-several", keys=written, outlines=OUTLINE_KEYS)
    elif written == ["copy"]:
        return _copied(entry, original)
    elif written == ["circle"]:
        refuse_corner_keys(entry)
        return WrittenOutline(circle=entry.get("circle"))
    else:
        return _cornered(entry, written[0])
    return WrittenOutline()


def lettered_outline(entry: Entry, count: int, *, like: WrittenOutline | None) -> WrittenOutline:
    """An outline to be drafted, of `count` corners or as many as another: letters without a place."""
    if like is not None and like.circle is not None:
        refuse_corner_keys(entry)
        return like
    letters = tuple(corner.letter for corner in like.corners) if like is not None else letter_names(count)
    points = ((0.0, 0.0),) * len(letters)
    return _rounded(entry, letters, points) if letters else WrittenOutline()


def refuse_corner_keys(entry: Entry) -> None:
    """Refuse the keys of outlines with corners in a circle."""
    for key in ("round", "arc"):
        if entry.has(key):
            entry.at(key).report("key-of-corners", key=key)


def mirrored_point(point: Point) -> Point:
    """The point with x turned to −x; never −0.

    >>> mirrored_point((0.0, 2.0)), mirrored_point((3.0, 2.0))
    ((0.0, 2.0), (-3.0, 2.0))
    """
    return (0.0 - point[0], point[1])


def same_neighbours(points: tuple[Point, ...], *, closed: bool) -> int | None:
    """The index of the first point that equals the one before it; 0 is the last again at the first."""
    for index in range(0 if closed else 1, len(points)):
        if math.dist(points[index], points[index - 1]) <= SAME_POINT:
            return index
    return None


def _copied(entry: Entry, original: WrittenOutline | None) -> WrittenOutline:
    for key in ("round", "arc"):
        if entry.has(key):
            entry.at(key).report("outline-of-copy", key=key)
    if original is None or not entry.get("mirrored"):
        return original or WrittenOutline()
    corners = tuple(Corner(each.letter, mirrored_point(each.at), each.radius) for each in original.corners)
    return WrittenOutline(corners, original.sagittas, original.circle)


def _cornered(entry: Entry, key: str) -> WrittenOutline:
    points: tuple[Point, ...] | None = entry.get("points") if key == "points" else _rectangle(entry)
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


def _rectangle(entry: Entry) -> tuple[Point, ...] | None:
    size: Point | None = entry.get("rectangle")
    if size is None:
        return None
    width, height = size
    return ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))


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
