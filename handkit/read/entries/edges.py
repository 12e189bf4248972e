"""Edges: runs of an outline's edges, named by its corner letters.

    D ---- C      "A-B" is one edge, "D-A-B-C" a run of three, either way round;
    |      |      the first letter repeated closes it: "A-B-C-D-A". A circle has
    A ---- B      one letter, and "A-A" is all of it.

In: the text and the outline's letters in order. Out: `Edges`, or what is wrong with the text.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from itertools import pairwise
from typing import TypeVar

from handkit.findings import Finding, finding
from handkit.read.file.project_file import Location
from handkit.read.project import Edges
from handkit.read.values.field import Field

LetterPair = tuple[str, str]
Value = TypeVar("Value")

# Longer runs are not written out in a message.
_MOST_WRITTEN = 8

_LETTERS = r"[A-Z]{1,3}(?:\s*-\s*[A-Z]{1,3})+"


def looks_like_edges(text: str) -> bool:
    """Whether a text can only mean corner letters.

    >>> [looks_like_edges(text) for text in ("A-B", "A", "a-b", "left")]
    [True, False, False, False]
    """
    return re.fullmatch(_LETTERS, text) is not None


def edges_named(text: str, letters: Sequence[str]) -> Edges | Finding:
    """The edges a text stands for.

    >>> str(edges_named("D-A-B-C", "ABCD")), str(edges_named("A-D", "ABCD"))
    ('D-A-B-C', 'A-D')
    >>> edges_named("A-C", "ABCD").remedy
    'write A-B-C or A-D-C'
    """
    if not looks_like_edges(text):
        meant = letters_meant(text, letters)
        key = "edges-unreadable/meant" if meant else "edges-unreadable"
        return finding(key, text=text, meant=meant)
    names = tuple(name.strip() for name in text.split("-"))
    known = frozenset(letters)
    if len(names) > len(letters) + 1 and known.issuperset(names):
        long = "run-too-long" if len(letters) <= _MOST_WRITTEN else "run-too-long/many"
        return finding(long, text=text, whole="-".join([*letters, letters[0]]))
    for name in names:
        if name not in known:
            return finding("unknown-letter", letter=name, letters=letters_from(letters))
    if len(letters) == 1:  # a circle
        return Edges(names)
    return _way_round_fault(names, letters) or Edges(names)


def letters_meant(text: str, letters: Sequence[str]) -> str:
    """The run of these letters that a text was most likely meant for, "" where it is none.

    >>> letters_meant("a b", "ABCD"), letters_meant("left", "ABCD"), letters_meant("DABC", "ABCD")
    ('A-B', '', 'D-A-B-C')
    """
    if 1 < len(text) <= len(letters) + 1 and set(text) <= set(letters):
        return "-".join(text)
    raised = re.sub(r"(?:[\s,;>–—-]|\bTO\b)+", "-", text.strip().upper())
    return raised if looks_like_edges(raised) and all(name in letters for name in raised.split("-")) else ""


def letters_from(letters: Sequence[str]) -> str:
    """The letters of an outline as a message names them.

    >>> letters_from("ABCD"), letters_from("A")
    ('A to D', 'A')
    """
    return letters[0] if len(letters) == 1 else f"{letters[0]} to {letters[-1]}"


def _way_round_fault(names: tuple[str, ...], letters: Sequence[str]) -> Finding | None:
    """What is wrong with the letters' order: they go from neighbour to neighbour, one way round, once."""
    count = len(letters)
    places = [letters.index(name) for name in names]
    ways = [(after - before) % count for before, after in pairwise(places)]
    for index, way in enumerate(ways):
        if way not in (1, count - 1):
            return _apart(names[index], names[index + 1], letters)
        if way != ways[0]:
            return finding("run-turns-back", run="-".join(names), letter=names[index])
    return None


def _apart(first: str, second: str, letters: Sequence[str]) -> Finding:
    """The finding about two letters that are no neighbours, with both ways round."""
    if first == second:
        return finding("letters-apart/twice", letter=first)
    count, start, end = len(letters), letters.index(first), letters.index(second)
    forwards = [letters[(start + i) % count] for i in range((end - start) % count + 1)]
    backwards = [letters[(start - i) % count] for i in range((start - end) % count + 1)]
    ways = ["-".join(way) for way in (forwards, backwards) if len(way) <= _MOST_WRITTEN]
    key = "letters-apart" if ways else "letters-apart/far"
    return finding(key, first=first, second=second, ways=ways)


def read_edges(
    text: str, letters: Sequence[str], location: Location, *, seen: Collection[LetterPair] = ()
) -> Edges | None:
    """The edges a text stands for; None where it is faulty, or the outline's letters aren't known.

    One of the edges `seen` before is reported as well.
    """
    if not letters:
        return None
    edges = edges_named(text, letters)
    if isinstance(edges, Finding):
        location.report(edges)
        return None
    for again in (single for single in single_edges(edges) if single in seen):
        location.report("edge-twice", edge="-".join(again))
    return edges


def by_edges(
    fields: Iterable[tuple[str, Field]], letters: Sequence[str], read: Callable[[Field], Value | None]
) -> Iterator[tuple[Edges, Value]]:
    """The edges and values of a table by edges, such as { "A-B" = 2 }; each edge may be in it once."""
    seen: set[LetterPair] = set()
    for text, field in fields:
        edges, value = read_edges(text, letters, field.location, seen=seen), read(field)
        if edges is not None and value is not None:
            seen.update(single_edges(edges))
            yield edges, value


def edge(first: str, second: str) -> LetterPair:
    """An edge by its letters in alphabetical order, so that A-B is B-A."""
    return (min(first, second), max(first, second))


def single_edges(edges: Edges) -> tuple[LetterPair, ...]:
    """The edges of a run one by one.

    >>> single_edges(Edges(("C", "B", "A")))
    (('B', 'C'), ('A', 'B'))
    """
    return tuple(edge(*pair) for pair in pairwise(edges.letters))


def is_closed(edges: Edges) -> bool:
    """Whether the run comes back to its first letter."""
    return edges.letters[0] == edges.letters[-1]
