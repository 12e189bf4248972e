"""Cycles: things that wait for each other in a circle.

In: for each name the names it stands on or comes after. Out: the cycles among them. Used for
pieces that lie on each other, copies of copies, and what is done after what.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence


def cycles(links: Mapping[str, Sequence[str]]) -> tuple[tuple[str, ...], ...]:
    """The cycles, each once, in the order of `links`; names that only lead into a cycle are in none.

    Of cycles that share names, as they can only where a name has several links, one is found.

    >>> cycles({"a": ["b"], "b": ["a"], "c": ["b"], "d": ["d"]})
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
