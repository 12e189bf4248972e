"""Needle words: how a seam is sewn, in lines for the bench.

In: the plan, a seam. Out: lines: layers, holes, the needles' way, and of start and end what is not as always.
How each kind of stitch is made, begun and locked, once for all seams, is in `method`; what thread is cut for
it, in `threads`.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from itertools import pairwise
from math import degrees

from msgspec import structs

from handkit.draw.words.document import Line
from handkit.draw.words.names import KitPlan
from handkit.geometry.straight import angle_between, vector
from handkit.grouping import grouped
from handkit.read.project import RoundHole, StitchHole
from handkit.stitch.plan import SeamPlan, SeamSide, Tooling
from handkit.tolerances import CORNER_TURN_DEGREES
from handkit.wording.figures import Units, counted, plain
from handkit.wording.quoting import words

# Pitches that differ by less are given as one, in mm.
UNLIKE = 0.005

# How stitch holes of cloth are made.
NOT_PUNCHED = "marked only, never punched"

# More corners than can be kept in mind are those of a zigzag or of a small round, and are left out.
MOST_CORNERS = 8

SHARED = "Shared"  # the key of the line that tells which holes other seams have, too


def walk_words(walk: Sequence[int]) -> str:
    """The holes in the order both needles come to them, straight runs shortened.

    >>> walk_words((1, 2, 3, 4, 3, 2))
    '1 → 4, back to 2'
    >>> walk_words((3, 2, 1, 2, 3, 4, 5, 1))  # a closed seam ends where it began
    '3 → 1, on to 5, then 1'
    """
    turns = [walk[0]]
    way = 0
    parts: list[str] = []
    for before, after in pairwise(walk):
        step = after - before
        if abs(step) != 1:
            turns.append(after)
            parts.append("then")
            way = 0
        elif step == way:
            turns[-1] = after
        else:
            parts.append("→" if not parts else "on to" if step > 0 else "back to")
            turns.append(after)
            way = step
    text = str(turns[0])
    for index, (word, hole) in enumerate(zip(parts, turns[1:], strict=True)):
        text += f" {word} {hole}" if index == 0 and word == "→" else f", {word} {hole}"
    return text


def seam_lines(
    kit: KitPlan, seam: SeamPlan, *, joined: Collection[str] = (), alike: Sequence[SeamPlan] = ()
) -> tuple[Line, ...]:
    """Every line of a seam but its layers, in the order of work: up to the start what is read before the
    needles are in hand. Of a seam that is told with those `joined` to it by its thread, the joints are not
    told; of one that is told for several `alike` the shared holes of each are."""
    start = () if seam.comes_from in joined else _start(kit, seam)
    end = () if seam.goes_on in joined else _end(kit, seam)
    lines = (
        Line("Holes", f"{_holes(seam)}; {pierced_words(seam)}"),
        *(Line("Iron", text) for text in _iron(seam)),
        *(Line(SHARED, text, at_hand=True) for text in _shared(kit, alike or (seam,))),
        *(Line("Start", text, at_hand=True) for text in start),
        Line("Way", _way(kit, seam), at_hand=True),
        *(Line("Join", text, at_hand=True) for text in _joins(seam)),
        *(Line("End", text, at_hand=True) for text in end),
    )
    code = f"{kit.codes.seams[seam.name]}: " if joined else ""
    return tuple(structs.replace(line, text=code + line.text) for line in lines)


def layer_lines(seam: SeamPlan) -> tuple[Line, ...]:
    """What its holes go through; the key on the first."""
    return tuple(Line("" if k else "Layers", text) for k, text in enumerate(_layers(seam)))


def hole_words(hole: StitchHole, units: Units) -> str:
    """A stitch hole's tool and size."""
    if isinstance(hole, RoundHole):
        return f"round, ⌀{units.tool(hole.diameter)}"
    return f"slit, {units.tool(hole.width)} wide, {plain(hole.slant)}° to the line"


def pierced_words(seam: SeamPlan) -> str:
    """How a seam's holes are made on its layers: what is of cloth is marked only."""
    if not seam.marked:
        return hole_words(seam.stitching.hole, seam.units)
    if not seam.is_punched:
        return NOT_PUNCHED
    return f"{hole_words(seam.stitching.hole, seam.units)}; on {words(seam.marked, last='and')} marked only"


