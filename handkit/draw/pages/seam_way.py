"""Seam way: what is written into a seam's picture: numbers, start and end, shared holes, arrows.

In: a seam's plan, where its holes are on the paper, the space that is free. Out: marks.

The holes that matter go first: start, end, where a thread begins, shared ones, where the seam
turns back; then arrows; then the numbers between them, as many as stand clear of each other.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import islice, pairwise
from math import cos, radians, sin

import msgspec

from handkit.draw.model.fonts import CAPITAL, LEAST_SIZE, Fonts
from handkit.draw.model.free_space import CELL, FreeSpace, LabelRegion, take_path
from handkit.draw.model.label_search import across, led, put, put_along
from handkit.draw.model.marks import Ink, Words
from handkit.draw.model.path_ops import PathOps, arrow_ops
from handkit.draw.words.names import KitPlan
from handkit.draw.words.needle_words import corners_of, shared_with
from handkit.geometry.affine import Affine, Point
from handkit.geometry.box import Box
from handkit.geometry.raster import Raster
from handkit.geometry.straight import distance, unit
from handkit.ink import Stroke
from handkit.kinds.stitches import STITCHES
from handkit.punch.punched import Hole
from handkit.stitch.plan import SeamPlan

# Size of numbers: capitals of 2.8 mm; of the words for start and end.
NUMBER = 3.8
KEY = 4.4

ARROW = Stroke(0.35)
ARROW_OFF = (-2.6, 2.6, -4.2, 4.2)
ARROW_LENGTH = 9.0
ARROW_HEAD = 2.0

# How far apart numbers and arrows stand along the seam, in mm of paper.
NUMBERS_APART = 9.0
ARROWS_APART = 42.0

# Where a text may stand, (off, slip): mm across from its hole, and how many of its half lengths
# along. Numbers stand across from their holes; the words for start and end may slip so far that its
# end or its beginning is across from its hole, and stand further off.
NUMBER_PLACES = tuple((off, 0.0) for off in (1.4, 2.2, 3.0, 4.0))
KEY_PLACES = (
    *((off, slip) for off in (1.9, 2.5, 3.2) for slip in (0.0, 0.5, -0.5)),
    *((off, slip) for off in (2.5, 3.2, 4.4) for slip in (0.9, -0.9)),
    *((off, slip) for off in (6.0, 8.5) for slip in (0.0, 0.9, -0.9)),
)

# Words for start and end that find no room there stand so far off, with a line to their hole.
LED_REACHES = (5.0, 6.5, 8.0, 10.0, 12.0, 14.5, 17.0, 20.0, 24.0, 29.0, 35.0)

# How near to its hole a leader may lie on what stands there. How often all those words are set anew, smaller,
# with those first that found no room.
LEADER_END, ROUNDS = 0.5, 5

# Free paper round a text and beyond what it then keeps free of others, in mm.
AIR = 0.4
APART = 0.2

# Numbers go up by one of these.
COUNTS = (1, 2, 5, 10, 20, 50, 100)


class HoleLabel(msgspec.Struct, frozen=True):
    """What is written at one hole; `short` where there is little room, "" where that is no other."""

    text: str
    start: bool = False
    end: bool = False
    shared: bool = False
    short: str = ""


class Way(msgspec.Struct, frozen=True):
    """A seam on paper: its plan, its piece's frame to the picture's, and what is free there."""

    seam: SeamPlan
    by: Affine
    space: FreeSpace

    def at(self, number: int) -> Point:
        """Where a hole is in the picture."""
        return self.by.apply(self.hole(number).at)

    def hole(self, number: int) -> Hole:
        """A hole of the face by its number."""
        return self.seam.punched.face.holes[number - 1]

    def over_joint(self, number: int, following: int) -> bool:
        """Whether a step goes across the joint of a tube: from one end of the strip to the other."""
        punched = self.seam.punched
        return bool(punched.run_of(punched.face).across) and {number, following} == {1, punched.count}

    @property
    def pitch(self) -> float:
        """From hole to hole, mm of paper."""
        return max(self.seam.pitch * self.by.d, 0.01)


def picture_space(
    size: tuple[float, float], lines: Iterable[Ink], dots: Iterable[Point], dot: float, fonts: Fonts
) -> FreeSpace:
    """What of a picture is free beside all its lines, and its dots of a diameter."""
    room = Box(0, 0, *size)
    taken = Raster(room, cell=CELL)
    for line in lines:
        if line.stroke:
            take_path(taken, line.path, reach=line.stroke.width / 2 + 0.1)
    half = dot / 2
    for x, y in dots:
        taken.take(x - half - AIR, y - half - AIR, x + half + AIR, y + half + AIR)
    texts, regions = Raster(room, cell=CELL), {LabelRegion.INSIDE: (taken, taken)}
    return FreeSpace(room, taken, texts, regions, fonts, air=AIR, apart=APART)


def labels(kit: KitPlan, seam: SeamPlan, *, within: Sequence[SeamPlan] = ()) -> dict[int, HoleLabel]:
    """What is written at the start, the end, where threads begin, and shared holes, by hole number. Where the
    thread of another seam goes on, or its own goes on in another, there is neither start nor end; the joint
    of two seams of one picture is written once, with the name of the later."""
    start, end = seam.walk[0], seam.walk[-1]
    begins = {seam.walk[thread.start]: thread.number for thread in seam.begun if thread.number > 1}
    come, go = (kit.codes.seams.get(name, "") for name in (seam.comes_from, seam.goes_on))
    drawn = {each.name for each in within}
    own = f"{kit.codes.seams[seam.name]}·" if seam.comes_from in drawn else ""
    at_start, at_end = ("" if own else f"from {come}" if come else "start"), (f"on in {go}" if go else "end")
    shared = shared_with(kit, seam)
    found = {}
    for number in dict.fromkeys((start, end, *begins, *shared)):
        if number == end and seam.goes_on in drawn:
            continue
        parts = (
            f"{own * (number == start)}{number}",
            at_start if number == start else "",
            at_end if number == end else "",
            f"thread {begins[number]}" if number in begins else "",
            *(f"= {other}" for other in shared.get(number, ())),
        )
        text = " ".join(filter(None, parts))
        start_or_end = (number == start and not come, number == end and not go)
        plain = number not in {start, end, *begins}
        short = " = ".join(shared[number]) if plain else ""
        found[number] = HoleLabel(text, *start_or_end, number in shared, short)
    return found


def way_marks(
    ways: Sequence[tuple[Way, dict[int, HoleLabel]]], pieces: Sequence[tuple[str, PathOps]]
) -> tuple[Ink | Words, ...]:
    """Numbers, arrows and names of one picture, the most needed first; each seam with the holes to mark.

    A number where a layer ends, where the needles turn, at the last hole, and every so many holes.
    """
    told = [(way, named, *_numbered(way, named)) for way, named in ways]
    return (
        *_keys([(way, number, label, KEY) for way, named in ways for number, label in named.items()]),
        *(mark for way, _, turns, _ in told for mark in _numbers(way, turns[:1])),
        *(mark for way, _, _, _ in told for mark in _arrows(way)),
        *_piece_names(ways[0][0], pieces),
        *(mark for way, _, turns, _ in told for mark in _numbers(way, turns[1:])),
        *(mark for way, _, _, rest in told for mark in _numbers(way, rest)),
    )


def _numbered(way: Way, named: dict[int, HoleLabel]) -> tuple[list[int], list[int]]:
    """Holes to number beside those that are named: where something changes, and every so many between."""
    changes = (k for a, b in pairwise(way.seam.stacks) for k in (a.last, b.first))
    last = () if way.seam.goes_on else (way.seam.punched.count,)
    wanted = dict.fromkeys((*last, *corners_of(way.seam), *changes))
    turns = [k for k in wanted if k not in named]
    step = next((step for step in COUNTS if step * way.pitch >= NUMBERS_APART), COUNTS[-1])
    rest = [k for k in range(step, way.seam.punched.count, step) if k not in named and k not in turns]
    return turns, rest


# A hole of a way with what is written there, and how large.
_Key = tuple[Way, int, HoleLabel, float]


def _keys(keys: Sequence[_Key]) -> tuple[Ink | Words, ...]:
    """The words at all holes that have some: of several tries the one that leaves out fewest, start and end
    before others; in each those come first that found no room before. All are as large as they can be in the
    first, small in others, and short in the last."""
    if not keys:
        return ()
    order, best, most = list(keys), list(keys), (-1, -1)
    for each_of in (_large, *[_small] * ROUNDS, *[_short] * ROUNDS):
        space, tried = keys[0][0].space.copy(), [each_of(key) for key in order]
        room = [bool(_key(space, each)) for each in tried]
        found = [label for (_, _, label, _), has in zip(tried, room, strict=True) if has]
        count = (sum(label.start or label.end for label in found), len(found))
        best, most = (tried, count) if count > most else (best, most)
        if all(room):
            break
        order = [each for has in (False, True) for each, own in zip(order, room, strict=True) if own is has]
    return tuple(mark for each in best for mark in _key(keys[0][0].space, each))


def _large(key: _Key) -> _Key:
    return key


def _small(key: _Key) -> _Key:
    return (*key[:3], LEAST_SIZE)


def _short(key: _Key) -> _Key:
    way, number, label, _ = key
    return way, number, msgspec.structs.replace(label, text=label.short or label.text), LEAST_SIZE


def _key(space: FreeSpace, key: _Key) -> tuple[Ink | Words, ...]:
    """Beside its hole, or further off with a leader that crosses no text and no other leader."""
    way, number, label, size = key
    way = msgspec.structs.replace(way, space=space)
    return (
        _beside(way, number, label.text, KEY_PLACES, size=size, bold=True)
        or _beside(way, number, label.text, KEY_PLACES, size=LEAST_SIZE, bold=True)
        or led(space, label.text, way.at(number), reaches=LED_REACHES, end=LEADER_END, bold=True)
    )


def _numbers(way: Way, numbers: Iterable[int]) -> Iterator[Words]:
    for number in numbers:
        yield from _beside(way, number, str(number), NUMBER_PLACES, size=NUMBER)


def _arrows(way: Way) -> Iterator[Ink]:
    """Beside the seam, the way the needles go: from the start on, and along the back stitches."""
    seam, last = way.seam, len(way.seam.walk) - 1
    apart = max(1, round(ARROWS_APART / way.pitch))
    stops = [*range(0, last, apart)]
    turn = last - seam.back
    if STITCHES[seam.stitch].rounds > 1:  # the way back is the same way
        stops = [stop for stop in stops if stop < seam.punched.count - 1]
    elif seam.back and not seam.punched.closed:
        first, *others = stops
        stops = [first, turn, *(stop for stop in others if stop < turn - seam.back)]
    reach = max(1, apart // 3)
    for stop in stops:
        steps = pairwise(seam.walk[stop : stop + reach + 1])
        yield from islice((arrow for step in steps for arrow in _arrow(way, *step)), 1)


def _arrow(way: Way, number: int, following: int) -> Iterator[Ink]:
    """From beside a hole towards the next, on the side that is free."""
    (x, y), end = way.at(number), way.at(following)
    if distance((x, y), end) < 1e-6 or way.over_joint(number, following):
        return
    dx, dy = unit((x, y), end)
    for long in (ARROW_LENGTH, ARROW_LENGTH * 0.6):
        for off in ARROW_OFF:
            tail = (x - dy * off, y + dx * off)
            tip = (tail[0] + dx * long, tail[1] + dy * long)
            if put_along(way.space, tail, tip, count=11, half=0.8, air=0.0, apart=0.0):
                yield Ink(arrow_ops(tail, tip, head=ARROW_HEAD), ARROW)


def _piece_names(way: Way, pieces: Sequence[tuple[str, PathOps]]) -> Iterator[Words]:
    """Each piece's name along its outline, as near to it as there is room."""
    for index, (name, outline) in enumerate(pieces):
        corners = [(at[-2], at[-1]) for _, at in outline.each() if at]
        places = _near(corners, way.space.fonts.width(name, NUMBER, bold=index == 0))
        yield from put(way.space, name, places, size=NUMBER, bold=index == 0)


