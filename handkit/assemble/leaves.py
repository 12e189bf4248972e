"""Leaves: where each panel of each body is once all is folded.

In: the bodies of one figure as they lie open, and their heights. Out: the same with their leaves.

A pile, that is a panel with all that lies on either face of it, moves as one when its piece is folded: so
what lies on it is carried by it, z and all. A body that is not folded is one leaf.

How far it holds: leaves are as stiff as their folds say: a bend's radius and the bends before it, and nothing
that lies between, tell where a leaf comes to.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from handkit.assemble.article import Body, BodyKind, Leaf
from handkit.assemble.heights import Heights
from handkit.geometry.box import Box
from handkit.geometry.space import Motion


def with_leaves(bodies: Sequence[Body]) -> tuple[Body, ...]:
    """The same bodies, each with its leaves."""
    heights, found = Heights(bodies), dict[str, Body]()
    for body in sorted(bodies, key=lambda body: body.piece.depth):
        under = found.get(body.piece.on or "")
        carrier = under.leaves[body.piece.panel] if under is not None else None
        leaves = _leaves(body, carrier, heights)
        found[body.name] = msgspec.structs.replace(body, leaves=leaves)
    return tuple(found[body.name] for body in bodies)


def _leaves(body: Body, carrier: Leaf | None, heights: Heights) -> tuple[Leaf, ...]:
    piece, levels = body.piece, body.piece.folded.levels
    if body.kind is BodyKind.WALL or (carrier is not None and not piece.bends):
        assert carrier is not None  # a wall stands on its base
        return (msgspec.structs.replace(carrier, outline=body.outline, level=levels[0]),)
    fold = carrier.fold if carrier is not None else Motion()
    outlines = [panel.outline.moved(body.lie) for panel in piece.panels]
    low, high = heights.span(body.name, Box(*outlines[0].bounds()).middle)
    lie = Motion(by=(0.0, 0.0, (low + high) / 2)) @ Motion.of_plane(body.lie)
    moved = [fold @ lie @ panel.motion for panel in piece.panels]
    return tuple(
        Leaf(outline, motion @ lie.inverse(), level, (piece.name, k), motion.by[2])
        for k, (outline, motion, level) in enumerate(zip(outlines, moved, levels, strict=True))
    )
