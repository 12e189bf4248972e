"""Shut: front and back of a figure once all its pieces are folded, leaf by leaf.

In: the article, one of its figures. Out: scenes in the base's frame, as `views.py` has them; none of a figure
whose views show it so already.

Each leaf is looked at by itself, from the side that is seen of it then, and drawn where it comes to; what
stands at an angle is drawn as it is seen from above, what stands upright is not seen.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import copysign, inf

import msgspec

from handkit.assemble.article import Article, Body, BodyKind, Figure, Leaf, PassedStrap, Thing
from handkit.draw.article.leaves import is_folded, reaching
from handkit.draw.article.look import look_at
from handkit.draw.article.scene import ArticleScene, Canvas, area, lines
from handkit.draw.article.views import (
    UNMEASURED,
    draw_fittings,
    draw_hidden_tapes,
    draw_lines,
    draw_on,
    draw_side,
    draw_tapes,
    draw_thing,
    view_notes,
)
from handkit.draw.model.marks import Mark
from handkit.draw.model.path_ops import path_ops
from handkit.geometry.affine import Affine
from handkit.geometry.box import Box, around, box_of
from handkit.geometry.path import Path
from handkit.geometry.space import Motion
from handkit.ink import Tag

# What is seen of a leaf at so steep an angle is a line: the cosine of the angle.
UPRIGHT = 0.02


class _Part(msgspec.Struct, frozen=True):
    """A leaf or an item, where it comes in the row from the back to the face."""

    level: float
    leaf: Leaf
    entry: Body | Thing
    outline: Path


def shut_views(article: Article, figure: Figure) -> tuple[ArticleScene, ...]:
    """Front and back. What is folded over a thing on its far side, as a sheath is over its blade, lies on the
    body with its near side, so that its front is the leaf that comes over."""
    folded = [body for body in figure.bodies if body.sheet is not None]
    if all(is_folded(body, figure) for body in folded):
        return ()
    return tuple(
        msgspec.structs.replace(_view(article, figure, from_face=from_face), title=title)
        for title, from_face in zip(
            ("Front", "Back"), (not _worn_over(figure), _worn_over(figure)), strict=True
        )
    )


def _worn_over(figure: Figure) -> bool:
    """Whether the leaf that keeps its place is the one behind, as a sheath's is."""
    return any(
        thing.room.folded and thing.room.behind and thing.room.base == figure.base for thing in figure.things
    )


def _view(article: Article, figure: Figure, *, from_face: bool) -> ArticleScene:
    looks = {face: look_at(article, figure, from_face=face, by_leaf=True) for face in (True, False)}
    canvas, named, boxes = Canvas(), set[str](), list[Box]()
    to_picture = Affine() if from_face else Affine.mirror()
    parts = sorted(_parts(figure), key=lambda part: part.level)
    parts = parts if from_face else parts[::-1]
    last = {part.entry.name: part for part in parts if isinstance(part.entry, Body)}
    for part in parts:
        lie = to_picture @ _seen_from_above(part.leaf.fold)
        of = looks[from_face is not part.leaf.fold.turns_over]
        look = msgspec.structs.replace(of, to_picture=lie, leaf=part.leaf)
        if isinstance(part.entry, Thing):
            draw_thing(look, canvas, part.entry)
            continue
        body = part.entry
        folds = [fold for fold in body.piece.folds if fold.bend is None]
        draw_tapes(look, canvas, body, over=False)
        canvas.draw(draw_side(look, body, part.outline), *draw_lines(look, body, folds))
        if last[body.name] is part:
            canvas.name(body.name)
        clips = (look.drawn(path_ops(part.outline)),)
        canvas.draw(*_inside(figure, body, to_picture), clips=clips)
        draw_hidden_tapes(look, canvas, body, part.outline)
        draw_on(look, canvas, body, named)
        if last[body.name] is part:
            open_ = msgspec.structs.replace(looks[from_face], to_picture=to_picture, leaf=body.leaves[0])
            draw_fittings(open_, canvas, body, named, folded=True)
        if body.level == 0 or body.kind not in UNMEASURED:
            numbers = look.drawn(path_ops(part.outline)).numbers
            boxes.append(box_of(zip(numbers[::2], numbers[1::2], strict=True)))
    for strap in figure.straps:
        _draw_strap(canvas, strap, to_picture, outside=strap.on_face is from_face)
    bodies = [part.entry for part in parts if isinstance(part.entry, Body)]
    notes = view_notes(looks[from_face], canvas, list(dict.fromkeys(bodies)))
    return canvas.scene("Front" if from_face else "Back", around(boxes), notes)


def _draw_strap(canvas: Canvas, strap: PassedStrap, to_picture: Affine, *, outside: bool) -> None:
    """A strap that holds all shut, over it; dashed where it goes under what its slots are cut in."""
    known = (("Piece", strap.piece),)
    hidden = [path_ops(path).moved(to_picture) for path in strap.under if outside]
    canvas.draw(*lines(Tag.HIDDEN, known, hidden))
    for path in strap.over if outside else (strap.behind,):
        canvas.draw(area(Tag.BODY, known, path_ops(path).moved(to_picture)))
        canvas.name(strap.piece)


def _inside(figure: Figure, body: Body, to_picture: Affine) -> Iterator[Mark]:
    """What is between the leaves of a body, over the leaf that hides it."""
    for thing in figure.things:
        if thing.room.folded and thing.room.base == body.name:
            fold = body.leaf_at(thing.seat).fold
            path = path_ops(thing.outline).moved(to_picture @ _seen_from_above(fold))
            yield from lines(Tag.HIDDEN, (("Item", thing.item),), [path])


def _parts(figure: Figure) -> Iterator[_Part]:
    shown = {body.name: body for body in figure.bodies if body.kind is not BodyKind.WALL}
    for body in shown.values():
        for leaf, outline in zip(body.leaves, reaching(body), strict=True):
            if abs(leaf.fold.rows[2][2]) > UPRIGHT:
                yield _Part(_over_strap(shown, body) or _level(leaf), leaf, body, outline)
    for thing in figure.things:
        base, cover = shown[thing.room.base], shown.get(thing.room.cover)
        leaf = base.leaf_at(thing.seat)
        if abs(leaf.fold.rows[2][2]) > UPRIGHT:
            top = _level(cover.leaves[0]) if cover is not None else inf
            if thing.room.folded:
                top = _level(leaf) + (1.0 if thing.in_front is not leaf.fold.turns_over else -1.0)
            level = top - 0.5 if top > _level(leaf) else top + 0.5
            yield _Part(level, leaf, thing, thing.outline)


def _over_strap(bodies: Mapping[str, Body], body: Body) -> float | None:
    """Of a loop that a strap is put through, its level then: just over the strap."""
    strap = bodies.get(body.room.passes) if body.room is not None else None
    if strap is None:
        return None
    level = _level(strap.leaves[0])
    return level + copysign(0.25, level - _level(body.leaves[0]))


def _level(leaf: Leaf) -> float:
    """Among the others; what stands at an angle comes before or after all that lies parallel."""
    return leaf.level if leaf.fold.plan is not None else copysign(1e6, leaf.middle) + leaf.level


def _seen_from_above(fold: Motion) -> Affine:
    (a, c, _), (b, d, _), _ = fold.rows
    return Affine(a, b, c, d, *fold.by[:2])