def _near(corners: Sequence[Point], width: float) -> Iterator[Point]:
    """Centres for a text beside the middles of an outline's straight bits, a little in and out."""
    for off in (2.6, 4.0, 6.0):
        for (ax, ay), (bx, by) in pairwise([*corners, corners[0]]):
            if distance((ax, ay), (bx, by)) < 6:
                continue
            ux, uy = unit((ax, ay), (bx, by))
            reach = off - 1.4 + (abs(uy) * width + abs(ux) * CAPITAL * NUMBER) / 2
            for share in (0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9):
                x, y = ax + (bx - ax) * share, ay + (by - ay) * share
                yield (x - uy * reach, y + ux * reach)
                yield (x + uy * reach, y - ux * reach)


def _beside(  # noqa: PLR0913 - a text's looks
    way: Way, number: int, text: str, places: Iterable[Point], *, size: float, bold: bool = False
) -> tuple[Words, ...]:
    """A text across the seam from its hole, on the side that is free."""
    angle = radians(way.hole(number).along_degrees)
    along = (cos(angle), sin(angle))
    width = way.space.fonts.width(text, size, bold=bold)
    centres = across(way.at(number), along, (-along[1], along[0]), width, CAPITAL * size, places)
    return put(way.space, text, centres, size=size, bold=bold)
