"""Outlines: a piece's shape as written, with its rounded corners and its arcs.

In: a [[piece]] entry. Out: `Outline`: corners with letters and radii, a sagitta for each edge; or a
circle. Whether the shape can be drawn (a radius too big, edges that cross) is not asked here.

    D ---- C      A rectangle's A is the origin, B lies along x.
    |      |      Sagitta: how far the middle of an arc stands off its chord.
    A ---- B
"""

from __future__ import annotations

import math

import msgspec

from handkit.quoting import quoted, words
from handkit.read.entries.edges import Edge, edge, read_edges, single_edges
from handkit.read.entries.entry import Entry
from handkit.read.project import Corner, Point
from handkit.read.schema.rules import Kind
from handkit.read.values import values
from handkit.read.values.letters import letter_names
from handkit.read.values.spot import Fault
from handkit.tolerances import SAME_POINT

OUTLINE_KEYS = ("rectangle", "points", "circle", "copy")


class Outline(msgspec.Struct, frozen=True):
    """The shape of a piece; neither corners nor circle where it was faulty."""

    corners: tuple[Corner, ...] = ()
    sagittas: tuple[float, ...] = ()
    circle: float | None = None


def letters_of(corners: tuple[Corner, ...], circle: float | None) -> tuple[str, ...]:
    """The letters of an outline; none where it isn't known."""
    return ("A",) if circle is not None else tuple(corner.letter for corner in corners)


def read_outline(entry: Entry, *, original: Outline | None) -> Outline:
    """The outline of a piece; that of `original` where the piece is a copy."""
    written = [key for key in OUTLINE_KEYS if entry.has(key)]
    allowed = f"exactly one of {words(OUTLINE_KEYS, last='and')}"
    if not written:
        entry.spot.refuse(Fault("outline-missing", "no outline", allowed, "add one"))
    elif len(written) > 1:
        found = words(written, last="and")
        entry.at(written[1]).refuse(Fault("outline-several", found, allowed, "take the others out"))
    elif written == ["copy"]:
        return _copied(entry, original)
    elif written == ["circle"]:
        _refuse_keys(entry, "key-of-corners", "a circle", "outlines with corners", remedy="take it out")
        return Outline(circle=entry.length("circle"))
    else:
        return _cornered(entry, written[0])
    return Outline()


def promised_outline(entry: Entry, count: int, *, like: Outline | None) -> Outline:
    """An outline that will be drafted, of `count` corners or as many as another: letters without a place."""
    if like is not None and like.circle is not None:
        _refuse_keys(entry, "key-of-corners", "a circle", "outlines with corners", remedy="take it out")
        return like
    letters = tuple(corner.letter for corner in like.corners) if like is not None else letter_names(count)
    radii = _radii(entry, letters) if letters else {}
    corners = tuple(Corner(letter, (0.0, 0.0), radii.get(letter, 0.0)) for letter in letters)
    return Outline(corners, _sagittas(entry, letters) if letters else ())


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


def _copied(entry: Entry, original: Outline | None) -> Outline:
    remedy = "take it out, or write the outline instead of copy"
    _refuse_keys(entry, "outline-of-copy", "a copy", "outlines that are no copy", remedy=remedy)
    if original is None:
        return Outline()
    if not entry.flag("mirrored"):
        return original
    corners = tuple(Corner(each.letter, mirrored_point(each.at), each.radius) for each in original.corners)
    return Outline(corners, original.sagittas, original.circle)


def _refuse_keys(entry: Entry, code: str, of: str, allowed: str, *, remedy: str) -> None:
    """Tell the keys of outlines with corners where there are none."""
    for key in ("round", "arc"):
        if entry.has(key):
            entry.at(key).refuse(Fault(code, f"{key} of {of}", f"{key} of {allowed}", remedy))


def _cornered(entry: Entry, key: str) -> Outline:
    points = entry.points("points") if key == "points" else _rectangle(entry)
    if points is None:
        return Outline()
    letters = letter_names(len(points))
    same = same_neighbours(points, closed=True)
    if same is not None:
        before, here = letters[same - 1], letters[same]
        remedy = (
            "an outline closes itself: leave the last point out" if same == 0 else "leave one of them out"
        )
        found = f"corners {before} and {here} at one point"
        entry.at("points").down(same, f"point {same + 1}").refuse(
            Fault("point-repeated", found, "corners apart", remedy)
        )
    radii = _radii(entry, letters)
    corners = tuple(Corner(name, at, radii.get(name, 0.0)) for name, at in zip(letters, points, strict=True))
    return Outline(corners, _sagittas(entry, letters))


def _rectangle(entry: Entry) -> tuple[Point, ...] | None:
    size = entry.pair("rectangle")
    if size is None:
        return None
    width, height = size
    return ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))


def _radii(entry: Entry, letters: tuple[str, ...]) -> dict[str, float]:
    """The radius of each rounded corner by its letter."""
    if not entry.has("round"):
        return {}
    if not isinstance(entry.value("round"), dict):
        radius = entry.length("round")
        return dict.fromkeys(letters, radius)
    rule = entry.rule("round").of_one(Kind.LENGTH)
    radii: dict[str, float] = {}
    for letter, value, spot in entry.items("round"):
        if letter in letters:
            radii[letter] = values.read_length(value, spot, rule)
        else:
            allowed = f"{letters[0]} to {letters[-1]}"
            remedy = (
                f"write {letter.upper()}" if letter.upper() in letters else "write a letter of this outline"
            )
            spot.refuse(Fault("unknown-letter", f"the letter {quoted(letter)}", allowed, remedy))
    return radii


def _sagittas(entry: Entry, letters: tuple[str, ...]) -> tuple[float, ...]:
    """The sagitta of each edge in order, 0 where it is straight."""
    rule = entry.rule("arc").of_one(Kind.LENGTH)
    by_edge: dict[Edge, float] = {}
    for text, value, spot in entry.items("arc"):
        sagitta = values.read_length(value, spot, rule)
        edges = read_edges(text, letters, spot, seen=by_edge)
        if edges is not None and len(edges.letters) != 2:
            remedy = "give each edge its own sagitta"
            spot.refuse(Fault("arc-of-run", f"the run {text}", 'one edge, such as "A-B"', remedy))
        elif edges is not None:
            by_edge[single_edges(edges)[0]] = sagitta
    following = (*letters[1:], letters[0])
    return tuple(by_edge.get(edge(a, b), 0.0) for a, b in zip(letters, following, strict=True))
