"""Views: a figure as its front and its back are seen.

In: the article, one of its figures. Out: scenes in the base's frame; the back's is mirrored, x turned to −x.

What lies nearer to the eye is drawn later and filled, and so hides the rest: outlines, folds, stitches and
caps alike. Of an item the part that its cover hides is drawn over that, thin and dashed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from math import cos, radians, sin

from handkit.assemble.article import Body, BodyKind, Cap, PlacedFitting, SewnRow, Thing
from handkit.draft.pattern import PatternFold, PatternOpening
from handkit.draw.article.leaves import folded_place, leaves_of
from handkit.draw.article.look import Look
from handkit.draw.article.order import back_to_face
from handkit.draw.article.scene import FLESH, GRAIN, ArticleScene, Canvas, area, lines
from handkit.draw.model.marks import Mark
from handkit.draw.model.path_ops import PathOps, circle_ops, line_ops, path_ops
from handkit.draw.templates.opening_ink import long_rim
from handkit.geometry.affine import Affine, Point
from handkit.geometry.box import Box, around
from handkit.geometry.path import Path
from handkit.geometry.straight import distance
from handkit.ink import Tag
from handkit.kinds.fittings import FittingKind
from handkit.kinds.openings import OpeningKind
from handkit.read.project import Side
from handkit.wording.quoting import words as listed

# What is no part of the article's overall measures: its place is not known, or it moves.
UNMEASURED = (BodyKind.LOOSE, BodyKind.HANGING)

# How much of the way from hole to hole is drawn as a stitch, its middle.
STITCH_SHARE = 0.7

# Rings within a cap's: the rim of an eyelet's hole is its own, a snap's spring and socket are as large.
SNAP_RING = 0.55


def view(look: Look) -> ArticleScene:
    """The picture, from the back to the face or the other way round."""
    canvas, entries = Canvas(), back_to_face(look.figure)
    named: set[str] = set()
    ordered = entries if look.from_face else entries[::-1]
    for index, entry in enumerate(ordered):
        if isinstance(entry, Thing):
            draw_thing(look, canvas, entry)
            continue
        draw_tapes(look, canvas, entry, over=False)
        draw_body(look, canvas, entry)
        draw_hidden_tapes(look, canvas, entry, entry.outline)
        for other in ordered[:index]:
            if isinstance(other, Thing) and other.room.cover == entry.name:
                _hidden(look, canvas, other, entry)
        draw_on(look, canvas, entry, named)
    bodies = [entry for entry in entries if isinstance(entry, Body)]
    known = [body for body in bodies if body.level == 0 or body.kind not in UNMEASURED]
    leaves = [leaf for body in known for leaf in leaves_of(body, folded=look.folds(body))]
    boxes = [Box(*leaf.outline.moved(look.to_picture).bounds()) for leaf in leaves]
    title = "Front" if look.from_face else "Back"
    return canvas.scene(title, around(boxes) if boxes else None, view_notes(look, canvas, bodies))


def draw_body(look: Look, canvas: Canvas, body: Body, name: str = "") -> None:
    """Its parts from the back to the face, with its folds and cut openings, on the side that is seen; named
    as it is called elsewhere."""
    leaves = sorted(
        leaves_of(body, folded=look.folds(body)), key=lambda leaf: leaf.height * (1 if look.from_face else -1)
    )
    areas = [draw_side(look, body, leaf.outline, turned=leaf.turned) for leaf in leaves]
    folds = () if look.folds(body) else body.piece.folds
    canvas.draw(*areas, *draw_lines(look, body, folds))
    canvas.name(name or body.name)


def draw_side(look: Look, body: Body, outline: Path, *, turned: bool = False) -> Mark:
    """A part of a body, in the tone of the side that is seen."""
    flesh = _is_flesh(look, body) is not turned
    return area(Tag.BODY, (("Piece", body.name),), look.drawn(path_ops(outline)), FLESH if flesh else GRAIN)


def draw_lines(look: Look, body: Body, folds: Iterable[PatternFold]) -> Iterator[Mark]:
    """Folds and cut openings of a body."""
    paths = [look.drawn(path_ops(fold.path.moved(body.lie))) for fold in folds]
    yield from lines(Tag.INNER, (("Piece", body.name),), paths)
    yield from _cuts(look, body)


def draw_thing(look: Look, canvas: Canvas, thing: Thing) -> None:
    """An item, named."""
    canvas.draw(area(Tag.THING, (("Item", thing.item),), look.drawn(path_ops(thing.outline))))
    canvas.name(thing.item)


def draw_on(look: Look, canvas: Canvas, body: Body, named: set[str]) -> None:
    """Stitches, caps and fittings on the face of a body that is seen; each name is set once."""
    draw_tapes(look, canvas, body, over=True)
    for tie in look.figure.ties:
        if tie.on == body.name and tie.to_eye is look.from_face and look.has(body, tie.outline.start):
            known = (("Fitting", tie.fitting.name),)
            canvas.draw(area(Tag.FITTING, known, look.drawn(path_ops(tie.outline))))
            canvas.name(tie.fitting.name)
    for row in _rows_seen(look, body):
        canvas.draw(*_stitches(look, row, body))
    draw_fittings(look, canvas, body, named, folded=False)
    if look.leaf is None:
        draw_fittings(look, canvas, body, named, folded=True)
    for cap in look.figure.caps:
        if cap.low == cap.high:
            continue  # a buttonhole, which stands out by nothing
        if cap.on == body.name and cap.to_eye is look.from_face and look.has(body, cap.at):
            canvas.draw(_cap(look, cap))
            if cap.opening not in named:
                named.add(cap.opening)
                canvas.name(cap.opening)


def view_notes(look: Look, canvas: Canvas, bodies: Sequence[Body]) -> list[str]:
    """What is told under a view."""
    loose = [body.name for body in bodies if body.kind is BodyKind.LOOSE and body.level]
    told = [*side_notes(canvas, bodies)]
    told += [f"drawn flat, not measured: {listed(loose, last='and')}"] if loose else []
    told += [f"{each.fitting.name} is drawn cut short" for each in look.figure.ties if each.to_eye]
    units, taken = look.article.punched.project.units, [each.held for each in look.figure.things]
    told += [f"{one.words} is not stated, and drawn {one.sizes(units)}" for one in taken if one.assumed]
    return ["; ".join(told)]


def side_notes(canvas: Canvas, bodies: Sequence[Body]) -> Iterator[str]:
    """What the tone means, where it is seen."""
    shown = canvas.shown(FLESH)
    tones = {body.piece.side_words(Side.FLESH): None for body in bodies if body.name in shown}
    if tones:
        yield f"grey: {' or '.join(tones)}"


def _is_flesh(look: Look, body: Body) -> bool:
    return (body.up if look.from_face else body.up.other) is Side.FLESH


def _hidden(look: Look, canvas: Canvas, thing: Thing, cover: Body) -> None:
    """What a cover hides of an item."""
    outline = look.drawn(path_ops(thing.outline))
    clips = (look.drawn(path_ops(cover.outline)),)
    canvas.draw(*lines(Tag.HIDDEN, (("Item", thing.item),), [outline]), clips=clips)


def _cuts(look: Look, body: Body) -> Iterator[Mark]:
    """Openings of a body that no hardware fills."""
    for name, opening in look.openings.items():
        if opening.opening.traits.hardware:
            continue
        for place in opening.places:
            if place.piece == body.name:
                at = body.lie.apply(place.at)
                if not look.has(body, at):
                    continue
                at = folded_place(body, at) if look.folds(body) else at
                rim = look.drawn(_rim(opening, at, _turned(body, place.degrees)))
                yield from lines(Tag.INNER, (("Piece", body.name), ("Opening", name)), [rim])


def _turned(body: Body, degrees: float) -> Point:
    angle = radians(degrees)
    return body.lie.apply_direction((cos(angle), sin(angle)))


def _rim(opening: PatternOpening, at: Point, along: Point) -> PathOps:
    sizes = opening.opening
    return long_rim(sizes, at, along) if sizes.traits.long else circle_ops(at, sizes.diameter / 2)


def _rows_seen(look: Look, body: Body) -> Iterator[SewnRow]:
    """The rows on the face of a body that is looked at; where leaves lie on one another, what goes through
    them once."""
    known: set[tuple[str, int]] = set()
    for row in look.rows_on.get(body.name, ()):
        if look.has(body, row.front[len(row.front) // 2][:2]):
            if not look.folds(body) or (row.seam, row.first) not in known:
                yield row
            known.add((row.seam, row.first))


def _stitches(look: Look, row: SewnRow, body: Body) -> tuple[Mark, ...]:
    """A stroke from each hole to the next, as thread lies on the face."""
    places = row.front if look.from_face else row.back
    flat = [place[:2] for place in places]
    if look.folds(body):
        flat = [folded_place(body, at) for at in flat]
    holes = [look.to_picture.apply(at) for at in flat]
    seam = next(seam for seam in look.article.punched.seams if seam.name == row.seam)
    if seam.closed and len(holes) == seam.count:
        holes.append(holes[0])
    short = (1 - STITCH_SHARE) / 2
    strokes = [
        line_ops(_between(a, b, short), _between(b, a, short)) for a, b in pairwise(holes) if distance(a, b)
    ]
    return lines(Tag.THREAD, (("Seam", row.seam),), strokes)


def _between(a: Point, b: Point, share: float) -> Point:
    return (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share)


def _cap(look: Look, cap: Cap) -> Mark:
    """A rivet's is a circle, a snap's has a ring within, an eyelet's its hole."""
    known = (("Opening", cap.opening), ("Number", cap.number))
    opening = look.openings[cap.opening].opening
    outer = area(Tag.CAP, known, look.drawn(circle_ops(cap.at, cap.radius)))
    inner = RINGS.get(opening.kind)
    if inner is None:
        return outer
    ring = lines(Tag.CAP, known, [look.drawn(circle_ops(cap.at, inner(cap.radius, opening.diameter / 2)))])
    return Mark(Tag.CAP, known, (*outer.parts, *ring[0].parts))


