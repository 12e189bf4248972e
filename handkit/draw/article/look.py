"""Look: how a figure is looked at, from its face or its back.

In: the article, one of its figures. Out: a `Look`, by which pictures are drawn.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import msgspec

from handkit.assemble.article import Article, Body, BodyKind, Figure, Leaf, SewnRow
from handkit.draft.pattern import PatternOpening
from handkit.draw.article.leaves import folded_of
from handkit.draw.model.path_ops import PathOps
from handkit.geometry.affine import Affine, Point
from handkit.geometry.region import region_of
from handkit.grouping import grouped


class Look(msgspec.Struct, frozen=True):
    """How a figure is looked at: from the face or the back; `to_picture` leads from the base's frame.
    `rows_on` has by piece the rows whose thread is seen on it, `folded` what is drawn folded flat; where one
    `leaf` is looked at, what is not on it is left out."""

    article: Article
    figure: Figure
    from_face: bool
    to_picture: Affine
    openings: Mapping[str, PatternOpening]
    rows_on: Mapping[str, Sequence[SewnRow]]
    folded: frozenset[str]
    leaf: Leaf | None = None

    def folds(self, body: Body) -> bool:
        """Whether a body is drawn with its folds folded flat on themselves."""
        return self.leaf is None and body.name in self.folded

    def has(self, body: Body, at: Point) -> bool:
        """Whether a place of a body is looked at: all are, or those on one leaf."""
        return self.leaf is None or body.leaf_at([at]) is self.leaf

    def drawn(self, path: PathOps) -> PathOps:
        """A path of the base's frame in the picture's."""
        return path.moved(self.to_picture)


def look_at(
    article: Article,
    figure: Figure,
    *,
    from_face: bool,
    to_picture: Affine | None = None,
    by_leaf: bool = False,
) -> Look:
    """At a figure as it is, or as a map of its base's frame has it; `by_leaf` where each leaf is looked at by
    itself, and so none is folded."""
    rows_on = grouped(figure.rows, lambda row: _seen_on(figure, row, from_face=from_face))
    openings = {one.name: one for one in article.punched.pattern.openings}
    folded = frozenset[str]() if by_leaf else folded_of(figure)
    return Look(article, figure, from_face, to_picture or Affine(), openings, rows_on, folded)


def front_of(article: Article, figure: Figure) -> Look:
    """As the side of the base that shows is seen."""
    return look_at(article, figure, from_face=True)


def back_of(article: Article, figure: Figure) -> Look:
    """As it is seen once it is turned over, left to right."""
    return look_at(article, figure, from_face=False, to_picture=Affine.mirror())


def _seen_on(figure: Figure, row: SewnRow, *, from_face: bool) -> str:
    """The piece on which the thread of a row lies: the outermost, or of one that is
    loose the next that has its holes where it is drawn."""
    ordered = row.pieces[::-1] if from_face else row.pieces
    if len(ordered) > 1 and figure.body(ordered[0]).kind is BodyKind.LOOSE:
        ends = [row.front[k][:2] for k in (0, len(row.front) // 2, -1)]
        for name in ordered:
            if not region_of(figure.body(name).outline).outside(ends, slack=1.0):
                return name
    return ordered[0]
