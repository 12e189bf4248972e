"""Seam picture: a seam on its face piece, or several that are sewn as one there, as large as the room allows.

In: the plan, the seams, a typesetter of the room's width and height. Out: a block; in words, what the
picture shows. It shows the face piece as seen from the side that is outside while it is sewn, cut down to
the seam's surroundings where the piece is much larger; lower layers are dashed under it, after ISO 128, what
lies on it part of the way is drawn thin, and dashed where another such piece hides it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from functools import partial
from itertools import pairwise
from math import sqrt

import msgspec

from handkit.draft.pattern import PatternPiece
from handkit.draw.layout.flow import Block
from handkit.draw.layout.typesetter import Typesetter
from handkit.draw.model.fonts import Fonts
from handkit.draw.model.marks import Ink, page_group
from handkit.draw.model.path_ops import PathOps, box_ops, circle_ops, dot_ops, joined, path_ops, polyline_ops
from handkit.draw.pages.lower_layers import (
    InSight,
    LowerLayer,
    face_outline,
    in_sight,
    lower_layers,
    strip_on_face,
)
from handkit.draw.pages.seam_way import HoleLabel, Way, labels, picture_space, way_marks
from handkit.draw.templates.window_ink import stitch_path
from handkit.draw.words.names import KitPlan
from handkit.draw.words.seen_side import mirrored
from handkit.geometry.affine import Affine, Point
from handkit.geometry.box import Box
from handkit.geometry.path import Path
from handkit.geometry.polygon import touching
from handkit.geometry.region import Region
from handkit.ink import HAIR, Stroke
from handkit.kept.kept import NOTHING, KeptOf
from handkit.kinds.stitches import STITCHES
from handkit.stitch.plan import SeamPlan
from handkit.wording.quoting import words as listed

# How much of the piece is shown round a seam, and beyond its edge, in mm of the piece; how many
# times full scale a small seam is drawn at most.
AROUND = 16.0
BEYOND = 9.0
LEAST_SHOWN = 40.0
MOST_SCALE = 1.6

# Labels need this much paper, however slender a seam is.
LEAST_WIDTH = 60.0
LEAST_HEIGHT = 34.0

OUTLINE = Stroke(0.5)
ON_TOP = Stroke(0.25)
BELOW = Stroke(0.25, (2.5, 1.2))
CUT_OFF = Stroke(0.13, (0.5, 1.5))
BACK_STITCH = Stroke(1.1)
KEY = Stroke(0.35)
DOT = 0.8
GLUE = Stroke(0.13)
HATCH = 1.2  # between the lines of glue, mm of the paper
START_RING = 1.7
END_SIDE = 1.7
SHARED_SIDE = 2.6


class Scene(msgspec.Struct, frozen=True):
    """What a picture is of: the face piece, how it and what lies under it come onto the paper, the
    seams, each with its holes to mark. `sights` are of what lies on the face, and last of the face."""

    seams: tuple[SeamPlan, ...]
    piece: PatternPiece
    outline: Path
    lower: tuple[LowerLayer, ...]
    sights: tuple[InSight, ...]
    shown: Box
    by: Affine
    named: tuple[dict[int, HoleLabel], ...]

    @property
    def height(self) -> float:
        """Of the block, mm of the paper."""
        return self.size[1] + 1

    @property
    def size(self) -> tuple[float, float]:
        """Of the picture, mm of the paper."""
        return (self.shown.width * self.by.d, self.shown.height * self.by.d)

    @property
    def whole(self) -> bool:
        """Whether all of the piece is shown."""
        left, bottom, right, top = self.piece.outline.bounds()
        across = self.shown.left < left and self.shown.right > right
        return across and self.shown.bottom < bottom and self.shown.top > top

    def shows(self, outline: Path) -> bool:
        """Whether a line of the piece's frame runs through the picture."""
        return bool(touching(outline, self.shown.corners, within=0.0))


def seam_scale(kit: KitPlan, seams: Sequence[SeamPlan], room: Typesetter) -> float:
    """The scale at which the seams' surroundings fit a room, however small they are."""
    shown = _shown(kit.punched.pattern.piece(seams[0].punched.face.piece), seams)
    return min(room.width / shown.width, room.height / shown.height, MOST_SCALE)