# The radius of the ring within a cap's, of the cap's and the hole's.
RINGS: Mapping[OpeningKind, Callable[[float, float], float]] = {
    OpeningKind.SNAP: lambda cap, _hole: cap * SNAP_RING,
    OpeningKind.EYELET: lambda cap, hole: min(hole, cap * 0.9),
}


def draw_fittings(look: Look, canvas: Canvas, body: Body, named: set[str], *, folded: bool) -> None:
    """The fittings that lie on a body, or those that it is folded round."""
    shows = (body.up is body.piece.shows) is look.from_face
    for fitting in look.article.punched.pattern.fittings:
        outlines = [each.path for each in body.piece.items if each.item == fitting.name]
        if fitting.fitting.on != body.name or fitting.fitting.traits.by_fold is not folded or not outlines:
            continue
        if folded:
            lie = _moved_with(body, outlines[0]) if look.leaf or look.folds(body) else body.lie
        elif shows:
            lie = body.lie
            outlines = [path for path in outlines if look.has(body, lie.apply(Box(*path.bounds()).middle))]
        else:
            continue
        paths = [look.drawn(path_ops(path.moved(lie))) for path in outlines]
        if paths:
            canvas.draw(*(area(Tag.FITTING, (("Fitting", fitting.name),), path) for path in paths))
            if fitting.name not in named:
                named.add(fitting.name)
                canvas.name(fitting.name)


