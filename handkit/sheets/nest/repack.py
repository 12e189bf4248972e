"""Repacking: some pages of a nesting are put down anew together, until one is empty.

In: items as they were nested. Out: a nesting of no more pages, with the emptiest emptier.

Two or three pages, the emptiest mostly among them, are nested again with their items in another
order; what comes out is kept where it is no less uneven (the sum of the squares of the fills): full
pages stay full, and the rest gathers on one. The orders are shuffled by numbers that are the same
on every machine.
"""

from __future__ import annotations

from collections.abc import Sequence
from random import Random

import msgspec

from handkit.sheets.nest.footprint import Footprint
from handkit.sheets.nest.nest import Nest, Nested, Nesting

SEED = 1

# Rounds at most, and of all rounds those with the emptiest page, and with three pages.
ROUNDS = 600
WITH_EMPTIEST = 0.7
OF_THREE = 0.3

# By how much of its size an item may be taken for larger than it is when the order is shuffled.
SHUFFLE = 0.8

Items = Sequence[tuple[Footprint, ...]]


class _Filled(msgspec.Struct, frozen=True):
    """A page: its items by number and where they lie."""

    nested: tuple[tuple[int, Nested], ...]
    squares: int


def repacked(nest: Nest, items: Items, nesting: Nesting, *, aim: int, work: int) -> Nesting:
    """A nesting of the same items, of `aim` pages if that is found before so much work is done."""
    pages = _pages(list(enumerate(nesting.items)), nesting.fills)
    chance, until = Random(SEED), nest.work + work
    for _ in range(ROUNDS):
        if len(pages) <= max(aim, 1) or nest.work > until:
            break
        pages.sort(key=lambda page: page.squares)
        chosen = _some(len(pages), chance)
        numbers = [number for k in chosen for number, _ in pages[k].nested]
        size = {number: items[number][0].squares * (1 + SHUFFLE * chance.random()) for number in numbers}
        numbers.sort(key=lambda number: (-size[number], number))
        found = nest.put_down([items[number] for number in numbers], most_pages=len(chosen))
        if found and _unevenness(found.fills) >= _unevenness([pages[k].squares for k in chosen]):
            rest = [page for k, page in enumerate(pages) if k not in chosen]
            pages = rest + _pages(list(zip(numbers, found.items, strict=True)), found.fills)
    return _nesting(pages, len(items))


def _some(count: int, chance: Random) -> list[int]:
    """Two or three of so many pages, the first of all most often among them."""
    wanted = 3 if count > 2 and chance.random() < OF_THREE else 2
    if chance.random() < WITH_EMPTIEST:
        return [0, *chance.sample(range(1, count), wanted - 1)]
    return chance.sample(range(count), wanted)


def _unevenness(fills: Sequence[int]) -> int:
    return sum(fill * fill for fill in fills)


def _pages(nested: Sequence[tuple[int, Nested]], fills: Sequence[int]) -> list[_Filled]:
    return [
        _Filled(tuple(one for one in nested if one[1].page == page), squares)
        for page, squares in enumerate(fills)
    ]


def _nesting(pages: Sequence[_Filled], count: int) -> Nesting:
    where = {
        number: msgspec.structs.replace(one, page=k)
        for k, page in enumerate(pages)
        for number, one in page.nested
    }
    return Nesting(tuple(where[k] for k in range(count)), tuple(page.squares for page in pages))
