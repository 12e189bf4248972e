"""Two draftings of one thing, hole by hole."""

from __future__ import annotations

from collections.abc import Callable

from handkit.geometry.path import Path
from handkit.punch.punched import Punched

Point = tuple[float, float]


def same(at: Point) -> Point:
    return at


def furthest(one: Punched, other: Punched, over: Callable[[Point], Point] = same) -> float:
    """How far a hole, an opening or a corner of the second lies from where the first has it, mm; `over` says
    where that should be. What is not there at all is an error."""
    places = [*zip(_places(one, over), _places(other), strict=True)]
    assert places
    for (name, _), (named, _) in places:
        assert name == named
    return max(abs(a - b) for (_, at), (_, there) in places for a, b in zip(at, there, strict=True))


def _places(punched: Punched, over: Callable[[Point], Point] = same) -> list[tuple[object, Point]]:
    """Every hole, opening, corner, mark and outline of a thing with its name, by name."""
    pattern = punched.pattern
    found: list[tuple[object, Point]] = []
    for seam in sorted(punched.seams, key=lambda each: each.name):
        for layer in seam.layers:
            key = ("seam", seam.name, layer.piece, layer.run)
            found += [((*key, hole.number), over(hole.at)) for hole in layer.holes]
    for opening in sorted(pattern.openings, key=lambda each: each.name):
        for place in sorted(opening.places, key=lambda each: (each.piece, each.number)):
            found.append((("opening", opening.name, place.piece, place.number), over(place.at)))
    for piece in pattern.pieces:
        paths = [("outline", piece.outline), ("cut", piece.cut_outline)]
        paths += [("mark", each.path) for each in piece.marks]
        middles = sorted((each.item, over(_middle(each.path))) for each in piece.items)
        found += [(("item", piece.name, name), at) for name, at in middles]
        paths += [("line", each.path) for each in piece.lines]
        for k, (what, path) in enumerate(paths):
            found += [((what, piece.name, k, n), over(each.start)) for n, each in enumerate(path.segments)]
    return found


def _middle(path: Path) -> Point:
    """The middle of its corners: a bar's may begin at either end."""
    count = len(path.segments)
    return (
        sum(each.start[0] for each in path.segments) / count,
        sum(each.start[1] for each in path.segments) / count,
    )


def slits(punched: Punched) -> list[float]:
    """The direction of every slit, in degrees, by the names of the seams."""
    seams = sorted(punched.seams, key=lambda each: each.name)
    return [
        hole.slit_degrees
        for seam in seams
        for layer in seam.layers
        for hole in layer.holes
        if hole.slit_degrees is not None
    ]


def most_turned(
    one: Punched, other: Punched, over: Callable[[float], float] = lambda degrees: degrees
) -> float:
    """By how many degrees slits of the second are turned against where they should be; 0 without slits."""
    turns = ((over(a) - b) % 180 for a, b in zip(slits(one), slits(other), strict=True))
    return max((min(turn, 180 - turn) for turn in turns), default=0.0)