def seam_scene(kit: KitPlan, seams: Sequence[SeamPlan], room: Typesetter) -> Scene:
    """What a picture no larger than a room would show, and how high it would be: nothing is drawn yet."""
    first = seams[0].punched
    piece = kit.punched.pattern.piece(first.face.piece)
    scale = seam_scale(kit, seams, room)
    shown = _shown(piece, seams)
    dx = max(0.0, min(room.width, LEAST_WIDTH) / scale - shown.width) / 2
    dy = max(0.0, min(room.height, LEAST_HEIGHT) / scale - shown.height) / 2
    shown = Box(shown.left - dx, shown.bottom - dy, shown.right + dx, shown.top + dy)
    by = Affine(scale, 0, 0, scale, -shown.left * scale, -shown.bottom * scale)
    if mirrored(kit.punched.pattern, first):
        by = Affine(-scale, 0, 0, scale, shown.right * scale, -shown.bottom * scale)
    lower = lower_layers(kit.punched, first) if len(seams) == 1 else ()  # laid by the holes of one seam
    outline = face_outline(kit.punched, first, lower)
    named = tuple(labels(kit, seam, within=seams) for seam in seams)
    on_top = [layer.outline for layer in lower if layer.on_top and layer.outline is not None]
    sights = in_sight([*on_top, outline])
    return Scene(tuple(seams), piece, outline, lower, sights, shown, by, named)


def seam_picture(kit: KitPlan, scene: Scene, setter: Typesetter, kept: KeptOf = NOTHING) -> Block:
    """The picture, at the upper left of its room; `kept` by the scene, the seams' lines and their glue."""
    lines = tuple(stitch_path(kit.punched, one.punched, one.punched.face.run - 1) for one in scene.seams)
    glue = tuple(_glue(kit, scene))
    seams = tuple(msgspec.structs.replace(one, strips=()) for one in scene.seams)
    known = (msgspec.structs.replace(scene, seams=seams), lines, [area.rings() for area in glue])
    return kept.of_these("seam picture", known, partial(_drawn, scene, lines, glue, setter.fonts))


def _drawn(scene: Scene, lines: Sequence[Path], glue: Iterable[Region], fonts: Fonts) -> Block:
    size = scene.size
    frame = box_ops(0, 0, *size)
    symbols = (ink for pair in zip(scene.seams, scene.named, strict=True) for ink in _symbols(scene, *pair))
    ink = (*_hatching(scene, glue), *_lines(scene, lines), *symbols)
    cut = () if scene.whole else (Ink(frame, CUT_OFF),)
    holes = (hole.at for one in scene.seams for hole in one.punched.face.holes)
    space = picture_space(size, ink, scene.by.apply_all(holes), DOT, fonts)
    ways = [(Way(one, scene.by, space), named) for one, named in zip(scene.seams, scene.named, strict=True)]
    words = page_group(*way_marks(ways, _names(scene)))
    return Block(scene.height, (page_group(*cut, *ink, clips=(frame,)), words)).shifted(0, -size[1])


def seam_told(scene: Scene) -> str:
    """Which piece, what lies under it, and what the marks mean that this picture has."""
    face = scene.piece.side_words(scene.piece.shows.other) if scene.by.turns_over else "face"
    parts = [f"{scene.piece.name}, seen from its {face}" + ("" if scene.whole else "; part of it")]
    on_top = [layer.piece for layer in scene.lower if layer.on_top and not layer.folded]
    if on_top:
        parts.append(f"on it: {listed(on_top, last='and')}")
    if any(sight.hidden for sight in scene.sights):
        parts.append("dashed: what these hide")
    for layer in scene.lower:
        if layer.piece in on_top:
            continue
        if layer.folded:
            shown = layer.outline is not None and scene.shows(layer.outline)
            parts.append("dashed: its other leaf, folded over" if shown else "folded over on itself")
        elif layer.outline is None:
            parts.append(f"{layer.piece} lies under it and bends along: not drawn")
        elif scene.shows(layer.outline):
            parts.append(f"dashed: {layer.piece}, under it")
        else:
            parts.append(f"{layer.piece} lies under all that is shown")
    parts += [f"hatched: {seam.hold.value}" for seam in scene.seams[:1] if seam.strips]
    if any(seam.back or seam.start_back for seam in scene.seams):
        parts.append("heavy: back stitches")
    if any(label.shared for named in scene.named for label in named.values()):
        parts.append("diamond: hole shared with the seam named")
    return "; ".join(parts)


def _names(scene: Scene) -> tuple[tuple[str, PathOps], ...]:
    """Pieces to name in the picture, each with the line its name is to stand near: of what lies on the face
    the longest in sight. What lies under all of it has brackets."""
    named = [(scene.piece.name, scene.outline)]
    sights = iter(scene.sights)
    for layer in scene.lower:
        if layer.outline is None or layer.folded:
            continue
        seen = next(sights).seen if layer.on_top else ()
        line = max(seen, key=lambda path: path.length, default=layer.outline)
        if scene.shows(line):
            named.append((layer.piece if seen else f"({layer.piece})", line))
    return tuple((name, path_ops(line.moved(scene.by))) for name, line in named)


