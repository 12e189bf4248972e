"""Stretches: which holes of a seam go through which pieces, in words.

In: the first and last hole of each stretch and its pieces. Out: phrases, for steps and instructions
alike.

Words: a *stretch* is a row of holes, none left out, that go through the same pieces; *alone* is said of
the one piece that goes on where others end.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from handkit.figures import mm
from handkit.quoting import words

# More stretches than this are told with alike ones together.
MOST_APART = 6

# First and last hole, pieces from the back forward, the greatest thickness there in mm.
Stretch = tuple[int, int, Sequence[str], float]


def pieces_words(pieces: Sequence[str]) -> str:
    """Pieces one on the other, in words; a piece that is folded on itself counts as often.

    >>> pieces_words(["back", "pocket"]), pieces_words(["sheath", "sheath"])
    ('back and pocket', 'both layers of sheath')
    >>> pieces_words(["sheath", "welt", "sheath"])
    'sheath, welt and sheath'
    """
    told = []
    for name, group in groupby(pieces):
        count = len(list(group))
        layers = "both layers" if count == 2 else f"all {count} layers"
        told.append(f"{layers} of {name}" if count > 1 else name)
    return words(told, last="and")


def stretch_words(stretches: Sequence[Stretch], *, stack: bool) -> str:
    """What all holes go through, stretch by stretch, with the stack of each where it is asked for.

    >>> print(stretch_words([(1, 31, ["back", "pocket"], 3.4), (32, 47, ["back"], 2.4)], stack=True))
    holes 1 to 31 through back and pocket (stack 3.4 mm), 32 to 47 through back alone (2.4 mm)
    >>> print(stretch_words([(1, 2, ["a", "b"], 2), (3, 9, ["a", "b", "c"], 3)], stack=False))
    holes 1 to 2 through a and b; 3 to 9 through a, b and c
    """
    kinds: dict[tuple[object, ...], list[Stretch]] = {}
    for place, stretch in enumerate(stretches):
        alike = (tuple(stretch[2]), round(stretch[3], 3)) if len(stretches) > MOST_APART else (place,)
        kinds.setdefault(alike, []).append(stretch)
    most = max(len(pieces) for _, _, pieces, _ in stretches)
    parts = [_part(group, most) for group in kinds.values()]
    between = "; " if any("," in part for part in parts) else ", "
    if not stack:
        return "holes " + between.join(parts)
    stacks = [mm(group[0][3], decimals=1) for group in kinds.values()]
    stacks[0] = f"stack {stacks[0]}"
    return "holes " + between.join(f"{part} ({thick})" for part, thick in zip(parts, stacks, strict=True))


def _part(group: Sequence[Stretch], most: int) -> str:
    """Alike stretches in one phrase."""
    numbers = words((str(a) if a == b else f"{a} to {b}" for a, b, _, _ in group), last="and")
    pieces = group[0][2]
    alone = " alone" if len(set(pieces)) == 1 and len(pieces) < most else ""
    return f"{numbers} through {pieces_words(pieces)}{alone}"
