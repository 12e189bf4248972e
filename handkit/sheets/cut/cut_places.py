"""Places of cuts: where several cuts in line may go, and where they best go.

In: from where to where a piece goes, how much each window in line keeps at most, the stretches in
which no cut should lie, mm. Out: a place for each cut.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate, pairwise

import msgspec

from handkit.sheets.cut.profile import Span, merged
from handkit.sheets.nest.packing import NOISE

# Places looked at for each cut.
PLACES = 10

# Beyond what is blocked, so that rounding can't undo it.
MORE = 0.01


class CutsInLine(msgspec.Struct, frozen=True):
    """From `start` to `end`, in as many windows as there are `lengths`."""

    start: float
    end: float
    lengths: tuple[float, ...]

    def limits(self) -> tuple[Span, ...]:
        """From where to where each cut may move, the others moving with it.

        >>> CutsInLine(0, 150, (90, 80, 90)).limits()
        ((0, 90), (60, 150))
        """
        latest = list(accumulate(self.lengths, initial=self.start))[1:-1]
        earliest = list(accumulate(self.lengths[::-1], lambda at, length: at - length, initial=self.end))[
            1:-1
        ]
        return tuple(
            (max(low, self.start), min(high, self.end))
            for low, high in zip(earliest[::-1], latest, strict=True)
        )

    def best(self, now: Sequence[float], blocked: Sequence[Span]) -> tuple[float, ...]:
        """A place for each cut: fewest in blocked stretches, then nearest to where they are now.

        >>> CutsInLine(0, 150, (90, 90)).best([90], [(85, 95)])
        (84.99,)
        """
        reached: dict[float, tuple[tuple[float, float], tuple[float, ...]]] = {self.start: ((0, 0.0), ())}
        for at, limits, length in zip(now, self.limits(), self.lengths, strict=False):
            after: dict[float, tuple[tuple[float, float], tuple[float, ...]]] = {}
            for place in (at, *free_places(at, limits, blocked)):
                cost = (float(any(low < place < high for low, high in blocked)), abs(place - at))
                ways = [
                    ((hits + cost[0], round(shift + cost[1], 3)), (*cuts, place))
                    for before, ((hits, shift), cuts) in reached.items()
                    if before < place <= before + length + NOISE
                ]
                if ways:
                    after[place] = min(ways)
            reached = after
        whole = [way for place, way in reached.items() if self.end <= place + self.lengths[-1] + NOISE]
        return min(whole)[1] if whole else tuple(now)


def free_places(now: float, limits: Span, blocked: Sequence[Span]) -> list[float]:
    """The places nearest to the present one that nothing blocks, and the middles between blocks.

    >>> free_places(50, (0, 100), [(40, 60)])
    [39.99, 60.01, 19.995, 80.005]
    """
    low, high = limits
    if low >= high:
        return []
    inner = [(max(a, low), min(b, high)) for a, b in blocked if b > low and a < high]
    walls = [(low, low), *merged(inner, MORE), (high, high)]
    places = []
    for (_, start), (end, _) in pairwise(walls):
        if end - start > MORE:
            places += [min(max(now, start), end), (start + end) / 2]
    found = dict.fromkeys(round(place, 3) for place in places if low <= round(place, 3) <= high)
    return sorted(found, key=lambda place: (round(abs(place - now), 3), place))[:PLACES]
