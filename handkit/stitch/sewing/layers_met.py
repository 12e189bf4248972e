"""Layers met: which side of each layer of a seam lies towards which side of the next.

In: the pattern, a punched seam. Out: a record for each two layers that lie on each other, from the face
down.

    a leaf that is folded over ╭─────────  its inner side down
    what lies between          │ ────────
    the leaf it is placed on   ╰─────────  its inner side up

Words: a *leaf* is one of two layers that are one folded piece; its *inner* side is the one both leaves turn
to each other. What is placed flat on a leaf has its holes; on the other leaf it lies with its other side.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations, pairwise
from math import dist

from handkit.draft.pattern import Pattern, PatternPiece
from handkit.geometry.affine import Affine, Point
from handkit.geometry.intersect import common_places
from handkit.geometry.segment import Segment
from handkit.geometry.straight import mirrored_in
from handkit.punch.punched import PunchedLayer, PunchedSeam
from handkit.read.project import Side
from handkit.stitch.plan import LayersMet

# Holes this near are one place, mm: they were matched along two runs.
COINCIDE = 0.5

# The side of the upper layer and of the lower one.
Sides = tuple[Side, Side]


def layers_met(pattern: Pattern, seam: PunchedSeam) -> tuple[LayersMet, ...]:
    """Each two layers that are next to each other at any hole, once."""
    found: dict[tuple[int, int], LayersMet] = {}
    for stack in seam.stacks:
        for upper, lower in pairwise(stack.layers):
            if (upper.run, lower.run) not in found:
                sides = _sides(pattern, stack.layers, upper, lower)
                found[upper.run, lower.run] = _met(upper, lower, sides)
    return tuple(found.values())


def leaves(pattern: Pattern, layers: Sequence[PunchedLayer]) -> Iterator[tuple[int, int]]:
    """Places in a stack of each two layers that are leaves of one folded piece."""
    for (a, upper), (b, lower) in combinations(enumerate(layers), 2):
        if upper.piece == lower.piece and _folded_over(pattern.piece(upper.piece), upper, lower):
            yield a, b


def inner_side(pattern: Pattern, layers: Sequence[PunchedLayer], a: int, b: int) -> Side:
    """The side that two leaves turn to each other: as the fold says, else where something placed on a leaf
    lies between them, else the far side."""
    piece = pattern.piece(layers[a].piece)
    stated = _folded_out(piece, layers[a], layers[b])
    if stated is not None:
        return stated.other
    for layer in layers[a + 1 : b]:
        met = pattern.faces_met(layer.piece, piece.name)
        if met is not None:
            return met[1]
    return piece.shows.other


def lie_on(pattern: Pattern, layer: PunchedLayer, other: PunchedLayer) -> Affine | None:
    """How a layer lies in the frame of another one's piece; None where they do not lie flat in one frame.

    Across a fold that is the mirror image in its line, in which mates meet at any radius.
    """
    carried = pattern.carry(layer.piece, other.piece)
    pair = _mates(layer, other)
    if carried is None or pair is None or _near(carried, pair):
        return carried
    own, others = pattern.piece(layer.piece), pattern.piece(other.piece)
    folded = (
        *(carried @ mirrored_in(fold.ends) for fold in own.folds),
        *(mirrored_in(fold.ends) @ carried for fold in others.folds if own is not others),
    )
    return next((lie for lie in folded if _near(lie, pair)), carried)


def _met(upper: PunchedLayer, lower: PunchedLayer, sides: Sides | None) -> LayersMet:
    above, below = sides if sides is not None else (None, None)
    return LayersMet(upper.piece, upper.run, above, lower.piece, lower.run, below)


def _sides(
    pattern: Pattern, layers: Sequence[PunchedLayer], upper: PunchedLayer, lower: PunchedLayer
) -> Sides | None:
    """The sides of two neighbours in a stack; None where the file does not tell."""
    folded = list(leaves(pattern, layers))
    first = layers.index(upper)
    if (first, first + 1) in folded:
        inner = inner_side(pattern, layers, first, first + 1)
        return inner, inner
    if upper.piece == lower.piece:  # its ends lap, the same way up
        up = pattern.piece(upper.piece).up
        return up.other, up
    for a, b in folded:
        for leaf, mate in ((first, first + 1), (first + 1, first)):
            if leaf in (a, b):
                found = _on_leaf(pattern, layers, (a, b), leaf, mate)
                return found if leaf < mate or found is None else found[::-1]
    return pattern.faces_met(upper.piece, lower.piece)


def _on_leaf(
    pattern: Pattern, layers: Sequence[PunchedLayer], pair: tuple[int, int], leaf: int, mate: int
) -> Sides | None:
    """The sides of a leaf and of what lies next to it."""
    piece, other = pattern.piece(layers[leaf].piece), pattern.piece(layers[mate].piece)
    if piece.root != other.root and piece.name != other.on and other.name != piece.on:
        return None
    inner = inner_side(pattern, layers, *pair)
    own = inner if pair[0] < mate < pair[1] else inner.other
    towards = other.up if piece.level > other.level else other.up.other
    twin = pair[0] if leaf == pair[1] else pair[1]
    on_twin = _coincide(pattern, layers[mate], layers[twin])
    return own, towards.other if on_twin else towards


def _coincide(pattern: Pattern, layer: PunchedLayer, leaf: PunchedLayer) -> bool:
    """Whether a layer is placed flat on a leaf: its holes are the leaf's, as the pieces lie."""
    lie, pair = pattern.carry(layer.piece, leaf.piece), _mates(layer, leaf)
    return lie is not None and pair is not None and _near(lie, pair)


def _near(lie: Affine, pair: tuple[Point, Point]) -> bool:
    return dist(lie.apply(pair[0]), pair[1]) < COINCIDE


def _folded_over(piece: PatternPiece, upper: PunchedLayer, lower: PunchedLayer) -> bool:
    """Whether a piece lies on itself folded; else its ends lap, the same way up."""
    pair = _mates(upper, lower)
    return pair is not None and piece.turned_between(*pair) is True


def _folded_out(piece: PatternPiece, upper: PunchedLayer, lower: PunchedLayer) -> Side | None:
    """The side that is outside where the folds that lie between two leaves say so, all of them alike."""
    pair = _mates(upper, lower)
    if pair is None:
        return None
    between = [fold for fold in piece.folds if common_places([Segment(*pair)], fold.path.segments)]
    stated = [fold.out for fold in between or piece.folds]
    return stated[0] if len(set(stated)) == 1 else None


def _mates(layer: PunchedLayer, other: PunchedLayer) -> tuple[Point, Point] | None:
    """The places of a hole that both layers have, in the middle of them: an end may lie on the fold."""
    pairs = [(hole.at, mate.at) for hole in layer.holes if (mate := other.hole(hole.number)) is not None]
    return pairs[len(pairs) // 2] if pairs else None
