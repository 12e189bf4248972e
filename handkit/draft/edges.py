"""Runs of an outline's edges by their letters: which edges, which way round.

In: an outline's letters and the letters written. Out: a `Stretch`, or what is wrong with them.

Words: a run *goes round* when its first letter is repeated at its end.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from handkit.draft.outline import Outline
from handkit.findings import Finding, Where, error, nearest
from handkit.geometry.path import Path
from handkit.geometry.segment import Segment
from handkit.read.project import Edges


@dataclass(frozen=True, slots=True)
class Stretch:
    """Edges of an outline, first to last in the outline's own order.

    `forward` says whether the run is written in that order; `letters` are those it passes, in the
    outline's order, the last repeating the first where it goes round.
    """

    first: int  # index of the letter where it begins, in the outline's order
    count: int  # of edges
    forward: bool
    closed: bool

    def edge_indices(self, outline: Outline) -> tuple[int, ...]:
        """Which edges, in the outline's order."""
        return tuple((self.first + k) % len(outline.edges) for k in range(self.count))

    def segments(self, outline: Outline) -> tuple[Segment, ...]:
        """Their lines and arcs, in the outline's order."""
        return tuple(s for index in self.edge_indices(outline) for s in outline.edges[index])

    def path(self, outline: Outline) -> Path:
        """The edges as a path in the outline's order."""
        return Path(self.segments(outline), closed=self.closed)


def stretch_of(outline: Outline, edges: Edges, where: Where) -> Stretch | Finding:
    """The stretch the letters name, or the finding that says why they name none."""
    names, letters = outline.names, edges.letters
    for letter in letters:
        if letter not in names:
            return _unknown(letter, names, where)
    indices = [names.index(letter) for letter in letters]
    ways = {_way(a, b, len(names)) for a, b in pairwise(indices)}
    closed = len(indices) > 1 and indices[0] == indices[-1]
    if not ways or 0 in ways:
        return _not_adjacent(edges, names, where)
    if len(ways) > 1 or len(set(indices)) < len(indices) - closed:
        return _turns_back(edges, where)
    forward = ways == {1}
    return Stretch(indices[0] if forward else indices[-1], len(indices) - 1, forward, closed)


def _way(a: int, b: int, count: int) -> int:
    """+1 where b follows a, −1 where it comes before, 0 where neither."""
    if b == (a + 1) % count:
        return 1
    return -1 if a == (b + 1) % count else 0


def _unknown(letter: str, names: tuple[str, ...], where: Where) -> Finding:
    near = nearest(letter, names)
    return error(
        "unknown-letter",
        where,
        found=f"corner letter {letter}",
        allowed=f"{names[0]} to {names[-1]}" if len(names) > 1 else "A, the only one of a circle",
        remedy=f"did you mean {near}?" if near else "use the letters of the piece's corners",
    )


def _not_adjacent(edges: Edges, names: tuple[str, ...], where: Where) -> Finding:
    ring = "-".join((*names, names[0])) if len(names) <= 6 else f"{names[0]}-{names[1]}-…-{names[-1]}-A"
    return error(
        "letters-not-adjacent",
        where,
        found=f"run {edges}",
        allowed=f"letters that follow one another round the piece ({ring}), either way",
        remedy="name every corner the run passes",
    )


def _turns_back(edges: Edges, where: Where) -> Finding:
    return error(
        "run-turns-back",
        where,
        found=f"run {edges}",
        allowed="one way round, no edge twice",
        remedy="make two seams of it, or repeat only the first letter to go all round",
    )