def _shown(piece: PatternPiece, seams: Sequence[SeamPlan]) -> Box:
    """The seams with what is round them, little further than the piece."""
    left, bottom, right, top = piece.outline.bounds()
    xs, ys = zip(*(hole.at for seam in seams for hole in seam.punched.face.holes), strict=True)
    x0, x1 = _stretch(min(xs), max(xs))
    y0, y1 = _stretch(min(ys), max(ys))
    return Box(
        max(left - BEYOND, x0), max(bottom - BEYOND, y0), min(right + BEYOND, x1), min(top + BEYOND, y1)
    )


def _stretch(low: float, high: float) -> tuple[float, float]:
    around = max(AROUND, (LEAST_SHOWN - (high - low)) / 2)
    return low - around, high + around


def _lines(scene: Scene, lines: Sequence[Path]) -> Iterator[Ink]:
    """Outlines of the layers on the face or under it, then the face's, then the seams' lines."""
    *on_top, face = scene.sights
    below = [layer.outline for layer in scene.lower if not layer.on_top and layer.outline is not None]
    drawn = (
        *((path, ON_TOP) for sight in on_top for path in sight.seen),
        *((path, BELOW) for path in (*(path for sight in scene.sights for path in sight.hidden), *below)),
        *((path, OUTLINE) for path in face.seen),
        *((line, HAIR) for line in lines),
    )
    for path, stroke in drawn:
        yield Ink(path_ops(path.moved(scene.by)), stroke)


def _glue(kit: KitPlan, scene: Scene) -> Iterator[Region]:
    """The strips of glue that lie flat with the face piece, on it."""
    for seam in scene.seams:
        for strip in seam.strips:
            region = strip_on_face(kit.punched, seam.punched, strip)
            if region is not None:
                yield region


def _hatching(scene: Scene, glue: Iterable[Region]) -> Iterator[Ink]:
    """Glue as slanting lines: they print without grey."""
    for region in glue:
        for line in slanting_lines(region.moved(scene.by), HATCH):
            yield Ink(polyline_ops(line), GLUE)


def slanting_lines(area: Region, apart: float) -> Iterator[tuple[Point, Point]]:
    """Lines at 45 degrees across an area, `apart` from one another, each from one edge to the other.

    >>> from handkit.geometry.region import rectangle
    >>> [(round(a[0], 2), round(b[0], 2)) for a, b in slanting_lines(rectangle(0, 0, 10, 3), 5)]
    [(4.07, 7.07)]
    """
    left, bottom, right, top = area.bounds()
    rise = top - bottom
    at = left - rise
    while at < right:
        start = (at, bottom)
        for low, high in area.along(start, (at + rise, top)):
            yield _on_slope(start, low), _on_slope(start, high)
        at += apart * sqrt(2)


def _on_slope(start: Point, along: float) -> Point:
    return start[0] + along / sqrt(2), start[1] + along / sqrt(2)


def _symbols(scene: Scene, seam: SeamPlan, named: dict[int, HoleLabel]) -> Iterator[Ink]:
    """A dot for each hole; back stitches heavy; ring, square and diamond at the holes they stand for."""
    at = {hole.number: scene.by.apply(hole.at) for hole in seam.punched.face.holes}
    yield Ink(joined(dot_ops(place, DOT) for place in at.values()))
    rounds = STITCHES[seam.stitch].rounds
    back = [polyline_ops((at[a], at[b])) for a, b in sewn_again(seam.walk, plain=rounds)]
    if back:
        yield Ink(joined(back), BACK_STITCH)
    for number, label in named.items():
        x, y = at[number]
        if label.start:
            yield Ink(circle_ops((x, y), START_RING), KEY)
        if label.end:
            yield Ink(box_ops(x - END_SIDE, y - END_SIDE, x + END_SIDE, y + END_SIDE), KEY)
        if label.shared:
            s = SHARED_SIDE
            yield Ink(polyline_ops(((x - s, y), (x, y - s), (x + s, y), (x, y + s)), closed=True), KEY)


def sewn_again(walk: Iterable[int], *, plain: int = 1) -> tuple[tuple[int, int], ...]:
    """The stitches that the walk passes more often than `plain`, each as two hole numbers, the lower
    first. A running stitch passes each twice, there and back.

    >>> sewn_again((1, 2, 3, 4, 3, 2))
    ((2, 3), (3, 4))
    """
    counts = Counter((min(step), max(step)) for step in pairwise(walk))
    return tuple(sorted(step for step, count in counts.items() if count > plain))
