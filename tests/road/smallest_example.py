"""The smallest project of which a code alone is told, from a larger one of which it is told among others.

`python tests/road/smallest_example.py CODE PROJECT.toml` writes it to the standard output, to be put into
`handkit/messages/examples.txt`: tables and lines are left out one after the other, for as long as the code is
told and nothing else comes to it.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from pathlib import Path

from handkit.commands.common.explained import example_of, told_of

Blocks = tuple[tuple[str, ...], ...]


def smallest(code: str, text: str) -> str | None:
    """The text with all left out that the code can do without; None where it is not told alone even so."""
    blocks, others = _blocks(text), _others(code, text)
    while others is not None:
        for smaller in _smaller(blocks):
            left = _others(code, _text(smaller))
            if left is not None and left <= others:
                blocks, others = smaller, left
                break
        else:
            return None if others else _text(blocks)
    return None


def _others(code: str, text: str) -> int | None:
    """How much else is told; None where the code is not."""
    told = [finding.code for finding in told_of(example_of(text))]
    return len(told) - told.count(code) if code in told else None


def _smaller(blocks: Blocks) -> Iterator[Blocks]:
    """Without one table, then without one line."""
    for k in reversed(range(1, len(blocks))):
        yield (*blocks[:k], *blocks[k + 1 :])
    for k, block in enumerate(blocks):
        for j in reversed(range(len(block))):
            if block[j] != "format = 1":
                yield (*blocks[:k], (*block[:j], *block[j + 1 :]), *blocks[k + 1 :])


def _blocks(text: str) -> Blocks:
    """What stands above the first header, then each table."""
    lines = [line for line in text.splitlines() if line.strip() and not line.lstrip().startswith("#")]
    starts = [0, *(k for k, line in enumerate(lines) if re.match(r"\[|===", line) and k)]
    return tuple(tuple(lines[a:b]) for a, b in zip(starts, [*starts[1:], len(lines)], strict=True))


def _text(blocks: Blocks) -> str:
    return "".join(f"{line}\n" for block in blocks for line in block)


if __name__ == "__main__":
    found = smallest(sys.argv[1], Path(sys.argv[2]).read_text("utf-8"))
    sys.exit("it is told with others, or not at all" if found is None else print(found, end=""))
