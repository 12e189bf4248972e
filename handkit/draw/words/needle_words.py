"""Needle words: how a seam is sewn, in sentences for the bench.

In: a seam's plan. Out: lines of text: layers, holes, thread, start, the needles' way, end. How each
kind of stitch is made, once for all seams, is in `method`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import degrees

from handkit.geometry.straight import angle_between, vector
from handkit.grouping import grouped
from handkit.kinds.stitches import STITCHES
from handkit.read.project import Punching, RoundHole, StitchHole
from handkit.stitch.plan import Predecessor, SeamPlan, SeamSide, Tooling
from handkit.tolerances import CORNER_TURN_DEGREES
from handkit.wording.figures import CUT_THREAD, PITCH, counted, mm, plain
from handkit.wording.quoting import quoted, words

# Pitches that differ by less are given as one, in mm.
UNLIKE = 0.005

# More corners than can be kept in mind are those of a zigzag or of a small round, and are left out.
MOST_CORNERS = 8


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


def seam_lines(seam: SeamPlan) -> tuple[tuple[str, str], ...]:
    """Key and text of every line of a seam's instructions, in the order of work: up to the start what
    is read before the needles are in hand."""
    return (
        *(("Layers", text) for text in _layers(seam)),
        ("Holes", _holes(seam)),
        ("Thread", _thread(seam)),
        *(("Check", text) for text in _rule(seam)),
        *(("Iron", text) for text in _iron(seam)),
        *(("After", text) for text in after_words(seam.after)),
        ("Start", _start(seam)),
        ("Way", _way(seam)),
        *(("Join", text) for text in _joins(seam)),
        ("End", _end(seam)),
        *(("Lock", text) for text in _lock(seam)),
    )


def _lock(seam: SeamPlan) -> Iterator[str]:
    """How its ends are locked; where the thread only goes on there are none."""
    if any(thread.ends(seam.name) for thread in seam.threads):
        yield seam.lock or "melt both ends of synthetic, never near solvent glue; glue linen"


def hole_words(hole: StitchHole) -> str:
    """A stitch hole's tool and size."""
    if isinstance(hole, RoundHole):
        return f"round, ⌀{mm(hole.diameter)}"
    return f"slit, {mm(hole.width)} wide, {plain(hole.slant)}° to the line"


def pierced_words(seam: SeamPlan) -> str:
    """How a seam's holes are made on its layers: what is of cloth is marked only."""
    if not seam.marked:
        return hole_words(seam.stitching.hole)
    if not seam.is_punched:
        return "marked only, never punched"
    return f"{hole_words(seam.stitching.hole)}; on {words(seam.marked, last='and')} marked only"


def punch_words(seam: SeamPlan) -> str:
    """The same for a terminal, and how the layers are marked."""
    stitching = seam.stitching
    hole = stitching.hole
    if isinstance(hole, RoundHole):
        size = f"round holes, {plain(hole.diameter)} across"
    else:
        size = f"slits {plain(hole.width)} long, at {plain(hole.slant)} degrees to the line"
    if not seam.is_punched:
        size = "holes marked, never punched"
    elif seam.marked:
        size += f" (on {words(seam.marked, last='and')} marked, never punched)"
    if stitching.punch is Punching.THROUGH:
        marked = "the marks of the layer on top" if seam.part_way else "the face layer's marks"
        return f"{size}, through all layers from {marked}"
    return f"{size}, each layer by its own marks"


def corners_of(seam: SeamPlan) -> tuple[int, ...]:
    """Numbers of the holes on the face at which the needles turn by more than a corner's turn."""
    at, count = [hole.at for hole in seam.punched.face.holes], seam.punched.count
    round_it = seam.punched.closed and not seam.punched.run_of(seam.punched.face).across
    within = range(count) if round_it and count > 2 else range(1, count - 1)
    ways = ((k + 1, vector(at[k - 1], at[k]), vector(at[k], at[(k + 1) % count])) for k in within)
    return tuple(
        k for k, one, next_one in ways if abs(degrees(angle_between(one, next_one))) > CORNER_TURN_DEGREES
    )


def after_words(after: Sequence[Predecessor]) -> tuple[str, ...]:
    """What comes before a work, those with one reason together.

    >>> after_words([Predecessor("rim", "caps foul the clamp"), Predecessor("hem", "caps foul the clamp")])
    ('rim, hem: caps foul the clamp',)
    """
    reasons = grouped(after, by=lambda before: before.why)
    return tuple(f"{', '.join(before.name for before in some)}: {why}" for why, some in reasons.items())


def _layers(seam: SeamPlan) -> Iterator[str]:
    """From the face down, each with its run; many stretches a line each."""
    if seam.part_way:
        stated = (f"{layer.piece} ({layer.text})" for layer in seam.punched.layers if layer.text)
        along, lines = f"along {' and '.join(stated)}: ", seam.stretch_lines
        yield from (along + lines[0], *lines[1:]) if lines else (along + seam.stretches(stack=True),)
        return
    layers = [seam.punched.layers[k] for k in seam.punched.pattern.face_to_back]
    names = (f"{layer.piece} ({layer.text})" if layer.text else layer.piece for layer in layers)
    listed = [*names]
    listed[1:1] = seam.tape_words
    yield f"{' on '.join(listed)}; stack {mm(seam.stack, decimals=1)}"


