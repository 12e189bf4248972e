"""Seam picture: a seam on its face piece, small, with its holes numbered and its way.

In: the products, a seam's plan, the fonts, the room in mm. Out: a block. The picture shows the
piece as seen from the side that will show, cut down to the seam's surroundings where the piece is
much larger.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from math import cos, radians, sin

from handkit.draft.pattern import PatternPiece
from handkit.draw.flow import Block, paragraph, stacked
from handkit.draw.fonts import CAPITAL, LEAST_SIZE, Fonts
from handkit.draw.ground import Box, Ground
from handkit.draw.hole_text import arrow_steps
from handkit.draw.lettering import centred
from handkit.draw.marks import Group, Ink, Mark, Words, shifted
from handkit.draw.placing import box_of
from handkit.draw.steps import box_steps, joined, path_steps, point_steps
from handkit.draw.window_ink import stitch_path
from handkit.geometry.affine import Affine, Point
from handkit.ink import HAIR, NUMBERED_EVERY, Stroke, Tag
from handkit.punch.punched import Hole, Punched
from handkit.stitch.plan import SeamPlan

# How much of the piece is shown round a seam, in mm of the piece.
AROUND = 18.0
LEAST_SHOWN = 60.0

OUTLINE = Stroke(0.35)
ARROW = Stroke(0.25)
CUT_OFF = Stroke(0.18, (0.6, 1.4))
ARROW_OFF = 1.8
ARROW_LENGTHS = (7.0, 4.0)
DOT = 0.5
LONG_DOT = 1.0


def seam_picture(punched: Punched, seam: SeamPlan, fonts: Fonts, *, width: float, height: float) -> Block:
    """The picture, no larger than the room, at its upper left, with its caption below."""
    piece = punched.pattern.piece(seam.punched.face.piece)
    shown = _shown(piece, seam)
    caption = _caption(piece, shown, fonts, width)
    room = height - caption.height
    scale = min(width / (shown.right - shown.left), room / (shown.top - shown.bottom), 1.0)
    by = Affine(scale, 0, 0, scale, -shown.left * scale, -shown.bottom * scale)
    size = ((shown.right - shown.left) * scale, (shown.top - shown.bottom) * scale)
    index = seam.punched.pattern.face_to_back[0]
    line = stitch_path(punched, seam.punched, index).moved(by)
    lines = (Ink(path_steps(piece.outline.moved(by)), OUTLINE), Ink(path_steps(line), HAIR))
    frame = box_steps(0, 0, *size)
    cut = () if _whole(piece, shown) else (Ink(frame, CUT_OFF),)
    drawing = Group((Mark(Tag.FURNITURE, (), (*cut, *lines, _dots(seam, by))),), (frame,))
    ground = _ground(seam, by, size, lines)
    texts: tuple[Ink | Words, ...] = (*_arrow(seam, by, ground), *_numbers(seam, by, ground, fonts))
    words = Group((Mark(Tag.FURNITURE, (), texts),))
    groups = tuple(shifted(group, 0, -size[1]) for group in (drawing, words))
    return stacked([Block(size[1] + 1, groups), caption])


def _caption(piece: PatternPiece, shown: Box, fonts: Fonts, width: float) -> Block:
    """Which piece, and whether the picture shows all of it."""
    text = f"{piece.name}, seen from its face" + ("" if _whole(piece, shown) else "; part of it")
    return stacked(paragraph(text, width, fonts))


def _whole(piece: PatternPiece, shown: Box) -> bool:
    left, bottom, right, top = piece.outline.bounds()
    across = shown.left < left and shown.right > right
    return across and shown.bottom < bottom and shown.top > top


def _shown(piece: PatternPiece, seam: SeamPlan) -> Box:
    """The seam with what is round it, no further than the piece."""
    left, bottom, right, top = piece.outline.bounds()
    xs, ys = zip(*(hole.at for hole in seam.punched.face.holes), strict=True)
    x0, x1 = _stretch(min(xs), max(xs))
    y0, y1 = _stretch(min(ys), max(ys))
    return Box(max(left - 2, x0), max(bottom - 2, y0), min(right + 2, x1), min(top + 2, y1))


def _stretch(low: float, high: float) -> tuple[float, float]:
    around = max(AROUND, (LEAST_SHOWN - (high - low)) / 2)
    return low - around, high + around


def _dots(seam: SeamPlan, by: Affine) -> Ink:
    """A dot for each hole, bigger where it has a number."""
    return Ink(
        joined(
            point_steps(by.apply(hole.at), LONG_DOT if _numbered(seam, hole) else DOT)
            for hole in seam.punched.face.holes
        )
    )


def _numbered(seam: SeamPlan, hole: Hole) -> bool:
    return hole.number in (1, seam.punched.count) or hole.number % NUMBERED_EVERY == 0


def _ground(seam: SeamPlan, by: Affine, size: Point, lines: tuple[Ink, ...]) -> Ground:
    """The picture's ground, with its lines and holes taken."""
    ground = Ground(Box(0, 0, *size))
    for line in lines:
        ground.take_steps(line.steps, reach=0.2)
    for hole in seam.punched.face.holes:
        x, y = by.apply(hole.at)
        ground.take(Box(x - 0.5, y - 0.5, x + 0.5, y + 0.5))
    return ground


def _numbers(seam: SeamPlan, by: Affine, ground: Ground, fonts: Fonts) -> Iterator[Words]:
    """The first and the last go first; one that finds no room is left out."""
    ends = (1, seam.punched.count)
    named = [hole for hole in seam.punched.face.holes if _numbered(seam, hole)]
    for hole in sorted(named, key=lambda hole: (hole.number not in ends, hole.number)):
        for centre in _beside(by.apply(hole.at), hole, str(hole.number), fonts):
            words = centred(str(hole.number), centre, fonts, bold=hole.number == 1)
            box = box_of(words, fonts)
            if ground.is_free(box.grown(0.3)):
                ground.take(box)
                yield words
                break


def _arrow(seam: SeamPlan, by: Affine, ground: Ground) -> tuple[Ink, ...]:
    """Beside the seam, from where the walk begins, the way it goes, on the side that is free."""
    holes = {hole.number: hole for hole in seam.punched.face.holes}
    if len(seam.walk) < 2:
        return ()
    hole, way = holes[seam.walk[0]], 1.0 if seam.walk[1] > seam.walk[0] else -1.0
    (x, y), angle = by.apply(hole.at), radians(hole.along_degrees)
    dx, dy = cos(angle) * way, sin(angle) * way
    for length, side in product(ARROW_LENGTHS, (ARROW_OFF, -ARROW_OFF)):
        tail = (x - dy * side + dx * 2.5, y + dx * side + dy * 2.5)
        tip = (tail[0] + dx * length, tail[1] + dy * length)
        box = Box(min(tail[0], tip[0]), min(tail[1], tip[1]), max(tail[0], tip[0]), max(tail[1], tip[1]))
        if ground.is_free(box.grown(0.4)):
            ground.take(box.grown(0.4))
            return (Ink(arrow_steps(tail, tip, head=1.5), ARROW),)
    return ()


def _beside(at: Point, hole: Hole, text: str, fonts: Fonts) -> Iterator[Point]:
    angle = radians(hole.along_degrees)
    nx, ny = -sin(angle), cos(angle)
    width, height = fonts.width(text, LEAST_SIZE), CAPITAL * LEAST_SIZE
    reach = (abs(nx) * width + abs(ny) * height) / 2
    for off in (1.2, 3.5, 6.0):
        for side in (1, -1):
            across = side * (off + reach)
            yield (at[0] + nx * across, at[1] + ny * across)
