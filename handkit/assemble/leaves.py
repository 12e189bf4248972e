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

from handkit.assemble.article import Body, BodyKind, Leaf, heights_of
from handkit.geometry.box import Box
from handkit.geometry.laid.heights import Heights
from handkit.geometry.space import FoldedSheet, Motion


def with_leaves(bodies: Sequence[Body]) -> tuple[Body, ...]:
    """The same bodies, each with its leaves."""
    heights, found = heights_of(bodies), dict[str, Body]()
    for body in sorted(bodies, key=lambda body: body.piece.depth):
        under = found.get(body.piece.on or "")
        carrier = under.leaves[body.piece.panel] if under is not None else None
        sheet = body.piece.sheet if body.piece.bends and body.kind is not BodyKind.WALL else None
        leaves = _leaves(body, carrier, sheet, heights)
        found[body.name] = msgspec.structs.replace(body, leaves=leaves, sheet=sheet)
    return tuple(found[body.name] for body in bodies)


def _leaves(
    body: Body, carrier: Leaf | None, sheet: FoldedSheet | None, heights: Heights
) -> tuple[Leaf, ...]:
    piece, levels = body.piece, body.piece.folded.levels
    if sheet is None and carrier is not None:
        return (msgspec.structs.replace(carrier, outline=body.outline, level=levels[0]),)
    panels = sheet.panels if sheet is not None else piece.panels
    fold = carrier.fold if carrier is not None else Motion()
    outlines = [panel.outline.moved(body.lie) for panel in panels]
    low, high = heights.span(body.name, Box(*outlines[0].bounds()).middle)
    lie = Motion(by=(0.0, 0.0, (low + high) / 2)) @ Motion.of_plane(body.lie)
    found = []
    for k, (outline, panel, level) in enumerate(zip(outlines, panels, levels, strict=True)):
        moved = fold @ lie @ panel.motion
        own = moved @ lie.inverse() if panel.beyond else fold  # what moves with its base is known by that
        found.append(Leaf(outline, own, level, (piece.name, k), moved.by[2]))
    return tuple(found)
