"""Exploded: a figure's pieces and items lifted off one another in the order of layers.

In: the article, one of its figures. Out: a scene in cabinet projection (ISO 5456-3): x stays, y recedes at 45
degrees and half its length, and all that lies on something is lifted off it. What lies beside one another
is lifted alike. Pieces are numbered from the back to the face; chain lines lead through rivets, snaps and
eyelets.

Words: a *storey* is what is lifted alike.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import cos, pi

import msgspec

from handkit.assemble.article import Article, Body, Figure, Thing
from handkit.draw.article.look import Look, look_at
from handkit.draw.article.order import back_to_face, standing_on_edge
from handkit.draw.article.scene import ArticleScene, Canvas, lines
from handkit.draw.article.views import draw_body, draw_on, draw_tapes, draw_thing
from handkit.draw.model.path_ops import PathOps, line_ops
from handkit.geometry.affine import Affine, Point
from handkit.geometry.region import Region, region_of
from handkit.ink import Tag
from handkit.wording.quoting import words as listed

# How far y recedes in x and in y: half its length at 45 degrees.
RECEDES = 0.5 * cos(pi / 4)

# How much of the lower of two heights a storey may hide of the one under it.
OVERLAP = 0.35

# What overlaps by less lies beside one another, mm².
TOUCHING = 1.0


class _Lifted(msgspec.Struct, frozen=True):
    """A body or an item, with the look that lifts it."""

    entry: Body | Thing
    look: Look


def exploded_view(article: Article, figure: Figure) -> ArticleScene | None:
    """The scene; None of a piece alone."""
    if len(figure.bodies) < 2:
        return None
    entries, walls = back_to_face(figure), standing_on_edge(figure)
    lifts, canvas, look = _lifts(entries), Canvas(), look_at(article, figure, from_face=True)
    placed = [_Lifted(entry, _lifted(look, lift)) for entry, lift in zip(entries, lifts, strict=True)]
    by_name = {one.entry.name: one for one in placed if isinstance(one.entry, Body)}
    number, named = 0, {opening.name for opening in article.punched.pattern.openings}
    for one in placed:
        if isinstance(one.entry, Thing):
            draw_thing(one.look, canvas, one.entry)
            continue
        number += 1
        draw_tapes(one.look, canvas, one.entry, over=False)
        draw_body(one.look, canvas, one.entry, f"{number} {one.entry.name}")
        draw_on(one.look, canvas, one.entry, named)
        canvas.draw(*lines(Tag.CENTRE, (), _axes(figure, one, by_name)))
    notes = ["numbered from the back to the face"]
    if walls:
        notes.append(f"not drawn, for it stands on edge: {listed(walls, last='and')}")
    return canvas.scene("Layer by layer", notes=["; ".join(notes)])


def _lifted(look: Look, lift: float) -> Look:
    return msgspec.structs.replace(look, to_picture=Affine(1.0, 0.0, RECEDES, RECEDES, 0.0, lift))


def _lifts(entries: Sequence[Body | Thing]) -> list[float]:
    """How far each is lifted: a storey more than all that it lies on, and each storey so far that it leaves
    the one under it seen."""
    regions = [region_of(entry.outline) for entry in entries]
    storeys: list[int] = []
    for index, region in enumerate(regions):
        under = [storeys[k] for k in range(index) if _overlap(region, regions[k])]
        storeys.append(max(under, default=-1) + 1)
    for index, entry in enumerate(entries):
        if isinstance(entry, Thing) and entry.room.folded:  # right behind the leaf that it lies on
            over = [
                storeys[k] for k in range(index + 1, len(entries)) if _overlap(regions[index], regions[k])
            ]
            storeys[index] = min([*over, max(storeys)]) - 1 if over else storeys[index]
    spans = [(bounds[1] * RECEDES, bounds[3] * RECEDES) for bounds in (region.bounds() for region in regions)]
    lifts: list[float] = []
    top, high = 0.0, 0.0
    for storey in range(max(storeys) + 1):
        own = [span for span, at in zip(spans, storeys, strict=True) if at == storey]
        low, height = min(span[0] for span in own), max(span[1] - span[0] for span in own)
        lift = top - low - OVERLAP * min(high, height) if lifts else 0.0
        lifts.append(lift)
        top, high = max(span[1] for span in own) + lift, height
    return [lifts[storey] for storey in storeys]


def _overlap(one: Region, other: Region) -> bool:
    return one.meets(other) and one.common(other).area > TOUCHING


def _axes(figure: Figure, one: _Lifted, by_name: dict[str, _Lifted]) -> Iterator[PathOps]:
    """From each cap's place on a body to the same on the next that its hardware goes through."""
    for cap in figure.caps:
        following = dict(pairwise(cap.pieces)).get(one.entry.name) if isinstance(one.entry, Body) else None
        if cap.to_eye and following in by_name:
            yield line_ops(_at(one, cap.at), _at(by_name[following], cap.at))


def _at(one: _Lifted, place: Point) -> Point:
    return one.look.to_picture.apply(place)
