"""Seam picture: a seam on its face piece, small, with its holes numbered and its way.

In: the products, a seam's plan, the fonts, the room in mm. Out: a block. The picture shows the
piece as seen from the side that will show, cut down to the seam's surroundings where the piece is
much larger.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, radians, sin

from handkit.draft.pattern import PatternPiece
from handkit.draw.flow import Block
from handkit.draw.fonts import CAPITAL, LEAST_SIZE, Fonts
from handkit.draw.ground import Box, Ground
from handkit.draw.hole_text import arrow_steps
from handkit.draw.lettering import centred
from handkit.draw.marks import Group, Ink, Mark, Words, shifted
from handkit.draw.placing import box_of
from handkit.draw.steps import box_steps, joined, line_steps, path_steps, point_steps
from handkit.draw.window_ink import stitch_path
from handkit.geometry.affine import Affine, Point
from handkit.ink import HAIR, NUMBERED_EVERY, Stroke, Tag
from handkit.punch.punched import Hole, Punched
from handkit.stitch.plan import SeamPlan

# How much of the piece is shown round a seam, in mm of the piece.
AROUND = 18.0
LEAST_SHOWN = 60.0

OUTLINE = Stroke(0.35)
TICK = 0.7
DOT = 0.5
LONG_DOT = 1.0


def seam_picture(punched: Punched, seam: SeamPlan, fonts: Fonts, *, width: float, height: float) -> Block:
    """The picture, no larger than the room, at its upper left."""
    piece = punched.pattern.piece(seam.punched.face.piece)
    shown = _shown(piece, seam)
    scale = min(width / (shown.right - shown.left), height / (shown.top - shown.bottom), 1.0)
    by = Affine(scale, 0, 0, scale, -shown.left * scale, -shown.bottom * scale)
    size = ((shown.right - shown.left) * scale, (shown.top - shown.bottom) * scale)
    frame = box_steps(0, 0, *size)
    outline = Ink(path_steps(piece.outline.moved(by)), OUTLINE)
    index = seam.punched.pattern.face_to_back[0]
    line = Ink(path_steps(stitch_path(punched, seam.punched, index).moved(by)), HAIR)
    drawing = Group((Mark(Tag.FURNITURE, (), (outline, line, *_holes(seam, by))),), (frame,))
    numbers = Group((Mark(Tag.FURNITURE, (), tuple(_numbers(seam, by, size, fonts))),))
    return Block(size[1], (shifted(drawing, 0, -size[1]), shifted(numbers, 0, -size[1])))


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


def _holes(seam: SeamPlan, by: Affine) -> tuple[Ink, ...]:
    """A dot for each hole, bigger where it has a number; an arrow from the first on."""
    holes = seam.punched.face.holes
    dots = joined(
        point_steps(by.apply(hole.at), LONG_DOT if _numbered(seam, hole) else DOT) for hole in holes
    )
    return (Ink(dots), *_arrow(seam, by))


def _arrow(seam: SeamPlan, by: Affine) -> tuple[Ink, ...]:
    """Beside the seam, from where the walk begins, the way it goes."""
    holes = {hole.number: hole for hole in seam.punched.face.holes}
    if len(seam.walk) < 2:
        return ()
    first, second = (by.apply(holes[number].at) for number in seam.walk[:2])
    hole = holes[seam.walk[0]]
    angle = radians(hole.along_degrees)
    way = 1.0 if seam.walk[1] > seam.walk[0] else -1.0
    dx, dy = cos(angle) * way, sin(angle) * way
    if first == second:
        return ()
    tail = (first[0] - dy * 1.8, first[1] + dx * 1.8)
    return (Ink(arrow_steps(tail, (tail[0] + dx * 7, tail[1] + dy * 7), head=1.5), Stroke(0.25)),)


def _numbered(seam: SeamPlan, hole: Hole) -> bool:
    return hole.number in (1, seam.punched.count) or hole.number % NUMBERED_EVERY == 0


def _numbers(seam: SeamPlan, by: Affine, size: Point, fonts: Fonts) -> Iterator[Words]:
    """Numbers where they lie on no hole and on no other number; the first and the last go first."""
    room = Box(-6, -3, size[0] + 6, size[1] + 3)
    ground = Ground(Box(0, 0, room.right + 6, room.top + 3))
    for hole in seam.punched.face.holes:
        x, y = by.apply(hole.at)
        ground.take(Box(x + 5.7, y + 2.7, x + 6.3, y + 3.3))
    named = [hole for hole in seam.punched.face.holes if _numbered(seam, hole)]
    for hole in sorted(named, key=lambda hole: (hole.number not in (1, seam.punched.count), hole.number)):
        for centre in _beside(by.apply(hole.at), hole, str(hole.number), fonts):
            words = centred(str(hole.number), centre, fonts, bold=hole.number == 1)
            box = box_of(words, fonts)
            moved = Box(box.left + 6, box.bottom + 3, box.right + 6, box.top + 3)
            if ground.is_free(moved.grown(0.3)):
                ground.take(moved)
                yield words
                break


def _beside(at: Point, hole: Hole, text: str, fonts: Fonts) -> Iterator[Point]:
    angle = radians(hole.along_degrees)
    nx, ny = -sin(angle), cos(angle)
    width, height = fonts.width(text, LEAST_SIZE), CAPITAL * LEAST_SIZE
    reach = (abs(nx) * width + abs(ny) * height) / 2
    for off in (1.2, 3.5, 6.0):
        for side in (1, -1):
            across = side * (off + reach)
            yield (at[0] + nx * across, at[1] + ny * across)


def tick(at: Point, degrees: float) -> tuple[tuple[str, tuple[float, ...]], ...]:
    """A short line across the seam."""
    angle = radians(degrees)
    dx, dy = -sin(angle) * TICK, cos(angle) * TICK
    return line_steps((at[0] - dx, at[1] - dy), (at[0] + dx, at[1] + dy))