def _holes(seam: SeamPlan) -> str:
    whole = [layer for layer in seam.punched.layers if seam.punched.is_whole(layer)]
    pitches = [layer.length / max(1, seam.stitches) for layer in whole]
    pitch = PITCH.text(seam.pitch)
    if max(pitches) - min(pitches) > UNLIKE:
        pairs = zip(pitches, whole, strict=True)
        pitch = ", ".join(f"{PITCH.text(pitch)} on {layer.piece}" for pitch, layer in pairs)
    around = ", round and back" if seam.punched.closed else ""
    where = "in all" if seam.part_way else "in each layer"
    return f"{seam.punched.count} {where}, {mm(seam.length, decimals=1)}{around}, pitch {pitch}"


def _thread(seam: SeamPlan) -> str:
    """Its thickness, the needles, how long it is cut."""
    stitching = seam.stitching
    needles = "one needle" if seam.needles == 1 else "two needles"
    needle = f", needle ⌀{mm(stitching.needle)}" if stitching.needle is not None else ""
    others = dict.fromkeys(thread.seams[0] for thread in seam.threads if not thread.begins(seam.name))
    going = (f"goes on with the thread of {quoted(name)}" for name in others)
    return f"⌀{mm(stitching.thread)}, {needles}{needle}; {', then '.join((*going, *_cut_for(seam)))}"


def _cut_for(seam: SeamPlan) -> Iterator[str]:
    """The whole lengths of the threads that are begun here, and where the last of them goes on."""
    begun = seam.begun
    if not begun:
        return
    cut, count = CUT_THREAD.several(thread.whole for thread in begun), len(begun)
    in_all = CUT_THREAD.text(sum(thread.whole for thread in begun))
    text = f"cut {cut}" if count == 1 else f"cut {count}: {cut}, {in_all} in all"
    going = [thread for thread in begun if thread.seams[1:]]
    if going:
        which = "it goes" if count == 1 else "the last goes" if len(going) == 1 else "the last ones go"
        text += f"; {which} on in {words(map(quoted, going[-1].seams[1:]), last='and')}"
    yield text


def _rule(seam: SeamPlan) -> Iterator[str]:
    """Once for all seams that are sewn as one, at the first of them: shares have no rule."""
    if seam.comes_from:
        return
    rule, count = seam.row.rule_of_thumb, len(seam.row.seams)
    all_of = "seam" if count == 1 else f"{count} seams together"
    short = seam.row.thread - rule
    verdict = f"too little by {CUT_THREAD.text(short)} here" if short > 0.5 else "enough here"
    yield f"rule of thumb (five times the {all_of} and 100 mm) {CUT_THREAD.text(rule)}: {verdict}"


def _start(seam: SeamPlan) -> str:
    first, back = seam.walk[0], seam.start_back
    if seam.comes_from:
        return (
            f"go on from {quoted(seam.comes_from)}: both needles have passed its last hole, here hole {first}"
        )
    text = f"front needle through hole {first}, pull until both halves are alike"
    if seam.needles == 1:
        side = seam.way[0].first if seam.way else SeamSide.FRONT
        tail = mm(seam.stitching.tail)
        text = f"needle from the {side} through hole {first}, hold a tail of {tail}"
    sewn = f"; sew {counted(back, 'stitch', 'stitches')} back to hole 1, then on over them" if back else ""
    return text + _turns(seam, first=True) + sewn


def _way(seam: SeamPlan) -> str:
    """Which needle goes first, all along, and where to go slowly."""
    corners = corners_of(seam)
    listed = ", ".join(map(str, corners))
    slow = f"; corners at {listed}: pull snug before you turn" if 0 < len(corners) <= MOST_CORNERS else ""
    return f"{STITCHES[seam.stitch].way}: {walk_words(seam.walk)}{slow}"


def _end(seam: SeamPlan) -> str:
    if seam.goes_on:
        return f"none: pull snug, and go on with both needles in {quoted(seam.goes_on)}"
    back = counted(seam.back, "back stitch", "back stitches")
    done = f"{back}, the last" if seam.back > 0 else "no back stitches, ends"
    return f"{done} in hole {seam.walk[-1]}{_turns(seam, first=False)}"


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
    return f"{text} into the extra hole in {mouth.base}, {mm(mouth.past, decimals=1)} past the edge"


def _iron(seam: SeamPlan) -> Iterator[str]:
    """Where the stated iron stands, layer by layer, and which holes are the awl's."""
    iron = seam.stitching.iron
    if iron is None:
        return
    texts = grouped(seam.tooling, by=lambda one: _tooling_words(one, iron.teeth, seam.punched.count))
    for text, some in texts.items():
        on = " and ".join(dict.fromkeys(tooling.piece for tooling in some))
        yield f"{iron.teeth} teeth, {mm(iron.pitch)} apart, on {on}: {text}"


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
