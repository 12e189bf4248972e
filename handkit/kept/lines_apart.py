"""Lines apart: a project without the lines of its file, and the way back to them.

In: a project as it is read, and what stood for its lines before. Out: the same project with a *number* in
place of each line, which stays when lines or entries are added elsewhere; what is found of it, with the lines
again. So what is made of two texts that say the same is the same, and need be made once (`kept.py`).

Words: a *block* is an entry with what is said in it, known by its file and its entry's words. Numbers of a
file go up as its lines do, so that all that is sorted by line is sorted alike.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import Any, TypeVar

import msgspec

from handkit.findings import Finding, Source, TextPlace, Where
from handkit.grouping import grouped

Read = TypeVar("Read", bound=msgspec.Struct)

# More lines than the values of any entry take.
_BLOCK = 10_000

# Blocks of a first run are so many apart: there is room between two for twenty more, one after the other.
_APART = 1 << 20

_Block = tuple[str, str]  # file, what is said of the entry
_Place = tuple[str, int, int]  # file, number or line, column


class Lines(msgspec.Struct, frozen=True):
    """The places of a file by what stands for them, and the numbers of all blocks so far."""

    places: Mapping[_Place, TextPlace] = MappingProxyType({})
    blocks: Mapping[_Block, int] = MappingProxyType({})

    def told(self, findings: Iterable[Finding]) -> tuple[Finding, ...]:
        """What is found of the project without lines, with the lines of its file."""
        return tuple(self._told(each) for each in findings)

    def _told(self, found: Finding) -> Finding:
        at = found.where
        place = self.places.get((at.file, at.line, at.column))
        if place is None:
            return found
        where = Where(at.file, place.line, at.key, at.unit, place.column, place.width)
        also = tuple(self.places[at.file, number, 0].line for number in found.also)
        return msgspec.structs.replace(found, where=where, also=also)


def lines_apart(project: Read, before: Lines) -> tuple[Read, Lines]:
    """A project without its lines, columns and widths, and what these are. Blocks that were there `before`
    have the number that they had, as far as their order allows.

    >>> from handkit.messages.message import Severity
    >>> class Page(msgspec.Struct, frozen=True):
    ...     source: Source
    >>> page = Source("p.toml", "page", 3, (("paper", TextPlace(4, 9, 4)),))
    >>> apart, lines = lines_apart(Page(page), Lines())
    >>> apart.source.at("paper")
    Where(file='p.toml', line=20971520002, key='page: paper', column=1)
    >>> found = Finding("no-such-paper", Severity.ERROR, apart.source.at("paper"), "a", "", "")
    >>> [each.where for each in lines.told([found])]
    [Where(file='p.toml', line=4, key='page: paper', column=9, width=4)]
    """
    sources = list(_sources(project))
    places: dict[_Place, TextPlace] = {}
    numbers: dict[tuple[str, TextPlace], TextPlace] = {}
    told = dict(before.blocks)
    for file in dict.fromkeys(source.file for source in sources):
        own = [source for source in sources if source.file == file]
        words = _heads(own)
        heads = sorted(words)
        blocks: list[_Block] = [(file, words[line]) for line in heads]
        stand = _standing_for(blocks, told)
        told.update(zip(blocks, stand, strict=True))
        known = grouped({place for source in own for place in _places(source)}, by=lambda place: place.line)
        count: Counter[int] = Counter()
        for line in sorted(known.keys() - {0}):
            block = bisect_right(heads, line) - 1
            count[block] += 1
            number = stand[block] * _BLOCK + count[block]
            places[file, number, 0] = TextPlace(line)
            there = sorted((each.column, each.width) for each in known[line])
            for column, (at, width) in enumerate(there, start=1):
                places[file, number, column] = TextPlace(line, at, width)
                numbers[file, TextPlace(line, at, width)] = TextPlace(number, column)
    return _replaced(project, numbers), Lines(places, told)


def _heads(sources: Sequence[Source]) -> dict[int, str]:
    """The lines in which blocks of a file begin, and what is said of these; what several have in common
    begins in the first line that they share."""
    shared = [
        (place.line, source.common)
        for source in sources
        for name, place in source.keys
        if name in source.shared
    ]
    first = {common: line for line, common in sorted(shared, reverse=True)}
    own = {source.line: source.path for source in reversed(sources)}
    return {0: "", **{line: common for common, line in first.items()}, **own}


def _standing_for(blocks: Sequence[_Block], known: Mapping[_Block, int]) -> list[int]:
    """Numbers that go up, for blocks in their order: of as many as can be those that are known, for others
    some between; for all new ones where there is no room.

    >>> _standing_for("ac", {"a": 10, "c": 20}), _standing_for("abc", {"a": 10, "c": 20})
    ([10, 20], [10, 15, 20])
    >>> _standing_for("cab", {"a": 10, "b": 15, "c": 20}), _standing_for("abc", {"a": 1, "c": 2}) == [
    ...     _APART, 2 * _APART, 3 * _APART]
    ([5, 10, 15], True)
    """
    kept = _rising([(index, known[block]) for index, block in enumerate(blocks) if block in known])
    numbers: list[int] = []
    for index, number in [*kept, (len(blocks), (kept[-1][1] if kept else 0) + (len(blocks) + 1) * _APART)]:
        last, between = numbers[-1] if numbers else 0, index - len(numbers)
        step = min((number - last) // (between + 1), _APART)
        if not step:
            return [(index + 1) * _APART for index in range(len(blocks))]
        numbers += (last + step * k for k in range(1, between + 1))
        numbers.append(number)
    return numbers[:-1]


def _rising(places: Iterable[tuple[int, int]]) -> list[tuple[int, int]]:
    """As many of some places as have numbers that go up.

    >>> _rising([(0, 20), (1, 10), (2, 15)])
    [(1, 10), (2, 15)]
    """
    listed = list(places)
    least: list[int] = []  # the least numbers with which one, two, three of them end
    ends: list[int] = []  # and which these are
    before: list[int | None] = []
    for k, (_, number) in enumerate(listed):
        count = bisect_left(least, number)
        before.append(ends[count - 1] if count else None)
        least[count : count + 1], ends[count : count + 1] = [number], [k]
    rising, at = [], ends[-1] if ends else None
    while at is not None:
        rising.append(listed[at])
        at = before[at]
    return rising[::-1]


def _replaced(value: Any, numbers: Mapping[tuple[str, TextPlace], TextPlace]) -> Any:
    """A record with what stands for the places of all sources in it; itself where there are none."""
    if isinstance(value, Source):
        own, *keyed = (numbers.get((value.file, place), place) for place in _places(value))
        keys = tuple((name, place) for (name, _), place in zip(value.keys, keyed, strict=True))
        return msgspec.structs.replace(value, line=own.line, column=own.column, width=own.width, keys=keys)
    if isinstance(value, tuple):
        row = tuple(_replaced(each, numbers) for each in value)
        return row if any(new is not old for new, old in zip(row, value, strict=True)) else value
    if isinstance(value, msgspec.Struct):
        fields = {name: getattr(value, name) for name in value.__struct_fields__}
        found = {
            name: new
            for name, old in fields.items()
            if isinstance(old, (msgspec.Struct, tuple)) and (new := _replaced(old, numbers)) is not old
        }
        return msgspec.structs.replace(value, **found) if found else value
    return value


def _sources(value: Any) -> Iterator[Source]:
    """All sources in a record, in order."""
    if isinstance(value, Source):
        yield value
    elif isinstance(value, tuple):
        for each in value:
            if isinstance(each, (msgspec.Struct, tuple)):
                yield from _sources(each)
    elif isinstance(value, msgspec.Struct):
        yield from _sources(tuple(getattr(value, name) for name in value.__struct_fields__))


def _places(source: Source) -> Iterator[TextPlace]:
    """The places that an entry knows, its own first."""
    yield TextPlace(source.line, source.column, source.width)
    yield from (place for _, place in source.keys)