def corners_of(seam: SeamPlan) -> tuple[int, ...]:
    """Numbers of the holes on the face at which the needles turn by more than a corner's turn."""
    at, count = [hole.at for hole in seam.punched.face.holes], seam.punched.count
    round_it = seam.punched.closed and not seam.punched.run_of(seam.punched.face).across
    within = range(count) if round_it and count > 2 else range(1, count - 1)
    ways = ((k + 1, vector(at[k - 1], at[k]), vector(at[k], at[(k + 1) % count])) for k in within)
    return tuple(
        k for k, one, next_one in ways if abs(degrees(angle_between(one, next_one))) > CORNER_TURN_DEGREES
    )


def _layers(seam: SeamPlan) -> Iterator[str]:
    """Downwards, each with its run; many stretches a line each."""
    if seam.part_way:
        stated = (f"{layer.piece} ({layer.text})" for layer in seam.punched.layers if layer.text)
        along, lines = f"along {' and '.join(stated)}: ", seam.stretch_lines
        yield from (along + lines[0], *lines[1:]) if lines else (along + seam.stretches(stack=True),)
        return
    yield f"{layers_of(seam, runs=True)}; stack {seam.units.rough.text(seam.stack)}"


def layers_of(seam: SeamPlan, *, runs: bool = False) -> str:
    """The pieces downwards as they lie, with zips' tapes; with their runs, where asked for."""
    listed = [layer.piece + f" ({layer.text})" * (runs and bool(layer.text)) for layer in seam.downwards]
    return " on ".join(seam.with_tapes(listed))


def _holes(seam: SeamPlan) -> str:
    whole = [layer for layer in seam.punched.layers if seam.punched.is_whole(layer)]
    pitches = [layer.length / max(1, seam.stitches) for layer in whole]
    pitch = seam.units.pitch.text(seam.pitch)
    if max(pitches) - min(pitches) > UNLIKE:
        pairs = zip(pitches, whole, strict=True)
        pitch = ", ".join(f"{seam.units.pitch.text(pitch)} on {layer.piece}" for pitch, layer in pairs)
    around = ", round and back" if seam.punched.closed else ""
    where = "in all" if seam.part_way else "in each layer"
    return f"{seam.punched.count} {where}, {seam.units.rough.text(seam.length)}{around}, pitch {pitch}"


def _start(kit: KitPlan, seam: SeamPlan) -> Iterator[str]:
    """Of two needles only what the method does not tell: where the thread comes from, turns at the edge."""
    first, turns = seam.walk[0], _turns(seam, first=True)
    if seam.comes_from:
        came = kit.codes.seams[seam.comes_from]
        yield f"go on from {came}: both needles have passed its last hole, here hole {first}"
    elif seam.needles == 1:
        side = seam.way[0].first if seam.way else SeamSide.FRONT
        tail = seam.units.text(seam.stitching.tail)
        yield f"needle from the {side} through hole {first}, hold a tail of {tail}{turns}"
    elif turns:
        yield f"front needle through hole {first}{turns}"


def _way(kit: KitPlan, seam: SeamPlan) -> str:
    """The holes in order, and where to go slowly; the stitch where the plan has several."""
    kinds = {each.stitch for each in kit.plan.seams}
    corners = corners_of(seam)
    listed = ", ".join(map(str, corners))
    slow = f"; corners at {listed}: pull snug before you turn" if 0 < len(corners) <= MOST_CORNERS else ""
    return f"{seam.stitch} stitch, " * (len(kinds) > 1) + walk_words(seam.walk) + slow


def _end(kit: KitPlan, seam: SeamPlan) -> Iterator[str]:
    """What is more than the last of the way."""
    turns = _turns(seam, first=False)
    if seam.goes_on:
        yield f"pull snug, and go on with both needles in {kit.codes.seams[seam.goes_on]}"
    elif turns:
        yield f"hole {seam.walk[-1]}{turns}"


