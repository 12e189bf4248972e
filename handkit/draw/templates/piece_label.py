"""Piece label: name, quantity, thickness, which side, what to do: the words that a template needs.

In: a view, the products, the window's site. Out: a mark.

The layout keeps an area free for it. The label takes the fullest form that has room there or
elsewhere in the piece: all lines, then fewer, level or upright; then on bare paper beside it. The
name, the quantity and the side come first and are the last to go.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import msgspec

from handkit.draw.model.fonts import LEAST_SIZE, Fonts
from handkit.draw.model.ground import spots
from handkit.draw.model.lettering import LEADING, capital_height, wrapped
from handkit.draw.model.marks import Ink, Mark, Words
from handkit.draw.model.placing import Site, bounds_of
from handkit.draw.model.view import View
from handkit.draw.templates.hole_ink import punched_through
from handkit.draw.words.names import Codes, figure, layer_code, side_words
from handkit.geometry.affine import Point
from handkit.geometry.box import Box
from handkit.geometry.polygon import nearest_on
from handkit.geometry.straight import unit
from handkit.ink import Tag
from handkit.punch.punched import Punched

NAME_SIZE = 5.0

# Widths a label is tried at, and how far from a window it may look for bare paper, in mm.
WIDE = (120.0, 90.0, 70.0, 55.0, 42.0)
NARROW = (32.0, 24.0, 16.0)
NEARBY = 24.0
FARTHER = (35.0, 70.0)

# How far the line from a label on bare paper reaches into its piece.
LEADER_IN = 1.2


class Line(msgspec.Struct, frozen=True):
    """A line of a label before it is placed."""

    text: str
    size: float = LEAST_SIZE
    bold: bool = False


class Laid(msgspec.Struct, frozen=True):
    """Lines broken to a width, with the room they take."""

    lines: tuple[Line, ...]
    width: float
    height: float


class Area(msgspec.Struct, frozen=True):
    """Where a label may look for room: on bare paper outside, or over thin lines."""

    box: Box
    outside: bool = False
    over_lines: bool = False
    led: bool = True  # outside: only with a line to the piece
    anywhere: bool = False  # outside: however far from the piece


# Lines, the widths they may break to, and where to look for room.
Attempt = tuple[tuple[Line, ...], tuple[float, ...], tuple[Area, ...]]


def label_mark(
    view: View, punched: Punched, codes: Codes, site: Site, *, taped: bool = True
) -> tuple[Mark, ...]:
    """The label where it has room; where only a name has, a note elsewhere on the sheet says the
    rest; nothing where there is no room at all, which a test of layouts looks for."""
    lines = label_lines(view, punched, codes, taped=taped)
    words = _placed(_attempts(view, lines), site, parting=False) or _placed(_attempts(view, lines), site)
    note: tuple[Ink | Words, ...] = ()
    if not words:
        words = _placed(_bare(view, lines), site)
        note = _placed(_note(view, lines, site), site) if words else ()
    return (Mark(Tag.LABEL, view.properties, (*words, *note)),) if words else ()


def _placed(attempts: Iterable[Attempt], site: Site, *, parting: bool = True) -> tuple[Ink | Words, ...]:
    """The first attempt that has room."""
    for lines, widths, areas in attempts:
        for laid in _forms(lines, widths, site.fonts, parting=parting):
            for area in areas:
                for upright in (False, True):
                    found = _room(site, area, laid, upright=upright)
                    if found is not None:
                        box, line = found
                        site.take(box)
                        return (*line, *words_of(laid, box, upright=upright))
    return ()


def label_lines(view: View, punched: Punched, codes: Codes, *, taped: bool = True) -> tuple[Line, ...]:
    """All lines, the most needed first; the first three are never left out where others can be. A
    part is `taped` that has a join; another ends at a break line."""
    piece, window = view.piece, view.window
    copies = punched.pattern.project.copies
    name = Line(piece.name, NAME_SIZE, bold=True)
    how = ": tape, then cut" if taped else ""
    part = (Line(f"part {window.number} of {window.count}{how}", bold=True),) * (window.count > 1)
    many = f"{piece.quantity * copies}" if window.copies == 1 else f"1 ({window.copy} of {window.copies})"
    cut = Line(f"cut {many} · {figure(piece.thickness)} mm {piece.material.value}")
    side = Line(side_words(piece.mark, piece.material))
    skives = (
        Line(f"skive {figure(s.width)} mm wide, to {figure(s.to)} mm at the edge")
        for s in piece.skives
        if view.shown(s.path).operators
    )
    trims = (Line("cut the wide line; trim to the dashed line when sewn"),) * bool(piece.trims)
    notes = (Line(piece.note),) * bool(piece.note and window.number == 1)
    return (name, cut, side, *part, *skives, *trims, *_punching(view, punched, codes), *notes)


def _punching(view: View, punched: Punched, codes: Codes) -> Iterator[Line]:
    """The seams whose holes come through another piece, by that piece."""
    through: dict[str, list[str]] = {}
    for seam in punched.seams:
        for layer in seam.layers:
            if layer.piece == view.piece.name and punched_through(seam, layer):
                through.setdefault(seam.face.piece, []).append(layer_code(codes, seam, layer))
    for face, names in through.items():
        yield Line(f"{', '.join(names)}: punch through the {face}")


def _attempts(view: View, lines: tuple[Line, ...]) -> Iterator[Attempt]:
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
    far = tuple(Area(bounds_of(view.rim).grown(reach), outside=True) for reach in FARTHER)
    yield short, any_width, far
    yield _shortest(view, lines), (*any_width, 11.0), (*inside, *over, *near, *far)


def _bare(view: View, lines: tuple[Line, ...]) -> Iterator[Attempt]:
    """The bare name, with its part where it has several."""
    inside, near, over = _areas(view)
    areas = (*inside, *(msgspec.structs.replace(area, led=False) for area in near), *over)
    short = msgspec.structs.replace(lines[0], size=LEAST_SIZE)
    if view.window.count > 1:
        name = f"{view.piece.name}, part {view.window.number} of {view.window.count}"
        yield (msgspec.structs.replace(short, text=name),), (*WIDE, *NARROW), areas
    yield (short,), (*WIDE, *NARROW), areas


def _note(view: View, lines: tuple[Line, ...], site: Site) -> Iterator[Attempt]:
    """What the bare name leaves out, after the name, anywhere on the sheet's bare paper."""
    name, *rest = (line.text for line in _short(view, lines))
    area = Area(site.inner.room, outside=True, led=False, anywhere=True)
    yield (Line(f"{name}: {', '.join(rest)}"),), WIDE, (area,)


