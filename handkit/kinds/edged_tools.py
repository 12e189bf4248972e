"""Edged tools: which things cut, as far as their names tell.

In: the name of a thing. Out: whether it tells of a cutting edge. And what a handle is taken to be.
"""

from __future__ import annotations

import re

# Of a handle that the file tells nothing of: as much as a hand asks for (our own), mm.
HANDLE_THICK, HANDLE_LONG = 15.0, 100.0

# Ends of words, so that a penknife is a knife: common words of the trades, and no list is whole.
_CUTS = re.compile(
    r"(?:adze|axe|billhook|blade|chisel|cleaver|cutter|gouge|hatchet|knife|machete|pruner|razor|saw|scalpel|"
    r"scissor|secateur|shear|sickle|snip|spokeshave)s?$"
)


def tells_of_an_edge(name: str) -> bool:
    """Whether a thing of this name cuts, which is what its last word says.

    >>> [tells_of_an_edge(name) for name in ("Penknife", "chisel 12 mm", "shears, large")]
    [True, True, True]
    >>> [tells_of_an_edge(name) for name in ("knife strop", "sawhorse", "rule")]
    [False, False, False]
    """
    words = [word for word in re.findall("[a-z]+", name.lower().partition(",")[0]) if len(word) > 2]
    return bool(words) and bool(_CUTS.search(words[-1]))
