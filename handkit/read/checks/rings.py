"""Rings: things that wait for each other in a circle.

In: for each name the names it stands on or comes after. Out: the circles among them. Used for
pieces that lie on each other, copies of copies, and what is done after what.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence


def rings(links: Mapping[str, Sequence[str]]) -> tuple[tuple[str, ...], ...]:
    """Circles, each once, in the order of `links`; none are told that only lead into a circle.

    Where circles share names, as they can only if a name has several links, one of them is enough.

    >>> rings({"a": ["b"], "b": ["a"], "c": ["b"], "d": ["d"]})
    (('a', 'b'), ('d',))
    """
    found: list[tuple[str, ...]] = []
    done: set[str] = set()
    for start in links:
        way = [start] if start not in done else []
        left = [list(reversed(links[start]))] if way else []
        while way:
            if not left[-1]:
                done.add(way.pop())
                left.pop()
                continue
            name = left[-1].pop()
            if name in way:
                found.append(tuple(way[way.index(name) :]))
            elif name in links and name not in done:
                way.append(name)
                left.append(list(reversed(links[name])))
    return tuple(found)


def ring_words(ring: Sequence[str]) -> str:
    """A circle as a message says it.

    >>> ring_words(["a", "b"])
    'a → b → a'
    """
    return " → ".join([*ring, ring[0]])
