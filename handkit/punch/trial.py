"""Trial: where the tape goes that holds a paper trial together, and what differs from the kit itself.

In: what was punched for trial stock, and as the file has it. Out: the first with a mark for each piece of
tape on every piece that the seam goes through, and the differences. All mm.

A mark is a box on the stitch line between two holes, at the same holes of all layers, so that boxes which
belong together lie on one another as the holes do. It is drawn inside its piece and takes no paper.
"""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from handkit.draft.pattern import PatternPiece, PieceMark
from handkit.geometry.affine import Point
from handkit.geometry.path import polyline
from handkit.geometry.straight import middle_of, unit
from handkit.punch.punched import Hole, Punched, PunchedSeam, Trial, TriedPiece, TriedSeam
from handkit.read.project import MarkKind

# From one piece of tape to the next, and half of a mark along its line and across (our own: common tape is 12
# to 19 wide).
APART = 60.0
HALF_LONG, HALF_WIDE = 6.0, 2.0
# A seam with fewer stitches is held by one piece of tape; of others the first and last stitch stay free, so
# that no mark reaches past the piece.
FEW = 5
# What differs by less can't be seen on card.
SEEN = 0.05


def tried(punched: Punched, own: Punched) -> Punched:
    """What is punched for a trial, with its marks and what differs from `own`."""
    pieces = tuple(_taped(piece, punched) for piece in punched.pattern.pieces)
    marked = msgspec.structs.replace(punched.pattern, pieces=pieces)
    trial = Trial(tuple(_sizes(punched, own)), tuple(_counts(punched, own)))
    return msgspec.structs.replace(punched, pattern=marked, trial=trial).instead_of(own)


def _taped(piece: PatternPiece, punched: Punched) -> PatternPiece:
    marks = tuple(
        PieceMark(MarkKind.TAPE, polyline(_box(*pair), closed=True), seam.name)
        for seam in punched.seams
        for layer in seam.layers
        if layer.piece == piece.name
        for pair in _pairs(seam, layer.holes)
    )
    return msgspec.structs.replace(piece, marks=(*piece.marks, *marks))


def _pairs(seam: PunchedSeam, holes: tuple[Hole, ...]) -> Iterator[tuple[Point, Point]]:
    """The two holes on either side of each mark, where a layer has both."""
    places = {hole.number: hole.at for hole in holes}
    for number in taped_steps(seam.count, closed=seam.closed, length=seam.layers[0].length):
        after = number % seam.count + 1
        if number in places and after in places:
            yield places[number], places[after]


def taped_steps(count: int, *, closed: bool, length: float) -> tuple[int, ...]:
    """The numbers of the holes after which tape goes, of a seam with so many holes and of a length.

    >>> taped_steps(31, closed=False, length=120), taped_steps(4, closed=False, length=12)
    ((2, 15, 29), (2,))
    >>> taped_steps(40, closed=True, length=160)
    (1, 14, 27)
    """
    steps = count if closed else count - 1
    if steps < FEW:
        return (steps // 2 + 1,) if steps else ()
    if closed:
        many = max(3, round(length / APART))
        return tuple(k * steps // many + 1 for k in range(many))
    first, last = 2, steps - 1
    many = min(max(1, round(length / APART)), last - first)
    return tuple(first + k * (last - first) // many for k in range(many + 1))


def _box(start: Point, end: Point) -> tuple[Point, ...]:
    (x, y), (ux, uy) = middle_of((start, end)), unit(start, end)
    corners = (
        (-HALF_LONG, -HALF_WIDE),
        (HALF_LONG, -HALF_WIDE),
        (HALF_LONG, HALF_WIDE),
        (-HALF_LONG, HALF_WIDE),
    )
    return tuple((x + a * ux - b * uy, y + a * uy + b * ux) for a, b in corners)


def _sizes(punched: Punched, own: Punched) -> Iterator[TriedPiece]:
    for piece in own.pattern.pieces:
        mine, other = _size(piece), _size(punched.pattern.piece(piece.name))
        if max(abs(a - b) for a, b in zip(mine, other, strict=True)) >= SEEN:
            yield TriedPiece(piece.name, mine, other)


def _size(piece: PatternPiece) -> Point:
    left, low, right, high = piece.outline.bounds()
    return right - left, high - low


def _counts(punched: Punched, own: Punched) -> Iterator[TriedSeam]:
    found = {seam.name: seam.count for seam in punched.seams}
    for seam in own.seams:
        if found.get(seam.name, seam.count) != seam.count:
            yield TriedSeam(seam.name, seam.count, found[seam.name])