def _short(view: View, lines: tuple[Line, ...]) -> tuple[Line, ...]:
    """Name, quantity and thickness, side, and which part it is, in the fewest words."""
    piece, window = view.piece, view.window
    cut = Line(lines[1].text.partition(f" {piece.material.value}")[0])
    side = Line(side_words(piece.mark, piece.material, short=True))
    part = (Line(f"part {window.number} of {window.count}", bold=True),) * (window.count > 1)
    return (msgspec.structs.replace(lines[0], size=LEAST_SIZE), cut, side, *part)


def _shortest(view: View, lines: tuple[Line, ...]) -> tuple[Line, ...]:
    """Name, how many, which part and which side, in single words, for a piece with hardly any room."""
    piece, window = view.piece, view.window
    number = lines[1].text.removeprefix("cut ").partition(" ")[0]
    part = f" {window.number}/{window.count}" if window.count > 1 else ""
    side = side_words(piece.mark, piece.material, short=True).removeprefix("on ").partition(" ")[0]
    return (Line(f"{piece.name}{part}", bold=True), Line(f"{number}× {side}"))


def _areas(view: View) -> tuple[tuple[Area, ...], tuple[Area, ...], tuple[Area, ...]]:
    """Inside the piece, the layout's area first; on bare paper; over thin lines."""
    kept, bounds = view.window.label, bounds_of(view.rim)
    inside: tuple[Area, ...] = (Area(bounds),)
    near: tuple[Area, ...] = (Area(bounds.grown(NEARBY), outside=True),)
    if kept is not None:
        if view.window.label_inside:
            inside = (Area(kept), *inside)
        else:
            near = (Area(kept, outside=True), *near)
    return inside, near, (Area(bounds, over_lines=True),)


def _forms(
    lines: tuple[Line, ...], widths: Sequence[float], fonts: Fonts, *, parting: bool
) -> Iterator[Laid]:
    """Lines at several widths, each breaking once; then with a smaller name. The name's words are
    parted only where that is asked for."""
    seen: set[tuple[Line, ...]] = set()
    for size in (NAME_SIZE, LEAST_SIZE):
        for width in widths:
            head = msgspec.structs.replace(lines[0], size=min(size, lines[0].size))
            laid = broken((head, *lines[1:]), width, fonts)
            whole = all(fonts.width(word, head.size, bold=True) <= width for word in head.text.split())
            if (whole or parting) and laid.width <= width and laid.lines not in seen:
                seen.add(laid.lines)
                yield laid


def broken(lines: Sequence[Line], width: float, fonts: Fonts) -> Laid:
    """Lines broken to a width."""
    broken = tuple(
        msgspec.structs.replace(line, text=text)
        for line in lines
        for text in wrapped(line.text, width, fonts, size=line.size, bold=line.bold)
    )
    widest = max((fonts.width(line.text, line.size, bold=line.bold) for line in broken), default=0.0)
    return Laid(broken, widest, sum(line.size * LEADING for line in broken))


def _room(site: Site, area: Area, laid: Laid, *, upright: bool) -> tuple[Box, tuple[Ink, ...]] | None:
    """The free box nearest to the area's middle; on bare paper with a line to the piece."""
    width, height = (laid.height, laid.width) if upright else (laid.width, laid.height)
    for box in spots(area.box, width, height):
        if not site.free(box, outside=area.outside, over_lines=area.over_lines):
            continue
        if not area.outside or area.anywhere:
            return box, ()
        place = _within(box, site.ring)
        line = site.leader(box, place)
        if line is not None:
            return box, (line,)
        if not area.led and site.own(((box.left + box.right) / 2, (box.bottom + box.top) / 2), place):
            return box, ()
    return None


def _within(box: Box, ring: Sequence[Point]) -> Point:
    """A place a little inside the outline, where the line from a label ends."""
    middle = ((box.left + box.right) / 2, (box.bottom + box.top) / 2)
    edge = nearest_on(middle, ring)
    ux, uy = unit(box.nearest(edge), edge) if box.nearest(edge) != edge else (0.0, 0.0)
    return (edge[0] + ux * LEADER_IN, edge[1] + uy * LEADER_IN)


def words_of(laid: Laid, box: Box, *, upright: bool) -> tuple[Words, ...]:
    """Lines in a box, from its top; upright text reads from the right."""
    words = []
    depth = 0.0
    for line in laid.lines:
        base = depth + (line.size * LEADING + capital_height(line.size)) / 2
        depth += line.size * LEADING
        if upright:
            words.append(Words(line.text, (box.left + base, box.bottom), line.size, line.bold, 90.0))
        else:
            words.append(Words(line.text, (box.left, box.top - base), line.size, line.bold))
    return tuple(words)
