"""Letters: what an outline's corners are called, in order.

In: how many. Out: A, B, C … Z, AA, AB …
"""

from __future__ import annotations


def letter_names(count: int) -> tuple[str, ...]:
    """The first `count` corner letters: A … Z, AA, AB …

    >>> letter_names(28)[-3:]
    ('Z', 'AA', 'AB')
    """
    names: list[str] = []
    for index in range(count):
        rest, name = index, ""
        while rest >= 0:
            name = chr(ord("A") + rest % 26) + name
            rest = rest // 26 - 1
        names.append(name)
    return tuple(names)
