"""Windows and pieces as the manifest lists them: what each piece shows, and which of it each window.

In: what each window draws. Out: `ListedPiece`, `ListedWindow`.

A piece's shapes are made in its own frame, by the same functions that draw them on a sheet, seen through
a window that holds all of it. Of a line a window has whatever touches it; of holes and openings those that
it draws.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import partial

import msgspec

from handkit.draft.pattern import PatternPiece
from handkit.draw.listed.shapes import mark_shape
from handkit.draw.model.marks import Mark
from handkit.draw.model.view import View
from handkit.draw.templates.extra_hole import ExtraHole, extra_mark, shown_extras
from handkit.draw.templates.hole_ink import ShownHole, hole_mark, shown_holes
from handkit.draw.templates.opening_ink import ShownOpening, opening_marks, shown_openings
from handkit.draw.templates.shown_window import ShownWindow
from handkit.draw.templates.window_ink import TaggedPath, items_on, own_lines, tops_on
from handkit.draw.words.names import Codes
from handkit.geometry.affine import Affine
from handkit.geometry.box import Box
from handkit.kept.kept import NOTHING, KeptOf
from handkit.manifest.listed import ListedMark, ListedPiece, ListedWindow, flat, listed_line, listed_map
from handkit.punch.punched import Punched
from handkit.sheets.laid import Window

# A window that holds all of any piece, in mm.
EVERYWHERE = Box(-1e6, -1e6, 1e6, 1e6)

# What tells a hole, an opening or an extra hole of a piece from the others.
Name = tuple[object, ...]
NamedMarks = tuple[Name, tuple[Mark, ...]]


class PieceShapes(msgspec.Struct, frozen=True):
    """A piece's shapes: its lines first, each a shape; then all else, by name its places in the list."""

    piece: str
    paths: tuple[TaggedPath, ...]
    shapes: tuple[ListedMark, ...]
    places: Mapping[Name, tuple[int, ...]]

    def listed(self) -> ListedPiece:
        """As the manifest has it."""
        return ListedPiece(self.piece, self.shapes)


def piece_shapes(
    punched: Punched,
    piece: PatternPiece,
    codes: Codes,
    extras: tuple[ExtraHole, ...],
    kept: KeptOf = NOTHING,
) -> PieceShapes:
    """All shapes of a piece, in its own frame; `kept` by what is drawn of it."""
    paths = (*tops_on(punched, piece), *items_on(piece), *own_lines(punched, piece))
    named = tuple(_named_marks(_whole(piece), punched, codes, extras))
    drawn = (piece.name, paths, named)
    return kept.of_these("shapes of a piece", drawn, partial(_shapes, *drawn))


def _shapes(piece: str, paths: tuple[TaggedPath, ...], named: Iterable[NamedMarks]) -> PieceShapes:
    shapes = [ListedMark(tag.value, lines=(listed_line(path),)) for tag, path in paths]
    places: dict[Name, tuple[int, ...]] = {}
    for name, marks in named:
        places[name] = tuple(range(len(shapes), len(shapes) + len(marks)))
        shapes += [mark_shape(mark) for mark in marks]
    return PieceShapes(piece, paths, tuple(shapes), places)


def listed_window(shown: ShownWindow, shapes: PieceShapes, own: Iterable[Mark]) -> ListedWindow:
    """A window; `own` are the marks that it alone has, as they are drawn on the sheet."""
    window, back = shown.view.window, shown.view.to_sheet.inverse()
    names: list[Name] = [_hole_name(hole) for hole in shown.holes]
    names += [_opening_name(opening) for opening in shown.openings]
    names += [_extra_name(extra) for extra in shown.extras]
    lines = [k for k, (_, path) in enumerate(shapes.paths) if shown.view.shown(path).operators]
    places = [*lines, *(place for name in names for place in shapes.places[name])]
    return ListedWindow(
        piece=window.piece,
        number=window.number,
        count=window.count,
        placed=listed_map(window.placed),
        rim=flat(window.polygon),
        shows=tuple(_spans(sorted(places))),
        own=tuple(mark_shape(mark, back) for mark in own),
        copy=window.copy,
    )


def _whole(piece: PatternPiece) -> View:
    window = Window(piece.name, 1, 1, EVERYWHERE.corners, Affine(), None, label_inside=False)
    return View(piece, window, window.polygon)


def _named_marks(
    view: View, punched: Punched, codes: Codes, extras: tuple[ExtraHole, ...]
) -> Iterator[NamedMarks]:
    for hole in shown_holes(view, punched, codes):
        yield _hole_name(hole), (hole_mark(view, hole),)
    for opening in shown_openings(view, punched, codes):
        yield _opening_name(opening), opening_marks(view, opening)
    for extra in shown_extras(view, extras):
        yield _extra_name(extra), (extra_mark(view, extra),)


def _hole_name(hole: ShownHole) -> Name:
    return "hole", hole.seam, hole.run, hole.hole.number


def _opening_name(opening: ShownOpening) -> Name:
    return "opening", opening.opening.name, opening.place.number, *opening.place.at  # on two leaves twice


def _extra_name(extra: ExtraHole) -> Name:
    return "extra", extra.code, extra.at


def _spans(places: Iterable[int]) -> Iterator[tuple[int, int]]:
    """Places in a row as first and last.

    >>> list(_spans([0, 1, 2, 5, 7, 8]))
    [(0, 2), (5, 5), (7, 8)]
    """
    first = last = -2
    for place in places:
        if place == last + 1:
            last = place
            continue
        if first >= 0:
            yield first, last
        first = last = place
    if first >= 0:
        yield first, last
