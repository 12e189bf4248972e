"""Lines apart: a project without the lines of its file, and the way back to them.

In: a project as it is read. Out: the same project with a *number* in place of each line, which stays when
lines are added elsewhere; what is found of it, with the lines again. So what is made of two texts that say
the same is the same, and need be made once (`kept.py`).

Words: a *block* is an entry with what is said in it. Numbers of a file go up as its lines do, so that all
that is sorted by line is sorted alike.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, TypeVar

import msgspec

from handkit.findings import Finding, Source, TextPlace, Where
from handkit.grouping import grouped

Read = TypeVar("Read", bound=msgspec.Struct)

# More lines than the values of any entry take.
_BLOCK = 10_000

_Place = tuple[str, int, int]  # file, number or line, column


class Lines(msgspec.Struct, frozen=True):
    """The places of a file by what stands for them."""

    places: Mapping[_Place, TextPlace]

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


def lines_apart(project: Read) -> tuple[Read, Lines]:
    """A project without its lines, columns and widths, and what these are.

    >>> from handkit.messages.message import Severity
    >>> class Page(msgspec.Struct, frozen=True):
    ...     source: Source
    >>> apart, lines = lines_apart(Page(Source("p.toml", "page", 3, (("paper", TextPlace(4, 9, 4)),))))
    >>> apart.source.at("paper")
    Where(file='p.toml', line=10002, key='page: paper', column=1)
    >>> found = Finding("no-such-paper", Severity.ERROR, apart.source.at("paper"), "a", "", "")
    >>> [each.where for each in lines.told([found])]
    [Where(file='p.toml', line=4, key='page: paper', column=9, width=4)]
    """
    sources = list(_sources(project))
    places: dict[_Place, TextPlace] = {}
    numbers: dict[tuple[str, TextPlace], TextPlace] = {}
    for file in dict.fromkeys(source.file for source in sources):
        own = [source for source in sources if source.file == file]
        heads = sorted({source.line for source in own})
        known = grouped({place for source in own for place in _places(source)}, by=lambda place: place.line)
        lines = sorted(known.keys() - {0})
        blocks = [bisect_right(heads, line) for line in lines]
        first = {block: k for k, block in reversed(list(enumerate(blocks)))}
        for k, (line, block) in enumerate(zip(lines, blocks, strict=True)):
            number = block * _BLOCK + k - first[block] + 1
            places[file, number, 0] = TextPlace(line)
            there = sorted((each.column, each.width) for each in known[line])
            for column, (at, width) in enumerate(there, start=1):
                places[file, number, column] = TextPlace(line, at, width)
                numbers[file, TextPlace(line, at, width)] = TextPlace(number, column)
    return _replaced(project, numbers), Lines(places)


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
