"""Needle words: how a seam is sewn, in sentences for the bench.

In: a seam's plan. Out: lines of text: start, the needles' way, back stitches, end.

The stitch is the two-needle saddle stitch: one thread, a needle at either end, both through every
hole, so that one strand lies on either face (ISO 4915 type 201, strands parallel).
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from handkit.draw.names import count_of, figure
from handkit.stitch.plan import Before, SeamPlan, Thread

SADDLE_STITCH: tuple[str, ...] = (
    "One thread, a needle on either end. Pass one needle through the first hole and pull until both "
    "halves are alike.",
    "At each hole: the needle of the front goes through first, and is pulled part of the way; hold its "
    "thread back and aside; the needle of the back goes through the same hole, beside the thread and "
    "never through it. Pull both even, firm but without puckering. Keep this order all along the seam.",
    "End: after the back stitches cut both ends close; melt a synthetic thread and press it flat, "
    "glue a linen one.",
)

# Pitches that differ by less are told as one, in mm.
UNLIKE = 0.005


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
    """Key and text of every line of a seam's instructions, in the order of work."""
    stitching = seam.punched.pattern.seam.stitching
    needle = f", needle ⌀{figure(stitching.needle)} mm" if stitching.needle is not None else ""
    return (
        ("Layers", _layers(seam)),
        ("Holes", _holes(seam)),
        ("Thread", f"⌀{figure(stitching.thread)} mm, two needles{needle}; {_cuts(seam)}"),
        ("Check", _rule(seam)),
        ("Start", _start(seam)),
        ("Way", f"both needles through hole {walk_words(seam.walk)}"),
        *_joins(seam),
        ("End", _end(seam)),
        *(("After", text) for text in after_words(seam.after)),
    )


def after_words(after: Sequence[Before]) -> tuple[str, ...]:
    """What comes before a work, those with one reason together.

    >>> after_words([Before("rim", "caps foul the clamp"), Before("hem", "caps foul the clamp")])
    ('rim, hem: caps foul the clamp',)
    """
    names: dict[str, list[str]] = {}
    for before in after:
        names.setdefault(before.why, []).append(before.name)
    return tuple(f"{', '.join(some)}: {why}" for why, some in names.items())


def _layers(seam: SeamPlan) -> str:
    """From the face down, each with its run."""
    layers = seam.punched.layers
    order = seam.punched.pattern.face_to_back
    names = (f"{layers[k].piece} ({layers[k].text})" if layers[k].text else layers[k].piece for k in order)
    return f"{' on '.join(names)}; stack {figure(seam.stack, 1)} mm"


def _holes(seam: SeamPlan) -> str:
    count, closed = seam.punched.count, seam.punched.closed
    stitches = count if closed else count - 1
    pitches = [layer.length / max(1, stitches) for layer in seam.punched.layers]
    pitch = f"pitch {seam.pitch:.2f} mm"
    if max(pitches) - min(pitches) > UNLIKE:
        pairs = zip(pitches, seam.punched.layers, strict=True)
        pitch = "pitch " + ", ".join(f"{pitch:.2f} mm on {layer.piece}" for pitch, layer in pairs)
    round_words = ", round and back" if closed else ""
    return f"{count} in each layer, {figure(seam.length, 1)} mm{round_words}, {pitch}"


def _cuts(seam: SeamPlan) -> str:
    if len(seam.threads) == 1:
        return f"cut {seam.threads[0].cut:.0f} mm"
    lengths = " and ".join(f"{thread.cut:.0f}" for thread in seam.threads)
    return f"cut {len(seam.threads)}: {lengths} mm, {seam.thread:.0f} mm in all"


def _rule(seam: SeamPlan) -> str:
    short = seam.thread - seam.rule_of_thumb
    verdict = f"{short:.0f} mm too short here" if short > 0.5 else "enough here"
    return f"rule of thumb, five times the seam and 100 mm: {seam.rule_of_thumb:.0f} mm, {verdict}"


def _start(seam: SeamPlan) -> str:
    stitching = seam.punched.pattern.seam.stitching
    first = seam.walk[0]
    turns = _turns(stitching.wrap_start)
    halves = f"thread through hole {first} up to its middle"
    if stitching.start_back:
        back = count_of(stitching.start_back, "stitch", "stitches")
        return f"{halves}{turns}; sew {back} back to hole 1, then on over them"
    return f"{halves}{turns}"


def _end(seam: SeamPlan) -> str:
    stitching = seam.punched.pattern.seam.stitching
    turns = _turns(stitching.wrap_end)
    if stitching.back == 0:
        return f"in hole {seam.walk[-1]}, no back stitches{turns}"
    return (
        f"{count_of(stitching.back, 'back stitch', 'back stitches')}, the last in hole {seam.walk[-1]}{turns}"
    )


def _turns(count: int) -> str:
    return f", {count_of(count, 'turn')} of a strand round the edge" if count else ""


def _joins(seam: SeamPlan) -> tuple[tuple[str, str], ...]:
    """Where one thread ends and the next begins."""
    return tuple(
        ("Join", _join(seam, k, before, after))
        for k, (before, after) in enumerate(pairwise(seam.threads), start=1)
    )


def _join(seam: SeamPlan, number: int, before: Thread, after: Thread) -> str:
    return (
        f"thread {number} ends in hole {seam.walk[before.end]}; thread {number + 1} begins in hole "
        f"{seam.walk[after.start]}, over the same holes"
    )
