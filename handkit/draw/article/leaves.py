"""Leaves: what a body looks like in plan once its folds are folded flat on themselves.

In: a body, its figure. Out: its parts in the base's frame. A strap's end that is turned back round a bar
lies on the strap; all other folds are drawn laid open, and so is what has something on the part that moves.

Words: a *leaf* lies flat again after its fold (see `geometry/space.py`).
"""

from __future__ import annotations

from math import radians

import msgspec

from handkit.assemble.article import Body, BodyKind, Figure
from handkit.geometry.affine import Affine, Point
from handkit.geometry.path import Path
from handkit.geometry.region import disc, region_of
from handkit.geometry.space import Bend, folded_sheet


class DrawnLeaf(msgspec.Struct, frozen=True):
    """A part of a body: its outline in the base's frame, whether its other side is seen there, and how high
    it lies over what keeps its place, towards the eye of the base."""

    outline: Path
    turned: bool = False
    height: float = 0.0


def leaves_of(body: Body, *, folded: bool) -> tuple[DrawnLeaf, ...]:
    """What keeps its place, then its leaves; all of it as one where it is drawn laid open."""
    if not folded:
        return (DrawnLeaf(body.outline),)
    piece, over = body.piece, body.up is body.piece.shows
    reaching = [_reaching(bend, piece.thickness) for bend in piece.bends]
    found = []
    for panel, shown in zip(piece.panels, folded_sheet(piece.outline, reaching).panels, strict=True):
        lie = body.lie @ (panel.plan or Affine())
        height = panel.height if over else -panel.height
        found.append(DrawnLeaf(shown.outline.moved(lie), panel.turned, height if panel.turned else 0.0))
    return tuple(found)


def folded_of(figure: Figure) -> frozenset[str]:
    """The bodies of a figure that are drawn with their folds folded flat on themselves."""
    return frozenset(body.name for body in figure.bodies if is_folded(body, figure))


def is_folded(body: Body, figure: Figure) -> bool:
    """Whether a body's folds all lay a leaf on it that has nothing on itself."""
    piece = body.piece
    if body.kind is BodyKind.STANDING or not piece.bends:
        return False
    panels = piece.panels
    if any(panel.plan is None for panel in panels):
        return False
    reaching = folded_sheet(piece.outline, [_reaching(bend, piece.thickness) for bend in piece.bends]).panels
    if len(reaching) != len(panels):
        return False
    moving = [region_of(panel.outline.moved(body.lie)) for panel in panels if panel.turned]
    others = [region_of(other.outline) for other in figure.bodies if other is not body]
    things = [region_of(thing.outline) for thing in figure.things]
    others += things
    others += [disc(cap.at, cap.radius) for cap in figure.caps if body.name in cap.pieces]
    laid = [
        region_of(panel.outline.moved(body.lie @ panel.plan))
        for panel in panels
        if panel.turned and panel.plan is not None
    ]
    pairs = ((moving, others), (laid, things))  # a leaf that lies over a thing is drawn so
    return not any(leaf.common(other).area > 1.0 for some, over in pairs for leaf in some for other in over)


def folded_place(body: Body, at: Point) -> Point:
    """Where a place of the base's frame comes to when a body that has it is folded."""
    x, y, _ = body.piece.in_space(body.lie.inverse().apply(at))
    return body.lie.apply((x, y))


def reaching(body: Body) -> tuple[Path, ...]:
    """The outlines of a body's leaves where it lies open, each as far as the outside of its turns reaches."""
    if body.sheet is None:
        return tuple(leaf.outline for leaf in body.leaves)
    piece = body.piece
    found = folded_sheet(piece.outline, [_reaching(bend, piece.thickness) for bend in piece.bends]).panels
    shown = found if len(found) == len(body.leaves) else body.sheet.panels
    return tuple(panel.outline.moved(body.lie) for panel in shown)


def _reaching(bend: Bend, thickness: float) -> Bend:
    """The bend with its zone narrowed so that both parts reach as far as the outside of its turn does."""
    radius = 2 * bend.half / radians(abs(bend.degrees))
    return msgspec.structs.replace(bend, half=bend.half - radius - thickness / 2)
