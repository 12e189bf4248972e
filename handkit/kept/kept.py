"""Kept: what long work gave, for the next run of a command that is run again and again.

In: what a piece of work is called and made from, and the work. Out: its product; that of a run before where
it was made from the same. The same is what is written alike (`msgspec`'s MessagePack of plain records, its
SHA-256), so that no 0 is taken for −0 and no 1 for 1.0; records are frozen, so that nobody has changed a
product since.
A run that is the only one keeps its own products to its end, and no more.
"""

from __future__ import annotations

from collections.abc import Callable
from hashlib import sha256
from types import MappingProxyType
from typing import Any, TypeVar

import msgspec

T = TypeVar("T")

# For so many runs a product stays that none of them needed: a file may be wrong for a while.
RUNS = 4

_Key = tuple[str, bytes]


def _plain(value: Any) -> Any:
    """A mapping that nobody may change as one that is written."""
    if isinstance(value, MappingProxyType):
        return dict(value)
    raise NotImplementedError(type(value))


class _Known(msgspec.Struct):
    """A product, what was kept of the work on it, and in which run it was needed last."""

    product: Any
    parts: tuple[_Key, ...]
    run: int


class Kept:
    """Products by what they were made from: of this run, and of the last few."""

    def __init__(self) -> None:
        self._known: dict[_Key, _Known] = {}
        self._needed: list[list[_Key]] = []  # by the works that are going on, one in the other
        self._run = 0
        self._last: dict[str, Any] = {}

    def next_run(self) -> None:
        """A run begins; what the last few did not need is let go."""
        self._run += 1
        since = self._run - RUNS - 1
        self._known = {key: known for key, known in self._known.items() if known.run >= since}

    def of(self, name: str, made_from: Any, work: Callable[[], T]) -> T:
        """What the work of a name gives of plain records. Where it is not done again, what was kept of works
        within it stays as well.

        >>> kept = Kept()
        >>> kept.of("sheet", (40, 30), lambda: "laid"), kept.of("sheet", (40, 30), lambda: "laid anew")
        ('laid', 'laid')
        """
        key = (name, sha256(msgspec.msgpack.encode(made_from, enc_hook=_plain)).digest())
        if key in self._known:
            self._stays(key)
        else:
            self._needed.append([])
            try:
                product = work()
            finally:
                parts = tuple(dict.fromkeys(self._needed.pop()))
            self._known[key] = _Known(product, parts, self._run)
        if self._needed:
            self._needed[-1].append(key)
        found: T = self._known[key].product
        return found

    def after(self, name: str, work: Callable[[T | None], T]) -> T:
        """What the work of a name gives that goes on from what it gave in the run before.

        >>> kept = Kept()
        >>> [kept.after("count", lambda before: (before or 0) + 1) for run in range(3)]
        [1, 2, 3]
        """
        product = work(self._last.get(name))
        self._last[name] = product
        return product

    def _stays(self, key: _Key) -> None:
        known = self._known.get(key)
        if known is not None and known.run != self._run:
            known.run = self._run
            for part in known.parts:
                self._stays(part)


class KeptOf(msgspec.Struct, frozen=True):
    """What is kept of works that know all that was `made_from` the same; nothing without a `Kept`."""

    kept: Kept | None = None
    made_from: Any = None

    def of(self, name: str, work: Callable[[], T], *more: Any) -> T:
        """What the work of a name gives, of that and of `more`."""
        return work() if self.kept is None else self.kept.of(name, (self.made_from, more), work)

    def of_these(self, name: str, these: Any, work: Callable[[], T]) -> T:
        """What the work of a name gives that knows nothing but `these` records and the fonts, whatever else
        is another."""
        return work() if self.kept is None else self.kept.of(name, these, work)


NOTHING = KeptOf()
