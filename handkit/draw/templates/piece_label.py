"""Piece label: name, quantity, thickness, which side, what to do: the words that a template needs.

In: a view, the products, the window's free space. Out: a mark.

The layout keeps an area free for it. The label takes the fullest form that has room there or
elsewhere in the piece: all lines, then fewer, level or upright; then on bare paper beside it. The
name, the quantity and the side come first and are the last to go.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import msgspec

from handkit.draw.model.fonts import LEAST_SIZE, Fonts
from handkit.draw.model.free_space import FreeSpace, Region
from handkit.draw.model.label_search import Lead, first_free, free_places
from handkit.draw.model.lettering import TextBlock, TextLine, text_block
from handkit.draw.model.marks import Ink, Mark, Words
from handkit.draw.model.view import View
from handkit.draw.templates.hole_ink import punched_through
from handkit.draw.words.names import Codes, layer_code, side_words
from handkit.figures import mm
from handkit.geometry.affine import Point
from handkit.geometry.box import Box, box_of
from handkit.geometry.polygon import nearest_on
from handkit.geometry.straight import unit
from handkit.punch.punched import Punched

NAME_SIZE = 5.0

# Widths a label is tried at, and how far from a window it may look for bare paper, in mm.
WIDE = (120.0, 90.0, 70.0, 55.0, 42.0)
NARROW = (32.0, 24.0, 16.0)
NEARBY = 24.0
FARTHER = (35.0, 70.0)

# How far the line from a label on bare paper reaches into its piece.
LEADER_IN = 1.2


class Area(msgspec.Struct, frozen=True):
    """Where a label may look for room."""

    box: Box
    region: Region = Region.INSIDE
    led: bool = True  # outside: only with a leader to the piece
    anywhere: bool = False  # outside: however far from the piece


# Lines, the widths they may break to, and where to look for room.
Attempt = tuple[tuple[TextLine, ...], tuple[float, ...], tuple[Area, ...]]


def label_mark(
    view: View, punched: Punched, codes: Codes, space: FreeSpace, *, taped: bool = True
) -> tuple[Mark, ...]:
    """The label where it has room; where only a name has, a note elsewhere on the sheet says the
    rest; nothing where there is no room at all, which a test of layouts looks for."""
    lines = label_lines(view, punched, codes, taped=taped)
    words = _placed(_attempts(view, lines), space, parting=False) or _placed(_attempts(view, lines), space)
    note: tuple[Ink | Words, ...] = ()
    if not words:
        words = _placed(_bare(view, lines), space)
        note = _placed(_note(view, lines, space), space) if words else ()
    return view.label((*words, *note))


def _placed(
    attempts: Iterable[Attempt], space: FreeSpace, *, parting: bool = True
) -> tuple[Ink | Words, ...]:
    """The first attempt that has room: the free place nearest to an area's middle."""
    for lines, widths, areas in attempts:
        for form in _forms(lines, widths, space.fonts, parting=parting):
            for area in areas:
                for block in (form, form.turned()):
                    places = free_places(space, area.box, block.width, block.height, area.region)
                    found = first_free(space, block, places, area.region, lead=_lead(space, area))
                    if found is not None:
                        return (*found.leader, *block.words_at(found.place))
    return ()


def _lead(space: FreeSpace, area: Area) -> Lead:
    """On bare paper a label has a leader to its piece, or is plainly about that if it may be."""

    def lead(box: Box) -> tuple[Ink, ...] | None:
        if area.region is not Region.OUTSIDE or area.anywhere:
            return ()
        place = _within(box, space.ring)
        plain = () if not area.led and space.is_own(box.middle, place) else None
        return space.leader(box, place) or plain

    return lead


def label_lines(view: View, punched: Punched, codes: Codes, *, taped: bool = True) -> tuple[TextLine, ...]:
    """All lines, the most needed first; the first three are never left out where others can be. A
    part is `taped` that has a join; another ends at a break line."""
    piece, window = view.piece, view.window
    copies = punched.project.copies
    name = TextLine(piece.name, NAME_SIZE, bold=True)
    how = ": tape, then cut" if taped else ""
    part = (TextLine(f"part {window.number} of {window.count}{how}", bold=True),) * (window.count > 1)
    many = f"{piece.quantity * copies}" if window.copies == 1 else f"1 ({window.copy} of {window.copies})"
    cut = TextLine(f"cut {many} · {mm(piece.thickness)} {piece.material.value}")
    side = TextLine(side_words(piece.mark, piece.material))
    skives = (
        TextLine(f"skive {mm(s.width)} wide, to {mm(s.to)} at the edge")
        for s in piece.skives
        if view.shown(s.path).operators
    )
    trims = (TextLine("cut the wide line; trim to the dashed line when sewn"),) * bool(piece.trims)
    notes = (TextLine(piece.note),) * bool(piece.note and window.number == 1)
    return (name, cut, side, *part, *skives, *trims, *_punching(view, punched, codes), *notes)


def _punching(view: View, punched: Punched, codes: Codes) -> Iterator[TextLine]:
    """The seams whose holes come through another piece, by that piece."""
    through: dict[str, list[str]] = {}
    for seam in punched.seams:
        for layer in seam.layers:
            if layer.piece == view.piece.name:
                for top in punched_through(seam, layer):
                    through.setdefault(top.piece, []).append(layer_code(codes, seam, layer))
    for face, names in through.items():
        yield TextLine(f"{', '.join(names)}: punch through the {face}")


