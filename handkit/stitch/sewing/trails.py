"""Trails: the fewest rows in which all edges of a graph can be walked, none twice.

In: edges as pairs of places. Out: trails of edges, each forwards or turned; or how many there must be.

    1 ──a── 2 ──b── 3       four places where an odd number of edges meet (1, 3, 4 and 2):
            │               two trails, a b and c
            c
            4

Each trail but a round one ends at two odd places, so a group that hangs together has at least half
as many trails as odd places, and at least one. That many do: join the odd places in pairs by
bridges, walk round over everything (Hierholzer), and take the bridges out (Euler's theorem).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

EndPair = tuple[int, int]
TrailStep = tuple[int, bool]  # index of the edge; walked from its second place to its first


def least_trails(edges: Sequence[EndPair]) -> int:
    """The bound: half the odd places of each group, at least one.

    >>> least_trails([(1, 2), (2, 3), (2, 4)]), least_trails([(1, 2), (2, 1), (5, 5)])
    (2, 2)
    """
    return sum(max(1, len(odd_places([edges[i] for i in group])) // 2) for group in groups_of(edges))


def odd_places(edges: Sequence[EndPair]) -> list[int]:
    """Places where an odd number of edges end, in order."""
    ends = [place for edge in edges for place in edge]
    return [place for place in dict.fromkeys(ends) if ends.count(place) % 2]


def groups_of(edges: Sequence[EndPair]) -> list[list[int]]:
    """Indices of the edges that hang together, by the first of each."""
    groups: list[list[int]] = []
    for index, edge in enumerate(edges):
        met = [group for group in groups if any(set(edge) & set(edges[i]) for i in group)]
        joined = sorted([index, *(i for group in met for i in group)])
        groups = sorted([*(group for group in groups if group not in met), joined])
    return groups


def fewest_trails(edges: Sequence[EndPair]) -> list[list[TrailStep]]:
    """As few trails as can be, over every edge once.

    >>> fewest_trails([(1, 2), (3, 2)])
    [[(0, False), (1, True)]]
    """
    return [trail for group in groups_of(edges) for trail in _of_group(edges, group)]


def _of_group(edges: Sequence[EndPair], group: Sequence[int]) -> Iterable[list[TrailStep]]:
    own = [edges[i] for i in group]
    odd = odd_places(own)
    bridges = list(zip(odd[1::2], odd[2::2], strict=False))  # the first and the last odd place stay
    start = odd[0] if odd else own[0][0]
    trail: list[TrailStep] = []
    for index, turned in _walk([*own, *bridges], start):
        if index < len(own):
            trail.append((group[index], turned))
        elif trail:
            yield trail
            trail = []
    if trail:
        yield trail


def _walk(edges: Sequence[EndPair], start: int) -> list[TrailStep]:
    """All edges in one row from a place; where it ends early, rounds are put in on the way back."""
    left: dict[int, list[TrailStep]] = {}
    for index, (a, b) in reversed(list(enumerate(edges))):
        left.setdefault(a, []).append((index, False))
        if a != b:
            left.setdefault(b, []).append((index, True))
    done: set[int] = set()
    row: list[TrailStep] = []
    stack: list[tuple[int, TrailStep | None]] = [(start, None)]
    while stack:
        place, came = stack[-1]
        steps = left.get(place, [])
        while steps and steps[-1][0] in done:
            steps.pop()
        if steps:
            index, turned = steps.pop()
            done.add(index)
            stack.append((edges[index][0 if turned else 1], (index, turned)))
        else:
            stack.pop()
            if came is not None:
                row.append(came)
    return row[::-1]
