"""Edges as a maker reads them: runs of corner letters.

In: edges in the outline's order, each by its two letters. Out: words.
"""

from __future__ import annotations

from collections.abc import Iterable

WHOLE_EDGE = "its whole edge"


def edge_words(edges: Iterable[tuple[str, str]]) -> str:
    """Edges as runs of letters; what goes all round is said so.

    >>> edge_words([("A", "B"), ("B", "C"), ("D", "A")])
    'A-B-C, D-A'
    >>> edge_words([("A", "B"), ("B", "C"), ("C", "A")])
    'its whole edge'
    """
    runs: list[list[str]] = []
    for start, end in edges:
        if runs and runs[-1][-1] == start:
            runs[-1].append(end)
        else:
            runs.append([start, end])
    if len(runs) == 1 and runs[0][0] == runs[0][-1]:
        return WHOLE_EDGE
    return ", ".join("-".join(run) for run in runs)
