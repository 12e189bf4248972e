"""Edges: runs of an outline's edges, named by its corner letters.

    D ---- C      "A-B" is one edge, "D-A-B-C" a run of three, either way round;
    |      |      the first letter repeated closes it: "A-B-C-D-A". A circle has
    A ---- B      one letter, and "A-A" is all of it.

In: the text and the outline's letters in order. Out: `Edges`, or what is wrong with the text.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from itertools import pairwise

from handkit.quoting import quoted
from handkit.read.project import Edges
from handkit.read.values.spot import Fault, Spot

Edge = tuple[str, str]

_LETTERS = re.compile(r"[A-Z]{1,3}(?:\s*-\s*[A-Z]{1,3})+")


def looks_like_edges(text: str) -> bool:
    """Whether a text can only mean corner letters.

    >>> [looks_like_edges(text) for text in ("A-B", "A", "a-b", "left")]
    [True, False, False, False]
    """
    return _LETTERS.fullmatch(text) is not None


def edges_named(text: str, letters: Sequence[str]) -> Edges | Fault:
    """The edges a text stands for.

    >>> str(edges_named("D-A-B-C", "ABCD")), str(edges_named("A-D", "ABCD"))
    ('D-A-B-C', 'A-D')
    >>> edges_named("A-C", "ABCD").remedy
    'write A-B-C or A-D-C'
    """
    if not looks_like_edges(text):
        return _unreadable(text, letters)
    names = tuple(name.strip() for name in text.split("-"))
    known = frozenset(letters)
    if len(names) > len(letters) + 1 and known.issuperset(names):
        return _too_long(text, letters)
    for name in names:
        if name not in known:
            listed = letters[0] if len(letters) == 1 else f"{letters[0]} to {letters[-1]}"
            remedy = "write letters of this outline's corners"
            return Fault("unknown-letter", f"the letter {name}", listed, remedy)
    if len(letters) == 1:  # a circle
        return Edges(names)
    return _way_round_fault(names, letters) or Edges(names)


def _way_round_fault(names: tuple[str, ...], letters: Sequence[str]) -> Fault | None:
    """What is wrong with the letters' order: they go from neighbour to neighbour, one way round, once."""
    count = len(letters)
    places = [letters.index(name) for name in names]
    ways = [(after - before) % count for before, after in pairwise(places)]
    for index, way in enumerate(ways):
        if way not in (1, count - 1):
            return _apart(names[index], names[index + 1], letters)
        if way != ways[0]:
            found = f"{quoted('-'.join(names))}, back again at {names[index]}"
            return Fault("run-turns-back", found, "one way round", "make two runs of it")
    return None


def _too_long(text: str, letters: Sequence[str]) -> Fault:
    """The run goes round more than once."""
    whole = "-".join([*letters, letters[0]])
    remedy = f"write {whole}, or begin at another letter" if len(letters) <= 8 else "leave the rest out"
    return Fault("run-too-long", quoted(text), "at most once round", remedy)


def read_edges(text: str, letters: Sequence[str], spot: Spot, *, seen: Collection[Edge] = ()) -> Edges | None:
    """The edges a text stands for; None where it is faulty, or the outline's letters aren't known.

    One of the edges `seen` before is told as well.
    """
    if not letters:
        return None
    edges = edges_named(text, letters)
    if isinstance(edges, Fault):
        spot.refuse(edges)
        return None
    for again in (single for single in single_edges(edges) if single in seen):
        found = f"the edge {'-'.join(again)} again"
        spot.refuse(Fault("edge-twice", found, "each edge once", "take one of them out"))
    return edges


def edge(first: str, second: str) -> Edge:
    """An edge by its letters in alphabetical order, so that A-B is B-A."""
    return (min(first, second), max(first, second))


def single_edges(edges: Edges) -> tuple[Edge, ...]:
    """The edges of a run one by one.

    >>> single_edges(Edges(("C", "B", "A")))
    (('B', 'C'), ('A', 'B'))
    """
    return tuple(edge(*pair) for pair in pairwise(edges.letters))


def is_closed(edges: Edges) -> bool:
    """Whether the run comes back to its first letter."""
    return edges.letters[0] == edges.letters[-1]


def _unreadable(text: str, letters: Sequence[str]) -> Fault:
    allowed = 'corner letters with - between, such as "A-B"'
    raised = re.sub(r"[\s,;>–—-]+", "-", text.strip().upper())
    if looks_like_edges(raised) and all(name in letters for name in raised.split("-")):
        return Fault("edges-unreadable", quoted(text), allowed, f"write {quoted(raised)}")
    return Fault("edges-unreadable", quoted(text), allowed, "write the letters of neighbouring corners")


def _apart(first: str, second: str, letters: Sequence[str]) -> Fault:
    """Two letters that are no neighbours: told with both ways round."""
    allowed = "letters of neighbouring corners"
    if first == second:
        return Fault("letters-apart", f"{first} twice in a row", allowed, f"write {first} once")
    found = f"{first} and {second}, which are no neighbours"
    count, start, end = len(letters), letters.index(first), letters.index(second)
    ahead = [letters[(start + i) % count] for i in range((end - start) % count + 1)]
    astern = [letters[(start - i) % count] for i in range((start - end) % count + 1)]
    ways = ["-".join(way) for way in (ahead, astern) if len(way) <= 8]
    remedy = f"write {' or '.join(ways)}" if ways else "name every corner on the way"
    return Fault("letters-apart", found, allowed, remedy)
