"""Idle keys: what a part's entry says and that does nothing beside another of its keys.

In: the part, the key that decides, and for each of the others beside which of its words it means something.
Out: a finding for each cause, told once for all keys that mean something beside the same words.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from handkit.findings import Finding, finding
from handkit.grouping import grouped
from handkit.read.project import Part


def idle_keys(part: Part, other: str, means: Mapping[str, tuple[str, ...]]) -> Iterator[Finding]:
    """At the first of the keys, in the table's order."""
    idle = [key for key, words in means.items() if part.source.says(key) and part.word(other) not in words]
    for words, keys in grouped(idle, by=means.__getitem__).items():
        told: dict[str, object] = {"keys": keys, "other": other, "words": words}
        yield finding("idle-key" if len(keys) == 1 else "idle-key/several", part.source.at(keys[0]), **told)
