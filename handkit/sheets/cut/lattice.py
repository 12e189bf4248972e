"""The lattice: in which rows of windows a piece takes fewest of them.

In: a profile, the page's printable size, the overlap, how far the first row begins below the piece,
all mm. Out: the fewest windows, and every stack of rows that takes no more than so many.

A row is as high as the page or, turned, as wide. Rows overlap, so whatever the mix, a row begins at
−offset + a·(height − overlap) + b·(width − overlap): few places, each looked at once (dynamic
programming from the top).
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property
from math import floor

import msgspec

from handkit.sheets.cut.chain import Chain, Reach, chain_from_left, chain_from_right, count_of
from handkit.sheets.cut.profile import Profile, Span
from handkit.sheets.nest.packing import NOISE, Size

# Of the first row more than this must lie on the piece.
LEAST_ROW = 1.0


class Row(msgspec.Struct, frozen=True, dict=True):
    """What a row of windows keeps, from `bottom` to `top`, and how wide its windows are."""

    bottom: float
    top: float
    reach: Reach
    spans: tuple[Span, ...]

    @cached_property
    def count(self) -> int:
        """The fewest windows."""
        return count_of(self.spans, self.reach) if self.spans else 0

    @cached_property
    def from_left(self) -> Chain:
        """As few, cut from the left."""
        return chain_from_left(self.spans, self.reach)

    @cached_property
    def from_right(self) -> Chain:
        """As few, cut from the right."""
        return chain_from_right(self.spans, self.reach)


Stack = tuple[Row, ...]


class Lattice(msgspec.Struct):
    """Rows over one profile at one offset."""

    profile: Profile
    page: Size
    overlap: float
    offset: float
    _fewest: dict[float, int] = msgspec.field(default_factory=dict)
    _known: dict[float, list[tuple[Row, float | None]]] = msgspec.field(default_factory=dict)

    @property
    def fewest(self) -> int:
        """Windows of the best stack of rows."""
        return self._from(self._begin, first=True)

    def stacks(self, most: int) -> Iterator[Stack]:
        """All stacks of no more than `most` windows, from the bottom up."""
        yield from self._stacks(self._begin, most, first=True)

    @property
    def _begin(self) -> float:
        return floor((self.profile.bottom - self.offset) * 1000) / 1000

    def _stacks(self, bottom: float, most: int, *, first: bool) -> Iterator[Stack]:
        for row, above in self._rows(bottom, first=first):
            count = row.count
            if above is None:
                if count <= most:
                    yield (row,)
            elif count + self._from(above, first=False) <= most:
                for rest in self._stacks(above, most - count, first=False):
                    yield (row, *rest)

    def _from(self, bottom: float, *, first: bool) -> int:
        """The fewest windows from a row's bottom upwards."""
        key = round(bottom, 4)
        found = self._fewest.get(key)
        if found is None:
            counts = [
                row.count + (0 if above is None else self._from(above, first=False))
                for row, above in self._rows(bottom, first=first)
            ]
            found = self._fewest[key] = min(counts)
        return found

    def _rows(self, bottom: float, *, first: bool) -> list[tuple[Row, float | None]]:
        """Both rows that can begin here, and where the next above begins."""
        found = self._known.get(bottom)  # no later row begins where the first one does
        if found is None:
            found = self._known[bottom] = list(self._rows_from(bottom, first=first))
        return found

    def _rows_from(self, bottom: float, *, first: bool) -> Iterator[tuple[Row, float | None]]:
        sides = (self.page.height, self.page.width), (self.page.width, self.page.height)
        for height, width in sides if self.page.height != self.page.width else sides[:1]:
            end = bottom + height
            last = end >= self.profile.top - NOISE
            low = self.profile.bottom if first else bottom + self.overlap / 2
            high = self.profile.top if last else end - self.overlap / 2
            if first and high <= self.profile.bottom + LEAST_ROW:
                continue
            row = Row(low, high, Reach(width, self.overlap), self.profile.spans(low, high))
            yield row, None if last else end - self.overlap
