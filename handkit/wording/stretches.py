"""Stretches: which holes of a seam go through which pieces, in words.

In: the first and last hole of each stretch and its pieces. Out: phrases, for steps and instructions
alike.

Words: a *stretch* is a row of holes, none left out, that go through the same pieces; *alone* is said of
the one piece that goes on where others end.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from handkit.grouping import grouped
from handkit.wording.figures import METRIC, Units
from handkit.wording.quoting import words

# More stretches than this are told with alike ones together.
MOST_APART = 6

# More kinds of stretches than this are a table of their own, and in a step told by their pieces alone.
MOST_TOLD = 4

# First and last hole, pieces from the back forward, the greatest thickness there in mm.
Stretch = tuple[int, int, tuple[str, ...], float]


def spans(numbers: Sequence[int]) -> tuple[tuple[int, int], ...]:
    """First and last of each row of numbers without a gap.

    >>> spans([1, 2, 3, 7, 9, 10])
    ((1, 3), (7, 7), (9, 10))
    """
    found: list[tuple[int, int]] = []
    for number in numbers:
        if found and number == found[-1][1] + 1:
            found[-1] = (found[-1][0], number)
        else:
            found.append((number, number))
    return tuple(found)


def number_words(numbers: Sequence[int]) -> str:
    """Numbers in words, rows of them by their ends.

    >>> number_words([4]), number_words([4, 5]), number_words([1, 2, 3, 7])
    ('4', '4 and 5', '1 to 3 and 7')
    """
    return _numbers_in(spans(numbers))


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


def stretch_words(
    stretches: Sequence[Stretch], units: Units = METRIC, *, stack: bool, noun: str = "holes"
) -> str:
    """What all holes go through, stretch by stretch, with the stack of each where it is asked for.

    >>> print(stretch_words([(1, 31, ("back", "pocket"), 3.4), (32, 47, ("back",), 2.4)], stack=True))
    holes 1 to 31 through back and pocket (stack 3.4 mm), 32 to 47 through back alone (2.4 mm)
    >>> print(stretch_words([(1, 2, ("a", "b"), 2), (3, 9, ("a", "b", "c"), 3)], stack=False))
    holes 1 and 2 through a and b; 3 to 9 through a, b and c
    """
    kinds = _alike(stretches) if len(stretches) > MOST_APART else {one: [one] for one in stretches}
    most = max(len(pieces) for _, _, pieces, _ in stretches)
    parts = [_part(group, most) for group in kinds.values()]
    between = "; " if any("," in part for part in parts) else ", "
    if not stack:
        return f"{noun} {between.join(parts)}"
    stacks = [units.rough.text(group[0][3]) for group in kinds.values()]
    stacks[0] = f"stack {stacks[0]}"
    told = (f"{part} ({thick})" for part, thick in zip(parts, stacks, strict=True))
    return f"{noun} {between.join(told)}"


def stretch_table(stretches: Sequence[Stretch], units: Units = METRIC) -> tuple[str, ...]:
    """The same of many kinds of stretches, a line each after what goes all along; nothing for a few.

    >>> told = [(1, 4, "ab"), (5, 6, "abc"), (7, 7, "abcd"), (8, 9, "abd"), (10, 12, "abe"), (13, 20, "abc")]
    >>> rows = [(first, last, tuple(names), float(len(names))) for first, last, names in told]
    >>> print(*stretch_table(rows), sep="\\n")
    a and b at every hole; besides
    holes 1 to 4: nothing more, stack 2 mm
    holes 5, 6 and 13 to 20: c, stack 3 mm
    hole 7: c and d, stack 4 mm
    holes 8 and 9: d, stack 3 mm
    holes 10 to 12: e, stack 3 mm
    """
    kinds = _alike(stretches)
    all_along = [name for name in stretches[0][2] if all(name in pieces for _, _, pieces, _ in stretches)]
    if len(kinds) <= MOST_TOLD or not all_along:
        return ()
    lines = [f"{pieces_words(all_along)} at every hole; besides"]
    for group in kinds.values():
        rows = [(first, last) for first, last, _, _ in group]
        more = [name for name in group[0][2] if name not in all_along]
        noun = "hole" if len(rows) == 1 and rows[0][0] == rows[0][1] else "holes"
        told = pieces_words(more) if more else "nothing more"
        lines.append(f"{noun} {_numbers_in(rows)}: {told}, stack {units.rough.text(group[0][3])}")
    return tuple(lines)


def _alike(stretches: Sequence[Stretch]) -> dict[object, list[Stretch]]:
    """Stretches through the same pieces, of the same thickness, together."""
    return grouped(stretches, by=lambda one: (tuple(one[2]), round(one[3], 3)))


def _part(group: Sequence[Stretch], most: int) -> str:
    """Alike stretches in one phrase."""
    numbers = _numbers_in([(first, last) for first, last, _, _ in group])
    pieces = group[0][2]
    alone = " alone" if len(set(pieces)) == 1 and len(pieces) < most else ""
    return f"{numbers} through {pieces_words(pieces)}{alone}"


def _numbers_in(rows: Sequence[tuple[int, int]]) -> str:
    return words((part for a, b in rows for part in _row(a, b)), last="and")


def _row(first: int, last: int) -> tuple[str, ...]:
    """One row; two numbers are told as two."""
    if last - first > 1:
        return (f"{first} to {last}",)
    return tuple(str(number) for number in range(first, last + 1))
