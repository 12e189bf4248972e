"""Marking: the numbers of faults in the views, at the holes that each is about, else at what it is told of.

In: views, each with how it looks at its figure; faults. Out: the same scenes, with a mark at those holes and
the numbers as names: a heavy line along holes that follow one another, a ring at one alone. Holes are marked
in the view that shows their piece, an opening in all that show any it goes through; what lies between others
and is seen in none, in the front one, over what hides it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import msgspec

from handkit.assemble.article import Body, Figure
from handkit.draw.article.faults import About, Fault
from handkit.draw.article.leaves import folded_place, is_folded, leaves_of
from handkit.draw.article.look import Look
from handkit.draw.article.order import back_to_face
from handkit.draw.article.scene import ArticleScene, Name
from handkit.draw.model.marks import Group, Ink, Mark
from handkit.draw.model.path_ops import PathOps, circle_ops, joined, polyline_ops
from handkit.findings import NamedHoles
from handkit.geometry.affine import Point
from handkit.geometry.region import region_of
from handkit.ink import STROKES, Tag

# The ring round one hole, mm of the article.
ROUND_HOLE = 2.0

# So near to an edge a hole still lies on its piece.
ON_PIECE = 0.5


class _Hole(msgspec.Struct, frozen=True):
    """A hole in a figure's plan, by its number, and the pieces on any of which it is to be seen."""

    number: int
    at: Point
    pieces: tuple[str, ...]


def marked_views(
    views: Sequence[tuple[Look | None, ArticleScene]], faults: Sequence[Fault]
) -> tuple[ArticleScene, ...]:
    """The scenes, with each fault's number as far as what it is about is drawn; holes in what is laid open,
    which has a look."""
    holes = [
        {fault.number: inks for fault in faults if look is not None and (inks := _inks(look, fault))}
        for look, _ in views
    ]
    known = {number for some in holes for number in some}
    others = [fault for fault in faults if fault.number not in known]
    return tuple(_marked(scene, some, others) for (_, scene), some in zip(views, holes, strict=True))


def _marked(scene: ArticleScene, holes: dict[int, tuple[Ink, ...]], others: Sequence[Fault]) -> ArticleScene:
    """One scene: numbers at holes first, then those at the first of what else a fault is about."""
    groups: dict[About, int] = {}
    for index, group in enumerate(scene.groups):
        for about in group.marks[0].properties[:1]:
            groups.setdefault(about, index)
    found = {
        fault.number: groups[about]
        for fault in others
        for about in [about for about in fault.about if about in groups][:1]
    }
    found |= {number: len(scene.groups) + k for k, number in enumerate(holes)}
    names = (Name(str(number), found[number], bold=True, ring=True) for number in sorted(found))
    marks = (Group((Mark(Tag.FAULTY, (("Number", number),), inks),)) for number, inks in holes.items())
    return msgspec.structs.replace(scene, groups=(*scene.groups, *marks), names=(*names, *scene.names))


def _inks(look: Look, fault: Fault) -> tuple[Ink, ...]:
    """The marks of a fault's holes in one view; none where they are drawn in another, or nowhere."""
    paths = [path for named in fault.holes for path in _paths(look, named)]
    return (Ink(joined([look.drawn(path) for path in paths]), STROKES[Tag.FAULTY]),) if paths else ()


def _paths(look: Look, named: NamedHoles) -> Iterator[PathOps]:
    for row in _rows(named.numbers, _holes_of(look, named)):
        if _marks_here(look, row[len(row) // 2]):
            places = [hole.at for hole in row]
            yield polyline_ops(places) if len(places) > 1 else circle_ops(places[0], ROUND_HOLE)


def _holes_of(look: Look, named: NamedHoles) -> dict[int, _Hole]:
    """The named holes that have a place in a figure, by their numbers."""
    bodies = {body.name: body for body in look.figure.bodies if body.lies}
    found: dict[int, _Hole] = {}
    for row in look.figure.rows:
        if row.seam == named.work and (not named.piece or named.piece in row.pieces):
            shown = (named.piece,) if named.piece else row.pieces
            known = [bodies[name] for name in row.pieces if name in bodies]
            folded = [body for body in known if body.name in look.folded]
            for number, (x, y, _) in enumerate(row.front, start=row.first):
                at = folded_place(folded[0], (x, y)) if folded else (x, y)
                found[number] = _Hole(number, at, shown)
    opening = look.openings.get(named.work)
    places = opening.places if opening is not None else ()
    for place in places:
        if place.piece in bodies and named.piece in ("", place.piece):
            body, number = bodies[place.piece], place.number
            at = body.lie.apply(place.at)
            at = folded_place(body, at) if body.name in look.folded else at
            shown = tuple(each.piece for each in places if each.number == number)
            found.setdefault(number, _Hole(number, at, shown))
    return found


def _rows(numbers: Sequence[int], holes: dict[int, _Hole]) -> Iterator[list[_Hole]]:
    """Holes in the order they are named in, those together that follow one another; round a ring too."""
    row: list[_Hole] = []
    for number in numbers:
        if row and (number not in holes or number not in (row[-1].number + 1, 1)):
            yield row
            row = []
        if number in holes:
            row.append(holes[number])
    if row:
        yield row


def _marks_here(look: Look, hole: _Hole) -> bool:
    """Whether this view shows a hole; the front one also where neither does."""
    face, back = (_shows(look.figure, hole, from_face=each) for each in (True, False))
    return face or not back if look.from_face else back


def _shows(figure: Figure, hole: _Hole, *, from_face: bool) -> bool:
    body = _under(figure, hole.at, from_face=from_face)
    return body is None or body.name in hole.pieces


def _under(figure: Figure, at: Point, *, from_face: bool) -> Body | None:
    """The body that is seen at a place; None beside them all."""
    ordered = [each for each in back_to_face(figure) if isinstance(each, Body)]
    for body in reversed(ordered) if from_face else ordered:
        for leaf in leaves_of(body, folded=is_folded(body, figure)):
            if region_of(leaf.outline).contains(at, slack=ON_PIECE):
                return body
    return None
