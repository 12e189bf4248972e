"""Aligned: which page of the file is which page of the manifest.

In: the digests of both, in order, and for the file's pages which portions each shows. Out: `Aligned`.

A page is known by its digest; one that was changed by the portions it shows, and failing these by the
pages round it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from difflib import SequenceMatcher

import msgspec

# Portions a page shows: piece, number, copy.
Portions = frozenset[tuple[str, int, int]]


class Aligned(msgspec.Struct, frozen=True):
    """Places, from 0: pairs of a listed page and a page of the file; listed pages that are in the file at
    another place, with where they are; listed ones that are not there; pages of the file that are not
    listed."""

    pairs: tuple[tuple[int, int], ...]
    astray: tuple[tuple[int, int], ...]
    missing: tuple[int, ...]
    added: tuple[int, ...]


def aligned(
    listed: Sequence[str], found: Sequence[str], listed_shows: Sequence[Portions], shows: Sequence[Portions]
) -> Aligned:
    """Every page of the list and of the file, each once.

    >>> nothing = [frozenset()] * 3
    >>> aligned("abc", "acx", nothing, nothing)
    Aligned(pairs=((0, 0), (2, 1)), astray=(), missing=(1,), added=(2,))
    """
    pairs: list[tuple[int, int]] = []
    missing: list[int] = []
    added: list[int] = []
    for kind, a, b, c, d in SequenceMatcher(None, listed, found, autojunk=False).get_opcodes():
        if kind == "equal":
            pairs.extend(zip(range(a, b), range(c, d), strict=True))
        else:
            missing.extend(range(a, b))
            added.extend(range(c, d))
    astray = _taken(missing, added, lambda k, n: listed[k] == found[n])
    pairs += _taken(missing, added, lambda k, n: bool(shows[n]) and listed_shows[k] == shows[n])
    before = len(listed) == len(found)
    pairs += _taken(missing, added, lambda k, n: (before and k == n) or _between_the_same(k, n, pairs))
    return Aligned(tuple(sorted(pairs)), tuple(astray), tuple(missing), tuple(added))


def _between_the_same(k: int, n: int, pairs: Sequence[tuple[int, int]]) -> bool:
    """Whether the pages before and after belong together."""
    known = set(pairs)
    return (k - 1, n - 1) in known and (k + 1, n + 1) in known


def _taken(missing: list[int], added: list[int], same: Callable[[int, int], bool]) -> list[tuple[int, int]]:
    """Pairs that are the same page; both are taken off their lists."""
    pairs = []
    for k in tuple(missing):
        n = next((n for n in added if same(k, n)), None)
        if n is not None:
            pairs.append((k, n))
            missing.remove(k)
            added.remove(n)
    return pairs