def _shared(kit: KitPlan, seams: Sequence[SeamPlan]) -> Iterator[str]:
    """The holes of a seam, or of several, that another has too."""
    holes = ", ".join(
        f"{f'{kit.codes.seams[seam.name]}·' if len(seams) > 1 else ''}{number} is also {' and '.join(others)}"
        for seam in seams
        for number, others in sorted(shared_with(kit, seam).items())
    )
    if holes:
        yield f"{holes}: where thread is in it already, open it with the awl beside the thread"


def shared_with(kit: KitPlan, seam: SeamPlan) -> dict[int, tuple[str, ...]]:
    """By number of the seam's holes that serve another seam on any layer: the other's short name
    and number, `S6·1`; not those through which one thread goes on from seam to seam."""
    partners = set(seam.partners)
    found: dict[int, tuple[str, ...]] = {}
    for hole in kit.punched.shared:
        users = [(name, k) for name, _, k in hole.users if name != seam.name]
        for number in dict.fromkeys(k for name, _, k in hole.users if name == seam.name):
            others = [f"{kit.codes.seams[name]}·{k}" for name, k in users if (number, name, k) in partners]
            if others:
                found[number] = tuple(dict.fromkeys((*found.get(number, ()), *others)))
    return found


def _turns(seam: SeamPlan, *, first: bool) -> str:
    """Turns of a strand round the edge at one end, and the extra hole they go into."""
    stitching = seam.stitching
    count = stitching.wrap_start if first else stitching.wrap_end
    if not count:
        return ""
    text = f", {counted(count, 'turn')} of a strand round the edge"
    hole = 1 if first else seam.punched.count
    mouth = next((m for m in seam.mouths if m.hole == hole and m.past > 0), None)
    if mouth is None:
        return text
    return f"{text} into the extra hole in {mouth.base}, {seam.units.rough.text(mouth.past)} past the edge"


def _iron(seam: SeamPlan) -> Iterator[str]:
    """Where the stated iron stands, layer by layer, and which holes are the awl's."""
    iron = seam.stitching.iron
    if iron is None:
        return
    texts = grouped(seam.tooling, by=lambda one: _tooling_words(one, iron.teeth, seam.punched.count))
    for text, some in texts.items():
        on = " and ".join(dict.fromkeys(tooling.piece for tooling in some))
        yield f"{iron.teeth} teeth, {seam.units.tool(iron.pitch)} apart, on {on}: {text}"


def _tooling_words(tooling: Tooling, teeth: int, count: int) -> str:
    """Past a closed seam's first hole the holes of the iron are counted anew."""
    spans = ((first, last, count if first > count else 0) for first, last, _ in tooling.groups)
    groups = iron_words([(first - past, last - past) for first, last, past in spans], teeth=teeth)
    awl = f"awl for {', '.join(map(str, tooling.awl))}" if tooling.awl else ""
    return "; ".join(filter(None, (groups, awl)))


def iron_words(groups: Sequence[tuple[int, int]], *, teeth: int) -> str:
    """Where the iron stands, groups of as many teeth that run on as one.

    >>> iron_words([(1, 6), (6, 11), (11, 12), (12, 13), (14, 19)], teeth=6)
    'holes 1–11, 11–13 with 2 teeth, 14–19'
    """
    runs: list[tuple[int, int, int]] = []
    for first, last in groups:
        size = last - first + 1
        if runs and runs[-1][1:] == (first, size):
            runs[-1] = (runs[-1][0], last, size)
        else:
            runs.append((first, last, size))
    texts = (f"{a}–{b}" + (f" with {size} teeth" if size < teeth else "") for a, b, size in runs)
    return f"holes {', '.join(texts)}" if runs else ""


def _joins(seam: SeamPlan) -> Iterator[str]:
    """Where one thread ends and the next begins; one of the two may be in another seam of a row."""
    by_number = {thread.number: thread for thread in seam.threads}
    for before, after in pairwise(sorted(by_number)):
        one, other, said = by_number[before], by_number[after], []
        if one.ends(seam.name):
            said.append(f"thread {before} ends in hole {seam.walk[one.end]}")
        if other.begins(seam.name):
            said.append(f"thread {after} begins in hole {seam.walk[other.start]}")
        if said:
            yield f"{'; '.join(said)}, over the same holes"