def draw_tapes(look: Look, canvas: Canvas, body: Body, *, over: bool) -> None:
    """The zip's tapes that lie on a body: on the face that is looked at, or on the far one."""
    for tape in _tapes(look, body, over=over):
        known = (("Fitting", tape.fitting.name),)
        canvas.draw(area(Tag.FITTING, known, look.drawn(path_ops(tape.outline))))
        canvas.name(tape.fitting.name)


def draw_hidden_tapes(look: Look, canvas: Canvas, body: Body, shown: Path) -> None:
    """What a body, of which some is shown, hides of the tapes on its far face."""
    for tape in _tapes(look, body, over=False):
        known, outline = (("Fitting", tape.fitting.name),), look.drawn(path_ops(tape.outline))
        canvas.draw(*lines(Tag.HIDDEN, known, [outline]), clips=(look.drawn(path_ops(shown)),))
        canvas.name(tape.fitting.name)


def _tapes(look: Look, body: Body, *, over: bool) -> Iterator[PlacedFitting]:
    for each in look.figure.fittings:
        if each.fitting.kind is FittingKind.ZIP and each.on == body.name:
            seen = each.to_eye is look.from_face
            if seen is over and look.has(body, Box(*each.outline.bounds()).middle):
                yield each


def _moved_with(body: Body, bar: Path) -> Affine:
    """A bar lies inside its fold, where the bend begins: half a zone before the line."""
    left, low, right, top = bar.bounds()
    middle = ((left + right) / 2, (low + top) / 2)
    bend = min(body.piece.bends, key=lambda bend: abs(bend.beyond(middle)))
    return body.lie @ Affine.shift(bend.way[1] * bend.half, -bend.way[0] * bend.half)