def _attempts(view: View, lines: tuple[TextLine, ...]) -> Iterator[Attempt]:
    """What to try, how wide and where: all lines in the piece, fewer, the needed ones in short;
    then bare paper near it; then over thin lines; at last single words."""
    inside, near, over = _areas(view)
    parted, any_width = view.window.count > 1, (*WIDE, *NARROW)
    needed, short = lines[: 3 + parted], _short(view, lines)
    for count in sorted({len(lines), min(len(lines), 5), min(len(lines), 4)}, reverse=True):
        yield lines[:count], WIDE, inside
    yield needed, WIDE, inside
    yield short, any_width, inside
    yield lines, WIDE, near
    yield needed, any_width, (*inside, *near)
    yield short, any_width, near
    if parted:  # the piece's other parts say the rest
        yield _shortest(view, lines), any_width, inside
    yield short, any_width, over
    far = tuple(Area(box_of(view.rim).grown(reach), Region.OUTSIDE) for reach in FARTHER)
    yield short, any_width, far
    yield _shortest(view, lines), (*any_width, 11.0), (*inside, *over, *near, *far)


def _bare(view: View, lines: tuple[TextLine, ...]) -> Iterator[Attempt]:
    """The bare name, with its part where it has several."""
    inside, near, over = _areas(view)
    areas = (*inside, *(msgspec.structs.replace(area, led=False) for area in near), *over)
    short = msgspec.structs.replace(lines[0], size=LEAST_SIZE)
    if view.window.count > 1:
        name = f"{view.piece.name}, part {view.window.number} of {view.window.count}"
        yield (msgspec.structs.replace(short, text=name),), (*WIDE, *NARROW), areas
    yield (short,), (*WIDE, *NARROW), areas


def _note(view: View, lines: tuple[TextLine, ...], space: FreeSpace) -> Iterator[Attempt]:
    """What the bare name leaves out, after the name, anywhere on the sheet's bare paper."""
    name, *rest = (line.text for line in _short(view, lines))
    area = Area(space.room, Region.OUTSIDE, led=False, anywhere=True)
    yield (TextLine(f"{name}: {', '.join(rest)}"),), WIDE, (area,)


def _short(view: View, lines: tuple[TextLine, ...]) -> tuple[TextLine, ...]:
    """Name, quantity and thickness, side, and which part it is, in the fewest words."""
    piece, window = view.piece, view.window
    cut = TextLine(lines[1].text.partition(f" {piece.material.value}")[0])
    side = TextLine(side_words(piece.mark, piece.material, short=True))
    part = (TextLine(f"part {window.number} of {window.count}", bold=True),) * (window.count > 1)
    return (msgspec.structs.replace(lines[0], size=LEAST_SIZE), cut, side, *part)


def _shortest(view: View, lines: tuple[TextLine, ...]) -> tuple[TextLine, ...]:
    """Name, how many, which part and which side, in single words, for a piece with hardly any room."""
    piece, window = view.piece, view.window
    number = lines[1].text.removeprefix("cut ").partition(" ")[0]
    part = f" {window.number}/{window.count}" if window.count > 1 else ""
    side = side_words(piece.mark, piece.material, short=True).removeprefix("on ").partition(" ")[0]
    return (TextLine(f"{piece.name}{part}", bold=True), TextLine(f"{number}× {side}"))


def _areas(view: View) -> tuple[tuple[Area, ...], tuple[Area, ...], tuple[Area, ...]]:
    """Inside the piece, the layout's area first; on bare paper; over thin lines."""
    kept, bounds = view.window.label, box_of(view.rim)
    inside: tuple[Area, ...] = (Area(bounds),)
    near: tuple[Area, ...] = (Area(bounds.grown(NEARBY), Region.OUTSIDE),)
    if kept is not None:
        if view.window.label_inside:
            inside = (Area(kept), *inside)
        else:
            near = (Area(kept, Region.OUTSIDE), *near)
    return inside, near, (Area(bounds, Region.OVER_LINES),)


def _forms(
    lines: tuple[TextLine, ...], widths: Sequence[float], fonts: Fonts, *, parting: bool
) -> Iterator[TextBlock]:
    """Lines at several widths, each breaking once; then with a smaller name. The name's words are
    parted only where that is asked for."""
    seen: set[tuple[TextLine, ...]] = set()
    for size in (NAME_SIZE, LEAST_SIZE):
        for width in widths:
            head = msgspec.structs.replace(lines[0], size=min(size, lines[0].size))
            laid = text_block((head, *lines[1:]), width, fonts)
            whole = all(fonts.width(word, head.size, bold=True) <= width for word in head.text.split())
            if (whole or parting) and laid.width <= width and laid.lines not in seen:
                seen.add(laid.lines)
                yield laid


def _within(box: Box, ring: Sequence[Point]) -> Point:
    """A place a little inside the outline, where the line from a label ends."""
    edge = nearest_on(box.middle, ring)
    ux, uy = unit(box.nearest(edge), edge) if box.nearest(edge) != edge else (0.0, 0.0)
    return (edge[0] + ux * LEADER_IN, edge[1] + uy * LEADER_IN)
