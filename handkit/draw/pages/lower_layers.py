"""Lower layers: how the layers under a seam's face lie, seen from the face, for its picture.

In: what was punched, a seam. Out: for each lower layer its outline in the frame of the face piece,
or none where it can't be laid flat there; of what lies on the face and of the face, what is in sight.

A layer that lies flat with the face piece is carried, through folds with an angle, too: of a piece that is
folded the panel that the holes are on is shown. One that does not (a bowed front's back, a
strap's base) is laid by its holes: hole k on hole k, as near as a rigid move brings them, turned
over where the two runs have their bodies on different sides of the way. That is true near the
seam, which is what its picture shows; where the holes don't come to lie on each other (a gusset
that bends round a corner) no outline is given.

The face is the topmost layer with every hole of the seam; what goes part of the way may lie on it.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from handkit.draft.pattern import PatternPiece
from handkit.geometry.affine import Affine
from handkit.geometry.nearest import nearest_move
from handkit.geometry.path import Path
from handkit.geometry.region import Region, areas_of, bands_of
from handkit.geometry.space import Panel, folded_sheet
from handkit.geometry.straight import distance
from handkit.punch.punched import Punched, PunchedSeam
from handkit.stitch.plan import GlueStrip
from handkit.tolerances import SAGITTA

# How far holes may lie off each other, in mm and as a share of the way between the furthest.
LEAST_OFF = 1.0
OFF_SHARE = 0.02

# Lines nearer than this, mm of the piece, are drawn as one: a pen's breadth of the picture.
ONE_LINE = 0.25


class LowerLayer(msgspec.Struct, frozen=True):
    """A layer under the face, or on it; `outline` in the face piece's frame, None where it bends away."""

    piece: str
    outline: Path | None
    folded: bool  # the face piece itself, folded over
    on_top: bool = False  # goes part of the way, over the face


class InSight(msgspec.Struct, frozen=True):
    """Of an outline what is in sight, and what others hide."""

    seen: tuple[Path, ...]
    hidden: tuple[Path, ...] = ()


def in_sight(outlines: Sequence[Path]) -> tuple[InSight, ...]:
    """Of pieces that lie on one another, the topmost first. What runs along an edge over it is in sight as
    that is, and of hidden lines that fall together the upper one stands for all: dashes over dashes would
    be a solid line.

    >>> from handkit.geometry.path import polyline
    >>> tall, wide = (polyline(points, closed=True) for points in (
    ...     [(0, 0), (4, 0), (4, 9), (0, 9)], [(0, 6), (6, 6), (6, 12), (0, 12)]))
    >>> [round(path.length) for sight in in_sight([tall, wide]) for path in (*sight.seen, *sight.hidden)]
    [26, 20, 4]
    """
    return tuple(_sight(outline, outlines[:k]) for k, outline in enumerate(outlines))


def _sight(outline: Path, above: Sequence[Path]) -> InSight:
    over = areas_of(each.flattened(sagitta=SAGITTA) for each in above).grown(-ONE_LINE)
    under, seen = over.parted(outline)
    if not under:
        return InSight((outline,))
    drawn = bands_of(above, ONE_LINE)
    return InSight(seen, tuple(part for line in under for part in drawn.parted(line)[1]))


def lower_layers(punched: Punched, seam: PunchedSeam) -> tuple[LowerLayer, ...]:
    """From the face downwards, what lies on it first, each piece once."""
    face_run, face = seam.face.run - 1, seam.face.piece
    found: dict[str, LowerLayer] = {}
    on_top = True
    for index in seam.pattern.face_to_back:
        if index == face_run:
            on_top = False
            continue
        name = seam.layers[index].piece
        piece, panel = _panel(punched, seam, index)
        by = _carried(punched, seam, index)
        if name == face:
            leaf = (
                leaf_outline(piece, panel).moved(by)
                if by is not None and piece.bends and by != Affine()
                else None
            )
            found.setdefault(name, LowerLayer(name, leaf, folded=True))
            continue
        by = by or _by_holes(seam, index, face_run)
        outline = None if by is None else leaf_outline(piece, panel).moved(by)
        found.setdefault(name, LowerLayer(name, outline, folded=False, on_top=on_top))
    return tuple(found.values())


def face_outline(punched: Punched, seam: PunchedSeam, lower: Sequence[LowerLayer]) -> Path:
    """The face piece's outline; where a leaf of it is drawn under it, that of its own leaf."""
    piece, panel = _panel(punched, seam, seam.face.run - 1)
    folded = any(layer.folded and layer.outline is not None for layer in lower)
    return leaf_outline(piece, panel) if folded else piece.outline


def leaf_outline(piece: PatternPiece, panel: Panel) -> Path:
    """A panel as far as the fold lines: once it is folded the bend reaches about as far."""
    if not piece.bends:
        return piece.outline
    sharp = [msgspec.structs.replace(bend, half=0.0) for bend in piece.bends]
    parts = folded_sheet(piece.outline, sharp).panels
    return next(part.outline for part in parts if part.beyond == panel.beyond)


def _panel(punched: Punched, seam: PunchedSeam, index: int) -> tuple[PatternPiece, Panel]:
    """A layer's piece, and the panel of it that its holes are on."""
    layer = seam.layers[index]
    piece = punched.pattern.piece(layer.piece)
    return piece, piece.panel_under([hole.at for hole in layer.holes])


def _carried(punched: Punched, seam: PunchedSeam, index: int) -> Affine | None:
    """The way from a layer to the face, once all is folded; None where they do not lie flat in one frame."""
    return _to_face(punched, seam, *_panel(punched, seam, index))


def strip_on_face(punched: Punched, seam: PunchedSeam, strip: GlueStrip) -> Region | None:
    """A strip of glue as it lies on the face once all is folded; None where it does not lie flat with it."""
    piece = punched.pattern.piece(strip.piece)
    panel = piece.panel_under([at for ring in strip.region.rings() for at in ring])
    lie = _to_face(punched, seam, piece, panel)
    return strip.region.moved(lie) if lie is not None else None


def _to_face(punched: Punched, seam: PunchedSeam, own: PatternPiece, panel: Panel) -> Affine | None:
    face, leaf = _panel(punched, seam, seam.face.run - 1)
    flat = punched.pattern.carry(own.name, face.name)
    if flat is None or not (own.bends or face.bends or own.panel or face.panel):
        return flat
    return (face.motion_to_base(leaf).inverse() @ own.motion_to_base(panel)).plan


def _by_holes(seam: PunchedSeam, index: int, face_run: int) -> Affine | None:
    """The rigid move of a layer that brings its holes nearest to the face's; None where they stay off."""
    own, face = seam.layers[index], seam.layers[face_run]
    start = [hole.at for hole in own.holes]
    end = [hole.at for hole in face.holes if own.hole(hole.number) is not None]
    sides = (seam.pattern.runs[index].inside, seam.pattern.runs[face_run].inside)
    by = nearest_move(start, end, over=sides[0] * sides[1] < 0)
    reach = max(distance(end[0], at) for at in end)
    off = max(distance(by.apply(a), b) for a, b in zip(start, end, strict=True))
    return by if off <= max(LEAST_OFF, OFF_SHARE * reach) else None
