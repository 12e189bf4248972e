"""Edge works: what makes a hem, a turned edge, a binding and a seam allowance unlike one another.

One row a kind: its noun, its key in the file, whether cloth is turned to the back there, what holds it, and
its words. How wide the cut is follows from the row's `turned` and the maker's numbers, by trade practice:

| kind | cut outside the finished edge | folds outside it |
| --- | --- | --- |
| hem, once | width + t | t/2 |
| hem, twice | width + turn-in + 2 t | t/2, width + 3/2 t |
| turned edge | width + t | t/2 |
| seam allowance | width | none |
| binding | nothing: the tape goes over the raw edge | none |

    finished edge        fold                      t is the piece's thickness: a turn takes about one
    ──────────┐ t/2 t/2 ┌──────────── cut          more than lies flat, half of it on either side of
      piece   ╎    ╎    ╎   hem     │              the fold (common practice, no source).

Words: *to turn* an edge is to fold it to the back; the *turn-in* is what is turned under first, so that no
raw edge is left; a *binding* is a tape folded over a raw edge.
"""

from __future__ import annotations

from enum import StrEnum

import msgspec

from handkit.kinds.rows import table


class EdgeWork(StrEnum):
    """What an edge is given beside a knife's cut; each is a key of a piece."""

    HEM = "hem"  # turned to the back once or twice, and sewn there
    TURNED = "turned"  # turned to the back once, glued, or sewn with a later seam
    BINDING = "binding"  # a tape folded over it
    ALLOWANCE = "allowance"  # cloth beyond the seam


class EdgeTraits(msgspec.Struct, frozen=True):
    """One kind. `words` follow the edge's letters on a template: {width}, {turn_in}, {by} are filled in."""

    noun: str
    turned: bool  # folded to the back
    sewn: bool  # nothing holds it but a seam along it
    words: str
    twice: str = ""  # the words where it is turned twice


EDGE_WORKS = table(
    EdgeWork,
    {
        EdgeWork.HEM: EdgeTraits(
            "hem",
            turned=True,
            sewn=True,
            words="hem {width} to the {back}",
            twice="turn in {turn_in}, then hem {width} to the {back}",
        ),
        EdgeWork.TURNED: EdgeTraits(
            "turned edge", turned=True, sewn=False, words="turn {width} to the {back}"
        ),
        EdgeWork.BINDING: EdgeTraits("binding", turned=False, sewn=True, words="bind with tape {width} wide"),
        EdgeWork.ALLOWANCE: EdgeTraits(
            "seam allowance", turned=False, sewn=False, words="seam allowance {width}"
        ),
    },
)
